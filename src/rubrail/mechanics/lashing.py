"""Tie-downs as lines in space: how long they are, at what angles they pull, what they do to the piece they hold.

Axes as everywhere: x rearward, y to the right seen from behind, z up. A place is an array whose last axis is x, y, z.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

DIRECT, SAME_SIDE, OVER = range(3)
TOWARD = np.array([[-1.0, 0, 0], [1.0, 0, 0], [0, -1.0, 0], [0, 1.0, 0], [0, 0, 1.0]])
"""Where the piece would go: forward, rearward, left, right, up."""


def _unit(a: NDArray[np.float64], b: NDArray[np.float64]) -> NDArray[np.float64]:
    way = b - a
    long = np.sqrt((way**2).sum(axis=-1, keepdims=True))
    return np.where(long > 0, way / np.where(long > 0, long, 1.0), 0.0 * (way + long))


def _apart(a: NDArray[np.float64], b: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.sqrt(((b - a) ** 2).sum(axis=-1))


def across(point_in: ArrayLike) -> NDArray[np.float64]:
    """The place on the other side of the center line: where a tie-down that goes over comes down. [in]"""
    return np.asarray(point_in, float) * np.array([1.0, -1.0, 1.0])


def line_length_in(
    *, path: ArrayLike, anchor_in: ArrayLike, point_in: ArrayLike, far_in: ArrayLike
) -> NDArray[np.float64]:
    """Length of a tie-down from anchor to piece, or on to its second anchor. [in]

    Parameters
    ----------
    path : array_like
        0 direct, 1 round to the same side, 2 over to the other side.
    anchor_in, point_in, far_in : array_like
        Its anchor, where it meets the piece, and its second anchor (any value for one that goes direct); last axis
        x, y, z. [in]
    """
    kind = np.asarray(path, float)
    anchor, point, far = (np.asarray(p, float) for p in (anchor_in, point_in, far_in))
    first = _apart(anchor, point)
    back = first + _apart(point, far)
    over = first + _apart(point, across(point)) + _apart(across(point), far)
    long = np.where(kind == DIRECT, first, np.where(kind == SAME_SIDE, back, over))
    return np.where(np.isnan(kind), np.nan, long)


def pulls(
    *, path: ArrayLike, anchor_in: ArrayLike, point_in: ArrayLike, far_in: ArrayLike, about_in: ArrayLike
) -> NDArray[np.float64]:
    """Force and moment on the piece for each pound of tension; last axis Fx, Fy, Fz, Mx, My, Mz. [lb/lb], [in]

    Parameters
    ----------
    path, anchor_in, point_in, far_in : array_like
        As for ``line_length_in``.
    about_in : array_like
        Place the moments are taken about, last axis x, y, z. [in]

    References
    ----------
    LASHING-STATICS
    """
    kind = np.asarray(path, float)[..., None]
    anchor, point, far = (np.asarray(p, float) for p in (anchor_in, point_in, far_in))
    about = np.asarray(about_in, float)
    other = np.where(kind == OVER, across(point), point)
    first, second = _unit(point, anchor), _unit(other, far)
    one, two = (
        np.concatenate(np.broadcast_arrays(force, np.cross(place - about, force)), axis=-1)
        for force, place in ((first, point), (second, other))
    )
    return np.where(kind == DIRECT, one, one + two)


def slope_rad(*, anchor_in: ArrayLike, point_in: ArrayLike) -> NDArray[np.float64]:
    """Angle of a tie-down to the level deck, positive where it pulls the piece down. [rad]"""
    way = np.asarray(point_in, float) - np.asarray(anchor_in, float)
    return np.arctan2(way[..., 2], np.hypot(way[..., 0], way[..., 1]))


def plan_rad(*, anchor_in: ArrayLike, point_in: ArrayLike) -> NDArray[np.float64]:
    """Angle seen from above between a tie-down and the length of the trailer, 0 to a quarter turn. [rad]"""
    way = np.asarray(anchor_in, float) - np.asarray(point_in, float)
    return np.arctan2(np.abs(way[..., 1]), np.abs(way[..., 0]))


def ring_in(
    *, front_x_in: ArrayLike, rear_x_in: ArrayLike, width_in: ArrayLike, height_in: ArrayLike
) -> NDArray[np.float64]:
    """Corners of the area a piece stands on: shape ``(..., 4, 3)``. [in]

    Parameters
    ----------
    front_x_in, rear_x_in, width_in, height_in : array_like
        Where contact begins and ends, its width about the center line, and the deck's height. [in]
    """
    front, rear, width, height = np.broadcast_arrays(*(np.asarray(v, float) for v in (
        front_x_in, rear_x_in, width_in, height_in
    )))  # fmt: skip
    half = width / 2
    corners = [(front, -half), (front, half), (rear, half), (rear, -half)]
    return np.stack([np.stack([x, y, height], axis=-1) for x, y in corners], axis=-2)
