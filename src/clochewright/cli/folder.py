"""The output folder: written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from clochewright.errors import FolderError


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write these files (by path inside the folder) over what was there; other files in the folder are left alone.

    Everything is first written beside its place; only when all of it stands on the disk is anything replaced.
    FolderError, with earlier files whole, when the folder can't be written.
    """
    waiting: list[tuple[str, Path]] = []
    try:
        for name, content in files.items():
            place = folder / name
            place.parent.mkdir(parents=True, exist_ok=True)
            handle, beside = tempfile.mkstemp(prefix=".", suffix=".part", dir=place.parent)
            waiting.append((beside, place))
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(beside).chmod(0o644)
            if place.is_dir():
                raise IsADirectoryError(f"{place} is a folder")
        for beside, place in waiting:
            Path(beside).replace(place)
    except OSError as wrong:
        reason = (wrong.strerror or str(wrong)).lower()
        raise FolderError(f"Can't write to {folder}: {reason}. Nothing was changed; choose another folder.") from wrong
    finally:
        for beside, _ in waiting:
            Path(beside).unlink(missing_ok=True)
