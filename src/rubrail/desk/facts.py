"""What is known of a thing, as a page lists it: sections, labels, values with basis and tolerance."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rubrail.desk.spec_fields import SpecField, sections_of
from rubrail.desk.stock import APART, leaves
from rubrail.things.trailer import Trailer

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
    """One line: ``number`` with ``unit``, ``basis`` and ``spread``, or plain ``words``; none of them is not known."""

    label: str
    says: str
    words: str = ""
    number: float | None = None
    unit: str = ""
    basis: str = ""
    spread: float = 0.0

    @property
    def known(self) -> bool:
        """Whether anybody has given it."""
        return bool(self.words) or self.number is not None


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


def tables_of(spec: Mapping[str, Any]) -> list[FactTable]:
    """The lists of a unit that are shown as tables; columns that no member fills are left out."""
    known = dict(leaves(spec))
    tables = []
    for section in sections_of(Trailer, own=APART):
        members = len(spec.get(section.name, ())) if section.name in TABLED else 0
        rows = [[_fact(f, known.get(f.path)) for f in section.member(n)] for n in range(members)]
        filled = [n for n in range(len(section.fields)) if any(row[n].known for row in rows)]
        if rows and filled:
            heads = tuple(rows[0][n].label for n in filled)
            tables.append(FactTable(section.title, heads, tuple(tuple(row[n] for n in filled) for row in rows)))
    return tables


def facts_of(spec: Mapping[str, Any]) -> list[FactGroup]:
    """What is known of a unit, and which important fields are not, by section; empty sections are left out."""
    known = dict(leaves(spec))
    groups = []
    for section in sections_of(Trailer, own=APART):
        if section.name in TABLED:
            continue
        members = len(spec.get(section.name, ())) if section.many else 1
        for number in range(members):
            fields = section.member(number) if section.many else section.fields
            patterns = section.fields
            facts = [
                _fact(field, known.get(field.path))
                for field, pattern in zip(fields, patterns, strict=True)
                if field.path in known or pattern.path in IMPORTANT
            ]
            title = f"{section.one} {number + 1}" if section.many and members > 1 else section.title
            if facts:
                groups.append(FactGroup(title, tuple(facts)))
    return groups


def _fact(field: SpecField, value: Any) -> Fact:
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
    return Fact(label, field.says, words="" if value is None else str(value))
