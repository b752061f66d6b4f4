"""Follow-ups that are due, one row a buyer and unit: one call does for all of them."""

from __future__ import annotations

from datetime import timedelta

from django.urls import reverse

from rubrail.desk.models import FollowUp
from rubrail.desk.models.follow import FollowState
from rubrail.desk.today.rows import Asked, Row, at_most, many

AHEAD_DAYS = 1


def follow_ups(asked: Asked) -> list[Row]:
    """Those due by tomorrow, the longest due first."""
    found = FollowUp.objects.filter(state=FollowState.OPEN, due__lte=asked.today + timedelta(days=AHEAD_DAYS))
    wanted = ("title", "due", "sort", "state", "delivered", "unit__stock_number", "quote__buyer", "quote__contact")
    of_unit: dict[int, list[FollowUp]] = {}
    for it in found.select_related("unit", "quote").only(*wanted).order_by("due", "pk"):
        of_unit.setdefault(it.unit_id, []).append(it)
    rows = [_row(asked, its) for its in of_unit.values()]
    due = f"{reverse('follow-ups')}?which=due"
    return at_most(
        rows,
        rest=lambda n: Row("follow-more", f"{many(n, 'more unit')} have follow-ups due.", due, "See them"),
        most=8,
    )


def _row(asked: Asked, its: list[FollowUp]) -> Row:
    first = its[0]
    press, words = asked.on(first.due)
    whom = first.quote.buyer if first.quote else "the buyer"
    titles = "; ".join(dict.fromkeys(_begin(it.title) for it in its))
    notes = [f"Reach: {first.quote.contact}."] if first.quote and first.quote.contact else []
    if any(it.from_sale for it in its):
        notes.append("Nobody entered the day it went to its buyer: counted from the sale.")
    alone = len(its) == 1
    one = f"{reverse('follow-up', args=[first.pk])}?back={reverse('today')}"
    url = one if alone else f"{reverse('follow-ups')}?words={first.unit}"
    # A row put off comes back once another thing is due of that unit.
    key = f"follow-{first.unit_id}-{max(it.pk for it in its)}"
    return Row(
        key, f"Call {whom} about {first.unit}: {titles}.", url, "What to say", press, words, first.due, " ".join(notes)
    )


def _begin(title: str) -> str:
    return title[:1].lower() + title[1:]
