"""Decide on a receipt: accept, accept with exceptions, refuse. All of it in one transaction, or nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.utils import timezone

from rubrail.desk import clock
from rubrail.desk.audit import Delta, record
from rubrail.desk.editing import StaleError, save_changes
from rubrail.desk.models import Order, Receipt, Unit, User
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.models.sales import OrderStatus
from rubrail.desk.models.stock import Status
from rubrail.desk.receiving.begin import ReceiptError, demand_open
from rubrail.desk.receiving.deals import Deal, deals_of, frozen
from rubrail.desk.receiving.found import ordered_trailer, taken_trailer
from rubrail.desk.receiving.report import report_of
from rubrail.desk.sales import orders
from rubrail.desk.sales.freeze import digest
from rubrail.desk.sales.freeze import frozen as frozen_sheet
from rubrail.desk.standing import BY_KEY, promised_to, said_day, take_step
from rubrail.desk.stock import change_unit
from rubrail.things.faults import Faults

OUTCOMES = {
    "accept": ReceiptStatus.ACCEPTED,
    "accept with exceptions": ReceiptStatus.EXCEPTED,
    "refuse": ReceiptStatus.REFUSED,
}
ACTION = {
    ReceiptStatus.ACCEPTED: "accepted",
    ReceiptStatus.EXCEPTED: "excepted",
    ReceiptStatus.REFUSED: "refused",
}
MOST_EXCEPTIONS = 60
MOST_LINE = 300


@dataclass(frozen=True, slots=True)
class Decision:
    """What a person decided.

    outcome : a key of ``OUTCOMES``; exceptions : lines written on the bill of lading; why : why it is refused;
    stays_expected : a refused unit is still to come; signed : by role, as ``signatures`` stores them
    """

    outcome: str
    exceptions: tuple[str, ...] = ()
    why: str = ""
    claim: str = ""
    stays_expected: bool = True
    signed: Mapping[str, Any] | None = None


def decision_faults(decision: Decision) -> list[str]:
    """What is wrong with a decision, one sentence each."""
    faults = []
    if decision.outcome not in OUTCOMES:
        faults.append("Choose: accept, accept with exceptions, or refuse.")
    if decision.outcome == "accept with exceptions" and not decision.exceptions:
        faults.append("Exceptions: write at least one line; it goes on the bill of lading before the driver leaves.")
    if decision.outcome == "accept" and decision.exceptions:
        faults.append(
            "Exceptions are written, so it is not accepted as it is: accept it with exceptions, or clear them."
        )
    if decision.outcome == "refuse" and not decision.why:
        faults.append("Why: say why it is refused; the maker and the carrier read it.")
    return faults


def close(
    receipt: Receipt, decision: Decision, *, by: User, seen_version: int, seen_unit: int, link: str = ""
) -> list[Deal]:
    """Close a receipt and do what follows from it; the deals it touched, the broken first.

    Accepted: the order arrived, the unit is taken in (held where a buyer's accepted quote waits for it) and is what
    was found. Refused: the unit stays expected, or its order is dropped and it is retired.

    Parameters
    ----------
    receipt : Receipt
    decision : Decision
    by : User
    seen_version, seen_unit : int
        Versions of the receipt and of its unit the person had before them.
    link : str
        Address printed on the report as a code.

    Raises
    ------
    ReceiptError
        If it is closed already, the decision is not whole, or a step that follows cannot be taken.
    StaleError
        If somebody saved the receipt or the unit meanwhile. Nothing is written then.
    """
    demand_open(receipt)
    if faults := decision_faults(decision):
        raise ReceiptError(" ".join(faults))
    status = OUTCOMES[decision.outcome]
    unit = Unit.objects.get(pk=receipt.unit_id)
    receipt.unit = unit
    if unit.version != seen_unit:
        raise StaleError(str(unit))
    try:
        after = taken_trailer(receipt)
    except Faults as told:
        raise ReceiptError(f"What was found does not read together: {told.faults[0].sentence}") from None
    before = ordered_trailer(receipt)
    values: dict[str, Any] = {
        "status": status,
        "exceptions": list(decision.exceptions),
        "why": decision.why,
        "claim": decision.claim,
        "signed": dict(decision.signed or {}),
        "closed": timezone.now(),
        "closed_by_id": by.pk,
    }
    deals = deals_of(unit, before=before, after=after)
    try:
        with transaction.atomic():
            save_changes(receipt, values=values, deltas=(), by=by, seen_version=seen_version)
            _tell(receipt, decision, by=by)
            if status == ReceiptStatus.REFUSED:
                _refused(receipt, unit, decision, by=by)
            else:
                _accepted(receipt, unit, by=by)
            _freeze(receipt, deals, link=link, metric=by.measures == "metric")
    except BaseException:
        # What the database took back, the record in hand must not keep.
        receipt.refresh_from_db()
        raise
    return deals


def _tell(receipt: Receipt, decision: Decision, *, by: User) -> None:
    more = f", unit {receipt.unit}"
    if decision.why and decision.outcome == "refuse":
        more += f": {decision.why.rstrip('.')}"
    record(by=by, action=ACTION[receipt.status], thing=receipt, more=more)


def _accepted(receipt: Receipt, unit: Unit, *, by: User) -> None:
    order = Order.objects.filter(pk=receipt.order_id).select_related("unit").first()
    trailer = taken_trailer(receipt, with_cost=True)
    change_unit(unit, trailer, by=by, seen_version=unit.version)
    if unit.status != Status.EXPECTED:
        return
    if order is not None and order.status == OrderStatus.OPEN:
        # It came though nobody noted that the order was sent.
        orders.send(order, by=by, seen_version=order.version)
    if order is not None and order.status in orders.STEPS["arrived"]:
        order.unit = unit
        orders.arrive(order, day=receipt.day, by=by, seen_version=order.version)
        return
    note = f"by receipt {receipt}"
    take_step(unit, BY_KEY["take-in"], day=receipt.day, note=note, by=by, seen_version=unit.version)


def _refused(receipt: Receipt, unit: Unit, decision: Decision, *, by: User) -> None:
    order = Order.objects.filter(pk=receipt.order_id).select_related("unit").first()
    if not decision.stays_expected:
        _goes(receipt, unit, order, by=by)
        return
    if order is None or order.status not in orders.OPEN or order.expected is None:
        return
    # The day it was expected on has passed with what was sent back; nobody knows another one yet.
    deltas = [Delta("expected", "day expected", said_day(order.expected), "", "quote.see")]
    save_changes(order, values={"expected": None}, deltas=deltas, by=by, seen_version=order.version)


def _goes(receipt: Receipt, unit: Unit, order: Order | None, *, by: User) -> None:
    why = f"refused by receipt {receipt}"
    if order is not None and order.status in orders.OPEN:
        order.unit = unit
        try:
            orders.drop(order, why=why, by=by, seen_version=order.version)
        except orders.OrderError as told:
            raise ReceiptError(str(told)) from None
        return
    if (quote := promised_to(unit)) is not None:
        raise ReceiptError(f"Unit {unit} is promised by quote {quote}: close that first, or let it stay expected.")
    if unit.status == Status.EXPECTED:
        take_step(unit, BY_KEY["retire"], day=clock.today(), note=why, by=by, seen_version=unit.version)


def _freeze(receipt: Receipt, deals: Sequence[Deal], *, link: str, metric: bool) -> None:
    paper, rests_on = report_of(receipt, deals=deals, link=link, metric=metric)
    content = frozen_sheet(paper=paper, rests_on={**rests_on, "deals": frozen(deals)})
    Receipt.objects.filter(pk=receipt.pk).update(content=content, digest=digest(content))
    receipt.content, receipt.digest = content, digest(content)


def note_claim(receipt: Receipt, claim: str, *, by: User, seen_version: int) -> None:
    """Keep the carrier's or maker's claim number, whenever it comes.

    Raises
    ------
    StaleError
        If somebody saved the receipt meanwhile.
    """
    claim = claim.strip()[:60]
    if claim == receipt.claim:
        return
    deltas = [Delta("claim", "claim number", receipt.claim, claim, "yard.see")]
    save_changes(receipt, values={"claim": claim}, deltas=deltas, by=by, seen_version=seen_version)
