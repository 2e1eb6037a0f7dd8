"""Notes on unsure fitting sizes, against sums by hand and against the same sizes given as the user's own."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from clochewright.findings import Level, say
from clochewright.frame import raise_frame
from clochewright.job import open_shelf, run, run_once
from clochewright.job.doubts import doubts, paired_pipes
from clochewright.plan import Plan, plan_from_text

INCH = 0.0254
HERE = Path()

BED = """
units = "{units}"
[bed]
length = "8 ft"
width = "3 ft 10 in"
[cover]
apex = "{apex}"
[pipe]
size = "1 in"
bench = "{bench}"
"""


def plan(extra: str = "", *, units: str = "inch", apex: str = "butted", bench: str = "plumbing") -> Plan:
    return plan_from_text(BED.format(units=units, apex=apex, bench=bench) + extra)


def notes(asked: Plan) -> list[Any]:
    job = run(asked, *open_shelf(asked, HERE))
    return [finding for finding in job.findings if finding.key == "job.measure-first"]


def tee(stop: float, depth: float, hub: float) -> str:
    figures = f'centre_to_stop = "{stop} in"\nsocket_depth = "{depth} in"\nhub = "{hub} in"\n'
    return f'[[own.fittings]]\nkind = "tee"\n{figures}'


def test_the_longest_cut_by_hand() -> None:
    """The bed is 46 in wide, the brace runs between tees whose hubs are flush with it.

    Tee of the catalogue, an estimate: centre to stop 11/16 +- 1/8 in, hub 1 5/8 +- 1/8 in (the corner's hub is sure,
    1 5/8). Brace: 46 - 1 5/8 - 2 x 11/16 = 43 in; smallest tee 46 - 1 5/8 - 2 x 9/16 = 43 1/4; largest
    46 - 1 3/4 - 2 x 13/16 = 42 5/8.
    """
    (note,) = notes(plan())
    assert note.level is Level.NOTE
    assert (note.values["mark"], note.values["role"], note.values["fitting"]) == ("A", "brace", "tee")
    assert note.values["cut_m"] / INCH == pytest.approx(43)
    assert note.values["longer_m"] / INCH == pytest.approx(1 / 4)
    assert note.values["shorter_m"] / INCH == pytest.approx(3 / 8)
    words = say(note, "inch")
    assert "43 in) could come out up to 3/8 in shorter or 1/4 in longer" in words.what
    assert "rafter" in words.what
    assert "clochewright measure" in words.mend


def test_the_same_sizes_as_the_users_own_give_the_same_cuts() -> None:
    """The other way round: the user has the smallest and the largest tee, and the plan is worked out with it."""
    (note,) = notes(plan())
    bents = '[cover]\napex = "butted"\nbents = 3\n'
    base = BED.format(units="inch", apex="butted", bench="plumbing").replace('[cover]\napex = "butted"\n', bents)
    longest = []
    for sizes in ((0.6875, 1.125, 1.625), (0.5625, 0.875, 1.5), (0.8125, 1.25, 1.75)):
        asked = plan_from_text(base + tee(*sizes))
        trial = run_once(asked, *open_shelf(asked, HERE))
        longest.append(next(pipe.cut_length_m for pipe in trial.frame.pipes if pipe.role == "brace"))
    assert note.values["longer_m"] == pytest.approx(longest[1] - longest[0])
    assert note.values["shorter_m"] == pytest.approx(longest[0] - longest[2])


def test_no_note_once_the_kind_is_measured_in_full() -> None:
    assert notes(plan(tee(0.7, 1.1, 1.6))) == []


def test_what_is_left_unmeasured_is_still_noted() -> None:
    """Without its hub the tee still moves the base: 1/8 in at the most, half of it at each side."""
    (note,) = notes(plan('[[own.fittings]]\nkind = "tee"\ncentre_to_stop = "0.7 in"\nsocket_depth = "1.1 in"\n'))
    assert note.values["longer_m"] == 0
    assert note.values["shorter_m"] / INCH == pytest.approx(1 / 8)


def test_one_note_for_each_unsure_kind_in_the_frame_and_the_weightiest_first() -> None:
    found = notes(plan(apex="pointed", bench="furniture"))
    kinds = [note.values["fitting"].split(" (")[0] for note in found]
    assert kinds[0] == "tee"
    assert sorted(kinds) == ["side-outlet elbow", "side-outlet tee", "tee"]


def test_metric_plans_are_told_in_millimetres() -> None:
    for note in notes(plan(units="mm")):
        assert " mm shorter or " in say(note, "mm").what


def test_a_frame_that_may_not_go_together_is_told_first() -> None:
    asked = plan(apex="pointed", bench="furniture")
    shelf = open_shelf(asked, HERE)
    trial = run_once(asked, *shelf)

    def frame_with(changed: Plan, kind: str, end: str) -> Any:
        frame = raise_frame(changed, shelf[0])
        return replace(frame, pipes=(), fittings=()) if (kind, end) == ("side-outlet-tee", "high") else frame

    (stuck,) = doubts(trial, frame_with)
    assert (stuck.key, stuck.level) == ("job.measure-or-stuck", Level.WARN)
    assert stuck.values["fitting"].startswith("side-outlet tee")


def test_no_effect_no_note() -> None:
    asked = plan()
    shelf = open_shelf(asked, HERE)
    assert doubts(run_once(asked, *shelf), lambda changed, _kind, _end: raise_frame(changed, shelf[0])) == ()


def test_pipes_are_paired_only_where_the_frames_are_put_together_alike() -> None:
    few, many = plan(), plan_from_text(BED.format(units="inch", apex='butted"\nbents = 5 #', bench="plumbing"))
    frames = [raise_frame(asked, open_shelf(asked, HERE)[0]) for asked in (few, many)]
    assert paired_pipes(*frames) is None
    pairs = paired_pipes(frames[0], frames[0])
    assert pairs is not None
    assert len(pairs) == len(frames[0].pipes)


def test_a_refused_plan_has_no_doubts() -> None:
    asked = plan_from_text('[bed]\nlength = "1 ft"\nwidth = "9 in"\n')
    assert not any(finding.key.startswith("job.measure") for finding in run(asked, *open_shelf(asked, HERE)).findings)
