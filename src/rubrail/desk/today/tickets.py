"""Scale tickets whose weights nobody took over."""

from __future__ import annotations

from django.urls import reverse

from rubrail.desk.models import Ticket
from rubrail.desk.standing import said_day
from rubrail.desk.tickets.keep import READINGS
from rubrail.desk.today.press import NOW
from rubrail.desk.today.rows import Asked, Row, at_most, many


def tickets(asked: Asked) -> list[Row]:
    """Those that wait, the oldest first."""
    found = Ticket.objects.filter(closed=False).exclude(waits="").select_related("unit", "truck")
    wanted = ("day", "waits", "unit__stock_number", "truck__name")
    waiting = list(found.only(*wanted).order_by("day", "pk"))
    return at_most(
        [_row(it) for it in waiting],
        rest=lambda n: Row(
            "tickets-more",
            f"{many(n, 'more scale ticket')} wait to be taken over.",
            reverse("tickets"),
            "See them",
        ),
    )


def _row(it: Ticket) -> Row:
    whose = f"{it.unit}" if it.unit else f"{it.truck}" if it.truck else "a haul"
    if it.waits == READINGS:
        says = f"The scale readings of {whose} from {said_day(it.day)} do not agree: weigh again or set one aside."
        return Row(f"ticket-{it.pk}", says, it.get_absolute_url(), "Look at them", NOW, "", it.day)
    says = f"The weights of {whose} from {said_day(it.day)} are not taken over: verdicts still go by the old ones."
    return Row(f"ticket-{it.pk}", says, it.get_absolute_url(), "Take them over", NOW, "", it.day)
