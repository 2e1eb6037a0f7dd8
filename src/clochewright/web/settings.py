"""What the page is told when it starts."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

PORT = 8087


@dataclass(frozen=True, slots=True)
class Settings:
    """Where plans are kept and who may ask.

    `lan` lets other machines on the network in, each by a link with a key that works once; without it only this machine
    is answered. `names` are further host names under which the page is asked for, such as those of this machine.
    `wait_s` is how long the slow parts wait for a later edit before they begin.
    """

    folder: Path
    port: int = PORT
    lan: bool = False
    names: tuple[str, ...] = ()
    wait_s: float = 0.25
