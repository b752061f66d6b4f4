"""Prices that nobody looked at for longer than the yard allows."""

from __future__ import annotations

from django.urls import reverse

from rubrail.desk.listings import stale_prices
from rubrail.desk.today.rows import Asked, Row, many


def prices(asked: Asked) -> list[Row]:
    """One row for all of them."""
    stale = stale_prices(asked.today)
    if not stale:
        return []
    first = stale[0]
    url = reverse("listing", args=[first.unit.stock_number])
    if len(stale) == 1:
        says = f"Nobody looked at the price of {first.unit} for {many(first.days, 'day')}: still right?"
        return [Row("prices", says, url, "Look at it")]
    says = f"{len(stale)} prices want looking at; {first.unit} waits the longest, {many(first.days, 'day')}."
    return [Row("prices", says, url, f"Begin with {first.unit}")]
