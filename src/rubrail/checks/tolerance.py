"""What the tolerances of the inputs can do to each margin.

Each uncertain input is nudged up and down by its tolerance, one sample a nudge, and every check is evaluated over
all samples at once. The worst margin takes every tolerance against the rig together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rubrail.checks.rows import Rows
from rubrail.things.columns import Array, Columns
from rubrail.things.names import COLUMNS


@dataclass(frozen=True, slots=True)
class Nudge:
    """One uncertain input: a raw column, and which member of it."""

    name: str
    member: int | None


def nudged(columns: Columns) -> tuple[Columns, tuple[Nudge, ...]]:
    """Columns with a sample axis: the stated values first, then each uncertain input up, then each down.

    Parameters
    ----------
    columns : Columns
        With a sample axis of length 1.

    Returns
    -------
    columns, nudges
        Sample axis of length ``1 + 2 * len(nudges)``.
    """
    spreads = {name: np.nan_to_num(spread) for name, spread in columns.plus_minus.items()}
    nudges = tuple(
        Nudge(name, member)
        for name, spread in spreads.items()
        for member in (range(spread.shape[0]) if COLUMNS[name].per else (None,))
        if np.any((spread if member is None else spread[member]) > 0)
    )
    changed: dict[str, Array] = {}
    for i, n in enumerate(nudges):
        if n.name not in changed:
            base, spreads[n.name] = np.broadcast_arrays(columns[n.name], spreads[n.name])
            changed[n.name] = np.repeat(base, 1 + 2 * len(nudges), axis=-1)
        spread = spreads[n.name]
        where = (Ellipsis,) if n.member is None else (n.member, Ellipsis)
        changed[n.name][(*where, 1 + i)] += spread[(*where, 0)]
        changed[n.name][(*where, 1 + len(nudges) + i)] -= spread[(*where, 0)]
    return columns.with_values(changed), nudges


def harms(margin: Array, count: int) -> Array:
    """How much of each margin each uncertain input can take, at least 0.

    Parameters
    ----------
    margin : array
        Shape ``(..., 1 + 2 * count)`` as ``nudged`` orders the samples.
    count : int
        Number of nudges.

    Returns
    -------
    array
        Shape ``(..., count)``; ``nan`` where the margin is not known.
    """
    base = margin[..., :1]
    up, down = margin[..., 1 : 1 + count], margin[..., 1 + count :]
    with np.errstate(invalid="ignore"):
        loss = np.maximum(base - up, base - down)
    # A check that does not apply as stated and does under a nudge has lost whatever the nudge leaves it.
    return np.where(np.isposinf(base), np.where(np.isfinite(np.minimum(up, down)), np.inf, 0.0), np.maximum(loss, 0))


def worst_margin(rows: Rows, count: int) -> Array:
    """Margin with every tolerance against the rig, shape ``(row, unit, position)``."""
    worst = np.array(rows.margin)
    for i, stated in enumerate(rows.margin):
        margin = rows.sampled_margin(i)
        if margin.shape[-1] == 1:
            continue
        with np.errstate(invalid="ignore"):
            left = margin[..., 0] - harms(margin, count).sum(axis=-1)
        least = np.min(np.where(np.isnan(margin), np.inf, margin), axis=-1)
        worst[i] = np.where(np.isposinf(stated), least, left)
    return worst
