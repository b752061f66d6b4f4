"""Units as they are offered: shown or not, the yard's own words, the age of the price; changed with a trail."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from django.conf import settings
from django.db import transaction

from rubrail.answers.reading import Reading
from rubrail.desk import clock
from rubrail.desk.audit import record
from rubrail.desk.books import in_force, rates_on, thing_in
from rubrail.desk.editing import StaleError, save_changes
from rubrail.desk.models import Book, Listing, Unit, User
from rubrail.desk.models.books import Sort
from rubrail.desk.models.stock import ON_THE_LOT, Status
from rubrail.desk.price_days import older_than, price_day
from rubrail.desk.stock import trailer_of
from rubrail.sheets.listing_offer import Offer, offer
from rubrail.sheets.listing_price import PriceShown, price_shown, price_standing
from rubrail.sheets.listing_typed import TYPED
from rubrail.sheets.site.shown import mark_of
from rubrail.things.folder import plain_listing
from rubrail.things.listing import ListingText
from rubrail.things.rates import Rates
from rubrail.things.trailer import Trailer

NEVER_SEEN = 0
"""Version of a listing that was not begun yet."""


@dataclass(frozen=True)
class Terms:
    """What every listing of a day rests on: the yard's wording, its rates, the makers it knows."""

    wording: ListingText
    rates: Rates | None
    makers: tuple[str, ...]
    today: date

    @cached_property
    def mark(self) -> str:
        """A mark that changes with any of it but the day."""
        rates = self.rates and self.rates.model_dump()
        return mark_of([self.wording.model_dump(mode="json"), rates, self.makers])


@dataclass(frozen=True, slots=True)
class Stale:
    """A price that nobody has looked at for too long: whose, for how many days, and how it is shown meanwhile."""

    unit: Unit
    checked: date
    days: int
    standing: str


def wording_book(day: date) -> Book | None:
    """The yard's own listing file in force on a day."""
    return in_force(Sort.LISTING, on=day).first()


def wording_on(day: date) -> ListingText:
    """The yard's wording on a day; the plain one that ships with the program where it has none.

    Raises
    ------
    Faults
        If what is stored no longer reads.
    """
    book = wording_book(day)
    return plain_listing() if book is None else thing_in(book)


def terms_on(day: date) -> Terms:
    """What listings rest on, read once for many units."""
    makers = Unit.objects.exclude(maker="").values_list("maker", flat=True).distinct()
    return Terms(wording_on(day), rates_on(day), tuple(sorted(set(makers))), day)


def listing_of(unit: Unit) -> Listing | None:
    """How a unit is offered, or nothing where nobody has begun."""
    return unit.listing if hasattr(unit, "listing") else None


def offer_of(
    unit: Unit,
    terms: Terms,
    *,
    trailer: Trailer | None = None,
    reading: Reading | None = None,
    words: str | None = None,
    wording: ListingText | None = None,
    metric: bool = False,
) -> Offer:
    """A unit as it is offered.

    Parameters
    ----------
    unit : Unit
    terms : Terms
    trailer, reading : optional
        Read before.
    words : str, optional
        The yard's own words; those kept with the unit where left out.
    wording : ListingText, optional
        In place of the yard's, to look at before it is kept.
    metric : bool

    Raises
    ------
    Faults
        If what is stored of the unit no longer reads.
    """
    listing = listing_of(unit)
    kept = "" if listing is None else listing.words
    return offer(
        trailer_of(unit) if trailer is None else trailer,
        terms.wording if wording is None else wording,
        checked=price_day(unit),
        today=terms.today,
        reading=reading,
        words=kept if words is None else words,
        yard=settings.RUBRAIL_YARD_NAME,
        rates=terms.rates,
        makers=terms.makers,
        metric=metric,
    )


def price_of(unit: Unit, terms: Terms) -> PriceShown:
    """What of a unit's price may be shown, without what is added to it."""
    return price_shown(
        price_usd=unit.price_usd,
        checked=price_day(unit),
        today=terms.today,
        stale_days=terms.wording.stale_days,
        ask_days=terms.wording.ask_days,
    )


