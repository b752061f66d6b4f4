"""A two-axle truck under a load at its hitch, and the couple of a weight-distributing hitch.

A coupler load T at a distance e ahead of the rear axle puts ``T e / wheelbase`` on the front axle and the rest on
the rear; behind the rear axle e is negative and the front axle is lifted.

The spring bars of a weight-distributing hitch put a couple M between truck and trailer. With the ball ``o`` behind
the rear axle and ``L`` ahead of the trailer's axles, the trailer's axles take ``M / L`` more, the coupler that much
less, and the front axle gets back ``(M / wheelbase)(1 + o / L)``. To give back the share f of what the front axle
lost, ``M = f T o / (1 + o / L)``, so the trailer's axles pay ``f T o / (L + o)``.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def front_change_lb(*, vertical_lb: ArrayLike, ahead_in: ArrayLike, wheelbase_in: ArrayLike) -> Array:
    """What a load at the hitch adds to the front axle; negative where it lifts it.

    Parameters
    ----------
    vertical_lb : array_like
        Load on the hitch. [lb]
    ahead_in : array_like
        Hitch ahead of the rear axle; negative behind. [in]
    wheelbase_in : array_like
        Front axle to rear axle. [in]

    References
    ----------
    STATICS-TRUCK
    """
    return np.asarray(vertical_lb, float) * ahead_in / wheelbase_in


def distribution_return_lb(
    *,
    coupler_load_lb: ArrayLike,
    behind_in: ArrayLike,
    axle_group_x_in: ArrayLike,
    restoration: ArrayLike,
) -> Array:
    """What a weight-distributing hitch sends back to the trailer's axles (and takes off the coupler).

    Parameters
    ----------
    coupler_load_lb : array_like
        Coupler load before the spring bars are drawn up. [lb]
    behind_in : array_like
        Ball behind the truck's rear axle. [in]
    axle_group_x_in : array_like
        Ball to the center of the trailer's axles. [in]
    restoration : array_like
        Share of the lost front-axle load that is given back, 0 to 1.

    References
    ----------
    WEIGHT-DISTRIBUTION
    """
    behind, reach = np.asarray(behind_in, float), np.asarray(axle_group_x_in, float)
    return np.asarray(restoration, float) * coupler_load_lb * behind / (reach + behind)


def spring_bar_couple_lb_in(*, return_lb: ArrayLike, axle_group_x_in: ArrayLike) -> Array:
    """Couple M of the spring bars that sends ``return_lb`` to the trailer's axles. [lb in]

    Parameters
    ----------
    return_lb : array_like
        What the trailer's axles take more. [lb]
    axle_group_x_in : array_like
        Ball to the center of the trailer's axles. [in]

    References
    ----------
    WEIGHT-DISTRIBUTION
    """
    return np.asarray(return_lb, float) * axle_group_x_in


def front_change_distributing_lb(
    *,
    coupler_load_lb: ArrayLike,
    return_lb: ArrayLike,
    ahead_in: ArrayLike,
    wheelbase_in: ArrayLike,
    axle_group_x_in: ArrayLike,
) -> Array:
    """What hitch load and spring-bar couple together add to the front axle; with no return, the hitch load alone.

    Parameters
    ----------
    coupler_load_lb : array_like
        Coupler load before the spring bars are drawn up. [lb]
    return_lb : array_like
        What the spring bars send to the trailer's axles. [lb]
    ahead_in : array_like
        Hitch ahead of the rear axle; negative behind. [in]
    wheelbase_in, axle_group_x_in : array_like
        Front axle to rear axle; ball to the center of the trailer's axles. [in]

    References
    ----------
    WEIGHT-DISTRIBUTION
    """
    coupler, back = np.asarray(coupler_load_lb, float), np.asarray(return_lb, float)
    return ((coupler - back) * ahead_in + back * axle_group_x_in) / wheelbase_in
