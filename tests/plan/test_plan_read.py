"""A plan file is read whole, and every mistake in it is told once, in file order, in plain words."""

from __future__ import annotations

import os
import sys
from decimal import Decimal

import pytest
from plan_texts import EXAMPLES, FULL, SMALL

from clochewright.errors import FolderError, PlanError
from clochewright.plan import plan_from_si, plan_from_text, read_plan

INCH_M = 0.0254  # the international inch, 25.4 mm exactly (NIST SP 811, appendix B.8)


def mistakes(text):
    with pytest.raises(PlanError) as caught:
        plan_from_text(text)
    return caught.value.mistakes


def told(text):
    """Where and what, joined, one a mistake."""
    return [str(mistake) for mistake in mistakes(text)]


def test_sizes_are_metres_and_the_rest_has_its_usual_value():
    plan = plan_from_text(SMALL)
    assert plan.bed.length_m == pytest.approx(96 * INCH_M, abs=1e-12)
    assert plan.bed.width_m == pytest.approx(46 * INCH_M, abs=1e-12)
    assert plan.bed.board_m == pytest.approx(1.5 * INCH_M, abs=1e-12)
    assert plan.cover.bay_m == pytest.approx(48 * INCH_M, abs=1e-12)
    assert plan.car is None


def test_everything_given_is_taken():
    plan = plan_from_text(FULL)
    assert plan.bed.outside_length_m == pytest.approx(2.476, abs=1e-12)
    assert plan.cover.pitch_deg == 30
    assert plan.stock.sticks_m == (3.0, 4.0)
    assert [(piece.length_m, piece.count) for piece in plan.stock.on_hand] == [(0.9, 2), (1.2, 1)]
    assert plan.joints.seats[0].seat == "dry"
    assert plan.own.pipes[0].price == Decimal("4.20")
    assert plan.own.fittings[1].bend_deg == 44.5


def test_the_same_plan_under_windows_line_ends_and_byte_order_mark(tmp_path):
    path = tmp_path / "plan.toml"
    path.write_bytes(b"\xef\xbb\xbf" + FULL.replace("\n", "\r\n").encode())
    assert read_plan(path) == plan_from_text(FULL)


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.toml")), ids=lambda path: path.name)
def test_examples_read(path):
    assert read_plan(path).name.startswith("Sorrel Yard")


def test_all_mistakes_come_at_once_in_file_order():
    text = """\
people = "two"
[cover]
shape = "tnet"
pitch = 45
bents = 1
[bed]
width = "3 ft 10"
board = "-1 in"
[stock]
sticks = ["10 ft", "ten"]
[[stock.on_hand]]
length = "3 ft"
count = 0
[[own.fittings]]
kind = "tee"
[[own.fittings]]
kind = 4
hub = "1 5/8 in"
"""
    assert [m.where for m in mistakes(text)] == [
        "people",
        "cover.shape",
        "cover.pitch",
        "cover.bents",
        "bed.length",
        "bed.width",
        "bed.board",
        "stock.sticks[1]",
        "stock.on_hand[0].count",
        "own.fittings[1].kind",
    ]


def test_a_misspelt_key_is_one_mistake():
    (line,) = told(SMALL.replace("length", "legnth"))
    assert line == "bed.legnth: there is no such key. Did you mean length?"


def test_what_stands_under_a_misspelt_key_or_section_is_still_read():
    lines = told('[bde]\nlegnth = "800 ft"\nwidth = "4 ft"\n')
    assert lines == [
        "bde: there is no such key. Did you mean bed?",
        "bde.legnth: there is no such key. Did you mean length?",
        'bde.legnth: 800 ft is longer than any bed. Did you mean "8 ft"?',
    ]


def test_names_of_the_inside_are_not_taken_from_a_file():
    (line,) = told(SMALL.replace("length", "length_m"))
    assert line == "bed.length_m: there is no such key. Did you mean length?"


def test_a_key_in_the_wrong_section_is_one_mistake():
    (line,) = told('width = "4 ft"\n[bed]\nlength = "8 ft"\n')
    assert line == "width: this key is in the wrong place. It belongs under [bed]."
    (line,) = told(SMALL + 'pitch = "45 deg"\n')
    assert line == "bed.pitch: this key is in the wrong place. It belongs under [cover]."
    (line,) = told(SMALL + 'question = "cost"\n')
    assert (
        line
        == "bed.question: this key is in the wrong place. It belongs at the head of the plan, above every [section]."
    )


