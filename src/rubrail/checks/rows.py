"""Every check, member by member, as rows: demand and limit over many rigs.

A check per axle gives one row an axle, so nothing is folded away before it is judged. These rows are what every
answer reads: one rig, a yard, an envelope, a placement.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np

from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import Check, of_case, raw_inputs
from rubrail.things.columns import Array, Columns

VERDICT_KINDS = ("rating", "law", "fit")
"""Kinds of check that decide whether a rig may go; guidance caps the verdict, duty and tax are told beside it."""
TOLD_KINDS = ("duty", "tax")
"""Kinds that are told beside the verdict and never enter it."""


@cache
def feels_cargo(check: Check) -> bool:
    """Whether a check is a rating, law or guidance in pounds that the cargo's weight enters."""
    weights = {"item_weight_lb", "secured_weight_lb"}
    return check.unit == "lb" and check.kind != "fit" and not weights.isdisjoint(raw_inputs(check.inputs))


@dataclass(frozen=True, slots=True)
class Row:
    """One check, and which member of it."""

    check: Check
    member: int | None


@dataclass(frozen=True)
class Rows:
    """What each row is, and its demand and limit.

    demands, limits
        One array a row, broadcasting over ``(unit, position, sample)``; kept as they come, so that a row no
        tolerance touches costs one sample.
    shape
        ``(unit, position)`` of them all.
    evaluation
        What they were read from.

    ``demand``, ``limit``, ``margin``, ``scale`` and ``relative`` are at the stated values (sample 0), of shape
    ``(row, unit, position)``.
    """

    rows: tuple[Row, ...]
    demands: tuple[Array, ...]
    limits: tuple[Array, ...]
    shape: tuple[int, int]
    evaluation: Evaluation

    def _stated(self, arrays: tuple[Array, ...]) -> Array:
        out = np.empty((len(arrays), *self.shape))
        for i, a in enumerate(arrays):
            out[i] = a[..., 0]
        return out

    @cached_property
    def demand(self) -> Array:
        """Demand of each row."""
        return self._stated(self.demands)

    @cached_property
    def limit(self) -> Array:
        """Limit of each row."""
        return self._stated(self.limits)

    @cached_property
    def margin(self) -> Array:
        """limit - demand; ``inf`` where the check does not apply, ``nan`` where it is not known."""
        with np.errstate(invalid="ignore"):
            return self.limit - self.demand

    def sampled_margin(self, row: int) -> Array:
        """Margin of one row over every sample, broadcasting over ``(unit, position, sample)``."""
        with np.errstate(invalid="ignore"):
            return self.limits[row] - self.demands[row]

    @cached_property
    def scale(self) -> Array:
        """What the relative margin divides by: the limit, or the demand where the check says so."""
        by_demand = np.array([r.check.scale == "demand" for r in self.rows])[:, None, None]
        return np.abs(np.where(by_demand, self.demand, self.limit))

    @cached_property
    def relative(self) -> Array:
        """Margin as a share of the scale. A yes-or-no check that holds, or one that does not apply, has ``inf``."""
        yes_no = np.array([r.check.unit == "" for r in self.rows])[:, None, None]
        with np.errstate(invalid="ignore", divide="ignore"):
            share = self.margin / self.scale
        sure = (self.limit == np.inf) & ~np.isnan(self.demand)
        share = np.where((self.scale == 0) & (self.margin >= 0), np.inf, share)
        share = np.where(yes_no & (self.margin >= 0), np.inf, share)
        return np.where(sure, np.inf, share)

    def of_kind(self, *kinds: str) -> np.ndarray:
        """Mask of the rows whose check is of one of these kinds."""
        return np.array([r.check.kind in kinds for r in self.rows], bool)


def rows_of(columns: Columns, checks: Iterable[Check] | None = None, *, like: Rows | None = None) -> Rows:
    """Evaluate checks over columns, member by member.

    Parameters
    ----------
    columns : Columns
        Raw inputs of shape ``(unit, position, sample)``, members in front.
    checks : iterable of Check, optional
        Which; every check of the road by default.
    like : Rows, optional
        Of columns that hold some of the same arrays: what rests on those alone is taken over, not computed again.
    """
    evaluation = Evaluation(columns, like=like and like.evaluation)
    rows: list[Row] = []
    demands: list[Array] = []
    limits: list[Array] = []
    for c in of_case("road") if checks is None else checks:
        demand, limit = evaluation.check(c.id)
        if c.per:
            rows += [Row(c, member) for member in range(demand.shape[0])]
            demands += [_three_axes(d) for d in demand]
            limits += [_three_axes(m) for m in limit]
        else:
            rows.append(Row(c, None))
            demands.append(_three_axes(demand))
            limits.append(_three_axes(limit))
    shape = np.broadcast_shapes((1, 1), *{d.shape[:2] for d in demands})
    return Rows(tuple(rows), tuple(demands), tuple(limits), shape, evaluation)


def _three_axes(values: Array) -> Array:
    return values if values.ndim == 3 else values.reshape((1,) * (3 - values.ndim) + values.shape)
