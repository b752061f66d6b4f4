"""The ways onto a deck: over ramps and tail, over a tail let down, or up a deck that tilts.

Places are rearward of the coupling point as everywhere on the trailer; the ways themselves run forward.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.climb_path import DECK, RAMP, TAIL, Way, way

Array = NDArray[np.float64]
STEEPEST_RAD = 1.3
"""A ramp shorter than the deck is high reaches nothing; it is drawn this steep, and every limit on slope fails."""
LEVEL_PART_IN = 24.0


def ramp_slope_rad(*, height_in: ArrayLike, length_in: ArrayLike) -> Array:
    """Slope of a ramp that leans from the ground on an edge.

    Parameters
    ----------
    height_in : array_like
        Ground to the edge. [in]
    length_in : array_like
        Of the ramp. [in]

    References
    ----------
    RAMP-ANGLE
    """
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.asarray(height_in, float) / np.asarray(length_in, float)
    return np.minimum(np.arcsin(np.clip(share, -1.0, 1.0)), STEEPEST_RAD)


def ramp_length_for_in(*, height_in: ArrayLike, slope_rad: ArrayLike) -> Array:
    """Length of a ramp that leans at a slope.

    Parameters
    ----------
    height_in : array_like
        Ground to the edge. [in]
    slope_rad : array_like
        The slope wanted. [rad]

    References
    ----------
    RAMP-ANGLE
    """
    return np.asarray(height_in, float) / np.sin(slope_rad)


def crest_limit_rad(*, belly_in: ArrayLike, wheelbase_in: ArrayLike) -> Array:
    """Greatest change of slope that a belly midway between two axles passes over.

    Parameters
    ----------
    belly_in : array_like
        Ground to the belly. [in]
    wheelbase_in : array_like
        Axle to axle. [in]

    References
    ----------
    BREAKOVER
    """
    return crest_limit_at_rad(
        belly_in=belly_in, ahead_in=np.asarray(wheelbase_in, float) / 2, behind_in=np.asarray(wheelbase_in, float) / 2
    )


def crest_limit_at_rad(*, belly_in: ArrayLike, ahead_in: ArrayLike, behind_in: ArrayLike) -> Array:
    """The same for a lowest point at given distances from the two axles.

    Parameters
    ----------
    belly_in : array_like
        Ground to the lowest point. [in]
    ahead_in, behind_in : array_like
        From it to the axle ahead and the axle behind. [in]

    References
    ----------
    BREAKOVER
    """
    belly = np.asarray(belly_in, float)
    return np.arctan(belly / np.asarray(ahead_in, float)) + np.arctan(belly / np.asarray(behind_in, float))


def over_ramps(
    *,
    deck_height_in: ArrayLike,
    deck_front_x_in: ArrayLike,
    flat_rear_x_in: ArrayLike,
    rear_x_in: ArrayLike,
    edge_height_in: ArrayLike,
    ramp_length_in: ArrayLike,
    coupler_raise_in: ArrayLike = 0.0,
    trim_rad: ArrayLike = 0.0,
) -> Way:
    """Over ramps onto the rear edge, then tail and deck.

    Parameters
    ----------
    deck_height_in : array_like
        Level deck above the ground, trailer level. [in]
    deck_front_x_in, flat_rear_x_in, rear_x_in : array_like
        Front of the deck, where it stops being level, and the rear edge. [in]
    edge_height_in : array_like
        Rear edge above the ground, trailer level. [in]
    ramp_length_in : array_like
        Of the ramps. [in]
    coupler_raise_in, trim_rad : array_like
        How far the hitch holds the nose above level, and the pitch that gives, nose up. [in], [rad]
    """
    front, flat, rear = (np.asarray(v, float) for v in (deck_front_x_in, flat_rear_x_in, rear_x_in))
    high, raised = np.asarray(deck_height_in, float), np.asarray(coupler_raise_in, float)

    def trimmed(z: ArrayLike, x: Array) -> Array:
        return z + raised - trim_rad * x

    # A deck without a tail gets a corner of its own that is none, so that every way has as many.
    top_x = np.where(rear > flat, flat, rear - LEVEL_PART_IN)
    edge = trimmed(np.where(rear > flat, edge_height_in, high) + 0.0 * (rear + flat), rear)
    length = np.asarray(ramp_length_in, float)
    slope = ramp_slope_rad(height_in=edge, length_in=length)
    return way(
        f_in=(-rear - length * np.cos(slope), -rear, -top_x, -front),
        z_in=(edge - length * np.sin(slope), edge, trimmed(high, top_x), trimmed(high, front)),
        body=(RAMP, TAIL, DECK),
    )


def down_tail(
    *,
    deck_height_in: ArrayLike,
    deck_front_x_in: ArrayLike,
    flat_rear_x_in: ArrayLike,
    tail_length_in: ArrayLike,
    lowered_height_in: ArrayLike,
    ramp_length_in: ArrayLike = np.inf,
) -> Way:
    """Over a tail that is let down, by ramps or over a plate that carries its slope on to the ground.

    Parameters
    ----------
    deck_height_in, deck_front_x_in, flat_rear_x_in
        As in ``over_ramps``. [in]
    tail_length_in : array_like
        Of the tail, along itself. [in]
    lowered_height_in : array_like
        Ground to its rear edge, let down. [in]
    ramp_length_in : array_like
        Of ramps at its edge; infinite for none. [in]
    """
    front, flat, high = (np.asarray(v, float) for v in (deck_front_x_in, flat_rear_x_in, deck_height_in))
    tail, low = np.asarray(tail_length_in, float), np.asarray(lowered_height_in, float)
    slope = ramp_slope_rad(height_in=high - low, length_in=tail)
    rear = flat + tail * np.cos(slope)
    ramp = np.asarray(ramp_length_in, float)
    if np.isinf(ramp).all():
        half = (flat + rear) / 2
        return way(
            f_in=(-flat - high / np.tan(slope), -half, -flat, -front),
            z_in=(0.0 * high, high - (high - low) / 2, high, high),
            body=(TAIL, TAIL, DECK),
        )
    lean = ramp_slope_rad(height_in=low, length_in=ramp)
    return way(
        f_in=(-rear - ramp * np.cos(lean), -rear, -flat, -front),
        z_in=(low - ramp * np.sin(lean), low, high, high),
        body=(RAMP, TAIL, DECK),
    )


def tilt_pivot_in(*, deck_height_in: ArrayLike, tilt_angle_rad: ArrayLike, tilt_length_in: ArrayLike) -> Array:
    """Rear edge of a tilting deck to the pivot it must have to reach the ground at its stated angle.

    Parameters
    ----------
    deck_height_in : array_like
        Level deck above the ground. [in]
    tilt_angle_rad : array_like
        Deck to ground when tilted. [rad]
    tilt_length_in : array_like
        Of the part that tilts; the pivot cannot lie ahead of it. [in]

    References
    ----------
    TILT-PIVOT
    """
    back = np.asarray(deck_height_in, float) / np.sin(tilt_angle_rad)
    return np.minimum(back, tilt_length_in)


def up_tilt(
    *,
    deck_height_in: ArrayLike,
    deck_front_x_in: ArrayLike,
    rear_x_in: ArrayLike,
    tilt_length_in: ArrayLike,
    tilt_angle_rad: ArrayLike,
) -> tuple[Way, Way]:
    """Up a tilting deck: the way while it is tilted, and the same deck level again.

    Parameters
    ----------
    deck_height_in, deck_front_x_in, rear_x_in
        As in ``over_ramps``. [in]
    tilt_length_in : array_like
        Of the rear part that tilts. [in]
    tilt_angle_rad : array_like
        Deck to ground when tilted. [rad]

    Returns
    -------
    tilted, level : Way
        On both the point after the foot is the pivot.
    """
    front, rear, high = (np.asarray(v, float) for v in (deck_front_x_in, rear_x_in, deck_height_in))
    tilts = np.asarray(tilt_length_in, float)
    back = tilt_pivot_in(deck_height_in=high, tilt_angle_rad=tilt_angle_rad, tilt_length_in=tilts)
    slope = ramp_slope_rad(height_in=high, length_in=back)
    cos, sin = np.cos(slope), np.sin(slope)
    pivot = rear - back
    ahead = np.maximum(tilts - back, 1.0)
    tilted = way(
        f_in=(-pivot - back * cos, -pivot, -pivot + ahead * cos),
        z_in=(0.0 * high, high, high + ahead * sin),
        body=(RAMP, RAMP),
    )
    level = way(
        f_in=(-rear, -pivot, np.maximum(-front, -pivot + ahead)),
        z_in=(high, high, high),
        body=(DECK, DECK),
    )
    return tilted, level
