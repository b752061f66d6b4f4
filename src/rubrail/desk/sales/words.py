"""Words of a quote that make a claim the yard must not make: held back when it is offered, told of when it was."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rubrail.answers.claims import Refused
from rubrail.desk.as_printed import as_printed
from rubrail.desk.models import QuoteVersion, Unit
from rubrail.rules.claims import UnitFacts, find_claims
from rubrail.sheets.said_truly import SaidTruly, said_truly
from rubrail.sheets.sentences_claims import claim_sentence, refused_sentence
from rubrail.things.trailer import Trailer

HELD = (
    *("license", "anything", "any-truck", "legal", "approved", "permit", "safe", "never", "strongest", "overload"),
    *("as-new", "history", "no-gear", "no-papers", "origin"),
)
"""Rules about the trailer and the road. What is agreed of money, delivery and warranty is what a quote is for."""
TYPED = {"delivery": "delivery", "notes": "notes"}


def unit_said(unit: Unit, trailer: Trailer, terms: Mapping[str, Any], *, makers: tuple[str, ...]) -> SaidTruly:
    """A quote's trailer as its sheet may speak of it, and what its line is called in place of a refused title.

    Parameters
    ----------
    unit : Unit
    trailer : Trailer
        As its file has it.
    terms : mapping
        Of the quote.
    makers : tuple of str
        As ``makers_known`` gives them.
    """
    said = as_printed(unit, trailer, makers=makers)
    own = trailer.title or ""
    typed = [line["title"] for line in terms.get("lines", ()) if line["kind"] == "unit" and line["title"] != own]
    for title in typed:
        line = said_truly(trailer.model_copy(update={"title": title}), makers=makers)
        if line.title:
            return SaidTruly(said.trailer, line.title, (*said.refused, *line.refused))
    return said


def line_instead(unit: Unit, trailer: Trailer, terms: Mapping[str, Any], *, makers: tuple[str, ...]) -> str:
    """What the unit's line is offered as where the quote words it otherwise than the unit's file; ``""`` as it is."""
    said, own = unit_said(unit, trailer, terms, makers=makers), as_printed(unit, trailer, makers=makers)
    mine = said.refused[len(own.refused) :]
    if not mine:
        return ""
    whys = " ".join(dict.fromkeys(claim_sentence(r.claim) for r in mine))
    return f"The unit's line is offered as “{said.title}”. {whys}"


def terms_printed(terms: Mapping[str, Any], said: SaidTruly) -> dict[str, Any]:
    """Terms with the unit's lines called as they may be."""
    lines = terms.get("lines", ())
    if not said.title:
        return dict(terms)
    return {**terms, "lines": [{**x, "title": said.title} if x["kind"] == "unit" else x for x in lines]}


def words_refused(terms: Mapping[str, Any], trailer: Trailer) -> list[str]:
    """Claims in words somebody typed into a quote, a sentence each: where, why, and how to say it truly."""
    parts = [(f"line {n}", x["title"]) for n, x in enumerate(terms.get("lines", ()), 1) if x["kind"] != "unit"]
    parts += [(where, str(terms.get(key) or "")) for key, where in TYPED.items()]
    true = UnitFacts(used=trailer.condition != "new", excise_due=False)
    found = [Refused(where, text, claim) for where, text in parts for claim in find_claims(text, true)]
    return list(dict.fromkeys(refused_sentence(r) for r in found if r.claim.rule.id in HELD))


def as_it_was_offered(version: QuoteVersion, trailer: Trailer, *, makers: tuple[str, ...]) -> str:
    """What a version prints that would be printed no longer; ``""`` for nothing. The version stays as it is."""
    title = version.content["paper"].get("title") or ""
    said = said_truly(trailer.model_copy(update={"title": title}), makers=makers)
    if not said.title:
        return ""
    whys = " ".join(claim_sentence(r.claim) for r in said.refused if r.text == title)
    kept = "It stays as it was signed." if version.signed_at else "It stays as it was offered."
    return f"Version {version.number} calls the unit “{title}”, which is printed no longer. {whys} {kept}"
