"""The opening of the lid as plain values for the result file."""

from __future__ import annotations

from typing import Any

from clochewright.job.cited import cited_as_json
from clochewright.lid import Fixing, Leaf, LidPlan, Prop
from clochewright.strength import HoldDown, LeafOpening, Opening


def lid_as_json(lid: LidPlan, opening: Opening) -> dict[str, Any]:
    """The `lid` part of the result file; `opening` and what is beside it are of the first leaf, `leaves` of each."""
    first = opening.first
    return {
        "hinges": [_fixing(one) for one in lid.hinges],
        "latches": [_fixing(one) for one in lid.latches],
        "straps": [_fixing(one) for one in lid.saddles],
        "prop": _prop(lid.props[0], first) if lid.props else None,
        "opening": _rows(first) if first else [],
        "rest_angle_deg": lid.leaves[0].swing.rest.angle_deg if lid.leaves else None,
        "leaves": [_leaf(leaf, _of(leaf, opening)) for leaf in lid.leaves],
        "hold_down": _held(opening.hold_down) if opening.hold_down else None,
        "easier": [
            {
                "key": one.key,
                "force_N": one.force_N,
                "reached_deg": one.reached_deg,
                "mass_kg": one.mass_kg,
                "works": one.works,
                "change": dict(one.change),
            }
            for one in opening.alternatives
        ],
    }


def _fixing(fixing: Fixing) -> dict[str, Any]:
    return {"id": fixing.id, "pipe": fixing.pipe, "position_m": list(fixing.position_m)}


def _of(leaf: Leaf, opening: Opening) -> LeafOpening | None:
    return next((one for one in opening.leaves if one.body == leaf.body.id), None)


def _prop(prop: Prop, first: LeafOpening | None) -> dict[str, Any]:
    work = first.prop if first else None
    return {
        "bars": work.bars if work else 1,
        "bar_m": prop.bar_m,
        "length_m": prop.length_m,
        "open_deg": prop.open_deg,
        "pivot_m": list(prop.head_m),
        "pin_m": list(prop.foot_m),
        "pin_in": prop.pin_in,
        "holes": [{"open_deg": hole.open_deg, "from_pivot_m": hole.from_pivot_m} for hole in prop.holes],
        "forces": [
            {
                "open_deg": one.angle_deg,
                "force_N": one.force_N,
                "one_bar_N": one.one_bar_N,
                "bar_angle_deg": one.bar_angle_deg,
                "hinge_force_N": one.hinge_force_N,
            }
            for one in (work.holes if work else ())
        ],
        "stop_m": work.stop_m if work else None,
    }


def _rows(leaf: LeafOpening) -> list[dict[str, Any]]:
    return [
        {
            "angle_deg": row.angle_deg,
            "lift_force_N": row.lift_force_N,
            "lift_low_N": row.lift_low_N,
            "lift_high_N": row.lift_high_N,
            "prop_force_N": row.prop_force_N,
            "prop_angle_deg": row.prop_angle_deg,
            "hinge_force_N": row.hinge_force_N,
            "cord_force_N": row.cord_force_N,
            "pole_force_N": row.pole_force_N,
            "handle_height_m": row.handle_height_m,
            "handle_in_m": row.handle_in_m,
            "in_reach": row.in_reach,
        }
        for row in leaf.angles
    ]


def _leaf(leaf: Leaf, work: LeafOpening | None) -> dict[str, Any]:
    rest, swing = leaf.swing.rest, leaf.swing
    out: dict[str, Any] = {
        "body": leaf.body.id,
        "kind": leaf.body.kind,
        "hinge_line_m": [list(leaf.line.start_m), list(leaf.line.end_m)],
        "handle_m": list(leaf.handle_m),
        "rest": {
            "angle_deg": rest.angle_deg,
            "on": rest.on,
            "block_m": rest.block_m,
            "block_out_m": rest.block_out_m,
            "block_angle_deg": rest.block_deg,
        },
        "highest_m": swing.highest_m,
        "behind_m": swing.behind_m,
        "rests_behind_m": swing.rests_behind_m,
    }
    return out | _work(work) if work is not None else out


def _work(work: LeafOpening) -> dict[str, Any]:
    reach, lifting = work.reach, work.lifting
    return {
        "mass_kg": cited_as_json(work.mass_kg),
        "centre_m": list(work.centre_m),
        "over_centre_deg": work.over_centre_deg,
        "stays_open": work.stays_open,
        "reach": {
            "posture": reach.posture,
            "wanted_deg": reach.wanted_deg,
            "reached_deg": reach.reached_deg,
            "most_N": reach.most_N,
            "limit_N": reach.limit_N,
        },
        "lifting": {
            "people": lifting.people,
            "grips_m": [list(grip) for grip in lifting.grips_m],
            "limits": [{"key": x.key, "limit_kg": cited_as_json(x.limit_kg), "share": x.share} for x in lifting.limits],
        },
        "open_wind": [
            {
                "open_deg": one.angle_deg,
                "off_pin_m_s": cited_as_json(one.off_pin_m_s),
                "over_m_s": cited_as_json(one.over_m_s),
                "breaks_m_s": cited_as_json(one.breaks_m_s),
                "gives": one.gives,
                "told_gust_m_s": one.told_gust_m_s,
                "pull_N": one.pull_N,
                "push_N": one.push_N,
                "hinge_N": one.hinge_N,
                "tie_N": one.tie_N,
            }
            for one in work.wind
        ],
        "fixings": [
            {
                "what": one.what,
                "placed": one.placed,
                "practice": one.practice,
                "strength": one.strength,
                "how": one.how,
                "each": one.each,
                "pull_N": one.pull_N,
                "bears_N": one.bears_N,
                "screw_m": one.screw_m,
                "board_pilot_m": one.board_pilot_m,
                "pipe_hole_m": one.pipe_hole_m,
                "bolt_m": one.bolt_m,
            }
            for one in work.fixings
        ],
    }


def _held(held: HoldDown) -> dict[str, Any]:
    return {
        "gust_m_s": held.gust_m_s,
        "uplift_N": cited_as_json(held.uplift_N),
        "side_N": cited_as_json(held.side_N),
        "straps": held.straps,
        "strap_m": held.strap_m,
        "anchors": [
            {
                "id": one.id,
                "kind": one.kind,
                "position_m": list(one.position_m),
                "pull_N": one.pull_N,
                "low_N": one.low_N,
                "high_N": one.high_N,
                "bears_N": one.bears_N,
                "wind": one.wind,
            }
            for one in held.anchors
        ],
        "weights_needed_kg": cited_as_json(held.weights.needed_kg),
    }
