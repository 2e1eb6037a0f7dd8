"""Lengths as makers write them: read exactly, written back once rounded, refused in one plain sentence."""

from __future__ import annotations

import math
import string
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.errors import MeasureError
from clochewright.measures import foot, inch, read_length, round_length, show_length

IN = Fraction(254, 10_000)  # international inch, 25.4 mm (NIST SP 811, B.8)
MM = Fraction(1, 1000)


@pytest.mark.parametrize(
    ("text", "length_m"),
    [
        ("8 ft", 96 * IN),
        ("5' 6-1/2\"", Fraction(133, 2) * IN),
        ("5ft 6 1/2in", Fraction(133, 2) * IN),
        ("5'-6 1/2\"", Fraction(133, 2) * IN),
        ("5’ 6½”", Fraction(133, 2) * IN),
        ("5′6⅞″", Fraction(535, 8) * IN),
        ("5 feet, 6 inches", 66 * IN),
        ("5 feet and 6 inches", 66 * IN),
        ("5ft.6in.", 66 * IN),
        ("5 1/2 ft 6 in", 72 * IN),
        ("2 yards 1 foot", 84 * IN),
        ("46 1/2 in", Fraction(93, 2) * IN),
        ("46½in", Fraction(93, 2) * IN),
        ("5-1/2in", Fraction(11, 2) * IN),
        ('6-½"', Fraction(13, 2) * IN),
        ('3/4"', Fraction(3, 4) * IN),
        ("1⁄2 in", Fraction(1, 2) * IN),
        ("⅟16 in", Fraction(1, 16) * IN),
        ("5''", 5 * IN),
        ("17/16 in", Fraction(17, 16) * IN),
        ("5' 13\"", 73 * IN),
        (".5 in", Fraction(1, 2) * IN),
        ("1.2 m", 1200 * MM),
        ("1200 mm", 1200 * MM),
        ("1200\u00a0MM", 1200 * MM),
        ("1 m 20 cm", 1200 * MM),
        ("1 m 5 mm", 1005 * MM),
        ("1,5 m", 1500 * MM),
        ("0,125 m", 125 * MM),
        ("1,200.5 mm", Fraction(12005, 10) * MM),
        ("1,200,000 mm", 1_200_000 * MM),
        ("12 metres", 12_000 * MM),
        ("4 mil", 4 * IN / 1000),
        ("150 micron", 150 * MM / 1000),
        ("150 µm", 150 * MM / 1000),  # micro sign
        ("150 μm", 150 * MM / 1000),  # Greek mu
        ("150um", 150 * MM / 1000),
        ("600 gauge", 150 * MM / 1000),  # common practice, no source: microns are gauge over four
        ("0 in", Fraction(0)),
    ],
)
def test_reads_what_makers_write(text: str, length_m: Fraction) -> None:
    assert read_length(text) == length_m


@pytest.mark.parametrize(
    ("text", "part_of_the_sentence"),
    [
        ("46", "46 of what? Write 46 in or 46 mm."),
        (46, "46 of what? Write 46 in or 46 mm."),
        (1.5, "1.5 of what? Write 1.5 in or 1.5 mm."),
        ("46 1/2", "46 1/2 of what? Write 46 1/2 in or 46 1/2 mm."),
        ("½", "1/2 of what?"),
        ("5' 6", "6 of what?"),
        ("1,200 mm", "“1,200” is not a clear number"),
        ("1.2.3 m", "“1.2.3” is not a clear number"),
        ("1/0 in", "divides by nothing"),
        ("46 furlongs", "“furlongs” is no unit of length"),
        ("5 inx", "“inx” is no unit of length"),
        ("5 ft 20 cm", "mixes two kinds of unit"),
        ("4 mil 3 mm", "mixes two kinds of unit"),
        ("6 in 5 ft", "from the larger unit to the smaller"),
        ("5 in 5 in", "from the larger unit to the smaller"),
        ("-3 in", "less than nothing"),
        ("−5' 6\"", "less than nothing"),
        ("", "is missing here"),
        ("   ", "is missing here"),
        ("nan", "can't be read as a length"),
        ("inf m", "can't be read as a length"),
        ("a bit", "can't be read as a length"),
        ("3/4/5 in", "can't be read as a length"),
        ("1 2 in", "can't be read as a length"),
        ("5 in,", "can't be read as a length"),
        ("46 in wide", "can't be read as a length"),
        ("٣ m", "can't be read as a length"),
        ("5\x00in", "can't be read as a length"),
        ("1" * 300 + " in", "far too long"),
        ("x" * 101, "far too long"),
        (math.inf, "far too large"),
        (math.nan, "far too large"),
        (10**300, "far too large"),
        pytest.param(10**5000, "far too large", id="more digits than Python prints"),
        (True, "is written as text"),
        (None, "is written as text"),
        (["8 ft"], "is written as text"),
    ],
)
def test_refuses_the_rest_in_plain_words(text: object, part_of_the_sentence: str) -> None:
    with pytest.raises(MeasureError) as refusal:
        read_length(text)
    assert part_of_the_sentence in str(refusal.value)
    assert str(refusal.value).endswith(".")
    assert len(str(refusal.value)) < 160
    assert "\n" not in str(refusal.value)


