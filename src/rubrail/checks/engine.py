"""Evaluate quantities and checks over columns of rigs, each once, inputs bound by name."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import CHECKS, QUANTITIES
from rubrail.things.columns import Array, Columns
from rubrail.things.names import COLUMNS


class Evaluation:
    """Answers of all quantities and checks for one set of columns. Lazy; each is computed once."""

    def __init__(self, columns: Columns) -> None:
        self.columns = columns
        self._cache: dict[str, Array] = {}

    def value(self, name: str) -> Array:
        """A raw column or a quantity by name; a column nobody filled is ``nan``.

        Raises
        ------
        KeyError
            If the name is neither.
        """
        if name in self.columns:
            return self.columns[name]
        if name in COLUMNS:
            return np.full((1,) * (4 if COLUMNS[name].per else 3), np.nan)
        if name not in self._cache:
            q = QUANTITIES[name]
            with np.errstate(invalid="ignore", divide="ignore"):
                self._cache[name] = np.asarray(q.function(**{n: self.value(n) for n in q.inputs}), float)
        return self._cache[name]

    def check(self, check_id: str) -> tuple[Array, Array]:
        """Demand and limit of a check, of one shape, its member axis (where it has one) in front."""
        c = CHECKS[check_id]
        with np.errstate(invalid="ignore", divide="ignore"):
            demand, limit = c.function(**{n: self.value(n) for n in c.inputs})
        demand, limit = np.broadcast_arrays(np.asarray(demand, float), np.asarray(limit, float))
        return demand, limit
