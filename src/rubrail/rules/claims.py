"""Claims a listing must not make: found in any text, number by number against what is true of the unit."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache, lru_cache

from rubrail.rules.claim_text import Plain, pattern, plain
from rubrail.rules.tables import table


@dataclass(frozen=True, slots=True)
class Rule:
    """One row of the table: what is refused, why, how to say it truly, and whose rule it is."""

    id: str
    refuses: str
    when: str
    patterns: tuple[str, ...]
    unless: tuple[str, ...]
    denied: bool
    why: str
    instead: str
    source: str


@dataclass(frozen=True, slots=True)
class UnitFacts:
    """What is true of a unit, as far as claims are held against it; ``nan`` and empty are not known.

    Parameters
    ----------
    gvwr_lb, payload_lb, payload_label_lb, empty_lb : float
        Label rating, payload at its best place, label less empty weight, empty weight.
    ratings_lb : mapping
        Every rating read on the unit, by what it is of: ``axle``, ``coupler``, ``ramp``, ``tire``, ``anchor``,
        ``jack``.
    amounts_usd : set of Decimal
        Amounts of money that may be named: the price where it may be shown, and what is added to it.
    axles, year : int
        How many axles it has, and its model year; 0 for not known.
    used : bool
        Not known to be new.
    excise_due : bool
        Federal excise tax is due, or nobody can tell.
    other_makers : tuple of str
        Names of makers that did not build it.
    """

    gvwr_lb: float = math.nan
    payload_lb: float = math.nan
    payload_label_lb: float = math.nan
    empty_lb: float = math.nan
    ratings_lb: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    amounts_usd: frozenset[Decimal] = frozenset()
    axles: int = 0
    year: int = 0
    used: bool = True
    excise_due: bool = True
    other_makers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Claim:
    """One claim found: the rule it breaks, its place in the text, and its words.

    said_lb : the number claimed, in pounds, ``nan`` for none; of : what it is claimed of; true_lb : what may be
    said of that, none where nobody knows
    """

    rule: Rule
    start: int
    end: int
    words: str
    said_lb: float = math.nan
    of: str = ""
    true_lb: tuple[float, ...] = ()


@cache
def claim_rules() -> Mapping[str, Rule]:
    """Every rule by its id, in the order of the table."""
    rows = table("claims")["rows"]
    return {r["id"]: Rule(**{**r, "patterns": tuple(r["patterns"]), "unless": tuple(r["unless"])}) for r in rows}


def find_claims(text: str, facts: UnitFacts) -> tuple[Claim, ...]:
    """Claims a text makes that it must not, in the order they stand.

    Parameters
    ----------
    text : str
        Anything.
    facts : UnitFacts
        What is true of the unit it speaks of.
    """
    from rubrail.rules.claim_numbers import amount_claims, count_claims, name_claims, weight_claims

    it = plain(text)
    found = [
        *_phrases(text, facts.used, facts.excise_due),
        *weight_claims(it, facts),
        *amount_claims(it, facts),
        *count_claims(it, facts),
        *name_claims(it, facts),
    ]
    claims = [
        Claim(rule, *it.original(start, end), text[slice(*it.original(start, end))], **more)
        for rule, start, end, more in found
    ]
    kept = [c for c in claims if not any(_covers(other, c) for other in claims)]
    return tuple(sorted(dict.fromkeys(kept), key=lambda c: (c.start, c.end)))


def _covers(other: Claim, claim: Claim) -> bool:
    """Whether another claim of the same rule holds this one within it."""
    wider = other.end - other.start > claim.end - claim.start
    return wider and other.rule is claim.rule and other.start <= claim.start and claim.end <= other.end


@lru_cache(maxsize=4096)
def _phrases(text: str, used: bool, excise_due: bool) -> tuple[tuple[Rule, int, int, dict], ...]:
    """Phrases refused whatever the numbers; many units are told of in the same words."""
    return tuple(_phrases_in(plain(text), used, excise_due))


def _phrases_in(it: Plain, used: bool, excise_due: bool) -> Iterator[tuple[Rule, int, int, dict]]:
    applies = {"always": True, "used": used, "excise due": excise_due}
    for rule in claim_rules().values():
        if not applies[rule.when]:
            continue
        for written in rule.patterns:
            for match in pattern(written).finditer(it.text):
                begin, end = it.sentence(match.start(), match.end())
                around = it.text[begin:end]
                if any(pattern(p).search(around) for p in rule.unless):
                    continue
                if rule.denied and it.denied(match.start()):
                    continue
                yield rule, match.start(), match.end(), {}
