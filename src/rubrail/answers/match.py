"""A haul against a yard: each unit's verdict at its own best placement, and what nothing else beats."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.firm import settled_places
from rubrail.answers.placing import Places
from rubrail.checks.engine import Evaluation
from rubrail.checks.judge import Judgement
from rubrail.checks.verdict import DEPENDS
from rubrail.things.columns import Array, Columns

BLOCK_NUMBERS = 6_000_000
"""Numbers one stack of rows may hold: keeps a match of any size well under a gigabyte."""
ROWS_GUESS = 160
TOGETHER = 128
"""Units compared with the unbeaten at once."""


@dataclass(frozen=True)
class Block:
    """Some units of a match: their places, and their judgement at those places."""

    start: int
    places: Places
    columns: Columns
    judgement: Judgement

    @cached_property
    def evaluation(self) -> Evaluation:
        """Quantities of the units as placed."""
        return Evaluation(self.columns)


def match_columns(columns: Columns, *, offsets_in: Array, samples: int = 41) -> Iterator[Block]:
    """Place and judge every unit, in blocks of bounded memory.

    Parameters
    ----------
    columns : Columns
        Units on the unit axis, arrangements on the position axis, sample axis of length 1.
    offsets_in : array
        As in ``placing.shifted``.
    samples : int
        Guess of the sample axis, for the size of a block.
    """
    wide = max(offsets_in.shape[2], samples)
    size = max(1, BLOCK_NUMBERS // (ROWS_GUESS * wide))
    for start in range(0, columns.units, size):
        part = columns.take(slice(start, start + size))
        yield Block(start, *settled_places(part, offsets_in=offsets_in))


def unbeaten(costs: Array, eligible: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Units that no eligible unit beats: none is at least as good on every count and better on one.

    Parameters
    ----------
    costs : array
        Shape ``(unit, count)``, less is better; ``nan`` counts as worst.
    eligible : array of bool
        Shape ``(unit,)``; others are never unbeaten and beat nobody.
    """
    costs = np.where(np.isnan(costs), np.inf, costs)
    out = np.zeros(len(costs), bool)
    index = np.flatnonzero(eligible)
    # In this order a unit can be beaten only by one that stands before it.
    index = index[np.lexsort(costs[index].T[::-1])]
    front = np.empty((0, costs.shape[1]))
    for start in range(0, len(index), TOGETHER):
        some = index[start : start + TOGETHER]
        some = some[~_beaten(costs[some], front)]
        some = some[~_beaten(costs[some], costs[some])]
        out[some] = True
        front = np.vstack([front, costs[some]])
    return out


def _beaten(costs: Array, by: Array) -> NDArray[np.bool_]:
    """Which rows some row of ``by`` is nowhere worse than, and better than on one count."""
    nowhere_worse = np.ones((len(costs), len(by)), bool)
    better = np.zeros((len(costs), len(by)), bool)
    # Count by count: a reduction over so short an axis takes several times as long.
    for mine, theirs in zip(costs.T, by.T, strict=True):
        nowhere_worse &= theirs[None] <= mine[:, None]
        better |= theirs[None] < mine[:, None]
    return np.any(nowhere_worse & better, axis=1)


def rank(verdict: NDArray[np.int8], share: Array, price: Array) -> NDArray[np.intp]:
    """Order of a match: the better verdict first, then the cheaper unit, then the greater margin.

    Units that are over or not known stand by how near they come.
    """
    carries = verdict >= DEPENDS
    price = np.where(carries & ~np.isnan(price), price, np.inf)
    return np.lexsort((-np.nan_to_num(share, nan=-1.0), price, -verdict.astype(int)))


def governing_share(judgement: Judgement) -> Array:
    """Relative margin of the limit that governs each unit, shape ``(unit,)``; ``nan`` where it is not known."""
    index = judgement.governing[:, 0]
    share = np.take_along_axis(judgement.rows.relative[:, :, 0], np.maximum(index, 0)[None], 0)[0]
    return np.where(index < 0, np.inf, share)
