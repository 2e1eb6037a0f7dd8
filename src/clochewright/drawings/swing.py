"""Side view of a leaf swept through its opening: bars on their pins, where the hand is, where it comes to rest."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from clochewright.drawings.lettering import CAP_HEIGHT, text_corners, text_width_mm
from clochewright.drawings.marks import Anchor, Area, Circle, Drawing, Line, Mark, Point, Text
from clochewright.drawings.members import BedBox, Placing, bed_marks
from clochewright.drawings.sheet import (
    MARGIN_MM,
    SCALES,
    Box,
    box_around,
    fold,
    on_sheet,
)
from clochewright.drawings.swung import Section, leaf_marks, staying_marks, view_along
from clochewright.findings import word
from clochewright.job import Job
from clochewright.lid import Leaf
from clochewright.measures import show_about, show_angle, show_length
from clochewright.strength import LeafOpening

WIDTH_MM, HEIGHT_MM = 180.0, 105.0
_NUMBER_MM, _TEXT_MM, _ROW_MM = 3.2, 3.4, 5.0
_BALLOON_MM = 2.4
_BESIDE_m = 0.25  # of ground, and of reach, shown beyond what stands on it
_WALL_m, _BLOCK_m, _BAR_m = 0.10, 0.10, 0.019
_SLIGHT_m = 0.01


@dataclass(frozen=True, slots=True)
class _Stand:
    """One place of the leaf that is drawn and told of: its number, the angle, its words."""

    number: int
    angle_deg: float
    told: str
    rests: bool = False


def draw_swing(
    job: Job, leaf: Leaf, work: LeafOpening, width_mm: float = WIDTH_MM, height_mm: float = HEIGHT_MM
) -> Drawing:
    """The leaf shut, propped at each of its openings, and at rest.

    Args:
        job: The finished job.
        leaf: The leaf.
        work: What its opening asks.
        width_mm: Width of the sheet of paper [mm].
        height_mm: Greatest height that the view itself takes up on paper [mm].
    """
    units = job.plan.units
    stands = list(_stands(job, leaf, work))
    room_mm = width_mm - 2 * MARGIN_MM
    for scale in _scales(job, leaf, work, room_mm, height_mm):
        section = Section(leaf.line, Placing(view_along(leaf.line), scale))
        drawn = _picture(job, leaf, work, section, stands)
        whole = box_around(drawn)
        if whole.width_mm <= room_mm and whole.height_mm <= height_mm:
            break
    drawn += _told(stands, whole, room_mm)
    left_mm = min(box_around(drawn).left_mm, whole.left_mm - (room_mm - whole.width_mm) / 2) - MARGIN_MM
    title, note = word("drawings.lid.swing-title"), word("drawings.lid.swing-note")
    return on_sheet(drawn, title, note, width_mm, scale, units, _in_words(job, leaf, work), left_mm=left_mm)


def _scales(job: Job, leaf: Leaf, work: LeafOpening, width_mm: float, height_mm: float) -> list[float]:
    """Scales at which ground and lid alone would fit, the largest first; the last one in any case."""
    across_m = job.plan.bed.outside_width_m if abs(leaf.line.over[1]) > 0.5 else job.plan.bed.outside_length_m
    wide_mm = (across_m + leaf.swing.behind_m + _BESIDE_m) * 1000
    high_mm = max(leaf.swing.highest_m, work.reach.high_m.value) * 1000
    scales = SCALES[job.plan.units]
    return [s for s in scales if wide_mm / s <= width_mm and high_mm / s <= height_mm] or [scales[-1]]


def _stands(job: Job, leaf: Leaf, work: LeafOpening) -> Iterator[_Stand]:
    units = job.plan.units

    def far(angle_deg: float) -> tuple[str, str, str]:
        row = work.at(angle_deg)
        beyond = "" if row.in_reach else f" {word('drawings.lid.swing-out-of-reach')}"
        return show_about(row.handle_height_m, units), show_about(max(0.0, row.handle_in_m), units), beyond

    up, _, beyond = far(0.0)
    yield _Stand(1, 0.0, word("drawings.lid.swing-shut", up=up) + beyond)
    number = 1
    rest = leaf.swing.rest
    for hole in leaf.props[0].holes if leaf.props else ():
        if hole.open_deg > rest.angle_deg + 1e-6:
            continue
        number += 1
        up, into, beyond = far(hole.open_deg)
        said = {"angle": show_angle(hole.open_deg), "up": up, "hole": show_length(hole.from_pivot_m, units)}
        key = "open" if work.at(hole.open_deg).handle_in_m > _SLIGHT_m else "open-out"
        yield _Stand(number, hole.open_deg, word(f"drawings.lid.swing-{key}", into=into, **said) + beyond)
    on = word(f"drawings.lid.on.{rest.on.replace(' ', '-')}{'-block' if rest.block_m else ''}")
    angle_deg = rest.block_deg if rest.block_m else rest.angle_deg
    key = "rest" if rest.angle_deg > job.plan.lid.open_deg else "stops"
    said = {"angle": show_angle(round(angle_deg)), "on": on}
    yield _Stand(number + 1, angle_deg, word(f"drawings.lid.swing-{key}", **said), rests=True)


def _picture(job: Job, leaf: Leaf, work: LeafOpening, section: Section, stands: list[_Stand]) -> list[Mark]:
    bed, frame = job.plan.bed, job.frame
    drawn: list[Mark] = [*_behind(job, leaf, section)]
    drawn += bed_marks(BedBox(bed.outside_length_m, bed.outside_width_m, bed.height_m, bed.board_m), section.placing)
    drawn += staying_marks(frame, section) if leaf.body.kind == "panel" else []
    reach = _reach(job, leaf, work, section)
    drawn += [reach] if reach else []
    for stand in sorted(stands, key=lambda one: (not one.rests, -one.angle_deg)):
        drawn += leaf_marks(frame, leaf, section, stand.angle_deg, faded=stand.angle_deg > 0)
    drawn += _bars(leaf, section, stands)
    drawn += [Line("way", tuple(section.at(*point) for point in leaf.swing.path_m))]
    drawn.append(Circle("mark", section.at(0.0, 0.0), 0.9))
    drawn += _quartered(section.placing.point(work.centre_m))
    balloons = list(_balloons(leaf, section, stands))
    drawn += _reach_told(reach, balloons) if reach else []
    return drawn + balloons


def _behind(job: Job, leaf: Leaf, section: Section) -> Iterator[Mark]:
    """The ground, and the path or the wall behind the hinges."""
    bed, lid = job.plan.bed, job.plan.lid
    ground_m = -bed.height_m - leaf.line.start_m[2]
    far_m = _bed_across(job, section) - leaf.over_m + _BESIDE_m
    near_m = -leaf.over_m - max(leaf.swing.behind_m + 0.05, _BESIDE_m)
    behind_m = -leaf.over_m - lid.behind_distance_m
    own_wall = job.plan.cover.shape == "lean-to" and job.plan.lean_to.wall_behind and lid.behind != "wall"
    wall_m = behind_m if lid.behind == "wall" else -leaf.over_m if own_wall and _hinged_high(job) else None
    if lid.behind == "path":
        near_m = min(near_m, behind_m - _BESIDE_m)
    if wall_m is not None:
        near_m = wall_m - _WALL_m
        corners = _box(section, near_m, wall_m, ground_m, leaf.swing.highest_m - bed.height_m - leaf.line.start_m[2])
        yield Area("wall", corners)
        yield Line("ground", (corners[1], corners[2]))
        # above it: a block that the lid rests on has its name below
        above = (corners[2][0] + corners[3][0]) / 2, corners[2][1] + 1.4
        yield Text("note", above, word("drawings.lid.swing-wall"), _TEXT_MM, "middle")
    yield Line("ground", (section.at(near_m, ground_m), section.at(far_m, ground_m)))
    if lid.behind == "path":
        left, right = section.at(near_m, ground_m), section.at(behind_m, ground_m)
        yield Area("wall", (left, right, (right[0], right[1] - 1.4), (left[0], left[1] - 1.4)))
        yield _label(section.at((near_m + behind_m) / 2, ground_m), word("drawings.lid.swing-path"))
    rest = leaf.swing.rest
    if rest.block_m > 0:
        yield from _boxed(
            "roll", _box(section, -rest.block_out_m - _BLOCK_m / 2, -rest.block_out_m + _BLOCK_m / 2, ground_m,
                         ground_m + rest.block_m))  # fmt: skip
        yield _label(section.at(-rest.block_out_m, ground_m), word("drawings.lid.swing-block"))


def _hinged_high(job: Job) -> bool:
    return job.plan.lid.hinge_side == job.plan.lean_to.high_side or job.plan.lid.opens != "cover"


def _bed_across(job: Job, section: Section) -> float:
    bed = job.plan.bed
    return bed.outside_width_m if abs(section.line.over[1]) > 0.5 else bed.outside_length_m


def _label(at: Point, text: str) -> Text:
    return Text("note", (at[0], at[1] - 4.6), text, _TEXT_MM, "middle")


def _box(section: Section, left_m: float, right_m: float, low_m: float, high_m: float) -> tuple[Point, ...]:
    return tuple(section.at(*corner) for corner in (
        (left_m, low_m), (right_m, low_m), (right_m, high_m), (left_m, high_m)))  # fmt: skip


def _boxed(pen: str, corners: tuple[Point, ...]) -> tuple[Mark, Mark]:
    return Area(pen, corners), Line(pen, corners, closed=True)


def _reach(job: Job, leaf: Leaf, work: LeafOpening, section: Section) -> Line | None:
    """How high and how far in over the bed the hand gets, from the side it reaches from, where that is seen here."""
    side = job.plan.lid.reach_from
    opposite = {"left": "right", "right": "left", "front": "far", "far": "front"}[job.plan.lid.hinge_side]
    reach, ground_m = work.reach, -job.plan.bed.height_m - leaf.line.start_m[2]
    high_m, low_m, in_m = (cited.value for cited in (reach.high_m, reach.low_m, reach.in_m))
    if side in ("opening-side", opposite):
        at_m, way = _bed_across(job, section) - leaf.over_m, 1.0
    elif side in ("hinge-side", job.plan.lid.hinge_side):
        at_m, way = -leaf.over_m, -1.0
    else:
        return None
    edge = ((at_m + way * _BESIDE_m, high_m), (at_m - way * in_m, high_m), (at_m - way * in_m, low_m),
            (at_m + way * _BESIDE_m, low_m))  # fmt: skip
    return Line("reach", tuple(section.at(out, up + ground_m) for out, up in edge))


def _reach_told(line: Line, balloons: Sequence[Mark]) -> Iterator[Mark]:
    """What the line round the reach means, beside one of its ends and clear of the balloons."""
    top, bottom = line.points[0], line.points[-1]
    anchor: Anchor = "end" if top[0] > line.points[1][0] else "start"
    below = CAP_HEIGHT * _TEXT_MM + 1.3
    said = word("drawings.lid.swing-reach")
    places = [(top, 1.3), (top, -below), (bottom, -below), (bottom, 1.3)]
    texts = [Text("note", (x, y + by), said, _TEXT_MM, anchor) for (x, y), by in places]
    rings = [mark for mark in balloons if isinstance(mark, Circle)]
    told = next((text for text in texts if not any(_covers(text, ring) for ring in rings)), texts[0])
    yield Area("reach", text_corners(told, 0.4))
    yield told


def _covers(text: Text, ring: Circle) -> bool:
    (left, low), _, (right, high), _ = text_corners(text, ring.radius_mm + 0.4)
    return left < ring.centre[0] < right and low < ring.centre[1] < high


def _bars(leaf: Leaf, section: Section, stands: list[_Stand]) -> Iterator[Mark]:
    """The bar from its pivot on the leaf to its pin, at each opening; the widest last."""
    if not leaf.props:
        return
    prop, scale = leaf.props[0], section.placing.mm_per_m
    foot = section.placing.point(prop.foot_m)
    open_at = [stand.angle_deg for stand in stands if stand.angle_deg > 0 and not stand.rests]
    for angle_deg in open_at:
        head = section.turned(prop.head_m, angle_deg)
        along = ((head[0] - foot[0]) / math.dist(head, foot), (head[1] - foot[1]) / math.dist(head, foot))
        past, half = 0.03 * scale, _BAR_m * scale
        a = (foot[0] - along[0] * past, foot[1] - along[1] * past)
        b = (head[0] + along[0] * past, head[1] + along[1] * past)
        side = (-along[1] * half, along[0] * half)
        corners = ((a[0] + side[0], a[1] + side[1]), (b[0] + side[0], b[1] + side[1]),
                   (b[0] - side[0], b[1] - side[1]), (a[0] - side[0], a[1] - side[1]))  # fmt: skip
        yield from _boxed("bar" if angle_deg == open_at[-1] else "bar-behind", corners)
        yield Circle("title", head, 0.45)
    if open_at:
        yield Circle("title", foot, 0.6)


def _quartered(at: Point) -> Iterator[Mark]:
    """A ring in quarters, as for a balance point."""
    x, y = at
    yield Circle("mark", at, 1.3)
    yield Line("mark", ((x - 1.3, y), (x + 1.3, y)))
    yield Line("mark", ((x, y - 1.3), (x, y + 1.3)))


def _balloons(leaf: Leaf, section: Section, stands: list[_Stand]) -> Iterator[Mark]:
    """A number beyond each place of the hand."""
    hinge = section.at(0.0, 0.0)
    before: list[Point] = []
    for stand in stands:
        x, y = section.turned(leaf.handle_m, stand.angle_deg)
        away = math.dist((x, y), hinge) or 1.0
        reach = _BALLOON_MM + 2.6
        at = (x + (x - hinge[0]) / away * reach, y + (y - hinge[1]) / away * reach)
        while any(math.dist(at, other) < 2 * _BALLOON_MM for other in before):
            at = (at[0], at[1] + 2 * _BALLOON_MM + 0.6)
        before.append(at)
        yield Circle("leader", (x, y), 0.7)
        yield from _balloon(at, stand.number)


def _balloon(at: Point, number: int) -> tuple[Mark, Mark]:
    drop = CAP_HEIGHT * _NUMBER_MM / 2
    return (
        Circle("mark", at, _BALLOON_MM),
        Text("title", (at[0], at[1] - drop), str(number), _NUMBER_MM, "middle", face="bold"),
    )


def _told(stands: list[_Stand], above: Box, width_mm: float) -> Iterator[Mark]:
    """Each number with its words, below the view."""
    x, y = above.left_mm - (width_mm - above.width_mm) / 2, above.bottom_mm - 7.0
    drop = CAP_HEIGHT * _TEXT_MM / 2
    for stand in stands:
        yield from _balloon((x + _BALLOON_MM, y), stand.number)
        for line in fold(stand.told, _TEXT_MM, width_mm - 3 * _BALLOON_MM):
            yield Text("note", (x + 2 * _BALLOON_MM + 1.6, y - drop), line, _TEXT_MM)
            y -= _ROW_MM
        y -= 0.6
    at = x + _BALLOON_MM
    yield from _quartered((at, y))
    balance = word("drawings.lid.swing-balance")
    yield Text("note", (x + 2 * _BALLOON_MM + 1.6, y - drop), balance, _TEXT_MM)
    at = x + 2 * _BALLOON_MM + text_width_mm(balance, _TEXT_MM) + 9.0
    yield Circle("mark", (at, y), 0.9)
    yield Text("note", (at + 2.6, y - drop), word("drawings.lid.swing-hinge"), _TEXT_MM)


def _in_words(job: Job, leaf: Leaf, work: LeafOpening) -> str:
    units = job.plan.units
    angles = ", ".join(show_angle(hole.open_deg) for hole in (leaf.props[0].holes if leaf.props else ()))
    widest = work.at(job.plan.lid.open_deg)
    return word(
        "drawings.lid.swing-alt",
        angles=angles or show_angle(job.plan.lid.open_deg),
        rest=show_angle(leaf.swing.rest.lies_deg),
        shut=show_about(work.at(0.0).handle_height_m, units),
        open=show_about(widest.handle_height_m, units),
    )
