"""A job whose slope opens as a panel: the result file's bodies, and what was cut already."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from clochewright.job import Job, open_shelf, result_text, run
from clochewright.plan import plan_from_text

EXAMPLE = Path(__file__).parents[2] / "examples" / "sorrel-yard-wall-bed-panel.toml"


def made(more: str = "") -> tuple[Job, dict[str, Any]]:
    plan = plan_from_text(EXAMPLE.read_text(encoding="utf-8") + more)
    job = run(plan, *open_shelf(plan, EXAMPLE.parent))
    return job, json.loads(result_text(job))


@pytest.fixture(scope="module")
def done() -> tuple[Job, dict[str, Any]]:
    return made()


def test_the_bodies_of_the_result_file_are_all_there_is(done: tuple[Job, dict[str, Any]]) -> None:
    _, told = done
    bodies = {body["id"]: body for body in told["bodies"]}
    assert {name: body["kind"] for name, body in bodies.items()} == {"frame": "stays", "panel-1": "panel"}
    assert sum(body["mass_kg"] for body in bodies.values()) == pytest.approx(told["mass_kg"]["lid"])
    assert {pipe["body"] for pipe in told["frame"]["pipes"]} == set(bodies)
    assert {fitting["body"] for fitting in told["frame"]["fittings"]} == set(bodies)
    assert {lath["body"] for lath in told["film"]["laths"]} == set(bodies)
    sheets = sorted(sheet["name"] for body in bodies.values() for sheet in body["sheets"])
    assert sheets == sorted(sheet["name"] for sheet in told["film"]["sheets"])
    assert bodies["frame"]["opens"] is None
    rails = {pipe["id"]: pipe for pipe in told["frame"]["pipes"]}
    opens = bodies["panel-1"]["opens"]
    assert {rails[name]["role"] for name in opens["hinge_pipes"] + opens["free_pipes"]} == {"panel rail"}
    assert {rails[name]["role"] for name in opens["hinge_on"] + opens["latch_on"]} == {"eave rail"}


def test_everything_of_the_panel_is_bought(done: tuple[Job, dict[str, Any]]) -> None:
    job, told = done
    bought = {row["item"]: row["quantity"] for row in told["supplies"] if row["item"].startswith("fitting:")}
    for kind in ("tee", "elbow-90"):
        wanted = sum(fitting["kind"] == kind for fitting in told["frame"]["fittings"])
        assert bought[f"fitting:{kind}:{job.frame.pipe_key}"] == wanted
    assert sum(row["quantity"] for row in told["supplies"] if row["item"] == "strap") >= len(told["lid"]["straps"]) > 0
    marked = {pipe["mark"]: pipe["role"] for pipe in told["frame"]["pipes"] if pipe["role"].startswith("panel")}
    cut = {mark["mark"] for stick in told["stock"]["sticks"] for mark in stick["cuts"]}
    assert set(marked) <= cut


def test_a_panel_rail_that_is_cut_moves_no_bent(done: tuple[Job, dict[str, Any]]) -> None:
    """Whatever comes of a panel's own rails, the frame that stays is not made to suit them."""
    _, told = done
    mark = next(
        pipe["mark"] for pipe in told["frame"]["pipes"]
        if {p["role"] for p in told["frame"]["pipes"] if p["mark"] == pipe["mark"]} == {"panel rail"}
    )  # fmt: skip
    _, after = made(f'\n[[built]]\nwhat = "{mark}"\nreading = "32 in"\n')
    stays = [
        [pipe["cut_length_m"] for pipe in one["frame"]["pipes"] if pipe["body"] == "frame"] for one in (told, after)
    ]
    assert stays[0] == pytest.approx(stays[1])
    assert any(finding["key"] == "job.cut-too-short" for finding in after["findings"])
