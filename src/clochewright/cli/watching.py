"""A bar that moves while the bench works, and nothing at all where nobody watches."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn

from clochewright.findings import word

STEPS = ("frame", "cuts", "lid", "film", "strength", "supplies", "season", "what-if", "drawings", "booklet")


@contextmanager
def watching(console: Console) -> Iterator[Callable[[str], None]]:
    """A function to tell each step to as it begins; the bar goes away when the work is done."""
    columns = (TextColumn("{task.description}"), BarColumn(bar_width=32))
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as progress:
        bar = progress.add_task("", total=len(STEPS))

        def watch(step: str) -> None:
            progress.update(bar, completed=STEPS.index(step), description=word(f"cli.step.{step}"))

        yield watch
