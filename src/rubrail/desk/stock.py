"""Units between file and database: taken apart into columns and ``spec``, put together again, changed with a trail."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction

from rubrail.desk import clock
from rubrail.desk import derived as engine
from rubrail.desk.amounts import written
from rubrail.desk.audit import Delta, record, record_all
from rubrail.desk.editing import save_changes
from rubrail.desk.models import Unit, User
from rubrail.desk.models.stock import Status
from rubrail.desk.price_days import note_prices
from rubrail.desk.spec_fields import SpecField, field_at
from rubrail.quantity.money import show_money
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.trailer import Trailer

LOT = ("status", "price_usd", "cost_usd", "color", "location", "arrived")
"""Columns of a unit that are fields of the trailer file under the same name."""
APART = frozenset({"schema", "id", *LOT})
LABELS = {
    "stock_number": "stock number",
    "status": "status",
    "price_usd": "price",
    "cost_usd": "cost",
    "color": "color",
    "location": "place on the lot",
    "arrived": "day of arrival",
}
NEEDS = {"cost_usd": "money.see"}


def take_apart(trailer: Trailer) -> dict[str, Any]:
    """Columns of a unit, ``spec`` and derived ones included, from a trailer as its file has it."""
    return take_all_apart([trailer])[0]


def take_all_apart(trailers: Sequence[Trailer]) -> list[dict[str, Any]]:
    """Columns of many units; what the engine works out of them is worked out for all at once."""
    return [said(t) | worked for t, worked in zip(trailers, engine.derived(trailers), strict=True)]


def said(trailer: Trailer) -> dict[str, Any]:
    """Columns of a unit that repeat what its file says, without what the engine works out of it."""
    table = trailer.model_dump(mode="json", by_alias=True, exclude_none=True)
    spec = prune({k: v for k, v in table.items() if k not in APART})
    lot = {name: getattr(trailer, name) for name in LOT}
    lot |= {"color": trailer.color or "", "location": trailer.location or ""}
    return {"stock_number": trailer.id, **lot, "spec": spec, **derive(trailer)}


def put_together(unit: Unit, *, with_cost: bool = False) -> dict[str, Any]:
    """The trailer file's table of a unit; without its cost unless that is asked for."""
    lot = {name: getattr(unit, name) for name in LOT if name != "cost_usd" or with_cost}
    lot = {name: value for name, value in lot.items() if value not in (None, "")}
    return {"id": unit.stock_number, **lot, **unit.spec}


def trailer_of(unit: Unit) -> Trailer:
    """The trailer a unit is, validated, without its cost.

    Raises
    ------
    Faults
        If what is stored no longer reads: it was validated when it was saved, by the rules of then.
    """
    return read_thing(Trailer, put_together(unit), where=f"unit {unit.stock_number}")


def readable(unit: Unit) -> Trailer | None:
    """The trailer a unit is, or nothing where what is stored no longer reads."""
    try:
        return trailer_of(unit)
    except Faults:
        return None


def prune(value: Any, *, empty_lists: bool = False) -> Any:
    """A table without the parts nobody filled, and without the bases of whole tables: each value has its own.

    ``empty_lists`` keeps lists without members where they say *none* and not *nobody said*.
    """
    if isinstance(value, dict):
        bare = "value" not in value
        kept: dict[str, Any] = {}
        for name, part in value.items():
            if part is None or (bare and name == "basis"):
                continue
            if isinstance(part, (dict, list, tuple)):
                held = prune(part, empty_lists=empty_lists)
                if held or (empty_lists and held == []):
                    kept[name] = held
            else:
                kept[name] = part
        return kept
    if isinstance(value, (list, tuple)):
        return [prune(v, empty_lists=empty_lists) for v in value]
    return value


def derive(trailer: Trailer) -> dict[str, Any]:
    """The columns that repeat part of the spec, so that the yard can be searched and sorted by them."""
    deck = trailer.deck
    flat, tail = _number(deck.flat_length_in), _number(deck.tail_length_in)
    return {
        "title": trailer.title or "",
        "maker": trailer.maker or "",
        "model": trailer.model or "",
        "vin": trailer.vin or "",
        "year": trailer.year,
        "coupling_kind": trailer.coupling.kind,
        "deck_kind": deck.kind or "",
        "axle_count": len(trailer.axle),
        "gvwr_lb": _number(trailer.ratings.gvwr_lb),
        "advertised_lb": _number(trailer.ratings.advertised_lb),
        "empty_weight_lb": _number(trailer.weights.empty_lb),
        # A tail of unknown length leaves the whole unknown; a trailer without one has none to add.
        "deck_length_in": flat if deck.tail_kind == "none" else _sum(flat, tail),
        "deck_width_in": _number(deck.width_in),
        "deck_height_in": _number(deck.height_in),
    }


def _number(value: Any) -> float | None:
    return None if value is None else float(value.number)


def _sum(a: float | None, b: float | None) -> float | None:
    return None if a is None or b is None else a + b


def add_unit(trailer: Trailer, *, by: User | None, action: str = "added") -> Unit:
    """Store a new unit and say so in the trail."""
    with transaction.atomic():
        unit = Unit.objects.create(created_by=by, **take_apart(trailer))
        record(by=by, action=action, thing=unit)
    return unit


