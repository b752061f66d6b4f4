"""The arithmetic of the numbers a trailer is sold by: label, axles, coupler share. Never one number."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def by_label_lb(*, gvwr_lb: ArrayLike, empty_weight_lb: ArrayLike) -> Array:
    """Payload the label allows: its gross rating less the empty weight. [lb]

    Parameters
    ----------
    gvwr_lb, empty_weight_lb : array_like
        Gross rating on the label; empty weight. [lb]

    References
    ----------
    LABEL-GVWR
    """
    return np.asarray(gvwr_lb, float) - empty_weight_lb


def by_axles_lb(*, gawr_sum_lb: ArrayLike, empty_weight_lb: ArrayLike, coupler_load_lb: ArrayLike) -> Array:
    """Payload the axles allow with the truck carrying a given coupler load; the label still governs. [lb]

    Parameters
    ----------
    gawr_sum_lb : array_like
        Axle ratings added up. [lb]
    empty_weight_lb, coupler_load_lb : array_like
        Empty weight; loaded coupler load. [lb]

    References
    ----------
    STATICS-BALANCE
    """
    return np.asarray(gawr_sum_lb, float) - empty_weight_lb + coupler_load_lb


def claimed_coupler_lb(*, advertised_lb: ArrayLike, gawr_sum_lb: ArrayLike) -> Array:
    """Coupler share an advertised number counts on beyond the axle ratings. [lb]

    Parameters
    ----------
    advertised_lb, gawr_sum_lb : array_like
        Number the unit is advertised by; axle ratings added up. [lb]

    References
    ----------
    STATICS-BALANCE
    """
    return np.asarray(advertised_lb, float) - gawr_sum_lb


def greatest_load_lb(
    *, gawr_sum_lb: ArrayLike, empty_axle_load_lb: ArrayLike, axle_group_x_in: ArrayLike, load_x_in: ArrayLike
) -> Array:
    """Greatest load the axle ratings allow with its center of gravity at one place. [lb]

    Parameters
    ----------
    gawr_sum_lb, empty_axle_load_lb : array_like
        Axle ratings added up; what the axles carry empty. [lb]
    axle_group_x_in, load_x_in : array_like
        Coupling point to the center of the axles, and to the load's center of gravity. [in]

    References
    ----------
    STATICS-BALANCE
    """
    return (np.asarray(gawr_sum_lb, float) - empty_axle_load_lb) * axle_group_x_in / load_x_in


def pulling_strength_kn(*, towing_t: ArrayLike, towed_t: ArrayLike, gravity_m_per_s2: ArrayLike = 9.81) -> Array:
    """Longitudinal strength a coupling needs between two masses. [kN]

    Parameters
    ----------
    towing_t, towed_t : array_like
        Mass of the towing and of the towed vehicle. [t]
    gravity_m_per_s2 : array_like
        Acceleration of gravity. [m/s2]

    References
    ----------
    FIFTH-WHEEL-D-VALUE
    """
    towing, towed = np.asarray(towing_t, float), np.asarray(towed_t, float)
    return gravity_m_per_s2 * towing * towed / (towing + towed)
