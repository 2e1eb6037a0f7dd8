"""The build pages: each step with its picture and its words, then taking down, storing, and what to look for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from clochewright.assembly import AssemblyPlan, Step, StoredPart, Times, Way
from clochewright.booklet.words import between, capital
from clochewright.findings import word
from clochewright.job import Job
from clochewright.measures import Units, show_angle, show_length, show_mass, show_temperature

_MOST_BOXES = 8  # a step that makes more parts than this has one box to tick


def building_page(job: Job, order: AssemblyPlan, files: Mapping[str, dict[str, str]]) -> dict[str, Any]:
    """What the build pages show.

    Args:
        job: The finished job.
        order: The order of assembly.
        files: The build's pictures by name ("step-1", "packing"), each with its file and its words.
    """
    units = job.plan.units
    return {
        "head": word("booklet.build.head"),
        "lead": word("booklet.build.lead", steps=len(order.steps)),
        "lead_parts": _lead_parts(order),
        "steps": [_step(step, order, files, units, job.plan.people) for step in order.steps],
        "ways_head": word("booklet.build.ways-head"),
        "ways_lead": word("booklet.build.ways-lead"),
        "ways": [_way(way) for way in order.ways] if len(order.ways) > 1 else [],
        "screws_head": word("booklet.build.screws-head"),
        "screws": screw_rows(order, units),
        "down_head": word("booklet.build.down-head"),
        "down_lead": word("booklet.build.down-lead"),
        "down": [{"text": one.text, "picture": word("booklet.build.undoes", number=one.undoes)} for one in order.down],
        "stored_head": word("booklet.build.stored-head"),
        "stored_lead": word("booklet.build.stored-lead"),
        "stored_heads": [word(f"booklet.build.{name}") for name in ("part", "kind-of-part", "box", "weighs")],
        "stored": [stored_row(part, units) for part in order.stored],
        "packing": files.get("packing"),
        "packing_lead": _packing_lead(order, units),
        "look_head": word("booklet.build.look-head"),
        "look": list(order.look_for),
    }


def _lead_parts(order: AssemblyPlan) -> str:
    made = sum(len(part.pipes) + len(part.fittings) > 1 for part in order.stored)
    loose = len(order.stored) - made
    return word("booklet.build.lead-parts", made=made, loose=loose) if order.stored else ""


def _step(
    step: Step, order: AssemblyPlan, files: Mapping[str, dict[str, str]], units: Units, people: int
) -> dict[str, Any]:
    boxes = len(step.parts) if step.kind == "cement" and 1 < len(step.parts) <= _MOST_BOXES else 1
    return {
        "number": str(step.number),
        "kind": word(f"booklet.build.kind.{step.kind}"),
        "title": step.title,
        "boxes": boxes,
        "parts": list(step.parts) if boxes > 1 else [],
        "picture": files.get(f"step-{step.number}"),
        "pieces": [] if f"step-{step.number}" in files else piece_lines(step, order),
        "texts": list(step.texts),
        "beside": beside_lines(step, order, units),
        "caution": step_caution(step, people),
    }


def piece_lines(step: Step, order: AssemblyPlan) -> list[str]:
    """The step's pieces in words: "2 × A", "4 × tee", "1 × M2, end"."""
    lines = []
    for count in step.pieces:
        what = count.what
        if count.sort == "fitting":
            what = word(f"supplies.fitting.{count.what}").partition(" (")[0].lower()
        elif count.sort == "part":
            name = next((part.name for part in order.stored if part.id == count.what), "")
            what = f"{count.what}, {name}" if name else count.what
        lines.append(word("booklet.build.count", count=count.count, what=what))
    return lines


def beside_lines(step: Step, order: AssemblyPlan, units: Units) -> list[dict[str, str]]:
    """What goes with a step: who holds what, the jig, the screw, what the diagonals read, how long cement takes."""
    lines = []
    if step.hands:
        lines.append(_beside("hands", step.hands))
    if step.jig is not None:
        lines.append(_beside("jig", step.jig.text))
        if step.jig.angle_deg is not None:
            lines.append(_beside("angle", show_angle(step.jig.angle_deg)))
    if step.diagonals is not None:
        length, differ = (show_length(m, units) for m in (step.diagonals.length_m, step.diagonals.differ_m))
        lines.append(_beside("diagonals", word("booklet.build.diagonals-text", length=length, differ=differ)))
    if step.kind == "screw" and order.screws is not None:
        lines.append(_beside("screw", order.screws.name))
    if step.times:
        lines.append(_beside("times", "; ".join(_times(time, units) for time in step.times)))
    return lines


