"""Lamps, reflectors and red-and-white marking a trailer needs by its width, length, rating and year."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import figure, table

WIDE_FROM_IN = figure("labels", "wide_from_in")
MARKING_OVER_LB = figure("labels", "marking_over_lb")
MARKING_FROM_YEAR = int(figure("labels", "marking_from_year"))
MARKING_SHARE = figure("labels", "marking_share_of_length")


@dataclass(frozen=True, slots=True)
class Lamp:
    """One lamp, reflector or marking that is required, or that may be (``sure`` False): a figure is not known."""

    item: str
    count: int
    color: str
    place: str
    sure: bool
    source: str


def wide(*, width_in: ArrayLike) -> NDArray[np.float64]:
    """1 where the trailer counts as wide for lamps and marking (80 in or more), else 0; ``nan`` not known.

    References
    ----------
    LAMPS-393.11
    """
    width = np.asarray(width_in, float)
    return np.where(np.isnan(width), np.nan, width >= WIDE_FROM_IN)


def required_lamps(
    *, width_in: float, length_in: float, gvwr_lb: float, built_year: float = math.nan
) -> tuple[Lamp, ...]:
    """Lamps, reflectors and marking of one trailer, in the order of the table.

    Parameters
    ----------
    width_in, length_in : float
        Overall width and length of the trailer; ``nan`` not known. [in]
    gvwr_lb : float
        Rating on the label. [lb]
    built_year : float
        Year it was built. Trailers of 1993 are marked only if built in December, and older ones come under another
        section: for both the marking is listed as not sure.

    References
    ----------
    LAMPS-393.11, NHTSA-LAMPS, CONSPICUITY
    """
    found = []
    for row in table("lamps")["rows"]:
        answers = [
            _met(width_in, row["width_from_in"]),
            _met(length_in, row["length_from_in"]),
            None if not row["gvwr_over_lb"] else _unless_nan(gvwr_lb, gvwr_lb > row["gvwr_over_lb"]),
            None if not row["year_from"] else _unless_nan(built_year, True if built_year > row["year_from"] else None),
        ]
        asked = [a for a, stated in zip(answers, _stated(row), strict=True) if stated]
        if False in asked:
            continue
        sure = all(a is True for a in asked)
        found.append(Lamp(row["item"], row["count"], row["color"], row["place"], sure, row["source"]))
    return tuple(found)


def _stated(row: dict) -> list[bool]:
    return [bool(row[k]) for k in ("width_from_in", "length_from_in", "gvwr_over_lb", "year_from")]


def _met(value: float, bound: float) -> bool | None:
    return _unless_nan(value, value >= bound) if bound else None


def _unless_nan(value: float, answer: bool | None) -> bool | None:
    return None if math.isnan(value) else answer


def required_items(*, width_in: float, length_in: float, gvwr_lb: float, built_year: float = math.nan) -> list[str]:
    """Names of what is surely required; see ``required_lamps``."""
    lamps = required_lamps(width_in=width_in, length_in=length_in, gvwr_lb=gvwr_lb, built_year=built_year)
    return [lamp.item for lamp in lamps if lamp.sure]


def marked_length_in(*, length_in: ArrayLike) -> NDArray[np.float64]:
    """Least length of marking on each side: half the trailer's length.

    Parameters
    ----------
    length_in : array_like
        Overall length of the trailer. [in]

    References
    ----------
    NHTSA-8816
    """
    return MARKING_SHARE * np.asarray(length_in, float)
