"""The truck under a coupler load while a machine climbs: its axles, where its rear lifts, how its springs give."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def truck_axles_lb(
    *,
    front_lb: ArrayLike,
    rear_lb: ArrayLike,
    coupler_lb: ArrayLike,
    hitch_ahead_in: ArrayLike,
    wheelbase_in: ArrayLike,
    height_in: ArrayLike = 0.0,
    ground_rad: ArrayLike = 0.0,
) -> tuple[Array, Array]:
    """Front and rear axle of the truck under a coupler load, on sloping ground.

    Parameters
    ----------
    front_lb, rear_lb : array_like
        Axle loads without the trailer, on level ground. [lb]
    coupler_lb : array_like
        Load on the hitch; negative pulls up. [lb]
    hitch_ahead_in, wheelbase_in : array_like
        Hitch ahead of the rear axle, negative behind; front axle to rear axle. [in]
    height_in : array_like
        Height of the truck's center of gravity; it counts on sloping ground only. [in]
    ground_rad : array_like
        Rise of the ground toward the truck's front. [rad]

    References
    ----------
    STATICS-TRUCK
    """
    ground = np.asarray(ground_rad, float)
    front, rear = np.asarray(front_lb, float), np.asarray(rear_lb, float)
    back = np.where(ground == 0, 0.0, (front + rear) * np.sin(ground) * height_in / wheelbase_in)
    to_front = np.asarray(coupler_lb, float) * hitch_ahead_in / wheelbase_in
    return front * np.cos(ground) - back + to_front, rear * np.cos(ground) + back + coupler_lb - to_front


def lift_off_lb(*, rear_lb: ArrayLike, hitch_ahead_in: ArrayLike, wheelbase_in: ArrayLike) -> Array:
    """Coupler load, negative, at which the truck's rear wheels leave the ground.

    Parameters
    ----------
    rear_lb : array_like
        Rear axle load without the trailer. [lb]
    hitch_ahead_in, wheelbase_in : array_like
        Hitch ahead of the rear axle, negative behind; front axle to rear axle. [in]

    References
    ----------
    STATICS-TRUCK
    """
    return -np.asarray(rear_lb, float) / (1.0 - np.asarray(hitch_ahead_in, float) / wheelbase_in)


def coupler_rise_in(*, gap_in: ArrayLike, axle_group_x_in: ArrayLike, stand_x_in: ArrayLike) -> Array:
    """How far the coupling point can rise before a stand meets the ground, the axles standing still.

    Parameters
    ----------
    gap_in : array_like
        Ground to the foot of the stand. [in]
    axle_group_x_in, stand_x_in : array_like
        Coupling point to the axle group and to the stand. [in]

    References
    ----------
    STATICS-BALANCE
    """
    middle = np.asarray(axle_group_x_in, float)
    return np.asarray(gap_in, float) * middle / (np.asarray(stand_x_in, float) - middle)


def coupler_rate_lb_per_in(
    *, front_rate: ArrayLike, rear_rate: ArrayLike, hitch_ahead_in: ArrayLike, wheelbase_in: ArrayLike
) -> Array:
    """Pounds that sink the hitch an inch, from the spring rates of the truck's two axles.

    Parameters
    ----------
    front_rate, rear_rate : array_like
        Of each axle, both wheels. [lb/in]
    hitch_ahead_in, wheelbase_in : array_like
        Hitch ahead of the rear axle, negative behind; front axle to rear axle. [in]

    References
    ----------
    STATICS-TRUCK
    """
    share = np.asarray(hitch_ahead_in, float) / wheelbase_in
    return 1.0 / ((1.0 - share) ** 2 / np.asarray(rear_rate, float) + share**2 / np.asarray(front_rate, float))