def test_a_key_that_is_nothing_names_what_there_is():
    (line,) = told(SMALL + "[car]\ninside_length = '7 ft'\nxyz = 1\n")
    assert line == "car.xyz: there is no such key. Known here: inside_length."


def test_choices_are_listed_with_the_nearest():
    (line,) = told(SMALL + '[cover]\nline = "insied"\n')
    assert (
        line
        == 'cover.line: “insied” is no choice here. Did you mean inside? It can be "outside", "middle" or "inside".'
    )


@pytest.mark.parametrize(
    ("given", "what"),
    [
        ('length = "800 ft"', 'bed.length: 800 ft is longer than any bed. Did you mean "8 ft"?'),
        ('length = "8 in"', None),
        ('length = "8 mm"', 'bed.length: 8 mm is too small for a bed. Did you mean "8 m"?'),
        ('length = "96 ft"', 'bed.length: 96 ft is longer than any bed. Did you mean "96 in"?'),
        ('length = "8"', "bed.length: 8 of what? Write 8 in or 8 mm."),
        ("length = 8", 'bed.length: 8 has no unit. Write the length in quotes with its unit, such as "8 ft".'),
        ("length = 2.4", 'bed.length: 2.4 has no unit. Write the length in quotes with its unit, such as "8 ft".'),
        ("length = inf", 'bed.length: inf has no unit. Write the length in quotes with its unit, such as "8 ft".'),
        (
            "length = true",
            'bed.length: a length is text with a unit, not true or false. Write it in quotes, such as "8 ft".',
        ),
        (
            "length = 2024-05-01",
            'bed.length: a length is text with a unit, not a date or time. Write it in quotes, such as "8 ft".',
        ),
    ],
)
def test_sizes_that_make_no_sense(given, what):
    text = f'[bed]\n{given}\nwidth = "4 ft"\n'
    if what is None:
        assert plan_from_text(text).bed.length_m == pytest.approx(8 * INCH_M)  # 0.2032 m, the least there is
    else:
        assert told(text) == [what]


@pytest.mark.parametrize(
    ("more", "where"),
    [
        ('[cover]\npitch = "45 deg"\nheight = "2 ft"\n', "cover.height"),
        ('[cover]\npitch = "90 deg"\n', "cover.pitch"),
        ('[cover]\npitch = "0 deg"\n', "cover.pitch"),
        ("[cover]\nbents = 1\n", "cover.bents"),
        ("[cover]\nbents = 101\n", "cover.bents"),
        ("[cover]\nbents = 3.0\n", "cover.bents"),
        ("[cover]\nbents = true\n", "cover.bents"),
        ('[cover]\nbay = "1 mm"\n', "cover.bay"),
        ('[cover]\nend_inset = "4 ft"\n', "cover.end_inset"),
        ('[stock]\nkerf = "3 in"\n', "stock.kerf"),
        ('[film]\nkind = "4 mm clear"\n', "film.kind"),
        ('[film]\nstaple_gap = "0 in"\n', "film.staple_gap"),
        ('[[own.fittings]]\nkind = "tee"\n', "own.fittings[0]"),
        ('[[own.fittings]]\nkind = "tee"\nhub = "1 in"\n' * 2, "own.fittings[1].kind"),
        ('[[own.pipes]]\nsize = "x"\noutside_diameter = "20 mm"\nwall = "10 mm"\n', "own.pipes[0].wall"),
        ('[[own.pipes]]\nsize = "x"\noutside_diameter = "20 mm"\nprice = "4"\n', "own.pipes[0].price"),
        ('[[joints.seats]]\nrole = "ridge"\nseat = "dry"\n' * 2, "joints.seats[1].role"),
        ('[own.fittings]\nkind = "tee"\n', "own.fittings"),
        ('[[car]]\ninside_length = "7 ft"\n', "car"),
        (f'[prices]\ncurrency = "{"$" * 501}"\n', "prices.currency"),
        ('[prices]\ncurrency = "\\u001b[31m"\n', "prices.currency"),
        ("[stock]\nsticks = [" + '"1 m", ' * 201 + "]\n", "stock.sticks"),
    ],
)
def test_what_does_not_go_together(more, where):
    assert [m.where for m in mistakes(SMALL + more)] == [where]


def test_rules_hold_even_where_another_section_is_wrong():
    text = '[bed]\nlength = "8 ft"\n[cover]\npitch = "45 deg"\nheight = "2 ft"\n'
    assert [m.where for m in mistakes(text)] == ["bed.width", "cover.height"]


