"""What was made lately and may be asked for again."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Lately(Generic[K, V]):
    """Things by their keys, of which those asked for longest ago are let go; safe to ask from several threads."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[K, V] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, key: K) -> V | None:
        """What is kept under a key, if anything."""
        with self._lock:
            if key not in self._kept:
                return None
            self._kept.move_to_end(key)
            return self._kept[key]

    def put(self, key: K, value: V) -> None:
        """Keep something under a key, in place of what was there."""
        with self._lock:
            self._kept[key] = value
            self._kept.move_to_end(key)
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)

    def take(self, key: K) -> V | None:
        """What is kept under a key, which is kept no longer."""
        with self._lock:
            return self._kept.pop(key, None)

    def made(self, key: K, make: Callable[[], V]) -> V:
        """What is kept under a key, made and kept now if it was not there."""
        found = self.get(key)
        if found is None:
            found = make()
            self.put(key, found)
        return found
