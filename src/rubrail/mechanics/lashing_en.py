"""Securing forces by the European method: top-over and direct lashings, blocking, tipping.

Forces may be in any one unit, weights in the same (``weight`` is the mass times gravity). Angles: ``slope_rad`` to the
deck; ``plan_rad`` seen from above, from the direction that is restrained.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray


def _f(value: ArrayLike) -> NDArray[np.float64]:
    return np.asarray(value, float)


def top_over_exact(
    *,
    weight: ArrayLike,
    friction: ArrayLike,
    acceleration_g: ArrayLike,
    slope_rad: ArrayLike,
    tension: ArrayLike,
    safety: ArrayLike,
    transmission: ArrayLike = 2.0,
    vertical_g: ArrayLike = 1.0,
) -> NDArray[np.float64]:
    """Top-over lashings that keep a piece from sliding, before rounding up; 0 or less where friction alone does.

    Parameters
    ----------
    weight, tension : array_like
        Weight of the piece, and tension of one lashing, same unit.
    friction, acceleration_g, vertical_g, safety, transmission : array_like
        Friction factor, design accelerations along and down, safety factor, and the sides of a lashing that pull down:
        2 in the 2010 edition, 1.5 in that of 2003.

    References
    ----------
    EN-12195-1
    """
    slide = (_f(acceleration_g) - _f(friction) * vertical_g) * weight * safety
    return slide / (_f(transmission) * friction * np.sin(_f(slope_rad)) * tension)


def top_over_count(**given: ArrayLike) -> NDArray[np.float64]:
    """Whole top-over lashings: ``top_over_exact`` rounded up, and none where friction alone holds.

    References
    ----------
    EN-12195-1
    """
    exact = top_over_exact(**given)
    return np.where(np.isnan(exact), np.nan, np.maximum(np.ceil(exact - 1e-9), 0.0))


def top_over_holds(*, friction: ArrayLike, tension: ArrayLike, transmission: ArrayLike = 2.0) -> NDArray[np.float64]:
    """Sliding force one upright top-over lashing holds by the friction it adds, unit of ``tension``.

    References
    ----------
    GDV-ROAD
    """
    return _f(transmission) * friction * tension


def top_over_weight(
    *, friction: ArrayLike, acceleration_g: ArrayLike, slope_rad: ArrayLike, tension: ArrayLike
) -> NDArray[np.float64]:
    """Weight that one top-over lashing keeps from sliding, without safety factor, unit of ``tension``.

    References
    ----------
    NTC-TIE-DOWN
    """
    return 2.0 * _f(friction) * tension * np.sin(_f(slope_rad)) / (_f(acceleration_g) - friction)


def stands_untied(
    *, acceleration_g: ArrayLike, height: ArrayLike, to_edge: ArrayLike, vertical_g: ArrayLike = 1.0
) -> NDArray[np.float64]:
    """1 where a piece without lashings does not tip: ``vertical_g * to_edge > acceleration_g * height``.

    Parameters
    ----------
    height, to_edge : array_like
        Height of the center of gravity, and its distance level from the edge it would tip over, same unit.

    References
    ----------
    EN-12195-1
    """
    up, down = _f(acceleration_g) * height, _f(vertical_g) * to_edge
    return np.where(np.isnan(up + down), np.nan, down > up)


def top_over_tipping_exact(
    *,
    weight: ArrayLike,
    acceleration_g: ArrayLike,
    height: ArrayLike,
    to_edge: ArrayLike,
    width: ArrayLike,
    slope_rad: ArrayLike,
    tension: ArrayLike,
    safety: ArrayLike,
    vertical_g: ArrayLike = 1.0,
) -> NDArray[np.float64]:
    """Top-over lashings that keep one row from tipping sideways, counting only the leg away from the edge.

    References
    ----------
    LASHING-STATICS
    """
    tips = _f(weight) * (_f(acceleration_g) * height - _f(vertical_g) * to_edge) * safety
    return tips / (_f(tension) * np.sin(_f(slope_rad)) * width)


def direct_needed(
    *,
    weight: ArrayLike,
    friction: ArrayLike,
    acceleration_g: ArrayLike,
    slope_rad: ArrayLike,
    plan_rad: ArrayLike,
    working: ArrayLike = 1.0,
    dynamic: ArrayLike = 0.75,
    vertical_g: ArrayLike = 1.0,
) -> NDArray[np.float64]:
    """Force each of ``working`` like direct lashings takes to keep a piece from sliding, unit of ``weight``.

    Parameters
    ----------
    dynamic : array_like
        Share of the friction that counts while a lashing stretches.

    References
    ----------
    EN-12195-1
    """
    rubs = _f(friction) * dynamic
    one = np.cos(_f(slope_rad)) * np.cos(_f(plan_rad)) + rubs * np.sin(_f(slope_rad))
    return _f(weight) * (_f(acceleration_g) - rubs * vertical_g) / (_f(working) * one)


def blocking_needed(
    *, weight: ArrayLike, friction: ArrayLike, acceleration_g: ArrayLike, vertical_g: ArrayLike = 1.0
) -> NDArray[np.float64]:
    """Force a blocking device takes to keep a piece from sliding, at least 0, unit of ``weight``.

    References
    ----------
    EN-12195-1
    """
    return np.maximum((_f(acceleration_g) - _f(friction) * vertical_g) * weight, 0.0)


def sliding(
    *,
    weight: ArrayLike,
    friction: ArrayLike,
    acceleration_g: ArrayLike,
    safety: ArrayLike,
    along: ArrayLike,
    down: ArrayLike,
    capacity: ArrayLike,
    drawn: ArrayLike,
    is_over: ArrayLike,
    dynamic: float = 0.75,
    vertical_g: float = 1.0,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Force that would slide a piece, and what direct and top-over lashings together hold against it.

    Parameters
    ----------
    along, down : array_like
        For each lashing (first axis), pull against the movement and pull down per unit of its force; of one that goes
        over, of both legs together.
    capacity, drawn : array_like
        Lashing capacity of each, used by direct ones; tension of each, used by those that go over.
    is_over : array_like
        1 where a lashing goes over.
    dynamic : float
        Share of the friction that counts where any direct lashing works.

    Returns
    -------
    slides, holds : array
        Unit of ``weight``; ``slides`` is at least 0.

    References
    ----------
    EN-12195-1
    """
    over, along, down = _f(is_over), _f(along), _f(down)
    works = (over == 0) & (along > 0)
    some = works.any(axis=0)
    rubs = _f(friction) * np.where(some, dynamic, 1.0)
    direct = np.where(works, _f(capacity) * (along + rubs * np.maximum(down, 0.0)), 0.0)
    tops = np.where(over == 1, rubs * _f(drawn) * np.maximum(down, 0.0) / safety, 0.0)
    slides = np.maximum((_f(acceleration_g) - rubs * vertical_g) * weight, 0.0)
    return slides, (direct + tops).sum(axis=0)


def tipping(
    *,
    weight: ArrayLike,
    acceleration_g: ArrayLike,
    safety: ArrayLike,
    height: ArrayLike,
    to_edge: ArrayLike,
    righting: ArrayLike,
    capacity: ArrayLike,
    drawn: ArrayLike,
    is_over: ArrayLike,
    vertical_g: float = 1.0,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Moment that would tip a piece about an edge, and the moment lashings hold against it.

    Parameters
    ----------
    righting : array_like
        Moment about the edge for each unit of a lashing's force (first axis), positive where it holds the piece down.

    Returns
    -------
    tips, holds : array
        Unit of ``weight`` times length; ``tips`` is at least 0.

    References
    ----------
    EN-12195-1
    """
    over = _f(is_over) == 1
    force = np.where(over, _f(drawn) / safety, _f(capacity))
    tips = _f(weight) * (_f(acceleration_g) * height - vertical_g * _f(to_edge))
    return np.maximum(tips, 0.0), np.where(_f(righting) > 0, force * righting, 0.0).sum(axis=0)
