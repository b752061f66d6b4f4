"""Columns of the haul itself: its use, its driver, and the limits of the road."""

from __future__ import annotations

import math

from rubrail.things.columns import Columns
from rubrail.things.fill import Cell, code, fill
from rubrail.things.haul import Haul
from rubrail.things.limits import Limits
from rubrail.things.names import HAUL


def limit_cell(limits: Limits, name: str) -> Cell:
    """A limit; infinity where the file says that the state sets none."""
    return math.inf if name in limits.no_limit else getattr(limits, name)


def limit_name(column: str) -> str:
    """Field of the limits file that a ``limit_`` column is read from."""
    return column.removeprefix("limit_").replace("_exempt_lb", "_exempt_gross_lb")


def own_cells(haul: Haul) -> dict[str, Cell]:
    """Cells of what the haul itself says."""
    return {
        "use": code("use", haul.use),
        "interstate": haul.interstate,
        "license_held": code("license_held", haul.license_held),
    }


def haul_columns(haul: Haul) -> Columns:
    """Columns of one haul, all of one unit.

    Raises
    ------
    TypeError
        If the haul still names its limits by id.
    """
    if not isinstance(haul.limits, Limits):
        raise TypeError(f"haul {haul.id} names its limits by id; resolve it first")
    cells = {name: [cell] for name, cell in own_cells(haul).items()}
    cells |= {n: [limit_cell(haul.limits, limit_name(n))] for n in HAUL if n.startswith("limit_")}
    return fill(cells)