def _beside(name: str, text: str) -> dict[str, str]:
    return {"label": word(f"booklet.build.{name}"), "text": text}


def _times(time: Times, units: Units) -> str:
    low, high = (show_temperature(degC, units) for degC in (time.low_degC, time.high_degC))
    return word(
        "booklet.build.times-text", band=between(low, high), set=duration(time.set_s), cure=duration(time.cure_s)
    )


def duration(time_s: float) -> str:
    """A time in minutes, hours or days [s]."""
    if time_s < 3600:
        return word("booklet.joints.minutes", count=round(time_s / 60))
    if time_s < 48 * 3600:
        return word("booklet.joints.hours", count=round(time_s / 3600))
    return word("booklet.build.days", count=round(time_s / 86400))


def step_caution(step: Step, people: int) -> str:
    """The caution that belongs to a step; "" where there is none."""
    if step.kind == "cement":
        return word("booklet.build.caution-cement-alone" if people == 1 else "booklet.build.caution-cement")
    if any(move.kind == "spring-in" for move in step.moves):
        return word("booklet.build.caution-spring")
    if step.kind in ("cut", "screw"):
        return word(f"booklet.build.caution-{step.kind}")
    return ""


def _way(way: Way) -> dict[str, str]:
    if way.chosen:
        state = word("booklet.build.way-chosen")
    else:
        state = word("booklet.build.way-possible" if way.possible else "booklet.build.way-not")
    return {"name": word(f"booklet.build.way.{way.kind}"), "state": state, "text": way.text}


def screw_rows(order: AssemblyPlan, units: Units) -> list[dict[str, str]]:
    """The screw, its pilot hole, and where it goes; nothing where there is none."""
    screws = order.screws
    if screws is None or not screws.places:
        return []
    rows = [
        ("screw-size", screws.name),
        ("screw-count", word("booklet.build.screw-count-text", count=len(screws.places))),
        ("screw-pilot", show_length(screws.pilot_m, units)),
    ]
    alike: dict[tuple[str, str], list[int]] = {}
    for place in screws.places:
        alike.setdefault((place.side, show_length(place.from_mouth_m, units)), []).append(place.number)
    for (side, mouth), numbers in alike.items():
        where = word("booklet.build.screw-where-text", side=side, mouth=mouth, numbers=runs(numbers))
        rows.append(("screw-where", where))
    return [{"label": word(f"booklet.build.{name}"), "value": value} for name, value in rows]


def runs(numbers: Sequence[int]) -> str:
    """Numbers in order, those that follow each other as a run: "1 to 4, 7"."""
    found: list[list[int]] = []
    for number in sorted(numbers):
        if found and number == found[-1][-1] + 1:
            found[-1].append(number)
        else:
            found.append([number])
    return ", ".join(between(str(run[0]), str(run[-1])) if len(run) != 2 else f"{run[0]}, {run[1]}" for run in found)


def stored_row(part: StoredPart, units: Units) -> list[str]:
    """One stored part: its id, what it is, its box, its weight."""
    box = " × ".join(show_length(side_m, units) for side_m in part.box_m)
    mass = between(show_mass(part.mass_kg.low, units), show_mass(part.mass_kg.high, units))
    return [part.id, capital(part.name), box, mass]


def _packing_lead(order: AssemblyPlan, units: Units) -> str:
    packing = order.packing
    if packing is None:
        return ""
    space = " × ".join(show_length(side_m, units) for side_m in packing.space_m)
    said = word(f"booklet.build.packing-{'given' if packing.given else 'stack'}", space=space)
    if packing.left_out:
        said += " " + word("booklet.build.packing-left-out", parts=", ".join(packing.left_out))
    return said
