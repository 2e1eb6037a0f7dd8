"""The lid: what opens and who opens it, the hand's force, its bar, wind on it, lifting it off, what holds it down."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clochewright.findings import word
from clochewright.measures import show_angle, show_force, show_length, show_mass, show_speed
from clochewright.plan import Plan
from clochewright.web.steps.kit import Figure, Seen, Shown, SourceRow, Step, between
from clochewright.web.steps.lid.rows import FixingRow, WayRow, fixing_rows, way_rows

_ALWAYS = ("lid.opens",)
_WHOLE = ("lid.hinge_side",)
_PANEL = ("panel.side", "panel.hinge", "panel.count", "panel.rafter_bay", "panel.clearance")
_OPENING = ("lid.open", "lid.openings", "lid.opened_by", "lid.reach_from", "lid.force_limit", "lid.behind")
_HELD = ("hold-down.by",)
_LAID = ("hold-down.weights", "hold-down.weight")
# Findings of the strength that are about opening it and keeping it shut.
_OF_OPENING = tuple(
    f"strength.{key}"
    for key in (
        "opens-heavy", "out-of-reach", "falls-back", "lift-one", "lift-two", "lift-split", "wax-lifts", "wax-too-weak",
        "open-wind", "prop-clip", "prop-weak", "more-fixings", "bolt-through", "saddle-round", "held", "held-by-straps",
        "frame-held", "held-too-little", "weights-hold", "weights-alone", "weights-too-small",
        "opens-easier", "nothing-easier",
    )
)  # fmt: skip
OPENS_DEG = 1.0  # what opens less has no curve of its force
_SHOWN = ("lid-swing", "lid-force")
_BAR, _GRIPS = ("lid-bar",), ("lid-grips",)


@dataclass(frozen=True, slots=True)
class LidShown(Shown):
    """Pictures, where hinges and latches go, easier ways to open it, and the figures that are told last."""

    pictures: tuple[str, ...] = ()
    bar: tuple[str, ...] = ()
    grips: tuple[str, ...] = ()
    chief: tuple[Figure, ...] = ()
    fixings: tuple[FixingRow, ...] = ()
    ways: tuple[WayRow, ...] = ()
    wants_ways: bool = False


def _fields(plan: Plan) -> tuple[str, ...]:
    what = (_PANEL[1:] if plan.lid.opens == "slope" else _PANEL) if plan.has_panels else _WHOLE
    distance = ("lid.behind_distance",) if plan.lid.behind != "free" else ()
    laid = _LAID if plan.hold_down.by == "weights" else ()
    return (*_ALWAYS, *what, *_OPENING, *distance, *_HELD, *laid)


def _chief(seen: Seen) -> Iterator[Figure]:
    """What one asks first: weight, balance, the hand's force, its reach, where it comes to rest."""
    leaf, units = seen.made.opening.leaves[0], seen.units
    many = len(seen.made.opening.leaves)
    mass = between(show_mass(leaf.mass_kg.low, units), show_mass(leaf.mass_kg.high, units))
    yield seen.figure("lid-weight", mass, "lid-weight-each" if many > 1 else "", leaves=many)
    line = seen.made.lid.leaves[0].line
    out, up = line.section(leaf.centre_m)
    yield seen.figure("lid-balance", seen.near(out), "lid-balance-note", up=seen.near(up + line.start_m[2]))
    shut = leaf.at(0.0)
    band = between(show_force(shut.lift_low_N, units), show_force(shut.lift_high_N, units))
    limit = show_force(leaf.reach.limit_N, units)
    yield seen.figure("lid-shut", show_force(shut.lift_force_N, units), "lid-shut-note", band=band, limit=limit)
    most_N, at_deg = _worst(seen)
    if at_deg > 0:
        yield seen.figure("lid-worst", show_force(most_N, units), "lid-worst-note", angle=show_angle(at_deg))
    opened = leaf.at(min(leaf.reach.wanted_deg, leaf.rest_deg))
    heights = {"shut": seen.near(shut.handle_height_m), "angle": show_angle(round(opened.angle_deg))}
    key = "lid-hand-note" if leaf.reach.reaches else "lid-hand-far-note"
    reached = show_angle(round(leaf.reach.reached_deg))
    yield seen.figure("lid-hand", seen.near(opened.handle_height_m), key, reached=reached, **heights)
    rest = word("web.figure.lid-rest-stays" if leaf.stays_open else "web.figure.lid-rest-falls")
    lying = seen.made.lid.leaves[0].swing.rest
    on = word(f"drawings.lid.on.{lying.on.replace(' ', '-')}{'-block' if lying.block_m else ''}")
    lies = word("web.figure.lid-rest-on", angle=show_angle(lying.lies_deg), on=on)
    yield Figure(word("web.figure.lid-rest"), lies, rest)


def _worst(seen: Seen) -> tuple[float, float]:
    """The most that the hand lifts up to the widest opening [N], and at which angle [deg]."""
    leaf = seen.made.opening.leaves[0]
    wanted = [row for row in leaf.angles if row.angle_deg <= leaf.reach.wanted_deg + 1e-6]
    worst = max(wanted, key=lambda row: row.lift_force_N, default=leaf.at(0.0))
    return worst.lift_force_N, worst.angle_deg


