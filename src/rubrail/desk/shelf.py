"""What is dear to make and asked for again: the latest of it, kept in memory."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from threading import Lock
from typing import Generic, TypeVar

T = TypeVar("T")


class Shelf(Generic[T]):
    """The latest things made, by a key that names everything they rest on; safe among the server's threads."""

    def __init__(self, size: int) -> None:
        self._size = size
        self._kept: OrderedDict[Hashable, T] = OrderedDict()
        self._lock = Lock()

    def get(self, key: Hashable) -> T | None:
        """The thing of that key, or nothing."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)

    def clear(self) -> None:
        """Keep nothing."""
        with self._lock:
            self._kept.clear()

    def put(self, key: Hashable, thing: T) -> None:
        """Keep a thing; the one longest not asked for goes where there is no room."""
        with self._lock:
            self._kept[key] = thing
            while len(self._kept) > self._size:
                self._kept.popitem(last=False)
