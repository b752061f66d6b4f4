"""Why a claim is refused, and how to say it truly, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubrail.answers.claims import Refused
from rubrail.rules.claims import Claim
from rubrail.rules.sources import source
from rubrail.sheets.sentences_amounts import amount, listed
from rubrail.sheets.sentences_words import begin

if TYPE_CHECKING:
    from rubrail.sheets.said_truly import SaidTruly

_OF = {
    "payload": "what it carries at its best place",
    "gvwr": "the label GVWR",
    "axle": "the axle ratings",
    "coupler": "the coupler's ratings",
    "ramp": "the ramps' rating",
    "tire": "what the tires carry",
    "anchor": "what the places to tie to are rated for",
    "jack": "the jack's rating",
    "empty": "the empty weight",
}


def claim_sentence(claim: Claim, *, metric: bool = False) -> str:
    """What is refused and why, with the true number where there is one."""
    why = f"“{claim.words}” is refused: {claim.rule.why}"
    if claim.of in _OF:
        many = claim.of in ("axle", "coupler", "anchor", "tire") and not _OF[claim.of].startswith("what")
        if not claim.true_lb:
            return f"{why}. {begin(_OF[claim.of])} {'are' if many else 'is'} not known."
        told = listed([amount(lb, "lb", metric=metric) for lb in sorted(claim.true_lb)])
        return f"{why}. {begin(_OF[claim.of])} {'are' if many else 'is'} {told}."
    return f"{why}."


def remedy_sentence(claim: Claim) -> str:
    """How to say it truly."""
    return f"{begin(claim.rule.instead)}."


def not_printed_sentence(said: SaidTruly, of: str, *, metric: bool = False) -> str:
    """What papers of a unit leave out, why, and what they call it instead.

    Parameters
    ----------
    said : SaidTruly
        With something refused.
    of : str
        Stock number.
    metric : bool
    """
    what = listed(list(dict.fromkeys(r.where for r in said.refused)))
    whys = list(dict.fromkeys(claim_sentence(r.claim, metric=metric) for r in said.refused))
    instead = f" They call it “{said.title}”." if said.title else ""
    return f"Papers of {of} leave out {what}.{instead} {' '.join(whys)}"


def refused_sentence(refused: Refused, *, metric: bool = False) -> str:
    """Where, what, why, and how to say it truly, on one line."""
    return f"In {refused.where}: {claim_sentence(refused.claim, metric=metric)} {remedy_sentence(refused.claim)}"


def rule_source(claim: Claim) -> str:
    """Whose rule it is, and how that was read."""
    it = source(claim.rule.source)
    return f"{it.title}{f', {it.section}' if it.section else ''} ({it.how_read})"
