"""Checklists under way for longer than a day, and units held back by one."""

from __future__ import annotations

from django.urls import reverse

from rubrail.desk import clock
from rubrail.desk.models import Checklist
from rubrail.desk.models.checks import CheckState
from rubrail.desk.today.press import LATE, NOW, SOON
from rubrail.desk.today.rows import Asked, Row, at_most, many


def checks(asked: Asked) -> list[Row]:
    """Held ones first: somebody waits for that unit."""
    found = (
        Checklist.objects.exclude(sort="handover")
        .filter(state__in=(CheckState.OPEN, CheckState.HOLD))
        .select_related("unit")
    )
    wanted = ("sort", "state", "updated", "created", "unit__stock_number")
    rows = [_row(asked, it) for it in found.only(*wanted).order_by("created", "pk")]
    rows.sort(key=lambda r: (LATE, NOW, SOON).index(r.press))
    every = reverse("checks")
    return at_most(
        rows, rest=lambda n: Row("checks-more", f"{many(n, 'more checklist')} are not finished.", every, "See them")
    )


def _row(asked: Asked, it: Checklist) -> Row:
    begun = clock.local(it.created).date()
    days = (asked.today - begun).days
    since = "today" if days <= 0 else f"{many(days, 'day')} ago"
    if it.state == CheckState.HOLD:
        says = f"{it.unit} is held back by what was found at it: mend it, and look again."
        return Row(f"check-{it.pk}", says, it.get_absolute_url(), "See what holds it", NOW, "", begun, over=True)
    says = f"The checklist of {it.unit} was begun {since} and is not finished."
    return Row(f"check-{it.pk}", says, it.get_absolute_url(), "Go on", NOW if days > 0 else SOON, "", begun)
