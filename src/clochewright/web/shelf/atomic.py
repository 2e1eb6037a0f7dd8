"""Files that are whole or not there: written beside their place, pressed to the disk, then put in it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_whole(file: Path, content: bytes) -> None:
    """Put content in place of a file in one step; whoever reads sees the old or the new, whatever happens in between.

    Raises:
        OSError: It can't be written; the old file is as it was.
    """
    handle, beside = tempfile.mkstemp(prefix=".", suffix=".part", dir=file.parent)
    part = Path(beside)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        part.chmod(0o644)
        part.replace(file)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    press_folder(file.parent)


def append_line(file: Path, line: bytes) -> None:
    """Add one line to a file and press it to the disk.

    A line that a crash left half-written is ended first, so that it spoils only itself.
    """
    new = not file.exists()
    with file.open("ab+") as out:
        end = out.seek(0, os.SEEK_END)
        if end:
            out.seek(end - 1)
            if out.read(1) != b"\n":
                out.write(b"\n")
        out.write(line + b"\n")
        out.flush()
        os.fsync(out.fileno())
    if new:
        press_folder(file.parent)


def press_folder(folder: Path) -> None:
    """Press a folder's list of names to the disk, where the system can (Windows can't, and needs not)."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sweep(folder: Path) -> None:
    """Take away what a crash left half-written."""
    for part in folder.glob(".*.part"):
        part.unlink(missing_ok=True)
