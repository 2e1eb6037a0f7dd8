"""Entries of a list come and go in a plan's text, in their place and with everything else as it was."""

from __future__ import annotations

import tomllib

import pytest

from clochewright.plan import rewrite

PLAN = """\
[bed]
length = "8 ft"
width = "4 ft"

[[stock.on_hand]]  # left over
length = "44 in"
count = 2

# the car
[car]
inside_length = "7 ft"
"""


def lengths(text):
    return [piece["length"] for piece in tomllib.loads(text).get("stock", {}).get("on_hand", [])]


def test_a_further_entry_stands_after_the_one_before_it():
    text = rewrite(PLAN, [("stock.on_hand[1].length", "30 in"), ("stock.on_hand[1].count", 3)])
    assert lengths(text) == ["44 in", "30 in"]
    assert text.index("30 in") < text.index("# the car")
    assert text.replace('\n\n[[stock.on_hand]]\nlength = "30 in"\ncount = 3\n', "\n", 1) == PLAN


@pytest.mark.parametrize("gone", [0, 1, 2])
def test_an_entry_is_taken_out_from_among_others(gone):
    text = PLAN
    for number, length in enumerate(("30 in", "20 in"), 1):
        text = rewrite(text, [(f"stock.on_hand[{number}].length", length)])
    left = [length for number, length in enumerate(("44 in", "30 in", "20 in")) if number != gone]
    text = rewrite(text, [(f"stock.on_hand[{gone}]", None)])
    assert lengths(text) == left
    assert tomllib.loads(text)["car"]["inside_length"] == "7 ft"


def test_entries_that_stand_apart_in_the_file_can_be_taken_out():
    apart = PLAN + '\n[[stock.on_hand]]\nlength = "20 in"\n'
    for gone, left in ((0, ["20 in"]), (1, ["44 in"])):
        text = rewrite(apart, [(f"stock.on_hand[{gone}]", None)])
        assert lengths(text) == left
        assert "# the car" in text


@pytest.mark.parametrize(
    ("path", "value"),
    [("bed.length", "9 ft"), ("bed.length", "9' 6\""), ("stock.on_hand[0].count", 12), ("car.inside_length", "8 ft")],
)
def test_a_value_is_changed_in_its_line_and_nothing_else(path, value):
    text = rewrite(PLAN, [(path, value)])
    changed = [(a, b) for a, b in zip(PLAN.splitlines(), text.splitlines(), strict=True) if a != b]
    assert len(changed) == 1
    old, new = changed[0]
    assert old.partition("=")[0] == new.partition("=")[0]


def test_a_note_after_a_value_stays_where_it_stands():
    noted = PLAN.replace('width = "4 ft"', 'width = "4 ft"   # inside "the" boards')
    text = rewrite(noted, [("bed.width", "3 ft")])
    assert text == noted.replace('width = "4 ft"', 'width = "3 ft"')


def test_what_only_looks_like_the_key_is_left_alone():
    sly = 'name = """\nbed\nlength = "1 ft"\n"""\n'.replace("\n", " ").strip() + "\n" + PLAN
    text = rewrite(sly, [("bed.length", "9 ft")])
    assert tomllib.loads(text)["bed"]["length"] == "9 ft"
    assert tomllib.loads(text)["name"] == tomllib.loads(sly)["name"]
