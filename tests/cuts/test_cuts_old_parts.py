"""Old pipe with a fitting on its end: nothing is used twice, lengths add up, and it never costs more than without."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest

from clochewright.job import open_shelf, run_once
from clochewright.plan import plan_from_si
from properties.plans import random_plan

INCH_M = 0.0254


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


def test_random_shed_uses_nothing_twice_and_never_costs_more() -> None:
    draw = random.Random(11)
    used = 0
    for _ in range(40):
        wish = random_plan(draw, ("tent", "lean-to"))
        wish["bed"]["length_m"] = min(wish["bed"]["length_m"], 3.0)
        plain = trial(wish)
        if plain.made is None:
            continue
        kinds = ["tee", "elbow-90", ""]
        on_hand = [
            {"length_m": draw.uniform(0.2, 1.4), "cemented": draw.choice(kinds), "mark": f"old {i}"} for i in range(4)
        ]
        job = trial(wish | {"stock": {"on_hand": on_hand}})
        reused = job.made.cutlist.reused
        used += len(reused)
        for values in (
            [use.piece.number for use in reused],
            [use.pipe for use in reused],
            [use.fitting for use in reused],
        ):
            assert len(set(values)) == len(values)
        for use in reused:
            assert use.new_m or use.length_m <= use.piece.sound_m + 1e-9
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
