"""What may be told of a unit to anybody: each fact with its value, unit, basis and words. Nothing else goes out.

Cost, margin, buyer, notes, place on the lot and whatever else is not named in ``things.listing_names`` never gets
here. What is not known is listed as such and never guessed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from rubrail.sheets import listing_rows as rows
from rubrail.things.listing_names import NAMES

if TYPE_CHECKING:
    from rubrail.answers.reading import Reading
    from rubrail.sheets.listing_price import PriceShown
    from rubrail.things.trailer import Trailer

GROUPS: dict[str, tuple[str, ...]] = {
    "What it is": (*("stock", "standing", "type", "year", "maker", "model", "condition", "color", "vin", "warranty"),),
    "Ratings and payload": (*("gvwr", "axles", "axle_sum", "empty", "payload", "payload_place", "payload_label"),),
    "Deck": (
        *("length", "deck_parts", "width", "between_fenders", "deck_height", "overall_width"),
        *("floor", "crossmembers"),
    ),
    "Running gear": ("tires", "tire_pressure", "tire_load", "brakes", "suspension"),
    "Coupling": ("coupling", "coupler_rating", "coupler_height", "plug", "breakaway", "jack"),
    "Loading and tying down": ("ramps", "ramp_angle", "ramp_rating", "anchors", "equipment"),
    "Price": ("price", "price_basis", "price_without", "excise"),
}
"""Facts a page shows, by group, in order."""
ALWAYS_TOLD = (
    *("gvwr", "axles", "empty", "payload", "length", "width", "deck_height", "tires", "tire_pressure"),
    *("brakes", "coupler_rating", "ramp_angle"),
)
"""Facts whose want is told: a buyer decides by them."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact.

    Parameters
    ----------
    key : str
        Its name, of ``things.listing_names``.
    label : str
        What it is called on a page.
    value : float, Decimal, str or None
        In ``unit`` where it is a number; words otherwise.
    unit : str
        ``lb``, ``in``, ``psi``, ``deg``, ``USD`` or ``""``.
    basis : str
        One of ``quantity.basis.BASES``, ``reckoned`` where the engine worked it out, ``""`` for words.
    text : str
        As it is said, with unit and, where no label or stamp says it, its basis.
    """

    key: str
    label: str
    value: float | Decimal | str | None
    unit: str
    basis: str
    text: str


@dataclass(frozen=True, slots=True)
class PublicFacts:
    """Everything that may be told of one unit.

    facts : those known, by name; unknown : names of those that are not and that a buyer decides by
    """

    stock_number: str
    facts: Mapping[str, Fact]
    unknown: tuple[str, ...]

    def text(self, key: str) -> str:
        """A fact in words, ``""`` where it is not known."""
        fact = self.facts.get(key)
        return "" if fact is None else fact.text

    def groups(self) -> Iterator[tuple[str, tuple[Fact, ...]]]:
        """Groups that have any fact, with what is known of them."""
        for title, keys in GROUPS.items():
            known = tuple(self.facts[k] for k in keys if k in self.facts)
            if known:
                yield title, known

    def instead(self, words: Mapping[str, str]) -> PublicFacts:
        """The same with other words for some facts; a fact for which there are none is left out."""
        changed = {k: replace(f, value=words[k], text=words[k]) if k in words else f for k, f in self.facts.items()}
        return replace(self, facts={k: f for k, f in changed.items() if f.text})

    @property
    def not_measured(self) -> tuple[str, ...]:
        """What a buyer decides by and nobody knows yet, as it is called."""
        return tuple(NAMES[key][0] for key in self.unknown)


def public_facts(
    trailer: Trailer,
    *,
    reading: Reading,
    price: PriceShown | None = None,
    yard: str = "",
    vin: str = "last 8",
    warranty: Mapping[str, str] | None = None,
    metric: bool = False,
) -> PublicFacts:
    """What may be told of a unit.

    Parameters
    ----------
    trailer : Trailer
    reading : Reading
        ``answers.reading.read_unit`` of the same trailer.
    price : PriceShown, optional
        What of its price may be shown; without it no price is told.
    yard : str
        Name of the yard.
    vin : str
        How much of the VIN goes out: ``last 8``, ``whole`` or ``none``.
    warranty : mapping, optional
        The yard's words by condition.
    metric : bool
        Kilograms and millimeters.
    """
    asked = rows.Asked(trailer, reading, price, yard, vin, dict(warranty or {}), metric)
    found: dict[str, Fact] = {}
    for key, (label, _) in NAMES.items():
        told = _READ[key](asked)
        if told is not None and told.text:
            found[key] = Fact(key, label, told.value, told.unit, told.basis, told.text)
    return PublicFacts(trailer.id, found, tuple(_wanting(asked, found)))


def _wanting(asked: rows.Asked, found: Mapping[str, Fact]) -> Iterator[str]:
    for key in ALWAYS_TOLD:
        if key in found or (key == "ramp_angle" and not rows.leads_up(asked.trailer)):
            continue
        yield key


_READ: dict[str, Callable[[rows.Asked], rows.Told | None]] = {key: getattr(rows, key) for key in NAMES}


def number_of(facts: PublicFacts, key: str) -> float:
    """A fact's number, ``nan`` where it is not known or is no number."""
    fact = facts.facts.get(key)
    return float(fact.value) if fact is not None and isinstance(fact.value, float | Decimal) else math.nan
