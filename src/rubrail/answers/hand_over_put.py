"""Put what was read and measured on a haul's truck and on a unit, in place of what their files say."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from rubrail.answers.hand_over_fields import Field, Readings, field_of
from rubrail.answers.hand_over_report import Put
from rubrail.answers.written import table_of, value_at, write_value
from rubrail.mechanics.tires import tire_load_lb
from rubrail.quantity.value import Value
from rubrail.rules.tables import table
from rubrail.rules.tires import tire_size
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul
from rubrail.things.rig_truck import hitch_for
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Hitch, Truck

ENDS = ("front", "rear")
"""Of the truck."""


def with_readings(*, haul: Haul, trailer: Trailer, readings: Readings) -> tuple[Haul, Trailer, tuple[Put, ...]]:
    """The haul and the trailer with what was read and measured on them, and what was put in place of what.

    Raises
    ------
    Faults
        Where what was measured cannot be true of this truck or this trailer.
    """
    truck = haul.truck
    new_truck, new_unit = table_of(truck), table_of(trailer)
    hitch = hitch_for(truck, trailer.coupling)
    new_hitch: dict[str, Any] = {"kind": trailer.coupling.kind} if hitch is None else table_of(hitch)
    put: list[Put] = []
    faults: list[Any] = []
    for name, value, field in values_of(haul, trailer, readings, hitch=hitch):
        if field.truck:
            put.append(_put(field, name, value_at(truck, field.truck), value))
            write_value(new_truck, field.truck, value, basis=field.basis)
        elif field.hitch:
            put.append(_put(field, name, hitch and value_at(hitch, field.hitch), value))
            write_value(new_hitch, field.hitch, value, basis=field.basis)
        elif field.trailer:
            put.append(_put(field, name, value_at(trailer, field.trailer), value))
            write_value(new_unit, field.trailer, value, basis=field.basis)
    if any((field_of(p.name, axles=9) or _DERIVED[p.name]).hitch for p in put):
        new_truck["hitch"] = _hitches(truck, trailer, new_hitch, seen="hitch_ball_size_in" in readings)
    made: dict[str, Any] = {}
    for key, model, content, named in (("truck", Truck, new_truck, "the truck as measured"),
                                       ("trailer", Trailer, new_unit, "the unit as measured")):  # fmt: skip
        try:
            made[key] = read_thing(model, content, where=named)
        except Faults as told:
            faults += told.faults
    if faults:
        raise Faults(faults)
    return haul.model_copy(update={"truck": made["truck"]}), made["trailer"], tuple(put)


def _hitches(truck: Truck, trailer: Trailer, now: dict[str, Any], *, seen: bool) -> list[dict[str, Any]]:
    """The truck's hitches with the one in use as it is; a ball that was read is the only one of its kind on it."""
    kind, used = trailer.coupling.kind, hitch_for(truck, trailer.coupling)
    others = [h for h in truck.hitch if h is not used and not (seen and h.kind == kind)]
    return [now, *map(table_of, others)]


_DERIVED = {
    **{
        f"{end}_tire_each_lb": Field(
            f"{end}_tire_each_lb", f"load one {end} tire of the truck carries as it is", "lb",
            truck=f"tires.{end}_each_lb",
        )
        for end in ENDS
    },
    **{
        f"{way}{what}_rating_lb": Field(
            f"{way}{what}_rating_lb", says, "lb", basis="label", hitch=f"{way}{what}_rating_lb"
        )
        for way in ("", "distributing_")
        for what, says in (
            ("gross", "what ball and hitch are rated for together"), ("vertical", "load the hitch is rated for")
        )
    },
}  # fmt: skip


def values_of(
    haul: Haul, trailer: Trailer, readings: Readings, *, hitch: Hitch | None
) -> Iterator[tuple[str, Any, Field]]:
    """Every value to write: name, value, field; what is reckoned from several readings comes last.

    ``hitch`` is the truck's hitch in use: what its plate says where that was not read.
    """
    for name, value in readings.items():
        field = field_of(name, axles=len(trailer.axle))
        if field is not None and (field.truck or field.hitch or field.trailer):
            yield name, value, field
    ways = ("", "distributing_") if haul.weight_distribution and trailer.coupling.kind == "ball" else ("",)
    for way in ways[-1:]:
        filed = None if hitch is None else getattr(hitch, f"{way}gross_rating_lb")
        plate = readings.get("hitch_gross_rating_lb", None if filed is None else filed.number)
        ball = readings.get("ball_rating_lb")
        if ball is not None or "hitch_gross_rating_lb" in readings:
            # Ball and hitch hold one another up: the lesser counts. A ball alone says nothing of the hitch below it.
            least = math.nan if plate is None else min(plate, math.inf if ball is None else ball)
            yield f"{way}gross_rating_lb", float(least), _DERIVED[f"{way}gross_rating_lb"]
        if "hitch_vertical_rating_lb" in readings:
            key = f"{way}vertical_rating_lb"
            yield key, float(readings["hitch_vertical_rating_lb"]), _DERIVED[key]
    for end in ENDS:
        if f"truck_{end}_tire_psi" in readings:
            yield f"{end}_tire_each_lb", _tire_lb(haul.truck, readings, end=end), _DERIVED[f"{end}_tire_each_lb"]


def _tire_lb(truck: Truck, readings: Readings, *, end: str) -> float:
    """What one tire of an end carries at the pressure found; ``nan`` where nobody read the sidewall. [lb]"""
    load, full = (readings.get(f"truck_{end}_tire_max_{k}", math.nan) for k in ("lb", "psi"))
    return float(
        tire_load_lb(
            max_load_lb=load,
            max_pressure_psi=full,
            pressure_psi=readings[f"truck_{end}_tire_psi"],
            exponent=1.0,
            derate=_derate(truck.tires.size),
        )
    )


def _derate(size: str | None) -> float:
    """1 for tires made for trucks by their size; where the size does not say so, passenger tires are taken."""
    passenger = next(row["derate"] for row in table("tire-families")["rows"] if row["family"] == "P")
    try:
        read = tire_size(size or "")
    except ValueError:
        return float(passenger)
    made_for_trucks = read.family == "LT" or read.load_range or not read.rim_in.is_integer()
    return 1.0 if made_for_trucks else float(passenger)


def _put(field: Field, name: str, old: Any, now: Any) -> Put:
    words = not field.unit
    return Put(
        name=name,
        says=field.says,
        unit=field.unit,
        before=math.nan if words or old is None else float(old),
        now=math.nan if words else float(now),
        before_says=_word(old) if words else "",
        now_says=_word(now) if words else "",
        basis=field.basis,
        was=old.basis if isinstance(old, Value) else "",
    )


def _word(value: Any) -> str:
    return {True: "yes", False: "no", None: ""}.get(value, value) if isinstance(value, bool | None) else str(value)
