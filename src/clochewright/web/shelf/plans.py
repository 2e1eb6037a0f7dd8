"""The folder of plan files. A plan's file is the truth; beside it, out of sight, lie its journal and its ticks.

    folder/bed-4.toml              the plan, for any text editor
    folder/.kept/bed-4/versions    its journal
    folder/.kept/bed-4/ticks.json  what is cut

A save writes the plan first and the journal after it. Whatever stands in the plan's file and not at the journal's head
was put there by hand, or by a save that a crash cut short: it is taken in as a version. So nothing is ever lost.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from clochewright.errors import FolderError
from clochewright.findings import word
from clochewright.web.shelf.atomic import sweep, write_whole
from clochewright.web.shelf.bench import Bench
from clochewright.web.shelf.names import free_key, is_key, slug
from clochewright.web.shelf.versions import Journal, Version, add_line, read_journal

MOST_BYTES = 1_000_000
_KEPT = ".kept"


class ShelfError(FolderError):
    """A plan that isn't there or can't be read; `missing` where it isn't there."""

    def __init__(self, sentence: str, *, missing: bool = False) -> None:
        super().__init__(sentence)
        self.missing = missing


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """One plan as it stands: its key, its text, and whether there is something to undo or redo."""

    key: str
    text: str
    version: int
    can_undo: bool
    can_redo: bool


@dataclass
class _Place:
    """Where one plan lies, the lock that whoever touches it holds, and its journal as last read."""

    file: Path
    kept: Path
    lock: threading.RLock
    journal: Journal | None = None
    stamp: tuple[int, int] | None = None
    bench: Bench | None = None


