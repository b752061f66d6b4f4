"""The calendar of follow-ups that a person's own calendar program takes by an unguessable address."""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Callable
from datetime import timedelta
from hashlib import sha256

from django.conf import settings
from django.db import transaction
from django.db.models import BooleanField, ExpressionWrapper, Q

from rubrail.desk import clock
from rubrail.desk.audit import record
from rubrail.desk.models import CalendarLink, FollowUp, User
from rubrail.desk.models.follow import FollowState
from rubrail.sheets.calendar_file import DayEntry, calendar_text

ENDED_DAYS = 90
"""So long what was done or dropped stays in the calendar, for programs that look seldom. [day]"""
MOST = 10_000
"""Entries of a calendar: some thousand sales, with all that is still to come of them."""


def give_address(person: User) -> str:
    """A new secret for the person's calendar; an older one stops working. Only its digest is stored."""
    secret = secrets.token_urlsafe(32)
    with transaction.atomic():
        CalendarLink.objects.filter(person=person).delete()
        CalendarLink.objects.create(person=person, digest=_digest(secret))
        record(by=person, action="calendar given", thing=person)
    return secret


def end_address(person: User) -> None:
    """The address stops working at once."""
    with transaction.atomic():
        gone, _ = CalendarLink.objects.filter(person=person).delete()
        if gone:
            record(by=person, action="calendar ended", thing=person)


def person_behind(secret: str) -> User | None:
    """Whose calendar an address is; ``None`` where there is none, it was ended, or the account is closed."""
    if not 20 <= len(secret) <= 80:
        return None
    link = CalendarLink.objects.select_related("person").filter(digest=_digest(secret)).first()
    return link.person if link and link.person.is_active else None


def _digest(secret: str) -> str:
    return hmac.new(settings.SECRET_KEY.encode(), b"calendar " + secret.encode(), sha256).hexdigest()


def calendar_of(person: User, *, address: Callable[[FollowUp], str]) -> str:
    """The calendar file: no price, no way to reach a buyer, and buyers' names only for those who see quotes.

    Parameters
    ----------
    address : callable
        Where the desk shows a follow-up.
    """
    since = clock.today() - timedelta(days=ENDED_DAYS)
    found = FollowUp.objects.filter(Q(state=FollowState.OPEN) | Q(ended__gte=since))
    # Where there are too many, those long past are left out, and never those to come.
    past = ExpressionWrapper(Q(due__lt=since), output_field=BooleanField())
    found = found.annotate(past=past).order_by("past", "due", "pk")
    rows = found.select_related("unit", "quote").only(
        "uid", "due", "title", "words", "updated", "turns", "state", "unit__stock_number", "quote__buyer"
    )[:MOST]
    names = person.may("quote.see")
    return calendar_text(
        [
            DayEntry(
                uid=f"{it.uid}@rubrail",
                day=it.due,
                title=_title(it, names=names),
                words=it.words,
                changed=it.updated,
                turns=it.turns,
                cancelled=it.state == FollowState.DROPPED,
                address=address(it),
            )
            for it in rows
        ],
        title=f"{settings.RUBRAIL_YARD_NAME}: follow-ups",
    )


def _title(it: FollowUp, *, names: bool) -> str:
    done = "Done: " if it.state == FollowState.DONE else ""
    buyer = f" ({it.quote.buyer})" if names and it.quote else ""
    return f"{done}{it.title}, {it.unit.stock_number}{buyer}"
