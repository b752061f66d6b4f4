"""How the axles of a group share their load, level and off level.

Equalized axles share evenly whatever the trim. Independent (torsion or plain sprung) axles each carry what
their own deflection makes them carry. Take the trailer as a rigid body on springs of equal rate k, level under
its load, every spring equally deflected: each axle carries its even share. Now the coupling point is set ``u``
higher than level (the hitch fixes it there). The body pitches nose up by an angle p and axle i sinks by
``p x_i - u`` more than before. Nothing has moved along the trailer, so the moment about the coupling point may not
change: ``sum k (p x_i - u) x_i = 0``, hence ``p = u sum(x) / sum(x^2)``. The axles' sum does change, by
``k sum(p x_i - u)``, and the coupler makes up the difference. Weight and place of the cargo do not enter p, so
every load stays linear in them.

The coupler height in a trailer's file is the height at which the trailer stands level *as loaded*; a body that
settles on its springs differently from that is off level by as much again, and should be measured loaded.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.members import of_present, sum_of_present

Array = NDArray[np.float64]


def pitch_rad(
    *, axle_present: ArrayLike, axle_x_in: ArrayLike, coupler_raise_in: ArrayLike, independent: ArrayLike
) -> Array:
    """Nose-up pitch of the trailer from how far its coupling point stands above level.

    Parameters
    ----------
    axle_present, axle_x_in : array_like
        1 where the trailer has this axle; coupling point to each axle; axles along the first axis. [], [in]
    coupler_raise_in : array_like
        Hitch above the height at which the trailer is level; negative below. [in]
    independent : array_like
        1 where the axles do not share by an equalizer, 0 where they do.

    Returns
    -------
    ndarray
        Pitch, nose up positive. [rad]

    References
    ----------
    SPRING-AXLES
    """
    x = of_present(present=axle_present, value=axle_x_in)
    count, total, squares = np.asarray(axle_present, float).sum(axis=0), x.sum(axis=0), (x * x).sum(axis=0)
    independent = np.asarray(independent, float)
    with np.errstate(invalid="ignore", divide="ignore"):
        slope = np.where(independent == 0, count / total, total / squares + 0.0 * independent)
    return np.asarray(coupler_raise_in, float) * slope


def off_level_shift_lb(
    *,
    axle_present: ArrayLike,
    axle_x_in: ArrayLike,
    rate_lb_per_in: ArrayLike,
    coupler_raise_in: ArrayLike,
    independent: ArrayLike,
) -> Array:
    """What standing off level adds to each axle; 0 on equalized axles, on a single axle and when level.

    Parameters
    ----------
    axle_present, axle_x_in : array_like
        1 where the trailer has this axle; coupling point to each axle; axles along the first axis. [], [in]
    rate_lb_per_in : array_like
        Spring rate of one axle, both wheels. Not asked for where it does not matter. [lb/in]
    coupler_raise_in : array_like
        Hitch above the height at which the trailer is level; negative below. [in]
    independent : array_like
        1 where the axles do not share by an equalizer, 0 where they do.

    Returns
    -------
    ndarray
        Added load, one an axle along the first axis; their moments about the coupling point sum to 0. [lb]

    References
    ----------
    SPRING-AXLES
    """
    present, raised = np.asarray(axle_present, float), np.asarray(coupler_raise_in, float)
    independent = np.asarray(independent, float)
    pitch = pitch_rad(
        axle_present=axle_present, axle_x_in=axle_x_in, coupler_raise_in=coupler_raise_in, independent=independent
    )
    sink_in = pitch * of_present(present=present, value=axle_x_in) - raised
    shift = np.asarray(rate_lb_per_in, float) * sink_in
    still = (independent == 0) | (raised == 0) | (present.sum(axis=0) == 1)
    return np.where(still, 0.0, of_present(present=present, value=shift + 0.0 * independent))


def even_share_lb(*, axle_present: ArrayLike, group_load_lb: ArrayLike) -> Array:
    """An even share of a group's load for each axle that is there, 0 for one that is not.

    Parameters
    ----------
    axle_present : array_like
        1 where the trailer has this axle; axles along the first axis.
    group_load_lb : array_like
        Load on the whole group. [lb]

    References
    ----------
    STATICS-BALANCE
    """
    count = sum_of_present(present=axle_present, value=1.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        return of_present(present=axle_present, value=np.asarray(group_load_lb, float) / count)
