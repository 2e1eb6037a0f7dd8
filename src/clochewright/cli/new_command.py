"""`clochewright new`: a plan to start from."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import typer

from clochewright.cli.folder import write_folder
from clochewright.errors import FolderError, MeasureError
from clochewright.findings import word
from clochewright.measures import read_length
from clochewright.plan import starter_plan

# A profile of one's own needs points, which are no question for a prompt: it is written into the plan by hand.
SHAPES = ("tent", "barn", "tunnel", "lean-to")
QUESTIONS = ("cost", "fits-the-car", "stays-out")
# Hoops are sprung out of straight pipe, so a tunnel starts one size thinner.
USUAL_PIPE = {("inch", True): "3/4 in", ("inch", False): "1 in", ("mm", True): "25 mm PN 16",
              ("mm", False): "32 mm PN 16"}  # fmt: skip


def new_plan(
    file: Path,
    *,
    length: str | None,
    width: str | None,
    shape: Any = None,
    name: str | None = None,
    pipe: str | None = None,
    question: Any = None,
    again: bool = False,
) -> None:
    """Write a starter plan. Whoever leaves out the bed's size is asked for that, the shape and the question.

    Raises:
        FolderError: The file is there already, or can't be written.
        PlanError: What was given makes no plan.
    """
    if file.exists() and not again:
        raise FolderError(f"{file} is there already. Write to another name, or say --again to write over it.")
    asking = length is None or width is None
    length = length or _ask_length("length")
    width = width or _ask_length("width")
    shape = shape or (_ask_choice("shape", SHAPES) if asking else SHAPES[0])
    question = question or (_ask_choice("question", QUESTIONS) if asking else QUESTIONS[0])
    units: Any = "mm" if length.rstrip().endswith("m") else "inch"
    text = starter_plan(
        length=length,
        width=width,
        name=name or file.stem.replace("-", " ").replace("_", " ").capitalize(),
        shape=shape,
        units=units,
        pipe=pipe or USUAL_PIPE[units, shape == "tunnel"],
        question=question,
    )
    write_folder(file.parent, {file.name: text.encode()})
    typer.echo(word("cli.new.written", file=str(file)))


def _ask_length(which: str) -> str:
    while True:
        answer: str = typer.prompt(word(f"cli.new.{which}"), prompt_suffix=" ")
        try:
            read_length(answer)
        except MeasureError as wrong:
            typer.echo(str(wrong))
        else:
            return answer


def _ask_choice(which: str, choices: Sequence[str]) -> str:
    """One of the choices, by its number or its name; Enter takes the first."""
    typer.echo(word(f"cli.new.{which}"))
    for number, choice in enumerate(choices, 1):
        typer.echo(f"  {number}  {word(f'cli.new.{which}-{choice}')}")
    while True:
        answer = str(typer.prompt(word("cli.new.number"), default="1")).strip().casefold()
        if answer in choices:
            return answer
        if answer.isdecimal() and 1 <= int(answer) <= len(choices):
            return choices[int(answer) - 1]
        typer.echo(word("cli.new.no-choice", most=len(choices)))
