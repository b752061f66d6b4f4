"""The invented yard, loaded once, for tests of answers on real files."""

from __future__ import annotations

from functools import cache

from rubrail import load_yard, resolve
from rubrail.demo import YARD
from rubrail.things.haul import Haul
from rubrail.things.yard import Yard


@cache
def yard() -> Yard:
    """The invented yard."""
    return load_yard(YARD)


@cache
def haul(name: str) -> Haul:
    """One of its hauls, everything it names put in."""
    return resolve(yard().hauls[name], yard())


HAULS = tuple(sorted(yard().hauls))
