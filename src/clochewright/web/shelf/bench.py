"""What was ticked in the workshop, for one plan: which pieces are cut. Kept like a plan, whole or not at all."""

from __future__ import annotations

import json
from pathlib import Path

from clochewright.web.shelf.atomic import write_whole

MOST_PIECES = 1000


class Bench:
    """Ticks by cut (its mark and length) and piece, counted from 0."""

    def __init__(self, file: Path) -> None:
        self._file = file
        self._ticks = _read(file)

    def ticked(self, cut: str) -> frozenset[int]:
        """The pieces of one cut that are ticked."""
        return frozenset(self._ticks.get(cut, ()))

    def tick(self, cut: str, piece: int, *, done: bool) -> None:
        """Tick one piece, or take its tick away; on the disk when this returns.

        Raises:
            OSError: It can't be written; nothing is changed.
        """
        ticks = {name: set(pieces) for name, pieces in self._ticks.items()}
        pieces = ticks.setdefault(cut, set())
        if done == (piece in pieces):
            return
        (pieces.add if done else pieces.discard)(piece)
        kept = {name: sorted(some) for name, some in ticks.items() if some}
        write_whole(self._file, json.dumps(kept, indent=1).encode())
        self._ticks = {name: set(some) for name, some in kept.items()}


def _read(file: Path) -> dict[str, set[int]]:
    try:
        kept = json.loads(file.read_text(encoding="utf-8"))
        return {
            str(cut): {int(piece) for piece in pieces if 0 <= int(piece) < MOST_PIECES} for cut, pieces in kept.items()
        }
    except (OSError, ValueError, AttributeError, TypeError):
        return {}
