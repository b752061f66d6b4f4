"""How far a rig may fold, seen from above and from the side, before truck and trailer touch."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.turning import Places

FOLDED_RAD = np.radians(120.0)
"""No one folds a rig further than this going ahead."""
_SCAN_RAD = np.radians(0.5)
_TO_RAD = np.radians(0.01)


def apart_in(a: Places, b: Places) -> float:
    """Greatest gap between two convex outlines along the direction of any of their sides; negative where they meet.

    By the separating-axis rule: convex outlines are apart just when the direction of some side tells them apart.

    Parameters
    ----------
    a, b : array of complex, shape ``(corner,)``
        Corners in turn.
    """
    gaps = []
    for outline in (a, b):
        sides = np.roll(outline, -1) - outline
        across = 1j * sides / np.abs(sides)
        on_a, on_b = (np.real(points[:, None] * np.conj(across)) for points in (a, b))
        gaps.append(np.maximum(on_b.min(axis=0) - on_a.max(axis=0), on_a.min(axis=0) - on_b.max(axis=0)).max())
    return float(max(gaps))


def touch_angle_rad(*, towing: Places, towed: Places) -> float:
    """Angle at which a trailer that folds about the coupling point first meets what stands ahead of it.

    Parameters
    ----------
    towing, towed : array of complex, shape ``(corner,)``
        Outlines at the same height, coupling point at 0, ahead and right as in ``turning``.

    Returns
    -------
    float
        ``inf`` where they never meet up to ``FOLDED_RAD``; 0 where they meet in line.
    """

    def gap(angle: float) -> float:
        return apart_in(towing, towed * np.exp(-1j * angle))

    if gap(0.0) < 0:
        return 0.0
    low = 0.0
    for high in np.arange(_SCAN_RAD, FOLDED_RAD + _SCAN_RAD, _SCAN_RAD):
        if gap(high) < 0:
            while high - low > _TO_RAD:
                middle = (low + high) / 2.0
                low, high = (low, middle) if gap(middle) < 0 else (middle, high)
            return float(low)
        low = float(high)
    return float("inf")


def crest_angle_rad(*, clearance_in: ArrayLike, reach_in: ArrayLike) -> NDArray:
    """Change of slope at which an underside so far above an edge comes down on it: ``atan(clearance / reach)``.

    Parameters
    ----------
    clearance_in : array_like
        Underside above edge with both level.
    reach_in : array_like
        From the coupling point, about which they pitch, to the edge.

    Returns
    -------
    array
        0 where there is no clearance; a right angle where the edge is at the coupling point itself.
    """
    return np.arctan2(np.maximum(clearance_in, 0.0), np.asarray(reach_in, float))
