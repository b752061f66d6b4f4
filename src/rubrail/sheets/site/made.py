"""From a trailer to what the public pages show of it: for desk and terminal alike."""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from rubrail.sheets.drawing import curve_of, envelope_plot, plan_view, side_view, thumbnail, trailer_outline
from rubrail.sheets.drawing.outline import TrailerOutline
from rubrail.sheets.drawing.svg import escape
from rubrail.sheets.drawing.tokens import FONT
from rubrail.sheets.listing_typed import left_out_of, made_title
from rubrail.sheets.sentences_unit import measure_first
from rubrail.sheets.sentences_yard import envelope_sentence
from rubrail.sheets.site.shown import SiteDetail, SitePhoto, SiteUnit, Standing, mark_of

if TYPE_CHECKING:
    from rubrail.answers.envelope import Segment
    from rubrail.answers.reading import Reading
    from rubrail.sheets.listing import Listing
    from rubrail.sheets.listing_facts import PublicFacts
    from rubrail.sheets.listing_price import PriceShown
    from rubrail.things.trailer import Trailer

WIDE, NARROW = (1096.0, 12.0), (284.0, 26.0)
"""Widths of drawings, and the room added at either side: a picture by itself cannot bring its type along."""
TYPE = "'Source Sans 3', 'Source Sans Pro', 'Noto Sans', 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif"
SMALL_PX, LONGEST_IN = 176.0, 560.0
"""All drawings of a list share one scale; only a trailer beyond 46 ft 8 in is drawn smaller than the others."""
STANDINGS: dict[str, Standing] = {"in-stock": "here", "on-order": "expected", "held": "held"}
KEPT = 256
"""Builds of which the reading and the drawings are kept in memory: a yard has many units of a build."""
ASIDE = {
    **dict.fromkeys(("title", "vin", "color", "location", "arrived", "price_usd", "cost_usd", "notes")),
    "id": "any",
    "status": "in-stock",
}
"""What two units of a build differ in, and the engine asks nothing of."""
LEFT_OUT = ("What it is", "Price")
"""Groups of facts that the page says elsewhere."""


def read_build(trailer: Trailer) -> Reading:
    """Everything the engine says of a trailer, read once for all that are built and weigh alike."""
    found = _read(trailer.model_copy(update=ASIDE))
    return replace(
        found,
        decoding=replace(found.decoding, trailer=trailer.id, title=trailer.title or trailer.id),
        envelope=found.envelope and replace(found.envelope, trailer=trailer.id),
    )


@lru_cache(maxsize=KEPT)
def _read(build: Trailer) -> Reading:
    from rubrail.answers.reading import read_unit

    return read_unit(build)


def payloads(trailers: Sequence[Trailer]) -> list[float | None]:
    """What each carries, the trailer alone at its best place; ``None`` where a missing rating may cut it."""
    from rubrail.answers.height import built_columns
    from rubrail.answers.payload import alone_best

    if not trailers:
        return []
    best, _ = alone_best(built_columns(trailers))
    return [float(lb) if math.isfinite(lb) else None for lb in best]


def site_unit(
    trailer: Trailer,
    *,
    payload_lb: float | None,
    price: PriceShown,
    photos: Sequence[SitePhoto] = (),
    arrived: date | None = None,
    listed: date | None = None,
    updated: datetime | None = None,
    vin: str = "",
    left_out: Collection[str] = (),
    rests_on: Any = None,
) -> SiteUnit:
    """A unit as lists and feeds show it.

    Parameters
    ----------
    trailer : Trailer
        In the yard, held or expected.
    payload_lb : float or None
        Of ``payloads``.
    price : PriceShown
    photos : sequence of SitePhoto
    arrived, listed : date, optional
        Day it came, where that may be told; day its listing was begun.
    updated : datetime, optional
    vin : str
        As much of it as may go out as it is.
    left_out : collection of str
        Typed facts, of ``sheets.listing_typed``, that make a refused claim.
    rests_on : optional
        What its page is made from besides the trailer.
    """
    deck = trailer.deck
    flat, tail = _number(deck.flat_length_in), _number(deck.tail_length_in)
    whole = flat if deck.tail_kind == "none" else None if flat is None or tail is None else flat + tail
    maker, model, color = ("" if n in left_out else getattr(trailer, n) or "" for n in ("maker", "model", "color"))
    return SiteUnit(
        stock_number=trailer.id,
        title=_title(trailer, left_out),
        standing=STANDINGS[trailer.status],
        coupling=trailer.coupling.kind,
        deck=deck.kind or "",
        condition=trailer.condition or "",
        year=trailer.year,
        maker=maker,
        model=model,
        color=color,
        vin=vin,
        axles=len(trailer.axle),
        gvwr_lb=_number(trailer.ratings.gvwr_lb),
        payload_lb=payload_lb,
        empty_lb=_number(trailer.weights.empty_lb),
        deck_length_in=whole,
        deck_width_in=_number(deck.width_in),
        deck_height_in=_number(deck.height_in),
        **priced(price),
        arrived=arrived,
        listed=listed,
        updated=updated,
        photos=tuple(photos),
        rests_on=mark_of([trailer.model_dump(mode="json"), price.text, [p.name for p in photos], rests_on]),
    )


