"""The best place along a line, exactly, for any number of rigs at once.

Every margin is affine in how far the cargo is shifted along the deck, so the least margin is a concave broken line
and its peak lies at an end or where one rising and one falling margin cross. The search walks from crossing to
crossing and ends on the exact one.
"""

from __future__ import annotations

import numpy as np

from rubrail.things.columns import Array


def bounds(*, at_zero: Array, slope: Array) -> tuple[Array, Array]:
    """Least and greatest shift for which every row is at least 0.

    Parameters
    ----------
    at_zero, slope : array
        Row values ``at_zero + slope * shift``, shape ``(row, ...)``; a row that does not count has ``inf`` and 0.

    Returns
    -------
    low, high : array
        Shape ``(...)``; ``low > high`` where nothing holds; ``-inf`` / ``inf`` where nothing bounds.
    """
    with np.errstate(invalid="ignore", divide="ignore"):
        root = -at_zero / slope
    low = np.where(slope > 0, root, -np.inf).max(axis=0, initial=-np.inf)
    high = np.where(slope < 0, root, np.inf).min(axis=0, initial=np.inf)
    hopeless = np.any((slope == 0) & (at_zero < 0), axis=0)
    return np.where(hopeless, np.inf, low), np.where(hopeless, -np.inf, high)


def best_shift(*, at_zero: Array, slope: Array, low: Array, high: Array) -> tuple[Array, Array, Array, Array]:
    """Shift between ``low`` and ``high`` that makes the least row greatest.

    Parameters
    ----------
    at_zero, slope : array
        Row values ``at_zero + slope * shift``, shape ``(row, ...)``; a row that does not count has ``inf`` and 0.
    low, high : array
        Finite bounds, shape ``(...)``, ``low <= high``.

    Returns
    -------
    shift, value : array
        The best shift, and the least row there (``inf`` where no row counts).
    rising, falling : array of int
        The rows that hold the peak from either side; the same row twice where it lies at a bound.
    """

    def pick(rows: Array, index: Array) -> Array:
        return np.take_along_axis(rows, index[None], 0)[0]

    def least(shift: Array) -> tuple[Array, Array]:
        value = at_zero + slope * shift
        index = value.argmin(axis=0)
        return pick(value, index), index

    low, high = np.broadcast_arrays(*(np.asarray(b, float) for b in (low, high)))
    at_low, rising = least(low)
    at_high, falling = least(high)
    stay_low = pick(slope, rising) <= 0
    stay_high = ~stay_low & (pick(slope, falling) >= 0)
    shift = np.where(stay_low, low, high)
    value = np.where(stay_low, at_low, at_high)
    falling = np.where(stay_low, rising, falling)
    rising = np.where(stay_high, falling, rising)
    open_ = ~(stay_low | stay_high)
    for _ in range(2 * len(at_zero) + 4):
        if not open_.any():
            break
        with np.errstate(invalid="ignore", divide="ignore"):
            crossing = (pick(at_zero, falling) - pick(at_zero, rising)) / (pick(slope, rising) - pick(slope, falling))
        crossing = np.clip(np.where(open_, crossing, shift), low, high)
        promised = pick(at_zero, rising) + pick(slope, rising) * crossing
        found, row = least(crossing)
        # Units that nothing bounds promise infinity, and are not open.
        with np.errstate(invalid="ignore"):
            done = found >= promised - 1e-12 * (1 + np.abs(promised))
        shift, value = np.where(open_, crossing, shift), np.where(open_, found, value)
        climbs = pick(slope, row)
        rising = np.where(open_ & ~done & (climbs > 0), row, rising)
        falling = np.where(open_ & ~done & (climbs < 0), row, falling)
        open_ &= ~(done | (climbs == 0))
    return shift, value, rising, falling
