"""Words of a unit that somebody typed and that go out as they are: those that make a refused claim stay in.

The title of a unit, its model, its color, what is told below a photo: lists, feeds, drawings and labels show them
without any wording around them. Each is held against what is true of the unit at the moment it is shown. A refused one
is left out; for a refused title there is one made of facts alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from rubrail.answers.claims import Refused, known_facts, refused_in, unit_facts
from rubrail.rules.claims import UnitFacts
from rubrail.sheets.listing_rows import deck_length_in, type_words
from rubrail.sheets.sentences_amounts import feet
from rubrail.sheets.sentences_words import begin

if TYPE_CHECKING:
    from rubrail.things.trailer import Trailer

TYPED: dict[str, str] = {
    "title": "the unit's title",
    "maker": "the unit's maker",
    "model": "the unit's model",
    "color": "the unit's color",
    "floor": "what its deck is laid with",
    "plug": "its plug",
    "equipment": "what is also fitted",
    "warranty": "the warranty",
    "price_without": "what is added to the price",
}
"""Facts whose words somebody typed, and what they are called where a claim of them is refused."""
IN_LISTS = ("title", "maker", "model", "color")
"""Those that lists and feeds show by themselves."""
CAPTION = "what a photo is said to show"
OF_A_NAME = {"model": ("bare-number",)}
"""Rules not held against some words: a maker's own name for a model may hold a number."""


def typed_refused(parts: Mapping[str, str], true: UnitFacts) -> dict[str, tuple[Refused, ...]]:
    """Claims of typed words that are refused, by the fact they stand in.

    Parameters
    ----------
    parts : mapping
        Words by the name of their fact, of ``TYPED``.
    true : UnitFacts
        What is true of the unit.
    """
    found = {}
    for key, text in parts.items():
        let = OF_A_NAME.get(key, ())
        if text and (refused := [r for r in refused_in([(TYPED[key], text)], true) if r.claim.rule.id not in let]):
            found[key] = tuple(refused)
    return found


def typed_fails(
    parts: Mapping[str, str], captions: Sequence[str], *, known: UnitFacts, true: Callable[[], UnitFacts]
) -> tuple[frozenset[str], frozenset[str]]:
    """Names of the typed facts, and the captions, that may not be shown.

    Parameters
    ----------
    parts : mapping
        Words by the name of their fact, of ``TYPED``.
    captions : sequence of str
        What photos are said to show.
    known : UnitFacts
        What is known without reading the unit: ``answers.claims.known_facts``.
    true : callable
        Everything that is true of it; asked for only where something of the words does not hold against ``known``.
    """

    def held(facts: UnitFacts) -> tuple[frozenset[str], frozenset[str]]:
        spoken = {r.text for r in refused_in([(CAPTION, c) for c in captions if c], facts)}
        return frozenset(typed_refused(parts, facts)), frozenset(spoken)

    found = held(known)
    return held(true()) if any(found) else found


def left_out_of(
    trailer: Trailer,
    *,
    payload_lb: float | None,
    makers: Iterable[str] = (),
    typed: Mapping[str, str] | None = None,
) -> frozenset[str]:
    """Names of those typed facts of a trailer that may not be shown.

    Parameters
    ----------
    trailer : Trailer
        With its asking price.
    payload_lb : float or None
        What it carries, the trailer alone at its best place.
    makers : iterable of str
        Makers the yard knows.
    typed : mapping, optional
        Words by the name of their fact; else those that lists show by themselves.
    """
    makers = tuple(makers)
    known = known_facts(
        gvwr_lb=trailer.ratings.gvwr_lb,
        payload_lb=payload_lb,
        empty_lb=trailer.weights.empty_lb,
        price_usd=trailer.price_usd,
        axles=len(trailer.axle),
        year=trailer.year,
        used=trailer.condition != "new",
        maker=trailer.maker or "",
        makers=makers,
    )
    if typed is None:
        typed = {name: getattr(trailer, name) or "" for name in IN_LISTS}
    return typed_fails(typed, (), known=known, true=lambda: true_of(trailer, makers, trailer.price_usd))[0]


def true_of(trailer: Trailer, makers: Iterable[str], price_usd: Decimal | None) -> UnitFacts:
    """What is true of a trailer, read for it."""
    from rubrail.answers.reading import read_unit

    return unit_facts(trailer, reading=read_unit(trailer), price_usd=price_usd, makers=makers)


def made_title(trailer: Trailer) -> str:
    """A title made of facts alone: coupling and deck in the trade's words, and how long the deck is."""
    length = deck_length_in(trailer)
    return begin(f"{type_words(trailer)}, {feet(length)}" if length is not None else type_words(trailer))
