"""The output folder: written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path

from clochewright.errors import FolderError


def write_folder(folder: Path, files: Mapping[str, bytes], outdated: Iterable[str] = ()) -> None:
    """Write these files (by path inside the folder) over what was there; other files in the folder are left alone.

    Everything is first written beside its place; only when all of it stands on the disk is anything replaced, and what
    was replaced is put back when a later file can't be.

    Args:
        folder: Where to write; made if it is not there.
        files: What to write.
        outdated: Patterns of files that an earlier job left here; those that are not in `files` are taken away.

    Raises:
        FolderError: The folder can't be written; earlier files are whole, and nothing new is left behind.
    """
    made: list[Path] = []
    waiting: list[tuple[Path, Path]] = []
    try:
        for name, content in files.items():
            place = folder / name
            if place.is_dir():
                raise IsADirectoryError(f"{name} there is a folder")
            _make(place.parent, made)
            handle, part = tempfile.mkstemp(prefix=".", suffix=".part", dir=place.parent)
            waiting.append((Path(part), place))
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(part).chmod(0o644)
        _swap(waiting)
        made.clear()
        for pattern in outdated:
            for old in folder.glob(pattern):
                if old.relative_to(folder).as_posix() not in files:
                    old.unlink()
    except (OSError, ValueError) as wrong:  # ValueError: a name with a zero byte in it
        reason = (getattr(wrong, "strerror", None) or str(wrong)).lower()
        raise FolderError(f"Can't write to {folder}: {reason}. Nothing was changed; choose another folder.") from wrong
    finally:
        for beside, _ in waiting:
            beside.unlink(missing_ok=True)
        for empty in reversed(made):
            with suppress(OSError):
                empty.rmdir()


def _make(folder: Path, made: list[Path]) -> None:
    """Make a folder and those above it, noting each that is new."""
    if not folder.is_dir():
        if folder.parent != folder:
            _make(folder.parent, made)
        folder.mkdir()
        made.append(folder)


def _swap(waiting: list[tuple[Path, Path]]) -> None:
    """Put each new file in its place; the ones that stood there come back if it fails halfway."""
    done: list[tuple[Path, Path | None]] = []
    try:
        for beside, place in waiting:
            kept = beside.with_suffix(".kept") if place.exists() else None
            if kept is not None:
                place.replace(kept)
            done.append((place, kept))
            beside.replace(place)
    except BaseException:
        for place, kept in reversed(done):
            if kept is None:
                place.unlink(missing_ok=True)
            else:
                kept.replace(place)
        raise
    for _, kept in done:
        if kept is not None:
            kept.unlink()
