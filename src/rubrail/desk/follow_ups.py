"""Follow-ups: planned once on a delivery or written by hand; done, moved, dropped, taken up again, with a trail."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.db import transaction

from rubrail.answers.follow_up import follow_ups
from rubrail.answers.price import excise_standing
from rubrail.answers.price_facts import excise_facts
from rubrail.desk import clock
from rubrail.desk.audit import NOBODY, record
from rubrail.desk.editing import save_changes
from rubrail.desk.models import FollowUp, Quote, Unit, User
from rubrail.desk.models.follow import OWN, FollowState
from rubrail.desk.models.stock import Status
from rubrail.desk.standing import said_day
from rubrail.desk.stock import readable
from rubrail.sheets.sentences_follow_up import follow_up_title, follow_up_words
from rubrail.things.trailer import Trailer

FARTHEST_YEARS = 10
"""How far ahead a day may be given: past that it is a slip of the finger."""


class FollowUpError(ValueError):
    """A step that cannot be taken; the message is the sentence the person reads."""


def plan_for(*, unit: Unit, delivered: date, by: User | None, quote: Quote | None = None) -> list[FollowUp]:
    """Everything usual after a delivery, planned once: planned again, nothing is added and what there is comes back.

    Parameters
    ----------
    unit : Unit
    delivered : date
        The day it went to its buyer, taken for its first day of use.
    by : User or None
        Who delivered it.
    quote : Quote, optional
        What it was sold by.

    Raises
    ------
    FollowUpError
        If the unit no longer reads.
    """
    there = planned(unit=unit, delivered=delivered, quote=quote)
    if there:
        return there
    trailer = readable(unit)
    if trailer is None:
        raise FollowUpError(f"What is stored of unit {unit} no longer reads: correct it, then plan its follow-ups.")
    found = follow_ups(trailer=trailer, delivered=delivered, excise=_excise(trailer, quote))
    with transaction.atomic():
        FollowUp.objects.bulk_create(
            [
                FollowUp(
                    unit=unit, quote=quote, sort=one.sort, delivered=delivered, due=one.due, planned=one.due,
                    guessed=one.guessed, miles=max(one.miles, default=None), title=follow_up_title(one),
                    words=follow_up_words(one), source=one.source, created_by=by,
                )
                for one in found
            ],
            ignore_conflicts=True,  # Somebody planned the same at this moment.
        )  # fmt: skip
        made = planned(unit=unit, delivered=delivered, quote=quote)
        if made:
            more = f" and {len(made) - 1} more after the delivery of {said_day(delivered)}"
            record(by=by, action="planned", thing=made[0], more=more)
    return made


def planned(*, unit: Unit, delivered: date, quote: Quote | None) -> list[FollowUp]:
    """What was planned on this delivery already. A quote is delivered once, whatever day is given for it later."""
    usual = FollowUp.objects.filter(unit=unit).exclude(sort=OWN)
    return list(usual.filter(quote=quote) if quote else usual.filter(quote=None, delivered=delivered))


def _excise(trailer: Trailer, quote: Quote | None) -> str:
    """Standing of the federal excise tax: as the buyer's sheet had it, else as the unit alone says."""
    version = quote and quote.versions.first()
    if version:
        return version.content["rests_on"]["price"]["excise"]["standing"]
    return excise_standing(excise_facts(trailer))[0]


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


def unit_came_back(unit: Unit, *, by: User | None) -> None:
    """Nothing is owed a buyer any more whose trailer stands in the yard again: what is open is dropped."""
    for it in FollowUp.objects.filter(unit=unit, state=FollowState.OPEN).select_related("unit"):
        _end(it, FollowState.DROPPED, note="the unit came back", by=by, seen_version=it.version)


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


def may_be_planned(unit: Unit) -> bool:
    """Whether the usual follow-ups of a sold unit were never planned."""
    return unit.status == Status.SOLD and not FollowUp.objects.filter(unit=unit).exclude(sort=OWN).exists()
