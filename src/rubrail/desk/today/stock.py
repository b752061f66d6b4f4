"""Units as they stand: without photos, unreadable, and what the longest here cost by the day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import Exists, OuterRef, Q
from django.urls import reverse

from rubrail.answers.stock_cost import StockCost
from rubrail.desk import derived
from rubrail.desk.books import rates_on
from rubrail.desk.models import Photo, Unit
from rubrail.desk.models.stock import ON_THE_LOT, Purpose, Status
from rubrail.desk.sales.standing_cost import standing_cost
from rubrail.desk.standing import said_day
from rubrail.desk.today.press import NOW
from rubrail.desk.today.rows import Asked, Row, many
from rubrail.quantity.money import cents, show_money
from rubrail.things.rates import Rates, percent

HERE = (Status.HERE, Status.HELD)
AGED_DAYS = 90
"""From here on a unit counts as one that stands long; common practice, no source. [day]"""
DEMAND_DAYS = 14
"""A share that falls due to the lender is told of so long before. [day]"""
LONGEST = 3


def photos(asked: Asked) -> list[Row]:
    """Units nobody can be shown, and units whose label nobody has on a photo; a row each."""
    of = Photo.objects.filter(unit=OuterRef("pk"))
    there = Unit.objects.filter(status__in=HERE).annotate(
        shown=Exists(of.filter(purpose=Purpose.SHOW)), label=Exists(of.filter(purpose=Purpose.LABEL))
    )
    missing = there.filter(Q(shown=False) | Q(label=False)).order_by("arrived", "stock_number")
    rows = list(missing.values_list("stock_number", "shown", "label"))
    kinds = (("photos", 1, "no photo", "of"), ("labels", 2, "no photo of the label", "of the label of"))
    found = []
    for key, column, lacks, of_ in kinds:
        numbers = [row[0] for row in rows if not row[column]]
        if numbers:
            found.append(_missing(key, numbers, lacks, of_))
    return found


def _missing(key: str, numbers: list[str], lacks: str, of: str) -> Row:
    first = f"{reverse('unit', args=[numbers[0]])}#photos-title"
    if len(numbers) == 1:
        return Row(f"{key}-{numbers[0]}", f"{numbers[0]} has {lacks}.", first, "Take one")
    says = f"{many(len(numbers), 'unit')} have {lacks}; the longest here is {numbers[0]}."
    return Row(key, says, first, f"Begin with {numbers[0]}")


def unreadable(asked: Asked) -> list[Row]:
    """Units whose stored content no longer reads: nothing can be worked out of them."""
    broken = Unit.objects.filter(status__in=ON_THE_LOT, packed=None, derived_by=derived.mark())
    return [
        Row(f"unread-{n}", f"What is stored of {n} no longer reads, so it is matched with nothing.",
            reverse("unit-edit", args=[n]), "Correct it", NOW)
        for n in broken.order_by("stock_number").values_list("stock_number", flat=True)[:LONGEST]
    ]  # fmt: skip


def aging(asked: Asked) -> list[Row]:
    """What all that stands here costs by the day, the longest here, and what falls due to the lender."""
    rates = rates_on(asked.today)
    if rates is None:
        return []
    wanted = ("stock_number", "status", "status_since", "arrived", "cost_usd")
    units = list(Unit.objects.filter(status__in=HERE, arrived__isnull=False).only(*wanted).order_by("arrived", "pk"))
    costs = [(u, c) for u in units if (c := standing_cost(u, today=asked.today, rates=rates)) is not None]
    return [*_demands(asked, rates, units), *_standing(costs)]


def _standing(costs: list[tuple[Unit, StockCost]]) -> Iterator[Row]:
    """One row, where any unit has stood long."""
    aged = [(u, c) for u, c in costs if c.days >= AGED_DAYS]
    if not aged:
        return
    longest = "; ".join(
        f"{u}, {many(c.days, 'day')}, {show_money(c.each_day_usd)} a day, {show_money(c.interest_usd)} so far"
        for u, c in aged[:LONGEST]
    )
    stood = f"{many(len(aged), 'unit')} stood here {AGED_DAYS} days or more, at {_daily(aged)} a day in interest"
    says = f"{stood}; all {many(len(costs), 'unit')} here cost {_daily(costs)} a day."
    yield Row("aging", says, f"{reverse('yard')}?sort=-days", "Longest here first", note=f"Longest: {longest}.")


def _daily(costs: list[tuple[Unit, StockCost]]) -> str:
    return show_money(cents(sum((c.each_day_usd for _, c in costs), Decimal(0))))


def _demands(asked: Asked, rates: Rates, units: list[Unit]) -> Iterator[Row]:
    last = asked.today + timedelta(days=DEMAND_DAYS)
    due: list[tuple[date, Unit, Decimal]] = []
    for step in rates.stock.curtailment:
        for unit in units:
            day = unit.arrived + timedelta(days=step.day)
            if asked.today <= day <= last and unit.cost_usd is not None:
                due.append((day, unit, unit.cost_usd * percent(step.share_percent) / 100))
    for day, unit, share in sorted(due, key=lambda d: d[0])[:LONGEST]:
        press, words = asked.on(day)
        when = "today" if day == asked.today else f"on {said_day(day)}"
        says = f"{show_money(cents(share))} on {unit} falls due to the lender {when}."
        note = f"By the yard's terms, after {many((day - unit.arrived).days, 'day')} here."
        yield Row(f"lender-{unit.pk}-{day}", says, unit.get_absolute_url(), "Open it", press, words, day, note)
