"""Keys for phones: a link's key works once and gives the phone one of its own, which outlives the server."""

from __future__ import annotations

import hashlib
import json
import secrets
import threading
import time
from collections.abc import Callable
from pathlib import Path

from clochewright.web.shelf.atomic import write_whole

COOKIE = "clochewright-key"


class DoorKeys:
    """Link keys wait in memory for one use; the phones' own are kept in a file, as digests only."""

    LINK_S = 30 * 60  # a link that nobody opens is forgotten
    KEPT_S = 60 * 60 * 24 * 60  # a season in the shed
    MOST = 50

    def __init__(self, file: Path, now_s: Callable[[], float] = time.time) -> None:
        self._file, self._now_s = file, now_s
        self._lock = threading.Lock()
        self._links: dict[str, float] = {}
        self._phones: dict[str, float] = _read(file)

    def issue(self) -> str:
        """A new key for one link."""
        with self._lock:
            now = self._now_s()
            fresh = {digest: until for digest, until in self._links.items() if until > now}
            self._links = dict(list(fresh.items())[-self.MOST + 1 :])
            key = secrets.token_urlsafe(18)
            self._links[_digest(key)] = now + self.LINK_S
            return key

    def use(self, key: str) -> str | None:
        """The phone's own key for a link's, or None where the link was used, is too old or was never made."""
        with self._lock:
            until = self._links.pop(_digest(key), 0.0)
            now = self._now_s()
            if until <= now:
                return None
            token = secrets.token_urlsafe(24)
            kept = {digest: until for digest, until in self._phones.items() if until > now}
            self._phones = dict(list(kept.items())[-self.MOST + 1 :]) | {_digest(token): now + self.KEPT_S}
            write_whole(self._file, json.dumps(self._phones).encode())
            return token

    def knows(self, token: str) -> bool:
        """Whether this is the key of a phone that was let in."""
        return bool(token) and self._phones.get(_digest(token), 0.0) > self._now_s()


def _digest(key: str) -> str:
    return hashlib.sha256(key.encode()).hexdigest()


def _read(file: Path) -> dict[str, float]:
    try:
        kept = json.loads(file.read_text(encoding="utf-8"))
        return {str(digest): float(until) for digest, until in kept.items()}
    except (OSError, ValueError, AttributeError, TypeError):
        return {}
