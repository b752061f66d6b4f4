"""Deck height from the build: heights stacked up from the ground to the top of the planks.

Loaded tire, up from the axle's center to the underside of the main beam, the beam, what the crossmembers stand above
it, the deck. A stacked frame lays its crossmembers on the beams and rises by their depth. A pierced frame runs
them through the beams' webs, a little under the top, and rises by that little less than nothing.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def deck_height_in(
    *,
    loaded_radius_in: ArrayLike,
    axle_to_frame_in: ArrayLike,
    axle_drop_in: ArrayLike = 0.0,
    beam_depth_in: ArrayLike,
    stacked: ArrayLike,
    crossmember_depth_in: ArrayLike,
    crossmember_rise_in: ArrayLike,
    deck_thickness_in: ArrayLike,
) -> Array:
    """Ground to the top of the deck, trailer level, tires at their rated load.

    Parameters
    ----------
    loaded_radius_in : array_like
        Axle center (the spindle's) to ground. [in]
    axle_to_frame_in : array_like
        Axle center of a straight axle up to the underside of the main beam, springs under load. [in]
    axle_drop_in : array_like
        How far the axle's tube lies below its spindles; 0 for a straight axle. [in]
    beam_depth_in : array_like
        Depth of the main beam. [in]
    stacked : array_like
        1 where the crossmembers lie on the beams, 0 where they pierce them.
    crossmember_depth_in : array_like
        Depth of the crossmembers; asked for where stacked. [in]
    crossmember_rise_in : array_like
        Their top above the beam's top where they pierce it; negative below. [in]
    deck_thickness_in : array_like
        Thickness of the deck material. [in]

    References
    ----------
    DECK-STACK
    """
    over = np.asarray(stacked, float)
    across = np.where(over == 0, crossmember_rise_in, np.asarray(crossmember_depth_in, float) + 0.0 * over)
    frame = np.asarray(loaded_radius_in, float) + axle_to_frame_in - axle_drop_in
    return frame + beam_depth_in + across + deck_thickness_in
