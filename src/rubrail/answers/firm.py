"""Prefer a place that holds with every tolerance against it to one with more to spare on paper.

The stated values choose the place first. Where tolerances could break a limit there, the search is repeated over the
stretch in which no tolerance can. Harm done by tolerances bends margins the safe way (every worst margin is concave in
the shift), so the straight line between the ends of the stretch never promises too much.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.placing import Places, at_arrangements, at_places, best_places, shifted
from rubrail.answers.shift import best_shift, bounds
from rubrail.checks.judge import Judgement, judge
from rubrail.checks.rows import VERDICT_KINDS, rows_of
from rubrail.checks.tolerance import nudged, nudged_again, worst_margin
from rubrail.checks.verdict import DEPENDS
from rubrail.things.columns import Array, Columns

TRIED = 6
"""Arrangements tried again for each unit, the best on paper first."""


def settled_places(columns: Columns, *, offsets_in: Array) -> tuple[Places, Columns, Judgement]:
    """Best place of each unit, the rigs there, and their judgement.

    Parameters
    ----------
    columns, offsets_in
        As in ``placing.best_places``.
    """
    places = best_places(columns, offsets_in=offsets_in)
    placed = at_places(columns, places, offsets_in=offsets_in)
    judgement = judge(placed)
    again = np.flatnonzero((judgement.verdict[:, 0] == DEPENDS) & places.possible)
    if not again.size:
        return places, placed, judgement
    part = columns.take(again)
    arrangement, shift = _firmest(part, places, again, offsets_in)
    tried = replace(places, arrangement=arrangement, shift_in=shift)
    found = judge(at_places(part, tried, offsets_in=offsets_in)).verdict[:, 0]
    better = found > judgement.verdict[again, 0]
    if not better.any():
        return places, placed, judgement
    places = replace(places, arrangement=places.arrangement.copy(), shift_in=places.shift_in.copy())
    places.arrangement[again[better]] = arrangement[better]
    places.shift_in[again[better]] = shift[better]
    placed = at_places(columns, places, offsets_in=offsets_in)
    return places, placed, judge(placed)


def _firmest(
    columns: Columns, places: Places, units: NDArray[np.intp], offsets_in: Array
) -> tuple[NDArray[np.intp], Array]:
    """Arrangement and shift of some units that tolerances harm least."""
    search = places.search
    tried = np.argsort(-search.rank[units], axis=1, kind="stable")[:, :TRIED]

    def of_tried(a: Array) -> Array:
        return np.take_along_axis(a[..., units, :], tried.reshape((1,) * (a.ndim - 2) + tried.shape), axis=-1)

    low, high = of_tried(search.low), of_tried(search.high)
    part, offsets = at_arrangements(columns, tried, offsets_in=offsets_in)
    worst, span, rows = [], np.maximum(high - low, 1e-9), None
    wide, nudges = nudged(shifted(part, offsets_in=offsets, shift_in=low))
    for shift in (low, low + span):
        moved = shifted(part, offsets_in=offsets, shift_in=shift)
        wide = nudged_again(wide, nudges, {"item_front_x_in": moved["item_front_x_in"]})
        rows = rows_of(wide, like=rows)
        with np.errstate(invalid="ignore", divide="ignore"):
            worst.append(worst_margin(rows, len(nudges)) / np.where(rows.scale > 0, rows.scale, 1.0))
    with np.errstate(invalid="ignore"):
        slope = (worst[1] - worst[0]) / span
        at_zero = worst[0] - slope * low
    counts = rows.of_kind(*VERDICT_KINDS)[:, None, None] & np.isfinite(at_zero) & (np.abs(slope) > 1e-12)
    at_zero, slope = np.where(counts, at_zero, np.inf), np.where(counts, slope, 0.0)
    firm_low, firm_high = bounds(at_zero=at_zero, slope=slope)
    firm_low, firm_high = np.maximum(firm_low, low), np.minimum(firm_high, high)
    firm = firm_low <= firm_high
    shift, value, *_ = best_shift(
        at_zero=np.where(firm, of_tried(search.objective), at_zero),
        slope=np.where(firm, of_tried(search.slope), slope),
        low=np.where(firm, firm_low, low),
        high=np.where(firm, firm_high, high),
    )
    best = (np.where(np.isfinite(value), np.tanh(value), 0.0) + 4.0 * firm).argmax(axis=1)
    pick = best[:, None]
    return np.take_along_axis(tried, pick, 1)[:, 0], np.take_along_axis(shift, pick, 1)[:, 0]
