"""Numbers of quotes, orders and receipts: a letter, the year, and a count."""

from __future__ import annotations

from rubrail.desk import clock
from rubrail.desk.models import Order, Quote, Receipt

LETTERS = {Quote: "Q", Order: "O", Receipt: "R"}


def next_number(of: type[Quote | Order | Receipt]) -> str:
    """The number after the last one of this year: ``Q2026-0042``, with as many figures as the count needs."""
    begin = f"{LETTERS[of]}{clock.today().year}-"
    last = of.objects.filter(number__startswith=begin).order_by("-pk").values_list("number", flat=True).first()
    return f"{begin}{int(last.removeprefix(begin)) + 1 if last else 1:04d}"
