"""Sites to look at: the invented yard's, hostile ones, and a page taken apart."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import UTC, date, datetime
from functools import cache

import html5lib
from PIL import Image

from answers.yard import yard as invented
from rubrail.answers.reading import read_unit
from rubrail.sheets.listing import listing_text
from rubrail.sheets.listing_facts import public_facts
from rubrail.sheets.listing_price import PriceShown, price_shown
from rubrail.sheets.site.made import payloads, site_detail, site_unit, small_drawing
from rubrail.sheets.site.shown import SiteDetail, SitePhoto, SiteUnit, SiteYard
from rubrail.sheets.site.whole import Makers, SiteFile, site_files
from rubrail.things.folder import plain_listing

DAY = date(2026, 11, 28)
YARD = SiteYard("Sedge Hollow <Trailer> & Yard", "https://yard.example/public/", ("The office, 8 to 5", "Row A"))
FOR_SALE = ("in-stock", "on-order", "held")
NS = "{http://www.w3.org/1999/xhtml}"


def trailers():
    """Those of the invented yard that may be shown, by stock number."""
    return {t.id: t for t in invented().trailers.values() if t.status in FOR_SALE}


def price_of(stock: str) -> PriceShown:
    """Its price as looked at this month."""
    return price_shown(price_usd=trailers()[stock].price_usd, checked=date(2026, 11, 20), today=DAY)


@cache
def units(*stock: str) -> tuple[SiteUnit, ...]:
    """Units of the invented yard; all of them where none is named."""
    chosen = [t for t in trailers().values() if not stock or t.id in stock]
    return tuple(
        site_unit(
            t,
            payload_lb=lb,
            price=price_of(t.id),
            arrived=t.arrived,
            updated=datetime(2026, 11, 21, 9, 30, tzinfo=UTC),
        )
        for t, lb in zip(chosen, payloads(chosen), strict=True)
    )


@cache
def detail_of(stock: str) -> SiteDetail:
    """What its page shows."""
    trailer = trailers()[stock]
    reading = read_unit(trailer)
    facts = public_facts(trailer, reading=reading, price=price_of(stock))
    text = listing_text(facts, plain_listing(), words="Words of the yard.\nTwo lines of them.")
    return site_detail(trailer, title=trailer.title, reading=reading, facts=facts, listing=text)


def jpeg(width: int, height: int) -> bytes:
    """A picture."""
    out = io.BytesIO()
    Image.new("RGB", (width, height), "gray").save(out, "JPEG")
    return out.getvalue()


def photo_of(photo: SitePhoto, width_px: int) -> bytes:
    """A photo in a size."""
    return jpeg(width_px, dict(photo.sizes())[width_px])


MAKERS = Makers(
    detail=lambda u: detail_of(u.stock_number),
    small=lambda u: small_drawing(trailers()[u.stock_number], title=u.title),
    photo=photo_of,
)


def files_of(some: tuple[SiteUnit, ...], *, yard: SiteYard = YARD, makers: Makers = MAKERS) -> dict[str, SiteFile]:
    """Files of a site by path."""
    return {f.path: f for f in site_files(some, yard=yard, makers=makers)}


@cache
def whole() -> dict[str, bytes]:
    """Every file of the invented yard's site."""
    made = ((path, f.make()) for path, f in files_of(units()).items())
    return {path: data for path, data in made if data is not None}


def parsed(html: bytes):
    """A page, parsed strictly: any error of its HTML is raised."""
    return html5lib.HTMLParser(strict=True).parse(html.decode("utf-8"))


def elements(tree, tag: str) -> Iterator:
    """Its elements of a tag."""
    return tree.iter(NS + tag)


def text_of(tree) -> str:
    """All its words."""
    return " ".join(" ".join(tree.itertext()).split())
