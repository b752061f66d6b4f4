"""Units that are to come: late, today, within the week; and orders that a maker has not answered."""

from __future__ import annotations

from datetime import timedelta

from django.urls import reverse

from rubrail.desk import clock
from rubrail.desk.models import Order, Receipt, Unit
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.models.sales import OrderStatus
from rubrail.desk.models.stock import Status
from rubrail.desk.standing import said_day
from rubrail.desk.today.press import NOW, SOON
from rubrail.desk.today.rows import Asked, Row, at_most, many

AHEAD_DAYS = 7
UNANSWERED_DAYS = 5
"""A maker has so long to confirm an order before somebody calls. [day]"""


def arrivals(asked: Asked) -> list[Row]:
    """Expected units by the day their order says; those of which no day is known in one row."""
    being = Receipt.objects.filter(status=ReceiptStatus.OPEN).values("unit")
    found = Unit.objects.filter(status=Status.EXPECTED).exclude(pk__in=being).select_related("order")
    units = list(
        found.only("stock_number", "title", "maker", "model", "order__number", "order__expected").order_by(
            "order__expected", "stock_number"
        )
    )
    dated = [(u, day) for u in units if (day := _day(u)) and day <= asked.today + timedelta(days=AHEAD_DAYS)]
    rows = [_row(asked, unit, day) for unit, day in dated]
    undated = [u for u in units if _day(u) is None]
    if undated:
        rows.append(_undated(undated))
    return at_most(
        rows,
        rest=lambda n: Row("arrivals-more", f"{many(n, 'more unit')} are expected.", _expected(), "See them", SOON),
    )


def _day(unit: Unit):
    order = getattr(unit, "order", None)
    return order.expected if order else None


def _row(asked: Asked, unit: Unit, day) -> Row:
    press, words = asked.on(day)
    when = "was expected" if day < asked.today else "is expected"
    note = f"By order {unit.order.number}." if asked.may("quote.see") else ""
    if day < asked.today and asked.may("quote.edit"):
        note += " Ask the maker, and note the new day on the order."
    says = f"{unit}, {unit.says}, {when} {_on(asked, day)}."
    url, does = unit.get_absolute_url(), "Open it"
    if day <= asked.today and asked.may("unit.edit"):
        url, does = f"{reverse('receive-new')}?unit={unit}", "Receive it"
    return Row(f"arrival-{unit.pk}", says, url, does, press, words, day, note.strip())


def _on(asked: Asked, day) -> str:
    return "today" if day == asked.today else f"on {said_day(day)}"


def _undated(units: list[Unit]) -> Row:
    if len(units) == 1:
        says = f"{units[0]} is expected, and nobody knows when."
        return Row("arrivals-undated", says, units[0].get_absolute_url(), "Open it")
    return Row(
        "arrivals-undated", f"{many(len(units), 'unit')} are expected, and nobody knows when.", _expected(), "See them"
    )


def _expected() -> str:
    return f"{reverse('yard')}?status={Status.EXPECTED.value}"


def unanswered(asked: Asked) -> list[Row]:
    """Orders not sent yet, and those the maker has not confirmed."""
    found = Order.objects.filter(status__in=(OrderStatus.OPEN, OrderStatus.SENT))
    rows = []
    for order in found.only("number", "model", "status", "updated").order_by("updated"):
        since = clock.local(order.updated).date()
        days, url = (asked.today - since).days, reverse("order", args=[order.number])
        if order.status == OrderStatus.OPEN:
            says = f"Order {order.number} of {order.model} is not sent to its maker yet."
            rows.append(Row(f"order-{order.pk}", says, url, "Send it", NOW if days else SOON, "", since))
        elif days >= UNANSWERED_DAYS:
            says = f"Order {order.number} of {order.model} was sent {many(days, 'day')} ago and is not confirmed."
            rows.append(Row(f"order-{order.pk}", says, url, "Open it", NOW, "", since))
    orders = reverse("orders")
    return at_most(
        rows, rest=lambda n: Row("orders-more", f"{many(n, 'more order')} wait for an answer.", orders, "See them")
    )
