"""A trailer as anything that leaves the yard may speak of it: words that make a refused claim are not printed.

Papers and captions show a unit's typed words without any wording around them. Each is held against what is true of the
unit when it is printed. In place of a refused title there is one made of facts alone; other refused words are left
out. What was refused, and why, is for the person who prints: a buyer's paper says nothing of it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rubrail.answers.claims import Refused
from rubrail.sheets.listing_typed import left_out_of, made_title, true_of, typed_refused

if TYPE_CHECKING:
    from rubrail.things.trailer import Trailer


@dataclass(frozen=True, slots=True)
class SaidTruly:
    """A trailer to print, and what of its typed words is not printed.

    trailer : with its typed words as they may be printed; title : what it is called in place of its own, ``""`` where
    that holds; refused : claims of the words left out
    """

    trailer: Trailer
    title: str = ""
    refused: tuple[Refused, ...] = ()


def said_truly(trailer: Trailer, *, makers: Iterable[str] = ()) -> SaidTruly:
    """A trailer as it may be printed: the same where every typed word holds.

    Parameters
    ----------
    trailer : Trailer
        With its asking price, where it may be shown.
    makers : iterable of str
        Makers the yard knows.
    """
    makers = tuple(makers)
    typed = {
        "title": trailer.title or "",
        "maker": trailer.maker or "",
        "model": trailer.model or "",
        "color": trailer.color or "",
        "equipment": "\n".join(e.says or "" for e in trailer.equipment),
    }
    if not left_out_of(trailer, typed=typed, payload_lb=None, makers=makers):
        return SaidTruly(trailer)
    found = typed_refused(typed, true_of(trailer, makers, trailer.price_usd))
    if not found:
        return SaidTruly(trailer)
    title = made_title(trailer) if "title" in found else ""
    changes: dict[str, Any] = {name: None for name in ("maker", "model", "color") if name in found}
    if title:
        changes["title"] = title
    if "equipment" in found:
        spoken = {line for r in found["equipment"] for line in _lines(r)}
        changes["equipment"] = tuple(
            e.model_copy(update={"says": None}) if e.says in spoken else e for e in trailer.equipment
        )
    refused = tuple(r for several in found.values() for r in several)
    return SaidTruly(trailer.model_copy(update=changes), title, refused)


def _lines(refused: Refused) -> list[str]:
    """Lines of a text that a claim stands in."""
    text, claim = refused.text, refused.claim
    begin = text.rfind("\n", 0, claim.start) + 1
    end = text.find("\n", claim.end)
    return text[begin : end if end >= 0 else len(text)].split("\n")
