"""Follow-ups planned by themselves: from a delivery, or from a sale until the day of delivery is entered."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from django.db import transaction
from django.db.models import Exists, F, OuterRef, QuerySet
from django.utils import timezone

from rubrail.answers.follow_up import FollowUp as Said
from rubrail.answers.follow_up import follow_ups
from rubrail.answers.price import excise_standing
from rubrail.answers.price_facts import excise_facts
from rubrail.desk import clock
from rubrail.desk.audit import record
from rubrail.desk.models import FollowUp, Quote, Unit, User
from rubrail.desk.models.follow import UNDONE, USUAL, FollowState
from rubrail.desk.models.stock import Status
from rubrail.desk.standing import promised_to, said_day
from rubrail.desk.stock import readable
from rubrail.sheets.sentences_follow_up import follow_up_title, follow_up_words
from rubrail.things.trailer import Trailer

LONG_AGO_DAYS = 60
"""From a sale that is entered late, nothing is planned that fell due so long ago. [day]"""


class FollowUpError(ValueError):
    """A step that cannot be taken; the message is the sentence the person reads."""


def plan_for(*, unit: Unit, delivered: date, by: User | None, quote: Quote | None = None) -> list[FollowUp]:
    """Everything usual after a delivery, planned once: planned again, nothing is added and what there is comes back.

    What was planned from the sale before the day of delivery was known moves to its days from the delivery.

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
    waiting = list(undated(unit))
    there = planned(unit=unit, delivered=delivered, quote=quote)
    if there and not waiting:
        return there
    found = _found(unit, day=delivered, quote=quote)
    with transaction.atomic():
        _move(waiting, found, delivered=delivered, quote=quote, by=by)
        _make(unit, found, delivered=delivered, quote=quote, by=by)
        made = planned(unit=unit, delivered=delivered, quote=quote)
        if made and not waiting:
            more = f" and {len(made) - 1} more after the delivery of {said_day(delivered)}"
            record(by=by, action="planned", thing=made[0], more=more)
    return made


def plan_from_sale(*, unit: Unit, sold: date, by: User | None) -> list[FollowUp]:
    """The same from the day of a sale, until somebody enters the day it went to its buyer.

    Parameters
    ----------
    unit : Unit
    sold : date
    by : User or None

    Raises
    ------
    FollowUpError
        If the unit no longer reads.
    """
    there = list(undated(unit))
    if there:
        return there
    quote = promised_to(unit)
    since = clock.today() - timedelta(days=LONG_AGO_DAYS)
    found = [one for one in _found(unit, day=sold, quote=quote) if one.due >= since]
    with transaction.atomic():
        _make(unit, found, delivered=None, quote=quote, by=by)
        made = list(undated(unit))
        if made:
            more = f" and {len(made) - 1} more after the sale of {said_day(sold)}"
            record(by=by, action="planned", thing=made[0], more=more)
    return made


def sold_otherwise(quote: Quote) -> None:
    """A quote came to nothing: what was planned from the sale of its unit is owed somebody else, not its buyer."""
    FollowUp.objects.filter(quote=quote).undated().update(quote=None, **_told())


def undated(unit: Unit) -> QuerySet[FollowUp]:
    """What was planned from the sale of a unit, whose day of delivery nobody entered."""
    return FollowUp.objects.filter(unit=unit).undated()


def planned(*, unit: Unit, delivered: date, quote: Quote | None) -> list[FollowUp]:
    """What was planned on this delivery already. A quote is delivered once, whatever day is given for it later."""
    usual = FollowUp.objects.filter(USUAL & ~UNDONE, unit=unit).exclude(delivered=None)
    return list(usual.filter(quote=quote) if quote else usual.filter(quote=None, delivered=delivered))


def may_be_planned(unit: Unit) -> bool:
    """Whether a unit is sold, and the day it went to its buyer would plan its usual follow-ups or move them."""
    if unit.status != Status.SOLD:
        return False
    return undated(unit).exists() or not FollowUp.objects.filter(USUAL & ~UNDONE, unit=unit).exists()


def unplanned() -> QuerySet[Unit]:
    """Units that are sold and have no usual follow-ups, the latest sold first: a list told of them, or an old file."""
    usual = FollowUp.objects.filter(USUAL & ~UNDONE, unit=OuterRef("pk"))
    sold = Unit.objects.filter(~Exists(usual), status=Status.SOLD)
    return sold.order_by(F("status_since").desc(nulls_last=True), "pk")


