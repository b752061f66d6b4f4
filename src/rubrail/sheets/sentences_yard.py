"""The first sentence of the answers about more than one rig, or about a unit's numbers."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rubrail.sheets.sentences_amounts import amount, feet, listed
from rubrail.sheets.sentences_lines import closest, settle_sentence, why_not
from rubrail.sheets.sentences_words import begin, called, limit_name, unit

if TYPE_CHECKING:
    from rubrail.answers.board import Candidate, Match, Tally
    from rubrail.answers.compare import Comparison
    from rubrail.answers.decode import Decoding
    from rubrail.answers.envelope import Envelope
    from rubrail.answers.place import Place
    from rubrail.answers.report import Piece


def match_verdict(match: Match) -> str:
    """The verdict of the best unit; ``over`` where there is none."""
    return match.candidates[0].verdict if match.candidates else "over"


def match_sentence(match: Match, *, metric: bool = False) -> str:
    """How many units carry the haul, and the first to offer; what is in the way where none does."""
    return tally_sentence(match.tally, metric=metric)


def tally_sentence(tally: Tally, *, metric: bool = False) -> str:
    """The sentence of a match that is known in short."""
    if tally.best is None:
        return "There is no trailer to choose from."
    best, all_ = tally.best, "1 unit" if tally.size == 1 else f"{tally.size:,} units"
    behind = f" behind {called(tally.truck, what='truck')}" if tally.truck else ""
    job = f"“{tally.haul}”"
    clear, depends, unknown = (tally.count(v) for v in ("clear", "depends", "not known"))
    if best.verdict == "clear":
        also = f" ({depends:,} more {'depend' if depends > 1 else 'depends'} on something)" if depends else ""
        carry = "carry" if clear > 1 else "carries"
        return (
            f"Clear: {clear:,} of {all_} {carry} {job}{behind}{also};"
            f" first to offer: {_offer(best)}; {_closest(best, metric)}."
        )
    if best.verdict == "depends":
        only = "one of them does" if depends == 1 else f"{depends:,} of them do"
        return (
            f"Depends: none of {all_} is clear for {job}{behind}, and {only} at the stated values;"
            f" first: {_offer(best)}; {candidate_reason(best, metric=metric)}."
        )
    if best.verdict == "not known":
        return (
            f"Not known whether any of {all_} carries {job}{behind}: {unknown:,} cannot be judged, the others"
            f" are over; first: {_offer(best)}; {candidate_reason(best, metric=metric)}."
        )
    return (
        f"Over: none of {all_} carries {job}{behind}; nearest to it: {_offer(best)}; in the way:"
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
    row = sorted(place.pieces, key=lambda p: p.front_x_in)
    stands = "; ".join(_stands(p, metric) for p in row)
    measured = (
        "from the coupling" if any(math.isnan(p.front_from_deck_in) for p in row) else "from the front of the deck"
    )
    if not place.possible:
        names = listed([title for _, title in place.held_by]) or "a limit that no place on the deck changes"
        return (
            f"No place on this deck holds everything; in the way: {names}. Least bad, measured {measured}: {stands}."
        )
    return f"Best place, measured {measured}: {stands}.{_slide(place, metric)}"


def _stands(piece: Piece, metric: bool) -> str:
    front = piece.front_x_in if math.isnan(piece.front_from_deck_in) else piece.front_from_deck_in
    name = called(piece.title, piece.id, what="piece")
    which = "front" if piece.facing == "front-first" else "rear"
    ahead = (
        f"{feet(-front, metric=metric)} ahead of it"
        if front <= -0.05
        else f"at {feet(max(front, 0.0), metric=metric)}"
    )
    return f"{name}, {which} end forward, {ahead}"


def _slide(place: Place, metric: bool) -> str:
    def ways(low: float, high: float) -> str:
        return f"{_way(-low, metric)} forward and {_way(high, metric)} rearward"

    if place.holds is None:
        return ""
    said = f" From there everything holds up to {ways(place.holds.low_in, place.holds.high_in)}"
    if place.clear is None:
        return f"{said}, but not with every doubt against it."
    if place.clear == place.holds:
        return f"{said}, doubts included."
    return f"{said}; with every doubt against it, {ways(place.clear.low_in, place.clear.high_in)}."


def _way(inches: float, metric: bool) -> str:
    """How far it may slide, cut to a tenth of an inch on the safe side."""
    return feet(math.floor(max(inches, 0.0) * 10 + 1e-6) / 10, metric=metric)


def comparison_sentence(comparison: Comparison, *, metric: bool = False) -> str:
    """Which of the units carry the haul, which has the most to spare, and which costs least."""
    names = [w.trailer for w in comparison.weighings]
    by: dict[str, list[str]] = {}
    for w in comparison.weighings:
        by.setdefault(w.verdict, []).append(w.trailer)
    said = "; ".join(f"{v}: {listed(by[v])}" for v in ("clear", "depends", "not known", "over") if v in by)
    carriers = [i for i, w in enumerate(comparison.weighings) if w.verdict in ("clear", "depends")]
    rows = {r.key: r for r in comparison.rows}
    extra = []
    for key, words, sign in (("margin", "most to spare", -1.0), ("price", "lowest price of those that carry it", 1.0)):
        known = [(sign * float(rows[key].values[i]), i) for i in carriers if key in rows]
        known = sorted(k for k in known if not math.isnan(k[0]))
        if len(carriers) > 1 and known:
            value, unit = abs(known[0][0]), rows[key].unit
            shown = amount(value, unit, metric=metric)
            extra.append(f"{words}: {names[known[0][1]]} ({shown})")
    tail = f". {begin('; '.join(extra))}." if extra else "."
    return f"For “{comparison.haul}” behind {called(comparison.truck, what='truck')}: {said}{tail}"


def decoding_sentence(decoding: Decoding, *, metric: bool = False) -> str:
    """What the advertised number, the label and the payloads come to."""
    figures, truck = decoding.figures, decoding.truck
    value = {f.name: f.value_lb for f in figures}

    def lb(name: str) -> str:
        return amount(value.get(name, math.nan), "lb", metric=metric)

    known = {n for n, v in value.items() if not math.isnan(v)}
    who = begin(unit(decoding.title, decoding.trailer))
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
        behind = called(truck, what="truck") if truck else "this truck"
        if "payload-truck" in known:
            said += f"; behind {behind} it carries {lb('payload-truck')}"
        else:
            said += f"; what it carries behind {behind} is not known"
    return f"{said}."


def envelope_sentence(envelope: Envelope, *, title: str = "", truck: str = "", metric: bool = False) -> str:
    """The most a unit carries, where it must balance for that, and what stops it there."""
    behind = f" behind {called(truck, what='truck')}" if truck and envelope.behind is not None else ""
    who = begin(unit(title, envelope.trailer))
    if math.isnan(envelope.best_lb) or not envelope.best_lb > 0:
        names = listed(envelope.unknown[:3])
        why = f": not known: {names}" if names else ": a limit is used up before any cargo"
        return f"{who} carries nothing that can be vouched for{behind}{why}."
    at = feet(envelope.best_x_in - envelope.deck_front_x_in, metric=metric)
    most = amount(envelope.best_lb, "lb", metric=metric)
    stretches = envelope.alone if envelope.behind is None else envelope.behind
    stops = list(
        dict.fromkeys(s.title for s in stretches if s.from_x_in - 1e-6 <= envelope.best_x_in <= s.to_x_in + 1e-6)
    )
    said = f"{who} carries at most {most}{behind}, balanced {at} behind the front of the deck"
    if stops:
        said += f"; what stops it there: {listed(stops)}"
    if envelope.unknown:
        said += f". That is not final, because this is not known: {listed(envelope.unknown[:3])}"
    return f"{said}."


__all__ = [
    "candidate_reason",
    "comparison_sentence",
    "decoding_sentence",
    "envelope_sentence",
    "limit_name",
    "match_sentence",
    "match_verdict",
    "place_sentence",
    "settle_sentence",
    "tally_sentence",
]
