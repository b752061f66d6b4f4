"""Driver and carrier thresholds: license group, carrier duties, the farm line, use tax of the truck."""

from __future__ import annotations

import math
from decimal import Decimal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import figure

LICENSE_FROM_LB = figure("thresholds", "license_from_lb")
LICENSE_TOWED_OVER_LB = figure("thresholds", "license_towed_over_lb")
CARRIER_FROM_LB = figure("thresholds", "carrier_from_lb")
FARM_LINE_LOW_LB = figure("thresholds", "farm_line_low_lb")
FARM_LINE_HIGH_LB = figure("thresholds", "farm_line_high_lb")
USE_TAX_FROM_LB = figure("thresholds", "use_tax_from_lb")

GROUPS = ("regular", "C", "B", "A")
"""License groups by code. Group C (passengers, placarded hazardous material) is never needed for a machine."""
REGULAR, _, B, A = range(4)
ANYWHERE, NEAR_HOME = 0, 1
"""How far a covered farm vehicle's exemption reaches: anywhere, or the home state and 150 air miles."""


def combination_figure_lb(
    *,
    truck_gvwr_lb: ArrayLike,
    trailer_gvwr_lb: ArrayLike,
    truck_weight_lb: ArrayLike = 0.0,
    trailer_weight_lb: ArrayLike = 0.0,
    label_gcwr_lb: ArrayLike = 0.0,
) -> NDArray[np.float64]:
    """The weight that license and carrier rules go by: the greatest of every reading of it.

    The combination rating printed on the power unit's certification label, or the highest sum of ratings and actual
    weights of the units in any mix, whichever is greater.

    Parameters
    ----------
    truck_gvwr_lb, trailer_gvwr_lb : array_like
        Ratings. [lb]
    truck_weight_lb, trailer_weight_lb : array_like
        Actual weights; 0 leaves them out. [lb]
    label_gcwr_lb : array_like
        Combination rating printed on the label; 0 where none is printed. [lb]

    References
    ----------
    GCWR-RULE
    """
    units = np.maximum(truck_gvwr_lb, truck_weight_lb) + np.maximum(trailer_gvwr_lb, trailer_weight_lb)
    return np.maximum(units, label_gcwr_lb)


def license_group(
    *,
    truck_gvwr_lb: ArrayLike,
    trailer_gvwr_lb: ArrayLike,
    truck_weight_lb: ArrayLike = 0.0,
    trailer_weight_lb: ArrayLike = 0.0,
    label_gcwr_lb: ArrayLike = 0.0,
) -> NDArray[np.float64]:
    """License group the rig needs in commerce, as a code into ``GROUPS``; ``nan`` where it is not known.

    Group A from 26,001 lb combined with more than 10,000 lb towed; group B with a truck of 26,001 lb or more. An
    unknown figure leaves the group open only where it could change it.

    Parameters
    ----------
    truck_gvwr_lb, trailer_gvwr_lb, truck_weight_lb, trailer_weight_lb, label_gcwr_lb : array_like
        As in ``combination_figure_lb``. [lb]

    References
    ----------
    CFR-49-383.91, CFR-49-383.5, GCWR-RULE
    """
    truck = np.maximum(truck_gvwr_lb, truck_weight_lb)
    towed = np.maximum(trailer_gvwr_lb, trailer_weight_lb)
    label = np.asarray(label_gcwr_lb, float)
    # The greater of two readings is at least the one that is known.
    known = np.fmax(truck + towed, label)
    combined = np.where(known >= LICENSE_FROM_LB, known, np.maximum(truck + towed, label))
    heavy = _at_least(combined, LICENSE_FROM_LB)
    long_tow = np.where(np.isnan(towed), np.nan, towed > LICENSE_TOWED_OVER_LB)
    needs_a = np.where((heavy == 0) | (long_tow == 0), 0.0, heavy * long_tow)
    needs_b = _at_least(truck, LICENSE_FROM_LB)
    return np.where(needs_a == 1, A, np.where(needs_b == 1, B + 0.0 * needs_a, REGULAR + 0.0 * (needs_a + needs_b)))


def _at_least(value: ArrayLike, line: float) -> NDArray[np.float64]:
    value = np.asarray(value, float)
    return np.where(np.isnan(value), np.nan, value >= line)


def carrier_duty(*, combination_figure_lb: ArrayLike) -> NDArray[np.float64]:
    """1 where the federal safety rules for carriers begin (10,001 lb in interstate commerce), else 0.

    Parameters
    ----------
    combination_figure_lb : array_like
        See ``combination_figure_lb``. [lb]

    References
    ----------
    CFR-49-390.5, FMCSA-CARRIER
    """
    return _at_least(combination_figure_lb, CARRIER_FROM_LB)


def farm_reach(*, combination_figure_lb: ArrayLike) -> NDArray[np.float64]:
    """How far a covered farm vehicle is exempt: ``ANYWHERE`` or ``NEAR_HOME``; ``nan`` where sources disagree.

    Agencies print the line as 26,000 lb and as 26,001 lb; a weight between is to be asked about.

    Parameters
    ----------
    combination_figure_lb : array_like
        See ``combination_figure_lb``. [lb]

    References
    ----------
    FMCSA-FARM
    """
    weight = np.asarray(combination_figure_lb, float)
    reach = np.where(weight <= FARM_LINE_LOW_LB, ANYWHERE, np.where(weight > FARM_LINE_HIGH_LB, NEAR_HOME, np.nan))
    return np.where(np.isnan(weight), np.nan, reach)


def use_tax_usd(*, taxable_gross_lb: float) -> Decimal:
    """Yearly federal heavy vehicle use tax of the tow vehicle.

    Parameters
    ----------
    taxable_gross_lb : float
        Truck and customary trailers, empty, with the heaviest load customarily carried. [lb]

    Raises
    ------
    ValueError
        If the weight is negative or not known.

    References
    ----------
    USC-26-4481, USC-26-4482
    """
    if not taxable_gross_lb >= 0:
        raise ValueError(f"taxable_gross_lb must be a weight of 0 lb or more, got {taxable_gross_lb}.")
    if taxable_gross_lb < USE_TAX_FROM_LB:
        return Decimal(0)
    if taxable_gross_lb > figure("thresholds", "use_tax_flat_over_lb"):
        return Decimal(int(figure("thresholds", "use_tax_flat_usd")))
    steps = math.ceil((taxable_gross_lb - USE_TAX_FROM_LB) / figure("thresholds", "use_tax_step_lb"))
    base, step = figure("thresholds", "use_tax_base_usd"), figure("thresholds", "use_tax_step_usd")
    return Decimal(int(base)) + steps * Decimal(int(step))
