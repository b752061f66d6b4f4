"""When a trailer needs brakes and a breakaway device, and where surge brakes are allowed."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import figure

FEDERAL_EXEMPT_LB = figure("brakes", "federal_exempt_lb")
HITCH_SHARE = figure("brakes", "hitch_share_of_tow_axles")
SURGE_LIGHT_TO_LB = figure("brakes", "surge_light_to_lb")
SURGE_LIGHT_RATIO = figure("brakes", "surge_light_ratio")
SURGE_HEAVY_TO_LB = figure("brakes", "surge_heavy_to_lb")
SURGE_HEAVY_RATIO = figure("brakes", "surge_heavy_ratio")
BREAKAWAY_PARTIAL_FROM_AXLES = figure("brakes", "breakaway_partial_from_axles")


def federal_brakes_required(
    *, trailer_gross_lb: ArrayLike, hitch_load_lb: ArrayLike, tow_axles_lb: ArrayLike
) -> NDArray[np.float64]:
    """1 where a trailer in commercial use needs brakes on all wheels, 0 where it does not, ``nan`` not known.

    Needed above 3,000 lb gross, and below it too where what rests on the tow vehicle exceeds 40 percent of the tow
    vehicle's axle weights.

    Parameters
    ----------
    trailer_gross_lb : array_like
        Loaded trailer. [lb]
    hitch_load_lb : array_like
        What rests on the tow vehicle. [lb]
    tow_axles_lb : array_like
        Sum of the tow vehicle's axle weights. [lb]

    References
    ----------
    CFR-49-393.42
    """
    gross = np.asarray(trailer_gross_lb, float)
    share = np.asarray(hitch_load_lb, float) - HITCH_SHARE * np.asarray(tow_axles_lb, float)
    on_hitch = np.where(np.isnan(share), np.nan, share > 1e-6)
    light = np.where(np.isnan(gross), np.nan, on_hitch)
    return np.where(gross > FEDERAL_EXEMPT_LB, 1.0, light)


def state_brakes_required(*, trailer_gross_lb: ArrayLike, exempt_lb: ArrayLike) -> NDArray[np.float64]:
    """1 where the trailer weighs more than the state exempts, else 0; ``nan`` not known.

    Parameters
    ----------
    trailer_gross_lb, exempt_lb : array_like
        Loaded trailer, and the greatest weight without brakes. [lb]

    References
    ----------
    BRAKES-STATES
    """
    over = np.asarray(trailer_gross_lb, float) - exempt_lb
    return np.where(np.isnan(over), np.nan, over > 1e-6)


def either(first: ArrayLike, second: ArrayLike) -> NDArray[np.float64]:
    """1 where either is 1, 0 where both are 0, ``nan`` where what is not known decides."""
    first, second = np.asarray(first, float), np.asarray(second, float)
    return np.where((first == 1) | (second == 1), 1.0, np.where((first == 0) & (second == 0), 0.0, np.nan))


def surge_limit_lb(*, trailer_weight_lb: ArrayLike, tow_gvwr_lb: ArrayLike) -> NDArray[np.float64]:
    """Greatest trailer that may have surge brakes behind this tow vehicle, for a trailer of this weight class.

    Parameters
    ----------
    trailer_weight_lb : array_like
        The trailer's GVWR, or its actual weight where that is greater: it sets the class. [lb]
    tow_gvwr_lb : array_like
        GVWR of the tow vehicle. [lb]

    Returns
    -------
    limit_lb : ndarray
        1.75 times the tow vehicle's GVWR to 12,000 lb; above, 1.25 times and never more than 20,000 lb. [lb]

    References
    ----------
    CFR-49-393.48, SURGE-ACTUAL
    """
    trailer, tow = np.asarray(trailer_weight_lb, float), np.asarray(tow_gvwr_lb, float)
    # Past 20,000 lb no truck is heavy enough, known or not.
    heavy = np.minimum(SURGE_HEAVY_RATIO * np.where(trailer > SURGE_HEAVY_TO_LB, np.inf, tow), SURGE_HEAVY_TO_LB)
    limit = np.where(trailer <= SURGE_LIGHT_TO_LB, SURGE_LIGHT_RATIO * tow, heavy)
    return np.where(np.isnan(trailer), np.nan, limit)
