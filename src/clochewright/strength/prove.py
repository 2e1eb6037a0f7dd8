"""Will it stand: every case at the likely figures and at both ends of their bands, and what to say of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from clochewright.findings import Finding, Level, word
from clochewright.frame import Vec
from clochewright.measures import GRAVITY_M_S2
from clochewright.plan import Plan
from clochewright.strength import material
from clochewright.strength.beaufort import beaufort, mean_of_gust
from clochewright.strength.grounds import grounds_of
from clochewright.strength.hands import held_by
from clochewright.strength.hold_down import loose_lift_gust
from clochewright.strength.limits import Found, governing, hand_limits, loose_limits, snow_limits, wind_limits
from clochewright.strength.mechanism import FreeMotion
from clochewright.strength.model import Level as Band
from clochewright.strength.model import Piece
from clochewright.strength.panels import panel_findings, panel_limit
from clochewright.strength.patterns import Patterns
from clochewright.strength.resistance import TIMBERS, timber_named
from clochewright.strength.roots import Root
from clochewright.strength.shares import share_out, solve
from clochewright.strength.snow import WET_kg_m3
from clochewright.strength.spans import along_members
from clochewright.strength.structure import Floats
from clochewright.strength.study import ALL_BANDS, Asked, Bands, Study, study
from clochewright.strength.types import BentShape, Check, Limit, Strength, WorstMember, about_m

MEMBERS_SHOWN = 6
NO_APPROVAL = "an estimate for a garden cover, no structural approval"
HOT_MATTERS = 0.9  # a hot limit below this share of the cool one is told
BENT_MATTERS = 0.25


def prove(asked: Asked, bands: Bands = ALL_BANDS) -> Strength:
    """Work out what the cover can stand.

    Args:
        asked: the plan and what earlier steps made of it; its frame stands.
        bands: which ends of the estimates to work out, the likely ones first; none of them only tells what lifts it.

    Returns:
        Limits with bands, checks of handling, the worst members, the frame as it bends at its limits, findings.
    """
    loose, lifts = loose_lift_gust(asked.frame, asked.weights)
    loose = replace(loose, key="loose")
    if not bands:
        return Strength((loose,), findings=lifts)
    if asked.pipe.wall is None or asked.pipe.mass_kg_m is None:
        found = Finding(Level.WARN, "strength", "strength.no-wall", "pipe.size", {"pipe": asked.pipe.key})
        return Strength((loose,), findings=(*lifts, found))
    studies: dict[Band, Study] = {}
    racks: list[Finding] = []
    for level in bands:
        one = study(asked, level)
        motion = one.solved.responses.motion
        if motion is None:
            studies[level] = one
        elif level == "likely":
            return Strength((loose,), findings=(*lifts, _free(motion, "strength.free", Level.WARN)))
        else:
            racks.append(_free(motion, "strength.racks", Level.WARN))
    winds = wind_limits(studies, asked.plan, asked.mark_of)
    snows = snow_limits(studies, asked.plan, asked.mark_of)
    hands = hand_limits(studies, asked.mark_of)
    found_all = [*winds, *snows, *hands]
    if racks:  # a frame that can rack stands nothing for sure
        found_all = [replace(f, limit=replace(f.limit, low=0.0)) for f in found_all]
    panel = panel_limit(asked)
    limits = (loose, *loose_limits(studies, asked.plan), *(f.limit for f in found_all), *((panel,) if panel else ()))
    checks = _handling(studies["likely"], asked.mark_of)
    findings = (*lifts, *racks, *_findings(asked, studies["likely"], found_all, checks, len(limits) + len(checks)))
    findings = (*findings, *panel_findings(panel, next((x for x in limits if x.key == "shut"), None)))
    chosen = [f for f in found_all if f.limit.key in ("shut", "wet")]
    members = tuple(member for f in chosen for member in _worst(f))
    shapes = tuple(_bent(f) for f in chosen)
    return Strength(limits, checks, members, shapes, findings, grounds=grounds_of(asked))


def _free(motion: FreeMotion, key: str, level: Level) -> Finding:
    way = word(f"strength.way.{motion.way.split()[0]}")
    members = ", ".join(motion.members) if motion.members else "the whole cover"
    return Finding(level, "strength", key, "joints", {"way": way, "members": members}, NO_APPROVAL)


def _handling(one: Study, mark_of: Mapping[str, str]) -> tuple[Check, ...]:
    """Opened with one hand at the middle and by a corner, carried at both ends: own weight only."""
    ends = tuple(f"hand {end} {place}" for end in ("front", "far") for place in ("a", "b"))
    out = []
    for key, hands, hinged in (
        ("lift-rail", ("hand lift",), True),
        ("lift-corner", ("hand corner",), True),
        ("carry-ends", ends, False),
    ):
        structure = held_by(one.solved.model, hands, hinged)
        if structure is None:
            continue
        row = one.patterns.row["own"]
        loads = one.patterns.loads
        own = Patterns(replace(loads, nodal=loads.nodal[[row]], spread_N_m=loads.spread_N_m[[row]]), {"own": 0})
        solved = solve(replace(one.solved.model, structure=structure), own)
        if solved.responses.motion is not None:
            continue
        shares = share_out(solved, [np.ones(1)], one.bears(material.ROOM_DEGC, material.GUST_S))
        gives_m = float(np.abs(solved.responses.moves[0, :, 2]).max())
        root = Root(1.0, 0, shares.what[0], shares.where[0], np.ones(1), (), shares.pipes[0])
        name = word(f"strength.case.{key}")
        out.append(Check(name, float(shares.most[0]), gives_m, governing(one, root, mark_of), key))
    return tuple(out)


def _findings(
    asked: Asked, one: Study, found: Sequence[Found], checks: Sequence[Check], cases: int
) -> Iterator[Finding]:
    by_key = {f.limit.key: f.limit for f in found}
    yield Finding(Level.NOTE, "strength", "strength.estimate", "strength", {"cases": cases}, NO_APPROVAL)
    yield from _of_wind(asked.plan, by_key)
    yield from _of_snow(asked.plan, by_key)
    if one.hoop_Pa and asked.frame.hoop is not None:
        strength = material.strength_at(material.ROOM_DEGC, material.GUST_S)
        taken = one.hoop_Pa / strength.value
        if taken > BENT_MATTERS:
            values = {"taken": round(100 * taken), "strain": f"{100 * asked.frame.hoop.strain_share:.1f}"}
            yield Finding(Level.NOTE, "strength", "strength.hoops-bent", "strength", values, material.CREEP_SOURCE)
    for check in checks:
        if check.share > 1:
            values = {"case": check.case.capitalize(), "governs": check.governs, "share": round(100 * check.share)}
            yield Finding(Level.WARN, "strength", "strength.handling", "strength", values, NO_APPROVAL)
    _, known = timber_named(asked.plan.bed.timber)
    if not known:
        names = ", ".join(timber.name for timber in TIMBERS)
        values = {"timber": asked.plan.bed.timber, "known": names}
        yield Finding(Level.NOTE, "strength", "strength.unknown-timber", "bed.timber", values, "NDS table 12.3.3A")
    values = {"below_degC": material.BRITTLE_DEGC}
    yield Finding(Level.NOTE, "strength", "strength.cold", "strength", values, "common practice, no source")


def _of_wind(plan: Plan, by_key: Mapping[str, Limit]) -> Iterator[Finding]:
    shut, hot = by_key["shut"], by_key["hot"]
    mean = beaufort(mean_of_gust(shut.low))
    values = {
        "gust_m_s": shut.value,
        "low_m_s": shut.low,
        "high_m_s": shut.high,
        "governs": shut.governs,
        "force": mean.number,
        "name": mean.name,
        "seen": mean.seen,
    }
    yield Finding(Level.NOTE, "strength", "strength.gust", "strength", values, shut.source)
    design_m_s = plan.site.design_gust_m_s
    if design_m_s is not None and design_m_s > shut.low:
        level = Level.WARN if design_m_s > shut.value else Level.NOTE
        yield Finding(
            level,
            "strength",
            "strength.design-gust",
            "site.design_gust",
            {**values, "design_m_s": design_m_s},
            shut.source,
        )
    if hot.value < HOT_MATTERS * shut.value:
        warm = {"pipe_degC": material.SUN_DEGC, "gust_m_s": hot.value, "cool_m_s": shut.value}
        yield Finding(Level.NOTE, "strength", "strength.hot", "strength", warm, material.STRENGTH_SOURCE)


def _of_snow(plan: Plan, by_key: Mapping[str, Limit]) -> Iterator[Finding]:
    fresh, wet = by_key["fresh"], by_key["wet"]
    values = {
        "fresh_m": about_m(fresh.value, plan.units),
        "wet_m": about_m(wet.value, plan.units),
        "fresh_low_m": about_m(fresh.low, plan.units),
        "wet_low_m": about_m(wet.low, plan.units),
        "governs": wet.governs,
    }
    yield Finding(Level.NOTE, "strength", "strength.snow", "strength", values, wet.source)
    design_Pa = plan.site.ground_snow_Pa
    bears_Pa = wet.value * WET_kg_m3.value * GRAVITY_M_S2
    if design_Pa is not None and design_Pa > bears_Pa:
        told = {"design_Pa": design_Pa, "bears_Pa": bears_Pa, "governs": wet.governs}
        yield Finding(Level.WARN, "strength", "strength.design-snow", "site.ground_snow", told, wet.source)


def _by_pipe(found: Found) -> dict[str, float]:
    """The largest share of each pipe at the limit."""
    out: dict[str, float] = {}
    for piece, share in zip(found.study.solved.model.pieces, found.root.pipes, strict=True):
        out[piece.pipe] = max(out.get(piece.pipe, 0.0), float(share))
    return out


def _worst(found: Found) -> Iterator[WorstMember]:
    roles = {piece.pipe: piece.role for piece in found.study.solved.model.pieces}
    shares = sorted(_by_pipe(found).items(), key=lambda item: -item[1])
    for pipe, share in shares[:MEMBERS_SHOWN]:
        yield WorstMember(pipe, roles[pipe], found.limit.key, share)


def _bent(found: Found) -> BentShape:
    """Each pipe's line as it has moved at the limit; at first order, in its true size."""
    solved, root = found.study.solved, found.root
    responses, prepared = solved.responses, solved.prepared
    opened = solved.contacts.settle(root.weights, root.open)
    weights = np.zeros(len(responses.moves)) if opened.weights is None else opened.weights
    members = prepared.structure.members
    along = along_members(
        np.tensordot(weights, responses.own_ends, 1),
        np.tensordot(weights, responses.end_forces, 1),
        np.tensordot(weights, responses.spread, 1),
        prepared.shape.length_m,
        members.E_Pa * members.I_m4,
    )
    ratio = found.study.E_Pa / material.modulus(found.temperature_degC, found.duration_s).value
    start = prepared.structure.nodes_m[members.start] + members.start_arm_m
    t = np.linspace(0, 1, along.moves_m.shape[1])
    axes, length_m = prepared.shape.axes, prepared.shape.length_m
    straight = start[:, None] + axes[:, 0][:, None] * (length_m[:, None] * t)[..., None]
    moved = straight + ratio * np.einsum("nsi,nij->nsj", along.moves_m, axes)
    nodes, pieces = prepared.structure.nodes_m, solved.model.pieces
    shifts = ratio * np.tensordot(weights, responses.moves[..., :3], 1)

    def through(along: Floats, at: Floats) -> Floats:
        """With the middles of the fittings at both ends."""
        return np.concatenate([at[members.start][:, None], along, at[members.stop][:, None]], axis=1)

    lines, rest = _by_pipes(pieces, through(moved, nodes + shifts)), _by_pipes(pieces, through(straight, nodes))
    return BentShape(found.limit.key, lines, _by_pipe(found), rest, found.came)


def _by_pipes(pieces: Sequence[Piece], points_m: Floats) -> dict[str, tuple[Vec, ...]]:
    """Points along members (members, stations, 3), one after another in a pipe of several."""
    lines: dict[str, tuple[Vec, ...]] = {}
    for piece, row in zip(pieces, points_m.tolist(), strict=True):
        lines[piece.pipe] = (*lines.get(piece.pipe, ()), *((x, y, z) for x, y, z in row))
    return lines
