"""Follow-ups: written by hand; done, moved, dropped, taken up again, with a trail."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from django.db import transaction

from rubrail.desk import clock
from rubrail.desk.audit import NOBODY, record
from rubrail.desk.editing import save_changes
from rubrail.desk.follow_plan import FollowUpError
from rubrail.desk.models import FollowUp, Quote, Unit, User
from rubrail.desk.models.follow import CAME_BACK, OWN, UNDONE, USUAL, FollowState
from rubrail.desk.standing import said_day

FARTHEST_YEARS = 10
"""How far ahead a day may be given: past that it is a slip of the finger."""


def add(*, unit: Unit, due: date, title: str, words: str = "", quote: Quote | None = None, by: User) -> FollowUp:
    """One more, written by hand.

    Raises
    ------
    FollowUpError
        If the day is past, or too far off.
    """
    _check_day(due)
    with transaction.atomic():
        it = FollowUp.objects.create(
            unit=unit, quote=quote, due=due, planned=due, title=title, words=words, created_by=by
        )
        record(by=by, action="added", thing=it, more=f", due {said_day(due)}")
    return it


def finish(it: FollowUp, *, note: str = "", by: User, seen_version: int) -> None:
    """It was done today.

    Raises
    ------
    FollowUpError, StaleError
        If it is not open, or somebody saved it meanwhile.
    """
    _end(it, FollowState.DONE, note=note, by=by, seen_version=seen_version)


def drop(it: FollowUp, *, why: str, by: User, seen_version: int) -> None:
    """Nothing comes of it, for a reason.

    Raises
    ------
    FollowUpError, StaleError
        If no reason is given, it is not open, or somebody saved it meanwhile.
    """
    if not why:
        raise FollowUpError("Why: say in a few words why nothing comes of it.")
    _end(it, FollowState.DROPPED, note=why, by=by, seen_version=seen_version)


def move(it: FollowUp, *, to: date, why: str = "", by: User, seen_version: int) -> None:
    """It is due another day.

    Raises
    ------
    FollowUpError, StaleError
        If it is not open, the day is past, too far off or the same, or somebody saved it meanwhile.
    """
    _must_be(it, FollowState.OPEN)
    _check_day(to)
    if to == it.due:
        raise FollowUpError(f"Due: it is due on {said_day(to)} already; give another day.")
    was = said_day(it.due)
    more = f" to {said_day(to)}" + _because(why)
    # A day somebody chose is no guess any more.
    _save(it, {"due": to, "guessed": False}, by=by, seen_version=seen_version)
    record(by=by, action="moved", thing=it, more=more, field="due", old=was, new=said_day(to))


def units_came_back(units: Iterable[Unit], *, by: User | None) -> None:
    """Nothing is owed buyers any more whose trailers stand in the yard again: what is open is dropped.

    What was done or dropped before is a record of that sale, and plans nothing of the next one.
    """
    theirs = FollowUp.objects.filter(unit__in=list(units))
    theirs.filter(USUAL & ~UNDONE).exclude(state=FollowState.OPEN).update(sort=OWN)
    for it in theirs.filter(state=FollowState.OPEN).select_related("unit"):
        _end(it, FollowState.DROPPED, note=CAME_BACK, by=by, seen_version=it.version)


def take_up(it: FollowUp, *, by: User, seen_version: int) -> None:
    """It is open again: it was ended by mistake.

    Raises
    ------
    FollowUpError, StaleError
        If it is open, or somebody saved it meanwhile.
    """
    _must_be(it, FollowState.DONE, FollowState.DROPPED)
    values = {"state": FollowState.OPEN, "ended": None, "ended_by": "", "note": ""}
    _save(it, values, by=by, seen_version=seen_version)
    record(by=by, action="taken up", thing=it)


def _end(it: FollowUp, state: FollowState, *, note: str, by: User | None, seen_version: int) -> None:
    _must_be(it, FollowState.OPEN)
    values = {"state": state, "ended": clock.today(), "ended_by": by.name if by else NOBODY, "note": note}
    _save(it, values, by=by, seen_version=seen_version)
    record(by=by, action=str(state.value), thing=it, more=_because(note))


def _save(it: FollowUp, values: dict[str, Any], *, by: User | None, seen_version: int) -> None:
    """Save a change that calendars must be told of too."""
    save_changes(it, values=values | {"turns": it.turns + 1}, deltas=(), by=by, seen_version=seen_version)


def _because(note: str) -> str:
    return f": {note.rstrip('.')}" if note else ""


def _must_be(it: FollowUp, *states: FollowState) -> None:
    if it.state not in states:
        raise FollowUpError(f"This is {it.get_state_display()} already; nothing was changed.")


def _check_day(day: date) -> None:
    today = clock.today()
    if day < today:
        raise FollowUpError(f"Due: {said_day(day)} has passed; give today or a later day.")
    if day.year > today.year + FARTHEST_YEARS:
        raise FollowUpError(f"Due: {said_day(day)} is too far off; give a day within {FARTHEST_YEARS} years.")
