"""Units being received, claims without a number, and deals that no longer hold on what came."""

from __future__ import annotations

from django.urls import reverse

from rubrail.desk.models import Receipt
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.receiving.broken import broken_deals as still_broken
from rubrail.desk.receiving.deals import Deal
from rubrail.desk.standing import said_day
from rubrail.desk.today.press import LATE, NOW, PRESSES, SOON
from rubrail.desk.today.rows import Asked, Row, at_most, many

CLAIM_DAYS = 60
"""A claim is asked for so long after what it is for was noted. [day]"""


def receipts(asked: Asked) -> list[Row]:
    """Receipts begun and not decided, and those accepted with exceptions whose claim has no number yet."""
    found = Receipt.objects.filter(status__in=(ReceiptStatus.OPEN, ReceiptStatus.EXCEPTED)).select_related("unit")
    wanted = ("number", "status", "day", "claim", "unit__stock_number")
    rows = [row for it in found.only(*wanted).order_by("day", "pk") if (row := _row(asked, it))]
    rows.sort(key=lambda r: PRESSES.index(r.press))
    gate = reverse("receive")
    return at_most(
        rows, rest=lambda n: Row("receipts-more", f"{many(n, 'more receipt')} want something.", gate, "See them")
    )


def _row(asked: Asked, it: Receipt) -> Row | None:
    days = (asked.today - it.day).days
    if it.status == ReceiptStatus.OPEN:
        since = "today" if days <= 0 else f"{many(days, 'day')} ago"
        says = f"{it.unit} came {since} and is not decided on: accept it or refuse it."
        press = LATE if days > 0 else NOW
        words = f"{many(days, 'day')} late" if days > 0 else ""
        return Row(f"receipt-{it.pk}", says, it.get_absolute_url(), "Go on receiving", press, words, it.day)
    if it.claim or days > CLAIM_DAYS:
        return None
    says = f"{it.unit} was accepted with exceptions on {said_day(it.day)}, and no claim number is noted."
    return Row(f"claim-{it.pk}", says, it.get_absolute_url(), "Note the claim", SOON, "", it.day)


def broken_deals(asked: Asked) -> list[Row]:
    """Deals that no longer hold, or are in doubt, on a unit as it came."""
    return [_deal(asked, b.receipt, b.deal) for b in still_broken(today=asked.today)]


def _deal(asked: Asked, it: Receipt, deal: Deal) -> Row:
    broken = deal.result == "broken"
    # Who signed is called on the day it came; who only asked is, while it is open, called today.
    press, words = asked.on(it.day) if deal.pressing else (NOW if broken else SOON, "")
    day = it.day if deal.pressing else asked.today
    if it.status == ReceiptStatus.REFUSED:
        says = f"{deal.name} signed for {it.unit}, which came on {said_day(it.day)} and was refused."
        return Row(
            f"deal-{it.pk}-{deal.quote}", says, it.get_absolute_url(), "Call, and see what else", press, words, day,
            over=True,
        )  # fmt: skip
    says = f"{deal.name}: {'no longer holds' if broken else 'is in doubt'} on {it.unit} as it came."
    return Row(
        f"deal-{it.pk}-{deal.quote or deal.haul}",
        says,
        it.get_absolute_url(),
        "Call, and see what else",
        press,
        words,
        day,
        deal.reason,
        over=broken,
    )
