"""What the pages of listings show: the text in pieces with refused words marked, the state of a unit, the lists."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet
from django.urls import reverse

from rubrail.answers.claims import Refused, refused_in
from rubrail.desk.listings import Terms, held_back, listing_of, offer_of, why_not_shown
from rubrail.desk.models import Listing, Photo, Unit
from rubrail.desk.models.stock import ON_THE_LOT, Purpose
from rubrail.desk.price_days import price_day
from rubrail.desk.public.typed import LeftOut, words_left_out
from rubrail.desk.stock import readable
from rubrail.rules.claims import Claim
from rubrail.sheets.listing import WORDS
from rubrail.sheets.listing_offer import Offer
from rubrail.sheets.listing_price import ASK, CURRENT, price_standing
from rubrail.sheets.listing_typed import CAPTION
from rubrail.sheets.sentences_amounts import listed
from rubrail.sheets.sentences_claims import claim_sentence, remedy_sentence, rule_source
from rubrail.sheets.site.shown import file_name
from rubrail.things.faults import Faults
from rubrail.things.listing import ListingText


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of a text; whether it is refused."""

    text: str
    refused: bool


@dataclass(frozen=True, slots=True)
class Told:
    """A claim as the page tells it: where, the words around it with it marked, why, how else, whose rule."""

    where: str
    pieces: tuple[Piece, ...]
    why: str
    instead: str
    source: str


def marked(text: str, claims: Iterable[Claim]) -> tuple[Piece, ...]:
    """A text in pieces, the refused ones marked; claims that overlap are one piece."""
    pieces, at = [], 0
    for claim in sorted(claims, key=lambda c: c.start):
        if claim.end <= at:
            continue
        start = max(claim.start, at)
        pieces += [Piece(text[at:start], False), Piece(text[start : claim.end], True)]
        at = claim.end
    return tuple(p for p in (*pieces, Piece(text[at:], False)) if p.text)


def told(refused: Sequence[Refused], *, metric: bool = False) -> list[Told]:
    """Claims as a page tells them, in their order."""
    return [
        Told(
            r.where,
            marked(_around(r), [_moved(r)]),
            claim_sentence(r.claim, metric=metric),
            remedy_sentence(r.claim),
            rule_source(r.claim),
        )
        for r in refused
    ]


AROUND = 60


def _around(refused: Refused) -> str:
    start, end = _window(refused)
    return f"{'… ' if start else ''}{refused.text[start:end]}{' …' if end < len(refused.text) else ''}"


def _moved(refused: Refused) -> Claim:
    start, _ = _window(refused)
    by = (2 if start else 0) - start
    c = refused.claim
    return Claim(c.rule, c.start + by, c.end + by, c.words)


def _window(refused: Refused) -> tuple[int, int]:
    text, claim = refused.text, refused.claim
    start, end = max(claim.start - AROUND, 0), min(claim.end + AROUND, len(text))
    # Not in the middle of a word, where there is a blank to break at.
    start = text.find(" ", start, claim.start) + 1 if start else 0
    cut = text.rfind(" ", claim.end, end) if end < len(text) else -1
    return start, cut if cut > claim.end else end


def page_of(unit: Unit, terms: Terms, *, words: str | None = None, metric: bool = False) -> dict[str, Any]:
    """Everything the listing page of a unit shows.

    Parameters
    ----------
    unit : Unit
    terms : Terms
    words : str, optional
        As just typed; else those refused and kept aside, else those kept.
    metric : bool
    """
    listing = listing_of(unit)
    trailer = readable(unit)
    found = None if trailer is None else offer_of(unit, terms, trailer=trailer, metric=metric)
    typed = words if words is not None else (listing.draft or listing.words) if listing else ""
    tried = found if found is None else offer_of(unit, terms, trailer=trailer, words=typed, metric=metric)
    chosen = listing is not None and listing.shown
    why_not = why_not_shown(unit, found)
    return {
        "unit": unit,
        "listing": listing,
        "version": listing.version if listing else 0,
        "offer": found,
        "text": found.text if found and not found.refused else None,
        "refused": told(found.refused, metric=metric) if found else [],
        "typed_refused": told(_typed(unit, found), metric=metric) if found else [],
        "named": found.title if found and found.title != (unit.title or "") else "",
        "words": typed,
        "words_refused": told(tried.words_refused, metric=metric) if tried else [],
        "words_gone": told(found.words_refused, metric=metric) if found else [],
        "held_back": found is not None and held_back(found),
        "chosen": chosen,
        "shown": chosen and not why_not,
        "why_not": why_not,
        "public_path": f"trailer/{file_name(unit.stock_number)}.html",
        "price": price_line(unit, terms),
        "photos": unit.photos.filter(purpose=Purpose.SHOW).count(),
        "label_photos": unit.photos.filter(purpose=Purpose.LABEL).count(),
        "wording": terms.wording,
    }


