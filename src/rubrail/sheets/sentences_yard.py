"""The first sentence of the answers about more than one rig, or about a unit's numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from rubrail.sheets.sentences_amounts import amount, feet, listed, percent
from rubrail.sheets.sentences_lines import closest, settle_sentence, why_not
from rubrail.sheets.sentences_words import begin, called, limit_name, unit

if TYPE_CHECKING:
    from rubrail.answers.board import Candidate, Match
    from rubrail.answers.compare import Comparison
    from rubrail.answers.decode import Figure
    from rubrail.answers.place import Place
    from rubrail.answers.report import Piece


def match_verdict(match: Match) -> str:
    """The verdict of the best unit; ``over`` where there is none."""
    return match.candidates[0].verdict if match.candidates else "over"


def match_sentence(match: Match, *, metric: bool = False) -> str:
    """How many units carry the haul, and the first to offer; what is in the way where none does."""
    if not match.candidates:
        return "There is no trailer to choose from."
    best, all_ = match.candidates[0], len(match.candidates)
    behind = f" behind {called(match.truck, what='truck')}" if match.truck else ""
    job = f"“{match.haul}”"
    clear, depends, unknown = (match.count(v) for v in ("clear", "depends", "not known"))
    if best.verdict == "clear":
        also = f" ({depends} more depend on something)" if depends else ""
        carry = "carry" if clear > 1 else "carries"
        return (
            f"Clear: {clear} of {all_} units {carry} {job}{behind}{also};"
            f" first to offer: {_offer(best)}, {_closest(best, metric)}."
        )
    if best.verdict == "depends":
        only = "one of them does" if depends == 1 else f"{depends} of them do"
        return (
            f"Depends: none of {all_} units is clear for {job}{behind}, and {only} at the stated values;"
            f" first: {_offer(best)}: {candidate_reason(best, metric=metric)}."
        )
    if best.verdict == "not known":
        return (
            f"Not known whether any of {all_} units carries {job}{behind}: {unknown} cannot be judged, the others"
            f" are over; first: {_offer(best)}: {candidate_reason(best, metric=metric)}."
        )
    return (
        f"Over: none of {all_} units carries {job}{behind}; nearest to it is {_offer(best)}:"
        f" {candidate_reason(best, metric=metric)}."
    )


def _offer(c: Candidate) -> str:
    shown = unit(c.title, c.trailer)
    return f"{shown}, {amount(float(c.price_usd), 'USD')}" if c.price_usd is not None else shown


def _closest(c: Candidate, metric: bool) -> str:
    return f"closest limit: {closest(c.governing, metric=metric)}" if c.governing else "no limit near"


def candidate_reason(c: Candidate, *, metric: bool = False) -> str:
    """One line about one unit: its closest limit, what it depends on, or why it is out."""
    line = c.governing
    if line is None:
        return "nothing about it could be checked" if c.verdict != "clear" else "no limit near"
    if c.verdict == "depends" and line.kind == "guidance":
        return f"guidance, not law: {why_not(line, metric=metric)}"
    if c.verdict == "depends" and line.settle:
        return f"{closest(line, metric=metric)}; measure {line.settle[0].says}"
    return why_not(line, metric=metric)


def place_sentence(place: Place, *, metric: bool = False) -> str:
    """Where each piece stands, measured from the front of the deck, and how far it may slide."""
    if not place.pieces:
        return "There is nothing to place."
    stands = "; ".join(_stands(p, metric) for p in place.pieces)
    if not place.possible:
        names = listed([title for _, title in place.held_by]) or "a limit that no place on the deck changes"
        return f"No place on this deck holds everything; in the way: {names}. Least bad: {stands}."
    return f"Best place: {stands}.{_slide(place, metric)}"


def _stands(piece: Piece, metric: bool) -> str:
    front = piece.front_from_deck_in
    name = called(piece.title, piece.id, what="piece")
    which = "front" if piece.facing == "front-first" else "rear"
    if math.isnan(front):
        return f"{name}, {which} end forward, {feet(piece.front_x_in, metric=metric)} behind the coupling"
    if abs(front) < 0.05:
        where = "at the front of the deck"
    elif front > 0:
        where = f"{feet(front, metric=metric)} behind the front of the deck"
    else:
        where = f"{feet(-front, metric=metric)} ahead of the front of the deck"
    return f"{name}, {which} end forward and {where}"


def _slide(place: Place, metric: bool) -> str:
    def ways(low: float, high: float) -> str:
        return f"{feet(max(-low, 0.0), metric=metric)} forward and {feet(max(high, 0.0), metric=metric)} rearward"

    if place.holds is None:
        return ""
    said = f" From there everything holds up to {ways(place.holds.low_in, place.holds.high_in)}"
    if place.clear is None:
        return f"{said}, but not with every doubt against it."
    if place.clear == place.holds:
        return f"{said}, doubts included."
    return f"{said}; with every doubt against it, {ways(place.clear.low_in, place.clear.high_in)}."


def comparison_sentence(comparison: Comparison, *, metric: bool = False) -> str:
    """Which of the units carry the haul, which has the most to spare, and which costs least."""
    names = [w.trailer for w in comparison.weighings]
    by: dict[str, list[str]] = {}
    for w in comparison.weighings:
        by.setdefault(w.verdict, []).append(w.trailer)
    said = "; ".join(f"{v}: {listed(by[v])}" for v in ("clear", "depends", "not known", "over") if v in by)
    rows = {r.key: r for r in comparison.rows}
    extra = []
    for key, words in (("margin", "most to spare"), ("price", "lowest price")):
        row = rows.get(key)
        if row and len(row.best) == 1:
            i = row.best[0]
            value = row.values[i]
            shown = percent(value / 100) if row.unit == "%" else amount(value, row.unit or "USD", metric=metric)
            extra.append(f"{words} {names[i]} ({shown})")
    tail = f". {begin('; '.join(extra))}." if extra else "."
    return f"For “{comparison.haul}” behind {called(comparison.truck, what='truck')}: {said}{tail}"


def decoding_sentence(
    figures: Sequence[Figure], *, title: str, id: str = "", truck: str = "", metric: bool = False
) -> str:
    """What the advertised number, the label and the payloads come to."""
    value = {f.name: f.value_lb for f in figures}

    def lb(name: str) -> str:
        return amount(value.get(name, math.nan), "lb", metric=metric)

    known = {n for n, v in value.items() if not math.isnan(v)}
    who = begin(unit(title, id))
    said = f"{who} is advertised at {lb('advertised')}" if "advertised" in known else who
    if "label" in known:
        said += f"{'; its' if 'advertised' in known else ': its'} label says {lb('label')}"
    else:
        said += f"{'; ' if 'advertised' in known else ': '}what its label says is not known: read the label"
    if "payload-label" in known:
        said += f", which leaves {lb('payload-label')} for cargo"
    if "payload-axles" in known and "payload-label" in known:
        more = value["payload-axles"] > value["payload-label"]
        said += (
            f"; its axles would allow {lb('payload-axles')}, and the label governs"
            if more
            else f", but its axles allow only {lb('payload-axles')}"
        )
    if "payload-truck" in value:
        who = called(truck, what="truck") if truck else "this truck"
        said += f"; behind {who} it carries {lb('payload-truck')}" if "payload-truck" in known else (
            f"; what it carries behind {who} is not known"
        )  # fmt: skip
    return f"{said}."


__all__ = [
    "candidate_reason",
    "comparison_sentence",
    "decoding_sentence",
    "limit_name",
    "match_sentence",
    "match_verdict",
    "place_sentence",
    "settle_sentence",
]