def title_of(trailer: Trailer, *, payload_lb: float | None) -> str:
    """What a trailer is called where buyers read it: one made of facts alone where its title makes a refused claim."""
    return _title(trailer, left_out_of(trailer, payload_lb=payload_lb))


def _title(trailer: Trailer, left_out: Collection[str]) -> str:
    """Its title, else its maker and model, else its number."""
    if left_out:
        return trailer.title if trailer.title and "title" not in left_out else made_title(trailer)
    return trailer.title or " ".join(filter(None, (trailer.maker, trailer.model))) or trailer.id


def small_drawing(trailer: Trailer, *, title: str) -> str:
    """The drawing of a list, under the title that pages name the unit by."""
    return thumbnail(_outline(trailer, title), width_px=SMALL_PX, longest_in=LONGEST_IN)


def _outline(trailer: Trailer, title: str) -> TrailerOutline:
    return replace(trailer_outline(trailer), title=title)


def priced(price: PriceShown) -> dict[str, Any]:
    """What a unit shows of its price."""
    day: date | None = price.checked if price.usd is not None else None
    return {"price_usd": price.usd, "price_day": day, "price_says": price.text}


def _number(value: Any) -> float | None:
    return None if value is None else float(value.number)


def site_detail(
    trailer: Trailer,
    *,
    title: str,
    reading: Reading,
    facts: PublicFacts,
    listing: Listing | None = None,
) -> SiteDetail:
    """What a unit's own page shows.

    Parameters
    ----------
    trailer : Trailer
    title : str
        What pages name it by.
    reading : Reading
        What the engine says of the same trailer.
    facts : PublicFacts
        What may be told of it.
    listing : Listing, optional
        The listing's text.
    """
    envelope = reading.envelope
    known = envelope is not None and bool(envelope.alone)
    groups = tuple(
        (title, tuple((f.label, f.text) for f in rows)) for title, rows in facts.groups() if title not in LEFT_OUT
    )
    more = tuple((f.label, f.text) for title, rows in facts.groups() if title in LEFT_OUT for f in rows)
    return SiteDetail(
        says=envelope_sentence(envelope, title=title) if known else measure_first(reading.gaps),
        headline=listing.headline if listing else "",
        paragraphs=listing.paragraphs if listing else (),
        ending=listing.ending if listing else "",
        groups=(*groups, ("The unit and its price", more)),
        unknown=facts.not_measured,
        drawings=_drawings(
            _outline(trailer, title), envelope.alone if known else (), envelope.deck_front_x_in if known else 0.0
        ),
    )


@lru_cache(maxsize=KEPT)
def _drawings(outline: TrailerOutline, alone: tuple[Segment, ...], deck_front_x_in: float) -> Mapping[str, str]:
    """Drawings of everything built alike; what is written to the page does not change them."""
    drawn = {}
    for ending, (width, room) in (("", WIDE), ("-narrow", NARROW)):
        drawn[f"side{ending}"] = _roomy(side_view(outline, width_px=width), room)
        drawn[f"plan{ending}"] = _roomy(plan_view(outline, width_px=width), room)
        if alone:
            drawn[f"carries{ending}"] = _roomy(
                envelope_plot(
                    curve_of(alone),
                    title=f"{outline.title}: most cargo by where it balances",
                    trailer=outline,
                    origin_x_in=deck_front_x_in,
                    width_px=width,
                    height_px=190.0,
                ),
                room,
            )
    return MappingProxyType(drawn)


def _roomy(svg: str, room: float) -> str:
    """A drawing that stands by itself: in any machine's own type, with room for letters that come out wider."""
    x, y, width, height = (float(n) for n in svg.split('viewBox="', 1)[1].split('"', 1)[0].split())
    box = f'viewBox="{x - room:g} {y:g} {width + 2 * room:g} {height:g}"'
    svg = re.sub(r'viewBox="[^"]*"', box, svg, count=1)
    svg = re.sub(r' width="[^"]*"', f' width="{width + 2 * room:g}"', svg, count=1)
    return svg.replace(escape(FONT), escape(TYPE))
