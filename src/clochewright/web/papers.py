"""Drawings, tables and papers of a plan, made when they are asked for and kept for a while."""

from __future__ import annotations

import threading
from dataclasses import replace
from typing import Literal

from clochewright.job import Job
from clochewright.measures import Units
from clochewright.web.lately import Lately

_MOST_KEPT = 160


class Papers:
    """Drawings by rev, stage, units and name; booklets by rev, stage and paper. Made one at a time: they are heavy."""

    def __init__(self) -> None:
        self._kept: Lately[tuple[str, ...], dict[str, bytes]] = Lately(_MOST_KEPT)
        self._making = threading.Lock()

    def drawing(self, job: Job, rev: str, stage: str, units: Units, name: str) -> bytes | None:
        """One drawing as SVG, or None where the plan has none of that name."""
        from clochewright.drawings import DRAWERS, group_of, write_svg  # heavy, and not all need it

        group = group_of(name)
        if group is None:
            return None
        kept_as = (group, rev, stage, units)
        made = self._kept.get(kept_as)
        if made is None:
            with self._making:
                made = self._kept.get(kept_as)
                if made is None:
                    shown = replace(job, plan=job.plan.model_copy(update={"units": units}))
                    made = {one: write_svg(drawing).encode() for one, drawing in DRAWERS[group](shown).items()}
                    self._kept.put(kept_as, made)
        return made.get(name)

    def booklet(self, job: Job, rev: str, stage: str, paper: Literal["a4", "letter"]) -> bytes:
        """The build booklet as PDF."""
        from clochewright.booklet import print_booklet

        kept_as = ("pdf", rev, stage, paper)
        made = self._kept.get(kept_as)
        if made is None:
            with self._making:
                made = {"": print_booklet(job, paper)}
            self._kept.put(kept_as, made)
        return made[""]
