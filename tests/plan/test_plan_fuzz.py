"""Whatever is given for a plan, it is read or refused: nothing else ever comes out."""

from __future__ import annotations

import contextlib
import tomllib
from copy import deepcopy

from hypothesis import example, given
from hypothesis import strategies as st
from plan_texts import FULL, SMALL

from clochewright.errors import PlanError
from clochewright.plan import Plan, plan_as_si, plan_from_si, plan_from_text, plan_with, rewrite
from clochewright.plan.toml_text import toml_value

LINES = FULL.splitlines()
UNITS = ["ft", "in", "mm", "m", "mil", "'", '"', "", "deg", "$", "yd"]
WORDS = ["tent", "inch", "mm", "home", "dry", "tee", "outside", "1 in", "ridge"]

numbers = st.one_of(st.integers(), st.floats(), st.integers(-(10**300), 10**300), st.just(10**300), st.integers(1, 200))
sizes = st.builds("{} {}".format, st.one_of(st.integers(-5, 10**6), st.floats(0, 1e4), st.just("1/0")),
                  st.sampled_from(UNITS))  # fmt: skip
leaves = st.one_of(
    st.booleans(), numbers, st.text(max_size=30), st.text(alphabet="\x00\x1b\n\t\u202e\U0001f331a", max_size=8), sizes,
    st.sampled_from(WORDS), st.dates(),
)  # fmt: skip
values = st.recursive(
    leaves, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)  # fmt: skip


def places(tables, loc=()):
    """Every path in a plan's tables."""
    for key, value in tables.items() if isinstance(tables, dict) else enumerate(tables):
        yield (*loc, key)
        if isinstance(value, (dict, list)):
            yield from places(value, (*loc, key))


PLACES = list(places(tomllib.loads(FULL)))


@st.composite
def mutated(draw):
    """The tables of a good plan with a few values changed, keys renamed, added or taken away."""
    tables = tomllib.loads(FULL)
    for _ in range(draw(st.integers(1, 4))):
        *way, last = draw(st.sampled_from(PLACES))
        here = tables
        with contextlib.suppress(LookupError, TypeError):
            for step in way:
                here = here[step]
            match draw(st.sampled_from(["change", "rename", "add", "drop", "copy"])):
                case "change":
                    here[last] = draw(values)
                case "rename":
                    here[draw(st.text(max_size=10) | st.just(f"{last}s"))] = here.pop(last)
                case "add":
                    here[draw(st.text(max_size=10))] = draw(values)
                case "copy":
                    here[last] = deepcopy(tables)
                case _:
                    del here[last]
    return tables


def read_or_refused(read, *given):
    try:
        result = read(*given)
    except PlanError as error:
        mistakes = error.mistakes
    else:
        return result
    assert mistakes
    for mistake in mistakes:
        assert str(mistake).isprintable(), mistake
        assert len(str(mistake)) < 500
    return None


@given(st.text(max_size=200))
@example("\x7f=")
@example('"\\ud800"=1')
def test_any_text(text):
    assert read_or_refused(plan_from_text, text) is None  # no text without a bed is a plan
    read_or_refused(plan_from_text, SMALL + text)


@given(st.lists(st.sampled_from(LINES), max_size=40), st.text(max_size=5))
def test_lines_of_a_plan_in_any_order(lines, sprinkled):
    read_or_refused(plan_from_text, "\n".join(lines) + sprinkled)


@given(st.data())
def test_a_plan_with_its_text_cut_into(data):
    start = data.draw(st.integers(0, len(FULL)))
    end = data.draw(st.integers(start, min(len(FULL), start + 30)))
    text = FULL[:start] + data.draw(st.text(max_size=10)) + FULL[end:]
    read_or_refused(plan_from_text, text)


@given(mutated())
def test_a_plan_with_other_values(tables):
    from clochewright.plan.read import _checked  # the same road as for a file, without writing TOML first

    plan = read_or_refused(lambda: _checked(tables, si=False))
    assert plan is None or isinstance(plan, Plan)


@given(mutated())
def test_si_values_with_other_values(tables):
    plan = read_or_refused(plan_from_si, tables)
    if plan is not None:
        assert plan_from_si(plan_as_si(plan)) == plan


paths = st.one_of(
    st.sampled_from([".".join(str(s) for s in loc if isinstance(s, str)) for loc in PLACES]),
    st.text(max_size=12),
    st.sampled_from(
        [
            "own.fittings[0].hub",
            "own.fittings[9]",
            "own.fittings[2]",
            "stock.sticks[1]",
            "stock.sticks[2]",
            "bed[0]",
            "name[0]",
            "own[1].file",
            "own.fittings[0][0]",
            "stock.on_hand[0].count",
        ]
    ),
)


@given(st.sampled_from([FULL, SMALL, "", "bed = 3", "stock = []\n" + SMALL]), paths, st.none() | values)
def test_any_change(text, path, value):
    new = read_or_refused(rewrite, text, [(path, value)])
    if new is not None:
        plan_from_text(new)
    read_or_refused(plan_with, plan_from_text(FULL), [(path, value)])


@given(
    st.recursive(st.text() | st.booleans() | st.integers(-(10**9), 10**9), lambda inner: st.lists(inner, max_size=3))
)
def test_values_written_as_toml_read_back(value):
    try:
        str(value).encode()
    except UnicodeEncodeError:
        return  # half a character can't stand in a file at all
    assert tomllib.loads(f"x = {toml_value(value)}") == {"x": value}
