"""Joints, parts and the order of assembly as plain JSON values for the result file."""

from __future__ import annotations

from typing import Any

from clochewright.assembly import AssemblyPlan, Move, Spring, Step
from clochewright.joints import JointPlan


def joints_as_json(joints: JointPlan, plan: AssemblyPlan) -> dict[str, Any]:
    """Every joint with its treatment and screw, the parts as stored, and what the order is."""
    screw_of = {place.joint: place for place in plan.screws.places} if plan.screws else {}
    return {
        "joints": [
            {
                "id": joint.id,
                "fitting": joint.fitting,
                "port": joint.port,
                "pipe": joint.pipe,
                "treatment": joint.treatment,
                "seat_depth_m": joint.seat_depth_m,
                "dry": joint.dry,
                "old": joint.old,
                "screw": {
                    "number": place.number,
                    "position_m": list(place.position_m),
                    "way": list(place.way),
                    "from_mouth_m": place.from_mouth_m,
                }
                if (place := screw_of.get(joint.id)) is not None
                else None,
            }
            for joint in joints.joints
        ],
        "parts": [
            {
                "id": part.id,
                "like": part.like,
                "name": part.name,
                "pipes": list(part.pipes),
                "fittings": list(part.fittings),
                "box_m": list(part.box_m),
                "mass_kg": part.mass_kg.value,
                "mass_low_kg": part.mass_kg.low,
                "mass_high_kg": part.mass_kg.high,
                "centre_m": list(part.centre_m),
            }
            for part in plan.stored
        ],
        "assembly": [_move(number, move) for number, move in enumerate(plan.moves, start=1)],
        "working_order": {
            "wish": joints.wish,
            "found": joints.found,
            "goes_together": plan.goes_together,
            "steps": [_step(step) for step in plan.steps],
            "ways": [
                {
                    "kind": way.kind,
                    "possible": way.possible,
                    "chosen": way.chosen,
                    "pipes": list(way.pipes),
                    "springs": [_spring(spring) for spring in way.springs],
                    "piece_m": way.piece_m,
                    "coupling_m": way.coupling_m,
                    "text": way.text,
                }
                for way in plan.ways
            ],
            "screws": {
                "name": plan.screws.name,
                "count": len(plan.screws.places),
                "diameter_m": plan.screws.diameter_m,
                "length_m": plan.screws.length_m,
                "pilot_m": plan.screws.pilot_m,
            }
            if plan.screws
            else None,
            "down": [{"undoes": taking.undoes, "text": taking.text} for taking in plan.down],
            "look_for": list(plan.look_for),
        },
        "storage": {
            "space_m": list(plan.packing.space_m),
            "given": plan.packing.given,
            "packed": [
                {"part": one.part, "corner_m": list(one.corner_m), "box_m": list(one.box_m)}
                for one in plan.packing.packed
            ],
            "left_out": list(plan.packing.left_out),
        }
        if plan.packing
        else None,
    }


def _move(number: int, move: Move) -> dict[str, Any]:
    return {
        "number": number,
        "step": move.step,
        "move": move.kind,
        "axis": list(move.axis),
        "moving": list(move.moving),
        "onto": list(move.onto),
        "joints": list(move.joints),
        "cemented": move.cemented,
        "spread_m": move.spring.spread_m if move.spring else None,
        "force_N": move.spring.force_N.value if move.spring else None,
        "force_low_N": move.spring.force_N.low if move.spring else None,
        "force_high_N": move.spring.force_N.high if move.spring else None,
        "stress_Pa": move.spring.stress_Pa if move.spring else None,
        "strain_share": move.spring.strain_share if move.spring else None,
        "text": move.text,
    }


def _spring(spring: Spring) -> dict[str, Any]:
    return {
        "spread_m": spring.spread_m,
        "force_N": spring.force_N.value,
        "force_low_N": spring.force_N.low,
        "force_high_N": spring.force_N.high,
        "together_N": spring.together_N,
        "stress_Pa": spring.stress_Pa,
        "strain_share": spring.strain_share,
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "number": step.number,
        "kind": step.kind,
        "title": step.title,
        "texts": list(step.texts),
        "parts": list(step.parts),
        "pieces": [{"what": one.what, "count": one.count, "sort": one.sort} for one in step.pieces],
        "hands": step.hands,
        "jig": {"flat": step.jig.flat, "angle_deg": step.jig.angle_deg, "text": step.jig.text} if step.jig else None,
        "times": [
            {"low_degC": row.low_degC, "high_degC": row.high_degC, "set_s": row.set_s, "cure_s": row.cure_s}
            for row in step.times
        ],
        "diagonals_m": [step.diagonals.low_m, step.diagonals.high_m] if step.diagonals else None,
        "diagonals_differ_m": step.diagonals.differ_m if step.diagonals else None,
    }
