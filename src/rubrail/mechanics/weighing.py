"""Center of gravity of a machine or vehicle by weighing it, level and with one end raised."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def cg_from_rear_in(*, weight_lb: ArrayLike, front_lb: ArrayLike, wheelbase_in: ArrayLike) -> Array:
    """Center of gravity ahead of the rear axle, from a level weighing. [in]

    Parameters
    ----------
    weight_lb, front_lb : array_like
        Whole weight, and the part on the front axle. [lb]
    wheelbase_in : array_like
        Front axle to rear axle. [in]

    References
    ----------
    CG-WEIGHING
    """
    return np.asarray(wheelbase_in, float) * front_lb / weight_lb


def cg_height_in(
    *,
    weight_lb: ArrayLike,
    front_lb: ArrayLike,
    raised_front_lb: ArrayLike,
    raise_in: ArrayLike,
    wheelbase_in: ArrayLike,
    wheel_radius_in: ArrayLike,
) -> Array:
    """Height of the center of gravity above ground, from a second weighing with the front end raised. [in]

    Block the suspension and pump up the tires first, and raise an inch for every 10 to 12 in of wheelbase, or the
    answer is wrong.

    Parameters
    ----------
    weight_lb, front_lb : array_like
        Whole weight, and the part on the front axle, level. [lb]
    raised_front_lb : array_like
        The part on the front axle with the front raised. [lb]
    raise_in : array_like
        How far the front wheels' center was raised. [in]
    wheelbase_in, wheel_radius_in : array_like
        Front axle to rear axle; height of the wheels' centers, level. [in]

    References
    ----------
    CG-WEIGHING
    """
    base = np.asarray(wheelbase_in, float)
    behind = cg_from_rear_in(weight_lb=weight_lb, front_lb=front_lb, wheelbase_in=base)
    raised = base * raised_front_lb / weight_lb
    angle = np.arcsin(np.asarray(raise_in, float) / base)
    return np.asarray(wheel_radius_in, float) + (behind - raised) / np.tan(angle)
