"""Evaluate quantities and checks over columns of rigs, each once, inputs bound by name."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.checks.registry import CHECKS, QUANTITIES, Check
from rubrail.things.columns import Array, Columns
from rubrail.things.names import COLUMNS


@dataclass(frozen=True, slots=True)
class Outcome:
    """One check over many rigs; arrays of shape ``(unit, position, sample)``.

    For a check per member the worst member stands for all; ``member`` says which.
    """

    check: Check
    demand: Array
    limit: Array
    member: NDArray[np.intp] | None

    @property
    def margin(self) -> Array:
        """limit - demand; ``inf`` where the check does not apply, ``nan`` where it is not known."""
        with np.errstate(invalid="ignore"):
            return self.limit - self.demand

    @property
    def relative(self) -> Array:
        """Margin as a share of the limit (or of the demand, where the check says so)."""
        return relative_margin(self.check, self.demand, self.limit)


def relative_margin(check: Check, demand: Array, limit: Array) -> Array:
    """Margin over the check's scale; 0 scale gives +-inf by the sign of the margin, ``inf`` where not applicable."""
    scale = np.abs(demand if check.scale == "demand" else limit)
    with np.errstate(invalid="ignore", divide="ignore"):
        margin = limit - demand
        share = np.where(margin == 0, 0.0, margin / scale)
    return np.where(np.isposinf(limit) & ~np.isnan(margin), np.inf, share)


class Evaluation:
    """Answers of all quantities and checks for one set of columns. Lazy; each is computed once."""

    def __init__(self, columns: Columns) -> None:
        self.columns = columns
        self._cache: dict[str, Array] = {}
        self._outcomes: dict[str, Outcome] = {}

    def value(self, name: str) -> Array:
        """A raw column or a quantity by name; a column nobody filled is ``nan``."""
        if name in self.columns:
            return self.columns[name]
        if name in COLUMNS:
            return np.full((1,) * (4 if COLUMNS[name].per else 3), np.nan)
        if name not in self._cache:
            q = QUANTITIES[name]
            with np.errstate(invalid="ignore", divide="ignore"):
                self._cache[name] = np.asarray(q.function(**{n: self.value(n) for n in q.inputs}), float)
        return self._cache[name]

    def members(self, check_id: str) -> tuple[Array, Array]:
        """Demand and limit of a check, with its member axis still in front."""
        c = CHECKS[check_id]
        with np.errstate(invalid="ignore", divide="ignore"):
            demand, limit = c.function(**{n: self.value(n) for n in c.inputs})
        demand, limit = np.broadcast_arrays(np.asarray(demand, float), np.asarray(limit, float))
        return demand, limit

    def outcome(self, check_id: str) -> Outcome:
        """One check, its worst member standing for all."""
        if check_id not in self._outcomes:
            self._outcomes[check_id] = self._worst_member(CHECKS[check_id], *self.members(check_id))
        return self._outcomes[check_id]

    def _worst_member(self, c: Check, demand: Array, limit: Array) -> Outcome:
        if not c.per:
            return Outcome(c, demand, limit, None)
        # A member that fails outranks one that is not known, which outranks one that holds.
        relative = relative_margin(c, demand, limit)
        rank = np.where(np.isnan(relative), 0.0, np.where(relative < 0, relative - 1.0, relative + 1.0))
        worst = np.argmin(rank, axis=0)
        pick = worst[None, ...]
        return Outcome(c, np.take_along_axis(demand, pick, 0)[0], np.take_along_axis(limit, pick, 0)[0], worst)
