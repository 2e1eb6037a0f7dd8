"""Names as people write them, and as nobody should: they are data, and come out as they went in."""

from __future__ import annotations

import io
import json

import pypdf
import pytest

from clochewright.booklet import print_booklet

NAMES = [
    "#let x = 1 *bold* _thin_ `raw` = head",
    "$ sum_(k=1)^n k $ and \\ and // no comment /* nor this */",
    '<label> @reference #include "main.typ" #image("front.svg")',
    "'single' \"double\" ~tie~ -- --- ... [brackets] {braces} #]#",
    "Grün & Söhne, 50 % off; a:b? (yes!) ©®°½",
    "#" * 200,
    "W" * 200,
    "Sorrel Yard " * 16,
]
SPELLED_OUT = {
    "Bed \N{TOMATO} 4": "Bed [tomato] 4",
    "Bed \N{BLACK HEART SUIT}\N{VARIATION SELECTOR-16} 4": "Bed [black heart suit] 4",
}
# Letters for which the shipped typeface has no picture, but another one has; and letters for which none here has one.
OTHER_SCRIPTS = ["Грядка 4", "Łąka, bed 4", "Κήπος 4", "菜园 4"]


def named(text, name):
    """The plan's text under another name; JSON's quoting is TOML's for these."""
    rest = [line for line in text.splitlines() if not line.startswith("name")]
    return "\n".join([f"name = {json.dumps(name, ensure_ascii=False)}", *rest])


def squeezed(text):
    return "".join(text.split()).replace("\N{ZERO WIDTH SPACE}", "")


@pytest.fixture(scope="module")
def front_page(job_of):
    """The first page's text of a short booklet under a name."""

    def text(name):
        job = job_of(named('bed = { length = "8 ft", width = "2 ft" }\ncover = { height = "1 in" }', name))
        return pypdf.PdfReader(io.BytesIO(print_booklet(job, "a4"))).pages[0].extract_text()

    return text


@pytest.mark.parametrize("name", NAMES)
def test_a_name_is_printed_as_it_is(front_page, name):
    assert squeezed(name) in squeezed(front_page(name))


@pytest.mark.parametrize(("name", "shown"), list(SPELLED_OUT.items()))
def test_signs_without_a_picture_are_spelled_out(front_page, name, shown):
    assert squeezed(shown) in squeezed(front_page(name))


@pytest.mark.parametrize("name", OTHER_SCRIPTS)
def test_other_scripts_stay_as_they_are(front_page, name):
    page = squeezed(front_page(name))
    assert "4" in page
    if not name.startswith("菜"):  # printed as empty boxes: no typeface here has its picture
        assert squeezed(name) in page


def test_a_long_word_is_broken_into_lines(front_page):
    """200 letters W in one word are wider than any paper; each line of them has to fit."""
    runs = [line for line in front_page("W" * 200).splitlines() if line.count("W") > 5]
    assert len(runs) > 2
    assert max(line.count("W") for line in runs) < 80
