"""Rows of the first page: a sentence, where to go, how pressing, and who may read it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from rubrail.desk.today.press import LATE, PRESSES, SOON, press_of, press_words

MOST = 5
"""Rows of one topic; what is beyond them is told in one row more."""


@dataclass(frozen=True, slots=True)
class Asked:
    """Whose page it is, and when: the yard's day, and what the person may do."""

    today: date
    may: Callable[[str], bool]

    def on(self, day: date) -> tuple[str, str]:
        """How pressing something due on a day is, and in words."""
        return press_of(day, today=self.today), press_words(day, today=self.today)


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that needs a hand.

    key : its name for all time, by which a person puts it off; says : one sentence; url, does : where to go, and what
    one does there; press, press_says : how pressing, and in words; day : what rows of one press are ordered by;
    note : a second sentence, small; over : whether something is over a limit or held back
    """

    key: str
    says: str
    url: str
    does: str
    press: str = SOON
    press_says: str = ""
    day: date | None = None
    note: str = ""
    over: bool = False

    @property
    def stays(self) -> bool:
        """Whether it is shown however long the list is: what is late, or over a limit, is never one of "5 more"."""
        return self.press == LATE or self.over

    @property
    def press_words(self) -> str:
        """How pressing in words; what has no day of its own can be done any day."""
        return self.press_says or ("any day" if self.press == SOON else self.press)


@dataclass(frozen=True, slots=True)
class Topic:
    """A reason to be on the page: its heading there, the permission it asks for, and how its rows are found."""

    key: str
    group: str
    needs: str
    rows: Callable[[Asked], Sequence[Row]]


def at_most(rows: Sequence[Row], *, rest: Callable[[int], Row], most: int = MOST) -> list[Row]:
    """The first rows, those that stay, and one that tells of the others, as pressing as the first of them."""
    shown, others = parted(rows, most=most)
    if not others:
        return shown
    told, press = rest(len(others)), min((r.press for r in others), key=PRESSES.index)
    if PRESSES.index(press) < PRESSES.index(told.press):
        told = replace(told, press=press)
    return [*shown, told]


def parted(rows: Sequence[Row], *, most: int) -> tuple[list[Row], list[Row]]:
    """The first rows with those that stay, and the others; a single other is shown rather than told of."""
    others = [row for row in rows[most:] if not row.stays]
    if len(others) <= 1:
        return list(rows), []
    return [*rows[:most], *(row for row in rows[most:] if row.stays)], others


def many(count: int, one: str, more: str = "") -> str:
    """A count with its noun: ``1 unit``, ``12 units``."""
    return f"{count:,} {one if count == 1 else more or f'{one}s'}"