def why_not_shown(unit: Unit, found: Offer | None) -> str:
    """Why a unit is not on the public pages whatever the yard chose; ``""`` where it may be.

    Parameters
    ----------
    unit : Unit
    found : Offer or None
        As it is offered; ``None`` where what is stored of it no longer reads.
    """
    if unit.status not in ON_THE_LOT:
        return f"It is {Status(unit.status).label}: only what is for sale is shown."
    if found is None:
        return "What is stored of it no longer reads."
    return ""


def held_back(found: Offer) -> bool:
    """Whether a unit is not newly put on the public pages: its text or its title makes a claim that is refused."""
    return bool(found.refused) or any(r.where == TYPED["title"] for r in found.typed_refused)


def stale_prices(today: date) -> list[Stale]:
    """Units for sale whose price nobody has looked at for longer than the yard's wording allows, the oldest first."""
    wording = wording_on(today)
    found = []
    for unit in older_than(wording.stale_days, today=today).defer("spec", "packed", "thumbnail"):
        checked = price_day(unit)
        days = (today - checked).days
        standing = price_standing(days, stale_days=wording.stale_days, ask_days=wording.ask_days)
        found.append(Stale(unit, checked, days, standing))
    return sorted(found, key=lambda s: (-s.days, s.unit.stock_number))


def set_shown(unit: Unit, shown: bool, *, by: User, seen_version: int) -> bool:
    """Put a unit on the public pages or take it off; whether anything changed.

    Raises
    ------
    StaleError
        If somebody else changed the listing meanwhile.
    """

    def change(listing: Listing) -> bool:
        if listing.shown == shown:
            return False
        _save(listing, by=by, shown=shown)
        record(by=by, action="listed" if shown else "unlisted", thing=unit)
        return True

    return _change(unit, change, by=by, seen_version=seen_version)


def price_still_right(unit: Unit, *, by: User, seen_version: int) -> None:
    """Write down that somebody looked at a unit's price today and it is still right.

    Raises
    ------
    StaleError
        If somebody else changed the listing meanwhile.
    """

    def change(listing: Listing) -> bool:
        _save(listing, by=by, price_checked=clock.today(), price_checked_by=by)
        record(by=by, action="price looked at", thing=unit)
        return True

    _change(unit, change, by=by, seen_version=seen_version)


def set_words(unit: Unit, words: str, *, refused: bool, by: User, seen_version: int) -> None:
    """Keep the yard's own words for a unit; refused ones aside, the words that hold staying as they are.

    Parameters
    ----------
    unit : Unit
    words : str
    refused : bool
        Whether they make a claim that is refused.
    by : User
    seen_version : int
        Version of the listing the person had; ``NEVER_SEEN`` for none.

    Raises
    ------
    StaleError
        If somebody else changed the listing meanwhile; nothing is written then.
    """

    def change(listing: Listing) -> bool:
        if refused:
            _save(listing, by=by, draft=words)
            return True
        was = listing.words
        _save(listing, by=by, words=words, draft="")
        if was != words:
            record(by=by, action="worded", thing=unit, field="listing.words", old=was, new=words)
        return True

    _change(unit, change, by=by, seen_version=seen_version)


def _change(unit: Unit, change: Callable[[Listing], bool], *, by: User, seen_version: int) -> bool:
    """Change a unit's listing, begun where nobody had; the day its price counts from is kept with it."""
    with transaction.atomic():
        fresh = {"price_checked": price_day(unit), "created_by": by}
        listing, begun = Listing.objects.get_or_create(unit=unit, defaults=fresh)
        if seen_version != (NEVER_SEEN if begun else listing.version):
            raise StaleError(str(unit))
        done = change(listing)
    unit.listing = listing
    return done


def _save(listing: Listing, *, by: User, **values: object) -> None:
    save_changes(listing, values=values, deltas=(), by=by, seen_version=listing.version)


def shown_numbers(units: Iterable[Unit]) -> set[str]:
    """Stock numbers of those the yard chose to show."""
    return {u.stock_number for u in units if (it := listing_of(u)) is not None and it.shown}