def plan_from_sales(units: Sequence[Unit], *, sold: date | None, by: User | None) -> tuple[int, list[Unit]]:
    """The same as ``plan_from_sale`` for many units: for how many, and those that no longer read.

    Parameters
    ----------
    units : sequence of Unit
    sold : date or None
        Day of their sale; else each counts from the day it is sold since.
    by : User or None
    """
    planned, unread = 0, []
    with transaction.atomic():
        for unit in units:
            try:
                plan_from_sale(unit=unit, sold=sold or unit.status_since or clock.today(), by=by)
                planned += 1
            except FollowUpError:
                unread.append(unit)
    return planned, unread


def _found(unit: Unit, *, day: date, quote: Quote | None) -> Sequence[Said]:
    trailer = readable(unit)
    if trailer is None:
        raise FollowUpError(f"What is stored of unit {unit} no longer reads: correct it, then plan its follow-ups.")
    return follow_ups(trailer=trailer, delivered=day, excise=_excise(trailer, quote))


def _make(unit: Unit, found: Sequence[Said], *, delivered: date | None, quote: Quote | None, by: User | None) -> None:
    there = FollowUp.objects.filter(USUAL, unit=unit, delivered=delivered)
    if delivered is None:
        there = there.undated()
    else:
        # Sold and brought back on one day, and sold again: the same are owed again.
        again = {"state": FollowState.OPEN, "ended": None, "ended_by": "", "note": "", "quote": quote}
        there.filter(UNDONE).update(**again, **_told())
    have = set(there.values_list("sort", "miles"))
    rows = [
        FollowUp(
            unit=unit, quote=quote, delivered=delivered, due=one.due, planned=one.due, created_by=by, **_of(one),
        )
        for one in found if (one.key, _miles(one)) not in have
    ]  # fmt: skip
    # Somebody may have planned the same at this moment.
    FollowUp.objects.bulk_create(rows, ignore_conflicts=True)


def _move(
    waiting: Sequence[FollowUp], found: Sequence[Said], *, delivered: date, quote: Quote | None, by: User | None
) -> None:
    """Date what was planned from the sale by the delivery; a day that somebody chose stays."""
    if not waiting:
        return
    now = {(one.key, _miles(one)): one for one in found}
    there = FollowUp.objects.filter(USUAL, unit=waiting[0].unit_id, delivered=delivered)
    there.filter(UNDONE).update(delivered=None)  # It went on that day before, and came back on it.
    have = set(there.values_list("sort", "miles"))
    for it in waiting:
        if (it.sort, it.miles) in have:
            continue
        one = now.get((it.sort, it.miles))
        values: dict[str, Any] = {"delivered": delivered, "quote": quote or it.quote}
        if one is not None and it.state == FollowState.OPEN:
            values |= {"planned": one.due} | _of(one)
            if it.due == it.planned:
                values["due"] = one.due
            else:
                values["guessed"] = False
        FollowUp.objects.filter(pk=it.pk).update(**values, **_told())
        if values.get("due", it.due) != it.due:
            was, to = said_day(it.due), said_day(values["due"])
            more = f" to {to}: it went to its buyer on {said_day(delivered)}"
            record(by=by, action="moved", thing=it, more=more, field="due", old=was, new=to)


def _told() -> dict[str, Any]:
    """What changes with every change that calendars, and people who have it open, must be told of."""
    return {"turns": F("turns") + 1, "version": F("version") + 1, "updated": timezone.now()}


def _of(one: Said) -> dict[str, Any]:
    return {
        "sort": one.key,
        "guessed": one.guessed,
        "miles": _miles(one),
        "title": follow_up_title(one),
        "words": follow_up_words(one),
        "source": one.source,
    }


def _miles(one: Said) -> int | None:
    return max(one.miles, default=None)


def _excise(trailer: Trailer, quote: Quote | None) -> str:
    """Standing of the federal excise tax: as the buyer's sheet had it, else as the unit alone says."""
    version = quote and quote.versions.first()
    if version:
        return version.content["rests_on"]["price"]["excise"]["standing"]
    return excise_standing(excise_facts(trailer))[0]
