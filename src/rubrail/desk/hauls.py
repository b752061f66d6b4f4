"""Hauls between database and engine: a stored haul holds its truck, cargo and limits whole."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rubrail.desk.models import Haul
from rubrail.desk.stock import prune
from rubrail.things.door import read_thing
from rubrail.things.haul import Haul as HaulThing
from rubrail.things.part import Thing


def stored(thing: Thing) -> dict[str, Any]:
    """What the database keeps of a truck, a piece or a haul: its file's content, an empty list kept as *none*."""
    table = thing.model_dump(mode="json", by_alias=True, exclude_none=True)
    return prune(table, empty_lists=True)


def thing_of(haul: Haul) -> HaulThing:
    """The haul as the engine takes it.

    Raises
    ------
    Faults
        If what is stored no longer reads: it was validated when it was saved, by the rules of then.
    """
    return read_thing(HaulThing, haul.spec, where=str(haul))


@dataclass(frozen=True, slots=True)
class InShort:
    """A haul in a list: its truck and cargo in words, and what the cargo weighs where all of it is known."""

    truck: str
    cargo: tuple[str, ...]
    weight_lb: float | None


def in_short(spec: Mapping[str, Any]) -> InShort:
    """A stored haul in few words, read without the engine."""
    loads = spec.get("cargo", ())
    weights = [_weight_lb(load["piece"]) for load in loads]
    whole = None if None in weights else sum(w * load.get("count", 1) for w, load in zip(weights, loads, strict=True))
    return InShort(called(spec.get("truck", {})), tuple(_counted(load) for load in loads), whole)


def called(thing: Mapping[str, Any]) -> str:
    """What a stored truck or piece is called."""
    return str(thing.get("title") or thing.get("id") or "")


def _counted(load: Mapping[str, Any]) -> str:
    count, name = load.get("count", 1), called(load["piece"])
    return name if count == 1 else f"{count} × {name}"


def _weight_lb(piece: Mapping[str, Any]) -> float | None:
    if "weight_lb" in piece:
        return float(piece["weight_lb"]["value"])
    pieces = piece.get("pieces", {})
    return float(pieces["weight_lb"]["value"]) * pieces["count"] if "weight_lb" in pieces else None
