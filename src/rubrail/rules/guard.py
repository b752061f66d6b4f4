"""Rear impact guards: which trailers need one, and the classes that are left out."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import figure

MM_PER_IN = 25.4
GUARD_FROM_LB = figure("labels", "guard_from_lb")
WHEELS_BACK_MM = figure("labels", "guard_wheels_back_mm")
LOW_CHASSIS_MM = figure("labels", "guard_low_chassis_mm")


def wheels_back(*, fixed_axle: ArrayLike, tire_rear_ahead_in: ArrayLike) -> NDArray[np.float64]:
    """1 for a wheels-back trailer: rearmost axle fixed for good, its tires' rear 305 mm or less ahead of the rear end.

    Parameters
    ----------
    fixed_axle : array_like
        1 where the rearmost axle does not slide.
    tire_rear_ahead_in : array_like
        Rear of the tires to the rear end of the trailer. [in]

    References
    ----------
    NHTSA-GUARD
    """
    fixed, ahead = np.asarray(fixed_axle, float), np.asarray(tire_rear_ahead_in, float)
    near = np.where(np.isnan(ahead), np.nan, np.round(ahead * MM_PER_IN, 6) <= WHEELS_BACK_MM)
    return np.where((fixed == 0) | (near == 0), 0.0, fixed * near)


def low_chassis(
    *, frame_behind_tires: ArrayLike, frame_edge_height_in: ArrayLike, edge_is_frame: ArrayLike
) -> NDArray[np.float64]:
    """1 for a low-chassis trailer: load-carrying frame behind the tires, its rear lower edge 560 mm high or less.

    A ramp, a flap or a tail that is only sometimes down is no frame; give the height with the tail as it travels at
    its highest.

    Parameters
    ----------
    frame_behind_tires : array_like
        1 where the frame reaches behind the rearmost tires.
    frame_edge_height_in : array_like
        Ground to the rear lower edge. [in]
    edge_is_frame : array_like
        1 where that edge is load-carrying frame over the full width.

    References
    ----------
    NHTSA-GUARD
    """
    height = np.asarray(frame_edge_height_in, float)
    low = np.where(np.isnan(height), np.nan, np.round(height * MM_PER_IN, 6) <= LOW_CHASSIS_MM)
    behind, frame = np.asarray(frame_behind_tires, float), np.asarray(edge_is_frame, float)
    none = (behind == 0) | (frame == 0) | (low == 0)
    return np.where(none, 0.0, behind * frame * low)


def guard_required(*, gvwr_lb: ArrayLike, excluded: ArrayLike = 0.0) -> NDArray[np.float64]:
    """1 where a rear guard is required: 10,000 lb GVWR or more and of no excluded class; ``nan`` not known.

    Parameters
    ----------
    gvwr_lb : array_like
        Rating on the label. [lb]
    excluded : array_like
        1 where the trailer is of an excluded class: low-chassis, wheels-back, special-purpose, pole, pulpwood,
        road-construction controlled discharge, temporary living quarters.

    References
    ----------
    CFR-49-571.224, NHTSA-GUARD
    """
    gvwr, out = np.asarray(gvwr_lb, float), np.asarray(excluded, float)
    heavy = np.where(np.isnan(gvwr), np.nan, gvwr >= GUARD_FROM_LB)
    return np.where((heavy == 0) | (out == 1), 0.0, heavy * (1.0 - out))
