"""Begin a receipt for an expected unit or for one nobody ordered, correct its head, or give it up."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from rubrail.desk import clock
from rubrail.desk.audit import Delta, record
from rubrail.desk.editing import save_changes
from rubrail.desk.models import Order, Receipt, Unit, User
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.models.sales import OrderStatus
from rubrail.desk.models.stock import GONE, STOCK_NUMBER, Status
from rubrail.desk.numbering import next_number
from rubrail.desk.standing import BY_KEY, said_day, take_step
from rubrail.desk.stock import add_unit, put_together
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer

HEAD = (("carrier", "carrier", 120), ("bill", "bill of lading", 60), ("driver", "driver", 120))
"""Texts of a receipt's head: column, label, most characters."""
COUPLINGS = (("ball", "ball coupler"), ("gooseneck", "gooseneck"), ("kingpin", "kingpin"), ("pintle", "pintle eye"))
MOST_AXLES = 6


class ReceiptError(ValueError):
    """A step that cannot be taken; the message is the sentence the person reads."""


def day_fault(day: date) -> str:
    """What is wrong with the day a unit came, ``""`` for nothing."""
    return "Came on: this day has not come yet; give today or an earlier day." if day > clock.today() else ""


def open_receipt(unit: Unit) -> Receipt | None:
    """The receipt a unit is being received under."""
    return Receipt.objects.filter(unit=unit, status=ReceiptStatus.OPEN).first()


def begin(unit: Unit, *, day: date, by: User, carrier: str = "", bill: str = "", driver: str = "") -> Receipt:
    """Begin to receive a unit; what it is expected to be is kept as it is now.

    Raises
    ------
    ReceiptError
        If it is sold or retired, being received already, or the day has not come.
    """
    if unit.status in GONE:
        raise ReceiptError(f"Unit {unit} is {unit.get_status_display()}; bring it back first.")
    if fault := day_fault(day):
        raise ReceiptError(fault)
    order = Order.objects.filter(unit=unit).exclude(status=OrderStatus.DROPPED).first()
    head = {"day": day, "carrier": carrier[:120], "bill": bill[:60], "driver": driver[:120]}
    return _begun(unit, order=order, ordered=_plain(put_together(unit)), head=head, by=by)


def begin_unexpected(
    *, stock_number: str, coupling: str, axles: int, says: str, day: date, by: User, **head: str
) -> Receipt:
    """Begin to receive a unit that nobody ordered: it gets a stock number, and is expected until it is accepted.

    Parameters
    ----------
    stock_number : str
        New.
    coupling : str
        Its kind, as the file has it.
    axles : int
        Counted on the truck.
    says : str
        What it is, in plain words.

    Raises
    ------
    ReceiptError
        With what is wrong.
    """
    faults = unexpected_faults(stock_number=stock_number, coupling=coupling, axles=axles)
    if fault := day_fault(day):
        faults.append(fault)
    if faults:
        raise ReceiptError(" ".join(faults))
    table = {
        "id": stock_number,
        "status": Status.EXPECTED.value,
        "coupling": {"kind": coupling},
        "axle": [{} for _ in range(axles)],
        **({"title": says[:200]} if says else {}),
    }
    with transaction.atomic():
        try:
            unit = add_unit(read_thing(Trailer, table), by=by)
        except IntegrityError:
            raise ReceiptError(f"Stock number: another unit is {stock_number} already; choose another.") from None
        return _begun(unit, order=None, ordered={}, head={"day": day, **head}, by=by)


def unexpected_faults(*, stock_number: str, coupling: str, axles: int) -> list[str]:
    """What is wrong with the few facts of a unit nobody ordered, one sentence each."""
    faults = []
    try:
        STOCK_NUMBER(stock_number)
    except ValidationError as told:
        faults.append(f"Stock number: {told.messages[0]}")
    else:
        if Unit.objects.filter(stock_number__iexact=stock_number).exists():
            faults.append(f"Stock number: another unit is {stock_number} already; choose another.")
    if coupling not in dict(COUPLINGS):
        faults.append("Coupling: choose what it couples by.")
    if not 1 <= axles <= MOST_AXLES:
        faults.append(f"Axles: count them; 1 to {MOST_AXLES} are accepted.")
    return faults


def _begun(unit: Unit, *, order: Order | None, ordered: dict[str, Any], head: dict[str, Any], by: User) -> Receipt:
    there = open_receipt(unit)
    if there is not None:
        raise ReceiptError(f"Unit {unit} is being received already, under {there}.")
    for _ in range(5):
        try:
            with transaction.atomic():
                receipt = Receipt.objects.create(
                    number=next_number(Receipt), unit=unit, order=order, ordered=ordered, created_by=by, **head
                )
                record(by=by, action="begun", thing=receipt, more=f" for unit {unit}")
                return receipt
        except IntegrityError:
            if there := open_receipt(unit):
                raise ReceiptError(f"Unit {unit} is being received already, under {there}.") from None
    raise ReceiptError("Receipts are being begun faster than they can be numbered; try again.")


def _plain(table: dict[str, Any]) -> dict[str, Any]:
    """A unit's table as JSON holds it, without what the yard asks for it."""
    kept = {k: v for k, v in table.items() if k not in ("price_usd", "cost_usd")}
    return {k: v.isoformat() if isinstance(v, date) else v for k, v in kept.items()}


def change_head(receipt: Receipt, given: dict[str, Any], *, by: User, seen_version: int) -> None:
    """Correct carrier, bill, driver or day.

    Raises
    ------
    ReceiptError
        If it is closed, or the day has not come.
    StaleError
        If somebody saved it meanwhile.
    """
    demand_open(receipt)
    if fault := day_fault(given["day"]):
        raise ReceiptError(fault)
    values = {name: given[name] for name in ("day", *(n for n, *_ in HEAD)) if getattr(receipt, name) != given[name]}
    labels = {"day": "day it came", **{n: label for n, label, _ in HEAD}}
    deltas = [Delta(n, labels[n], _said(getattr(receipt, n)), _said(v), "yard.see") for n, v in values.items()]
    save_changes(receipt, values=values, deltas=deltas, by=by, seen_version=seen_version)


def _said(value: Any) -> str:
    return said_day(value) if isinstance(value, date) else str(value)


def demand_open(receipt: Receipt) -> None:
    """Refuse to change what is closed.

    Raises
    ------
    ReceiptError
        If it is.
    """
    if not receipt.is_open:
        raise ReceiptError(f"Receipt {receipt} is closed: {receipt.get_status_display()}. Nothing was changed.")


def give_up(receipt: Receipt, *, by: User, seen_version: int) -> None:
    """It was begun by mistake: it is kept and counts for nothing; a unit made for it alone is retired.

    Raises
    ------
    ReceiptError
        If it is closed.
    StaleError
        If somebody saved it meanwhile.
    """
    demand_open(receipt)
    unit = receipt.unit
    with transaction.atomic():
        values = {"status": ReceiptStatus.DROPPED}
        save_changes(receipt, values=values, deltas=(), by=by, seen_version=seen_version)
        record(by=by, action="dropped", thing=receipt, more=", begun by mistake")
        if not receipt.ordered and unit.status == Status.EXPECTED:
            note = f"receipt {receipt} was begun by mistake"
            take_step(unit, BY_KEY["retire"], day=clock.today(), note=note, by=by, seen_version=unit.version)
