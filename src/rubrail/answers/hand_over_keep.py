"""A truck's file with what was read and measured of the truck in it, to be kept for the next haul.

Another matter than the weighing: there the ball that was read is the only one, and a pressure without its sidewall
leaves a tire's load not known. Here nothing is taken away: a truck may have several balls, and what was not found out
leaves what the file has.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from rubrail.answers.hand_over_fields import Readings
from rubrail.answers.hand_over_put import values_of
from rubrail.answers.written import table_of, value_at, write_value
from rubrail.quantity.value import Value
from rubrail.things.door import read_thing
from rubrail.things.haul import Haul
from rubrail.things.rig_truck import hitch_for
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Hitch, Truck


def as_read(truck: Truck, *, haul: Haul, trailer: Trailer, readings: Readings) -> Truck:
    """The truck with what was read and measured written over what its file has.

    Parameters
    ----------
    truck : Truck
        The haul's, or the one kept for next time that it came from.
    haul : Haul
        Says whether weight is distributed, and so which line of the hitch's plate was read.
    trailer : Trailer
        Says which hitch is in use.
    readings : mapping

    Raises
    ------
    Faults
        Where what was measured cannot be true of this truck.
    """
    content = table_of(truck)
    at = _hitch_in_use(truck, trailer, readings)
    hitch = None if at is None else truck.hitch[at]
    of_hitch: dict[str, Any] = {}
    for _, value, field in values_of(haul.model_copy(update={"truck": truck}), trailer, readings, hitch=hitch):
        thing, path = (truck, field.truck) if field.truck else (hitch, field.hitch)
        if not path or _has(thing, path, value, field.basis):
            continue
        if field.truck:
            write_value(content, field.truck, value, basis=field.basis)
        else:
            write_value(of_hitch, field.hitch, value, basis=field.basis)
    if of_hitch:
        content["hitch"] = _hitches(content.get("hitch", []), at, {"kind": trailer.coupling.kind, **of_hitch})
    return read_thing(Truck, content, where="the truck as measured")


def _has(thing: Truck | Hitch | None, path: str, value: float | str | bool, basis: str) -> bool:
    """Whether a file has a value as surely already; one that was not found out it may have or not."""
    if isinstance(value, float) and math.isnan(value):
        return True
    old = None if thing is None else value_at(thing, path)
    if isinstance(old, Value):
        return old.number == value and old.basis in ("label", basis)
    return old == value


def _hitch_in_use(truck: Truck, trailer: Trailer, readings: Readings) -> int | None:
    """Number of the hitch that was read: with the ball that is on it, else the one the trailer takes."""
    kind, size = trailer.coupling.kind, readings.get("hitch_ball_size_in")
    for n, hitch in enumerate(truck.hitch):
        if size is not None and hitch.kind == kind and hitch.ball_size_in and hitch.ball_size_in.number == size:
            return n
    used = hitch_for(truck, trailer.coupling)
    return next((n for n, hitch in enumerate(truck.hitch) if hitch is used), None)


def _hitches(there: list[dict[str, Any]], at: int | None, read: Mapping[str, Any]) -> list[dict[str, Any]]:
    if at is None:
        return [*there, dict(read)]
    return [{**hitch, **read} if n == at else hitch for n, hitch in enumerate(there)]
