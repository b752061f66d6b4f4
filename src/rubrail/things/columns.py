"""Columns of many rigs: one array a name, broadcasting over ``(unit, position, sample)``.

A column that comes once a member (axle, piece of cargo, gear) has that axis in front:
``(axle, unit, position, sample)``. Missing axes have length 1, so nothing is repeated in memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Columns:
    """Raw inputs of many rigs.

    values
        Name to array; every array has 3 axes, or 4 where the name comes per member.
    plus_minus
        Name to array of the same rank: the tolerance each value carries, 0 or absent for none.
    basis
        Name to an array of basis words (same rank, dtype object), for printing.
    """

    values: Mapping[str, Array]
    plus_minus: Mapping[str, Array] = field(default_factory=dict)
    basis: Mapping[str, NDArray[np.object_]] = field(default_factory=dict)

    def __getitem__(self, name: str) -> Array:
        return self.values[name]

    def __contains__(self, name: object) -> bool:
        return name in self.values

    def get(self, name: str) -> Array | None:
        """The column, or None where nobody filled it."""
        return self.values.get(name)

    @property
    def units(self) -> int:
        """How many units the rows describe."""
        return max((a.shape[-3] for a in self.values.values()), default=1)

    def with_values(self, changes: Mapping[str, Array]) -> Columns:
        """A copy with some columns replaced or added; tolerances and bases stay."""
        return replace(self, values={**self.values, **changes})

    def take(self, index: NDArray[np.intp] | slice) -> Columns:
        """Only the units of ``index``."""
        return Columns(*(_take(part, index) for part in (self.values, self.plus_minus, self.basis)))


def _take(part: Mapping[str, Array], index: NDArray[np.intp] | slice) -> dict[str, Array]:
    return {n: (a if a.shape[-3] == 1 else a[..., index, :, :]) for n, a in part.items()}
