"""Where a unit stands in its life on the lot, and the steps between: taken in, held, released, sold, retired, back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction

from rubrail.desk import clock
from rubrail.desk.audit import record
from rubrail.desk.editing import save_changes
from rubrail.desk.models import Quote, Unit, User
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.models.stock import GONE, ON_THE_LOT, Status
from rubrail.quantity.money import show_money

PRICE_NEEDS = "money.see"
"""Who reads, and who may say, what a unit was sold for."""


class WrongStepError(ValueError):
    """The step cannot be taken; the message says where the unit stands, or to whom it is promised."""


@dataclass(frozen=True, slots=True)
class Step:
    """One way to move a unit on.

    key : in the address; verb : on the button; says : what it comes to; begins : statuses it is taken from; to : the
    status after; action : in the trail; day : label of the day's field; note : label and help of the note's.
    """

    key: str
    verb: str
    says: str
    begins: tuple[Status, ...]
    to: Status
    action: str
    day: str
    note: str
    note_help: str = ""
    priced: bool = False
    takes_in: bool = False
    grave: bool = False


STEPS = (
    Step(
        "sell",
        "Sell",
        "A sold unit leaves the lot's list and every match. What is known of it stays, and it can be brought back.",
        ON_THE_LOT,
        Status.SOLD,
        "sold",
        "Sold on",
        "Note",
        "For the trail; everybody who sees the yard reads it.",
        priced=True,
    ),
    Step(
        "hold",
        "Hold for a buyer",
        "A held unit stays in the list, marked as held.",
        (Status.HERE,),
        Status.HELD,
        "held",
        "Held since",
        "For whom, until when",
    ),
    Step(
        "release",
        "Release",
        "It stands in the yard for everybody again.",
        (Status.HELD,),
        Status.HERE,
        "released",
        "Released on",
        "Note",
    ),
    Step(
        "take-in",
        "Take in",
        "It stands in the yard, and its days here begin to count.",
        (Status.EXPECTED,),
        Status.HERE,
        "taken in",
        "Came on",
        "Note",
        takes_in=True,
    ),
    Step(
        "bring-back",
        "Bring back",
        "It stands in the yard again, as it did before.",
        (Status.SOLD, Status.RETIRED),
        Status.HERE,
        "brought back",
        "Back since",
        "Why it is back",
    ),
    Step(
        "retire",
        "Retire",
        "A retired unit is no longer for sale: it leaves the lot's list and every match, and can be brought back.",
        ON_THE_LOT,
        Status.RETIRED,
        "retired",
        "Retired on",
        "Why",
        "Scrapped, kept by the yard, gone back to its maker.",
        grave=True,
    ),
)
BY_KEY = {step.key: step for step in STEPS}
FREES = ("release", "retire")
"""Steps that take a unit from the buyer it is promised to."""


def steps_of(unit: Unit) -> list[Step]:
    """The steps that can be taken from where a unit stands, the likely one first."""
    return [step for step in STEPS if unit.status in step.begins]


def day_fault(unit: Unit, step: Step, day: date) -> str:
    """What is wrong with the day of a step, ``""`` for nothing."""
    if day > clock.today():
        return "This day has not come yet; give today or an earlier day."
    if unit.arrived and day < unit.arrived and not step.takes_in:
        return f"It came on {said_day(unit.arrived)}; give that day or a later one."
    return ""


def take_step(
    unit: Unit,
    step: Step,
    *,
    day: date,
    note: str = "",
    sold_for_usd: Decimal | None = None,
    by: User | None,
    seen_version: int,
) -> None:
    """Move a unit on, and say so in the trail.

    Parameters
    ----------
    unit : Unit
        Updated in place as well.
    step : Step
    day : date
        When it happened.
    note : str
        In the person's words.
    sold_for_usd : Decimal, optional
        What it was sold for; told to those who may see money.
    by : User or None
        Who does it.
    seen_version : int
        Version of the unit the person had before them.

    Raises
    ------
    WrongStepError
        If the unit does not stand where the step begins, or is promised to a buyer it would be taken from.
    StaleError
        If somebody else saved the unit meanwhile; nothing is written then.
    """
    before = unit.status
    if before not in step.begins:
        raise WrongStepError(f"{unit} is {Status(before).label} already.")
    if step.key in FREES and (fault := taken_from(promised_to(unit), before=before, to=step.to)):
        raise WrongStepError(f"{unit} is {fault}.")
    was = str(Status(before).label)
    values: dict[str, Any] = {
        "status": step.to,
        "status_since": day,
        "status_note": note,
        "sold_for_usd": sold_for_usd if step.priced else None,
    }
    if step.takes_in:
        values["arrived"] = day
    when = "" if day == clock.today() else f", {said_day(day)}"
    why = f": {note.rstrip('.')}" if note else ""
    with transaction.atomic():
        save_changes(unit, values=values, deltas=(), by=by, seen_version=seen_version)
        record(by=by, action=step.action, thing=unit, more=when + why, field="status", old=was, new=str(step.to.label))
        if values["sold_for_usd"] is not None:
            price = show_money(values["sold_for_usd"])
            record(by=by, action="sold for", thing=unit, more=price, needs=PRICE_NEEDS)
        look_after([(unit, before)], day=day, by=by)


def look_after(moved: Iterable[tuple[Unit, str]], *, day: date, by: User | None, plans: bool = True) -> None:
    """What follows from units that went, came or came back, by whatever way their status was changed.

    What a sale owes its buyer is planned, and dropped where the unit stands here again. One that stands here by now
    is held where a buyer's accepted quote waits for it.

    Parameters
    ----------
    moved : iterable of (Unit, str)
        Each as it is stored now, and the status it had before.
    day : date
        Of the move.
    by : User or None
    plans : bool
        Whether a sale plans its follow-ups; else somebody is asked.
    """
    from rubrail.desk import follow_plan, follow_ups  # They say days as this module does.

    moved = list(moved)
    came_back = [unit for unit, before in moved if before in GONE and unit.status in ON_THE_LOT]
    if came_back:
        follow_ups.units_came_back(came_back, by=by)
    if came := [unit for unit, before in moved if before in (*GONE, Status.EXPECTED) and unit.status == Status.HERE]:
        _hold_promised(came, by=by)
    for unit, before in moved:
        if plans and unit.status == Status.SOLD and before != Status.SOLD:
            # A unit that no longer reads is sold all the same; its page says so, and they are planned from there.
            with suppress(follow_plan.FollowUpError):
                follow_plan.plan_from_sale(unit=unit, sold=day, by=by)


def promised_to(unit: Unit) -> Quote | None:
    """The accepted quote of a unit: to whom it is promised."""
    return unit.quotes.filter(status=QuoteStatus.ACCEPTED).first()


def promises(units: Sequence[Unit] | None = None) -> dict[int, Quote]:
    """The accepted quotes of some units, or of all, by the key of their unit; read at once."""
    found = Quote.objects.filter(status=QuoteStatus.ACCEPTED)
    return {q.unit_id: q for q in (found if units is None else found.filter(unit__in=units))}


def taken_from(quote: Quote | None, *, before: str, to: str) -> str:
    """What is wrong with another status for a unit that is promised by ``quote``, ``""`` for nothing."""
    if quote is None or before == to or to not in (Status.HERE, Status.RETIRED) or before not in ON_THE_LOT:
        return ""
    if (before, to) == (Status.EXPECTED, Status.HERE):
        return ""
    return f"promised by quote {quote}: write that off as lost or withdrawn first, and the unit is free"


def _hold_promised(units: Sequence[Unit], *, by: User | None) -> None:
    promised = promises(units)
    for unit in units:
        if unit.pk in promised:
            values = {"status": Status.HELD, "status_note": f"by quote {promised[unit.pk]}"}
            save_changes(unit, values=values, deltas=(), by=by, seen_version=unit.version)
            record(by=by, action="held", thing=unit, more=f", by quote {promised[unit.pk]}")


def said_day(day: date) -> str:
    """A day in words."""
    return f"{day:%b} {day.day}, {day.year}"
