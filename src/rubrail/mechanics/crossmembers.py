"""What one crossmember carries under a machine, by statics alone.

The boards between two crossmembers are taken as beams that end on them, so that a crossmember carries of every pound
the share that its nearness earns: all of it right above, nothing from one spacing away. Boards that run through put a
little more on some members and less on others. The machine stands wherever it stands worst.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
STEPS = 240
"""Places along the contact tried for the worst member, beside the ends."""


def bearing_shares(*, at_in: ArrayLike, cg_in: ArrayLike) -> Array:
    """Share of its weight that a machine puts on each of its axles, level, as a stiff body on equal springs.

    Two axles share by the lever, exactly; of three or more the springs decide, and here they are alike. A share is
    less than nothing where the center of gravity lies outside the axles.

    Parameters
    ----------
    at_in : array_like
        Place of each axle, first axis, from any one origin. [in]
    cg_in : array_like
        Place of the center of gravity from the same origin. [in]

    References
    ----------
    STATICS-BALANCE
    """
    at, cg = np.asarray(at_in, float), np.asarray(cg_in, float)
    off = at - at.mean(axis=0)
    square = (off**2).sum(axis=0)
    lean = np.where(square > 0, (cg - at.mean(axis=0)) / np.where(square > 0, square, 1.0), 0.0)
    return 1 / len(at) + lean * off


def heaviest_under_axles_lb(*, axle_lb: ArrayLike, at_in: ArrayLike, spacing_in: ArrayLike) -> Array:
    """Most that one crossmember carries of axles that stand wherever they stand worst.

    Parameters
    ----------
    axle_lb, at_in : array_like
        Load of each axle, both wheels, and its place; first axis. [lb], [in]
    spacing_in : array_like
        Crossmembers, on center. [in]

    References
    ----------
    STATICS-BALANCE
    """
    load, at = np.asarray(axle_lb, float), np.asarray(at_in, float)
    spacing = np.asarray(spacing_in, float)
    # What a member carries is a sum of straight lines in its place, bent at the axles: its greatest is at one of them.
    shares = [(load * np.maximum(1 - np.abs(at - at[k]) / spacing, 0.0)).sum(axis=0) for k in range(len(at))]
    return np.max(shares, axis=0)


def track_pressure(*, weight_lb: float, length_in: float, cg_in: float) -> tuple[float, float, float, float]:
    """Straight-line pressure under a level track: where it begins and ends, and what it is there.

    Where the center of gravity lies in the outer third of the track, its far end bears nothing.

    Parameters
    ----------
    weight_lb : float
        Of the machine. [lb]
    length_in : float
        That bears. [in]
    cg_in : float
        Front of the bearing length to the center of gravity. [in]

    Returns
    -------
    start_in, end_in, at_start, at_end
        ``nan`` where the center of gravity lies off the track. [in], [in], [lb/in], [lb/in]

    References
    ----------
    STATICS-BALANCE
    """
    if not 0 < cg_in < length_in:
        return (np.nan,) * 4
    mean, off = weight_lb / length_in, cg_in - length_in / 2
    if abs(off) <= length_in / 6:
        lean = 6 * off / length_in
        return 0.0, length_in, mean * (1 - lean), mean * (1 + lean)
    bears = 3 * min(cg_in, length_in - cg_in)
    peak = 2 * weight_lb / bears
    return (length_in - bears, length_in, 0.0, peak) if off > 0 else (0.0, bears, peak, 0.0)


def heaviest_under_track_lb(*, weight_lb: float, length_in: float, cg_in: float, spacing_in: float) -> float:
    """Most that one crossmember carries of a level tracked machine that stands wherever it stands worst.

    Parameters
    ----------
    weight_lb, length_in, cg_in : float
        As in ``track_pressure``.
    spacing_in : float
        Crossmembers, on center. [in]

    References
    ----------
    STATICS-BALANCE
    """
    start, end, first, last = track_pressure(weight_lb=weight_lb, length_in=length_in, cg_in=cg_in)
    if np.isnan(start + spacing_in):
        return float("nan")
    middle = np.linspace(start - spacing_in, end + spacing_in, STEPS + 1)
    middle = np.concatenate([middle, np.clip([start + spacing_in, end - spacing_in], start, end)])
    return float(np.max(_hat(middle, start, end, first, last, spacing_in)))


def _hat(middle: Array, start: float, end: float, first: float, last: float, spacing: float) -> Array:
    """Pressure weighed by nearness to a member: a parabola on each side of it, so Simpson's rule is exact."""
    rise = (last - first) / (end - start)

    def side(low: Array, high: Array) -> Array:
        low, high = np.clip(low, start, end), np.clip(high, start, end)
        at = (low, (low + high) / 2, high)
        low_, mid, top = ((first + rise * (x - start)) * (1 - np.abs(x - middle) / spacing) for x in at)
        return (high - low) / 6 * (low_ + 4 * mid + top)

    return side(middle - spacing, middle) + side(middle, middle + spacing)


def members_under(*, length_in: ArrayLike, spacing_in: ArrayLike) -> Array:
    """Crossmembers that a bearing length rests on, on average over where it stops.

    References
    ----------
    STATICS-BALANCE
    """
    return np.asarray(length_in, float) / np.asarray(spacing_in, float)
