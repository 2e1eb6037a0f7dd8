"""Will it stand: limits in wind and snow, handling, how far it reaches, what to change, two pictures of each load."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from clochewright.findings import word
from clochewright.job import SaidChange, SaidLimit, handling_said, reach_load, said_changes, said_limits, show_ground
from clochewright.plan import Plan
from clochewright.web.steps.kit import Figure, Seen, Shown, SourceRow, Step


@dataclass(frozen=True, slots=True)
class LimitGroup:
    """Limits of one kind under their heading."""

    title: str
    limits: tuple[SaidLimit, ...]
    lead: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """One drawing with its own words."""

    name: str
    title: str


@dataclass(frozen=True, slots=True)
class StandShown(Shown):
    """`groups` are empty while the bench is still trying wind and snow; `tried` says that changes were tried."""

    groups: tuple[LimitGroup, ...] = ()
    changes: tuple[SaidChange, ...] = ()
    tried: bool = False
    pictures: tuple[Picture, ...] = ()


_GROUPS = {
    "wind": ("loose", "slides", "unlatched", "shut", "panel-shut", "hot", "open-end"),
    "snow": ("fresh", "wet", "drift"),
    "hands": ("lean-ridge", "lean-rail"),
    "reach": ("width", "bay"),
}


def _fields(plan: Plan) -> tuple[str, ...]:  # noqa: ARG001
    return ("site.design_gust", "site.ground_snow", "site.exposure", "site.code")


def _show(seen: Seen) -> StandShown:
    strength = seen.made.strength
    shut, wet = strength.limit("shut"), strength.limit("wet")
    if shut is None or wet is None:
        known = [finding.key for finding in strength.findings]
        unknown = "strength.no-wall" in known or "strength.free" in known
        return StandShown(word("web.gist.stand-unknown" if unknown else "web.gist.stand-trying"))
    by_key = {one.key: one for one in said_limits(strength, seen.units)}
    gist = word("web.gist.stand", gust=by_key["shut"].likely, snow=by_key["wet"].likely)
    leads = {"reach": word("web.stand.reach-for", load=reach_load(seen.plan, seen.units))}
    groups = (
        LimitGroup(word(f"web.stand.{name}"), tuple(by_key[key] for key in keys if key in by_key), leads.get(name, ""))
        for name, keys in _GROUPS.items()
    )
    names = [(picture, load) for picture in ("bent", "worked") for load in ("wind", "snow") if strength.shapes]
    pictures = tuple(Picture(f"{picture}-{load}", word(f"drawings.loaded.{picture}-{load}")) for picture, load in names)
    return StandShown(
        gist,
        tuple(_figures(seen)),
        tuple(_sources(seen)),
        tuple(group for group in groups if group.limits),
        said_changes(strength, seen.plan, seen.units),
        "width" in by_key,
        pictures,
    )


def _figures(seen: Seen) -> Iterator[Figure]:
    for label, share, note in handling_said(seen.made.strength, seen.units):
        yield Figure(label, share, note)


def _sources(seen: Seen) -> Iterator[SourceRow]:
    for ground in seen.made.strength.grounds:
        shown = partial(show_ground, ground.kind, units=seen.units)
        yield seen.source(word(f"strength.ground.{ground.key}"), ground.cited, shown)


STEP = Step(
    "stand",
    _fields,
    _show,
    finding_steps=("strength",),
    finding_wheres=("site.design_gust", "site.ground_snow", "strength"),
    told=("strength.estimate", "strength.gust", "strength.snow", "strength.reach", "strength.reach-width",
          "strength.what-helps"),
)  # fmt: skip
