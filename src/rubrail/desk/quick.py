"""A haul entered on one page: what it begins from, what somebody wrote over it, and the haul file's table of both.

A field shows what is known; a typical figure is not shown as if it were known, it stands beside the empty field until
somebody writes over it. A known value that is cleared is not known any more.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from rubrail.desk.bases import Base
from rubrail.desk.forms.spec import put, taken, text_of
from rubrail.desk.spec_fields import SpecField, field_at
from rubrail.desk.stock import is_value, leaves
from rubrail.desk.typed import measures_sent
from rubrail.things.cargo import Cargo
from rubrail.things.limits import LIMIT_FIELDS, Limits
from rubrail.things.truck import Truck

TRUCK_LABEL = ("ratings.gvwr_lb", "ratings.front_gawr_lb", "ratings.rear_gawr_lb")
TRUCK_EMPTY = ("weights.front_axle_lb", "weights.rear_axle_lb")
TRUCK_TOWS = ("brake_controller", "plug", "ratings.gcwr_lb")
TRUCK_MORE = (
    *("title", "size.wheelbase_in", "size.bed_rail_height_in", "tires.rear_each_lb", "tires.front_each_lb"),
    *("ratings.label_gcwr_lb", "registered_lb"),
)
HITCH = ("ball_size_in", "gross_rating_lb", "vertical_rating_lb", "height_in")
HITCH_DISTRIBUTING = ("distributing_gross_rating_lb", "distributing_vertical_rating_lb")
MACHINE = ("weight_lb", "attachments")
MACHINE_MORE = ("title", "length_in", "width_in", "height_in", "cg_from_front_in", "cg_height_in", "contact.kind")
BULK = ("pieces.count", "pieces.weight_lb")
BULK_MORE = (
    *("title", "pieces.abreast", "pieces.layers", "pieces.on_top"),
    *("pieces.length_in", "pieces.width_in", "pieces.height_in", "height_in"),
)
MOST_PIECES = 12
USES = (("private", "private"), ("own-business", "own business"), ("for-hire", "for hire"), ("farm", "farm"))
OWN_FIELDS = ("use", "interstate", "license_held", "weight_distribution", "front_restoration", "notes")


@dataclass(frozen=True)
class Plan:
    """What a haul's truck, pieces and limits begin from."""

    truck: Base
    pieces: tuple[Base, ...]
    limits: Base


def truck_specs(base: Base) -> dict[str, SpecField]:
    """Every field of the truck the page has, by its name in the form."""
    paths = [*TRUCK_LABEL, *TRUCK_EMPTY, *TRUCK_TOWS, *TRUCK_MORE]
    for n, hitch in enumerate(base.table.get("hitch", ())):
        paths += [f"hitch.{n}.{name}" for name in hitch_fields(hitch)]
        paths.append(tow_path(hitch["kind"]))
    paths += [f"gear.{n}.weight_lb" for n, _ in enumerate(base.table.get("gear", ()))]
    return {f"truck.{path}": _spec(Truck, path) for path in dict.fromkeys(paths)}


def hitch_fields(hitch: Mapping[str, Any]) -> tuple[str, ...]:
    """Fields asked of one hitch."""
    return (*HITCH, *HITCH_DISTRIBUTING) if hitch.get("kind") == "ball" else HITCH


def tow_path(kind: str) -> str:
    """Where the maker's trailer rating for a kind of hitch is written."""
    return f"tow_ratings.{kind}_lb"


def piece_specs(base: Base, n: int) -> dict[str, SpecField]:
    """Every field of one piece the page has, by its name in the form."""
    bulk = base.table.get("kind") == "bulk"
    paths = (*BULK, *BULK_MORE) if bulk else (*MACHINE, *MACHINE_MORE)
    return {f"piece.{n}.{path}": _spec(Cargo, path) for path in paths}


def limit_specs() -> dict[str, SpecField]:
    """Every limit of the road, by its name in the form."""
    return {f"limits.{path}": _spec(Limits, path) for path in LIMIT_FIELDS}


@lru_cache(maxsize=256)
def _spec(model: type, path: str) -> SpecField:
    found = field_at(model, path)
    if found is None:
        raise LookupError(f"{model.__name__} has no field {path}")
    return replace(found, path=path)


