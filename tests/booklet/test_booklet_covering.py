"""The covering pages: pattern, points, order of work, films side by side."""

from __future__ import annotations

import pytest

from clochewright.booklet.pages import booklet_pages
from clochewright.catalogue import load_catalogue, load_prices
from clochewright.job import run_quick
from clochewright.plan import plan_from_si


def pages(**plan):
    wanted = plan_from_si({"bed": {"length_m": 2.7432, "width_m": 1.6764}} | plan)
    job = run_quick(wanted, load_catalogue(), load_prices())
    return job, booklet_pages(job, 174.0)


@pytest.fixture(scope="module")
def tent():
    return pages()


def test_the_pattern_and_the_rolls_are_drawn(tent):
    job, made = tent
    covering = made.data["covering"]
    assert covering["pattern"]["file"] in made.drawings
    assert covering["rolls"]["file"] in made.drawings
    assert covering["gable"] is None
    assert len(covering["points"]["rows"]) > 5
    assert job.made.film.pattern.ends == "folded"


def test_hoops_have_their_gable_drawn_with_its_points():
    _, made = pages(cover={"shape": "tunnel"}, pipe={"size": "3/4 in"})
    covering = made.data["covering"]
    assert covering["gable"]["file"] in made.drawings
    assert any(row[3] == "on the end rail" for row in covering["gable_points"]["rows"])


def test_the_order_is_laths_then_long_sides_then_square_then_ends_trimmed_before_they_are_rolled(tent):
    steps = " ".join(tent[1].data["covering"]["order"])
    told = (
        "Saw the laths",
        "Long side first",
        "both diagonals",
        "At each end",
        "now cut the film off",
        "Lay the end laths",
    )
    places = [steps.index(part) for part in told]
    assert places == sorted(places)
    assert "underside of the rail, and screw" not in steps  # nothing goes between rail and rim


def test_nobody_takes_off_clamps_that_nobody_put_on(tent):
    """One alone clamps each pull; two people hold it, and have no clamps to take off."""
    _, two = pages(people=2)
    for made, clamped in ((tent[1], True), (two, False)):
        steps = " ".join(made.data["covering"]["order"])
        assert ("take the clamps off" in steps) is clamped
        assert ("hold each pull with a clamp" in steps) is clamped


def test_laths_their_height_and_their_drill_are_on_the_film_page(tent):
    """1 in pipe of 1.315 in in hubs of 1 5/8 in: 5/32 in under the rail; No. 8 screws take a 1/8 in hole."""
    job, made = tent
    rows = {row["label"]: row for row in made.data["film"]["rows"]}
    assert rows["Their lower edge"]["value"] == "5/32 in"
    assert rows["Hole for lath screws"]["value"] == "1/8 in"
    assert "common practice" in rows["Hole for lath screws"]["note"]
    steps = " ".join(made.data["covering"]["order"])
    assert "5/32 in clear of the rim" in steps
    assert "Drill 1/8 in holes" in steps
    assert made.data["film"]["lath"]["file"] in made.drawings
    left = next(lath for lath in job.made.film.laths if lath.side == "left")
    assert rows["Laths, left"]["value"].count("to") == len(left.runs_m)


def test_the_chosen_film_is_marked_and_priced_by_the_season(tent):
    rows = tent[1].data["covering"]["films"]
    (chosen,) = [row for row in rows if row["chosen"]]
    assert chosen["cells"][0] == "6 mil UV film"
    assert chosen["cells"][-1].startswith("$")
    assert all(len(row["cells"]) == len(tent[1].data["covering"]["films_heads"]) for row in rows)


def test_other_cloth_is_told_in_a_line():
    _, made = pages(film={"more": [{"kind": "insect mesh"}]})
    (line,) = made.data["covering"]["more"]
    assert "insect mesh" in line


def test_the_film_page_has_every_size_of_sheet_once():
    _, made = pages(cover={"shape": "tunnel"}, pipe={"size": "3/4 in"})
    (sheet,) = [row for row in made.data["film"]["rows"] if row["label"] == "Sheet"]
    assert sheet["value"].count(";") == 1
    assert "2 ×" in sheet["value"]


def test_without_rails_laths_go_on_the_boards():
    _, made = pages(cover={"shape": "tunnel"}, pipe={"size": "1/2 in"}, hoops={"feet": "sleeves-inside"})
    rows = {row["label"]: row for row in made.data["film"]["rows"]}
    assert "into the board" in rows["Hole for lath screws"]["note"]
    assert "Their lower edge" not in rows
    assert made.data["film"]["lath"] is None
    assert any("outside of its board" in step for step in made.data["covering"]["order"])
