"""Builds on the desk: a model with options as the address names them, rules kept or told, the cheapest for a haul."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from urllib.parse import urlencode

from rubrail.answers.build import Build, broken_rules, build_of, built, model_cost, model_price
from rubrail.answers.cheapest import Cheapest, cheapest
from rubrail.answers.height import built_columns
from rubrail.answers.payload import alone_best
from rubrail.desk.books import in_force, thing_in
from rubrail.desk.derived import mark
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Book, Haul
from rubrail.desk.models.books import Sort
from rubrail.desk.shelf import Shelf
from rubrail.things.catalog import Catalog, Model, Option
from rubrail.things.trailer import Trailer

OPTION, OF_GROUP = "o", "g-"
"""What names an option in an address: ``o`` for any, ``g-`` and the group for the one of a group."""
MOST_JUDGED = 2000
"""Builds judged for one page; a search that is cut there says so."""
_searches: Shelf[Cheapest] = Shelf(64)


@dataclass(frozen=True, slots=True)
class Chosen:
    """What somebody chose of a model.

    broken : every rule that is not kept, in a sentence; strangers : options asked for that the model has not
    """

    book: Book
    catalog: Catalog
    model: Model
    options: tuple[Option, ...]
    broken: tuple[str, ...]
    strangers: tuple[str, ...]

    @property
    def ids(self) -> tuple[str, ...]:
        """The options by their ids."""
        return tuple(o.id for o in self.options)

    @property
    def build(self) -> Build | None:
        """The build, or nothing while a rule is not kept."""
        return None if self.broken else build_of(self.catalog, self.model.id, self.ids, id=self.model.id)

    @property
    def trailer(self) -> Trailer:
        """What is drawn: the model without options while a rule is not kept."""
        return built(self.model, () if self.broken else self.options)

    @property
    def price_usd(self) -> Decimal:
        """What it asks, rules kept or not."""
        return model_price(self.model, self.options)

    @property
    def cost_usd(self) -> Decimal | None:
        """What it costs the yard, or nothing where that is not known."""
        return model_cost(self.catalog, self.model, self.options)


@dataclass(frozen=True, slots=True)
class Way:
    """One change after which every rule is kept: take an option (in place of others of its group) or leave one off."""

    verb: str
    title: str
    ids: tuple[str, ...]


def asked_options(pairs: Iterable[tuple[str, Sequence[str]]]) -> list[str]:
    """Options that an address or a form names, in its order, each once."""
    named = [v for name, values in pairs if name == OPTION or name.startswith(OF_GROUP) for v in values if v]
    return list(dict.fromkeys(named))


def choose(book: Book, model: str, ids: Sequence[str]) -> Chosen | None:
    """What the ids choose of a model; ``None`` where the book has no such model.

    Raises
    ------
    Faults
        If what is stored of the book no longer reads.
    """
    catalog = thing_in(book)
    base = next((m for m in catalog.model if m.id == model), None)
    if base is None:
        return None
    options = catalog.options_of(base)
    taken = tuple(o for o in options if o.id in set(ids))
    known = {o.id for o in options}
    broken = tuple(broken_rules(catalog, base, taken))
    return Chosen(book, catalog, base, taken, broken, tuple(i for i in ids if i not in known))


def ways_out(chosen: Chosen) -> list[Way]:
    """Single changes after which every rule is kept, those that ask least first."""
    if not chosen.broken:
        return []
    found = []
    order = chosen.catalog.options_of(chosen.model)
    for option in order:
        if option in chosen.options:
            verb, rest = "Leave off", [o for o in chosen.options if o is not option]
        else:
            verb = "Take"
            others = [o for o in chosen.options if option.group is None or o.group != option.group]
            rest = [o for o in order if o in others or o is option]
        if not any(broken_rules(chosen.catalog, chosen.model, rest)):
            price = model_price(chosen.model, rest)
            found.append((price, Way(verb, option.title, tuple(o.id for o in rest))))
    return [way for _, way in sorted(found, key=lambda pair: pair[0])]


def address(ids: Iterable[str], haul: Haul | None = None) -> str:
    """A build's part of an address, written one way only."""
    pairs = [(OPTION, i) for i in ids] + ([("haul", str(haul.pk))] if haul else [])
    return urlencode(pairs)


def price_books(day: date) -> list[Book]:
    """The makers' price books in force on a day."""
    return list(in_force(Sort.CATALOG, on=day))


def holds_on(book: Book, day: date) -> bool:
    """Whether a book's prices hold on a day."""
    return (book.effective is None or book.effective <= day) and (book.until is None or book.until >= day)


def payload_lb(trailer: Trailer) -> float | None:
    """Honest payload of a trailer alone at its best place, as a unit's page states it; ``None`` where not known."""
    best, _ = alone_best(built_columns([trailer]))
    return float(best[0]) if math.isfinite(best[0]) else None


def cheapest_for(book: Book, model: str, haul: Haul, *, wanted: str) -> Cheapest:
    """The cheapest build of a model for a haul, kept while book, haul and engine stay as they are.

    Raises
    ------
    Faults
        If what is stored of book or haul no longer reads.
    BuildError
        If the book has no such model.
    """
    key = (book.pk, book.updated, model, haul.pk, haul.version, haul.updated, wanted, mark())
    found = _searches.get(key)
    if found is None:
        found = cheapest(haul=thing_of(haul), catalog=thing_in(book), model=model, wanted=wanted, most=MOST_JUDGED)
        _searches.put(key, found)
    return found
