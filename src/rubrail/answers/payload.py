"""How much cargo a unit carries: by its axles, alone, and behind a truck. For one unit or a whole yard."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.envelope import (
    REFERENCE_LB,
    Fan,
    alone,
    fan_of,
    greatest_anywhere,
    greatest_at,
    of_trailer_alone,
    point_cargo,
)
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import of_case
from rubrail.checks.rows import VERDICT_KINDS, Row, Rows, rows_of
from rubrail.things.columns import Array, Columns

AXLE_CHECKS = ("axle", "axle-group", "axle-tires", "axle-wheels")
"""Checks that the running gear alone answers for."""


def deck_span(columns: Columns) -> tuple[Array, Array, Array]:
    """Front, middle and rear of the level deck behind the coupling point, shape ``(unit,)``. [in]"""
    evaluation = Evaluation(alone(columns))
    front, rear = (evaluation.value(n)[:, 0, 0] for n in ("deck_front_x_in", "deck_flat_rear_x_in"))
    front, rear = np.broadcast_arrays(front, rear)
    return front, (front + rear) / 2, rear


def running_gear(fan: Fan) -> Fan:
    """Only what the axles, tires and wheels allow."""
    keep = np.array([r.check.id in AXLE_CHECKS for r in fan.rows], bool)
    return Fan(
        tuple(r for r, k in zip(fan.rows, keep, strict=True) if k),
        fan.at_empty[keep],
        fan.per_lb[keep],
        fan.per_lb_in[keep],
    )


def by_label(columns: Columns) -> Array:
    """Label GVWR less empty weight, shape ``(unit,)``. [lb]"""
    evaluation = Evaluation(columns)
    return (evaluation.value("trailer_gvwr_lb") - evaluation.value("trailer_empty_weight_lb"))[:, 0, 0]


def by_axles(columns: Columns, *, fan: Fan | None = None) -> Array:
    """What the running gear allows with the load at the middle of the level deck, the coupler carrying its real share.

    The label is left out of it. Shape ``(unit,)``. [lb]

    Parameters
    ----------
    fan : Fan, optional
        ``fan_of(columns, trailer_only=True)`` read before.
    """
    fan = running_gear(fan_of(columns, trailer_only=True) if fan is None else fan)
    _, middle, _ = deck_span(columns)
    at_middle, _ = greatest_at(fan, middle[:, None])
    return _unless_unknown(fan, np.where(np.isnan(middle), np.nan, at_middle[:, 0]))


def alone_best(columns: Columns, *, fan: Fan | None = None) -> tuple[Array, Array]:
    """Honest payload of the trailer alone: every rating of its own, at the best place on the deck.

    Parameters
    ----------
    fan : Fan, optional
        ``fan_of(columns, trailer_only=True)`` read before.

    Returns
    -------
    payload_lb, x_in : array
        Shape ``(unit,)``; ``nan`` where a rating of the trailer is not known.
    """
    fan = fan_of(columns, trailer_only=True) if fan is None else fan
    low, _, high = deck_span(columns)
    x, best = _anywhere(fan, low, high)
    return best, x


def unknown_alone(columns: Columns) -> tuple[Rows, NDArray[np.bool_]]:
    """The trailer's own limits, and which of them cannot be told because something of the trailer is not known.

    Its ratings, the law and what fits on its deck, with a point of cargo at the middle of the level deck. A unit
    without an unknown row needs nothing more of itself to be matched.

    Returns
    -------
    rows : Rows
        The limits.
    unknown : array of bool
        Shape ``(row, unit)``.
    """
    _, middle, _ = deck_span(columns)
    checks = [c for c in of_case("road") if c.kind in VERDICT_KINDS and of_trailer_alone(Row(c, None))]
    cargo = point_cargo(alone(columns), weight_lb=np.array([[REFERENCE_LB]]), x_in=middle[:, None])
    rows = rows_of(cargo, checks)
    return rows, np.broadcast_to(np.isnan(rows.margin), (len(rows.rows), columns.units, 1))[:, :, 0]


def with_truck_best(columns: Columns) -> tuple[Array, Array]:
    """Payload over every rating and law of the rig, at the best place on the deck, shape ``(unit,)``. [lb], [in]"""
    fan = fan_of(columns, trailer_only=False)
    low, _, high = deck_span(columns)
    x, best = _anywhere(fan, low, high)
    return best, x


def with_truck_at(columns: Columns, x_in: Array) -> Array:
    """Payload over every rating and law of the rig with the load balanced at a place, shape ``(unit,)``. [lb]

    Parameters
    ----------
    x_in : array
        Behind the coupling point, shape ``(unit,)``. [in]
    """
    fan = fan_of(columns, trailer_only=False)
    best, _ = greatest_at(fan, x_in[:, None])
    return _unless_unknown(fan, np.where(np.isnan(x_in), np.nan, best[:, 0]))


def _anywhere(fan: Fan, low: Array, high: Array) -> tuple[Array, Array]:
    unknown = np.isnan(low + high)
    x, best = greatest_anywhere(fan, low_in=np.where(unknown, 0.0, low), high_in=np.where(unknown, 0.0, high))
    return np.where(unknown, np.nan, x), _unless_unknown(fan, np.where(unknown, np.nan, best))


def _unless_unknown(fan: Fan, weight: Array) -> Array:
    """A payload that a missing rating may cut is not known, never the greater number."""
    return np.where(fan.unknown.any(axis=0), np.nan, weight)
