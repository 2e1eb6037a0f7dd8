"""The live job: a plan's text in, at once a quick job, and in a while the full one.

What was worked out is kept by the text's rev, so that a plan that is looked at again, undone, or the same as another
costs nothing.
"""

from __future__ import annotations

import threading
from pathlib import Path

from clochewright.job import Begun, Shape
from clochewright.web.bench_hand import BenchHand
from clochewright.web.lately import Lately
from clochewright.web.working import Worked, begin_quickly, rev_of, work_quickly

MOST_KEPT = 120
MOST_BEGUN = 20


class Live:
    """Works plans of one folder out; safe to ask from several threads."""

    def __init__(self, folder: Path, wait_s: float) -> None:
        self._folder, self._wait_s = folder, wait_s
        self._kept: Lately[str, Worked] = Lately(MOST_KEPT)
        self._begun: Lately[str, Begun] = Lately(MOST_BEGUN)
        self._lock = threading.Lock()
        self._bench = threading.Lock()  # one plan at a time: several at once would only hold each other up
        self.hand = BenchHand(folder, self._keep)

    def work(self, owner: str, text: str) -> Worked:
        """What there is for a text now: kept, or worked out quickly; what is left to do begins in the background.

        Args:
            owner: Whose text it is: a later text of the same owner cancels what is not yet done of this one.
            text: The plan.
        """
        rev = rev_of(text, self._folder)
        worked = self.kept(rev)
        if worked is None:
            with self._bench:
                worked = work_quickly(text, self._folder, self._begun.take(rev))
            self._keep(worked)
        if not worked.full:
            self.hand.ask(owner, rev, text, self._wait_s)
        return worked

    def shape(self, text: str) -> tuple[str, Shape] | None:
        """A text's rev and what can be drawn of it, which `work` then goes on from; None where nothing stands."""
        rev = rev_of(text, self._folder)
        worked = self.kept(rev)
        if worked is not None:
            return (rev, worked.job.shape) if worked.job is not None and worked.job.made is not None else None
        with self._bench:
            begun = begin_quickly(text, self._folder)
        if begun is None:
            return None
        self._begun.put(rev, begun)
        return rev, begun.shape

    def kept(self, rev: str) -> Worked | None:
        """What is kept of a rev, if anything."""
        return self._kept.get(rev)

    def is_final(self, worked: Worked) -> bool:
        """Whether nothing more will come of it."""
        return worked.full or self.hand.gave_up(worked.rev)

    def step_of(self, rev: str) -> str | None:
        """Where the background work on a rev is; None where there is none (it is done, or was given up)."""
        return self.hand.step_of(rev)

    def close(self) -> None:
        """Stop the background work."""
        self.hand.close()

    def _keep(self, worked: Worked) -> None:
        with self._lock:
            before = self._kept.get(worked.rev)
            if before is None or worked.full or (worked.growing and not before.full):
                self._kept.put(worked.rev, worked)
