"""What a finished list offers to write: field by field, as the file has it and as it was seen.

Checklists and hand-overs both show it on their pages. Whatever is saved or seen meanwhile changes the offer's mark.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from rubrail.answers.checklist_parts import Entry, Line
from rubrail.answers.hand_over_keep import as_read
from rubrail.answers.hand_over_lines import SORT, readings_of
from rubrail.answers.seen import seen_on
from rubrail.answers.written import write_value
from rubrail.desk import clock
from rubrail.desk.amounts import written
from rubrail.desk.checking.lists import FINISHED, entries_for, latest, lines_of, photos_of
from rubrail.desk.hauls import stored, thing_of
from rubrail.desk.kept import SORTS, is_own
from rubrail.desk.models import Checklist, Haul, Photo, Truck, Unit, User
from rubrail.desk.models.stock import Purpose
from rubrail.desk.spec_fields import field_at
from rubrail.desk.stock import is_value, leaves, put_together, readable, said, say_leaf
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.part import Thing
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck as TruckThing

OF_UNIT, OF_TRUCK = "unit", "truck"
NEEDS = {OF_UNIT: "unit.edit", OF_TRUCK: "haul.edit"}
"""Who writes it."""
LABEL_PHOTO = "label-photo"
"""Key of the line whose photos show the label."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One field: what it is called, what the file has and its basis, what was seen and its basis."""

    label: str
    was: str
    was_basis: str
    now: str
    now_basis: str


@dataclass(frozen=True, slots=True)
class Offer:
    """What may be written into one file.

    of : a key of ``NEEDS``; name : of the unit or the truck; rows : what would change; mark : of all of that
    faults : why it cannot be written as it is; thing, photos : what would be written
    """

    of: str
    name: str
    rows: tuple[Difference, ...]
    mark: str
    faults: tuple[str, ...]
    row: Unit | Truck
    thing: Thing | None
    photos: tuple[Photo, ...] = ()


def offers_of(it: Checklist, *, user: User) -> list[Offer]:
    """What a list offers somebody; nothing while it is under way, or where the files have it as it was seen."""
    if it.state not in FINISHED:
        return []
    lines, photos = lines_of(it), photos_of(it)
    entries, metric = entries_for(lines, latest(it), photos), user.measures == "metric"
    found = [
        _of_unit(it, lines, entries, photos.get(LABEL_PHOTO, ()), metric=metric) if user.may(NEEDS[OF_UNIT]) else None,
        _of_truck(it, lines, entries, metric=metric) if it.sort == SORT and user.may(NEEDS[OF_TRUCK]) else None,
    ]
    return [offer for offer in found if offer is not None]


def _of_unit(
    it: Checklist, lines: Sequence[Line], entries: Mapping[str, Entry], photos: Sequence[Photo], *, metric: bool
) -> Offer | None:
    unit, filed = it.unit, readable(it.unit)
    if filed is None:
        return None
    new = [p for p in photos if p.pk not in _kept_labels(unit)] if photos else []
    seen = seen_on(filed, lines, entries, on=clock.today())
    if not (seen or new):
        return None
    table = deepcopy(put_together(unit, with_cost=True))
    for one in seen:
        write_value(table, one.path, one.value, basis=one.basis)
    try:
        thing, faults = read_thing(Trailer, table, where=f"unit {unit}"), ()
    except Faults as told:
        thing, faults = None, tuple(f.sentence for f in told.faults)
    old = said(filed)["spec"]
    changes = _changes(old, said(thing)["spec"]) if thing is not None else [(s.path, None, s.value) for s in seen]
    rows = [_difference(Trailer, *change, metric=metric) for change in changes]
    if new:
        there = unit.photos.filter(purpose=Purpose.LABEL).count()
        rows.append(Difference("photos of the label", str(there or "none"), "", f"{len(new)} more", ""))
    mark = _mark(changes, [p.pk for p in new])
    return Offer(OF_UNIT, str(unit), tuple(rows), mark, faults, unit, thing, tuple(new))


def _of_truck(it: Checklist, lines: Sequence[Line], entries: Mapping[str, Entry], *, metric: bool) -> Offer | None:
    trailer, row = readable(it.unit), kept_truck(it.haul)
    if trailer is None or row is None:
        return None
    readings = readings_of(lines, entries, plug=trailer.plug)
    try:
        haul, filed = thing_of(it.haul), read_thing(TruckThing, row.spec)
        thing = as_read(filed, haul=haul, trailer=trailer, readings=readings)
    except Faults:
        return None
    changes = _changes(stored(filed), stored(thing))
    if not changes:
        return None
    rows = tuple(_difference(TruckThing, *change, metric=metric) for change in changes)
    return Offer(OF_TRUCK, row.name, rows, _mark(changes, []), (), row, thing)


def kept_truck(haul: Haul | None) -> Truck | None:
    """The truck kept for next time that a haul's truck came from; nothing where it is none, or may be several."""
    ident = "" if haul is None else str(haul.spec.get("truck", {}).get("id", ""))
    if not is_own(SORTS["truck"], ident):
        return None
    rows = list(Truck.objects.filter(closed=False, spec__id=ident)[:2])
    return rows[0] if len(rows) == 1 else None


def _changes(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[tuple[str, Any, Any]]:
    """Paths that differ, with what stands there before and after."""
    before, after = dict(leaves(old)), dict(leaves(new))
    paths = dict.fromkeys((*before, *after))
    return [(path, before.get(path), after.get(path)) for path in paths if before.get(path) != after.get(path)]


def _difference(model: type[Thing], path: str, was: Any, now: Any, *, metric: bool) -> Difference:
    field = field_at(model, path)

    def words(value: Any) -> tuple[str, str]:
        if is_value(value):
            return written(value["value"], field.unit if field else "", metric=metric), value["basis"]
        return say_leaf(field, value), ""

    label = field.label if field else path
    hitch = re.match(r"hitch\.(\d+)\.", path)
    if field and hitch:
        label = f"hitch {int(hitch[1]) + 1}: {field.short}"
    return Difference(label, *words(was), *words(now))


def _mark(changes: Sequence[tuple[str, Any, Any]], photos: Sequence[int]) -> str:
    return hashlib.sha256(json.dumps([changes, photos], sort_keys=True).encode()).hexdigest()[:32]


def _kept_labels(unit: Unit) -> set[int]:
    """Numbers of the photos whose copies the unit has already."""
    there = unit.photos.filter(purpose=Purpose.LABEL, spot__has_key="from").values_list("spot", flat=True)
    return {spot["from"] for spot in there}
