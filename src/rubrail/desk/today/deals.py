"""Quotes that run out, ran out, or were never offered; accepted ones whose unit is still here."""

from __future__ import annotations

from datetime import date, timedelta

from django.db.models import Exists, Max, OuterRef
from django.urls import reverse

from rubrail.answers.hand_over_lines import SORT
from rubrail.desk import clock
from rubrail.desk.models import Checklist, Quote
from rubrail.desk.models.checks import CheckState
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.models.stock import GONE, Status
from rubrail.desk.standing import said_day
from rubrail.desk.today.press import LATE, NOW, SOON
from rubrail.desk.today.rows import Asked, Row, at_most, many

AHEAD_DAYS = 3
"""A quote that runs out within so many days is told of. [day]"""
COLD_DAYS = 14
"""A quote that ran out longer ago presses no more than any other paper; common practice, no source. [day]"""
DRAFT_DAYS = 3
"""A quote begun so long ago and never offered is told of. [day]"""
WAITS_DAYS = 7
"""A unit accepted so long ago that is here presses. [day]"""


def quotes(asked: Asked) -> list[Row]:
    """Every open or accepted quote that wants something, in one query."""
    open_ = (QuoteStatus.DRAFT, QuoteStatus.OFFERED, QuoteStatus.ACCEPTED)
    handing = Checklist.objects.filter(unit=OuterRef("unit"), sort=SORT, state=CheckState.OPEN)
    found = Quote.objects.filter(status__in=open_).select_related("unit")
    found = found.annotate(signed=Max("versions__signed_at"), handing=Exists(handing))
    wanted = ("number", "buyer", "status", "valid_until", "updated", "unit__stock_number", "unit__status")
    rows = [row for quote in found.only(*wanted) if (row := _row(asked, quote))]
    rows.sort(key=lambda r: ((LATE, NOW, SOON).index(r.press), r.day or asked.today))
    return at_most(
        rows,
        rest=lambda n: Row("quotes-more", f"{many(n, 'more quote')} want something.", reverse("quotes"), "See them"),
        most=8,
    )


def _row(asked: Asked, quote: Quote) -> Row | None:
    if quote.status == QuoteStatus.OFFERED:
        return _running_out(asked, quote)
    if quote.status == QuoteStatus.ACCEPTED:
        return _to_deliver(asked, quote)
    begun = clock.local(quote.updated).date()
    if (days := (asked.today - begun).days) < DRAFT_DAYS:
        return None
    says = f"The quote of {quote.unit} for {quote.buyer} was begun {many(days, 'day')} ago and never offered."
    return _to(quote, says, "Offer it or drop it", SOON, "", begun)


def _running_out(asked: Asked, quote: Quote) -> Row | None:
    until = quote.valid_until
    if until > asked.today + timedelta(days=AHEAD_DAYS):
        return None
    press, words = asked.on(until)
    which = f"{quote.buyer}'s quote of {quote.unit}"
    if (asked.today - until).days > COLD_DAYS:
        return _to(quote, f"{which} ran out on {said_day(until)}.", "Renew it or close it", SOON, "", until)
    if until < asked.today:
        return _to(quote, f"{which} ran out on {said_day(until)}.", "Renew it or close it", press, words, until)
    when = "today" if until == asked.today else f"on {said_day(until)}"
    return _to(quote, f"{which} runs out {when}.", "Call, or renew it", press, words, until)


def _to_deliver(asked: Asked, quote: Quote) -> Row | None:
    if quote.unit.status == Status.EXPECTED or quote.handing:
        return None  # It is told of among the arrivals, or among the hand-overs.
    if quote.unit.status in GONE:
        # Sold by hand: the delivery is still to be entered.
        says = f"{quote.buyer} signed for {quote.unit}, which is {quote.unit.get_status_display()} and not delivered."
        return _to(quote, says, "Enter the day it went, or withdraw the quote", NOW, "", asked.today)
    since = clock.local(quote.signed or quote.updated).date()
    days = (asked.today - since).days
    when = "today" if days == 0 else f"{many(days, 'day')} ago"
    says = f"{quote.buyer} signed for {quote.unit} {when}: it is here to be inspected and handed over."
    return _to(quote, says, "Open the quote", NOW if days >= WAITS_DAYS else SOON, "", since)


def _to(quote: Quote, says: str, does: str, press: str, words: str, day: date) -> Row:
    return Row(f"quote-{quote.pk}", says, reverse("quote", args=[quote.number]), does, press, words, day)
