"""Verdict words from margins. The one place that says what *exactly at the limit* means."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

TOLERANCE = 1e-6
"""Rounding tolerance: a margin above ``-TOLERANCE * max(1, |limit|)`` still holds. Exactly at the limit passes."""

OVER, NOT_KNOWN, DEPENDS, CLEAR, NOT_APPLICABLE = range(5)
WORDS = ("over", "not known", "depends", "clear", "does not apply")
"""Verdict words, worst first: the least code among several checks is the verdict of them all."""

DUTY_WORDS = ("applies", "not known", "may apply", "not reached", "does not apply")
"""Words for duties and taxes, by the same codes: past the line such a rule applies, nothing is over."""


def holds(margin: ArrayLike, limit: ArrayLike) -> NDArray[np.bool_]:
    """Whether a margin counts as held; ``nan`` never does.

    Parameters
    ----------
    margin, limit : array_like
        Same unit, broadcast together.
    """
    slack = TOLERANCE * np.maximum(1.0, np.abs(np.nan_to_num(limit, nan=0.0, posinf=0.0, neginf=0.0)))
    with np.errstate(invalid="ignore"):
        return np.asarray(margin) >= -slack


def verdict_codes(*, margin: ArrayLike, worst_margin: ArrayLike, limit: ArrayLike) -> NDArray[np.int8]:
    """Codes into ``WORDS``.

    ``over`` where the stated values fail, ``not known`` where anything needed is unknown, ``depends`` where
    the stated values hold and the tolerances can break them, ``clear`` where nothing can.

    Parameters
    ----------
    margin : array_like
        limit - demand at the stated values.
    worst_margin : array_like
        The same with every tolerance against the rig.
    limit : array_like
        The limit; ``inf`` means the check does not apply.
    """
    margin, worst, limit = np.broadcast_arrays(
        np.asarray(margin, float), np.asarray(worst_margin, float), np.asarray(limit, float)
    )
    codes = np.full(margin.shape, CLEAR, np.int8)
    codes[~holds(worst, limit)] = DEPENDS
    codes[~holds(margin, limit)] = OVER
    codes[np.isnan(margin) | np.isnan(worst)] = NOT_KNOWN
    codes[np.isposinf(limit) & ~np.isnan(margin)] = NOT_APPLICABLE
    return codes
