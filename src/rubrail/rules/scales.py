"""How far off a scale's reading may be: by its class, its division and what it shows."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import table

Array = NDArray[np.float64]

SHARED = 0.5
"""Share of the variance of a scale's own error that is the same in all its readings of one ticket. Our own choice: all
of it would let the error vanish in a difference, none of it would let many readings of one scale wear it away."""


@dataclass(frozen=True, slots=True)
class ScaleKind:
    """One kind of scale: its class (empty for none), usual division, spread of weighing again, share it may be off."""

    kind: str
    scale_class: str
    division_lb: float
    again_lb: float
    share: float


def scale_kind(kind: str) -> ScaleKind:
    """The row of a kind of scale; ``other`` has a division of 10 lb and no accuracy of its own.

    References
    ----------
    WEIGHING-PRACTICE
    """
    for row in table("scale-kinds")["rows"]:
        if row["kind"] == kind:
            return ScaleKind(
                kind, row["class"], float(row["division_lb"]), float(row["again_lb"]), row["share_percent"] / 100
            )
    return ScaleKind(kind, "", 10.0, 10.0, 0.0)


def off_lb(*, scale_class: str, division_lb: ArrayLike, shown_lb: ArrayLike) -> Array:
    """How far a scale of a class may be off at what it shows, either way. [lb]

    Parameters
    ----------
    scale_class : str
        ``III L`` or ``IIII``.
    division_lb, shown_lb : array_like
        The scale's division, and its reading. [lb]

    Raises
    ------
    KeyError
        If the table has no such class.

    References
    ----------
    HB-44
    """
    rows = [r for r in table("scale-tolerance")["rows"] if r["class"] == scale_class]
    if not rows:
        raise KeyError(scale_class)
    division = np.asarray(division_lb, float)
    load = np.abs(np.asarray(shown_lb, float)) / division
    divisions = np.zeros(np.broadcast_shapes(division.shape, load.shape))
    for row in rows:
        beyond = load > row["from_divisions"] if row["from_divisions"] else np.ones_like(load, bool)
        more = np.ceil((load - row["from_divisions"]) / row["each_divisions"]) - 1 if row["each_divisions"] else 0.0
        divisions = np.where(beyond, row["off_divisions"] + more, divisions)
    return divisions * division


def own_doubt_lb(*, off_lb: ArrayLike, division_lb: ArrayLike, again_lb: ArrayLike) -> Array:
    """Standard uncertainty of one reading that it shares with no other. [lb]

    Parameters
    ----------
    off_lb : array_like
        How far the scale may be off. [lb]
    division_lb : array_like
        Its division, of which the reading is the nearest. [lb]
    again_lb : array_like
        How far the same rig reads apart when it drives on again. [lb]

    References
    ----------
    JCGM-100, WEIGHING-PRACTICE
    """
    off, step, again = (np.asarray(x, float) for x in (off_lb, division_lb, again_lb))
    return np.sqrt((1 - SHARED) * off**2 / 3 + step**2 / 12 + again**2 / 3)


def shared_doubt_lb(*, off_lb: ArrayLike) -> Array:
    """Standard uncertainty of a reading that is the same error in every reading of its scale. [lb]

    Parameters
    ----------
    off_lb : array_like
        How far the scale may be off. [lb]

    References
    ----------
    JCGM-100
    """
    return np.sqrt(SHARED / 3) * np.asarray(off_lb, float)
