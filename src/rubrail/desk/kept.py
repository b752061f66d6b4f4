"""Trucks and machines kept for next time: added, changed and put aside, with a trail. A haul keeps its own copy."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain, count
from typing import Any

from django.db import transaction

from rubrail.desk import facts
from rubrail.desk.audit import Delta, record
from rubrail.desk.bases import PIECES, TRUCKS, Shelf
from rubrail.desk.editing import save_changes
from rubrail.desk.facts import Told
from rubrail.desk.hauls import NEEDS, stored
from rubrail.desk.models import Machine, Truck, User
from rubrail.desk.spec_fields import field_at
from rubrail.desk.stock import leaves, say_leaf
from rubrail.things.cargo import Cargo
from rubrail.things.part import Thing
from rubrail.things.truck import Truck as TruckThing

NAME_LENGTH = 120
NAMELESS = re.compile(r"truck|thing|piece(-\d+)?")
"""Ids that forms give things nobody named."""


@dataclass(frozen=True, slots=True)
class Sort:
    """One sort of kept things: its database model, its file model, its words and its pages."""

    name: str
    word: str
    many: str
    model: type[Truck] | type[Machine]
    thing: type[Thing]
    shelf: Shelf
    told: Told
    pages: str

    @property
    def new_page(self) -> str:
        """Name of the address that adds one."""
        return f"{self.name}-new"


SORTS = {
    "truck": Sort("truck", "truck", "trucks", Truck, TruckThing, TRUCKS, facts.TRUCK, "trucks"),
    "machine": Sort("machine", "machine", "machines", Machine, Cargo, PIECES, facts.PIECE, "machines"),
}


def id_of(name: str) -> str:
    """An id of the file for a name: ``Dale's one-ton`` becomes ``dale-s-one-ton``."""
    plain = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:64]
    return plain or "thing"


def is_own(sort: Sort, ident: str) -> bool:
    """Whether an id names one thing: no class's, and none that a haul's form gives where nobody named it."""
    return bool(ident) and ident not in sort.shelf.classes and not NAMELESS.fullmatch(ident)


def _own_id(sort: Sort, ident: str, *, name: str) -> str:
    """An id that is its own among the kept ones: hauls that begin from it carry it."""
    taken = set(sort.model.objects.values_list("spec__id", flat=True))
    ids = chain([ident, id_of(name)], (f"{id_of(name)[:58]}-{n}" for n in count(2)))
    return next(i for i in ids if i not in taken and is_own(sort, i))


def keep(sort: Sort, *, name: str, thing: Thing, by: User | None, action: str = "added") -> Truck | Machine:
    """Store a new kept thing and say so in the trail."""
    with transaction.atomic():
        spec = {**stored(thing), "id": _own_id(sort, thing.id, name=name)}
        it = sort.model.objects.create(name=name[:NAME_LENGTH], spec=spec, created_by=by)
        record(by=by, action=action, thing=it)
    return it


def change(
    sort: Sort, it: Truck | Machine, *, name: str, thing: Thing, by: User | None, seen_version: int
) -> list[Delta]:
    """Store a kept thing as ``thing`` has it; each difference goes into the trail.

    Raises
    ------
    StaleError
        If somebody else saved it since ``seen_version``; nothing is written then.
    """
    new = {"name": name[:NAME_LENGTH], "spec": stored(thing)}
    values = {column: value for column, value in new.items() if getattr(it, column) != value}
    deltas = [Delta("name", "name", it.name, new["name"], NEEDS), *deltas_of(sort.thing, it.spec, new["spec"])]
    deltas = [d for d in deltas if d.old != d.new]
    save_changes(it, values=values, deltas=deltas, by=by, seen_version=seen_version)
    return deltas


def deltas_of(model: type[Thing], old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Delta]:
    """What differs between two tables of a thing, in words."""
    before, after = dict(leaves(old)), dict(leaves(new))
    for path in dict.fromkeys((*before, *after)):
        if before.get(path) != after.get(path) and path not in ("id", "schema"):
            field = field_at(model, path)
            label = field.label if field else path
            yield Delta(path, label, say_leaf(field, before.get(path)), say_leaf(field, after.get(path)), NEEDS)
