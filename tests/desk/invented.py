"""Parts of the invented yard in the tests' database: a few units that carry a haul, and the haul."""

from __future__ import annotations

from functools import cache
from typing import Any

from rubrail.demo import YARD
from rubrail.desk.hauls import stored
from rubrail.desk.models import Haul, Unit
from rubrail.desk.stock import add_units, change_unit, put_together
from rubrail.things.door import read_thing
from rubrail.things.folder import load_yard, resolve
from rubrail.things.trailer import Trailer
from rubrail.things.yard import Yard

TRACK_LOADER = "03-landscaper-track-loader"
"""SH-133, SH-137 and SH-152 carry it clear, SH-162 depends, everything else of the yard is over."""


@cache
def yard() -> Yard:
    """The invented yard as its files have it."""
    return load_yard(YARD)


def stand(*numbers: str) -> list[Unit]:
    """Units of the invented yard in the database, all of them where none is named."""
    trailers = yard().trailers
    return add_units([trailers[n] for n in numbers or trailers], by=None)


def haul_of(name: str = TRACK_LOADER) -> Haul:
    """A haul of the invented yard in the database."""
    it = yard().hauls[name]
    return Haul.objects.create(title=it.title or it.id, spec=stored(resolve(it, yard())))


def save(unit: Unit, **changes: Any) -> None:
    """Store a unit with some fields of its file changed, as a person does."""
    fresh = Unit.objects.get(pk=unit.pk)
    table = {**put_together(fresh, with_cost=True), **changes}
    table = {k: v for k, v in table.items() if v is not None}
    change_unit(fresh, read_thing(Trailer, table), by=None, seen_version=fresh.version)
