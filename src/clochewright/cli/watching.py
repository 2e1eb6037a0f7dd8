"""A bar that moves while the bench works, and nothing at all where nobody watches."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn

from clochewright.findings import word

STEPS = (
    "frame", "cuts", "lid", "film", "strength", "supplies", "what-if", "season", "changes", "reach", "drawings",
    "booklet",
)  # fmt: skip


class Watch(Protocol):
    """Is told the name of each step, and of a long one which share of it is done."""

    def __call__(self, step: str, share: float = 0.0, /) -> None:
        """A step begins, or goes on."""


@contextmanager
def watching(console: Console) -> Iterator[Watch]:
    """A function to tell each step to as it begins; the bar goes away when the work is done."""
    columns = (TextColumn("{task.description}"), BarColumn(bar_width=32))
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as progress:
        bar = progress.add_task("", total=len(STEPS))

        def watch(step: str, share: float = 0.0) -> None:
            progress.update(bar, completed=STEPS.index(step) + share, description=word(f"cli.step.{step}"))

        yield watch
