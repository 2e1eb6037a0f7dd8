"""Old pipe with a fitting on its end: nothing is used twice, lengths add up, and it never costs more than without."""

from __future__ import annotations

import math
import random
from pathlib import Path
from typing import Any

import pytest

from clochewright.cuts import Reuse
from clochewright.frame import Frame
from clochewright.job import open_shelf, run_once
from clochewright.plan import plan_from_si, plan_from_text
from properties.plans import random_plan

INCH_M = 0.0254
EXAMPLES = Path(__file__).parents[2] / "examples"


def trial(wish: dict[str, Any]) -> Any:
    plan = plan_from_si(wish)
    return run_once(plan, *open_shelf(plan, Path()))


def bed(on_hand: list[dict[str, Any]], **stock: Any) -> dict[str, Any]:
    return {
        "bed": {"length_m": 2.4, "width_m": 1.2},
        "cover": {"apex": "butted"},
        "pipe": {"size": "1 in"},
        "stock": {"on_hand": on_hand, **stock},
    }


def test_a_long_old_rafter_is_sawn_to_length_and_brings_its_tee() -> None:
    new = trial(bed([]))
    old = trial(bed([{"length_m": 1.0, "cemented": "tee", "port": "branch", "mark": "old 3"}]))
    (use,) = old.made.cutlist.reused
    assert use.new_m == 0
    pipe = next(p for p in old.frame.pipes if p.id == use.pipe)
    assert any(end.fitting == use.fitting and end.port == "branch" for end in pipe.ends)
    assert use.length_m == pytest.approx(pipe.cut_length_m)  # the frame is planned home, as a cemented end is
    tees = {t: next(r.quantity for r in job.made.supplies.rows if r.item.startswith("fitting:tee"))
            for t, job in (("new", new), ("old", old))}  # fmt: skip
    assert tees["old"] == tees["new"] - 1
    assert "cuts.old-sawn" in [f.key for f in old.findings]


def test_a_short_one_is_spliced_and_the_lengths_add_up() -> None:
    # by hand: old pipe, two stops of the coupling (3/32 in apart by ASTM D2467, half of it on each side), new piece
    length_m = 12 * INCH_M
    job = trial(bed([{"length_m": length_m, "cemented": "tee", "port": "branch"}]))
    (use,) = job.made.cutlist.reused
    assert length_m + 3 / 32 * INCH_M + use.new_m == pytest.approx(use.length_m, abs=1e-6)
    assert any(cut.mark.startswith(f"{use.mark}-S") for cut in job.made.cutlist.cuts)
    assert any(row.item.startswith("fitting:coupling") and row.quantity == 1 for row in job.made.supplies.rows)


def test_only_the_sound_part_of_a_cracked_piece_counts() -> None:
    whole = trial(bed([{"length_m": 1.1, "count": 9}]))
    cracked = trial(bed([{"length_m": 1.1, "sound_m": 0.1, "count": 9}]))
    assert 1.1 in [stick.length_m for stick in whole.made.cutlist.stock.sticks]
    assert 1.1 not in [stick.length_m for stick in cracked.made.cutlist.stock.sticks]


def test_old_fittings_are_not_bought() -> None:
    job = trial(bed([], fittings=[{"kind": "elbow-90", "count": 4}]))
    new = trial(bed([]))
    count = {}
    for name, made in (("new", new.made), ("old", job.made)):
        rows = [r.quantity for r in made.supplies.rows if r.item.startswith("fitting:elbow-90")]
        count[name] = sum(rows)
    assert count["old"] == count["new"] - 4


