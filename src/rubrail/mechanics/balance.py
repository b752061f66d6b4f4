"""Balance of a trailer about its coupling point: what the axles carry and what is left for the coupler.

Two equations say it all. Forces: coupler + axles = weight. Moments about the coupling point: the axles' loads
times their distances = the weights times theirs. An equalized group acts at the mean of its axles.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.members import sum_of_present

Array = NDArray[np.float64]


def axle_group_x_in(*, axle_present: ArrayLike, axle_x_in: ArrayLike) -> Array:
    """Mean place of the axles that are there.

    Parameters
    ----------
    axle_present : array_like
        1 where the trailer has this axle, 0 where not; axles along the first axis.
    axle_x_in : array_like
        Coupling point to each axle. [in]

    Returns
    -------
    ndarray
        Coupling point to the center of the axle group; ``nan`` without axles. [in]

    References
    ----------
    STATICS-BALANCE
    """
    count = np.asarray(axle_present, float).sum(axis=0)
    with np.errstate(invalid="ignore", divide="ignore"):
        return sum_of_present(present=axle_present, value=axle_x_in) / count


def axle_group_load_lb(*, weight_lb: ArrayLike, x_in: ArrayLike, axle_group_x_in: ArrayLike) -> Array:
    """Load on the axle group that holds weights in balance about the coupling point.

    Parameters
    ----------
    weight_lb, x_in : array_like
        Weights and their distances behind the coupling point, along the first axis. [lb], [in]
    axle_group_x_in : array_like
        Coupling point to the center of the axle group. [in]

    Returns
    -------
    ndarray
        Load on the group. [lb]

    References
    ----------
    STATICS-BALANCE
    """
    weight, x = np.asarray(weight_lb, float), np.asarray(x_in, float)
    return (weight * x).sum(axis=0) / np.asarray(axle_group_x_in, float)


def coupler_load_lb(*, weight_lb: ArrayLike, x_in: ArrayLike, axle_group_x_in: ArrayLike) -> Array:
    """Load left on the coupling point; negative where it lifts.

    Parameters
    ----------
    weight_lb, x_in : array_like
        Weights and their distances behind the coupling point, along the first axis. [lb], [in]
    axle_group_x_in : array_like
        Coupling point to the center of the axle group. [in]

    Returns
    -------
    ndarray
        Load on the coupler. [lb]

    References
    ----------
    STATICS-BALANCE
    """
    group = axle_group_load_lb(weight_lb=weight_lb, x_in=x_in, axle_group_x_in=axle_group_x_in)
    return np.asarray(weight_lb, float).sum(axis=0) - group


def coupler_share(*, weight_lb: ArrayLike, x_in: ArrayLike, axle_group_x_in: ArrayLike) -> Array:
    """Coupler load as a share of all the weight, 0 to 1.

    Parameters
    ----------
    weight_lb, x_in : array_like
        Weights and their distances behind the coupling point, along the first axis. [lb], [in]
    axle_group_x_in : array_like
        Coupling point to the center of the axle group. [in]

    References
    ----------
    STATICS-BALANCE
    """
    coupler = coupler_load_lb(weight_lb=weight_lb, x_in=x_in, axle_group_x_in=axle_group_x_in)
    return coupler / np.asarray(weight_lb, float).sum(axis=0)


def empty_x_in(*, empty_weight_lb: ArrayLike, empty_coupler_lb: ArrayLike, axle_group_x_in: ArrayLike) -> Array:
    """Center of gravity of the empty trailer, from its weight and coupler load weighed level.

    Parameters
    ----------
    empty_weight_lb, empty_coupler_lb : array_like
        Weight of the empty trailer, and its part on the coupler. [lb]
    axle_group_x_in : array_like
        Coupling point to the center of the axle group. [in]

    Returns
    -------
    ndarray
        Coupling point to the center of gravity. [in]

    References
    ----------
    STATICS-BALANCE
    """
    share = np.asarray(empty_coupler_lb, float) / np.asarray(empty_weight_lb, float)
    return np.asarray(axle_group_x_in, float) * (1.0 - share)


def load_x_for_share_in(
    *,
    share: ArrayLike,
    load_lb: ArrayLike,
    empty_weight_lb: ArrayLike,
    empty_x_in: ArrayLike,
    axle_group_x_in: ArrayLike,
) -> Array:
    """Where a load must sit for the coupler to carry a chosen share of the loaded trailer.

    Parameters
    ----------
    share : array_like
        Coupler share wanted, 0 to 1.
    load_lb : array_like
        The load. [lb]
    empty_weight_lb, empty_x_in : array_like
        Empty trailer and its center of gravity behind the coupling point. [lb], [in]
    axle_group_x_in : array_like
        Coupling point to the center of the axle group. [in]

    Returns
    -------
    ndarray
        Coupling point to the load's center of gravity. [in]

    References
    ----------
    STATICS-BALANCE
    """
    load, empty = np.asarray(load_lb, float), np.asarray(empty_weight_lb, float)
    on_axles = (1.0 - np.asarray(share, float)) * (empty + load)
    return (on_axles * axle_group_x_in - empty * np.asarray(empty_x_in, float)) / load


def axle_x_for_share_in(*, share: ArrayLike, center_x_in: ArrayLike) -> Array:
    """Where the axle group must sit for the coupler to carry a chosen share, the weight staying where it is.

    Exact: the center of gravity over the share the axles carry.

    Parameters
    ----------
    share : array_like
        Coupler share wanted, 0 to 1.
    center_x_in : array_like
        Coupling point to the center of gravity of everything. [in]

    References
    ----------
    STATICS-BALANCE
    """
    return np.asarray(center_x_in, float) / (1.0 - np.asarray(share, float))
