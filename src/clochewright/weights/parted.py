"""Masses body by body where panels open: what stays on the bed, and each panel with all that is on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from clochewright.film import FilmPlan, PatternPiece, area_m2
from clochewright.frame import Body, Frame, Vec, covers, is_panel
from clochewright.joints import JointPlan
from clochewright.lid import LidPlan
from clochewright.sources import Cited
from clochewright.weights.lumps import Lump, balance, middle_of
from clochewright.weights.types import BodyWeight, times, total

# One leaf of a hinge and one half of a latch are on the panel, the others on the frame that stays.
ON_EACH = 0.5


@dataclass(frozen=True, slots=True)
class Units:
    """What one of each weighs [kg]: pipe and lath a metre, each fitting by its id, hardware by its group."""

    pipe: Cited
    lath: Cited
    fittings: Mapping[str, Cited]
    hardware: Mapping[str, Cited]


@dataclass(frozen=True, slots=True)
class Parted:
    """A body's weight, and how much of it is hardware [kg]."""

    weight: BodyWeight
    hardware: Cited


def weigh_parted(frame: Frame, film: FilmPlan, lid: LidPlan, joints: JointPlan, units: Units) -> dict[str, Parted]:
    """Weigh every body by itself, the frame that stays (or each of several) first; together they are all there is."""
    names = list(dict.fromkeys(pipe.body for pipe in frame.pipes))
    middles_m = {cover.pipes[0].body: middle_m for cover, middle_m in covers(frame)}
    loose = [name for name in names if is_panel(name)]
    beside = {body.id: body for body in lid.bodies}
    found = {}
    for name in names:
        hardware = _hardware(name, frame, film, lid, joints, units)
        screwed = total(tuple(mass for mass, _ in hardware))
        if is_panel(name):
            body = beside[name]
            spread = _panel_skin(film, body, units)
        else:
            mine = loose[: len(loose) // len(middles_m)]
            spread = _stays_skin(film, frame, name, middles_m[name], [beside[one] for one in mine], units)
        parts = [*_bare(frame, name, units), *spread, *hardware]
        mass = total(tuple(mass for mass, _ in parts))
        lumps: list[Lump] = [(part.value, place) for part, place in parts]
        found[name] = Parted(BodyWeight(mass, balance(lumps)), screwed)
    return found


Part = tuple[Cited, Vec]


def _bare(frame: Frame, name: str, units: Units) -> list[Part]:
    """Pipes and fittings."""
    pipes = [(times(units.pipe, pipe.cut_length_m), middle_of(pipe)) for pipe in frame.pipes if pipe.body == name]
    fittings = [(units.fittings[f.id], f.position_m) for f in frame.fittings if f.body == name]
    return [*pipes, *fittings]


def _panel_skin(film: FilmPlan, body: Body, units: Units) -> list[Part]:
    """Its sheet and its laths, which lie alike all round it, at its middle."""
    (mine,) = (one for one in film.bodies if one.body == body.id)
    share = mine.area_m2 / sum(one.area_m2 for one in film.bodies)
    lath_m = sum(lath.wood_m for lath in film.laths if lath.body == body.id)
    middle = _mean((*body.hinge_line_m, *body.free_line_m))
    return [(times(film.mass_kg, share), middle), (times(units.lath, lath_m), middle)]


def _stays_skin(
    film: FilmPlan, frame: Frame, name: str, middle_m: float, panels: Sequence[Body], units: Units
) -> list[Part]:
    """Strips and gables, each at the middle of its faces, and laths along their rails."""
    whole_m2 = sum(one.area_m2 for one in film.bodies)
    parts: list[Part] = []
    for piece in film.pattern.pieces:
        if piece.name != "panel":
            place = _moved(_middle_of_faces(piece), middle_m)
            parts.append((times(film.mass_kg, piece.length_m * piece.width_m / whole_m2), place))
    half_x, half_y = _half_length(frame, name), frame.width_m / 2
    edges = [sorted((body.hinge_line_m, body.free_line_m), key=lambda line: line[0][2]) for body in panels]
    middles: dict[str, Vec] = {
        "left": (0.0, half_y, 0.0),
        "right": (0.0, -half_y, 0.0),
        "front": (-half_x, 0.0, 0.0),
        "far": (half_x, 0.0, 0.0),
        "opening-bottom": _across(_mean([point for low, _ in edges for point in low])),
        "opening-top": _across(_mean([point for _, high in edges for point in high])),
    }
    for lath in film.laths:
        if lath.body == name:
            parts.append((times(units.lath, lath.wood_m), _moved(middles[lath.side], middle_m)))
    return parts


def _hardware(name: str, frame: Frame, film: FilmPlan, lid: LidPlan, joints: JointPlan, units: Units) -> list[Part]:
    """Screws and staples at the middle of the body, its part of hinges and latches where they are."""
    laths = [lath for lath in film.laths if lath.body == name]
    pipes = {pipe.id for pipe in frame.pipes if pipe.body == name}
    counts = {
        "lath screws": sum(len(lath.screws_m) for lath in laths),
        "staples": sum(lath.staples for lath in laths),
        "joint screws": sum(joint.treatment == "screwed" for joint in joints.joints if joint.pipe in pipes),
    }
    middle = _mean([middle_of(pipe) for pipe in frame.pipes if pipe.body == name])
    parts = [(times(units.hardware[group], count), middle) for group, count in counts.items()]
    lies_on = {} if is_panel(name) else _cover_of(frame)
    for group, fixings in (("hinge", lid.hinges), ("latch", lid.latches)):
        for fixing in fixings:
            on = next(pipe.body for pipe in frame.pipes if pipe.id == fixing.pipe)
            if name in (on, lies_on.get(on)):
                parts.append((times(units.hardware[group], ON_EACH), fixing.position_m))
    return parts


def _cover_of(frame: Frame) -> dict[str, str]:
    """Which frame that stays each panel lies on, by name."""
    stays = list(dict.fromkeys(pipe.body for pipe in frame.pipes if not is_panel(pipe.body)))
    loose = list(dict.fromkeys(pipe.body for pipe in frame.pipes if is_panel(pipe.body)))
    each = len(loose) // len(stays)
    return {name: stays[place // each] for place, name in enumerate(loose)}


def _half_length(frame: Frame, name: str) -> float:
    return next(cover.length_m for cover, _ in covers(frame) if cover.pipes[0].body == name) / 2


def _middle_of_faces(piece: PatternPiece) -> Vec:
    areas_m2 = [abs(area_m2(face.flat)) for face in piece.faces]
    return balance(zip(areas_m2, (_mean(face.space) for face in piece.faces), strict=True))


def _mean(points: Sequence[Vec]) -> Vec:
    x, y, z = (sum(point[axis] for point in points) / len(points) for axis in range(3))
    return (x, y, z)


def _across(point: Vec) -> Vec:
    return (0.0, point[1], point[2])


def _moved(point: Vec, by_m: float) -> Vec:
    return (point[0] + by_m, point[1], point[2])
