"""The build pages: each step with its picture and its words, then taking down, storing, and what to look for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from clochewright.assembly import AssemblyPlan
from clochewright.findings import word
from clochewright.job import Job, Made, StepTold, tell_build

_MOST_BOXES = 8  # a step that makes more parts than this has one box to tick
_LONG = 120  # letters: what stands beside a step then gets half the width


def building_page(job: Job, made: Made, files: Mapping[str, dict[str, str]]) -> dict[str, Any]:
    """What the build pages show.

    Args:
        job: The finished job.
        made: What the bench made.
        files: The build's pictures by name ("step-1", "packing"), each with its file and its words.
    """
    order, told = made.assembly, tell_build(job, job.plan.units)
    assert told is not None  # what was made can be told
    return {
        "head": word("booklet.build.head"),
        "lead": word("booklet.build.lead", steps=len(order.steps)),
        "lead_parts": _lead_parts(order),
        "steps": [_step(step, files) for step in told.steps],
        "ways_head": word("booklet.build.ways-head"),
        "ways_lead": word("booklet.build.ways-lead"),
        "ways": [asdict(way) for way in told.ways] if len(told.ways) > 1 else [],
        "screws_head": word("booklet.build.screws-head"),
        "screws": [asdict(row) for row in told.screws],
        "down_head": word("booklet.build.down-head"),
        "down_lead": word("booklet.build.down-lead"),
        "down": [one.text for one in order.down],
        "stored_head": word("booklet.build.stored-head"),
        "stored_lead": word("booklet.build.stored-lead"),
        "stored_heads": [word(f"booklet.build.{name}") for name in ("part", "kind-of-part", "box", "weighs")],
        "stored": [[part.id, part.name, part.box, part.mass] for part in told.stored],
        "packing": files.get("packing"),
        "packing_lead": told.packing,
        "look_head": word("booklet.build.look-head"),
        "look": list(order.look_for),
    }


def _lead_parts(order: AssemblyPlan) -> str:
    made = sum(len(part.pipes) + len(part.fittings) > 1 for part in order.stored)
    loose = len(order.stored) - made
    return word("booklet.build.lead-parts", made=made, loose=loose) if order.stored else ""


def _step(step: StepTold, files: Mapping[str, dict[str, str]]) -> dict[str, Any]:
    picture = files.get(f"step-{step.number}")
    beside = [line for line in step.beside if line.name != "times"]  # the joints page has them as a table
    return {
        "number": str(step.number),
        "kind": step.kind,
        "title": step.title,
        "parts": list(step.makes) if len(step.makes) <= _MOST_BOXES else [],
        "picture": picture,
        "pieces": [] if picture else list(step.pieces),
        "texts": list(step.texts),
        "moves": list(step.moves),
        "beside": [asdict(line) for line in beside],
        "halves": any(len(line.text) > _LONG for line in beside),
        "caution": step.caution,
    }
