"""What opening asks of a leaf, by hand from moments about its hinge line, so that drawings are tested by themselves."""

from __future__ import annotations

import math

from clochewright.sources import Cited, Grade
from clochewright.strength import (
    Alternative,
    Anchor,
    AtAngle,
    Cord,
    Counterweight,
    FixingWork,
    HoldDown,
    LeafOpening,
    Lifting,
    LiftLimit,
    Opening,
    OpenWind,
    PropAt,
    PropWork,
    Reach,
    Strut,
    WaxOpener,
    Weighted,
)

G = 9.80665


def about(value, share=0.1, source="made up for a test"):
    return Cited(value, value * (1 - share), value * (1 + share), Grade.ESTIMATE, source)


def opening_of(job, posture="standing", limit_N=22.0):
    leaves = tuple(leaf_opening(job, leaf, posture, limit_N) for leaf in job.made.lid.leaves)
    return Opening(leaves, hold_down_of(job), (), alternatives(leaves[0]), ())


def leaf_opening(job, leaf, posture, limit_N):
    mass = about(job.made.weights.lid_kg.value / len(job.made.lid.leaves))
    xs = [(a + b) / 2 for a, b in zip(*leaf.body.hinge_line_m, strict=True)]
    hull = leaf.outline
    out, up = sum(r.out_m for r in hull) / len(hull), sum(r.up_m for r in hull) / len(hull)
    centre = (xs[0] + out * leaf.line.over[0], xs[1] + out * leaf.line.over[1], leaf.line.start_m[2] + up)
    rest = leaf.swing.rest
    rows = []
    openings = {hole.open_deg for prop in leaf.props for hole in prop.holes}
    ends = sorted({*range(0, int(rest.angle_deg), 5), rest.angle_deg, *openings})
    for angle in ends:
        rows.append(at_angle(job, leaf, mass, (out, up), angle))
    wanted = job.plan.lid.open_deg
    most = max(row.lift_force_N for row in rows if row.angle_deg <= wanted)
    reach = Reach(posture, about(0.38, 0), about(1.22, 0), about(0.6, 0), wanted, wanted * 0.8, most, limit_N)
    prop = prop_work(leaf, rows)
    grips = tuple((x, 0.0, 0.02) for x in (leaf.line.start_m[0], leaf.line.end_m[0]))
    niosh = LiftLimit("niosh", about(11.0, 0, "NIOSH 94-110"), mass.value / 11.0)
    return LeafOpening(
        leaf.body.id, mass, centre, tuple(rows), math.degrees(math.atan2(out, up)), rest.angle_deg, rest.on,
        rest.angle_deg > 90, prop,
        Cord(0.6, (1.0, 0.0), 1, 31.0, 0.9, 3.1, False),
        Strut(2, 80.0, 0.2, 0.3, 0.5, (0.3, 0.02), (0.1, -0.2), 18.0, -4.0, True),
        Counterweight(6.0, 0.5, 12.0, 0.2, True),
        WaxOpener(about(70.0, 0.2, "made up"), 120.0, 0.35, 25.0, False, 3.0),
        reach, Lifting(mass, (niosh,), 2, grips, mass.value / 2, True),
        tuple(
            OpenWind(hole.open_deg, about(9.0), about(14.0), about(22.0), "hinge", 20.0, 60.0, 90.0, 110.0, 80.0)
            for hole in (leaf.props[0].holes if leaf.props else ())
        ),
        (
            FixingWork("hinge", len(leaf.hinges), 4, len(leaf.hinges), "bolts", 2, 210.0, 480.0, 0.44, 0.0042, 0.032,
                       0.003, 0.0045, 0.00635, "pulls-out"),
            FixingWork("latch", len(leaf.latches), 2, 2, "screws", 2, 150.0, 300.0, 0.5, 0.0035, 0.025, 0.002, 0.003,
                       0.005, ""),
        ),
    )  # fmt: skip


def at_angle(job, leaf, mass, centre, angle_deg):
    turn = math.radians(angle_deg)
    arm = centre[0] * math.cos(turn) - centre[1] * math.sin(turn)
    moment = mass.value * G * arm
    out, up = leaf.line.section(leaf.handle_m)
    lift = moment / math.hypot(out, up)
    handle_out, handle_up = (
        out * math.cos(turn) - up * math.sin(turn), out * math.sin(turn) + up * math.cos(turn)
    )  # fmt: skip
    prop_N, between = 0.0, 0.0
    if leaf.props:
        prop = leaf.props[0]
        head = leaf.line.section(leaf.line.turned(prop.head_m, angle_deg))
        foot = leaf.line.section(prop.foot_m)
        along = (head[0] - foot[0], head[1] - foot[1])
        length = math.hypot(*along) or 1e-9
        lever = (head[0] * along[1] - head[1] * along[0]) / length
        prop_N = moment / lever / len(leaf.props) if abs(lever) > 0.02 else 0.0
        between = math.degrees(math.asin(max(-1.0, min(1.0, lever / (math.hypot(*head) or 1.0)))))
    height = job.plan.bed.height_m + leaf.line.start_m[2] + handle_up
    return AtAngle(
        angle_deg, lift, lift * 0.85, lift * 1.2, lift * 1.4, None, 90.0, prop_N, between, 60.0, height,
        out - handle_out, height < 1.22, centre,
    )  # fmt: skip


def prop_work(leaf, rows):
    if not leaf.props:
        return None
    prop = leaf.props[0]
    by_angle = {row.angle_deg: row for row in rows}
    pushes = {hole: abs(by_angle[hole.open_deg].prop_force_N) for hole in prop.holes if hole.open_deg in by_angle}
    holes = tuple(PropAt(h.open_deg, h.from_pivot_m, 60.0, push, 2.2 * push, 40.0) for h, push in pushes.items())
    return PropWork(len(leaf.props), holes, 400.0, 0.3, True, prop.bar_m + 0.03)


def hold_down_of(job):
    lid = job.made.lid
    anchors = [
        Anchor(one.id, kind, one.position_m, 120.0 + 5 * n, 90.0, 170.0, 300.0, "from the right")
        for kind, many in (("hinge", lid.hinges), ("latch", lid.latches)) for n, one in enumerate(many)
    ]  # fmt: skip
    weighted = Weighted(about(70.0), 0.0, 5, False)
    return HoldDown(26.8, about(900.0), about(300.0), tuple(anchors), 2, 160.0, 3.2, 2, weighted)


def alternatives(leaf):
    wanted_deg, kg = leaf.reach.wanted_deg, leaf.mass_kg.value
    return (
        Alternative("cord", 31.0, wanted_deg, kg, False),
        Alternative("halves", leaf.most_N / 2, wanted_deg, kg / 2, True, {"lid.opens": "halves"}),
        Alternative("front", leaf.most_N, 40.0, kg, False, {"lid.hinge_side": "front"}),
        Alternative("lift-off", kg * G / 2, 0.0, kg, True),
    )
