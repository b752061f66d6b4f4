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


def facts_of(spec: Mapping[str, Any]) -> list[FactGroup]:
    """What is known of a unit, and which important fields are not, by section; empty sections are left out."""
    known = dict(leaves(spec))
    groups = []
    for section in sections_of(Trailer, own=APART):
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
