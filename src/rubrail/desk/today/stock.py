"""Units as they stand: without photos, unreadable, and what the longest here cost by the day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from functools import cache

from django.db.models import Exists, OuterRef, Q, QuerySet
from django.urls import reverse

from rubrail.answers.stock_cost import StockCost
from rubrail.desk import derived
from rubrail.desk.books import rates_on
from rubrail.desk.models import Photo, Unit
from rubrail.desk.models.stock import ON_THE_LOT, Purpose, Status
from rubrail.desk.sales.standing_cost import cost_of
from rubrail.desk.standing import said_day
from rubrail.desk.today.press import NOW
from rubrail.desk.today.rows import Asked, Row, at_most, many
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
    rows = [
        Row(f"unread-{n}", f"What is stored of {n} no longer reads, so it is matched with nothing.",
            reverse("unit-edit", args=[n]), "Correct it", NOW)
        for n in broken.order_by("stock_number").values_list("stock_number", flat=True)
    ]  # fmt: skip
    return at_most(
        rows, most=LONGEST,
        rest=lambda n: Row("unread-more", f"{many(n, 'more unit')} no longer read.", reverse("yard"), "See the yard"),
    )  # fmt: skip


def aging(asked: Asked) -> list[Row]:
    """What all that stands here costs by the day, the longest here, and what falls due to the lender."""
    rates = rates_on(asked.today)
    if rates is None:
        return []
    here = Unit.objects.filter(status__in=HERE, arrived__lte=asked.today, cost_usd__isnull=False)
    # Many units came on one day for one price: each pair is reckoned once.
    reckoned = cache(lambda cost, arrived: cost_of(cost, (asked.today - arrived).days, rates))
    rows = here.order_by("arrived", "pk").values_list("pk", "stock_number", "cost_usd", "arrived")
    costs = [(n, found) for _, n, cost, arrived in rows if (found := reckoned(cost, arrived)) is not None]
    unknown = Unit.objects.filter(status__in=HERE).count() - len(costs)
    return [*_demands(asked, rates, here), *_standing(costs, unknown)]


def _standing(costs: list[tuple[str, StockCost]], unknown: int) -> Iterator[Row]:
    """One row, where any unit has stood long."""
    aged = [(number, cost) for number, cost in costs if cost.days >= AGED_DAYS]
    if not aged:
        return
    longest = "; ".join(
        f"{n}, {many(c.days, 'day')}, {show_money(c.each_day_usd)} a day, {show_money(c.interest_usd)} so far"
        for n, c in aged[:LONGEST]
    )
    stood = f"{many(len(aged), 'unit')} stood here {AGED_DAYS} days or more, at {_daily(aged)} a day in interest"
    whole = "the {} here of known cost take" if unknown else "all {} here cost"
    says = f"{stood}; {whole.format(many(len(costs), 'unit'))} {_daily(costs)} a day."
    note = f"Longest: {longest}."
    if unknown:
        note += f" Without {many(unknown, 'unit')} whose cost or day of arrival is not known."
    yield Row("aging", says, f"{reverse('yard')}?sort=-days", "Longest here first", note=note)


def _daily(costs: list[tuple[str, StockCost]]) -> str:
    return show_money(cents(sum((c.each_day_usd for _, c in costs), Decimal(0))))


def _demands(asked: Asked, rates: Rates, here: QuerySet[Unit]) -> list[Row]:
    """Shares of what was borrowed that fall due within two weeks, the first first."""
    due: list[tuple[date, str, Decimal, int]] = []
    for step in rates.stock.curtailment:
        first = asked.today - timedelta(days=step.day)
        came = here.filter(arrived__range=(first, first + timedelta(days=DEMAND_DAYS))).order_by("arrived", "pk")
        for number, cost, arrived in came.values_list("stock_number", "cost_usd", "arrived"):
            share = cents(cost * percent(step.share_percent) / 100)
            due.append((arrived + timedelta(days=step.day), number, share, step.day))
    due.sort()
    left = show_money(sum((share for _, _, share, _ in due[LONGEST:]), Decimal(0)))
    return at_most(
        [_demand(asked, *one) for one in due], most=LONGEST,
        rest=lambda n: Row(
            "lender-more",
            f"{left} more, on {many(n, 'unit')}, falls due to the lender by {said_day(due[-1][0])}.",
            f"{reverse('yard')}?sort=-days", "Longest here first", *asked.on(due[LONGEST][0]), due[LONGEST][0],
        ),
    )  # fmt: skip


def _demand(asked: Asked, day: date, number: str, share: Decimal, after: int) -> Row:
    when = "today" if day == asked.today else f"on {said_day(day)}"
    says = f"{show_money(share)} on {number} falls due to the lender {when}."
    note = f"By the yard's terms, after {many(after, 'day')} here."
    url = reverse("unit", args=[number])
    return Row(f"lender-{number}-{day}", says, url, "Open it", *asked.on(day), day, note)
