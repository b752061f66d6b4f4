"""Classes of trucks and machines to start from, as data that ships with the program.

Every figure is ``typical`` and carries its tolerance; every record says in its notes where its figures come from.
Generic names only: a class is no maker's model.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import as_file, files
from types import MappingProxyType

from rubrail.things.cargo import Cargo
from rubrail.things.door import read_file
from rubrail.things.part import Thing
from rubrail.things.truck import Truck


@cache
def _classes(name: str, kind: str) -> MappingProxyType[str, Thing]:
    with as_file(files(__name__) / name) as path:
        return MappingProxyType({thing.id: thing for _, thing in read_file(path, kind, name)})


def truck_classes() -> MappingProxyType[str, Truck]:
    """Classes of trucks by id, lightest first.

    Each lists every hitch its kind of truck is commonly fitted with, the one it mostly has first; which of them are
    on the truck at hand somebody has to say.
    """
    return _classes("trucks.toml", "truck")  # type: ignore[return-value]


def cargo_classes() -> MappingProxyType[str, Cargo]:
    """Classes of machines and other cargo by id."""
    return _classes("cargo.toml", "cargo")  # type: ignore[return-value]
