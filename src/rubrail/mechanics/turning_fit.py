"""Does what a rig sweeps fit the corner of two lanes, and with how much to spare.

A corner turns right: the rig comes along a lane ``entry_in`` wide and leaves along one ``exit_in`` wide, turned by
``angle_rad``; the inner edges meet in a curb of radius ``curb_in``. The rig may keep wherever in its lane it likes,
and turn in as early or late as it likes; it does not swing the other way first, and does not back up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.mechanics.turning import Places

TO_IN = 0.05
"""How finely the room to spare is found."""


@dataclass(frozen=True, slots=True)
class Corner:
    """Two lanes that meet [in, rad]; ``0 < angle_rad < pi``."""

    angle_rad: float
    entry_in: float
    exit_in: float
    curb_in: float = 0.0

    @property
    def exit_right(self) -> complex:
        """Direction to the right of the lane one leaves by."""
        return complex(-np.sin(self.angle_rad), np.cos(self.angle_rad))

    def apex_at(self, *, right_in: float, exit_right_in: float) -> complex:
        """Where the inner edges meet: one so far right of the way in, the other so far right of the way out."""
        r = self.exit_right
        return complex((exit_right_in - right_in * r.imag) / r.real, right_in)


@dataclass(frozen=True, slots=True)
class Fit:
    """Room to the nearest edge when the rig keeps where it has most: negative where it does not fit [in].

    apex : where the inner edges meet, in the places the rig was driven in
    """

    spare_in: float
    apex: complex


def best_fit(swept: Places, *, corner: Corner, inner_side: Places | None = None) -> Fit:
    """Place the corner around what one turn sweeps, so that the least room to any edge is greatest.

    Asking for more room on both outer sides pushes the inner curb into the rig, and asking for less frees it; so the
    best place is where both outer edges and the curb are equally far, and it is found by halving.

    Parameters
    ----------
    swept : array of complex, shape ``(point,)``
        Everything the bodies pass over, in the places of ``turning_rig.course``.
    corner : Corner
    inner_side : array of complex, optional
        The part of it that may meet the curb, where that is known; all of it otherwise.
    """
    near = swept if inner_side is None else inner_side
    left = float(swept.imag.min())
    exit_left = float(_along(swept, corner.exit_right).min())

    def apex(spare: float) -> complex:
        return corner.apex_at(
            right_in=left + corner.entry_in - spare, exit_right_in=exit_left + corner.exit_in - spare
        )

    def inner(spare: float) -> float:
        return float(curb_distance_in(near, apex=apex(spare), corner=corner).min())

    high = min(corner.entry_in, corner.exit_in)
    low = -4.0 * float(np.ptp(swept.imag) + np.ptp(_along(swept, corner.exit_right)))
    while high - low > TO_IN:
        middle = (low + high) / 2.0
        low, high = (middle, high) if inner(middle) >= middle else (low, middle)
    return Fit(low, apex(low))


def curb_distance_in(points: Places, *, apex: complex, corner: Corner) -> NDArray:
    """How far points are from the inner curb; negative where they are over it.

    The curb is the wedge right of both inner edges, its point rounded to ``curb_in``: the wedge drawn in by that
    radius, and everything within the radius of it.
    """
    r = corner.exit_right
    # The drawn-in wedge's own point lies so far from both edges.
    shift = corner.apex_at(right_in=corner.curb_in, exit_right_in=corner.curb_in)
    from_point = points - (apex + shift)
    over_in, over_out = from_point.imag, _along(from_point, r)
    inside = np.minimum(over_in, over_out)
    along_in, along_out = from_point.real, _along(from_point, r / 1j)
    # Outside the wedge the nearest place is on one of its two edges, or its point.
    to_in = np.hypot(np.maximum(along_in, 0.0), over_in)
    to_out = np.hypot(np.maximum(-along_out, 0.0), over_out)
    outside = np.minimum(to_in, to_out)
    return np.where(inside > 0, -inside, outside) - corner.curb_in


def _along(points: Places, direction: complex) -> NDArray:
    return (points * np.conj(direction)).real
