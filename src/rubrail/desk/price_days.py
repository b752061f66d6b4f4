"""When a unit's price was last looked at: set with every change of it, and by whoever says it is still right."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

from django.db.models import Q, QuerySet
from django.utils import timezone

from rubrail.desk import clock
from rubrail.desk.models import Listing, Unit, User
from rubrail.desk.models.stock import ON_THE_LOT


def price_day(unit: Unit) -> date:
    """Day somebody last set a unit's price or said that it is still right; else the day it came into the desk."""
    checked = unit.listing.price_checked if hasattr(unit, "listing") else None
    return checked or clock.local(unit.created).date()


def note_prices(units: Iterable[Unit], *, by: User | None) -> None:
    """Remember that the prices of these units were set today."""
    units = list(units)
    if not units:
        return
    now, looked = timezone.now(), {"price_checked": clock.today(), "price_checked_by": by}
    there = Listing.objects.filter(unit__in=units)
    known = set(there.values_list("unit_id", flat=True))
    there.update(**looked, updated=now)
    Listing.objects.bulk_create(Listing(unit=u, created_by=by, **looked) for u in units if u.pk not in known)


def older_than(days: int, *, today: date) -> QuerySet[Unit]:
    """Units for sale whose price nobody has looked at for more than so many days."""
    bound = today - timedelta(days=days)
    # Against a moment, not a day: taking the day of every row apart costs more than all the rest.
    begins = timezone.make_aware(datetime.combine(bound, time.min))
    old = Q(listing__price_checked__lt=bound) | Q(listing__price_checked=None, created__lt=begins)
    return Unit.objects.filter(old, status__in=ON_THE_LOT, price_usd__isnull=False).select_related("listing")
