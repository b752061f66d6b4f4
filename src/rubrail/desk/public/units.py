"""Units as the public pages show them: those somebody chose to show and that are still for sale."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from pathlib import PurePosixPath
from typing import Any

from django.conf import settings
from django.db.models import Prefetch, QuerySet
from django.db.models.fields.json import KT
from django.utils.timezone import localdate, make_aware

from rubrail.desk import derived as engine
from rubrail.desk.listings import Terms, price_of
from rubrail.desk.models import Listing, Photo, Unit
from rubrail.desk.models.stock import GONE, Purpose, Status
from rubrail.desk.price_days import price_day
from rubrail.desk.public.typed import left_out, offered
from rubrail.desk.stock import readable
from rubrail.sheets.listing_price import AS_OF, CURRENT, PriceShown
from rubrail.sheets.site.made import priced
from rubrail.sheets.site.shown import SitePhoto, SiteUnit, Standing, mark_of

STANDINGS: dict[str, Standing] = {Status.HERE: "here", Status.EXPECTED: "expected", Status.HELD: "held"}
DEAR = ("spec", "packed", "thumbnail")
"""Columns that no list needs."""


def shown() -> QuerySet[Unit]:
    """Units somebody chose to show and that are here, held or expected, with their photos."""
    to_show = Photo.objects.filter(purpose=Purpose.SHOW)
    return (
        offered()
        # What no longer reads has nothing that could be shown.
        .exclude(derived_by=engine.mark(), packed=None)
        .select_related("listing")
        .prefetch_related(Prefetch("photos", to_show, to_attr="to_show"))
        .annotate(condition=KT("spec__condition"))
        .defer(*DEAR)
    )


def is_gone(stock_number: str) -> bool:
    """Whether a unit was shown once and is no longer for sale."""
    return Unit.objects.filter(stock_number=stock_number, listing__shown=True, status__in=GONE).exists()


def site_units(units: Iterable[Unit], *, terms: Terms) -> list[SiteUnit]:
    """Units of ``shown`` as lists and feeds show them.

    Parameters
    ----------
    units : iterable of Unit
    terms : Terms
        What listings of the day rest on.
    """
    units = list(units)
    payload = carried(units)
    shared = terms.mark
    return [_site_unit(u, payload[u.pk], terms, shared) for u in units]


def carried(units: Sequence[Unit]) -> dict[int, float | None]:
    """What each unit carries by its key; worked out again where another engine wrote what is stored. [lb]"""
    stale = {u.pk: readable(u) for u in units if not engine.is_fresh(u)}
    read = {pk: trailer for pk, trailer in stale.items() if trailer is not None}
    rows = engine.derived(list(read.values()))
    again = {pk: row["payload_lb"] for pk, row in zip(read, rows, strict=True)}
    return {u.pk: again.get(u.pk) if u.pk in stale else u.payload_lb for u in units}


def _site_unit(unit: Unit, payload_lb: float | None, terms: Terms, shared: str) -> SiteUnit:
    listing: Listing = unit.listing
    price = price_of(unit, terms)
    photos = tuple(site_photo(p) for p in unit.to_show)
    rests_on = mark_of(
        [
            *_stored(unit, listing),
            *(price.text, shared, settings.RUBRAIL_ARRIVALS),
            *((p.name, p.says) for p in photos),
        ]
    )
    out = left_out(
        unit, payload_lb=payload_lb, price_usd=price.usd, captions=(p.says for p in photos), terms=terms,
        rests_on=rests_on,
    )  # fmt: skip
    maker, model, color = ("" if n in out.facts else getattr(unit, n) for n in ("maker", "model", "color"))
    return SiteUnit(
        stock_number=unit.stock_number,
        title=out.title or unit.says,
        standing=STANDINGS[unit.status],
        coupling=unit.coupling_kind,
        deck=unit.deck_kind,
        condition=unit.condition or "",
        year=unit.year,
        maker=maker,
        model=model,
        color=color,
        vin=unit.vin if terms.wording.vin == "whole" else "",
        axles=unit.axle_count,
        gvwr_lb=unit.gvwr_lb,
        payload_lb=payload_lb,
        empty_lb=unit.empty_weight_lb,
        deck_length_in=unit.deck_length_in,
        deck_width_in=unit.deck_width_in,
        deck_height_in=unit.deck_height_in,
        **priced(price),
        arrived=unit.arrived if settings.RUBRAIL_ARRIVALS else None,
        listed=localdate(listing.created),
        updated=_changed(unit, listing, price, terms),
        photos=tuple(replace(p, says="") if p.says in out.captions else p for p in photos),
        rests_on=rests_on,
    )


def _changed(unit: Unit, listing: Listing, price: PriceShown, terms: Terms) -> datetime:
    """When what is shown of a unit last changed: it, its listing, its photos, or how its price is shown."""
    moments = [unit.updated, listing.updated, *(p.added for p in unit.to_show)]
    after = terms.wording.stale_days if price.standing == AS_OF else terms.wording.ask_days
    if unit.price_usd is not None and price.standing != CURRENT:
        turned = price_day(unit) + timedelta(days=after + 1)
        moments.append(make_aware(datetime.combine(turned, time.min)))
    return max(moments).replace(microsecond=0)


def _stored(unit: Unit, listing: Listing) -> list[Any]:
    """Marks of what is stored: any change of it changes one of them."""
    return [unit.pk, unit.version, unit.updated, unit.status, listing.version, listing.updated]


def site_photo(photo: Photo) -> SitePhoto:
    """A photo as the pages name it: by the name of its file, which nobody can guess and which never comes again."""
    return SitePhoto(PurePosixPath(photo.full.name).stem, photo.width, photo.height, photo.says)
