"""Every check, member by member, as one stack of rows: demand and limit over many rigs.

A check per axle gives one row an axle, so nothing is folded away before it is judged. This stack is what every
answer reads: one rig, a yard, an envelope, a placement.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np

from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import CHECKS, Check, raw_inputs
from rubrail.things.columns import Array, Columns

VERDICT_KINDS = ("rating", "law", "fit")
"""Kinds of check that decide whether a rig may go; guidance caps the verdict, duty and tax are told beside it."""
TOLD_KINDS = ("duty", "tax")
"""Kinds that are told beside the verdict and never enter it."""


@cache
def feels_cargo(check: Check) -> bool:
    """Whether a check is a rating, law or guidance in pounds that the cargo's weight enters."""
    return check.unit == "lb" and check.kind != "fit" and "item_weight_lb" in raw_inputs(check.inputs)


@dataclass(frozen=True, slots=True)
class Row:
    """One check, and which member of it."""

    check: Check
    member: int | None


@dataclass(frozen=True)
class Rows:
    """Demand and limit of shape ``(row, unit, position, sample)``, with what each row is."""

    rows: tuple[Row, ...]
    demand: Array
    limit: Array

    @cached_property
    def margin(self) -> Array:
        """limit - demand; ``inf`` where the check does not apply, ``nan`` where it is not known."""
        with np.errstate(invalid="ignore"):
            return self.limit - self.demand

    @cached_property
    def scale(self) -> Array:
        """What the relative margin divides by: the limit, or the demand where the check says so."""
        by_demand = np.array([r.check.scale == "demand" for r in self.rows])[:, None, None, None]
        return np.abs(np.where(by_demand, self.demand, self.limit))

    @cached_property
    def relative(self) -> Array:
        """Margin as a share of the scale. A yes-or-no check that holds, or one that does not apply, has ``inf``."""
        yes_no = np.array([r.check.unit == "" for r in self.rows])[:, None, None, None]
        with np.errstate(invalid="ignore", divide="ignore"):
            share = self.margin / self.scale
        sure = np.isposinf(self.limit) & ~np.isnan(self.demand)
        share = np.where((self.scale == 0) & (self.margin >= 0), np.inf, share)
        share = np.where(yes_no & (self.margin >= 0), np.inf, share)
        return np.where(sure, np.inf, share)

    def of_kind(self, *kinds: str) -> np.ndarray:
        """Mask of the rows whose check is of one of these kinds."""
        return np.array([r.check.kind in kinds for r in self.rows], bool)


def rows_of(columns: Columns, checks: Iterable[Check] | None = None) -> Rows:
    """Evaluate checks over columns and stack them.

    Parameters
    ----------
    columns : Columns
        Raw inputs of shape ``(unit, position, sample)``, members in front.
    checks : iterable of Check, optional
        Which; every registered check by default.
    """
    evaluation = Evaluation(columns)
    rows: list[Row] = []
    demands: list[Array] = []
    limits: list[Array] = []
    for c in CHECKS.values() if checks is None else checks:
        demand, limit = evaluation.check(c.id)
        if c.per:
            for member in range(demand.shape[0]):
                rows.append(Row(c, member))
                demands.append(demand[member])
                limits.append(limit[member])
        else:
            rows.append(Row(c, None))
            demands.append(demand)
            limits.append(limit)
    shape = np.broadcast_shapes((1, 1, 1), *(d.shape for d in demands))
    demand = np.empty((len(rows), *shape))
    limit = np.empty((len(rows), *shape))
    for i, (d, m) in enumerate(zip(demands, limits, strict=True)):
        demand[i], limit[i] = d, m
    return Rows(tuple(rows), demand, limit)