def _typed(unit: Unit, found: Offer) -> tuple[Refused, ...]:
    """Claims of words that stand by themselves: of the unit, and of photos that are shown."""
    captions = unit.photos.filter(purpose=Purpose.SHOW).exclude(says="").values_list("says", flat=True)
    return (*found.typed_refused, *refused_in([(CAPTION, says) for says in captions], found.true))


@dataclass(frozen=True, slots=True)
class PriceLine:
    """The age of a price: the day it was looked at, how many days ago, how it is shown, and that in words."""

    day: date
    days: int
    standing: str
    says: str

    @property
    def old(self) -> bool:
        """Whether somebody should look at it."""
        return self.standing != CURRENT


def price_line(unit: Unit, terms: Terms) -> PriceLine | None:
    """The age of a unit's price; nothing where it has none."""
    if unit.price_usd is None:
        return None
    return price_age_line(price_day(unit), wording=terms.wording, today=terms.today)


def price_age_line(day: date, *, wording: ListingText, today: date) -> PriceLine:
    """The age of a price looked at on a day, and what that does to how it is shown."""
    days = max((today - day).days, 0)
    standing = price_standing(days, stale_days=wording.stale_days, ask_days=wording.ask_days)
    if standing == ASK:
        says = f"older than {wording.ask_days} days: the public pages say to ask for it"
    elif standing == CURRENT:
        says = f"shown as it is until it is {wording.stale_days} days old"
    else:
        says = f"older than {wording.stale_days} days: shown with its day"
    return PriceLine(day, days, standing, says)


WHICH = (
    ("", "For sale"),
    ("shown", "Chosen to be shown"),
    ("hidden", "Not shown"),
    ("work", "With something to do"),
)


def units_of(which: str, words: str, terms: Terms) -> QuerySet[Unit]:
    """Units for sale, as the list of listings is asked for them."""
    photos = Photo.objects.filter(unit=OuterRef("pk"))
    found = (
        Unit.objects.with_words(words)
        .filter(status__in=ON_THE_LOT)
        .select_related("listing")
        .annotate(
            has_photo=Exists(photos.filter(purpose=Purpose.SHOW)),
            has_label=Exists(photos.filter(purpose=Purpose.LABEL)),
        )
        .defer("packed", "thumbnail")
        .order_by("stock_number")
    )
    if which == "shown":
        return found.filter(listing__shown=True)
    if which == "hidden":
        return found.exclude(listing__shown=True)
    if which == "work":
        return found.filter(_to_do(terms))
    return found


def _to_do(terms: Terms) -> Q:
    from datetime import timedelta

    bound = terms.today - timedelta(days=terms.wording.stale_days)
    old = Q(price_usd__isnull=False) & (
        Q(listing__price_checked__lt=bound) | Q(listing__price_checked=None, created__date__lt=bound)
    )
    typed = Q(stock_number__in=[*words_left_out(terms)])
    lacking = Q(has_photo=False) | Q(has_label=False) | Q(price_usd=None) | Q(gvwr_lb=None) | Q(payload_lb=None)
    return old | typed | (Q(listing__shown=True) & lacking) | (Q(listing__isnull=False) & ~Q(listing__draft=""))


@dataclass(frozen=True, slots=True)
class Line:
    """One unit in the list of listings, with what there is to do, a few words each."""

    unit: Unit
    chosen: bool
    price: PriceLine | None
    to_do: tuple[str, ...]
    url: str


def lines_of(units: Iterable[Unit], terms: Terms) -> list[Line]:
    """Units of the list, each with what there is to do."""
    typed = words_left_out(terms)
    return [_line(unit, terms, typed.get(unit.stock_number)) for unit in units]


def _line(unit: Unit, terms: Terms, out: LeftOut | None) -> Line:
    listing = listing_of(unit)
    price = price_line(unit, terms)
    url = reverse("listing", args=[unit.stock_number])
    return Line(unit, bool(listing and listing.shown), price, tuple(_tasks(unit, listing, price, terms, out)), url)


def _tasks(
    unit: Unit, listing: Listing | None, price: PriceLine | None, terms: Terms, out: LeftOut | None
) -> Iterable[str]:
    if out is not None:
        yield f"{listed(sorted(out.facts))} refused"
    if listing and listing.draft:
        yield "words refused"
    if listing and listing.shown and listing.words and _words_fail(unit, terms):
        yield "its words no longer hold"
    if price is None:
        yield "no price"
    elif price.old:
        yield f"price looked at {price.days} days ago"
    if unit.gvwr_lb is None:
        yield "label GVWR not known"
    if unit.payload_lb is None:
        yield "payload not known"
    if not unit.has_photo:
        yield "no photo"
    if not unit.has_label:
        yield "no photo of the label"


def _words_fail(unit: Unit, terms: Terms) -> bool:
    try:
        return bool(offer_of(unit, terms).words_refused)
    except Faults:
        return True


__all__ = ["WHICH", "WORDS", "lines_of", "marked", "page_of", "price_age_line", "told", "units_of"]
