"""Hauls between database and engine: a stored haul holds its truck, cargo and limits whole."""

from __future__ import annotations

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
