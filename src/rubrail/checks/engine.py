"""Evaluate quantities and checks over columns of rigs, each once, inputs bound by name."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import CHECKS, QUANTITIES, raw_inputs
from rubrail.things.columns import Array, Columns
from rubrail.things.names import COLUMNS


class Evaluation:
    """Answers of all quantities and checks for one set of columns. Lazy; each is computed once.

    Parameters
    ----------
    columns : Columns
        Never written to once they are evaluated.
    like : Evaluation, optional
        Of columns that hold some of the same arrays. What it has computed from those alone is taken over.
    """

    def __init__(self, columns: Columns, *, like: Evaluation | None = None) -> None:
        self.columns = columns
        self._values: dict[str, Array] = {}
        self._checks: dict[str, tuple[Array, Array]] = {}
        if like is not None:
            self._take_over(like)

    def _take_over(self, like: Evaluation) -> None:
        mine, theirs = self.columns.values, like.columns.values
        changed = {n for n, a in mine.items() if theirs.get(n) is not a} | (theirs.keys() - mine.keys())
        if not changed <= COLUMNS.keys():
            # A quantity given as a column: what rests on it is not told by raw inputs.
            return
        self._values = {n: v for n, v in like._values.items() if changed.isdisjoint(raw_inputs((n,)))}
        self._checks = {i: v for i, v in like._checks.items() if changed.isdisjoint(raw_inputs(CHECKS[i].inputs))}

    def value(self, name: str) -> Array:
        """A raw column or a quantity by name; a column nobody filled is ``nan``.

        Raises
        ------
        KeyError
            If the name is neither.
        """
        with np.errstate(invalid="ignore", divide="ignore"):
            return self._value(name)

    def _value(self, name: str) -> Array:
        known = self.columns.get(name)
        if known is None:
            known = self._values.get(name)
        if known is not None:
            return known
        if name in COLUMNS:
            made = np.full((1,) * (4 if COLUMNS[name].per else 3), np.nan)
        else:
            q = QUANTITIES[name]
            made = np.asarray(q.function(**{n: self._value(n) for n in q.inputs}), float)
        self._values[name] = made
        return made

    def check(self, check_id: str) -> tuple[Array, Array]:
        """Demand and limit of a check, of one shape, its member axis (where it has one) in front."""
        if check_id not in self._checks:
            c = CHECKS[check_id]
            with np.errstate(invalid="ignore", divide="ignore"):
                demand, limit = c.function(**{n: self._value(n) for n in c.inputs})
            demand, limit = np.asarray(demand, float), np.asarray(limit, float)
            if demand.shape != limit.shape:
                shape = np.broadcast(demand, limit).shape
                demand, limit = (a if a.shape == shape else np.broadcast_to(a, shape) for a in (demand, limit))
            self._checks[check_id] = demand, limit
        return self._checks[check_id]
