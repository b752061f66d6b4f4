"""What is known of a thing, as a page lists it: sections, labels, values with basis and tolerance."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import Any

from rubrail.desk.spec_fields import SpecField, sections_of
from rubrail.desk.stock import APART, is_value, leaves, say_leaf
from rubrail.things.cargo import Cargo
from rubrail.things.part import Thing
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck

IMPORTANT = (
    "ratings.gvwr_lb",
    "weights.empty_lb",
    "weights.empty_coupler_lb",
    "deck.height_in",
    "deck.width_in",
    "deck.flat_length_in",
    "deck.front_from_coupler_in",
    "coupling.gross_rating_lb",
    "coupling.vertical_rating_lb",
    "axle.#.gawr_lb",
    "axle.#.from_coupler_in",
)
"""Fields a verdict on almost any haul asks for: shown as *not known* where nobody has given them."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One line: ``number`` with ``unit``, ``basis`` and ``spread``, ``several`` such, or plain ``words``; none of them
    is not known.

    wanted : some limit cannot be judged as long as it is not known; remark : said beside the value.
    """

    label: str
    says: str
    words: str = ""
    number: float | None = None
    unit: str = ""
    basis: str = ""
    spread: float = 0.0
    several: tuple[Fact, ...] = ()
    wanted: bool = False
    remark: str = ""

    @property
    def known(self) -> bool:
        """Whether anybody has given it."""
        return bool(self.words or self.several) or self.number is not None


@dataclass(frozen=True, slots=True)
class FactGroup:
    """Lines under a heading."""

    title: str
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class FactTable:
    """Several of a kind: a heading, the labels of the columns, one row of facts a member."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Fact, ...], ...]


TABLED = ("ramp", "anchor", "equipment")
"""Lists shown as a table of their own: many members, few fields."""


@dataclass(frozen=True, slots=True)
class Told:
    """How a kind of thing is told: what is left out, what is shown though unknown, which lists are tables."""

    model: type[Thing]
    own: frozenset[str]
    important: tuple[str, ...]
    tabled: tuple[str, ...] = ()


UNIT = Told(Trailer, APART, IMPORTANT, TABLED)
TRUCK = Told(
    Truck,
    frozenset({"schema", "id"}),
    (
        *("ratings.gvwr_lb", "ratings.gcwr_lb", "ratings.front_gawr_lb", "ratings.rear_gawr_lb"),
        *("weights.front_axle_lb", "weights.rear_axle_lb", "size.wheelbase_in", "brake_controller", "plug"),
        *(
            "hitch.#.gross_rating_lb",
            "hitch.#.vertical_rating_lb",
            "hitch.#.height_in",
            "hitch.#.ahead_of_rear_axle_in",
        ),
    ),
    ("gear",),
)
PIECE = Told(
    Cargo,
    frozenset({"schema", "id"}),
    ("cg_from_front_in", "contact.kind", "height_in"),
    ("tie",),
)


def tables_of(spec: Mapping[str, Any], *, of: Told | None = None) -> list[FactTable]:
    """The lists of a thing that are shown as tables; columns that no member fills are left out."""
    of = of or UNIT
    known = dict(leaves(spec))
    tables = []
    for section in sections_of(of.model, own=of.own):
        members = len(spec.get(section.name, ())) if section.name in of.tabled else 0
        rows = [[fact_of(f, known.get(f.path)) for f in section.member(n)] for n in range(members)]
        filled = [n for n in range(len(section.fields)) if any(row[n].known for row in rows)]
        if rows and filled:
            heads = tuple(rows[0][n].label for n in filled)
            tables.append(FactTable(section.title, heads, tuple(tuple(row[n] for n in filled) for row in rows)))
    return tables


def facts_of(
    spec: Mapping[str, Any], *, of: Told | None = None, wanted: Collection[str] | None = None
) -> list[FactGroup]:
    """What is known of a thing, and which important fields are not, by section; empty sections are left out.

    Parameters
    ----------
    spec : mapping
        As stored.
    of : Told, optional
        A unit by default.
    wanted : collection of str, optional
        Paths of the important fields, where the engine was asked which they are.
    """
    of = of or UNIT
    known = dict(leaves(spec))
    groups = []
    for section in sections_of(of.model, own=of.own):
        if section.name in of.tabled:
            continue
        members = len(spec.get(section.name, ())) if section.many else 1
        for number in range(members):
            fields = section.member(number) if section.many else section.fields
            patterns = section.fields
            facts = [
                replace(fact_of(field, known.get(field.path)), wanted=field.path in (wanted or ()))
                for field, pattern in zip(fields, patterns, strict=True)
                if field.path in known or (pattern.path in of.important if wanted is None else field.path in wanted)
            ]
            title = f"{section.one} {number + 1}" if section.many and members > 1 else section.title
            if facts:
                groups.append(FactGroup(title, tuple(facts)))
    return groups


def fact_of(field: SpecField, value: Any) -> Fact:
    """One line of a field's value, ``None`` for not known."""
    label = field.short[:1].upper() + field.short[1:]
    if isinstance(value, Mapping):
        return Fact(
            label,
            field.says,
            number=value["value"],
            unit=field.unit,
            basis=value["basis"],
            spread=value.get("plus_minus") or 0.0,
        )
    if isinstance(value, bool):
        return Fact(label, field.says, words="yes" if value else "no")
    if isinstance(value, list) and value and all(map(is_value, value)):
        return Fact(label, field.says, several=tuple(fact_of(field, one) for one in value))
    if isinstance(value, list):
        return Fact(label, field.says, words=say_leaf(field, value))
    return Fact(label, field.says, words="" if value is None else str(value))
