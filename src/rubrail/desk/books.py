"""Files the yard goes by, between database and engine: catalogs, rates, kit."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from django.db.models import Q

from rubrail.desk.hauls import stored
from rubrail.desk.models import Book, User
from rubrail.desk.models.books import Sort
from rubrail.things.catalog import Catalog
from rubrail.things.checks import Checks
from rubrail.things.door import read_thing
from rubrail.things.kit import Kit
from rubrail.things.limits import Limits
from rubrail.things.listing import ListingText
from rubrail.things.part import Thing
from rubrail.things.rates import Rates

THINGS: dict[str, type[Thing]] = {
    Sort.CATALOG: Catalog,
    Sort.RATES: Rates,
    Sort.KIT: Kit,
    Sort.LIMITS: Limits,
    Sort.LISTING: ListingText,
    Sort.CHECKS: Checks,
}


def keep_book(thing: Thing, *, by: User | None) -> Book:
    """Store a file the yard goes by; one of the same kind and id is replaced."""
    sort = next(s for s, model in THINGS.items() if isinstance(thing, model))
    values = {
        "title": (getattr(thing, "title", None) or "")[:200],
        "effective": getattr(thing, "effective", None),
        "until": getattr(thing, "until", None),
        "spec": stored(thing),
    }
    found, _ = Book.objects.update_or_create(
        sort=sort, ident=thing.id, defaults=values, create_defaults={**values, "created_by": by}
    )
    return found


def thing_in(book: Book) -> Thing:
    """The file a book is, validated.

    Raises
    ------
    Faults
        If what is stored no longer reads.
    """
    return read_thing(THINGS[book.sort], book.spec, where=str(book))


def in_force(sort: str, *, on: date) -> Iterable[Book]:
    """Books of a kind that hold on a day, the latest first."""
    return Book.objects.filter(
        Q(effective=None) | Q(effective__lte=on), Q(until=None) | Q(until__gte=on), sort=sort
    ).order_by("-effective", "ident")


def rates_on(day: date) -> Rates | None:
    """The yard's rates on a day; ``None`` where it has none."""
    book = in_force(Sort.RATES, on=day).first()
    return None if book is None else thing_in(book)


def kit_here() -> Kit | None:
    """The yard's kit of tie-down gear; ``None`` where it has none."""
    book = kit_book()
    return None if book is None else thing_in(book)


def kit_book() -> Book | None:
    """The file of that kit."""
    return Book.objects.filter(sort=Sort.KIT).order_by("pk").first()