def add_units(trailers: Sequence[Trailer], *, by: User | None, action: str = "loaded") -> list[Unit]:
    """Store many new units, all or none of them, and say so of each in the trail."""
    with transaction.atomic():
        units = [Unit(created_by=by, **columns) for columns in take_all_apart(trailers)]
        units = Unit.objects.bulk_create(units, batch_size=engine.AT_ONCE)
        record_all(by=by, action=action, things=units)
    return units


def change_unit(unit: Unit, trailer: Trailer, *, by: User | None, seen_version: int) -> list[Delta]:
    """Store a unit as ``trailer`` has it; only what differs is written, and each difference goes into the trail.

    Raises
    ------
    StaleError
        If somebody else saved it since ``seen_version``; nothing is written then.
    """
    from rubrail.desk.standing import look_after  # It plans from what is stored, which this module reads.

    new, before = take_apart(trailer), unit.status
    values = {name: value for name, value in new.items() if getattr(unit, name) != value}
    if not set(values) - set(engine.COLUMNS):
        # Nobody changed anything; that the engine is another one by now is no change of the unit.
        values = {}
    if "status" in values:
        values |= moved()
    deltas = [d for d in deltas_between(unit, new) if d.old != d.new]
    with transaction.atomic():
        save_changes(unit, values=values, deltas=deltas, by=by, seen_version=seen_version)
        if "price_usd" in values:
            note_prices([unit], by=by)
        if "status" in values:
            look_after([(unit, before)], day=clock.today(), by=by)
    return deltas


def moved(*, note: str = "") -> dict[str, Any]:
    """What goes with a status that is set among other fields or by a quote: since today, and what is said of it."""
    return {"status_since": clock.today(), "status_note": note, "sold_for_usd": None}


def deltas_between(unit: Unit, new: Mapping[str, Any]) -> Iterator[Delta]:
    """What changes from a stored unit to new columns, in words."""
    for name, label in LABELS.items():
        old_value, new_value = getattr(unit, name), new[name]
        if old_value != new_value:
            yield Delta(name, label, say_lot(name, old_value), say_lot(name, new_value), NEEDS.get(name, "yard.see"))
    old, new_spec = unit.spec, new["spec"]
    # Most of a unit stays as it is; only the parts that differ are looked at value by value.
    old_leaves = dict(leaves({name: part for name, part in old.items() if part != new_spec.get(name)}))
    new_leaves = dict(leaves({name: part for name, part in new_spec.items() if part != old.get(name)}))
    for path in dict.fromkeys((*old_leaves, *new_leaves)):
        old_value, new_value = old_leaves.get(path), new_leaves.get(path)
        if old_value != new_value:
            field = field_at(Trailer, path)
            label = field.label if field else path
            yield Delta(path, label, say_leaf(field, old_value), say_leaf(field, new_value), "yard.see")


def say_lot(name: str, value: Any) -> str:
    """A column's value in words, ``""`` for none."""
    if value in (None, ""):
        return ""
    if name == "status":
        return str(Status(value).label)
    if isinstance(value, Decimal):
        return show_money(value)
    if isinstance(value, date):
        return f"{value:%b} {value.day}, {value.year}"
    return str(value)


def say_leaf(field: SpecField | None, value: Any) -> str:
    """A spec value in words, with its basis and tolerance where it has them, ``""`` for none."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping) and "value" in value:
        unit = field.unit if field else ""
        spread = value.get("plus_minus")
        more = f", ± {written(spread, unit)}" if spread else ""
        return f"{written(value['value'], unit)} ({value['basis']}{more})"
    if isinstance(value, list):
        return "; ".join(say_leaf(field, member) for member in value)
    return str(value)


def leaves(table: Any, path: str = "") -> list[tuple[str, Any]]:
    """Every value of a spec with its dotted path; members of lists by number from 0, lists of plain values whole.

    Tables within are plain ones, as JSON and the models give them.
    """
    found: list[tuple[str, Any]] = []
    _gather(dict(table) if isinstance(table, Mapping) else table, path, found)
    return found


def _gather(table: Any, path: str, found: list[tuple[str, Any]]) -> None:
    if isinstance(table, dict) and not ("value" in table and "basis" in table):
        before = f"{path}." if path else ""
        for name, value in table.items():
            if isinstance(value, (dict, list)):
                _gather(value, before + name, found)
            else:
                found.append((before + name, value))
    elif isinstance(table, list) and all(isinstance(m, dict) and not is_value(m) for m in table):
        for number, value in enumerate(table):
            _gather(value, f"{path}.{number}", found)
    else:
        found.append((path, table))


def is_value(table: Any) -> bool:
    """Whether a table is one measured value: number, basis and tolerance."""
    return isinstance(table, (dict, Mapping)) and "value" in table and "basis" in table


def path_of_fault(field: str) -> str:
    """A fault's field (``axle[2].gawr_lb``, members from 1) as the forms count it (``axle.1.gawr_lb``)."""
    return re.sub(r"\[(\d+)\]", lambda m: f".{int(m[1]) - 1}", field)
