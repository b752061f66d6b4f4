"""Which reading more would tell what the readings taken cannot."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np

from rubrail.answers.ticket_layout import EMPTY, Layout
from rubrail.answers.ticket_report import Wanted
from rubrail.mechanics.least_squares import Fit
from rubrail.things.columns import Array
from rubrail.things.ticket import Reading, Weighing

MOST = 3
"""Readings named for one value."""
_TOLD = 1e-6

_TRUCK = (("truck",), ("steer",), ("drive",))
_TRAILER = (("coupler",), ("trailer",))
_HITCHED = (("axles",), ("drive",), ("steer",), ("rig",), ("truck",))


def candidates(layout: Layout) -> Iterator[tuple[Wanted, Array]]:
    """Readings that could be taken, the easiest first: what stood already, then the trailer or truck alone."""
    done = {(w.state, w.load or EMPTY) for w in layout.ticket.weighing}
    loads = (EMPTY, *layout.loads[1:])
    ways = [("truck", EMPTY, on) for on in _TRUCK]
    ways += [("hitched", load, on) for load in loads for on in _HITCHED]
    ways += [("trailer", load, on) for load in loads for on in _TRAILER]
    singles = [("hitched", load, (f"axle {k}",)) for load in loads for k in range(1, layout.axles + 1)]
    for state, load, on in sorted([*ways, *(singles if layout.axles > 1 else [])], key=lambda w: w[:2] not in done):
        nose = (Reading(on=("coupler",)),) if state == "trailer" else ()
        weighing = Weighing(state=state, load=load or None, reading=nose)
        row = layout.row(weighing, on)
        if all(name in layout.index for name in row.unknowns):
            yield Wanted(state, load, on), layout.row_vector(row)


def one_more(layout: Layout, fit: Fit, wanted: Array) -> tuple[tuple[Wanted, ...], tuple[Wanted, ...]]:
    """Readings each of which alone would tell a combination, and, where none does, the first pair that would.

    Parameters
    ----------
    layout, fit
        The ticket and its fit, which does not tell ``wanted``.
    wanted : array
        Factor of each unknown.
    """
    ways = list(candidates(layout))
    if not ways:
        return (), ()
    missing = _outside(fit, wanted)
    rows = np.array([_outside(fit, row) for _, row in ways])
    useful = [n for n, row in enumerate(rows) if row.any()]
    single = [n for n in useful if _spans(rows[n][None], missing)]
    if single:
        return tuple(ways[n][0] for n in single[:MOST]), ()
    for pair in combinations(useful, 2):
        if _spans(rows[list(pair)], missing):
            return (), tuple(ways[n][0] for n in pair)
    return (), ()


def _outside(fit: Fit, combination: Array) -> Array:
    """The part of a combination that the readings do not determine, as each unknown weighs in the fit; 0 for none."""
    scaled = combination / fit.scale
    outside = scaled - fit.span.T @ (fit.span @ scaled)
    return outside if np.linalg.norm(outside) > _TOLD * np.linalg.norm(scaled) else np.zeros_like(outside)


def _spans(rows: Array, wanted: Array) -> bool:
    left, *_ = np.linalg.lstsq(rows.T, wanted, rcond=None)
    return bool(np.linalg.norm(rows.T @ left - wanted) <= _TOLD * np.linalg.norm(wanted))
