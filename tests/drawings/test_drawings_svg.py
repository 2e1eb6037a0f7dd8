"""The SVG writer alone."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from clochewright.drawings import Area, Circle, Drawing, Line, Text, write_svg

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def page():
    marks = (
        Area("fitting", ((0.0, 0.0), (10.0, 0.0), (10.0, 5.0)), part="T1"),
        Line("pipe", ((0.0, 0.0), (20.0, 0.0)), part="P1"),
        Line("pipe", ((0.0, 2.0), (20.0, 2.0), (20.0, 9.0)), closed=True, part="P1"),
        Circle("mark", (30.0, 40.0), 3.0),
        Text("note", (5.0, 6.0), '2" & <less>', 3.5, "middle", 90.0, "bold"),
    )
    return Drawing("Bed & lid", 60.0, 50.0, 10.0, "mm", marks, 'A "small" test')


def test_it_is_sized_in_millimetres(page):
    root = ET.fromstring(write_svg(page))
    assert (root.get("width"), root.get("height")) == ("60mm", "50mm")
    assert root.get("viewBox") == "0 0 60 50"


def test_title_and_description_are_for_those_who_cannot_see_it(page):
    root = ET.fromstring(write_svg(page))
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title").text == "Bed & lid"
    assert root.find(f"{SVG}desc").text == 'A "small" test'


def test_y_is_turned_over(page):
    circle = ET.fromstring(write_svg(page)).find(f"{SVG}circle")
    assert (circle.get("cx"), circle.get("cy"), circle.get("r")) == ("30", "10", "3")


def test_lines_of_one_part_are_one_path_that_names_it(page):
    paths = ET.fromstring(write_svg(page)).findall(f"{SVG}path")
    assert [(p.get("data-part"), p.get("class")) for p in paths] == [("T1", "cw-fitting-area"), ("P1", "cw-pipe")]
    assert paths[1].get("d") == "M0 50L20 50M0 48L20 48L20 41Z"


def test_lettering_is_real_text(page):
    text = ET.fromstring(write_svg(page)).find(f"{SVG}text")
    assert text.text == '2" & <less>'
    assert text.get("transform") == "rotate(-90 5 44)"
    assert (text.get("text-anchor"), text.get("font-weight"), text.get("font-size")) == ("middle", "bold", "3.5")


def test_only_the_pens_used_are_described_and_all_are(usual_views):
    for drawing in usual_views.values():
        document = write_svg(drawing)
        described = set(re.findall(r"\.cw-([\w-]+?)(?:-area|-text)?\{", document))
        assert described == {mark.pen for mark in drawing.marks}


def test_the_same_drawing_gives_the_same_text(usual_views):
    for drawing in usual_views.values():
        assert write_svg(drawing) == write_svg(drawing)
        ET.fromstring(write_svg(drawing))


def test_every_pipe_that_is_drawn_can_be_found_by_its_id(usual_tent, usual_views):
    document = write_svg(usual_views["three-quarter"])
    for pipe in usual_tent.pipes:
        assert (f'data-part="{pipe.id}"' in document) == (pipe.role != "stub")
