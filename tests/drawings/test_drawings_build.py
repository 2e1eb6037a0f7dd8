"""Pictures of the build: new pieces strong and apart the way they move, earlier ones pale, one view."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from drawing_samples import bed_for, marked

import frame_samples
from clochewright.assembly import Count, Move, Packed, Packing, Step
from clochewright.drawings import Area, BuildPictures, Circle, Line, Text, draw_build_steps, draw_packing
from clochewright.drawings.apart import take_apart
from clochewright.drawings.members import seen_path_m
from clochewright.drawings.packing import back_to_front
from clochewright.drawings.pens import PENS
from clochewright.drawings.projection import THREE_QUARTER
from clochewright.frame import End, Pipe
from order_samples import joints_for, order_for, springing

FOOT = 0.3048


@pytest.fixture(scope="module")
def build():
    frame = frame_samples.tent(8 * FOOT, 4 * FOOT, 3)
    return BuildPictures(
        frame, marked(frame), joints_for(frame), order_for(frame, marked(frame)), bed_for(frame), "inch"
    )


@pytest.fixture(scope="module")
def drawn(build):
    return draw_build_steps(build)


def assembling(build):
    return [step for step in build.order.steps if step.kind == "assemble"]


def lines(drawing, *pens):
    return [mark for mark in drawing.marks if isinstance(mark, Line) and mark.pen in pens]


def test_every_step_with_pieces_has_its_picture(build, drawn):
    assert set(drawn) == {f"step-{step.number}" for step in build.order.steps if step.new or step.there}


def test_what_is_cut_is_drawn_true_to_length(build):
    marks = list(build.cutlist.cuts)[:3]
    counts = tuple(Count(cut.mark, 2, "pipe") for cut in marks)
    order = replace(build.order, steps=(Step(1, "cut", "Cut", (), pieces=counts),))
    picture = draw_build_steps(replace(build, order=order))["step-1"]
    bars = [mark for mark in picture.marks if isinstance(mark, Area) and mark.pen == "piece"]
    long = [max(x for x, _ in bar.points) - min(x for x, _ in bar.points) for bar in bars]
    for cut, drawn_mm in zip(marks, long, strict=True):
        assert drawn_mm / long[0] == pytest.approx(cut.length_m / marks[0].length_m, rel=1e-6)


def test_a_step_that_marks_shows_ring_and_line(build):
    order = replace(build.order, steps=(Step(1, "mark", "Mark", ()),))
    picture = draw_build_steps(replace(build, order=order))["step-1"]
    said = " ".join(mark.text for mark in picture.marks if isinstance(mark, Text))
    assert "a ring round the pipe" in said
    assert "a line over hub and pipe" in said
    across = lines(picture, "move")
    assert len(across) == 2  # on the hub, and on the pipe


def test_joints_of_a_cement_step_are_numbered_as_its_moves(build, drawn):
    step = next(step for step in build.order.steps if step.kind == "cement" and len(step.moves) > 2)
    said = [
        mark.text for mark in drawn[f"step-{step.number}"].marks if isinstance(mark, Text) and mark.pen == "tag-text"
    ]
    assert said == [str(number) for number in range(1, len(step.moves) + 1)]


def test_what_is_squared_before_the_rest_is_put_up_is_drawn_as_it_stands(build):
    steps = [step for step in build.order.steps if step.kind == "assemble"][:1]
    square = Step(9, "square", "Square", (), diagonals=build.order.steps[-2].diagonals)
    picture = draw_build_steps(replace(build, order=replace(build.order, steps=(*steps, square))))["step-9"]
    parts = {mark.part for mark in picture.marks if isinstance(mark, Area) and mark.part}
    assert parts <= {*steps[0].new, *steps[0].there}


def test_new_pieces_are_strong_and_earlier_ones_pale(build, drawn):
    for step in assembling(build):
        pens = {}
        for mark in drawn[f"step-{step.number}"].marks:
            if isinstance(mark, Area) and mark.part and mark.pen.startswith(("pipe", "fitting")):
                pens.setdefault(mark.part, set()).add(mark.pen.removesuffix("-fine"))
        assert {one for one, used in pens.items() if used <= {"pipe-new", "fitting-new"}} == set(step.new)
        hidden = {pipe.id for pipe in build.frame.pipes if len(seen_path_m(pipe)) < 2}  # wholly within sockets
        pale = {one for one, used in pens.items() if used <= {"pipe-there", "fitting-there"}}
        assert pale == set(step.there) - hidden


def test_pale_lines_are_paler_and_finer_in_grey_print():
    def grey(ink):  # Rec. 709 luma, 0 black to 1 white
        red, green, blue = (int(ink[k : k + 2], 16) / 255 for k in (1, 3, 5))
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    for kind in ("pipe", "fitting"):
        strong, pale = PENS[f"{kind}-new-fine"], PENS[f"{kind}-there"]
        assert grey(pale.ink) > grey(strong.ink) + 0.3
        assert pale.width_mm < strong.width_mm
    assert grey(PENS["move"].ink) < 0.35  # arrows stay dark


def test_a_guide_line_for_each_joint_that_closes_along_the_way_it_moves(build, drawn):
    for step in assembling(build):
        closing = sum(len(move.joints) for move in step.moves)
        guides = lines(drawn[f"step-{step.number}"], "guide")
        inset = 1  # the enlarged joint has one of its own
        assert len(guides) == closing + inset
        x, y, _ = THREE_QUARTER.project(np.array([step.moves[0].axis]))[0]
        for guide in guides[:closing]:
            (ax, ay), (bx, by) = guide.points
            assert abs((bx - ax) * y - (by - ay) * x) / math.hypot(bx - ax, by - ay) < 1e-6 * math.hypot(x, y) + 1e-9


def test_pieces_are_drawn_clear_of_their_sockets(build):
    for step in assembling(build):
        apart = take_apart(build.frame, step.moves, {*step.new, *step.there}, step.there, 0.2)
        assert apart.gaps
        for gap in apart.gaps:
            assert math.dist(gap.from_m, gap.to_m) >= 0.2 - 1e-9


def test_in_a_part_each_piece_is_drawn_in_line_with_the_socket_it_goes_into(build):
    for step in build.order.steps:
        if step.kind == "cement":
            apart = take_apart(build.frame, step.moves, step.new, (), 0.1)
            assert len(apart.gaps) == len(step.moves)
            for gap in apart.gaps:
                port = build.frame.fitting(gap.link.fitting).port(gap.link.port)
                across = np.cross(np.array(gap.from_m) - np.array(gap.to_m), port.direction)
                assert np.linalg.norm(across) < 1e-9


def test_what_stands_is_seen_where_it_stood_before(build, drawn):
    first, second = assembling(build)[:2]
    seen = []
    for step in (first, second):
        picture = drawn[f"step-{step.number}"]
        corner = [mark for mark in picture.marks if isinstance(mark, Area) and mark.part in first.there]
        seen.append((picture.scale, min(x for mark in corner for x, _ in mark.points)))
    assert seen[0] == pytest.approx(seen[1], abs=1e-6)


def test_pieces_are_counted_in_the_row_above(build, drawn):
    step = next(step for step in build.order.steps if step.kind == "cement")
    said = [mark.text for mark in drawn[f"step-{step.number}"].marks if isinstance(mark, Text)]
    assert any(text.startswith("2 × ") and text.endswith("elbow") for text in said)


def test_a_part_made_by_itself_shows_where_it_belongs(build, drawn):
    step = next(step for step in build.order.steps if step.kind == "cement")
    picture = drawn[f"step-{step.number}"]
    assert any(mark.pen == "fitting-strong" for mark in picture.marks)
    assert "they belong here" in [mark.text for mark in picture.marks if isinstance(mark, Text)]


def test_springing_in_says_how_far_and_how_hard(build):
    order = springing(build.order)
    sprung = next(step for step in order.steps if any(move.spring for move in step.moves))
    picture = draw_build_steps(replace(build, order=order))[f"step-{sprung.number}"]
    said = " ".join(mark.text for mark in picture.marks if isinstance(mark, Text))
    assert "spread 1 in, pull 1.3 lbf to 7.9 lbf" in said  # 6 and 35 N; 1 lbf = 4.448 N


def test_diagonals_and_screws_have_their_picture(build, drawn):
    square, screw = build.order.steps[-2:]
    assert len(lines(drawn[f"step-{square.number}"], "move")) == 2
    arrows = lines(drawn[f"step-{screw.number}"], "mark")
    assert len(arrows) == len(screw.screws)


def test_a_turn_has_its_arc_and_a_tie_its_guides(build):
    frame = build.frame
    rafter = next(pipe for pipe in frame.pipes if pipe.role == "rafter")
    foot = rafter.ends[0].fitting
    rail = next(pipe for pipe in frame.pipes if any(e.fitting == foot for e in pipe.ends) and pipe is not rafter)
    whole = tuple(one.id for one in (*frame.pipes, *frame.fittings))
    turn = Move(1, "turn", (1.0, 0.0, 0.0), (rafter.id, foot), (rail.id,), (), False, "Turn it up.")
    open_ends = tuple(End(None, None, 0.0, point) for point in ((-1.0, 0.0, 0.5), (1.0, 0.0, 0.5)))
    bar = Pipe("bar", "crown bar", 2.0, open_ends, tuple(end.point_m for end in open_ends))
    frame = replace(frame, pipes=(*frame.pipes, bar))
    tie = Move(2, "tie", (0.0, 0.0, 1.0), (bar.id,), (), (), False, "Tie it.")
    steps = tuple(
        Step(number, "assemble", "", (), (move,), new=move.moving, there=tuple(set(whole) - set(move.moving)))
        for number, move in ((1, turn), (2, tie))
    )
    order = type(build.order)(steps, None, (), None, (), (), (), True)
    pictures = draw_build_steps(replace(build, frame=frame, order=order))
    (arc,) = lines(pictures["step-1"], "move")
    assert len(arc.points) > 6
    assert len(lines(pictures["step-2"], "guide")) == 3


def test_the_words_for_those_who_cannot_see_hold_the_sentences(build, drawn):
    for step in assembling(build):
        assert all(text in drawn[f"step-{step.number}"].alt_text for text in step.texts)


def test_boxes_in_front_are_drawn_later():
    # Against rays from the eye: of two boxes that one ray meets, the nearer is drawn after the other.
    rng = np.random.default_rng(8)
    corners = [np.array([x, y, z]) for x in range(3) for y in range(2) for z in range(3)]
    packed = []
    for k, corner in enumerate(corners):
        inner = rng.uniform(0.0, 0.25, 3)
        size = rng.uniform(0.3, 0.7, 3)
        packed.append(Packed(f"M{k}", tuple(corner + inner), tuple(size)))
    rng.shuffle(packed)
    rank = {one.part: k for k, one in enumerate(back_to_front(packed))}
    toward = np.array(THREE_QUARTER.toward)
    met = 0
    for through in rng.uniform(0, 3, (800, 3)):
        hits = []
        for one in packed:
            low = (np.array(one.corner_m) - through) / toward
            high = (np.array(one.corner_m) + np.array(one.box_m) - through) / toward
            enter, leave = np.minimum(low, high).max(), np.maximum(low, high).min()
            if enter < leave:
                hits.append((enter, rank[one.part]))
        met += len(hits) > 1
        assert [k for _, k in sorted(hits)] == sorted(k for _, k in hits)
    assert met > 50


def test_each_packed_part_has_its_name(build):
    picture = draw_packing(build.order.packing, "inch")
    said = [mark.text for mark in picture.marks if isinstance(mark, Text)]
    assert {one.part for one in build.order.packing.packed} <= set(said)
    assert sum(isinstance(mark, Circle) and mark.pen == "mark" for mark in picture.marks) == len(
        build.order.packing.packed
    )
    assert isinstance(build.order.packing, Packing)
