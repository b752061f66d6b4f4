"""Which of several files holds on a day."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Protocol, TypeVar


class Dated(Protocol):
    """A file with days it holds between; open where there is none."""

    id: str
    effective: date | None
    until: date | None


T = TypeVar("T", bound=Dated)


def in_force(files: Iterable[T], *, on: date) -> T | None:
    """The latest of the files that hold on a day; nothing where none does."""
    there = [f for f in files if (f.effective or date.min) <= on and (f.until is None or on <= f.until)]
    return max(there, key=lambda f: (f.effective or date.min, f.id), default=None)
