"""The bench's own process: plans come in on its standard input, jobs go out, so that no long job holds up the page.

Run as `python -m clochewright.web.bench_process`. Each way goes one pickled message after another, between these two
processes only. It ends when its input does.
"""

from __future__ import annotations

import contextlib
import os
import pickle
import queue
import sys
import threading
from pathlib import Path
from typing import Any, BinaryIO


class _StoppedError(Exception):
    """A later edit came."""


def main() -> None:
    """Work off one plan after another until the input ends."""
    if hasattr(os, "nice"):
        os.nice(10)  # whoever is typing comes first
    out = sys.stdout.buffer
    sys.stdout = sys.stderr  # nothing but messages on the way back
    waiting: queue.Queue[tuple[int, str, str] | None] = queue.Queue()
    stopped: set[int] = set()
    threading.Thread(target=_listen, args=(sys.stdin.buffer, waiting, stopped), daemon=True).start()
    from clochewright.web.working import work_in_full, work_season  # once it listens

    while (task := waiting.get()) is not None:
        number, text, folder = task

        def watch(step: str, number: int = number) -> None:
            if number in stopped:
                raise _StoppedError
            _tell(out, (number, "step", step))

        def counted(done: int, whole: int, number: int = number) -> None:
            if number in stopped:
                raise _StoppedError
            if done % 4 == 0:
                _tell(out, (number, "step", f"season {100 * done // whole}"))

        try:
            worked = work_in_full(text, Path(folder), watch)
            if worked.growing:  # a second or more: what there is goes ahead
                _tell(out, (number, "part", worked))
                worked = work_season(worked, Path(folder), counted, watch)
            _tell(out, (number, "done", worked))
        except _StoppedError:
            _tell(out, (number, "stopped", None))
        except Exception as wrong:  # a mistake in the program: the page keeps its quick answer, the process goes on
            _tell(out, (number, "failed", repr(wrong)))
        stopped.discard(number)


def _listen(source: BinaryIO, waiting: queue.Queue[tuple[int, str, str] | None], stopped: set[int]) -> None:
    while True:
        try:
            message: Any = pickle.load(source)
        except (EOFError, pickle.UnpicklingError, OSError):
            waiting.put(None)
            return
        if message[0] == "stop":
            stopped.add(message[1])
        else:
            waiting.put(message[1:])


def _tell(out: BinaryIO, message: tuple[int, str, Any]) -> None:
    pickle.dump(message, out, protocol=pickle.HIGHEST_PROTOCOL)
    out.flush()


if __name__ == "__main__":
    with contextlib.suppress(BrokenPipeError):  # whoever asked has gone
        main()
