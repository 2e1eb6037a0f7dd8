"""Mass and balance point of the lid, part by part."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from clochewright.catalogue import Catalogue, GoodsRow, PipeRow
from clochewright.film import FilmPlan
from clochewright.findings import Finding, Level
from clochewright.frame import Fitting, Frame, is_panel
from clochewright.joints import JointPlan
from clochewright.lid import LidPlan
from clochewright.sources import Cited, Grade
from clochewright.weights.bodies import Shares, weigh_bodies
from clochewright.weights.lumps import balance, film_lumps, lath_lumps, middle_of
from clochewright.weights.parted import Units, weigh_parted
from clochewright.weights.types import Weights, times, total

# Rigid PVC of cell class 12454, ASTM D792, two makers' tables: 1.40 +/- 0.02; 1.37 to 1.50 elsewhere.
PVC_KG_M3 = Cited(1400.0, 1370.0, 1500.0, Grade.PUBLISHED, "rigid PVC, ASTM D792, pipe makers' tables")
# Hubs vary in wall and length from maker to maker; against tabled elbows the ring is right within a fifth.
RING_BAND = 0.25
# A wall as thick as this part of the diameter, where a pipe's wall is not known.
WALL_SHARE = 0.07

# Used where the catalogue's row has no mass; all common practice, no source.
_ESTIMATE = "common practice, no source"
LATH_KG_M = Cited(0.10, 0.07, 0.15, Grade.COMMON_PRACTICE, _ESTIMATE)
EACH_KG = {
    "lath screws": Cited(0.0015, 0.001, 0.002, Grade.COMMON_PRACTICE, _ESTIMATE),
    "joint screws": Cited(0.001, 0.0007, 0.0015, Grade.COMMON_PRACTICE, _ESTIMATE),
    "staples": Cited(0.0002, 0.0001, 0.0003, Grade.COMMON_PRACTICE, _ESTIMATE),
    "hinge": Cited(0.08, 0.05, 0.12, Grade.COMMON_PRACTICE, _ESTIMATE),
    "latch": Cited(0.06, 0.04, 0.10, Grade.COMMON_PRACTICE, _ESTIMATE),
}
# One leaf of a hinge and one half of a latch stay on the bed.
ON_LID = 0.5


def weigh(
    frame: Frame, film: FilmPlan, lid: LidPlan, joints: JointPlan, catalogue: Catalogue, pipe_row: PipeRow
) -> Weights:
    """Weigh the lid and find where it balances.

    Pipe is weighed by its tabled mass, fittings by theirs or else as a ring of PVC as long as their sockets reach.

    Args:
        frame: the solved frame.
        film: the sheet and its laths.
        lid: hinges and latches, half of which is lifted.
        joints: says how many screws hold pipes.
        catalogue: masses of fittings and goods.
        pipe_row: the frame's pipe.

    Returns:
        Masses with bands [kg] and the centre of gravity [m].
    """
    per_metre, findings = _pipe_mass(pipe_row)
    each = _fitting_masses(frame, catalogue)
    by_kind = {fitting.kind: each[fitting.id] for fitting in frame.fittings}
    findings = (*findings, *_estimated(by_kind))
    lath_m = sum(lath.wood_m for lath in film.laths)
    lath_kg_m = _figure(catalogue.goods("lath"), "mass_kg_m", LATH_KG_M)
    lath = times(lath_kg_m, lath_m)
    pipe_kg = times(per_metre, sum(pipe.cut_length_m for pipe in frame.pipes))
    fittings_kg = total(tuple(each[fitting.id] for fitting in frame.fittings))
    if any(is_panel(pipe.body) for pipe in frame.pipes):
        hardware_kg = {group: _figure(catalogue.goods(group), "mass_kg", mass) for group, mass in EACH_KG.items()}
        parted = weigh_parted(frame, film, lid, joints, Units(per_metre, lath_kg_m, each, hardware_kg))
        bodies = {name: one.weight for name, one in parted.items()}
        centre_m = balance([(one.mass_kg.value, one.centre_m) for one in bodies.values()])
        hardware = total(tuple(one.hardware for one in parted.values()))
        return Weights(pipe_kg, fittings_kg, film.mass_kg, lath, hardware, centre_m, by_kind, findings, bodies)
    hardware = _hardware(catalogue, film, lid, joints)
    lumps = [
        *((pipe.cut_length_m * per_metre.value, middle_of(pipe)) for pipe in frame.pipes),
        *((each[fitting.id].value, fitting.position_m) for fitting in frame.fittings),
        *film_lumps(film),
        *lath_lumps(film, frame, lath.value + hardware.value),
    ]
    shares = Shares(per_metre, each, lath, hardware)
    bodies = weigh_bodies(frame, film, lid, shares)
    return Weights(pipe_kg, fittings_kg, film.mass_kg, lath, hardware, balance(lumps), by_kind, findings, bodies)


def _pipe_mass(row: PipeRow) -> tuple[Cited, tuple[Finding, ...]]:
    """Mass per metre [kg/m]: tabled, or from its section."""
    if row.mass_kg_m is not None:
        return row.mass_kg_m, ()
    outside_m = row.outside_diameter.value
    wall_m = row.wall.value if row.wall is not None else outside_m * WALL_SHARE
    area_m2 = math.pi * wall_m * (outside_m - wall_m)
    spread = 0.10 if row.wall is not None else 0.40
    mass = Cited(
        area_m2 * PVC_KG_M3.value,
        area_m2 * PVC_KG_M3.value * (1 - spread),
        area_m2 * PVC_KG_M3.value * (1 + spread),
        Grade.ESTIMATE,
        "outside diameter and wall, as rigid PVC",
    )
    values = {"pipe": row.key, "band_percent": round(spread * 100)}
    return mass, (Finding(Level.NOTE, "weights", "weights.pipe-estimated", "pipe.size", values),)


def _fitting_masses(frame: Frame, catalogue: Catalogue) -> dict[str, Cited]:
    """Mass of every fitting by its id."""
    masses: dict[str, Cited] = {}
    for fitting in frame.fittings:
        row = catalogue.fitting(frame.pipe_key, fitting.kind)
        tabled = row.mass_kg if row is not None else None
        masses[fitting.id] = tabled if tabled is not None else ring_mass(fitting, frame.pipe_outside_diameter_m)
    return masses


def _estimated(by_kind: Mapping[str, Cited]) -> tuple[Finding, ...]:
    """The kinds whose mass is an estimate, and how wide the widest band is."""
    guessed = {kind: mass for kind, mass in by_kind.items() if not mass.grade.is_sure and mass.value > 0}
    if not guessed:
        return ()
    band = max((mass.high - mass.low) / 2 / mass.value for mass in guessed.values())
    values = {"kinds": tuple(sorted(guessed)), "band_percent": round(band * 100)}
    return (Finding(Level.NOTE, "weights", "weights.fittings-estimated", "fittings", values),)


def ring_mass(fitting: Fitting, pipe_diameter_m: float) -> Cited:
    """A fitting weighed as rings of PVC, hub outside and pipe inside, one from the centre to each mouth [kg]."""
    ring_m2 = math.pi / 4 * (fitting.hub_diameter_m**2 - pipe_diameter_m**2)
    reach_m = sum(port.centre_to_face_m for port in fitting.ports)
    mass = ring_m2 * reach_m * PVC_KG_M3.value
    source = "hub, pipe and socket sizes, as rigid PVC"
    return Cited(mass, mass * (1 - RING_BAND), mass * (1 + RING_BAND), Grade.ESTIMATE, source)


def _hardware(catalogue: Catalogue, film: FilmPlan, lid: LidPlan, joints: JointPlan) -> Cited:
    counts = {
        "lath screws": float(film.screws),
        "joint screws": float(joints.screws),
        "staples": float(film.staples),
        "hinge": len(lid.hinges) * ON_LID,
        "latch": len(lid.latches) * ON_LID,
    }
    return total(
        tuple(
            times(_figure(catalogue.goods(group), "mass_kg", EACH_KG[group]), count) for group, count in counts.items()
        )
    )


def _figure(rows: Sequence[GoodsRow], name: str, otherwise: Cited) -> Cited:
    return next((row.figures[name] for row in rows if name in row.figures), otherwise)