def check_by_hand(frame: Frame, use: Reuse) -> None:
    """The old piece, and what is coupled to it, reach from its fitting's stop to the seat at the pipe's other end."""
    pipe = next(pipe for pipe in frame.pipes if pipe.id == use.pipe)
    near = next(end for end in pipe.ends if end.fitting == use.fitting)
    other = next(end for end in pipe.ends if end is not near)
    fitting = frame.fitting(use.fitting)
    assert fitting.kind == use.piece.cemented
    assert use.piece.port in ("", near.port) or str(near.port).startswith(f"{use.piece.port}-")
    port = fitting.port(str(near.port))
    stop = [c + d * port.centre_to_stop_m for c, d in zip(fitting.position_m, port.direction, strict=True)]
    reach_m = math.dist(stop, other.point_m)
    if use.new_m:
        gap_m = reach_m - use.piece.sound_m - use.new_m  # what the coupling's stop keeps apart
        assert 0 < gap_m < 0.02
    else:
        assert use.length_m == pytest.approx(reach_m, abs=1e-9)
        assert reach_m <= use.piece.sound_m + 1e-9


def test_a_splice_that_costs_more_than_it_saves_is_left_out() -> None:
    # with enough tees in the shed the old one saves nothing, and a coupling would have to be bought
    short = [{"length_m": 0.1, "cemented": "tee", "port": "branch", "mark": "old 1"}]
    assert trial(bed(short)).made.cutlist.reused
    job = trial(bed(short, fittings=[{"kind": "tee", "count": 60}]))
    assert not job.made.cutlist.reused
    assert job.made.supplies.total == trial(bed([], fittings=[{"kind": "tee", "count": 60}])).made.supplies.total
    left = next(f for f in job.findings if f.key == "cuts.old-left-over").values["pieces"]
    assert any("old 1" in piece for piece in left)
    assert any(piece.endswith("× tee") for piece in left)


def test_a_tee_serves_only_the_way_round_that_the_pipe_sits_in() -> None:
    along = {"side rail", "ridge"}
    for port, roles in (("branch", {"rafter", "brace"}), ("run", along), ("run-b", along)):
        job = trial(bed([{"length_m": 2.0, "cemented": "tee", "port": port}]))
        (use,) = job.made.cutlist.reused
        assert next(p.role for p in job.frame.pipes if p.id == use.pipe) in roles
    untold = trial(bed([{"length_m": 2.0, "cemented": "tee", "mark": "old 9"}]))
    assert not untold.made.cutlist.reused
    said = next(f for f in untold.findings if f.key == "cuts.old-which-socket")
    assert said.values["old"] == "old 9"
    assert said.values["ports"] == ("branch", "run")


def test_what_is_sawn_off_an_old_piece_is_used_as_well() -> None:
    # a brace of 1.12 m is sawn off 4 m of old pipe, and the rest does what a new stick of 10 ft would have to
    job = trial(bed([{"length_m": 4.0, "cemented": "tee", "port": "branch", "mark": "old 1"}]))
    (use,) = job.made.cutlist.reused
    (stick,) = [stick for stick in job.made.cutlist.stock.sticks if stick.origin == "on-hand"]
    assert stick.length_m == pytest.approx(4.0 - use.length_m - job.plan.stock.kerf_m, abs=1e-5)
    assert "the rest of old 1" in next(f for f in job.findings if f.key == "cuts.old-cut-up").values["pieces"][0]


def test_an_old_piece_left_over_is_told_from_its_like_that_is_used() -> None:
    """Bed 4 has two pieces of 44 in, and place for one."""
    plan = plan_from_text((EXAMPLES / "sorrel-yard-bed-4.toml").read_text(encoding="utf-8"), "bed 4")
    job = run_once(plan, *open_shelf(plan, EXAMPLES))
    said = {finding.key: finding.values["pieces"] for finding in job.findings if "pieces" in finding.values}
    assert [piece for piece in said["cuts.old-cut-up"] if piece.startswith("44 in")] == ["44 in → D + F + F"]
    assert said["cuts.old-left-over"] == ("1 more piece of 44 in",)


def test_old_pieces_alike_that_are_all_left_over_are_counted() -> None:
    job = trial(bed([{"length_m": 0.0254, "count": 3}]))
    assert next(f for f in job.findings if f.key == "cuts.old-left-over").values["pieces"] == ("3 pieces of 1 in",)


def test_a_fitting_that_nobody_knows_is_told_and_not_counted() -> None:
    job = trial(bed([{"length_m": 1.0, "cemented": "te", "port": "branch"}], fittings=[{"kind": "elbow 90"}]))
    assert {f.values["kind"] for f in job.findings if f.key == "cuts.old-unknown-fitting"} == {"te", "elbow 90"}
    assert job.made.supplies.total == trial(bed([])).made.supplies.total


