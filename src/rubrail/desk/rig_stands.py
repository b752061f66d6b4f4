"""What stands on the deck, as a page's address says it: pieces of the haul and kept machines, where and which way.

The address holds it all, so that a place can be tried, reloaded and sent on without anything being stored.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from django.http import QueryDict

from rubrail.quantity.parse import EXAMPLES, UnreadableError, parse_quantity
from rubrail.quantity.show import convert
from rubrail.things.cargo import Cargo
from rubrail.things.haul import Haul, Load
from rubrail.things.rig_cargo import facings_of, gap_in, length_of, pieces_of

MOST = 12
"""Pieces at once, as many as a haul may have."""
FAR_IN = 1_500.0
"""A place farther from the coupling than this is a slip of the hand."""
ROUNDING = {"in": 0.006, "mm": 0.51}
"""How far what is written in a field may be from the place it was written for."""
WAYS = {"front-first": "front first", "rear-first": "rear first"}


@dataclass(frozen=True, slots=True)
class Stand:
    """One piece on the deck.

    key : ``h0`` for a piece of the haul, ``m12`` for a kept machine, ``c:name`` for a class
    ways : how it may face; facing : how it does, ``""`` for whichever is best
    front_x_in : foremost point behind the coupling point, None for wherever is best [in]
    typed, fault : what a person wrote for its place, and what is wrong with it
    """

    key: str
    piece: Cargo
    ways: tuple[str, ...]
    facing: str = ""
    front_x_in: float | None = None
    typed: str = ""
    fault: str = ""

    @property
    def name(self) -> str:
        """What it is called."""
        return self.piece.title or self.piece.id

    @property
    def other_way(self) -> str:
        """The way it faces once turned round; ``""`` where it may not be, or is the same."""
        return next((w for w in self.ways if w != self.facing), "") if self.facing in self.ways else ""


def stands_of(haul: Haul) -> list[Stand]:
    """The haul's own pieces, nowhere yet."""
    found = zip(pieces_of(haul), facings_of(haul), strict=True)
    return [Stand(f"h{n}", piece, ways) for n, (piece, ways) in enumerate(found)]


def names_of(stands: Sequence[Stand]) -> list[str]:
    """What each is called; of several alike, counted from the first."""
    names = [s.name for s in stands]
    return [f"{x} ({names[:n].count(x) + 1})" if names.count(x) > 1 else x for n, x in enumerate(names)]


def stand_alone(key: str, piece: Cargo, haul: Haul) -> Stand:
    """A piece that is not of the haul, as one more."""
    alone = haul.model_copy(update={"cargo": (Load(piece=piece),)})
    return Stand(key, piece, facings_of(alone)[0])


def keys_named(query: QueryDict) -> set[str]:
    """Keys of the pieces an address asks for."""
    return {*query.getlist("p")[:MOST], query.get("add", "")}


def machines_named(query: QueryDict) -> set[int]:
    """Kept machines an address asks for."""
    return {int(k[1:]) for k in keys_named(query) if re.fullmatch(r"m\d{1,10}", k, re.ASCII)}


def asked(query: QueryDict, *, offered: Mapping[str, Stand], origin_in: float, unit: str) -> list[Stand]:
    """Pieces in the order the address names them; those it cannot name are left out.

    Parameters
    ----------
    query : QueryDict
        Lists ``p`` (key), ``x`` (inches behind the coupling), ``w`` (facing) and ``at`` (what a person wrote, from
        the front of the deck), as long as each other.
    offered : mapping
        Every piece there is to name, by key.
    origin_in : float
        Front of the deck behind the coupling point. [in]
    unit : str
        What a bare number in ``at`` is in, ``in`` or ``mm``.
    """

    def nth(name: str, n: int) -> str:
        values = query.getlist(name)
        return values[n].strip() if n < len(values) else ""

    out = []
    for n, key in enumerate(query.getlist("p")[:MOST]):
        if key not in offered:
            continue
        stand = offered[key]
        way = nth("w", n)
        stand = replace(stand, facing=way if way in stand.ways else stand.ways[0], front_x_in=_number(nth("x", n)))
        out.append(_typed(stand, nth("at", n), origin_in=origin_in, unit=unit))
    return out


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) and abs(value) <= FAR_IN else None


