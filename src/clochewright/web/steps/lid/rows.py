"""The tables of the lid: where hinges and latches go and how, and easier ways to open it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from clochewright.findings import word
from clochewright.measures import show_about, show_angle, show_drill, show_force, show_mass
from clochewright.web.steps.kit import Seen

_WORKED_BESIDE = ("cord", "counterweight", "strut")  # ways that have a row of their own


@dataclass(frozen=True, slots=True)
class FixingRow:
    """One kind of fixing: its marks and places, how it is fixed, its holes."""

    what: str
    marks: str
    places: str
    how: str
    holes: str


@dataclass(frozen=True, slots=True)
class WayRow:
    """One way to open it: what it takes, the hand's force, whether that suits; the plan's keys that bring it."""

    way: str
    takes: str
    hand: str
    suits: str
    change: tuple[tuple[str, str], ...] = ()


def fixing_rows(seen: Seen) -> Iterator[FixingRow]:
    """Hinges and latches of every leaf that opens."""
    leaves = list(zip(seen.made.lid.leaves, seen.made.opening.leaves, strict=False))
    for n, (leaf, work) in enumerate(leaves, start=1):
        for fixing in work.fixings:
            many = leaf.hinges if fixing.what == "hinge" else leaf.latches
            edge = leaf.body.hinge_line_m if fixing.what == "hinge" else leaf.body.free_line_m
            if not many:
                continue
            name = word(f"strength.fixed.{fixing.what}").capitalize()
            hole, pilot = show_drill(fixing.pipe_hole_m, seen.units), show_drill(fixing.board_pilot_m, seen.units)
            bolt = show_drill(fixing.bolt_m, seen.units)
            key = "holes-panel" if leaf.body.kind == "panel" else "holes"
            yield FixingRow(
                word("web.lid.of-leaf", what=name, leaf=str(n)) if len(leaves) > 1 else name,
                ", ".join(one.id for one in many),
                ", ".join(seen.length(math.dist(one.position_m, edge[0])) for one in many),
                word(f"web.lid.how-{fixing.how}", each=fixing.each, bolt=bolt),
                word(f"web.lid.{key}-{fixing.how}", hole=hole, pilot=pilot),
            )


def way_rows(seen: Seen) -> list[WayRow]:
    """Every other way that was worked out, those that suit first."""
    return sorted(_ways(seen), key=lambda row: row.suits != word("web.lid.suits"))


def _ways(seen: Seen) -> Iterator[WayRow]:
    """The aids, then the changes of plan, the lightest first."""
    leaf, units = seen.made.opening.leaves[0], seen.units
    judged = {other.key: other for other in seen.made.opening.alternatives}

    def hand(key: str, force_N: float) -> tuple[str, str]:
        """The force, and whether that way brings it open within the limit and in reach."""
        other, reach, wanted_deg = judged.get(key), leaf.reach, seen.plan.lid.open_deg
        reached_deg = wanted_deg if key == "cord" else reach.reached_deg
        reached_deg = other.reached_deg if other else min(reached_deg, leaf.rest_deg)
        fits = word("web.lid.suits")
        if force_N > reach.limit_N + 1e-9:
            fits = word("web.lid.too-heavy")
        elif reached_deg < wanted_deg - 1e-9:
            fits = word("web.lid.only-to", angle=show_angle(round(reached_deg)))
        elif other and not other.works:
            fits = word("web.lid.not-so")
        return show_force(max(0.0, force_N), units), fits

    cord, weight, strut, wax = leaf.cord, leaf.counterweight, leaf.strut, leaf.wax
    if cord is not None:
        lengths = {"post": seen.near(cord.post_m), "cord": show_about(cord.cord_m, units, "long")}
        takes = word("web.lid.takes-cord", parts=cord.parts_count, **lengths)
        yield WayRow(word("strength.easier.cord"), takes, *hand("cord", cord.pull_N))
    if weight is not None:
        takes = word("web.lid.takes-weight", mass=show_mass(weight.mass_kg, units), arm=seen.near(weight.arm_m))
        yield WayRow(word("strength.easier.counterweight"), takes, *hand("counterweight", weight.most_N))
    if strut is not None:
        said = {
            "force": show_force(strut.force_N, units),
            "shut": seen.length(strut.shut_m),
            "open": seen.length(strut.open_m),
            "on_leaf": seen.length(math.hypot(*strut.on_leaf_m)),
            "on_bed": seen.length(abs(strut.on_bed_m[1])),
            "bed_out": seen.length(strut.on_bed_m[0]),
        }
        takes = word("web.lid.takes-strut", count=strut.count, **said)
        yield WayRow(word("strength.easier.strut"), takes, *hand("strut", strut.most_N))
    forces = {"lifts": show_force(wax.lifts_N.value, units), "asked": show_force(wax.asked_N, units)}
    takes = word("web.lid.takes-wax", at=seen.near(wax.at_m), **forces)
    works = word("web.lid.wax-works", angle=show_angle(round(wax.opens_deg))) if wax.works else word("web.lid.too-weak")
    yield WayRow(word("web.lid.wax"), takes, word("web.lid.no-hand"), works)
    for other in seen.made.opening.alternatives:
        if other.key in _WORKED_BESIDE:
            continue
        force, fits = hand(other.key, other.force_N)
        change = tuple((path, str(value)) for path, value in other.change.items()) if other.works else ()
        takes = word("web.lid.takes-other", mass=show_mass(other.mass_kg, units))
        yield WayRow(word(f"strength.easier.{other.key}"), takes, force, fits, change)
