"""Parts and order: what is cemented to what, in which order it goes together, how it is stored."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass

from clochewright.findings import word
from clochewright.job import BuildTold, StepTold, tell_build
from clochewright.measures import show_force, show_length, show_mass
from clochewright.plan import Plan
from clochewright.web.steps.kit import Figure, Seen, Shown, SourceRow, Step, between, entries


@dataclass(frozen=True, slots=True)
class BuildLine:
    """One step of the build; `id` names it for ticks (a step that changes is ticked anew), `boxes` what is ticked."""

    id: str
    step: StepTold
    boxes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartsShown(Shown):
    """The steps of the build as lines to tick, and all of it in words."""

    told: BuildTold | None = None
    steps: tuple[BuildLine, ...] = ()
    down: tuple[str, ...] = ()
    look: tuple[str, ...] = ()
    packed: bool = False


_FIELDS = ("store.wish", "store.length", "store.depth", "store.height", "store.in_car", "joints.loose",
           "joints.longest")  # fmt: skip


def _fields(plan: Plan) -> tuple[str, ...]:
    return (*_FIELDS, *entries("joints.held", ("role", "at", "how"), len(plan.joints.held)))


def _line(step: StepTold) -> BuildLine:
    told = hashlib.sha256("\n".join((step.title, *step.texts)).encode()).hexdigest()[:8]
    return BuildLine(f"build-{step.number}-{told}", step, step.makes or ("",))


def _figures(seen: Seen) -> Iterator[Figure]:
    order = seen.made.assembly
    made = sum(len(part.pipes) + len(part.fittings) > 1 for part in order.stored)
    yield seen.figure("parts", str(len(order.stored)), "parts-note", made=made)
    screws = len(order.screws.places) if order.screws is not None else 0
    name = order.screws.name if order.screws is not None else ""
    yield seen.figure("joint-screws", str(screws), "joint-screws-note" if screws else "", screw=name)
    if order.stored:
        longest = max(order.stored, key=lambda part: part.box_m[0])
        yield seen.figure("longest-part", seen.long(longest.box_m[0]), "part-note", part=longest.name)
        heaviest = max(order.stored, key=lambda part: part.mass_kg.value)
        mass = between(*(show_mass(kg, seen.units) for kg in (heaviest.mass_kg.low, heaviest.mass_kg.high)))
        yield seen.figure("heaviest-part", mass, "part-note", part=heaviest.name)
    springs = [move.spring for move in order.moves if move.spring is not None]
    if springs:
        most = max(springs, key=lambda spring: spring.force_N.high)
        force = between(*(show_force(newton, seen.units) for newton in (most.force_N.low, most.force_N.high)))
        yield seen.figure("spring-in", force, "spring-in-note", spread=show_length(most.spread_m, seen.units))
    elif order.goes_together:
        yield seen.figure("spring-in", word("web.figure.no-force"), "no-force-note")
    yield seen.figure("build-steps", str(len(order.steps)), "build-steps-note")


def _sources(seen: Seen) -> Iterator[SourceRow]:
    order = seen.made.assembly
    springs = [move.spring for move in order.moves if move.spring is not None]
    if springs:
        most = max(springs, key=lambda spring: spring.force_N.high)
        yield seen.source(word("web.figure.spring-in"), most.force_N, lambda newton: show_force(newton, seen.units))
    if order.stored:
        heaviest = max(order.stored, key=lambda part: part.mass_kg.value)
        yield seen.source(word("web.figure.heaviest-part"), heaviest.mass_kg, lambda kg: show_mass(kg, seen.units))


def _show(seen: Seen) -> PartsShown:
    order = seen.made.assembly
    if not order.steps:  # it follows when the bench has gone on
        return PartsShown(word("web.gist.parts-waiting"))
    told = tell_build(seen.job, seen.units)
    assert told is not None  # what is seen is built
    gist = word(
        "web.gist.parts" if order.goes_together else "web.gist.parts-stuck",
        parts=len(order.stored),
        screws=len(order.screws.places) if order.screws is not None else 0,
        steps=len(order.steps),
    )
    return PartsShown(
        gist,
        tuple(_figures(seen)),
        tuple(_sources(seen)),
        figures_first=True,
        told=told,
        steps=tuple(map(_line, told.steps)),
        down=tuple(taking.text for taking in order.down),
        look=order.look_for,
        packed=order.packing is not None and bool(order.packing.packed),
    )


STEP = Step("parts", _fields, _show, finding_steps=("joints", "assembly"))
