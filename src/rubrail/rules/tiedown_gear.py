"""Working load limits of unmarked gear by size and grade, and how much stronger than that it breaks."""

from __future__ import annotations

import re
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import figure, table

GRADES = ("30", "43", "70", "80", "100")
_MARKS = {
    "3": "30", "30": "30", "300": "30", "4": "43", "43": "43", "430": "43", "7": "70", "70": "70", "700": "70",
    "8": "80", "80": "80", "800": "80", "10": "100", "100": "100", "1000": "100",
}  # fmt: skip
_SAME_SIZE_IN = 0.02


def grade_of(*, mark: str | None) -> str | None:
    """Grade a chain's mark stands for: ``7``, ``70``, ``700`` or ``G70``; an unmarked chain is grade 30.

    Returns
    -------
    str or None
        A word of ``GRADES``; None for a mark that stands for none of them.

    References
    ----------
    CFR-49-393.108
    """
    if mark is None or not mark.strip():
        return "30"
    return _MARKS.get(re.sub(r"\D", "", mark))


@cache
def _chain() -> dict[float, dict[str, float]]:
    return {row["size_in"]: row for row in table("tiedown-chain")["rows"]}


def chain_wll_lb(*, size_in: float, mark: str | None = None) -> float:
    """Working load limit of a chain without a limit marked on it; ``nan`` for a size or mark the table has not. [lb]

    Parameters
    ----------
    size_in : float
        Nominal size. [in]
    mark : str, optional
        Grade as marked; without one it is grade 30.

    References
    ----------
    CFR-49-393.108
    """
    grade = grade_of(mark=mark)
    row = next((r for s, r in _chain().items() if abs(s - size_in) < _SAME_SIZE_IN), None)
    if row is None or grade is None:
        return float("nan")
    return float(row[f"g{grade}_lb"]) or float("nan")


def line_wll_lb(*, kind: str, size_in: float) -> float:
    """Working load limit of webbing, wire rope, fiber rope or steel strap without one marked. [lb]

    Parameters
    ----------
    kind : str
        As the table calls it: ``webbing``, ``wire rope``, ``manila`` ...
    size_in : float
        Width of webbing or strap, diameter of rope. [in]

    Returns
    -------
    float
        ``nan`` for a kind or size the table has not.

    References
    ----------
    CFR-49-393.108, MEMORY-393.108
    """
    rows = (r for r in table("tiedown-lines")["rows"] if r["kind"] == kind)
    return next((float(r["wll_lb"]) for r in rows if abs(r["size_in"] - size_in) < _SAME_SIZE_IN), float("nan"))


@cache
def _factors() -> dict[str, float]:
    return {row["line"]: float(row["factor"]) for row in table("tiedown-factors")["rows"]}


def line_factor(*, line: str) -> float:
    """Breaking strength over working load limit of a chain by grade, or of ``webbing``.

    References
    ----------
    DESIGN-FACTORS
    """
    return _factors()[line]


def part_factor() -> float:
    """The same of binders, anchors and tie points where the maker states none: common practice, no source.

    References
    ----------
    PART-FACTORS
    """
    return figure("securement", "part_factor")


def tension_lb(*, wll_lb: ArrayLike) -> NDArray[np.float64]:
    """Tension taken to be in a tie-down drawn tight, where none is stated: common practice, no source. [lb]

    References
    ----------
    LASHING-TENSION
    """
    return figure("securement", "tension_share") * np.asarray(wll_lb, float)


_SURFACES = {
    "rubber": "rubber", "foam": "rubber", "steel": "steel", "wood": "wood",
    "pine": "wood", "oak": "wood", "apitong": "wood", "rubber-infused plank": "rubber",
    "steel tread plate": "steel", "aluminum": "aluminum", "mesh": "steel", "open": "steel",
}  # fmt: skip
"""What a surface of a machine or a deck counts as. A mesh or open deck is steel."""


def deck_friction(*, surface: str | None, deck: str | None) -> float:
    """Friction between a piece and a swept dry deck; ``nan`` where a surface is not known or no row names the pair.

    Parameters
    ----------
    surface : str or None
        What bears on the deck, as the cargo's file says.
    deck : str or None
        What the deck is laid with, as the trailer's file says.

    References
    ----------
    CTU-FRICTION, FRICTION-DECKS
    """
    pair = (_SURFACES.get(surface or ""), _SURFACES.get(deck or ""))
    if None in pair:
        return float("nan")
    rows = (
        r for r in table("deck-friction")["rows"] if r["piece"] in (pair[0], "any") and r["deck"] in (pair[1], "any")
    )
    return next((float(r["dry"]) for r in rows), float("nan"))
