"""The label sheet: a label for each part with a code to scan, and a pair of labels for each joint that is screwed."""

from __future__ import annotations

import io
from collections.abc import MutableMapping
from typing import Any

import segno

from clochewright.assembly import Step
from clochewright.findings import word
from clochewright.job import Job, Made, runs

_MOST_TOLD = 240  # signs in a code: more makes it too fine to scan from paper


def labels_page(job: Job, made: Made, files: MutableMapping[str, str]) -> dict[str, Any]:
    """The labels; the codes are put among the SVG files of the booklet."""
    order = made.assembly
    parts: list[dict[str, Any]] = []
    numbers = {place.joint: place.number for place in order.screws.places} if order.screws is not None else {}
    owner = {piece: part.id for part in order.stored for piece in (*part.pipes, *part.fittings)}
    marks = made.cutlist.mark_of
    adding = {part: step for step in order.steps if step.kind == "assemble" for part in step.parts}
    for part in order.stored:
        step = adding.get(part.id)
        file = ""
        if step is not None:
            file = f"code-{step.number}.svg"
            if file not in files:
                files[file] = _code(step_told(job.plan.name, step, len(order.steps)))
        own = {*part.pipes, *part.fittings}
        joints = sorted(
            numbers[joint.id]
            for joint in made.joints.joints
            if joint.id in numbers and (joint.pipe in own) != (joint.fitting in own)
        )
        single = part.pipes[0] if len(part.pipes) == 1 and not part.fittings else ""
        parts.append(
            {
                "mark": part.id,
                "letter": marks.get(single, ""),
                "name": part.name,
                "joints": word("booklet.build.label-joints", numbers=runs(joints)) if joints else "",
                "step": word("booklet.build.label-step", number=step.number) if step is not None else "",
                "code": file,
            }
        )
    pairs = [
        {
            "number": str(numbers[joint.id]),
            "pipe": _named(joint.pipe, owner, marks.get(joint.pipe, "")),
            "fitting": _named(joint.fitting, owner, ""),
        }
        for joint in made.joints.joints
        if joint.id in numbers
    ]
    pairs.sort(key=lambda pair: int(pair["number"]))
    return {
        "head": word("booklet.build.labels-head"),
        "lead": word("booklet.build.labels-lead"),
        "parts": parts,
        "pairs_head": word("booklet.build.pairs-head"),
        "pairs_lead": word("booklet.build.pairs-lead"),
        "pairs": pairs,
    }


def step_told(name: str, step: Step, steps: int) -> str:
    """What a code says when it is scanned: the step in words, so that it needs no network."""
    told = word("booklet.build.code", name=name, number=step.number, steps=steps, title=step.title)
    for text in step.texts:
        if len(told) + len(text) + 1 > _MOST_TOLD:
            break
        told = f"{told} {text}"
    return told[:_MOST_TOLD]


def _named(piece: str, owner: dict[str, str], mark: str) -> str:
    """The part that a piece belongs to, and its mark."""
    part = owner.get(piece, "")
    return word("booklet.build.label-piece", part=part, mark=mark) if part and mark and part != mark else part or mark


def _code(told: str) -> str:
    drawn = io.BytesIO()
    segno.make(told, error="l", micro=False).save(drawn, kind="svg", scale=4, border=2)
    return drawn.getvalue().decode()
