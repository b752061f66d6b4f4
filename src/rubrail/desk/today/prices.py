"""Prices that nobody looked at for longer than the yard allows."""

from __future__ import annotations

from django.urls import reverse

from rubrail.desk.listings import wording_on
from rubrail.desk.price_days import older_than, price_day
from rubrail.desk.today.rows import Asked, Row, many


def prices(asked: Asked) -> list[Row]:
    """One row for all of them; the one that waits the longest is named."""
    found = older_than(wording_on(asked.today).stale_days, today=asked.today)
    looked = found.filter(listing__price_checked__isnull=False).order_by("listing__price_checked", "stock_number")
    never = found.filter(listing__price_checked=None).order_by("created", "stock_number")
    wanted = ("stock_number", "created", "listing__price_checked")
    oldest = [unit for unit in (looked.only(*wanted).first(), never.only(*wanted).first()) if unit]
    if not oldest:
        return []
    first = min(oldest, key=price_day)
    count, waits = found.count(), many((asked.today - price_day(first)).days, "day")
    url = reverse("listing", args=[first.stock_number])
    if count == 1:
        return [Row("prices", f"Nobody looked at the price of {first} for {waits}: still right?", url, "Look at it")]
    says = f"{count:,} prices want looking at; {first} waits the longest, {waits}."
    return [Row("prices", says, url, f"Begin with {first}")]
