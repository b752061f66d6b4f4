"""How far the cargo may slide: the stretch where everything holds, and the stretch where nothing can break it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.placing import STEP_IN
from rubrail.answers.shift import bounds
from rubrail.checks.judge import Judgement
from rubrail.checks.rows import VERDICT_KINDS, Rows, rows_of
from rubrail.checks.tolerance import nudged
from rubrail.checks.verdict import TOLERANCE
from rubrail.things.columns import Array, Columns


class Band(NamedTuple):
    """A stretch of shifts, inches rearward of where the cargo stands."""

    low_in: float
    high_in: float


def bands(
    columns: Columns,
    *,
    kinds: tuple[str, ...] = (*VERDICT_KINDS, "guidance"),
    judgement: Judgement | None = None,
) -> tuple[Band | None, Band | None]:
    """Shifts of the whole cargo of one rig over which every check of these kinds holds.

    Parameters
    ----------
    columns : Columns
        One rig as placed, sample axis of length 1.
    kinds : tuple of str
        Kinds of check that must hold.
    judgement : Judgement, optional
        Of this rig by every check of the road, where it is at hand.

    Returns
    -------
    holds, clear : Band or None
        At the stated values; with every tolerance against the rig. None where no shift will do, or where
        something that does not depend on place fails or is not known.
    """
    if judgement is None:
        wide, nudges = nudged(columns)
        here = rows_of(wide)
    else:
        nudges, here = judgement.nudges, judgement.rows
        wide = here.evaluation.columns
    there = rows_of(wide.with_values({"item_front_x_in": wide["item_front_x_in"] + STEP_IN}), like=here)
    keep = here.of_kind(*kinds)
    margin = _sampled(here, keep, len(nudges))
    with np.errstate(invalid="ignore"):
        slope = (_sampled(there, keep, len(nudges)) - margin) / STEP_IN
    applies = ~np.isposinf(margin[:, 0])
    if np.isnan(margin[applies]).any():
        return None, None
    limit = here.limit[keep, 0, 0]
    slack = TOLERANCE * np.maximum(1.0, np.abs(np.where(np.isfinite(limit), limit, 0.0)))
    margin, slope = margin[applies] + slack[applies, None], np.nan_to_num(slope[applies])
    slope[np.abs(slope) < 1e-9] = 0.0
    stated = _band(*bounds(at_zero=margin[:, 0], slope=slope[:, 0]))
    if stated is None or not len(nudges):
        return stated, stated
    return stated, _certain(margin, slope, len(nudges), stated)


def _sampled(rows: Rows, keep: NDArray[np.bool_], count: int) -> Array:
    """Margins of one rig over every sample, shape ``(row, sample)``."""
    return np.stack(
        [np.broadcast_to(rows.sampled_margin(int(i))[0, 0], (1 + 2 * count,)) for i in np.flatnonzero(keep)]
    )


def _band(low: Array, high: Array) -> Band | None:
    return Band(float(low), float(high)) if low <= high else None


def _certain(margin: Array, slope: Array, count: int, stated: Band) -> Band | None:
    """Where margin less all harms is at least 0: each row is concave in the shift, so the stretch is one piece.

    ``max(m - up, m - down, 0)`` of each input is the greatest of three straight lines, so the worst margin is the
    least over all choices; the stretch is narrowed by the line that binds until it no longer moves.
    """
    low, high = stated
    if not np.isfinite(low + high):
        return stated if _worst(margin, slope, count, 0.0).min(initial=np.inf) >= 0 else None
    peak = _peak(margin, slope, count, low, high)
    if _worst(margin, slope, count, peak).min(initial=np.inf) < 0:
        return None
    return Band(_edge(margin, slope, count, peak, low), _edge(margin, slope, count, peak, high))


def _worst(margin: Array, slope: Array, count: int, shift: float) -> Array:
    at = margin + slope * shift
    loss = np.maximum(at[:, :1] - at[:, 1 : 1 + count], at[:, :1] - at[:, 1 + count :])
    return at[:, 0] - np.maximum(np.nan_to_num(loss, nan=0.0, posinf=0.0, neginf=0.0), 0.0).sum(axis=1)


def _peak(margin: Array, slope: Array, count: int, low: float, high: float) -> float:
    """Shift of the greatest least margin: a concave function narrowed by thirds to a thousandth of an inch."""
    while high - low > 1e-3:
        a, b = low + (high - low) / 3, high - (high - low) / 3
        if _worst(margin, slope, count, a).min(initial=np.inf) < _worst(margin, slope, count, b).min(initial=np.inf):
            low = a
        else:
            high = b
    return (low + high) / 2


def _edge(margin: Array, slope: Array, count: int, inside: float, outside: float) -> float:
    """Where the least margin crosses 0 between a shift that holds and one that may not."""
    if _worst(margin, slope, count, outside).min(initial=np.inf) >= 0:
        return outside
    while abs(outside - inside) > 1e-6:
        middle = (inside + outside) / 2
        if _worst(margin, slope, count, middle).min(initial=np.inf) >= 0:
            inside = middle
        else:
            outside = middle
    return inside
