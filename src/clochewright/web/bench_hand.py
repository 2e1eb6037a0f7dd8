"""The page's hand at the bench's own process: starts it, passes it one plan at a time, and takes what comes back."""

from __future__ import annotations

import contextlib
import pickle
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from clochewright.web.working import Worked

LONGEST_S = 60.0  # a job past this is given up and the process started anew


@dataclass
class Task:
    """One plan on its way: for whom (a later edit of the same plan takes its place), and when it may begin."""

    owner: str
    rev: str
    text: str
    not_before_s: float
    number: int = 0
    step: str = "waiting"


class BenchHand:
    """Passes tasks on, the longest waiting first; a later edit cancels an earlier one of the same plan."""

    def __init__(self, folder: Path, take: Callable[[Worked], None]) -> None:
        self._folder, self._take = folder, take
        self._wake = threading.Condition()
        self._tasks: dict[str, Task] = {}
        self._now: Task | None = None
        self._count = 0
        self._given_up: set[str] = set()
        self._closed = False
        self._process: subprocess.Popen[bytes] | None = None
        self._thread: threading.Thread | None = None

    def ask(self, owner: str, rev: str, text: str, wait_s: float) -> None:
        """Have a plan worked out in full, in place of any earlier one of the same owner."""
        with self._wake:
            if self._closed or rev in self._given_up:
                return
            at_work = self._now
            if at_work is not None and at_work.owner == owner:
                if at_work.rev == rev:
                    self._tasks.pop(owner, None)
                    return
                self._stop(at_work)
            waiting = self._tasks.get(owner)
            if waiting is None or waiting.rev != rev:
                self._tasks.pop(owner, None)
                self._tasks[owner] = Task(owner, rev, text, time.monotonic() + wait_s)
            if self._thread is None:
                self._thread = threading.Thread(target=self._work, name="bench", daemon=True)
                self._thread.start()
            self._wake.notify_all()

    def step_of(self, rev: str) -> str | None:
        """The step a text has come to: "waiting", the bench's own name for it, or None where nobody works on it."""
        with self._wake:
            if self._now is not None and self._now.rev == rev:
                return self._now.step
            return "waiting" if any(task.rev == rev for task in self._tasks.values()) else None

    def gave_up(self, rev: str) -> bool:
        """Whether a text could not be worked out in full: its quick job is all there will be."""
        return rev in self._given_up

    def close(self) -> None:
        """Stop working; the process ends."""
        with self._wake:
            self._closed = True
            self._wake.notify_all()
        self._end()

    def _stop(self, task: Task) -> None:
        if self._process is not None and self._process.stdin is not None:
            with contextlib.suppress(OSError, ValueError):
                pickle.dump(("stop", task.number), self._process.stdin)
                self._process.stdin.flush()

    def _work(self) -> None:
        while True:
            with self._wake:
                task = self._next()
                if task is None:
                    return
                self._count += 1
                task.number, self._now = self._count, task
            watch = threading.Timer(LONGEST_S, self._end)
            watch.daemon = True
            watch.start()
            try:
                self._pass_on(task)
            except (OSError, EOFError, ValueError, pickle.UnpicklingError):
                self._given_up.add(task.rev)  # the process died or was ended; the page keeps its quick answer
                self._end()
            finally:
                watch.cancel()
                with self._wake:
                    self._now = None

    def _next(self) -> Task | None:
        """The next task that may begin, waited for; None once closed."""
        while not self._closed:
            now_s = time.monotonic()
            ready = [task for task in self._tasks.values() if task.not_before_s <= now_s]
            if ready:
                return self._tasks.pop(ready[0].owner)
            soonest = min((task.not_before_s for task in self._tasks.values()), default=None)
            self._wake.wait(None if soonest is None else max(0.001, soonest - now_s))
        return None

    def _pass_on(self, task: Task) -> None:
        process = self._started()
        assert process.stdin is not None
        assert process.stdout is not None
        pickle.dump(("work", task.number, task.text, str(self._folder)), process.stdin)
        process.stdin.flush()
        while True:
            number, what, told = pickle.load(process.stdout)
            if number != task.number:
                continue
            if what == "step":
                task.step = told
                continue
            if what == "part":
                self._take(told)
                continue
            if what == "done":
                self._take(told)
            elif what == "failed":
                self._given_up.add(task.rev)
            return

    def _started(self) -> subprocess.Popen[bytes]:
        if self._process is None or self._process.poll() is not None:
            self._process = subprocess.Popen(
                [sys.executable, "-m", "clochewright.web.bench_process"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
            )
        return self._process

    def _end(self) -> None:
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.wait()
            for pipe in (process.stdin, process.stdout):
                if pipe is not None:
                    with contextlib.suppress(OSError):
                        pipe.close()