def _bar(seen: Seen) -> Iterator[Figure]:
    leaf, units = seen.made.opening.leaves[0], seen.units
    work, props = leaf.prop, seen.made.lid.leaves[0].props
    usable = [hole for hole in work.holes if hole.angle_deg <= leaf.rest_deg + 1e-6] if work is not None else []
    if work is None or not props or not usable:
        return
    widest = usable[-1]
    holes = ", ".join(seen.length(hole.hole_m) for hole in usable)
    yield seen.figure("lid-bar", seen.length(props[0].bar_m), "lid-bar-note", bars=work.bars, holes=holes)
    alone = show_force(widest.one_bar_N, units)
    angle = show_angle(widest.angle_deg)
    yield seen.figure("lid-push", show_force(widest.force_N, units), "lid-push-note", angle=angle, alone=alone)
    yield seen.figure("lid-check", seen.length(work.stop_m), "lid-check-note")


def _wind(seen: Seen) -> Iterator[Figure]:
    leaf, units = seen.made.opening.leaves[0], seen.units
    winds = [wind for wind in leaf.wind if wind.angle_deg <= leaf.rest_deg + 1e-6]
    if winds:
        widest = winds[-1]
        off = between(show_speed(widest.off_pin_m_s.low, units), show_speed(widest.off_pin_m_s.high, units))
        angle = show_angle(widest.angle_deg)
        yield seen.figure("lid-off-pin", off, "lid-off-pin-note", angle=angle)
        breaks = show_speed(widest.breaks_m_s.value, units)
        gives = word(f"strength.gives.{widest.gives}")
        yield seen.figure("lid-breaks", breaks, "lid-breaks-note", gives=gives)
        told = show_speed(widest.told_gust_m_s, units)
        yield seen.figure("lid-tie", show_force(widest.tie_N, units), "lid-tie-note", gust=told)
    for limit in seen.made.limits:
        if limit.kind == "gust_m_s":
            loose = between(show_speed(limit.low, units), show_speed(limit.high, units))
            yield seen.figure("lid-loose", loose, "lid-loose-note")


def _lifting(seen: Seen) -> Iterator[Figure]:
    lifting, units = seen.made.opening.leaves[0].lifting, seen.units
    people = word(f"web.figure.lid-people-{lifting.people}")
    first = lifting.limits[0] if lifting.limits else None
    said = {"limit": show_mass(first.limit_kg.value, units)} if first else {}
    yield seen.figure("lid-lifting", people, "lid-lifting-note" if first else "", **said)


def _held(seen: Seen) -> Iterator[Figure]:
    held, units = seen.made.opening.hold_down, seen.units
    if held is None:
        return
    gust = show_speed(held.gust_m_s, units)
    uplift = between(show_force(held.uplift_N.low, units), show_force(held.uplift_N.high, units))
    yield seen.figure("lid-uplift", uplift, "lid-uplift-note", gust=gust)
    worst = held.worst
    if worst is not None:
        said = {"id": worst.id, "bears": show_force(worst.bears_N, units), "count": len(held.anchors)}
        yield seen.figure("lid-anchor", show_force(worst.pull_N, units), "lid-anchor-note", **said)
    if held.straps:
        said = {"length": seen.length(held.strap_m), "screws": held.strap_screws}
        yield seen.figure("lid-straps", str(held.straps), "lid-straps-note", **said)


def _sources(seen: Seen) -> Iterator[SourceRow]:
    leaf, units = seen.made.opening.leaves[0], seen.units
    reach = leaf.reach
    yield seen.source(word("web.figure.lid-weight"), leaf.mass_kg, lambda kg: show_mass(kg, units))
    for name, cited in (("low", reach.low_m), ("high", reach.high_m), ("in", reach.in_m)):
        yield seen.source(word(f"web.figure.lid-reach-{name}"), cited, lambda m: show_length(m, units))
    for limit in leaf.lifting.limits:
        yield seen.source(word(f"strength.lifts.{limit.key}"), limit.limit_kg, lambda kg: show_mass(kg, units))
    if leaf.wind:
        yield seen.source(word("web.figure.lid-off-pin"), leaf.wind[-1].off_pin_m_s, lambda v: show_speed(v, units))
    yield seen.source(word("web.figure.lid-wax"), leaf.wax.lifts_N, lambda n: show_force(n, units))
    if seen.made.opening.hold_down is not None:
        uplift = seen.made.opening.hold_down.uplift_N
        yield seen.source(word("web.figure.lid-uplift"), uplift, lambda n: show_force(n, units))


def _show(seen: Seen) -> Shown:
    opening = seen.made.opening
    if not opening.leaves:
        return LidShown(word("web.gist.lid-none"), tuple(_held(seen)))
    leaf = opening.leaves[0]
    hand = show_force(_worst(seen)[0], seen.units)
    gist = word("web.gist.lid", mass=show_mass(leaf.mass_kg.value, seen.units), hand=hand)
    has_bar = bool(seen.made.lid.leaves[0].props)
    return LidShown(
        gist,
        (*_bar(seen), *_wind(seen), *_lifting(seen), *_held(seen)),
        tuple(_sources(seen)),
        _SHOWN if leaf.rest_deg >= OPENS_DEG else _SHOWN[:1],
        _BAR if has_bar else (),
        _GRIPS,
        tuple(_chief(seen)),
        tuple(fixing_rows(seen)),
        tuple(way_rows(seen)),
        not (leaf.reach.is_light and leaf.reach.reaches),
    )


STEP = Step("lid", _fields, _show, finding_steps=("lid",), finding_keys=_OF_OPENING)
