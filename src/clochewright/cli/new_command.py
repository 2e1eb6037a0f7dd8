"""`clochewright new`: a plan to start from."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import typer

from clochewright.cli.folder import write_folder
from clochewright.errors import FolderError, MeasureError
from clochewright.findings import word
from clochewright.measures import read_length
from clochewright.plan import starter_plan


def new_plan(
    file: Path, *, length: str | None, width: str | None, name: str | None, pipe: str | None, question: Any, again: bool
) -> None:
    """Write a starter plan; what was not given is asked for. FolderError when the file is there already."""
    if file.exists() and not again:
        raise FolderError(f"{file} is there already. Write to another name, or say --again to write over it.")
    length = length or _ask_length("length")
    width = width or _ask_length("width")
    metric = length.rstrip().endswith("m")
    text = starter_plan(
        length=length,
        width=width,
        name=name or file.stem.replace("-", " ").replace("_", " ").capitalize(),
        units="mm" if metric else "inch",
        pipe=pipe or ("32 mm PN 16" if metric else "1 in"),
        question=question or "cost",
    )
    write_folder(file.parent, {file.name: text.encode()})
    typer.echo(word("cli.new.written", file=str(file)))


def _ask_length(which: str) -> str:
    while True:
        answer: str = typer.prompt(word(f"cli.new.{which}"))
        try:
            read_length(answer)
        except MeasureError as wrong:
            typer.echo(str(wrong))
        else:
            return answer
