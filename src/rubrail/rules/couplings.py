"""Coupling classes of SAE J684, to 10,000 lb gross trailer weight."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import column, figure

TABLE = "couplings-j684"
CLASS_4_OVER_LB = figure(TABLE, "class_4_over_lb")
CLASS_4_TO_LB = figure(TABLE, "class_4_to_lb")


def j684_class(*, trailer_gross_lb: ArrayLike) -> NDArray[np.float64]:
    """Class 1 to 4 of a trailer of this gross weight; ``nan`` above 10,000 lb, where the standard ends, or not known.

    Parameters
    ----------
    trailer_gross_lb : array_like
        Gross trailer weight the coupling is for. [lb]

    References
    ----------
    SAE-J684
    """
    gross = np.asarray(trailer_gross_lb, float)
    found = 1.0 + sum((gross > top).astype(float) for top in column(TABLE, "to_lb"))
    return np.where(np.isnan(gross) | (gross > CLASS_4_TO_LB) | (gross < 0), np.nan, found)


def _strength(trailer_gross_lb: ArrayLike, key: str, factor: str) -> NDArray[np.float64]:
    gross = np.asarray(trailer_gross_lb, float)
    found = j684_class(trailer_gross_lb=gross)
    fixed = column(TABLE, key)[np.clip(np.nan_to_num(found, nan=1.0) - 1, 0, 2).astype(int)]
    strength = np.where(gross > CLASS_4_OVER_LB, figure(TABLE, factor) * gross, fixed)
    return np.where(np.isnan(found), np.nan, strength)


def j684_chain_lb(*, trailer_gross_lb: ArrayLike) -> NDArray[np.float64]:
    """Least breaking strength of each safety chain. [lb]

    References
    ----------
    SAE-J684
    """
    return _strength(trailer_gross_lb, "chain_lb", "class_4_chain_factor")


def j684_longitudinal_lb(*, trailer_gross_lb: ArrayLike) -> NDArray[np.float64]:
    """Pull and push a coupling of the class stands. [lb]

    References
    ----------
    SAE-J684
    """
    return _strength(trailer_gross_lb, "longitudinal_lb", "class_4_longitudinal_factor")


def j684_transverse_lb(*, trailer_gross_lb: ArrayLike) -> NDArray[np.float64]:
    """Side load a coupling of the class stands. [lb]

    References
    ----------
    SAE-J684
    """
    return _strength(trailer_gross_lb, "transverse_lb", "class_4_transverse_factor")


def j684_ball_in(*, trailer_gross_lb: ArrayLike) -> NDArray[np.float64]:
    """Least ball of classes 1 to 3; ``inf`` for class 4, whose ball goes by its strength, ``nan`` not known. [in]

    References
    ----------
    SAE-J684
    """
    found = j684_class(trailer_gross_lb=trailer_gross_lb)
    balls = np.append(column(TABLE, "ball_in"), np.inf)
    return np.where(np.isnan(found), np.nan, balls[np.nan_to_num(found, nan=1.0).astype(int) - 1])
