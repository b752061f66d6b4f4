"""What sets one unit apart from others: only where it is unusual, and against what is usual there.

A value is unusual where at most one in four of the others is like it or goes further the same way. For numbers that is
the outer quarter on its side of the median; for words, a word few of the others share while one word is common.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FEW = 0.25
"""Share of the others that may be like it for it still to be unusual."""
COMMON = 0.5
"""Share of the others a word must have to be called usual."""
LEAST_OTHERS = 3
"""Fewer with a known value make nothing usual."""

Cell = float | str | None
"""A number, a word, or nothing where it is not known."""
Column = Sequence[Cell] | NDArray


@dataclass(frozen=True, slots=True)
class Trait:
    """One thing units are compared on.

    key : name of its column; title : what it is; unit : core unit of a number, ``USD``, ``%`` or ``""``;
    step : least distance from the median worth telling, in the unit; less, more : words for a number below and above
    the usual (``low``, ``lower``); both empty where the values are words.
    """

    key: str
    title: str
    unit: str = ""
    step: float = 0.0
    less: tuple[str, str] | None = None
    more: tuple[str, str] | None = None

    @property
    def counts(self) -> bool:
        """Whether its values are numbers."""
        return self.less is not None


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing on which a unit is unusual.

    own : its value; typical : median of the others, or their most common word; others : how many of them are known;
    alike : how many of those are like it or go further the same way; common : how many have the common word, 0 for
    numbers; way : -1 below the usual, 1 above it, 0 for words.
    """

    trait: Trait
    own: float | str
    typical: float | str
    others: int
    alike: int
    common: int
    way: int


def differences(
    *, traits: Sequence[Trait], own: Mapping[str, Cell], others: Mapping[str, Column]
) -> tuple[Difference, ...]:
    """Where a unit is unusual among others, the rarest first.

    Parameters
    ----------
    traits : sequence of Trait
        What to compare on; their order breaks ties.
    own : mapping
        The unit's value by trait; absent, ``None``, ``nan`` and ``""`` are not known.
    others : mapping
        The others' values by trait, one column each, the unit itself left out: sequences, or arrays of numbers with
        ``nan`` and of words with ``None`` for not known.
    """
    found = []
    for trait in traits:
        mine, column = own.get(trait.key), others.get(trait.key, ())
        told = _number(trait, mine, column) if trait.counts else _word(trait, mine, column)
        if told is not None:
            found.append(told)
    return tuple(sorted(found, key=lambda d: d.alike / d.others))


def _number(trait: Trait, own: Cell, column: Column) -> Difference | None:
    if not isinstance(column, np.ndarray):
        column = np.array([np.nan if v in (None, "") else float(v) for v in column])
    others = column[~np.isnan(column)]
    if own in (None, "") or np.isnan(own) or len(others) < LEAST_OTHERS:
        return None
    middle = float(np.median(others))
    way = -1 if own < middle else 1
    alike = int((others <= own).sum() if way < 0 else (others >= own).sum())
    if own == middle or abs(own - middle) < trait.step or alike > FEW * len(others):
        return None
    return Difference(trait, float(own), middle, len(others), alike, 0, way)


def _word(trait: Trait, own: Cell, column: Column) -> Difference | None:
    counts = Counter(column)
    for unknown in (None, ""):
        counts.pop(unknown, None)
    others = counts.total()
    if own in (None, "") or others < LEAST_OTHERS:
        return None
    # Of equally common words the first by letters, so that the answer never depends on the order of the yard.
    common, most = min(counts.items(), key=lambda c: (-c[1], str(c[0])))
    alike = counts[own]
    if common == own or most < COMMON * others or alike > FEW * others:
        return None
    return Difference(trait, str(own), common, others, alike, most, 0)
