"""Anchors of many trailers as arrays, and the choice of the strongest in reach for all of them at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.secure_parts import Cell
from rubrail.things.trailer import Trailer

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Anchors:
    """Anchors of trailers: shape ``(unit, anchor)``, an entry's own side and its other side next to each other.

    there : whether there is one; x_in, y_in, z_in, wll_lb : ``nan`` where not known; mirrored : whether both sides of
    the entry have it; deck_in : height of the deck, shape ``(unit,)``.
    """

    there: NDArray[np.bool_]
    x_in: Array
    y_in: Array
    z_in: Array
    wll_lb: Array
    mirrored: NDArray[np.bool_]
    deck_in: Array

    def take(self, units: NDArray[np.intp]) -> Anchors:
        """Only some of the units."""
        return Anchors(*(getattr(self, f)[units] for f in self.__dataclass_fields__))

    def unknown_never_governs(self) -> Anchors:
        """The same with every limit and place that is not known as good as it could be."""
        side = np.where(np.arange(self.y_in.shape[1]) % 2 == 0, -1.0, 1.0)
        return Anchors(
            self.there,
            self.x_in,
            np.where(np.isnan(self.y_in), side, self.y_in),
            self.z_in,
            np.where(np.isnan(self.wll_lb), np.inf, self.wll_lb),
            self.mirrored,
            self.deck_in,
        )


def anchors_of_yard(trailers: Sequence[Trailer]) -> Anchors:
    """Anchors of a yard's trailers; made once, it serves every haul."""
    most = max((len(t.anchor) for t in trailers), default=0)
    shape = (len(trailers), 2 * max(most, 1))
    there, mirrored = np.zeros(shape, bool), np.zeros(shape, bool)
    x, y, z, wll = (np.full(shape, np.nan) for _ in range(4))
    for u, trailer in enumerate(trailers):
        for n, a in enumerate(trailer.anchor):
            place, limit = [_number(v) for v in (a.from_coupler_in, a.y_in, a.height_in)], _number(a.wll_lb)
            both = a.both_sides and place[1] != 0
            for k, factor in ((2 * n, 1.0), (2 * n + 1, -1.0))[: 1 + both]:
                there[u, k], mirrored[u, k] = True, both
                x[u, k], y[u, k], z[u, k], wll[u, k] = place[0], factor * place[1], place[2], limit
    deck = np.array([_number(t.deck.height_in) for t in trailers])
    return Anchors(there, x, y, z, wll, mirrored, deck)


def _number(cell: Cell) -> float:
    return np.nan if cell is None else float(cell)


@dataclass
class Choice:
    """Tie-downs chosen so far for one piece on every unit; arrays of shape ``(unit,)``.

    free, chosen : anchors that may be taken, and those taken, ``(unit, anchor)``; count : tie-downs; counted_lb : what
    they count;
    ends : whether there is one at the front, at the rear, on the left and on the right, ``(unit, 4)``.
    """

    free: NDArray[np.bool_]
    chosen: NDArray[np.bool_]
    count: NDArray[np.intp]
    counted_lb: Array
    ends: NDArray[np.bool_]


def begun(anchors: Anchors, taken: NDArray[np.bool_]) -> Choice:
    """Nothing chosen yet."""
    units = len(anchors.there)
    none = np.zeros_like(taken)
    return Choice(anchors.there & ~taken, none, np.zeros(units, np.intp), np.zeros(units), np.zeros((units, 4), bool))


def take_best(
    choice: Choice, anchors: Anchors, *, point_in: Array, open_: NDArray[np.bool_], gear_lb: Array, gear_in: Array,
    limit_lb: float, center_in: Array, share: float, blind: bool, by_limit: bool = True,
) -> NDArray[np.bool_]:
    """Give one tie point the best free anchor on its side and in reach, on every open unit; says where one was found.

    Parameters
    ----------
    point_in : array
        Place of the point on each unit, ``(unit, 3)``. [in]
    open_ : array of bool
        Units that still need one.
    gear_lb, gear_in : array
        Limit and length of the gear at hand on each unit.
    limit_lb : float
        Limit of the point, infinite where none is stated.
    share : float
        What of the limit counts.
    blind : bool
        An unknown distance counts as within reach.
    by_limit : bool
        The strongest anchor, else the nearest.
    """  # fmt: skip
    away = np.stack([anchors.x_in, anchors.y_in, anchors.z_in], axis=-1) - point_in[:, None, :]
    way = np.sqrt((away**2).sum(axis=-1))
    reach = (way <= gear_in[:, None]) | (blind & np.isnan(way))
    side = np.nan_to_num(anchors.y_in * np.nan_to_num(point_in[:, 1:2])) >= 0
    good = np.minimum(np.minimum(anchors.wll_lb, gear_lb[:, None]), limit_lb)
    fit = choice.free & reach & side & ~np.isnan(good) & open_[:, None]
    found = fit.any(axis=1)
    worth = (good if by_limit else 0.0) - 1e-6 * np.nan_to_num(way)
    pick = np.where(fit, worth, -np.inf).argmax(axis=1)
    rows = np.flatnonzero(found)
    at = pick[rows]
    choice.free[rows, at] = False
    choice.chosen[rows, at] = True
    choice.count[rows] += 1
    choice.counted_lb[rows] += share * good[rows, at]
    ahead = point_in[rows, 0] < center_in[rows]
    unsure = blind & np.isnan(point_in[rows, 0] + center_in[rows])
    y = anchors.y_in[rows, at]
    choice.ends[rows] |= np.stack([ahead | unsure, ~ahead | unsure, y < 0, y > 0], axis=-1)
    return found
