"""The shape: where the base sits, the slopes, the bents; what the frame comes out as."""

from __future__ import annotations

from collections.abc import Iterator

from clochewright.findings import word
from clochewright.measures import show_angle, show_mass, show_speed
from clochewright.plan import Plan
from clochewright.web.steps.kit import Figure, Seen, Shown, SourceRow, Step, between, entries

_OF_SHAPE = {
    "tent": ("cover.apex", "cover.pitch", "cover.height"),
    "barn": ("barn.walls", "barn.eaves", "cover.apex", "cover.pitch", "cover.height"),
    "lean-to": ("lean-to.back", "lean-to.front", "lean-to.high_side", "lean-to.wall_behind"),
    "tunnel": ("hoops.feet", "hoops.foot_angle", "hoops.crown", "hoops.length", "hoops.sleeve", "cover.height"),
    "own": ("profile.whole",),
}
_LAST = ("cover.bay", "cover.bents", "cover.braces", "cover.end_inset", "cover.sections")


def _fields(plan: Plan) -> tuple[str, ...]:
    shape = plan.cover.shape
    points = entries("profile.points", ("in", "up"), len(plan.profile.points)) if shape == "own" else ()
    return ("cover.shape", "cover.line", *_OF_SHAPE[shape], *points, *_LAST)


def _figures(seen: Seen) -> Iterator[Figure]:
    frame, lid = seen.job.frame, seen.made.weights.lid_kg
    over = word("web.gist.bed", length=seen.long(frame.length_m), width=seen.long(frame.width_m))
    yield seen.figure("cover", over, "cover-note")
    yield seen.figure("height", seen.long(frame.height_m), "height-note")
    if frame.hoop is None:
        yield seen.figure("pitch", show_angle(frame.pitch_deg))
    else:
        radius = seen.length(frame.hoop.least_radius_m)
        yield seen.figure("hoop", seen.long(frame.hoop.length_m), "hoop-note", radius=radius)
    yield seen.figure("bents", str(len(frame.stations_m)), "bents-note", bay=seen.long(frame.longest_bay_m))
    yield seen.figure("diagonal", seen.long(frame.diagonal_m), "diagonal-note")
    for place, recipe in frame.recipes.items():
        if place in ("apex", "eave"):
            label = word("web.figure.joint", place=word(f"web.place.{place}"))
            yield Figure(label, word(f"web.recipe.{recipe}"))
    mass = between(show_mass(lid.low, seen.units), show_mass(lid.high, seen.units))
    panel = seen.made.weights.panel_kg
    if panel is not None:
        one = between(show_mass(panel.low, seen.units), show_mass(panel.high, seen.units))
        yield seen.figure("panel-weight", one, "panel-weight-note", whole=mass)
    else:
        yield seen.figure("weight", mass, "weight-note")


def _sources(seen: Seen) -> Iterator[SourceRow]:
    yield seen.source(word("web.figure.weight"), seen.made.weights.lid_kg, lambda kg: show_mass(kg, seen.units))
    for limit in seen.made.limits:
        if limit.kind == "gust_m_s":
            low, high = show_speed(limit.low, seen.units), show_speed(limit.high, seen.units)
            yield SourceRow(word("booklet.source.gust"), between(low, high), "estimate", limit.source)


def _show(seen: Seen) -> Shown:
    frame = seen.job.frame
    gist = word("web.gist.shape", shape=frame.shape, height=seen.long(frame.height_m), bents=len(frame.stations_m))
    return Shown(gist, tuple(_figures(seen)), tuple(_sources(seen)))


STEP = Step(
    "shape",
    _fields,
    _show,
    finding_steps=("frame", "weights"),
    drawings=("plan", "side", "end"),
)
