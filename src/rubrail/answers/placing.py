"""Best place of a haul's cargo on many trailers at once.

The pieces stand in a row, one behind the other with the stated gap: an *arrangement* is an order and a facing for
each. For one arrangement all loads depend on the cargo's moment alone, and closing the gaps and sliding the whole row
reaches every moment that wider gaps could, so one shift an arrangement is all there is to search, and that search is
exact (``answers.shift``).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.shift import best_shift, bounds
from rubrail.checks.rows import Rows, rows_of
from rubrail.things.columns import Array, Columns

STEP_IN = 100.0
"""Distance between the two shifts that every affine row is read at."""


@dataclass(frozen=True)
class Search:
    """What the search went over, each of shape ``(row, unit, position)`` or ``(unit, position)``.

    objective, slope : relative margins that were balanced, ``objective + slope * shift``
    low, high : shifts between which they were; rank : worth of each arrangement
    deck_low, deck_high, fits : shifts at which the cargo stands on the deck, and whether it does anywhere
    """

    objective: Array
    slope: Array
    low: Array
    high: Array
    rank: Array
    deck_low: Array
    deck_high: Array
    fits: NDArray[np.bool_]


@dataclass(frozen=True)
class Places:
    """Where the cargo goes on each unit.

    arrangement : index into the arrangements, shape ``(unit,)``
    shift_in : foremost point of the foremost piece behind the coupling point, shape ``(unit,)`` [in]
    share : least relative margin among the limits that depend on place, ``inf`` where none does
    rows : what was read, at the first shift
    rising, falling : rows that hold the best place from either side, -1 where none does
    possible : whether every rating and law that depends on place, and the fit on the deck, can hold at once
    """

    arrangement: NDArray[np.intp]
    shift_in: Array
    share: Array
    rows: Rows
    rising: NDArray[np.intp]
    falling: NDArray[np.intp]
    possible: NDArray[np.bool_]
    search: Search


def shifted(columns: Columns, *, offsets_in: Array, shift_in: Array) -> Columns:
    """Columns with the row of pieces standing at a shift.

    Parameters
    ----------
    columns : Columns
        Cargo columns over the arrangements on the position axis.
    offsets_in : array
        Foremost point of each piece behind that of the foremost piece, shape ``(item, 1, position, 1)``. [in]
    shift_in : array
        Shape ``(unit, position)``. [in]
    """
    return columns.with_values({"item_front_x_in": offsets_in + np.asarray(shift_in)[None, :, :, None]})


def affine_rows(columns: Columns, *, offsets_in: Array) -> tuple[Rows, Array, Array]:
    """Relative margins of all rows as ``at_zero + slope * shift``.

    Returns
    -------
    rows : Rows
        At shift 0.
    at_zero, slope : array
        Shape ``(row, unit, position)``; ``inf`` and 0 for a row that does not depend on the shift, is not affine in
        it, does not apply, or is not known.
    """
    zero = np.zeros((columns.units, offsets_in.shape[2]))
    first = rows_of(shifted(columns, offsets_in=offsets_in, shift_in=zero))
    second = rows_of(shifted(columns, offsets_in=offsets_in, shift_in=zero + STEP_IN), like=first)
    with np.errstate(invalid="ignore", divide="ignore"):
        scale = np.where(first.scale > 0, first.scale, 1.0)
        at_zero = first.margin / scale
        slope = (second.margin - first.margin) / scale / STEP_IN
    affine = np.array([r.check.affine for r in first.rows], bool)[:, None, None]
    counts = affine & np.isfinite(at_zero) & np.isfinite(slope) & (np.abs(slope) > 1e-12)
    return first, np.where(counts, at_zero, np.inf), np.where(counts, slope, 0.0)


def best_places(columns: Columns, *, offsets_in: Array) -> Places:
    """Arrangement and shift that make the worst relative margin greatest, for each unit.

    Pieces must stand on the deck. Ratings and law come first: where they can all hold, they do, and guidance is
    met as well as that allows; where they cannot, the least bad place is given and ``possible`` is False.

    Parameters
    ----------
    columns : Columns
        Many units, all arrangements on the position axis, sample axis of length 1.
    offsets_in : array
        As in ``shifted``.
    """
    rows, at_zero, slope = affine_rows(columns, offsets_in=offsets_in)

    def only(mask: NDArray[np.bool_]) -> tuple[Array, Array]:
        keep = mask[:, None, None]
        return np.where(keep, at_zero, np.inf), np.where(keep, slope, 0.0)

    fit = rows.of_kind("fit")
    must = rows.of_kind("rating", "law")
    guided = must | rows.of_kind("guidance")
    low, high, fits = _deck(columns, *only(fit))
    deck_low, deck_high = low, high
    must_low, must_high = bounds(at_zero=only(must)[0], slope=only(must)[1])
    inner_low, inner_high = np.maximum(low, must_low), np.minimum(high, must_high)
    holds = inner_low <= inner_high
    low, high = np.where(holds, inner_low, low), np.where(holds, inner_high, high)
    counted = np.where(holds, guided[:, None, None], must[:, None, None])
    objective, slope = np.where(counted, at_zero, np.inf), np.where(counted, slope, 0.0)
    shift, value, rising, falling = best_shift(at_zero=objective, slope=slope, low=low, high=high)
    possible = fits & holds
    rank = np.where(np.isfinite(value), np.tanh(value), 0.0) + 4.0 * possible + 8.0 * fits
    best = rank.argmax(axis=1)

    def chosen(a: Array) -> Array:
        return np.take_along_axis(a, best[:, None], 1)[:, 0]

    none = ~np.isfinite(chosen(value))
    return Places(
        best,
        chosen(shift),
        chosen(value),
        rows,
        np.where(none, -1, chosen(rising)),
        np.where(none, -1, chosen(falling)),
        chosen(possible),
        Search(objective, slope, low, high, rank, deck_low, deck_high, fits),
    )


def _deck(columns: Columns, at_zero: Array, slope: Array) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Shifts at which the row of pieces stands on the deck; the middle of the overlap where it does not fit."""
    low, high = bounds(at_zero=at_zero, slope=slope)
    fits = low <= high
    with np.errstate(invalid="ignore"):
        middle = (low + high) / 2
    middle = np.where(np.isfinite(middle), middle, np.where(np.isfinite(low), low, high))
    low, high = np.where(fits, low, middle), np.where(fits, high, middle)
    # A deck nobody measured bounds nothing; search then around the axles, and the fit rows stay not known.
    x = np.where(columns["axle_present"] > 0, columns["axle_x_in"], np.nan)
    known = np.isfinite(x)
    axles = (np.where(known, x, 0.0).sum(axis=0) / np.maximum(known.sum(axis=0), 1))[..., 0]
    axles = np.broadcast_to(axles, low.shape)
    low = np.where(np.isfinite(low), low, np.where(np.isfinite(high), high - 600.0, axles - 400.0))
    return low, np.where(np.isfinite(high), high, low + 600.0), fits


def at_arrangements(columns: Columns, index: NDArray[np.intp], *, offsets_in: Array) -> tuple[Columns, Array]:
    """Columns and offsets of some arrangements of each unit.

    Parameters
    ----------
    index : array of int
        Arrangements on the position axis, shape ``(unit, position)``.
    """

    def take(a: Array) -> Array:
        if a.shape[-2] == 1:
            return a
        wide = np.broadcast_to(a, (*a.shape[:-3], len(index), *a.shape[-2:]))
        return np.take_along_axis(wide, index.reshape((1,) * (wide.ndim - 3) + (*index.shape, 1)), axis=-2)

    part = Columns(
        {n: take(a) for n, a in columns.values.items()},
        {n: take(a) for n, a in columns.plus_minus.items()},
        columns.basis,
    )
    return part, take(offsets_in)


def at_places(columns: Columns, places: Places, *, offsets_in: Array) -> Columns:
    """Columns of every unit with its cargo at its own best place: the position axis has length 1."""
    placed, offsets = at_arrangements(columns, places.arrangement[:, None], offsets_in=offsets_in)
    return shifted(placed, offsets_in=offsets, shift_in=places.shift_in[:, None])