class Shelf:
    """Plans in one folder; several people may use it at once, each plan one at a time."""

    def __init__(self, folder: Path, now_s: Callable[[], float] = time.time) -> None:
        """Open the folder, making it where it isn't there.

        Raises:
            FolderError: It can't be made or written.
        """
        self.folder, self._now_s = folder, now_s
        try:
            (folder / _KEPT).mkdir(parents=True, exist_ok=True)
            sweep(folder)
            for kept in (folder / _KEPT).iterdir():
                if kept.is_dir():
                    sweep(kept)
        except OSError as wrong:
            reason = (wrong.strerror or str(wrong)).lower()
            raise FolderError(f"Can't keep plans in {folder}: {reason}. Choose another folder.") from None
        self._lock = threading.Lock()
        self._places: dict[str, _Place] = {}

    @property
    def phones_file(self) -> Path:
        """Where the keys of phones are kept."""
        return self.folder / _KEPT / "phones.json"

    def all_keys(self) -> tuple[str, ...]:
        """The keys of all plans, in the order of their files' names."""
        return tuple(self._files())

    def begin(self, name: str, text: str, what: str) -> str:
        """Put a new plan on the shelf; its key is made from its name."""
        with self._lock:
            taken = set(self._files())
            key = free_key(name, lambda key: key in taken or (self.folder / f"{key}.toml").exists())
            place = self._place_at(key, self.folder / f"{key}.toml")
            with self._writing():
                write_whole(place.file, text.encode())
        with place.lock, self._writing():
            journal = self._journal(place)
            add_line(_journal_file(place), journal, journal.next_line(text, what, self._now_s()))
            self._note_stamp(place)
        return key

    def read(self, key: str) -> KeptPlan:
        """A plan as it stands; what was put there by hand is taken in as a version.

        Raises:
            ShelfError: There is none, or its file can't be read as text.
        """
        place = self._place(key)
        with place.lock:
            return self._read(key, place)

    def save(self, key: str, change: Callable[[str], tuple[str, str]]) -> KeptPlan:
        """Change a plan: `change` gets its text and gives the new text and what was done, or raises.

        The new text is on the disk when this returns. A change that leaves the text as it is keeps no version.

        Raises:
            ShelfError: There is no such plan.
            FolderError: The disk would not take it; nothing is changed.
        """
        place = self._place(key)
        with place.lock:
            before = self._read(key, place)
            text, what = change(before.text)
            if text == before.text:
                return before
            with self._writing():
                write_whole(place.file, text.encode())
                journal = self._journal(place)
                add_line(_journal_file(place), journal, journal.next_line(text, what, self._now_s()))
            self._note_stamp(place)
            return self._told(key, text, journal)

    def keep_beside(self, name: str, content: bytes) -> None:
        """Put a file beside the plans, whole or not at all; `name` is one of ours, never one that was sent.

        Raises:
            FolderError: The disk would not take it.
        """
        with self._writing():
            write_whole(self.folder / name, content)

    def undo(self, key: str) -> KeptPlan:
        """Go back one version; where there is none, nothing happens."""
        return self._step(key, "undo")

    def redo(self, key: str) -> KeptPlan:
        """Go forth again."""
        return self._step(key, "redo")

    def versions(self, key: str) -> tuple[Version, ...]:
        """All versions that are kept, newest first."""
        place = self._place(key)
        with place.lock:
            self._read(key, place)
            journal = self._journal(place)
            return tuple(journal.versions[number] for number in sorted(journal.versions, reverse=True))

    def restore(self, key: str, number: int, what: str) -> KeptPlan:
        """Bring back an earlier version, as a new one.

        Raises:
            ShelfError: There is no such version.
        """
        versions = {version.number: version for version in self.versions(key)}
        if number not in versions:
            raise ShelfError(word("web.refused.no-version"), missing=True)
        return self.save(key, lambda _: (versions[number].text, what))

    @contextmanager
    def bench(self, key: str) -> Iterator[Bench]:
        """The workshop's ticks of a plan, held until one is done with them."""
        place = self._place(key)
        with place.lock:
            if place.bench is None:
                place.bench = Bench(place.kept / "ticks.json")
            with self._writing():
                place.kept.mkdir(exist_ok=True)
                yield place.bench

    def _step(self, key: str, way: str) -> KeptPlan:
        place = self._place(key)
        with place.lock:
            before = self._read(key, place)
            if not (before.can_undo if way == "undo" else before.can_redo):
                return before
            journal = self._journal(place)
            assert journal.now is not None
            target = journal.now.parent if way == "undo" else journal.ahead[-1]
            assert target is not None
            text = journal.versions[target].text
            with self._writing():
                write_whole(place.file, text.encode())
                add_line(_journal_file(place), journal, {"do": way})
            self._note_stamp(place)
            return self._told(key, text, journal)

    def _read(self, key: str, place: _Place) -> KeptPlan:
        text = _text_of(place.file)
        journal = self._journal(place)
        if journal.now is None or journal.now.text != text:
            with self._writing():
                what = word("web.change.found")
                add_line(_journal_file(place), journal, journal.next_line(text, what, self._now_s()))
            self._note_stamp(place)
        return self._told(key, text, journal)

    def _told(self, key: str, text: str, journal: Journal) -> KeptPlan:
        return KeptPlan(key, text, journal.head or 0, journal.can_undo, bool(journal.ahead))

    def _journal(self, place: _Place) -> Journal:
        """The journal, read again only where it has changed on the disk."""
        stamp = _stamp(_journal_file(place))
        if place.journal is None or stamp != place.stamp:
            with self._writing():
                place.kept.mkdir(exist_ok=True)
            place.journal, place.stamp = read_journal(_journal_file(place)), stamp
        return place.journal

    def _note_stamp(self, place: _Place) -> None:
        place.stamp = _stamp(_journal_file(place))

    def _place(self, key: str) -> _Place:
        if is_key(key):
            file = self.folder / f"{key}.toml"
            if not _is_plain_file(file):
                found = self._files().get(key)
                if found is None:
                    raise ShelfError(word("web.refused.no-plan"), missing=True)
                file = found
            with self._lock:
                return self._place_at(key, file)
        raise ShelfError(word("web.refused.no-plan"), missing=True)

    def _place_at(self, key: str, file: Path) -> _Place:
        place = self._places.get(key)
        if place is None or place.file != file:
            place = self._places[key] = _Place(file, self.folder / _KEPT / key, threading.RLock())
        return place

    def _files(self) -> dict[str, Path]:
        """Every plan file by its key; one that was put there under another name gets a key made from it."""
        with self._reading():
            files = sorted(file for file in self.folder.glob("*.toml") if _is_plain_file(file))
        named = {file.stem: file for file in files if is_key(file.stem)}
        for file in files:
            if not is_key(file.stem):
                named[free_key(slug(file.stem), named.__contains__)] = file
        return dict(sorted(named.items()))

    @contextmanager
    def _writing(self) -> Iterator[None]:
        try:
            yield
        except FolderError:
            raise
        except OSError as wrong:
            reason = (wrong.strerror or str(wrong)).lower()
            raise FolderError(word("web.refused.busy", why=reason)) from None

    _reading = _writing


def _journal_file(place: _Place) -> Path:
    return place.kept / "versions"


def _stamp(file: Path) -> tuple[int, int] | None:
    try:
        told = file.stat()
    except OSError:
        return None
    return told.st_mtime_ns, told.st_size


def _is_plain_file(file: Path) -> bool:
    """A file of its own: no folder, and no link that leads out of the shelf."""
    return file.is_file() and not file.is_symlink()


def _text_of(file: Path) -> str:
    try:
        with file.open("rb") as opened:
            data = opened.read(MOST_BYTES + 1)
        if len(data) > MOST_BYTES:
            raise ShelfError(word("web.refused.unread"))
        return data.decode("utf-8-sig")
    except FileNotFoundError:
        raise ShelfError(word("web.refused.no-plan"), missing=True) from None
    except (OSError, UnicodeDecodeError):
        raise ShelfError(word("web.refused.unread")) from None
