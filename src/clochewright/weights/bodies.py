"""What each lid of a cover that opens as a whole weighs, and where it balances; panels are weighed in `parted`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clochewright.film import FilmPlan
from clochewright.frame import Frame, Vec, covers
from clochewright.lid import Leaf, LidPlan
from clochewright.sources import Cited
from clochewright.weights.lumps import Lump, balance, film_lumps, lath_lumps, middle_of
from clochewright.weights.types import BodyWeight, times, total


@dataclass(frozen=True, slots=True)
class Shares:
    """What is shared out: pipe a metre, each fitting by its id, all laths and all hardware [kg]."""

    per_metre: Cited
    fittings: Mapping[str, Cited]
    lath: Cited
    hardware: Cited


def weigh_bodies(frame: Frame, film: FilmPlan, lid: LidPlan, shares: Shares) -> dict[str, BodyWeight]:
    """Weigh every leaf of the lid by itself, by its body's id."""
    middles = {cover.pipes[0].body: middle_m for cover, middle_m in covers(frame)}
    return {leaf.body.id: _weigh(frame, film, leaf, shares, middles, len(lid.leaves)) for leaf in lid.leaves}


def _weigh(
    frame: Frame, film: FilmPlan, leaf: Leaf, shares: Shares, middles: Mapping[str, float], count: int
) -> BodyWeight:
    pipes = [pipe for pipe in frame.pipes if pipe.body == leaf.body.id]
    fittings = [fitting for fitting in frame.fittings if fitting.body == leaf.body.id]
    masses = [times(shares.per_metre, sum(pipe.cut_length_m for pipe in pipes))]
    masses += [shares.fittings[fitting.id] for fitting in fittings]
    lumps: list[Lump] = [(pipe.cut_length_m * shares.per_metre.value, middle_of(pipe)) for pipe in pipes]
    lumps += [(shares.fittings[fitting.id].value, fitting.position_m) for fitting in fittings]
    cloth, skin = _on_cover(film, frame, shares, count)
    masses += cloth
    lumps += [(mass, _moved(place, middles.get(leaf.body.id, 0.0))) for mass, place in skin]
    return BodyWeight(total(tuple(masses)), balance(lumps))


def _on_cover(film: FilmPlan, frame: Frame, shares: Shares, count: int) -> tuple[list[Cited], list[Lump]]:
    """Film, laths and hardware of one cover of several, its middle at x = 0."""
    cover = covers(frame)[0][0]
    cloth = [times(part, 1 / count) for part in (film.mass_kg, shares.lath, shares.hardware)]
    sheet = film_lumps(film)
    whole_kg = sum(mass for mass, _ in sheet)
    scale = cloth[0].value / whole_kg if whole_kg > 0 else 0.0
    mine_kg = cloth[1].value + cloth[2].value
    return cloth, [*((mass * scale, place) for mass, place in sheet), *lath_lumps(film, cover, mine_kg)]


def _moved(place: Vec, by_m: float) -> Vec:
    return (place[0] + by_m, place[1], place[2])
