"""Marks: equal rounded lengths share a letter, longest first."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clochewright.cuts import cut, cut_lengths
from clochewright.findings import Level, say

INCH = 0.0254


def with_lengths(frame, lengths_m, roles=()):
    """The frame with as many pipes as there are lengths."""
    pipe = frame.pipes[0]
    pipes = tuple(
        replace(pipe, id=f"p{i}", cut_length_m=length_m, role=roles[i] if roles else "rafter")
        for i, length_m in enumerate(lengths_m)
    )
    return replace(frame, pipes=pipes)


def test_lengths_that_round_alike_share_a_mark(small_tent):
    frame = with_lengths(
        small_tent,
        [30.01 * INCH, 46.5 * INCH, 30.02 * INCH, 46.49 * INCH, 30.1 * INCH],
        ["brace", "side rail", "end rail", "side rail", "brace"],
    )
    cuts, mark_of = cut_lengths(frame, "inch")
    assert [(c.mark, c.role, c.count) for c in cuts] == [
        ("A", "side rail", 2),
        ("B", "brace", 1),
        ("C", "brace, end rail", 2),
    ]
    assert [c.length_m for c in cuts] == pytest.approx([46.5 * INCH, 30.125 * INCH, 30 * INCH], abs=1e-12)
    assert mark_of == {"p0": "C", "p1": "A", "p2": "C", "p3": "A", "p4": "B"}


def test_metric_rounds_to_a_millimetre(small_tent):
    cuts, _ = cut_lengths(with_lengths(small_tent, [1.0004, 1.0006]), "mm")
    assert [c.length_m for c in cuts] == [1.001, 1.0]


def test_no_mark_reads_like_a_number(small_tent):
    """I and O are left out; after Z comes AA."""
    cuts, _ = cut_lengths(with_lengths(small_tent, [3.0 - 0.1 * i for i in range(27)]), "mm")
    marks = [c.mark for c in cuts]
    assert not any("I" in mark or "O" in mark for mark in marks)
    assert marks[7:9] == ["H", "J"]
    assert marks[22:] == ["Y", "Z", "AA", "AB", "AC"]


def test_every_pipe_of_a_frame_is_cut_once(small_tent):
    cut_list = cut(
        small_tent,
        units="inch",
        kerf_m=0.125 * INCH,
        sticks=[(120 * INCH, 6.48)],
        car_m=78 * INCH,
    )
    assert set(cut_list.mark_of) == {pipe.id for pipe in small_tent.pipes}
    assert sum(c.count for c in cut_list.cuts) == len(small_tent.pipes)
    length_of = {c.mark: c.length_m for c in cut_list.cuts}
    for pipe in small_tent.pipes:
        assert abs(length_of[cut_list.mark_of[pipe.id]] - pipe.cut_length_m) <= INCH / 32 + 1e-9
    assert sum(len(stick.cuts) for stick in cut_list.stock.sticks) == len(small_tent.pipes)
    assert not cut_list.findings
    for first in cut_list.first_cuts:
        assert max(first.pieces_m) <= 78 * INCH + 1e-9


def test_findings_can_be_said(small_tent):
    """Each finding of the room has its words, and they name the mark."""
    long = with_lengths(small_tent, [4.0, 2.5, 1.0])
    found = cut(long, units="mm", kerf_m=0.003, sticks=[(3.0, 5.0)], car_m=2.0).findings
    found += cut(long, units="mm", kerf_m=0.003, sticks=[]).findings
    found += cut(long, units="mm", kerf_m=0.003, sticks=[], on_hand_m=[4.0]).findings
    found += cut(with_lengths(long, [2.0, 2.0]), units="mm", kerf_m=0.003, sticks=[(1.0, 5.0)], on_hand_m=[3]).findings
    found += cut(with_lengths(long, [0.0]), units="mm", kerf_m=0.003, sticks=[(1.0, 5.0)]).findings
    assert {f.key for f in found} == {
        "cuts.longer-than-stick",
        "cuts.longer-than-car",
        "cuts.no-sticks",
        "cuts.shed-used-up",
        "cuts.short-of-stock",
        "cuts.no-length",
    }
    for finding in found:
        words = say(finding, "mm")
        assert finding.where in words.what
        assert words.mend
        assert (finding.level == Level.WARN) == (finding.key == "cuts.longer-than-car")