def test_a_minus_is_read_where_the_field_allows_it() -> None:
    assert read_length("-5' 6\"", may_be_negative=True) == -66 * IN
    assert read_length("− ½ in", may_be_negative=True) == -IN / 2
    assert read_length("3 mm", may_be_negative=True) == 3 * MM


@pytest.mark.parametrize(
    ("length_m", "plain", "long", "metric"),
    [
        (0.0, "0 in", "0 in", "0 mm"),
        (-1e-9, "0 in", "0 in", "0 mm"),
        (46.5 * inch, "46 1/2 in", "3 ft 10 1/2 in", "1181 mm"),
        (5 * foot + 6.5 * inch, "66 1/2 in", "5 ft 6 1/2 in", "1689 mm"),
        (8 * foot, "96 in", "8 ft", "2438 mm"),
        (8 * foot + inch / 16, "96 1/16 in", "8 ft 1/16 in", "2440 mm"),
        (11.97 * inch, "12 in", "1 ft", "304 mm"),
        (0.75 * inch, "3/4 in", "3/4 in", "19 mm"),
        (-3.25 * inch, "-3 1/4 in", "-3 1/4 in", "-83 mm"),
        (-66 * inch, "-66 in", "-5 ft 6 in", "-1676 mm"),
        (1.2, "47 1/4 in", "3 ft 11 1/4 in", "1200 mm"),
    ],
)
def test_shows_lengths_as_people_write_them(length_m: float, plain: str, long: str, metric: str) -> None:
    assert show_length(length_m, "inch") == plain
    assert show_length(length_m, "inch", style="long") == long
    assert show_length(length_m, "mm") == metric


@given(st.integers(-4000, 4000))
def test_half_a_step_goes_away_from_zero(steps: int) -> None:
    away = 1 if steps >= 0 else -1
    half = steps + away * 0.5
    # The floats lie a hair to either side of the true half; both spellings of the product must land alike.
    for length_m in (half * inch / 16, half / 16 * 0.0254, float(Fraction(half) * IN / 16)):
        assert round_length(length_m, "inch") == float((steps + away) * IN / 16)
    for length_m in (half / 1000, half * 1e-3):
        assert round_length(length_m, "mm") == (steps + away) / 1000


@given(st.lists(st.integers(0, 640), min_size=1, max_size=60))
def test_sums_of_floats_round_like_exact_sums(pieces: list[int]) -> None:
    length_m = sum(piece / 32 * inch for piece in pieces)
    exact = sum(pieces) * IN / 32
    sixteenths = math.floor(exact / (IN / 16) + Fraction(1, 2))
    assert round_length(length_m, "inch") == float(sixteenths * IN / 16)


@given(st.floats(-30.0, 30.0), st.sampled_from(["inch", "mm"]), st.sampled_from(["plain", "long"]))
def test_what_is_written_reads_back_within_half_a_step(length_m: float, units: str, style: str) -> None:
    written = show_length(length_m, units, style=style)  # type: ignore[arg-type]
    read_m = read_length(written, may_be_negative=True)
    step = IN / 16 if units == "inch" else MM
    assert abs(read_m - Fraction(length_m)) <= step / 2 * (1 + Fraction(1, 10**5))
    assert float(read_m) == round_length(length_m, units)  # type: ignore[arg-type]
    assert round_length(float(read_m), units) == float(read_m)  # type: ignore[arg-type]


@given(st.integers(0, 40), st.integers(0, 11), st.integers(0, 63))
def test_feet_inches_and_fractions_are_exact(feet: int, inches: int, parts: int) -> None:
    expected = (12 * feet + inches + Fraction(parts, 64)) * IN
    assert read_length(f"{feet}' {inches}-{parts}/64\"") == expected
    assert read_length(f"{feet} ft {inches} {parts}/64 in") == expected
    assert read_length(f"{feet}ft{inches}in") == (12 * feet + inches) * IN


@given(st.decimals(0, 100, places=4), st.sampled_from([("m", 1), ("cm", Fraction(1, 100)), ("mm", MM), ("in", IN)]))
def test_decimals_are_exact(number: object, unit: tuple[str, Fraction]) -> None:
    assert read_length(f"{number} {unit[0]}") == Fraction(str(number)) * unit[1]


_MAKERS_SIGNS = string.digits + " '\"/.,-−½⅞⁄′″’”°" + "ftinmcmilgaugeyd" + "\x00\n٣²∞"


@given(st.one_of(st.text(max_size=120), st.text(alphabet=_MAKERS_SIGNS, max_size=30)))
def test_any_text_is_a_length_or_one_plain_sentence(text: str) -> None:
    answer = length_or_refusal(text)
    if isinstance(answer, str):
        assert answer.endswith(".")
        assert "\n" not in answer
    else:
        assert answer >= 0


def length_or_refusal(text: str) -> Fraction | str:
    try:
        return read_length(text)
    except MeasureError as refusal:
        return str(refusal)


@pytest.mark.parametrize("length_m", [math.nan, math.inf, -math.inf, 1e308])
def test_no_nonsense_is_written_down(length_m: float) -> None:
    for units in ("inch", "mm"):
        with pytest.raises(MeasureError):
            show_length(length_m, units)
        with pytest.raises(MeasureError):
            round_length(length_m, units)
