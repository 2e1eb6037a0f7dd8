"""Beginning a cover: who opens it and when, from which side, what grows; which kinds that rules out; then the tape."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from clochewright.findings import word
from clochewright.measures import Units
from clochewright.plan import Shape, starter_plan

KINDS: tuple[Shape, ...] = ("tent", "barn", "tunnel", "lean-to")
# What is asked, and the answers, the first taken where none is given.
QUESTIONS: Mapping[str, tuple[str, ...]] = {
    "who": ("alone", "seated", "one-hand", "two"),
    "when": ("daily", "weekly", "seldom"),
    "reach": ("one", "both", "wall"),
    "grows": ("low", "middling", "tall"),
}
# Hoops are sprung out of straight pipe, so a tunnel starts one size thinner.
_PIPE = {("inch", True): "3/4 in", ("inch", False): "1 in", ("mm", True): "25 mm PN 16",
         ("mm", False): "32 mm PN 16"}  # fmt: skip
# What a day under it is like: who looks in once a week leaves it shut on the hot days between.
_OPENS = {"daily": "morning-and-evening", "weekly": "never", "seldom": "never"}
# Which answers rule a kind out; the reason stands in the words under [web.out] as "kind-answer". Common practice.
_OUT: Mapping[Shape, tuple[tuple[str, Mapping[str, str]], ...]] = {
    "tent": (("tall", {"grows": "tall"}), ("wall", {"reach": "wall"})),
    "barn": (
        ("alone", {"who": "alone", "when": "daily"}),
        ("alone", {"who": "seated"}),
        ("alone", {"who": "one-hand"}),
        ("wall", {"reach": "wall"}),
    ),
    "tunnel": (("daily", {"when": "daily"}), ("wall", {"reach": "wall"})),
    "lean-to": (("both", {"reach": "both"}),),
}


@dataclass(frozen=True, slots=True)
class Choice:
    """One kind of cover, with the reasons that rule it out."""

    shape: str
    label: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """One question with its answers as (value, label)."""

    name: str
    label: str
    choices: tuple[tuple[str, str], ...]


def questions() -> tuple[Asked, ...]:
    """The questions in words."""
    return tuple(
        Asked(name, word(f"web.begin.{name}"), tuple((one, word(f"web.begin.{name}-{one}")) for one in answers))
        for name, answers in QUESTIONS.items()
    )


def answers_in(given: Mapping[str, str]) -> dict[str, str]:
    """The answers given, each one of those there are; the first where it is none."""
    return {name: given[name] if given.get(name) in answers else answers[0] for name, answers in QUESTIONS.items()}


def kinds(answers: Mapping[str, str]) -> tuple[Choice, ...]:
    """The kinds of cover, each with why these answers rule it out."""
    return tuple(Choice(kind, word(f"web.choice.cover.shape.{kind}"), reasons(kind, answers)) for kind in KINDS)


def reasons(kind: Shape, answers: Mapping[str, str]) -> tuple[str, ...]:
    """Why these answers rule a kind out; empty where they don't."""
    return tuple(
        word(f"web.out.{kind}-{name}")
        for name, ruling in _OUT[kind]
        if all(answers[question] == answer for question, answer in ruling.items())
    )


def begun_plan(answers: Mapping[str, str], shape: Shape, tape: Mapping[str, str]) -> str:
    """The text of a plan begun with these answers and tape readings.

    Args:
        answers: What was answered.
        shape: The kind of cover.
        tape: length and width; name, board and height where given.

    Raises:
        PlanError: They make no plan.
    """
    units: Units = "mm" if tape["length"].strip().casefold().endswith("m") else "inch"
    more: dict[str, Any] = {"people": 2 if answers["who"] == "two" else 1, "grow.opens": _OPENS[answers["when"]]}
    if answers["who"] in ("seated", "one-hand"):
        more["lid.opened_by"] = answers["who"]
    more |= {f"bed.{name}": tape[name] for name in ("board", "height") if tape.get(name)}
    if answers["reach"] == "wall" and shape == "lean-to":
        # the whole cover would turn over into the wall; its slope alone opens away from it
        more |= {"lean-to.wall_behind": True, "lid.opens": "slope", "panel.hinge": "top"}
        more |= {"lid.behind": "wall", "lid.behind_distance": "50 mm" if units == "mm" else "2 in"}
    return starter_plan(
        length=tape["length"],
        width=tape["width"],
        name=tape.get("name") or word("web.begin.usual-name"),
        shape=shape,
        units=units,
        pipe=_PIPE[units, shape == "tunnel"],
        more=more,
    )
