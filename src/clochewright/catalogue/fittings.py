"""Fittings put together from raw figures: what is known of a part itself, else its nearest kin's as an estimate."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from clochewright.catalogue.figures import ESTIMATE_BAND_M, estimated_from, read_figures, with_least_band
from clochewright.catalogue.kinds import KINDS, Kind
from clochewright.catalogue.types import FittingRow, PipeRow, SocketRow
from clochewright.sources import Cited, Grade

# Structural fittings have no published sizes at all, and a corner's third socket may differ from its other two:
# twice the usual band [m].
_WIDE_BAND_M = 2 * ESTIMATE_BAND_M

_SELDOM_SOLD = "Seldom sold for this pipe: look for one before you plan on it."
_SELDOM_KINDS = ("cross", "side-outlet-elbow", "side-outlet-tee", "five-way-cross")
_SWEPT_BENDS = "Choose 90 degree knuckle bends and tees: swept ones are moulded to about 92.5 degrees (from memory)."

Known = Mapping[tuple[str, str], Cited]  # (item, dimension) -> figure
Size = tuple[str, str]  # system, nominal


@dataclass(frozen=True, slots=True)
class Taper:
    """A tapered socket's inside diameters at the mouth and at the bottom [m], with their source."""

    entrance_m: float
    bottom_m: float
    source: str


def read_fittings(pipes: tuple[PipeRow, ...]) -> dict[str, dict[str, FittingRow]]:
    """All fittings, by pipe key and kind. A kind with no figures to stand on in a system is left out."""
    known = _read_known()
    return {pipe.key: _fittings_for(pipe, known[pipe.system, pipe.nominal]) for pipe in pipes}


def read_tapers(pipes: tuple[PipeRow, ...]) -> dict[str, Taper]:
    """The taper of the sockets of each pipe that has tapered ones."""
    known = _read_known()
    tapers = {}
    for pipe in pipes:
        if pipe.taper:
            sockets = known[pipe.system, pipe.nominal]
            entrance = sockets["socket", "entrance_diameter"]
            tapers[pipe.key] = Taper(entrance.value, sockets["socket", "bottom_diameter"].value, entrance.source)
    return tapers


def _read_known() -> dict[Size, dict[tuple[str, str], Cited]]:
    known: dict[Size, dict[tuple[str, str], Cited]] = {}
    for figure in read_figures("fittings.csv", ("system", "nominal", "item")):
        system, nominal, item = figure.owner
        known.setdefault((system, nominal), {})[item, figure.dimension] = figure.cited
    return known


def _fittings_for(pipe: PipeRow, known: Known) -> dict[str, FittingRow]:
    rows = {}
    for kind in KINDS.values():
        stop = _centre_to_stop(kind, known)
        if stop is not None:
            rows[kind.name] = _fitting(pipe, kind, stop, known)
    return rows


def _fitting(pipe: PipeRow, kind: Kind, stop: Cited, known: Known) -> FittingRow:
    depth, trusted = _depth(kind, known)
    if not trusted:
        stop = estimated_from(stop, "Stands beside a suspect figure: measure the part")
    sockets = tuple(
        SocketRow(name, with_least_band(stop, _band(kind, name)), with_least_band(depth, _band(kind, name)))
        for name in kind.sockets
    )
    return FittingRow(
        key=f"{kind.name}:{pipe.key}",
        kind=kind.name,
        pipe_key=pipe.key,
        bench=kind.bench,
        bend_deg=kind.bend_deg,
        sockets=sockets,
        hub_diameter=_hub(kind, known),
        mass_kg=_mass(kind, known),
        note=_note(pipe.system, kind.name),
    )


def _note(system: str, kind: str) -> str:
    if system != "inch" and kind in _SELDOM_KINDS:
        return _SELDOM_SOLD
    return _SWEPT_BENDS if system == "waste" and kind in ("elbow-90", "tee") else ""


def _band(kind: Kind, socket: str) -> float:
    return _WIDE_BAND_M if kind.bench == "furniture" or socket == "side" else ESTIMATE_BAND_M


def _centre_to_stop(kind: Kind, known: Known) -> Cited | None:
    """Centre to stop [m] of a kind, from the best figure there is; None where it is not known to be made."""
    name = kind.name
    own = known.get((name, "centre_to_stop"))
    if own is not None:
        return _down_to(own, known.get((name, "centre_to_stop_min")))
    low, high = known.get((name, "centre_to_stop_low")), known.get((name, "centre_to_stop_high"))
    if low is not None and high is not None:
        source = "between the standard's minimum and the 90 elbow of one catalogue. Measure the part"
        return Cited((low.value + high.value) / 2, low.value, high.value, Grade.ESTIMATE, source)
    width = known.get((name, "stop_width"))
    if width is not None:
        half = replace(width, value=width.value / 2, low=width.low / 2, high=width.high / 2)
        return replace(half, source=f"half the width of the stop: {width.source}")
    if name == "cap":
        return Cited(0.0, 0.0, 0.0, Grade.DERIVED, "a cap's centre is put at its stop")
    if name.startswith("elbow"):
        return None  # an elbow of another angle tells nothing of this one
    kin = _centre_to_stop(KINDS[kind.like], known)
    return None if kin is None else estimated_from(kin, f"taken from the {kind.like}. Measure the part")


def _depth(kind: Kind, known: Known) -> tuple[Cited, bool]:
    """Socket depth [m], and whether the kind's own figures make sense together."""
    least = known.get(("socket", "depth_min"))
    own = known.get((kind.name, "socket_depth"))
    face, stop = known.get((kind.name, "centre_to_face")), known.get((kind.name, "centre_to_stop"))
    if own is None and face is not None and stop is not None:
        depth_m = face.value - stop.value
        own = Cited(depth_m, depth_m, depth_m, Grade.DERIVED, f"centre-to-face less centre-to-stop: {face.source}")
        if least is not None and depth_m < least.value:
            why = "its own figures give less than the standard's minimum, so taken from the 45 elbow. Measure the part"
            return estimated_from(known["elbow-45", "socket_depth"], why), False
    if own is not None:
        return _down_to(own, least), True
    every = known.get(("socket", "socket_depth"))
    if every is not None:
        return every, True
    ninety = _down_to(known["elbow-90", "socket_depth"], least)
    return estimated_from(ninety, "no depth of its own: taken from the 90 elbow. Measure the part"), True


def _hub(kind: Kind, known: Known) -> Cited:
    own = known.get((kind.name, "hub_diameter"))
    if own is not None:
        return own
    every = known.get(("body", "hub_diameter"))
    if every is not None:
        return with_least_band(every)
    ninety = known["elbow-90", "hub_diameter"]
    return estimated_from(ninety, "no hub of its own: taken from the 90 elbow. Measure the part")


def _mass(kind: Kind, known: Known) -> Cited:
    """Mass [kg]: the part's own, else the 90 elbow's shared out by its sockets, good to about a third."""
    own = known.get((kind.name, "mass"))
    if own is not None:
        return own
    elbow = known["elbow-90", "mass"]
    mass_kg = elbow.value * len(kind.sockets) / 2
    why = f"the 90 elbow's by the number of sockets ({elbow.source})"
    return Cited(mass_kg, mass_kg * 0.67, mass_kg * 1.33, Grade.ESTIMATE, why)


def _down_to(figure: Cited, least: Cited | None) -> Cited:
    """The figure with its band reaching down to the standard's minimum."""
    if least is None or least.value >= figure.low:
        return figure
    return replace(figure, low=least.value, source=f"{figure.source}; low end: {least.source}")