def test_boards_that_fill_the_bed():
    (line,) = told('[bed]\nlength = "8 ft"\nwidth = "10 in"\nboard = "5 in"\n')
    assert line.startswith("bed.board: two boards of 5 in fill a bed of 10 in.")


def test_a_film_in_millimetres_is_met_with_mil():
    (line,) = told(SMALL + '[film]\nkind = "4 mm"\n')
    assert "Did you mean 4 mil (0.1 mm)?" in line  # 4/1000 in = 0.1016 mm


def test_entries_of_a_list_are_told_in_words_too():
    (line,) = told(SMALL + '[[own.fittings]]\nkind = "tee"\nhub = "1 in"\n[[own.fittings]]\nkind = "cap"\nhub = 3\n')
    assert line.endswith("(It is the second [[own.fittings]].)")


@pytest.mark.parametrize(
    ("text", "line", "mend"),
    [
        ("[bed]\nlength = 8 ft\n", 2, 'Put it in quotes: length = "8 ft".'),
        ('[bed]\nlength = "5\' 6""\n', 2, 'Write in for the inch mark: length = "5\' 6 in".'),
        ("[bed]\nlength = 5' 6\"\n", 2, 'Write in for the inch mark: length = "5\' 6 in".'),
        ("[bed]\nlength = “8 ft”\n", 2, "Use straight quotes"),
        ("[bed]\nlength =\n", 2, "Give a value after length ="),
        ('[bed]\nlength = "8 ft\n', 2, 'Close the quotes: length = "8 ft".'),
        ('[bed]\nlength = "8 ft"\nlength = "9 ft"\n', 3, "Keep one of them"),
        ("[bed]\n[bed]\n", 2, "Keep one of them"),
        ("[bed\n", 1, "A section's name stands alone"),
        ("a bed of 8 ft", 1, "A line is a section like [bed]"),
    ],
)
def test_what_is_no_toml_names_the_line(text, line, mend):
    (mistake,) = mistakes(text)
    assert mistake.where == f"plan, line {line}"
    assert mend in mistake.mend


@pytest.mark.parametrize(
    "text",
    [
        "",
        "people = " + "9" * 300,
        "people = " + "9" * 5000,
        "name = " + "[" * 50_000,
        "name = " + "[" * 50_000 + "]" * 50_000,
        "a." * 300_000 + "a = 1",
        "[" + "a." * 300_000 + "a]",
        "x = 1\n" * 2,
        "\n".join(f"key{n} = 1" for n in range(20_000)),
        "\x00\x1b[2J",
        "\ud800 = 1",
        'name = "\ud800"\n' + SMALL,
        "#" * 1_000_001,
        "name = 1e999999",
    ],
    ids=range(14),
)
def test_absurd_text_is_refused_in_few_words(text):
    lines = told(text)
    assert 1 <= len(lines) <= 52
    assert all(len(line) < 400 and line.isprintable() for line in lines)


def test_files_that_are_no_plan(tmp_path):
    with pytest.raises(FolderError, match=r"There is no plan file"):
        read_plan(tmp_path / "none.toml")
    with pytest.raises(FolderError, match=r"is a folder"):
        read_plan(tmp_path)
    with pytest.raises(FolderError, match=r"can't be read|no plan file"):
        read_plan(tmp_path / "a\0b")
    latin = tmp_path / "latin.toml"
    latin.write_bytes('name = "Beet für Bohnen"\n'.encode("latin-1"))
    with pytest.raises(PlanError, match="not plain text"):
        read_plan(latin)
    large = tmp_path / "large.toml"
    large.write_bytes(b"\xff" * 1_000_001)
    with pytest.raises(PlanError, match="over 1 MB"):
        read_plan(large)
    if sys.platform != "win32":
        pipe = tmp_path / "pipe"
        os.mkfifo(pipe)
        with pytest.raises(FolderError, match="is not a file"):
            read_plan(pipe)


def test_si_values_are_held_to_the_same_ranges():
    good = {"bed": {"length_m": 2.4, "width_m": 1}}
    assert plan_from_si(good).bed.width_m == 1.0
    for bad in (0.0, -1, 300, float("nan"), float("inf"), True, 10**400, None, [1]):
        with pytest.raises(PlanError) as caught:
            plan_from_si({"bed": {"length_m": bad, "width_m": 1.0}})
        assert [m.where for m in caught.value.mistakes] == ["bed.length_m"]
