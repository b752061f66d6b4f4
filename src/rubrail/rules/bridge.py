"""Axle law: single axles, tandems, the bridge formula, and every group of consecutive axles of a rig."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import figure

STEP_LB = figure("axle-law", "bridge_step_lb")
AXLE_TERM = figure("axle-law", "bridge_axle_term")
CONSTANT = figure("axle-law", "bridge_constant")
ONE_AXLE_WITHIN_IN = figure("axle-law", "one_axle_within_in")
TANDEM_WITHIN_IN = figure("axle-law", "tandem_within_in")
SHORT_GROUP_FT = figure("axle-law", "short_group_ft")
SHORT_GROUP_UNDER_FT = figure("axle-law", "short_group_under_ft")
TWO_TANDEM_FROM_IN = figure("axle-law", "two_tandem_from_in")
TWO_TANDEM_LB = figure("axle-law", "two_tandem_lb")

SINGLE, TANDEM, GROUP = range(3)
"""What a group of axles is by its length: counted as one axle, a tandem, or a group under the formula."""


def _span(span_in: ArrayLike) -> NDArray[np.float64]:
    """A length freed of the noise of adding inches, so that exactly 40 or 96 in stays exactly that."""
    return np.round(np.asarray(span_in, float), 6)


def bridge_formula_lb(*, length_ft: ArrayLike, axle_count: ArrayLike, ties_up: ArrayLike = 0.0) -> NDArray[np.float64]:
    """Weight the bridge formula allows a group of axles, rounded to the nearest 500 lb.

    Parameters
    ----------
    length_ft : array_like
        First to last axle of the group. [ft]
    axle_count : array_like
        Axles in the group, 2 or more; ``nan`` results below 2.
    ties_up : array_like
        0 rounds an exact half of 500 lb down, as tables in the federal shape do; 1 rounds it up, as some states do.

    Returns
    -------
    limit_lb : ndarray
        Uncapped. [lb]

    References
    ----------
    USC-23-127, RCW-46.44.041, PA-67-185.3
    """
    length, n = np.asarray(length_ft, float), np.asarray(axle_count, float)
    n = np.where(n >= 2, n, np.nan)
    steps = length * n / (n - 1) + AXLE_TERM * n + CONSTANT
    up = np.asarray(ties_up, float)
    rounded = np.where(up > 0, np.floor(steps + 0.5), np.ceil(steps - 0.5))
    # A state whose rounding is not known leaves only exact ties open.
    open_tie = np.isnan(up) & (np.floor(steps + 0.5) != np.ceil(steps - 0.5))
    return STEP_LB * np.where(open_tie, np.nan, rounded)


def formula_length_ft(*, span_in: ArrayLike) -> NDArray[np.float64]:
    """Length to enter the formula with: the nearest whole foot, half a foot up; 8 ft for all between 8 and 9 ft.

    Parameters
    ----------
    span_in : array_like
        First to last axle. [in]

    References
    ----------
    BRIDGE-LENGTH, RCW-46.44.041
    """
    feet = _span(span_in) / 12.0
    short = (feet > SHORT_GROUP_FT) & (feet < SHORT_GROUP_UNDER_FT)
    return np.where(short, SHORT_GROUP_FT, np.floor(feet + 0.5))


def group_kind(*, span_in: ArrayLike) -> NDArray[np.float64]:
    """``SINGLE`` to 40 in, ``TANDEM`` above 40 and to 96 in, ``GROUP`` beyond; ``nan`` where the length is not known.

    References
    ----------
    FHWA-SIZE-WEIGHT
    """
    span = _span(span_in)
    kind = np.where(span <= ONE_AXLE_WITHIN_IN, SINGLE, np.where(span <= TANDEM_WITHIN_IN, TANDEM, GROUP))
    return np.where(np.isnan(span), np.nan, kind)


def two_tandems(*, span_in: ArrayLike, first_pair_in: ArrayLike, last_pair_in: ArrayLike) -> NDArray[np.bool_]:
    """Whether four axles are two consecutive tandems 36 ft or more apart, first to last, which may carry 68,000 lb.

    Parameters
    ----------
    span_in : array_like
        First to last axle. [in]
    first_pair_in, last_pair_in : array_like
        Spacing within the leading and within the trailing pair. [in]

    References
    ----------
    USC-23-127
    """
    pairs = [(group_kind(span_in=p) == TANDEM) for p in (first_pair_in, last_pair_in)]
    return pairs[0] & pairs[1] & (_span(span_in) >= TWO_TANDEM_FROM_IN)


def axle_group_limit_lb(
    *,
    span_in: ArrayLike,
    axle_count: ArrayLike,
    single_axle_lb: ArrayLike,
    tandem_lb: ArrayLike,
    ties_up: ArrayLike = 0.0,
    two_tandem: ArrayLike = False,
) -> NDArray[np.float64]:
    """Weight the axle law allows one group of consecutive axles.

    Axles within 40 in are one axle; more than 40 and to 96 in, however many, they are a tandem; longer groups go by
    the formula. Two axles under the formula are capped at two single axles. The gross limit is another check.

    Parameters
    ----------
    span_in : array_like
        First to last axle. [in]
    axle_count : array_like
        Axles in the group.
    single_axle_lb, tandem_lb : array_like
        Limits of the state. [lb]
    ties_up : array_like
        1 where the state's table rounds an exact half of 500 lb up.
    two_tandem : array_like
        True where the group is two tandems far enough apart (see ``two_tandems``).

    References
    ----------
    USC-23-127, FHWA-SIZE-WEIGHT, RCW-46.44.041
    """
    kind = group_kind(span_in=span_in)
    formula = bridge_formula_lb(length_ft=formula_length_ft(span_in=span_in), axle_count=axle_count, ties_up=ties_up)
    pair = np.minimum(formula, 2.0 * np.asarray(single_axle_lb, float))
    formula = np.where(np.asarray(axle_count) == 2, pair, formula)
    formula = np.where(two_tandem, np.maximum(formula, TWO_TANDEM_LB), formula)
    limit = np.where(kind == SINGLE, single_axle_lb, np.where(kind == TANDEM, tandem_lb, formula))
    return np.where(np.isnan(kind), np.nan, limit)


def consecutive_groups(*, axles: int) -> list[tuple[int, int]]:
    """First and last axle of every group of two or more consecutive axles, by last axle, then first.

    So ordered, a group keeps its number when a rig with more axles is looked at beside it.

    Parameters
    ----------
    axles : int
        Axle places of the rig, truck and trailer.
    """
    return [(first, last) for last in range(1, axles) for first in range(last)]
