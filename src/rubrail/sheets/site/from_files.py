"""A site from the files of a yard, without a desk."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING

from rubrail.answers.reading import read_unit
from rubrail.sheets.listing import listing_text
from rubrail.sheets.listing_facts import public_facts
from rubrail.sheets.listing_price import PriceShown, price_shown
from rubrail.sheets.site.made import STANDINGS, payloads, site_detail, site_unit, small_drawing
from rubrail.sheets.site.shown import SiteDetail, SitePhoto, SiteYard
from rubrail.sheets.site.whole import Makers, SiteFile, site_files

if TYPE_CHECKING:
    from rubrail.things.listing import ListingText
    from rubrail.things.trailer import Trailer
    from rubrail.things.yard import Yard


def may_be_shown(trailer: Trailer) -> bool:
    """Whether a unit is still for sale."""
    return trailer.status in STANDINGS


def files_of_yard(yard: Yard, *, shown_by: SiteYard, today: date) -> Iterator[SiteFile]:
    """Every file of a site of a yard's units, worded by its listing text in force on a day; by the plain one else."""
    from rubrail.things.folder import plain_listing

    in_force = [
        w
        for w in yard.listings.values()
        if (w.effective or date.min) <= today and (w.until is None or today <= w.until)
    ]
    wording = max(in_force, key=lambda w: (w.effective or date.min, w.id), default=None) or plain_listing()
    return files_of_trailers(list(yard.trailers.values()), yard=shown_by, wording=wording, today=today)


def files_of_trailers(
    trailers: Sequence[Trailer], *, yard: SiteYard, wording: ListingText, today: date
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
    """
    chosen = [t for t in trailers if may_be_shown(t)]
    by_number = {t.id: t for t in chosen}

    def price_of(trailer: Trailer) -> PriceShown:
        return price_shown(price_usd=trailer.price_usd, checked=today, today=today)

    # The pages of one unit are made one after the other.
    @lru_cache(maxsize=2)
    def detail(stock_number: str) -> SiteDetail:
        trailer = by_number[stock_number]
        reading = read_unit(trailer)
        facts = public_facts(
            trailer,
            reading=reading,
            price=price_of(trailer),
            yard=yard.name,
            vin=wording.vin,
            warranty=wording.warranty,
        )
        return site_detail(trailer, reading=reading, facts=facts, listing=listing_text(facts, wording))

    units = [
        site_unit(
            t,
            payload_lb=lb,
            price=price_of(t),
            vin=(t.vin or "") if wording.vin == "whole" else "",
            rests_on=wording.model_dump(mode="json"),
        )
        for t, lb in zip(chosen, payloads(chosen), strict=True)
    ]
    makers = Makers(
        detail=lambda u: detail(u.stock_number),
        small=lambda u: small_drawing(by_number[u.stock_number]),
        photo=_no_photo,
    )
    return site_files(units, yard=yard, makers=makers)


def _no_photo(photo: SitePhoto, width_px: int) -> bytes | None:
    """Files of a yard hold no photos."""
    return None
