"""A listing, or a text held against a unit, as one plain record: for JSON, and for whoever prints it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from rubrail.answers.claims import Refused
from rubrail.rules.sources import source
from rubrail.sheets.listing_facts import Fact
from rubrail.sheets.sentences_claims import claim_sentence, remedy_sentence
from rubrail.sheets.sentences_words import unit

if TYPE_CHECKING:
    from rubrail.sheets.listing_offer import Offer
    from rubrail.things.trailer import Trailer


@dataclass(frozen=True, slots=True)
class FactTold:
    """One public fact.

    key, label : its name in a template, and what it is called
    text : as it is said
    number, unit : where it is a number
    basis : where it comes from, ``reckoned`` where it was worked out
    """

    key: str
    label: str
    text: str
    number: float
    unit: str
    basis: str


@dataclass(frozen=True, slots=True)
class ClaimTold:
    """One claim that is refused.

    rule : of docs/listing.md
    where : in which part of the text
    words : as written
    start, end : place in that part, counted from 0
    why, instead : in sentences
    source, how_read : whose rule it is, and how that was read
    """

    rule: str
    where: str
    words: str
    start: int
    end: int
    why: str
    instead: str
    source: str
    how_read: str


@dataclass(frozen=True, slots=True)
class ListingTold:
    """A listing text, or another text held against a unit.

    trailer : its id
    may_be_shown : nothing of it is refused
    headline, plain, html : the text, empty where a claim of it is refused
    headline_letters, headline_most : how long the headline is, and may be
    facts : what may be told of the unit
    not_measured : what a buyer decides by and nobody knows
    left_out : parts left out, in sentences
    refused : claims
    checked : the other text that was held against the unit, empty for none
    """

    trailer: str
    may_be_shown: bool
    headline: str
    headline_letters: int
    headline_most: int
    plain: str
    html: str
    facts: tuple[FactTold, ...]
    not_measured: tuple[str, ...]
    left_out: tuple[str, ...]
    refused: tuple[ClaimTold, ...]
    checked: str


def listing_told(found: Offer, *, metric: bool = False) -> ListingTold:
    """A unit's listing as a record."""
    held_back = (*found.refused, *found.words_refused)
    refused = (*found.typed_refused, *held_back)
    text = found.text
    return ListingTold(
        trailer=text.stock_number,
        may_be_shown=not refused,
        headline="" if held_back else text.headline,
        headline_letters=text.headline_letters,
        headline_most=text.headline_most,
        plain="" if held_back else text.plain,
        html="" if held_back else text.html,
        facts=tuple(map(_fact, found.facts.facts.values())),
        not_measured=text.unknown,
        left_out=tuple(part.says for part in text.left_out),
        refused=tuple(_claim(r, metric) for r in refused),
        checked="",
    )


def check_told(found: Offer, refused: Sequence[Refused], text: str, *, metric: bool = False) -> ListingTold:
    """Another text held against a unit, as a record."""
    return ListingTold(
        trailer=found.text.stock_number,
        may_be_shown=not refused,
        headline="",
        headline_letters=0,
        headline_most=found.text.headline_most,
        plain="",
        html="",
        facts=tuple(map(_fact, found.facts.facts.values())),
        not_measured=found.text.unknown,
        left_out=(),
        refused=tuple(_claim(r, metric) for r in refused),
        checked=text,
    )


def _fact(fact: Fact) -> FactTold:
    number = float(fact.value) if isinstance(fact.value, float | Decimal) else math.nan
    return FactTold(fact.key, fact.label, fact.text, number, fact.unit, fact.basis)


def _claim(refused: Refused, metric: bool) -> ClaimTold:
    claim = refused.claim
    record = source(claim.rule.source)
    why, instead = claim_sentence(claim, metric=metric), remedy_sentence(claim)
    return ClaimTold(
        claim.rule.id, refused.where, claim.words, claim.start, claim.end, why, instead, record.key, record.how_read
    )


def listing_sentence(told: ListingTold, trailer: Trailer) -> str:
    """Whether the text may be shown, and how much of it is refused."""
    what = "This text on" if told.checked else "The listing of"
    who = f"{what} {unit(trailer.title or trailer.id, trailer.id)}"
    count, open_ = len(told.refused), len(told.not_measured)
    if count:
        many = "one claim that is" if count == 1 else f"{count} claims that are"
        return f"{who} makes {many} refused."
    if open_ and not told.checked:
        return (
            f"{who} makes no claim that is refused; {open_} of what a buyer decides by {_is(open_)} not measured yet."
        )
    return f"{who} makes no claim that is refused."


def _is(count: int) -> str:
    return "is" if count == 1 else "are"