def shown(base: Base, specs: Mapping[str, SpecField], prefix: str, *, measures: str) -> dict[str, str]:
    """What the page writes into the fields for a base: what is known, with its basis; typical figures are left out."""
    known, texts = dict(leaves(base.table)), {}
    for spec in specs.values():
        value = known.get(spec.path)
        if value is not None and not is_typical(value):
            texts |= {prefix + k: v for k, v in text_of(spec.path, value, unit=spec.unit, measures=measures).items()}
    for n, _ in enumerate(base.table.get("hitch", ())):
        texts[f"{prefix}hitch.{n}:has"] = "on" if base.has_hitch(n) else ""
    return texts


def stand_ins(base: Base, specs: Mapping[str, SpecField]) -> dict[str, Mapping[str, Any]]:
    """Typical figures that stand in until somebody writes over them, by field."""
    known = dict(leaves(base.table))
    return {name: known[s.path] for name, s in specs.items() if is_typical(known.get(s.path))}


def is_typical(value: Any) -> bool:
    """Whether a stored value is only typical of its class."""
    return is_value(value) and value["basis"] == "typical"


def over_again(texts: Mapping[str, str], *, was: Base, now: Base, make: Any, prefix: str) -> dict[str, str]:
    """Texts of a thing's fields after it begins from another base: what was typed stays, the rest is the new base's.

    Parameters
    ----------
    texts : mapping
        As sent, by field.
    was, now : Base
        What the sent page was made for, and what is chosen.
    make : callable
        Fields of a base, by name in the form.
    prefix : str
        Of the thing's fields in the form.
    """
    measures = measures_sent(texts)
    before, after = (shown(base, make(base), prefix, measures=measures) for base in (was, now))
    if was.key == now.key:
        before = after
    same = {n for n, (a, b) in enumerate(zip(_kinds(was), _kinds(now), strict=False)) if a == b}
    out = dict(after)
    names = {*make(now), *(f"{name}:basis" for name in make(now)), *(n for n in after if n.endswith(":has"))}
    for name in names:
        sent, mine = texts.get(name, ""), texts.get(name, "") != before.get(name, "")
        member = re.search(r"\.(?:hitch|gear)\.(\d+)", name)
        if name.endswith(":basis") and texts.get(name[:-6], "") == before.get(name[:-6], "") and was.key != now.key:
            continue
        if mine and (was.key == now.key or not member or int(member[1]) in same):
            out[name] = sent
    return {name: text for name, text in out.items() if text}


def _kinds(base: Base) -> list[str]:
    return [h["kind"] for h in base.table.get("hitch", ())]


def written_over(base: Base, specs: Mapping[str, SpecField], texts: Mapping[str, str]) -> dict[str, Any]:
    """A thing's table: the base, with what the fields say written over it."""
    measures = measures_sent(texts)
    table = copy.deepcopy(dict(base.table))
    known = dict(leaves(base.table))
    for name, spec in specs.items():
        old = known.get(spec.path)
        if old is None or is_typical(old):
            old, was = None, {}
        else:
            was = text_of(spec.path, old, unit=spec.unit, measures=measures)
        text, basis = texts.get(name, ""), texts.get(f"{name}:basis", "")
        if not text:
            if was:
                take(table, spec.path)
            continue
        if text == was.get(spec.path):
            # Limits are shown without their basis, which stays what it is.
            basis = basis or was.get(f"{spec.path}:basis", "")
        value = taken(spec, text, basis, kept=old, measures=measures)
        if value is not old:
            put_at(table, spec.path, value)
    return table


def put_at(table: dict[str, Any], path: str, value: Any) -> None:
    """Set a value by its dotted path, members of lists by number."""
    member = re.match(r"(\w+)\.(\d+)\.(.+)", path)
    if member:
        put(table[member[1]][int(member[2])], member[3].split("."), value)
    else:
        put(table, path.split("."), value)


def take(table: dict[str, Any], path: str) -> None:
    """Take a value away by its dotted path, where it is there."""
    here: Any = table
    *parents, last = path.split(".")
    for step in parents:
        here = here[int(step)] if isinstance(here, list) else here.get(step, {})
    here.pop(last, None)


def unlike_ids(ids: list[str]) -> Iterator[str]:
    """Ids made unlike each other: the second of a name becomes ``name-2``."""
    taken: set[str] = set()
    for name in ids:
        unlike = next(n for n in (name, *(f"{name}-{i}" for i in range(2, 99))) if n not in taken)
        taken.add(unlike)
        yield unlike
