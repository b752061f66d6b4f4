"""The units a unit is compared with: those built like it, what is usual among them, and where it differs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.differs import LEAST_OTHERS, Cell, Difference, Trait, differences
from rubrail.answers.height import built_columns
from rubrail.answers.payload import alone_best
from rubrail.answers.traits import TRAITS, priced, traits_of
from rubrail.things.trailer import Trailer

LEAST = 5
"""Fewer others of its own kind are no company: then a wider circle is taken."""
COUPLINGS = {"ball": "ball-coupler", "gooseneck": "gooseneck", "kingpin": "kingpin", "pintle": "pintle"}
ON_THE_LOT = ("in-stock", "held", "on-order")
"""States of a unit that is for sale here: in the yard, or ordered for it."""


@dataclass(frozen=True, slots=True)
class Middle:
    """What is usual of one trait: the median of the others whose value is known, how many those are, and one's own."""

    trait: Trait
    value: float
    others: int
    own: float


@dataclass(frozen=True, slots=True)
class BuildMiddle:
    """What others with a deck of the same kind and one frame build come to.

    build : as the trait has it, in words; others : how many; deck_height_in, empty_lb_per_ft : medians, ``nan`` where
    none is known
    """

    build: str
    others: int
    deck_height_in: float
    empty_lb_per_ft: float


@dataclass(frozen=True, slots=True)
class Company:
    """What a unit was compared with, in words, how many, and where it is unusual among them.

    middles : what is usual of each trait that is a number; builds : the others by how their frames are built
    """

    circle: str
    count: int
    told: tuple[Difference, ...]
    middles: tuple[Middle, ...] = ()
    builds: tuple[BuildMiddle, ...] = ()

    @property
    def enough(self) -> bool:
        """Whether there are as many as make anything usual."""
        return self.count >= LEAST_OTHERS

    @property
    def says(self) -> str:
        """Whom it was compared with: ``11 other gooseneck deck-over units on the lot``."""
        return f"{self.count:,} other {f'{self.circle} ' if self.circle else ''}units on the lot"


def circle_of(
    *, coupling: str, deck: str, others: NDArray[np.bool_], couplings: NDArray, decks: NDArray
) -> tuple[str, NDArray[np.bool_]]:
    """Those of its coupling and deck; where they are too few those of its coupling, then those of its deck; else all.

    Parameters
    ----------
    coupling, deck : str
        The unit's own; ``""`` where not known.
    others : ndarray of bool
        Which units are not the unit itself.
    couplings, decks : ndarray
        Of all units.
    """
    alike = others & (couplings == coupling)
    same = alike & (decks == deck)
    word = COUPLINGS.get(coupling, "")
    if deck and same.sum() >= LEAST:
        return f"{word} {deck}".strip(), same
    if alike.sum() >= LEAST:
        return word, alike
    decked = others & (decks == deck)
    if deck and decked.sum() >= LEAST:
        return deck, decked
    return "", others


def company(
    *, own: Mapping[str, Cell], others: Mapping[str, NDArray], decked: NDArray[np.bool_], circle: str, count: int
) -> Company:
    """A unit beside others whose traits stand in columns.

    Parameters
    ----------
    own : mapping
        The unit's value by trait.
    others : mapping
        The others' values by trait: arrays of numbers with ``nan`` and of words with ``None``.
    decked : ndarray of bool
        Which of the others have a deck of its kind: only those say what a way of building comes to.
    circle : str
        Whom it is compared with, in words.
    count : int
        How many they are.
    """
    return Company(
        circle,
        count,
        differences(traits=TRAITS, own=own, others=others),
        tuple(_middles(own, others)),
        tuple(_builds(others, decked)),
    )


def _middles(own: Mapping[str, Cell], others: Mapping[str, NDArray]) -> Iterator[Middle]:
    for trait in TRAITS:
        if trait.counts and trait.key in others:
            known = others[trait.key][~np.isnan(others[trait.key])]
            if len(known) >= LEAST_OTHERS:
                mine = own.get(trait.key)
                yield Middle(trait, float(np.median(known)), len(known), math.nan if mine is None else float(mine))


def _builds(others: Mapping[str, NDArray], decked: NDArray[np.bool_]) -> Iterator[BuildMiddle]:
    builds = others.get("build")
    if builds is None:
        return
    foot = others["empty"] / (others["deck_length"] / 12)
    for build in sorted({b for b in builds[decked] if b}):
        mine = decked & np.array([b == build for b in builds], bool)
        yield BuildMiddle(build, int(mine.sum()), _median(others["deck_height"][mine]), _median(foot[mine]))


def _median(values: NDArray) -> float:
    known = values[~np.isnan(values)]
    return float(np.median(known)) if len(known) else math.nan


def company_among(trailer: Trailer, trailers: Sequence[Trailer]) -> Company:
    """A trailer beside the others of a yard that stand on its lot.

    Parameters
    ----------
    trailer : Trailer
    trailers : sequence of Trailer
        The whole yard; the trailer itself may be among them.
    """
    return beside(trailers)(trailer)


def beside(trailers: Sequence[Trailer]) -> Callable[[Trailer], Company]:
    """A yard's lot read once, to ask of many trailers how they stand beside the others on it."""
    there = [t for t in trailers if t.status in ON_THE_LOT]
    columns = columns_of_traits(_cells(there) if there else ())
    ids, couplings, decks = (
        np.array(words, object)
        for words in ([t.id for t in there], [t.coupling.kind for t in there], [t.deck.kind or "" for t in there])
    )

    def of(trailer: Trailer) -> Company:
        deck = trailer.deck.kind or ""
        circle, which = circle_of(
            coupling=trailer.coupling.kind, deck=deck, others=ids != trailer.id, couplings=couplings, decks=decks
        )
        (own,) = _cells((trailer,))
        others = {k: c[which] for k, c in columns.items()}
        return company(own=own, others=others, decked=(decks == deck)[which], circle=circle, count=int(which.sum()))

    return of


def columns_of_traits(cells: Sequence[Mapping[str, Cell]]) -> dict[str, NDArray]:
    """Cells of many units as one column a trait: numbers with ``nan``, words with ``None``."""
    columns = {}
    for trait in TRAITS:
        column = [c.get(trait.key) for c in cells]
        columns[trait.key] = np.array(
            [np.nan if v is None else v for v in column] if trait.counts else column, float if trait.counts else object
        )
    return columns


def _cells(trailers: Sequence[Trailer]) -> list[dict[str, Cell]]:
    specs = [t.model_dump(mode="json", by_alias=True, exclude_none=True) for t in trailers]
    payloads = alone_best(built_columns(trailers))[0]
    return [
        {**traits, **priced(None if t.price_usd is None else float(t.price_usd), None if np.isnan(p) else float(p))}
        for traits, t, p in zip(traits_of(specs), trailers, payloads, strict=True)
    ]