def _typed(stand: Stand, text: str, *, origin_in: float, unit: str) -> Stand:
    """What was written counts where it is not just the place it was written for."""
    if not text:
        return stand
    try:
        number = parse_quantity(text, unit)
    except UnreadableError as reason:
        fault = f'Must be a length such as {EXAMPLES["length"]}, not "{text[:40]}": it {reason}.'
        return replace(stand, typed=text, fault=fault)
    here = None if stand.front_x_in is None else convert(stand.front_x_in - origin_in, "in", unit)
    if here is not None and abs(here - number) <= ROUNDING[unit]:
        return stand
    x = convert(number, unit, "in") + origin_in
    if abs(x) > FAR_IN:
        return replace(stand, typed=text, fault=f'Must be a place on the deck, not "{text[:40]}".')
    return replace(stand, front_x_in=x)


def commanded(stands: Sequence[Stand], do: str, *, gap: float, add: Stand | None = None) -> list[Stand]:
    """The pieces after one of the bench's buttons.

    Parameters
    ----------
    do : str
        ``best``, ``turn:N``, ``drop:N``, ``ahead:N``, or ``add`` with ``add``; anything else changes nothing.
    gap : float
        Gap that pieces are set behind each other with. [in]
    """
    word, _, which = do.partition(":")
    out = list(stands)
    if word == "best":
        return [replace(s, facing="", front_x_in=None) for s in out]
    if word == "add" and add is not None and len(out) < MOST:
        return [*out, replace(add, facing=add.ways[0], front_x_in=_behind(out, gap))]
    n = int(which) if which.isdigit() and int(which) < len(out) else -1
    if n < 0:
        return out
    if word == "drop":
        del out[n]
    elif word == "turn" and out[n].other_way:
        out[n] = replace(out[n], facing=out[n].other_way)
    elif word == "ahead":
        _swap(out, n)
    return out


def _length(stand: Stand) -> float:
    value = length_of(stand.piece)
    return 0.0 if value is None else value.number


def _behind(stands: Iterable[Stand], gap: float) -> float | None:
    rears = [s.front_x_in + _length(s) for s in stands if s.front_x_in is not None]
    return max(rears) + gap if rears else None


def _swap(stands: list[Stand], n: int) -> None:
    """Let a piece and the one ahead of it change places; the room between them stays."""
    mine = stands[n]
    ahead = [s for s in stands if None not in (s.front_x_in, mine.front_x_in) and s.front_x_in < mine.front_x_in]
    if not ahead:
        return
    other = max(ahead, key=lambda s: s.front_x_in)
    room = mine.front_x_in - other.front_x_in - _length(other)
    stands[stands.index(other)] = replace(other, front_x_in=other.front_x_in + _length(mine) + room)
    stands[n] = replace(mine, front_x_in=other.front_x_in)


def carrying(haul: Haul, stands: Iterable[Stand]) -> Haul:
    """The haul with just these pieces."""
    kept = {f"h{n}": load for n, load in enumerate(x for x in haul.cargo for _ in range(x.count))}
    loads = [Load(piece=s.piece, facing=kept[s.key].facing if s.key in kept else "either") for s in stands]
    return haul.model_copy(update={"cargo": tuple(loads)})


def rest_of_them(haul: Haul, stands: Sequence[Stand]) -> list[Stand]:
    """Pieces without a place set behind those that have one; unchanged where none has."""
    if all(s.front_x_in is None for s in stands):
        return list(stands)
    out: list[Stand] = []
    for stand in stands:
        if stand.front_x_in is None:
            others = [*out, *stands[len(out) + 1 :]]
            stand = replace(stand, front_x_in=_behind(others, gap_in(haul)))
        out.append(stand if stand.facing else replace(stand, facing=stand.ways[0]))
    return out


def address_of(stands: Sequence[Stand]) -> str:
    """The query that brings these pieces back."""
    query = QueryDict(mutable=True)
    query.setlist("p", [s.key for s in stands])
    query.setlist("x", [f"{s.front_x_in:.3f}" if s.front_x_in is not None else "" for s in stands])
    query.setlist("w", [s.facing for s in stands])
    if not stands:
        query["p"] = "none"
    return query.urlencode(safe=":")
