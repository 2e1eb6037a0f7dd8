"""What stands on the pages, before layout."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from importlib import resources

import pytest

from clochewright.booklet.lettering import spelled_out
from clochewright.booklet.lists import saw_page, shop_page
from clochewright.booklet.pages import booklet_pages
from clochewright.cuts.car import first_cuts
from clochewright.drawings import pens
from clochewright.findings import word
from clochewright.frame import Pipe
from clochewright.measures import show_length


def plain(text):
    return text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.fixture(scope="module")
def pages(bed):
    return booklet_pages(bed, 174.0)


def test_each_piece_has_one_box(pages, bed):
    boxes = {row["mark"]: row["boxes"] for row in pages.data["saw"]["cuts"]}
    pieces = Counter(bed.made.cutlist.mark_of[pipe.id] for pipe in bed.frame.pipes)
    assert boxes == pieces


def test_each_stick_is_drawn_or_told_to_be_alike(pages, bed):
    shown = pages.data["saw"]["sticks"]
    cutlist = bed.made.cutlist
    more = sum(len(first.pieces_m) - 1 for first in cutlist.first_cuts)  # the shop makes several of one
    assert more
    assert sum(one["boxes"] for one in shown) == len(cutlist.stock.sticks) + more
    assert len({one["file"] for one in shown}) == len(shown)
    assert all(one["file"] in pages.drawings for one in shown)


def test_each_joint_is_counted_once(pages, bed):
    rows = pages.data["joints"]["rows"]
    counted = sum(int(count) for row in rows for count in re.findall(r"(\d+) ×", row["pipes"]))
    ends = [end for pipe in bed.frame.pipes for end in pipe.ends if end.fitting is not None]
    assert isinstance(bed.frame.pipes[0], Pipe)
    assert counted == len(ends)


def test_each_first_cut_is_told(pages, bed):
    rows = pages.data["shop"]["first_cuts"]
    sawn = [cut for cut in bed.made.cutlist.first_cuts if cut.positions_m]
    assert sawn
    assert sum(row["boxes"] for row in rows) == len(sawn)
    for cut in sawn:
        row = next(row for row in rows if str(cut.stick + 1) in row["stick"].split(" (")[0].split(", "))
        assert plain(row["at"]) == ", ".join(show_length(at_m, "inch") for at_m in cut.positions_m)
        assert plain(row["pieces"]) == ", ".join(show_length(piece_m, "inch") for piece_m in cut.pieces_m)


def test_a_stick_without_an_offcut_is_said_to_have_nothing_to_spare(pages, bed):
    """The shop page says so of a stick that its pieces take up whole, and else what each of them has to spare."""
    assert all(word("booklet.shop.nothing-to-spare") != row["spare"] for row in pages.data["shop"]["first_cuts"])
    (first, *_) = bed.made.cutlist.first_cuts
    stock = bed.made.cutlist.stock
    stick = stock.sticks[first.stick]
    kerfs_m = stock.kerf_m * (len(stick.cuts) - 1)
    tight = replace(stick, length_m=sum(length_m for _, length_m in stick.cuts) + kerfs_m, offcut_m=0.0)
    short = replace(stock, sticks=(tight,))
    firsts, _ = first_cuts(short, bed.plan.car.inside_length_m)
    cutlist = replace(bed.made.cutlist, stock=short, first_cuts=firsts)
    (row,) = shop_page(bed, replace(bed.made, cutlist=cutlist))["first_cuts"]
    assert row["spare"] == word("booklet.shop.nothing-to-spare")


def test_the_saw_pages_tell_one_way_to_work(pages, metric):
    """Mark it whole, then saw; and pieces from the shop are only spoken of where there are any."""
    saw = pages.data["saw"]
    assert word("booklet.saw.length-carried") in saw["lead"]
    assert word("booklet.saw.sticks-carried") in saw["sticks_lead"]
    for text in (saw["lead"], saw["sticks_lead"]):
        assert text.index("mark") < text.lower().index("then saw")
    whole = saw_page(metric, metric.made)
    assert word("booklet.saw.length-carried") not in whole["lead"]
    assert word("booklet.saw.sticks-carried") not in whole["sticks_lead"]


def test_hinges_stand_within_the_cover(pages, bed):
    """Measured from the front end, so the last one lies less than the cover's length away."""
    row = next(row for row in pages.data["film"]["rows"] if row["label"].startswith("Hinges"))
    first_m = bed.made.lid.hinges[0].position_m[0] + bed.frame.length_m / 2
    assert 0 < first_m < bed.frame.length_m / 2
    assert plain(row["value"]).startswith(show_length(first_m, "inch"))


def test_each_figure_has_its_source(pages):
    page = pages.data["sources"]
    assert {int(row["number"]) for row in page["rows"]} == set(range(1, len(page["list"]) + 1))
    assert len(set(page["list"])) == len(page["list"])
    figures = " ".join(row["figure"] for row in page["rows"])
    assert all(name in figures for name in ("outside diameter", "socket depth", "hub diameter", "Film", "Gust"))


def test_pipe_figures_are_the_table_s(pages):
    """1 in: outside diameter 1.315 +/- 0.005 in (ASTM D1785 Table 1)."""
    row = pages.data["sources"]["rows"][0]
    assert (row["value"], row["band"]) == ("1.315 in", "1.310 to 1.320")


def test_each_caution_has_its_authority(pages):
    cautions = [one for page in ("saw", "joints", "film", "shed", "shop") for one in pages.data[page]["cautions"]]
    assert len(cautions) >= 8
    assert all(one["what"] and one["why"] and one["source"] for one in cautions)


def test_every_label_the_layout_asks_for_is_there(pages):
    """And the other way round: no label that no page shows."""
    folder = resources.files("clochewright.booklet").joinpath("typst")
    asked = set()
    for item in folder.iterdir():
        asked |= set(re.findall(r"\bwords\.(\w+)", item.read_text(encoding="utf-8")))
    assert asked == set(pages.data["words"])


def test_inks_are_those_of_the_drawings():
    kit = resources.files("clochewright.booklet").joinpath("typst", "kit.typ").read_text(encoding="utf-8")
    inks = dict(re.findall(r'#let ([\w-]+) = rgb\("(#\w+)"\)', kit))
    assert len(inks) >= 8
    for name, ink in inks.items():
        assert ink == getattr(pens, name.upper().replace("-", "_")), name


def test_signs_are_spelled_out_wherever_they_stand():
    given = {"a": ["\N{TOMATO}", 4, None], "b": {"c": "50 °"}}
    assert spelled_out(given) == {"a": ["[tomato]", 4, None], "b": {"c": "50 °"}}
    assert spelled_out("Bed\t4\N{RIGHT-TO-LEFT OVERRIDE}\x00") == "Bed 4"


def test_a_measure_stays_on_one_line():
    assert spelled_out("saw at 38 9/16 in, then 45 in") == "saw at 38\xa09/16\xa0in, then 45\xa0in"
    assert spelled_out("2 in each row, 4 inner bents") == "2\xa0in each row, 4 inner bents"
    assert spelled_out("1200 mm × 2.4 m") == "1200\xa0mm × 2.4\xa0m"
