"""Every field of a file model as a person meets it: a label, a section, how it is written. Forms and trail use it.

Nothing is declared twice: names, ranges and meanings come from the models of ``rubrail.things``; only the words that
a field's own name does not give are written here.
"""

from __future__ import annotations

import re
import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic.fields import FieldInfo

from rubrail.things.fields import names_of, parts_in
from rubrail.things.measure import Measure
from rubrail.things.part import Part, Thing

SUFFIX = re.compile(r"_(lb_per_in|lb_per_ft|ft_lb|months|in3|lb|in|psi|deg|rad|usd)\Z")
ACRONYMS = {"gvwr": "GVWR", "gawr": "GAWR", "gcwr": "GCWR", "wll": "WLL", "vin": "VIN"}
SHORT = {
    "coupling.gross_rating_lb": "rated gross",
    "coupling.vertical_rating_lb": "rated coupler load",
    "coupling.height_in": "coupler height",
    "coupling.height_min_in": "lowest setting",
    "coupling.height_max_in": "highest setting",
    "coupling.neck_underside_height_in": "underside of neck",
    "ratings.gvwr_lb": "label GVWR",
    "ratings.advertised_lb": "advertised",
    "weights.empty_lb": "empty weight",
    "weights.empty_coupler_lb": "empty coupler load",
    "anchor.y_in": "right of center",
    "deck.height_in": "deck height",
    "deck.width_in": "deck width",
    "deck.flat_length_in": "level deck",
    "size.width_in": "overall width",
    "size.rear_from_coupler_in": "coupler to rear",
    "size.front_from_coupler_in": "coupler to front",
    "breakaway": "breakaway brake",
    "lamps_complete": "lamps complete",
    "tax.bed_center_from_coupler_in": "coupler to bed center",
    "warranty.trailer_months": "whole trailer",
    "registered_lb": "registered weight with trailer",
    "ratings.label_gcwr_lb": "GCWR on the label",
    "weights.front_axle_lb": "front axle, empty",
    "weights.rear_axle_lb": "rear axle, empty",
    "size.height_in": "height of cab",
    "size.bed_end_behind_rear_axle_in": "rear axle to end of bed",
    "size.hitch_to_cab_in": "hitch in the bed to cab",
    "tires.front_each_lb": "each front tire carries",
    "tires.rear_each_lb": "each rear tire carries",
    "tires.rear_count": "tires at the rear",
    "tow_ratings.ball_lb": "on the ball",
    "tow_ratings.distributing_lb": "on the ball, distributing",
    "tow_ratings.gooseneck_lb": "on the gooseneck ball",
    "tow_ratings.kingpin_lb": "on the fifth-wheel plate",
    "tow_ratings.pintle_lb": "on the pintle hook",
    "hitch.ball_size_in": "ball",
    "hitch.gross_rating_lb": "rated gross",
    "hitch.vertical_rating_lb": "rated load on it",
    "hitch.distributing_gross_rating_lb": "rated gross, distributing",
    "hitch.distributing_vertical_rating_lb": "rated load on it, distributing",
    "gear.says": "who or what",
    "cg_from_front_in": "front to center of gravity",
    "cg_height_in": "height of center of gravity",
    "climbs_deg": "steepest slope, degrees",
    "climbs_percent": "steepest slope, percent",
    "either_way": "may face either way",
    "accessory_count": "accessories to secure",
    "articulated": "bends in the middle",
    "contact.kind": "stands on",
    "contact.axles_from_front_in": "front to each axle or drum",
    "contact.wheel_radius_in": "radius of each axle's wheels, or drum",
    "contact.drive": "axles that drive",
    "contact.start_from_front_in": "front to where it begins to bear",
    "contact.length_in": "length that bears",
    "contact.outer_width_in": "width over wheels or tracks",
    "contact.each_width_in": "width of one",
    "clearance.belly_in": "under the belly",
    "tie.says": "where",
    "tie.y_in": "right of center",
    "pieces.on_top": "on the top layer",
}
"""Short labels where the field's own name would not do, by path without list numbers."""
FULL = {
    "coupling.kind": "coupling",
    "deck.kind": "deck",
    "deck.front_from_coupler_in": "coupler to deck front",
    "suspension.kind": "suspension",
    "tires": "tires",
    "ratings.gvwr_lb": "label GVWR",
    "warranty.trailer_months": "warranty whole trailer",
    "warranty.tires_months": "warranty tires",
    "ratings.gcwr_lb": "GCWR",
    "ratings.front_gawr_lb": "front GAWR",
    "ratings.rear_gawr_lb": "rear GAWR",
    "size.wheelbase_in": "wheelbase",
    "size.front_overhang_in": "front overhang",
    "size.bed_rail_height_in": "bed rail height",
    "tow_ratings.ball_lb": "tow rating on the ball",
    "tow_ratings.distributing_lb": "tow rating on the ball, distributing",
    "tow_ratings.gooseneck_lb": "tow rating on the gooseneck ball",
    "tow_ratings.kingpin_lb": "tow rating on the fifth-wheel plate",
    "tow_ratings.pintle_lb": "tow rating on the pintle hook",
    "contact.kind": "what it stands on",
    "clearance.approach_deg": "approach angle",
    "clearance.departure_deg": "departure angle",
    "pieces.count": "count of pieces",
    "pieces.abreast": "pieces abreast",
    "pieces.layers": "layers",
    "pieces.on_top": "pieces on the top layer",
    "pieces.weight_lb": "weight of one piece",
    "pieces.length_in": "length of one piece",
    "pieces.width_in": "width of one piece",
    "pieces.height_in": "height of one piece",
}
PART_WORDS = {"tires": "tire", "main_beam": "main beam", "crossmember": "crossmember", "chains": "chain"}
ONE = {
    "Axles": "Axle",
    "Ramps": "Ramp",
    "Places to tie to": "Place to tie to",
    "Hitches": "Hitch",
    "People and gear aboard": "Person or gear",
    "Its tie points": "Tie point",
}
NONE_COUNTS = frozenset({"hitch", "gear", "tie"})
"""Lists whose emptiness says *none*, not that nobody said."""
APART = {"Plug, brakes and lamps": ("breakaway", "plug", "lamps_complete")}
"""Loose fields of a file that get a section of their own."""


