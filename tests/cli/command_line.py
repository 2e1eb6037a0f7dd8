"""Runs the command line as a shell would: what comes out, what comes on the error stream, and the exit code."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from clochewright.cli import main

EXAMPLES = Path(__file__).parents[2] / "examples"


@dataclass(frozen=True)
class Ran:
    """What one call left behind."""

    code: int
    out: str
    err: str


def run_here(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *words: str | Path) -> Ran:
    """Call the command line in this process; a traceback fails the test by itself."""
    monkeypatch.setattr(sys, "argv", ["clochewright", *map(str, words)])
    capsys.readouterr()
    with pytest.raises(SystemExit) as left:
        main()
    said = capsys.readouterr()
    code = left.value.code
    assert isinstance(code, int)
    return Ran(code, said.out, said.err)


def run_apart(*words: str | Path, **environment: str) -> Ran:
    """Call it in a process of its own."""
    call = "from clochewright.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", call, *map(str, words)],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, **environment},
        check=False,
    )
    return Ran(done.returncode, done.stdout, done.stderr)


def files_in(folder: Path) -> dict[str, bytes]:
    """Every file under a folder, by its path in it."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}
