"""An order's life: placed, sent, confirmed, arrived; or dropped. What was ordered is an expected unit of the yard."""

from __future__ import annotations

from datetime import date

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from rubrail.answers.build import Build, build_of
from rubrail.desk import clock
from rubrail.desk.audit import Delta, record
from rubrail.desk.editing import save_changes
from rubrail.desk.hauls import stored
from rubrail.desk.models import Book, Haul, Order, Unit, User
from rubrail.desk.models.sales import OrderStatus
from rubrail.desk.models.stock import STOCK_NUMBER, Status
from rubrail.desk.numbering import next_number
from rubrail.desk.standing import BY_KEY, promised_to, said_day, take_step
from rubrail.desk.stock import add_unit
from rubrail.things.catalog import Catalog
from rubrail.things.door import read_thing

OPEN = (OrderStatus.OPEN, OrderStatus.SENT, OrderStatus.CONFIRMED)
"""Something is still to come."""
STEPS = {
    "sent": (OrderStatus.OPEN,),
    "confirmed": (OrderStatus.SENT, OrderStatus.CONFIRMED),
    "arrived": (OrderStatus.SENT, OrderStatus.CONFIRMED),
    "dropped": OPEN,
}
"""Steps, and where each begins. A maker may confirm another day."""


class OrderError(ValueError):
    """A step that cannot be taken; the message is the sentence the person reads."""


def place(
    *,
    book: Book,
    build: Build,
    haul: Haul | None = None,
    stock_number: str = "",
    need_by: date | None = None,
    note: str = "",
    by: User,
) -> Order:
    """Order a build; it becomes an expected unit of the yard at the build's price and cost.

    Parameters
    ----------
    stock_number : str
        What the unit is to be called; the order's number where left empty.

    Raises
    ------
    OrderError
        If the stock number is none, or another unit's.
    """
    for _ in range(5):
        number = next_number(Order)
        called = stock_number or number
        _check_stock_number(called)
        try:
            with transaction.atomic():
                trailer = build.trailer.model_copy(
                    update={"id": called, "status": Status.EXPECTED.value, "cost_usd": build.cost_usd}
                )
                unit = add_unit(trailer, by=by)
                order = Order.objects.create(
                    number=number, book=book, model=build.model.id, options=[o.id for o in build.options],
                    content=content_of(build), haul=haul, unit=unit, need_by=need_by, note=note,
                    price_usd=build.price_usd, cost_usd=build.cost_usd, created_by=by,
                )  # fmt: skip
                record(by=by, action="added", thing=order)
                return order
        except IntegrityError:
            continue  # Somebody took the number meanwhile.
    raise OrderError("Orders are being made faster than they can be numbered; try again.")


def _check_stock_number(text: str) -> None:
    try:
        STOCK_NUMBER(text)
    except ValidationError as told:
        raise OrderError(f"Stock number: {told.messages[0]}") from None
    if Unit.objects.filter(stock_number__iexact=text).exists():
        raise OrderError(f"Stock number: another unit is {text} already; choose another.")


def content_of(build: Build) -> dict:
    """The part of the price book a build is made from, as a book of its own: its model and its options."""
    ids = {o.id for o in build.options}
    options = tuple(
        o.model_copy(
            update={
                "models": (),
                "excludes": (),
                "requires": tuple(n for n in o.requires if n in ids),
                "requires_one_of": tuple(n for n in o.requires_one_of if n in ids),
            }
        )
        for o in build.options
    )
    groups = tuple(g for g in build.catalog.group if g.id in {o.group for o in options})
    return stored(build.catalog.model_copy(update={"model": (build.model,), "group": groups, "option": options}))


def build_in(order: Order) -> Build:
    """What was ordered, as the price book had it then.

    Raises
    ------
    Faults
        If what is stored no longer reads.
    """
    catalog = read_thing(Catalog, order.content, where=f"order {order}")
    return build_of(catalog, order.model, order.options, id=order.unit.stock_number if order.unit else "")


def send(order: Order, *, by: User, seen_version: int) -> None:
    """It went to the maker."""
    _begins(order, "sent")
    with transaction.atomic():
        save_changes(order, values={"status": OrderStatus.SENT}, deltas=(), by=by, seen_version=seen_version)
        record(by=by, action="sent", thing=order)


def confirm(order: Order, *, expected: date | None, by: User, seen_version: int) -> None:
    """The maker confirmed it, for a day or for none yet; confirming again changes the day.

    Raises
    ------
    OrderError
        If it was not sent, or the day has passed.
    """
    _begins(order, "confirmed")
    if expected is not None and expected < clock.today():
        raise OrderError(f"Expected on: {said_day(expected)} has passed; give today or a later day.")
    again = order.status == OrderStatus.CONFIRMED
    was, now = (said_day(d) if d else "" for d in (order.expected, expected))
    deltas = [Delta("expected", "day expected", was, now, "quote.see")] if again else []
    values = {"status": OrderStatus.CONFIRMED, "expected": expected}
    with transaction.atomic():
        save_changes(order, values=values, deltas=deltas, by=by, seen_version=seen_version)
        if not again:
            record(by=by, action="confirmed", thing=order, more=f", expected {now}" if now else "")


def arrive(order: Order, *, day: date, by: User, seen_version: int) -> None:
    """It came: the unit stands in the yard, held at once where a buyer's accepted quote waits for it.

    Raises
    ------
    OrderError
        If it was not sent, or the day has not come.
    """
    _begins(order, "arrived")
    if day > clock.today():
        raise OrderError("Came on: this day has not come yet; give today or an earlier day.")
    unit = order.unit
    with transaction.atomic():
        save_changes(order, values={"status": OrderStatus.ARRIVED}, deltas=(), by=by, seen_version=seen_version)
        record(by=by, action="arrived", thing=order)
        if unit is not None and unit.status == Status.EXPECTED:
            take_step(unit, BY_KEY["take-in"], day=day, note=f"by order {order}", by=by, seen_version=unit.version)


def drop(order: Order, *, why: str, by: User, seen_version: int) -> None:
    """Nothing comes of it: the expected unit is retired.

    Raises
    ------
    OrderError
        If the unit is promised to a buyer, or here already.
    """
    _begins(order, "dropped")
    unit = order.unit
    if unit is not None and (quote := promised_to(unit)):
        raise OrderError(f"Unit {unit} is promised by quote {quote}: close that first.")
    if unit is not None and unit.status not in (Status.EXPECTED, Status.RETIRED):
        raise OrderError(f"Unit {unit} is {unit.get_status_display()}: it came, so the order cannot be dropped.")
    with transaction.atomic():
        save_changes(order, values={"status": OrderStatus.DROPPED}, deltas=(), by=by, seen_version=seen_version)
        record(by=by, action="dropped", thing=order, more=f": {why.rstrip('.')}" if why else "")
        if unit is not None and unit.status == Status.EXPECTED:
            note = f"order {order} was dropped"
            take_step(unit, BY_KEY["retire"], day=clock.today(), note=note, by=by, seen_version=unit.version)


def _begins(order: Order, step: str) -> None:
    if order.status not in STEPS[step]:
        raise OrderError(f"Order {order} is {order.get_status_display()}; it cannot be {step} now.")