@dataclass(frozen=True, slots=True)
class SpecField:
    """One field of a thing's file.

    Parameters
    ----------
    path : str
        Dotted, members of lists by number from 0; ``#`` stands for the number in a pattern.
    short, label : str
        Under its section's heading, and in a sentence of its own.
    says : str
        What it is.
    kind : str
        ``measure``, ``places`` (several measures), ``choice``, ``flag``, ``count``, ``text`` or ``lines`` (several).
    unit : str
        Unit of a plain number.
    choices : tuple
        Words or numbers it takes.
    accepted : str
        Range in words.
    first_basis : str
        Basis a form proposes for a value nobody has given one.
    """

    path: str
    short: str
    label: str
    says: str
    kind: str
    unit: str = ""
    choices: tuple[str | int, ...] = ()
    accepted: str = ""
    required: bool = False
    first_basis: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Fields under one heading; a list's section is a pattern for each of its members.

    ``says_none`` marks a list that may be empty and then says that there is none.
    """

    name: str
    title: str
    fields: tuple[SpecField, ...]
    many: bool = False
    most: int = 1
    least: int = 0
    says_none: bool = False

    @property
    def one(self) -> str:
        """What one member of a list is called."""
        return ONE.get(self.title, self.title)

    def member(self, index: int) -> tuple[SpecField, ...]:
        """The fields of one member of a list."""
        return tuple(_numbered(f, index) for f in self.fields)


def sections_of(model: type[Thing], *, own: frozenset[str]) -> tuple[Section, ...]:
    """A model's fields in sections, in the order of the file.

    Parameters
    ----------
    model : type
        ``Trailer``, ``Truck`` or ``Cargo``.
    own : frozenset of str
        Top-level names left out, because the desk keeps them in columns.
    """
    return _sections(model, own)


@lru_cache(maxsize=16)
def _sections(model: type[Thing], own: frozenset[str]) -> tuple[Section, ...]:
    loose: list[SpecField] = []
    sections: list[Section] = []
    for name, info in names_of(model).items():
        if name in own or name in ("schema", "basis"):
            continue
        inner = next(parts_in(info.annotation), None)
        if inner is None:
            loose.append(_field(name, info))
            continue
        part, many = inner
        prefix = f"{name}.#." if many else f"{name}."
        sections.append(
            Section(name, _title(name), tuple(_walk(part, prefix)), many, *_bounds(info, many), name in NONE_COUNTS)
        )
    moved = {name for names in APART.values() for name in names}
    first = Section("", "What it is", tuple(f for f in loose if f.path not in moved))
    apart = [Section(t.lower(), t, tuple(f for f in loose if f.path in names)) for t, names in APART.items()]
    return (first, *sections, *(s for s in apart if s.fields))


def field_at(model: type[Thing], path: str) -> SpecField | None:
    """The field of a concrete path (``axle.0.gawr_lb``), or nothing where the model has none."""
    pattern = re.sub(r"\.\d+\.", ".#.", path)
    found = _by_pattern(model).get(pattern)
    numbers = re.findall(r"\.(\d+)\.", path)
    return _numbered(found, int(numbers[0])) if found and numbers else found


@lru_cache(maxsize=16)
def _by_pattern(model: type[Thing]) -> dict[str, SpecField]:
    return {f.path: f for s in _sections(model, frozenset()) for f in s.fields}


def _walk(part: type[Part], prefix: str) -> Iterator[SpecField]:
    for name, info in names_of(part).items():
        if name == "basis":
            continue
        inner = next(parts_in(info.annotation), None)
        if inner and not inner[1]:
            yield from _walk(inner[0], f"{prefix}{name}.")
        elif not inner:
            yield _field(prefix + name, info)


def _field(path: str, info: FieldInfo) -> SpecField:
    measure = next((m for m in _metadata(info) if isinstance(m, Measure)), None)
    plain = path.replace(".#", "")
    short = SHORT.get(plain) or _short(plain)
    label = FULL.get(plain) or SHORT.get(plain) or _full(path, short)
    base = SpecField(path, short, label, measure.says if measure else info.description or "", "text")
    base = replace(base, required=info.is_required())
    several = _holds_several(info)
    if measure:
        first = {"rating": "label", "nominal": "maker"}.get(measure.kind, "estimated")
        return replace(
            base,
            kind="places" if several else "measure",
            unit=measure.unit,
            accepted=measure.accepted,
            first_basis=first,
        )
    words = tuple(_literals(info.annotation))
    if words:
        return replace(base, kind="choice", choices=words)
    if several:
        return replace(base, kind="lines")
    types_held = set(_plain_types(info.annotation))
    if bool in types_held:
        return replace(base, kind="flag")
    if int in types_held:
        return replace(base, kind="count")
    return base


def _short(path: str) -> str:
    parts = path.split(".")
    words = SUFFIX.sub("", parts[-1]).split("_")
    text = " ".join(ACRONYMS.get(w, w) for w in words)
    return f"{PART_WORDS[parts[-2]]} {text}" if len(parts) > 2 and parts[-2] in PART_WORDS else text


def _full(path: str, short: str) -> str:
    parts = path.split(".")
    if len(parts) == 1:
        return short
    head = PART_WORDS.get(parts[0], parts[0])
    if "#" in parts:
        return f"{head} # {short}"
    return short if short.startswith((head, *PART_WORDS.values())) else f"{head} {short}"


def _numbered(field: SpecField, index: int) -> SpecField:
    return replace(
        field, path=field.path.replace("#", str(index), 1), label=field.label.replace("#", str(index + 1), 1)
    )


def _title(name: str) -> str:
    words = {
        "axle": "Axles",
        "ramp": "Ramps",
        "anchor": "Places to tie to",
        "ratings": "The label",
        "weights": "Empty weight",
        "chains": "Safety chains",
        "size": "Outside",
        "tax": "Excise-tax places",
        "equipment": "Equipment",
        "tires": "Tires",
        "tow_ratings": "The maker's trailer ratings",
        "hitch": "Hitches",
        "gear": "People and gear aboard",
        "contact": "Where it stands",
        "clearance": "Free underneath",
        "tie": "Its tie points",
        "pieces": "Pieces of a block",
    }
    return words.get(name, name.capitalize())


def _bounds(info: FieldInfo, many: bool) -> tuple[int, int]:
    """Most and fewest members of a list."""
    items = _metadata(info)
    most = min((m for item in items if (m := getattr(item, "max_length", None))), default=100)
    least = max((m for item in items if (m := getattr(item, "min_length", None))), default=0)
    return (most, least) if many else (1, 0)


def _metadata(info: FieldInfo) -> list[Any]:
    found = list(info.metadata)
    annotation = info.annotation
    while get_origin(annotation) in (Annotated, tuple):
        found += get_args(annotation)[1:]
        annotation = get_args(annotation)[0]
    return found


def _holds_several(info: FieldInfo) -> bool:
    annotation = info.annotation
    while get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    return get_origin(annotation) is tuple


def _literals(annotation: Any) -> Iterator[str | int]:
    origin = get_origin(annotation)
    if origin is Literal:
        yield from get_args(annotation)
    elif origin is Annotated:
        yield from _literals(get_args(annotation)[0])
    elif origin in (typing.Union, types.UnionType):
        for member in get_args(annotation):
            yield from _literals(member)


def _plain_types(annotation: Any) -> Iterator[type]:
    if isinstance(annotation, type):
        yield annotation
    elif get_origin(annotation) is Annotated:
        yield from _plain_types(get_args(annotation)[0])
    elif get_origin(annotation) in (typing.Union, types.UnionType):
        for member in get_args(annotation):
            yield from _plain_types(member)
