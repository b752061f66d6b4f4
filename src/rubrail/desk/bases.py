"""What a truck or a piece of a haul may begin from: a kept one, a class, or as the haul has it already."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from rubrail.desk.hauls import called, stored
from rubrail.desk.models import Machine, Truck
from rubrail.desk.quick_words import HITCH_WORDS
from rubrail.things.classes import cargo_classes, truck_classes
from rubrail.things.folder import federal_limits
from rubrail.things.part import Thing

OWN, NOTHING = "own", ""
"""As the haul has it; from nothing."""


@dataclass(frozen=True, slots=True)
class Base:
    """Where a thing begins: its key in the form, and its file's table as stored.

    offered : how many hitches at the end of a truck's list are only offered, one of each kind it has not
    """

    key: str
    table: Mapping[str, Any] = field(default_factory=dict)
    offered: int = 0

    @property
    def is_class(self) -> bool:
        """Whether it is a class."""
        return self.key.startswith("class:")

    @property
    def hitches(self) -> int:
        """How many hitches it has itself."""
        return len(self.table.get("hitch", ())) - self.offered

    def has_hitch(self, n: int) -> bool:
        """Whether one of its hitches is there until somebody says otherwise: of a class, those of the first kind."""
        hitches = self.table["hitch"]
        return n < self.hitches and (not self.is_class or hitches[n]["kind"] == hitches[0]["kind"])

    def as_found(self) -> dict[str, Any]:
        """Its table with only the hitches that are there."""
        table = dict(self.table)
        if "hitch" in table:
            table["hitch"] = [h for n, h in enumerate(table["hitch"]) if self.has_hitch(n)]
        return table

    def with_hitches_offered(self) -> Base:
        """The same truck with a hitch of each kind it has not, for somebody to tick."""
        own = list(self.table.get("hitch", ()))
        more = [{"kind": kind} for kind in HITCH_WORDS if kind not in {h["kind"] for h in own}]
        return Base(self.key, {**self.table, "hitch": [*own, *more]}, len(more))


@dataclass(frozen=True, slots=True)
class Shelf:
    """Kept things and classes of one kind."""

    model: type[Truck] | type[Machine]
    words: str

    @property
    def classes(self) -> Mapping[str, Thing]:
        """Classes by id."""
        return truck_classes() if self.model is Truck else cargo_classes()

    def choices(self, *, own: str = "") -> list[Any]:
        """Choices of a select: from nothing, as the haul has it, what is kept, the classes."""
        first = [(OWN, f"As this haul has it: {own}")] if own else []
        kept = [(f"kept:{pk}", name) for pk, name in self.model.objects.filter(closed=False).values_list("pk", "name")]
        classes = [(f"class:{name}", thing.title or name) for name, thing in self.classes.items()]
        groups = [(f"{self.words.capitalize()} kept", kept)] if kept else []
        return [*first, (NOTHING, "Choose one, or begin from nothing"), *groups, (f"Classes of {self.words}", classes)]

    def bases(self, keys: Iterable[str], own: Mapping[str, Mapping[str, Any]]) -> dict[str, Base]:
        """Base of each key; one that names nothing begins from nothing.

        Parameters
        ----------
        keys : iterable of str
        own : mapping
            Tables as the haul has them, by key.
        """
        keys = set(keys)
        numbers = {k: int(k[5:]) for k in keys if k.startswith("kept:") and k[5:].isdecimal()}
        rows = dict(self.model.objects.filter(pk__in=numbers.values()).values_list("pk", "spec")) if numbers else {}
        found = {k: Base(k, rows[pk]) for k, pk in numbers.items() if pk in rows}
        found |= {k: Base(k, table) for k, table in own.items() if k in keys}
        classes = self.classes
        for k in keys:
            if k.startswith("class:") and k[6:] in classes:
                found[k] = Base(k, stored(classes[k[6:]]))
        return {k: found.get(k, Base(NOTHING)) for k in keys}


TRUCKS = Shelf(Truck, "trucks")
PIECES = Shelf(Machine, "machines")


def limits_base(spec: Mapping[str, Any] | None) -> Base:
    """Limits of the road: the haul's own, or the federal ones that ship with the program."""
    if spec and isinstance(spec.get("limits"), Mapping):
        return Base(OWN, spec["limits"])
    return Base("federal", stored(federal_limits()))


def named(base: Base) -> str:
    """What a base is called."""
    return called(base.table)