def test_a_cemented_end_where_the_plan_wants_it_dry_is_longer_and_stays_together() -> None:
    wish = bed([{"length_m": 1.2, "cemented": "tee", "port": "branch"}]) | {"joints": {"seat": "dry"}}
    job = trial(wish)
    (use,) = job.made.cutlist.reused
    check_by_hand(job.frame, use)
    pipe = next(p for p in job.frame.pipes if p.id == use.pipe)
    assert use.length_m > pipe.cut_length_m
    assert "cuts.old-stays-joined" in [f.key for f in job.findings]
    held = [j.treatment for j in job.made.joints.joints if (j.fitting, j.pipe) == (use.fitting, use.pipe)]
    assert held == ["cemented"]


def test_a_pipe_that_is_cut_already_is_not_served_again() -> None:
    old = [{"length_m": 0.9, "cemented": "tee", "port": "branch"}]
    rafter = next(p for p in trial(bed([])).frame.pipes if p.role == "rafter")
    job = trial(bed(old) | {"built": [{"what": "rafter", "reading_m": rafter.cut_length_m}]})
    roles = {p.id: p.role for p in job.frame.pipes}
    assert "rafter" not in [roles[use.pipe] for use in job.made.cutlist.reused]


def test_random_shed_uses_nothing_twice_and_never_costs_more() -> None:
    draw = random.Random(11)
    used = 0
    for _ in range(40):
        wish = random_plan(draw, ("tent", "lean-to"))
        wish["bed"]["length_m"] = min(wish["bed"]["length_m"], 3.0)
        plain = trial(wish)
        if plain.made is None:
            continue
        ends = [("tee", "branch"), ("tee", "run"), ("elbow-90", ""), ("elbow-45", ""), ("", "")]
        on_hand = []
        for i in range(5):
            cemented, port = draw.choice(ends)
            on_hand.append({"length_m": draw.uniform(0.1, 1.4), "cemented": cemented, "port": port, "mark": f"old {i}"})
        loose = [{"kind": draw.choice(("tee", "elbow-90", "coupling")), "count": draw.randint(1, 12)}]
        job = trial(wish | {"stock": {"on_hand": on_hand, "fittings": loose}})
        reused = job.made.cutlist.reused
        used += len(reused)
        for values in (
            [use.piece.number for use in reused],
            [use.pipe for use in reused],
            [use.fitting for use in reused],
        ):
            assert len(set(values)) == len(values)
        for use in reused:
            check_by_hand(job.frame, use)
        for stick in job.made.cutlist.stock.sticks:
            saws_m = job.plan.stock.kerf_m * (len(stick.cuts) - 1)
            assert sum(length_m for _, length_m in stick.cuts) + saws_m <= stick.length_m + 1e-6
        shed_m = sum(one["length_m"] for one in on_hand)
        sawn_m = sum(s.length_m for s in job.made.cutlist.stock.sticks if s.origin == "on-hand")
        assert sawn_m + sum(min(use.length_m, use.piece.sound_m) for use in reused) <= shed_m + 1e-5
        sawn = sum(cut.count for cut in job.made.cutlist.cuts) - len(job.made.cutlist.already)
        assert sawn == sum(len(stick.cuts) for stick in job.made.cutlist.stock.sticks)
        assert job.made.supplies.total <= plain.made.supplies.total
    assert used > 40


def test_pieces_already_cut_come_off_no_stick() -> None:
    wish = bed([])
    plain = trial(wish)
    rafter = next(p for p in plain.frame.pipes if p.role == "rafter")
    job = trial(wish | {"built": [{"what": "rafter", "reading_m": rafter.cut_length_m}]})
    marks = {mark for stick in job.made.cutlist.stock.sticks for mark, _ in stick.cuts}
    assert job.made.cutlist.mark_of[rafter.id] not in marks
    assert len(job.made.cutlist.already) == sum(p.role == "rafter" for p in job.frame.pipes)
