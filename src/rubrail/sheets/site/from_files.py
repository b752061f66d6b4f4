"""A site from the files of a yard, without a desk."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING

from rubrail.sheets.listing_offer import offer
from rubrail.sheets.listing_price import price_shown
from rubrail.sheets.listing_typed import left_out_of
from rubrail.sheets.site.made import STANDINGS, payloads, read_build, site_detail, site_unit, small_drawing
from rubrail.sheets.site.shown import SiteDetail, SitePhoto, SiteUnit, SiteYard
from rubrail.sheets.site.whole import Makers, SiteFile, site_files
from rubrail.things.holding import in_force

if TYPE_CHECKING:
    from rubrail.things.listing import ListingText
    from rubrail.things.rates import Rates
    from rubrail.things.trailer import Trailer
    from rubrail.things.yard import Yard


def may_be_shown(trailer: Trailer) -> bool:
    """Whether a unit is still for sale."""
    return trailer.status in STANDINGS


def files_of_yard(yard: Yard, *, shown_by: SiteYard, today: date, arrivals: bool = False) -> Iterator[SiteFile]:
    """Every file of a site of a yard's units, worded by its listing text in force on a day; by the plain one else."""
    from rubrail.things.folder import plain_listing

    wording = in_force(yard.listings.values(), on=today) or plain_listing()
    rates = in_force(yard.rates.values(), on=today)
    return files_of_trailers(
        list(yard.trailers.values()), yard=shown_by, wording=wording, today=today, rates=rates, arrivals=arrivals
    )


def files_of_trailers(
    trailers: Sequence[Trailer],
    *,
    yard: SiteYard,
    wording: ListingText,
    today: date,
    rates: Rates | None = None,
    arrivals: bool = False,
) -> Iterator[SiteFile]:
    """Every file of a site of trailers.

    Parameters
    ----------
    trailers : sequence of Trailer
        Those that are not for sale are left out.
    yard : SiteYard
    wording : ListingText
        How the yard words its listings.
    today : date
        The day on which their prices hold.
    rates : Rates, optional
        The yard's own: what comes on top of a price.
    arrivals : bool
        Whether the day each came is told; else no day is, as files know of no other.
    """
    chosen = [t for t in trailers if may_be_shown(t)]
    by_number = {t.id: t for t in chosen}

    makers = sorted({t.maker for t in trailers if t.maker})

    # The pages of one unit are made one after the other.
    @lru_cache(maxsize=2)
    def detail(u: SiteUnit) -> SiteDetail:
        trailer = by_number[u.stock_number]
        reading = read_build(trailer)
        told = offer(
            trailer,
            wording,
            checked=today,
            today=today,
            reading=reading,
            yard=yard.name,
            rates=rates,
            makers=makers,
        )
        # A text that makes a claim the yard must not make goes out nowhere; the facts stand by themselves.
        text = None if told.refused else told.text
        return site_detail(trailer, title=u.title, reading=reading, facts=told.facts, listing=text)

    units = [
        site_unit(
            t,
            payload_lb=lb,
            price=price_shown(price_usd=t.price_usd, checked=today, today=today),
            arrived=t.arrived if arrivals else None,
            vin=(t.vin or "") if wording.vin == "whole" else "",
            left_out=left_out_of(t, payload_lb=lb, makers=makers),
            rests_on=[wording.model_dump(mode="json"), rates and rates.model_dump(mode="json"), makers, arrivals],
        )
        for t, lb in zip(chosen, payloads(chosen), strict=True)
    ]
    dear = Makers(
        detail=detail,
        small=lambda u: small_drawing(by_number[u.stock_number], title=u.title),
        photo=_no_photo,
    )
    return site_files(units, yard=yard, makers=dear)


def _no_photo(photo: SitePhoto, width_px: int) -> bytes | None:
    """Files of a yard hold no photos."""
    return None
