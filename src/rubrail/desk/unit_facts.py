"""A unit's values as its page lists them: each with its basis, and those missing that a limit asks for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from rubrail.answers.height import BASIS
from rubrail.answers.reading import Reading
from rubrail.desk.facts import Fact, FactGroup, fact_of, facts_of
from rubrail.desk.spec_fields import field_at
from rubrail.desk.stock import leaves
from rubrail.things.names import COLUMNS
from rubrail.things.trailer import Trailer

HEIGHT = "deck.height_in"


def unit_facts(spec: Mapping[str, Any], reading: Reading) -> list[FactGroup]:
    """What is known of a unit by section, with what a limit asks for and nobody gave.

    Parameters
    ----------
    spec : mapping
        As stored.
    reading : Reading
        What the engine says of the same unit.
    """
    groups = facts_of(spec, wanted=set(wanted_paths(spec, reading)))
    built = None if HEIGHT in dict(leaves(spec)) else _built_height(reading)
    if built is None:
        return groups
    if not any(g.title == "Deck" for g in groups):
        return [*groups, FactGroup("Deck", (built,))]
    return [replace(g, facts=(*g.facts, built)) if g.title == "Deck" else g for g in groups]


def wanted_paths(spec: Mapping[str, Any], reading: Reading) -> Iterator[str]:
    """Fields of the unit's file that a limit asks for and nobody gave; dotted, members by number from 0."""
    for gap in reading.gaps:
        path = COLUMNS[gap.name].path.partition(".")[2]
        for member in gap.members or (None,):
            here = path if member is None else path.replace("axle", f"axle.{member}", 1)
            if gap.name == "axle_tire_max_load_lb" and _dual(spec, member):
                here = here.replace("max_load_lb", "max_load_dual_lb")
            yield here


def _dual(spec: Mapping[str, Any], member: int | None) -> bool:
    axles = spec.get("axle") or ()
    return member is not None and (axles[member].get("tires") or {}).get("count") == 4


def _built_height(reading: Reading) -> Fact | None:
    """The deck height added up from the build, where nobody measured it and the build is known."""
    height = float(reading.columns["deck_height_in"][0, 0, 0])
    if math.isnan(height):
        return None
    spread = reading.columns.plus_minus.get("deck_height_in")
    stands = fact_of(field_at(Trailer, HEIGHT), {"value": height, "basis": BASIS})
    return replace(stands, spread=0.0 if spread is None else float(spread[0, 0, 0]), remark="added up from the build")
