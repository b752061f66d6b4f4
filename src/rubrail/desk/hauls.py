"""Hauls between database and engine: a stored haul holds its truck, cargo and limits whole."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.db import transaction

from rubrail.desk.audit import Delta, record
from rubrail.desk.editing import save_changes
from rubrail.desk.models import Haul, Machine, Truck, User
from rubrail.desk.spec_fields import SpecField, field_at
from rubrail.desk.stock import leaves, prune, say_leaf
from rubrail.things.cargo import Cargo
from rubrail.things.door import read_thing
from rubrail.things.haul import Haul as HaulThing
from rubrail.things.limits import Limits
from rubrail.things.part import Thing
from rubrail.things.truck import Truck as TruckThing

NEEDS = "haul.see"
"""Permission to read of a haul's changes: the buyer's name is in them."""


def stored(thing: Thing) -> dict[str, Any]:
    """What the database keeps of a truck, a piece or a haul: its file's content.

    An empty list the file states says *none* and is kept; one it does not state is left out, for nobody said.
    """
    table = thing.model_dump(mode="json", by_alias=True, exclude_none=True, exclude_unset=True)
    kept = prune(table | {"id": thing.id}, empty_lists=True)
    for load in kept.get("cargo", ()) if isinstance(thing, HaulThing) else ():
        # Stated or not, one piece facing either way is what a load is: the trail must never call that not known.
        load.setdefault("count", 1)
        load.setdefault("facing", "either")
    return kept


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


def add_haul(thing: HaulThing, *, buyer: str, title: str, by: User | None, action: str = "added") -> Haul:
    """Store a new haul and say so in the trail."""
    with transaction.atomic():
        haul = Haul.objects.create(buyer=buyer, title=title, spec=stored(thing), created_by=by)
        record(by=by, action=action, thing=haul)
    return haul


def change_haul(
    haul: Haul, thing: HaulThing, *, buyer: str, title: str, by: User | None, seen_version: int
) -> list[Delta]:
    """Store a haul as ``thing`` has it; each difference goes into the trail.

    Raises
    ------
    StaleError
        If somebody else saved it since ``seen_version``; nothing is written then.
    """
    new = {"buyer": buyer, "title": title, "spec": stored(thing)}
    values = {name: value for name, value in new.items() if getattr(haul, name) != value}
    deltas = [d for d in deltas_between(haul, new) if d.old != d.new]
    save_changes(haul, values=values, deltas=deltas, by=by, seen_version=seen_version)
    return deltas


def put_aside(thing: Haul | Truck | Machine, *, aside: bool, by: User | None, seen_version: int) -> None:
    """Close a haul, or no longer offer what is kept; or open it again. Nothing is ever deleted.

    Raises
    ------
    StaleError
        If somebody else saved it since ``seen_version``.
    """
    with transaction.atomic():
        if thing.closed != aside:
            save_changes(thing, values={"closed": aside}, deltas=(), by=by, seen_version=seen_version)
            record(by=by, action="put aside" if aside else "taken up", thing=thing)


def deltas_between(haul: Haul, new: Mapping[str, Any]) -> Iterator[Delta]:
    """What changes from a stored haul to a new one, in words; another truck or other cargo is told as one change."""
    for name, label in (("buyer", "buyer"), ("title", "purpose")):
        yield Delta(name, label, getattr(haul, name), new[name], NEEDS)
    old, now = haul.spec, new["spec"]
    whole = tuple(_whole(old, now))
    yield from whole
    skipped = tuple(f"{d.field}." for d in whole)
    before, after = dict(leaves(old)), dict(leaves(now))
    for path in dict.fromkeys((*before, *after)):
        if before.get(path) == after.get(path) or path == "title" or path.startswith(skipped):
            continue
        field = haul_field(path, now)
        label = field.label if field else path
        yield Delta(path, label, say_leaf(field, before.get(path)), say_leaf(field, after.get(path)), NEEDS)


def _whole(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Delta]:
    if old["truck"].get("id") != new["truck"].get("id"):
        yield Delta("truck", "truck", called(old["truck"]), called(new["truck"]), NEEDS)
    ids = [[load["piece"].get("id") for load in spec.get("cargo", ())] for spec in (old, new)]
    if ids[0] != ids[1]:
        yield Delta("cargo", "cargo", *("; ".join(in_short(spec).cargo) for spec in (old, new)), NEEDS)
    limits = [spec.get("limits", {}) for spec in (old, new)]
    if limits[0].get("id") != limits[1].get("id"):
        yield Delta("limits", "limits of the road", *map(called, limits), NEEDS)


def haul_field(path: str, spec: Mapping[str, Any]) -> SpecField | None:
    """The field of a path in a haul's table, its label saying of what: ``GVWR of the truck``."""
    head, _, rest = path.partition(".")
    if head in ("truck", "limits"):
        model, of = (TruckThing, "truck's") if head == "truck" else (Limits, "limit of")
        field = field_at(model, rest)
        return field and replace(field, path=path, label=f"{of} {field.label}")
    piece = re.fullmatch(r"cargo\.(\d+)\.piece\.(.+)", path)
    if piece:
        field, loads = field_at(Cargo, piece[2]), spec.get("cargo", ())
        n = int(piece[1])
        of = called(loads[n]["piece"]) if n < len(loads) else f"piece {n + 1}"
        return field and replace(field, path=path, label=f"{field.label} of the {of}")
    load = re.fullmatch(r"cargo\.(\d+)\.(count|facing)", path)
    if load:
        return SpecField(path, load[2], f"{load[2]} of piece {int(load[1]) + 1}", "", "text")
    return field_at(HaulThing, path)
