"""What is expected at the gate, what is being received, and what was received lately."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rubrail.desk.models import Order, Quote, Receipt, Unit
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.models.sales import OrderStatus, QuoteStatus
from rubrail.desk.models.stock import Status

LATELY = 12
MOST = 200


@dataclass(frozen=True, slots=True)
class Arrival:
    """A unit that is to come.

    day : the day the maker named, if any; late : that day has passed; awaited : a buyer's accepted quote waits for it
    """

    unit: Unit
    order: Order | None
    day: date | None
    late: bool
    awaited: bool


@dataclass(frozen=True, slots=True)
class Gate:
    """Everything the first page of receiving shows."""

    open: tuple[Receipt, ...]
    arrivals: tuple[Arrival, ...]
    lately: tuple[Receipt, ...]

    @property
    def late(self) -> int:
        """How many arrivals are late."""
        return sum(1 for a in self.arrivals if a.late)


def gate(*, today: date) -> Gate:
    """What is expected and what came, a handful of queries whatever their number."""
    receipts = Receipt.objects.select_related("unit", "created_by").defer("content", "ordered", "found")
    receipts = receipts.defer("content", "ordered", "found", "unit__spec", "unit__packed", "unit__thumbnail")
    begun = tuple(receipts.filter(status=ReceiptStatus.OPEN).order_by("-day", "-pk")[:MOST])
    lately = tuple(
        receipts.exclude(status__in=(ReceiptStatus.OPEN, ReceiptStatus.DROPPED)).order_by("-closed")[:LATELY]
    )
    return Gate(begun, tuple(arrivals(today=today, without={r.unit_id for r in begun})), lately)


def arrivals(*, today: date, without: set[int] = frozenset()) -> list[Arrival]:
    """Expected units, the earliest day first and those without a day last.

    Parameters
    ----------
    today : date
    without : set of int
        Units left out, by key: those that are being received.
    """
    units = list(
        Unit.objects.filter(status=Status.EXPECTED)
        .exclude(pk__in=without)
        .select_related("order", "order__book")
        .defer("spec", "packed", "thumbnail", "order__content", "order__book__spec")
        .order_by("stock_number")[:MOST]
    )
    awaited = set(
        Quote.objects.filter(status=QuoteStatus.ACCEPTED, unit__in=[u.pk for u in units]).values_list(
            "unit", flat=True
        )
    )
    found = [_arrival(u, today, u.pk in awaited) for u in units]
    return sorted(found, key=lambda a: (a.day is None, a.day or date.max, a.unit.stock_number))


def _arrival(unit: Unit, today: date, awaited: bool) -> Arrival:
    order = getattr(unit, "order", None)
    coming = order is not None and order.status in (OrderStatus.OPEN, OrderStatus.SENT, OrderStatus.CONFIRMED)
    day = order.expected if coming else None
    return Arrival(unit, order if coming else None, day, day is not None and day < today, awaited)
