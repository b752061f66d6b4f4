"""Units whose buyer signed and that wait to be handed over, and hand-overs under way."""

from __future__ import annotations

from django.urls import reverse

from rubrail.desk import clock
from rubrail.desk.handing.steps import SORT, waiting
from rubrail.desk.models import Checklist
from rubrail.desk.models.checks import CheckState
from rubrail.desk.models.stock import Status
from rubrail.desk.today.press import NOW, SOON
from rubrail.desk.today.rows import Asked, Row, at_most, many


def hand_overs(asked: Asked) -> list[Row]:
    """Those under way first. Who sees the quotes is told of the waiting ones there already."""
    under_way = Checklist.objects.filter(sort=SORT, state=CheckState.OPEN).select_related("unit")
    begun = list(under_way.only("about", "created", "unit__stock_number").order_by("created", "pk"))
    rows = [
        Row(
            f"hand-over-{it.pk}",
            f"The hand-over of {it.unit} to {it.about.get('buyer', 'its buyer')} is begun and not signed.",
            reverse("hand-over", args=[it.pk]), "Go on", NOW, "", clock.local(it.created).date(),
        )
        for it in begun
    ]  # fmt: skip
    if not asked.may("quote.see"):
        there = {it.about.get("quote") for it in begun}
        rows += [
            Row(
                f"to-hand-over-{quote.pk}", f"{quote.unit} is to be handed over to {quote.buyer}.",
                reverse("hand-overs"), "Begin", SOON, "", clock.local(quote.updated).date(),
            )
            for quote in waiting() if quote.number not in there and quote.unit.status == Status.HELD
        ]  # fmt: skip
    return at_most(
        rows,
        rest=lambda n: Row(
            "hand-overs-more", f"{many(n, 'more unit')} to hand over.", reverse("hand-overs"), "See them"
        ),
    )
