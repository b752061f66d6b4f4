"""From a trailer to what the public pages show of it: for desk and terminal alike."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from rubrail.sheets.drawing import curve_of, envelope_plot, plan_view, side_view, thumbnail, trailer_outline
from rubrail.sheets.drawing.svg import escape
from rubrail.sheets.drawing.tokens import FONT
from rubrail.sheets.sentences_unit import measure_first
from rubrail.sheets.sentences_yard import envelope_sentence
from rubrail.sheets.site.shown import SiteDetail, SitePhoto, SiteUnit, Standing, mark_of

if TYPE_CHECKING:
    from rubrail.answers.envelope import Envelope
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
LEFT_OUT = ("What it is", "Price")
"""Groups of facts that the page says elsewhere."""


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
    updated: datetime | None = None,
    vin: str = "",
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
    updated : datetime, optional
    vin : str
        As much of it as may go out as it is.
    rests_on : optional
        What its page is made from besides the trailer.
    """
    deck = trailer.deck
    flat, tail = _number(deck.flat_length_in), _number(deck.tail_length_in)
    whole = flat if deck.tail_kind == "none" else None if flat is None or tail is None else flat + tail
    return SiteUnit(
        stock_number=trailer.id,
        title=trailer.title or " ".join(filter(None, (trailer.maker, trailer.model))) or trailer.id,
        standing=STANDINGS[trailer.status],
        coupling=trailer.coupling.kind,
        deck=deck.kind or "",
        condition=trailer.condition or "",
        year=trailer.year,
        maker=trailer.maker or "",
        model=trailer.model or "",
        color=trailer.color or "",
        vin=vin,
        axles=len(trailer.axle),
        gvwr_lb=_number(trailer.ratings.gvwr_lb),
        payload_lb=payload_lb,
        empty_lb=_number(trailer.weights.empty_lb),
        deck_length_in=whole,
        deck_width_in=_number(deck.width_in),
        deck_height_in=_number(deck.height_in),
        **priced(price),
        arrived=trailer.arrived,
        updated=updated,
        photos=tuple(photos),
        rests_on=mark_of([trailer.model_dump(mode="json"), price.text, [p.name for p in photos], rests_on]),
    )


def small_drawing(trailer: Trailer) -> str:
    """The drawing of a list."""
    return thumbnail(trailer, width_px=SMALL_PX, longest_in=LONGEST_IN)


def priced(price: PriceShown) -> dict[str, Any]:
    """What a unit shows of its price."""
    day: date | None = price.checked if price.usd is not None else None
    return {"price_usd": price.usd, "price_day": day, "price_says": price.text}


def _number(value: Any) -> float | None:
    return None if value is None else float(value.number)


def site_detail(
    trailer: Trailer,
    *,
    reading: Reading,
    facts: PublicFacts,
    listing: Listing | None = None,
) -> SiteDetail:
    """What a unit's own page shows.

    Parameters
    ----------
    trailer : Trailer
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
        says=envelope_sentence(envelope, title=reading.decoding.title) if known else measure_first(reading.gaps),
        headline=listing.headline if listing else "",
        paragraphs=listing.paragraphs if listing else (),
        ending=listing.ending if listing else "",
        groups=(*groups, ("The unit and its price", more)),
        unknown=facts.not_measured,
        drawings=_drawings(trailer, envelope if known else None),
    )


def _drawings(trailer: Trailer, envelope: Envelope | None) -> dict[str, str]:
    outline = trailer_outline(trailer)
    drawn = {}
    for ending, (width, room) in (("", WIDE), ("-narrow", NARROW)):
        drawn[f"side{ending}"] = _roomy(side_view(outline, width_px=width), room)
        drawn[f"plan{ending}"] = _roomy(plan_view(outline, width_px=width), room)
        if envelope is not None:
            drawn[f"carries{ending}"] = _roomy(
                envelope_plot(
                    curve_of(envelope.alone),
                    title=f"{outline.title}: most cargo by where it balances",
                    trailer=outline,
                    origin_x_in=envelope.deck_front_x_in,
                    width_px=width,
                    height_px=190.0,
                ),
                room,
            )
    return drawn


def _roomy(svg: str, room: float) -> str:
    """A drawing that stands by itself: in any machine's own type, with room for letters that come out wider."""
    x, y, width, height = (float(n) for n in svg.split('viewBox="', 1)[1].split('"', 1)[0].split())
    box = f'viewBox="{x - room:g} {y:g} {width + 2 * room:g} {height:g}"'
    svg = re.sub(r'viewBox="[^"]*"', box, svg, count=1)
    svg = re.sub(r' width="[^"]*"', f' width="{width + 2 * room:g}"', svg, count=1)
    return svg.replace(escape(FONT), escape(TYPE))
