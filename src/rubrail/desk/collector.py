"""Let Python's collector of circular garbage rest while much is made that all stays and holds no circles."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock

_lock = Lock()
_resting = 0


@contextmanager
def at_rest() -> Iterator[None]:
    """Pause the collector, which would look through everything made so far again and again.

    It goes on when the last of those who let it rest is done, whatever happened to them.
    """
    global _resting
    with _lock:
        _resting += 1
        gc.disable()
    try:
        yield
    finally:
        with _lock:
            _resting -= 1
            if not _resting:
                gc.enable()
