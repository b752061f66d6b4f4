"""What the tolerances of the inputs can do to each margin.

Each uncertain input is nudged up and down by its tolerance, one sample a nudge, and every check is evaluated over
all samples at once. The worst margin takes every tolerance against the rig together.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from rubrail.checks.rows import Rows
from rubrail.things.columns import Array, Columns
from rubrail.things.names import COLUMNS

STACK_NUMBERS = 100_000
"""Numbers one stack of margins may hold: few large rigs one by one, many small rows at once."""


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
    nudges = tuple(
        Nudge(name, member)
        for name, spread in columns.plus_minus.items()
        if spread.any()
        for member in (range(spread.shape[0]) if COLUMNS[name].per else (None,))
        if ((spread if member is None else spread[member]) > 0).any()
    )
    return nudged_again(columns, nudges, {n.name: columns[n.name] for n in nudges}), nudges


def nudged_again(columns: Columns, nudges: tuple[Nudge, ...], changes: Mapping[str, Array]) -> Columns:
    """Columns that have their samples, with some of the stated values replaced. Tolerances stay as they are.

    Parameters
    ----------
    columns : Columns
        As ``nudged`` made them.
    nudges : tuple of Nudge
        As ``nudged`` ordered them.
    changes : mapping
        Column name to its stated values, sample axis of length 1.
    """
    changed = dict(changes)
    samples = 1 + 2 * len(nudges)
    for i, n in enumerate(nudges):
        if n.name not in changes:
            continue
        spread = np.nan_to_num(columns.plus_minus[n.name])
        if changed[n.name] is changes[n.name]:
            base = np.broadcast_to(changes[n.name], np.broadcast_shapes(changes[n.name].shape, spread.shape))
            changed[n.name] = np.repeat(base, samples, axis=-1)
        wide = changed[n.name]
        spread = np.broadcast_to(spread, (*wide.shape[:-1], 1))
        where = (Ellipsis,) if n.member is None else (n.member, Ellipsis)
        wide[(*where, 1 + i)] += spread[(*where, 0)]
        wide[(*where, 1 + len(nudges) + i)] -= spread[(*where, 0)]
    return columns.with_values(changed)


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
    silent, loss = base == np.inf, np.maximum(loss, 0)
    if not silent.any():
        return loss
    return np.where(silent, np.where(np.isfinite(np.minimum(up, down)), np.inf, 0.0), loss)


def worst_margin(rows: Rows, count: int) -> Array:
    """Margin with every tolerance against the rig, shape ``(row, unit, position)``."""
    worst = np.array(rows.margin)
    for index, margin in _stacks(rows):
        with np.errstate(invalid="ignore"):
            left = margin[..., 0] - harms(margin, count).sum(axis=-1)
        silent = rows.margin[index] == np.inf
        if silent.any():
            least = np.min(np.where(np.isnan(margin), np.inf, margin), axis=-1)
            left = np.where(silent, least, left)
        worst[index] = left
    return worst


def _stacks(rows: Rows) -> Iterator[tuple[list[int], Array]]:
    """Sampled margins of the rows that tolerances touch, rows of one shape together."""
    waiting: dict[tuple[int, ...], list[tuple[int, Array]]] = {}
    for i in range(len(rows.rows)):
        margin = rows.sampled_margin(i)
        if margin.shape[-1] == 1:
            continue
        stack = waiting.setdefault(margin.shape, [])
        stack.append((i, margin))
        if margin.size * len(stack) >= STACK_NUMBERS:
            yield [i for i, _ in stack], np.stack([m for _, m in waiting.pop(margin.shape)])
    for stack in waiting.values():
        yield [i for i, _ in stack], np.stack([m for _, m in stack])
