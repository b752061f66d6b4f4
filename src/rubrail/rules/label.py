"""Arithmetic of the certification label: what its ratings must at least be, and when it must be corrected."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import figure

SEAT_LB = figure("labels", "seat_lb")
RELABEL_SHARE = figure("labels", "relabel_share_of_gvwr")
RELABEL_LB = figure("labels", "relabel_lb")
PASSENGER_DIVISOR = figure("labels", "passenger_tire_divisor")


def gvwr_floor_lb(*, empty_lb: ArrayLike, rated_cargo_lb: ArrayLike, seats: ArrayLike = 0.0) -> NDArray[np.float64]:
    """Least GVWR a maker may state: unloaded weight, rated cargo, and 150 lb a seat.

    Rated cargo counts whole, the part that the tow vehicle carries included.

    Parameters
    ----------
    empty_lb, rated_cargo_lb : array_like
        Unloaded weight, and the cargo the maker rates the trailer for. [lb]
    seats : array_like
        Seats; a trailer has none.

    References
    ----------
    NHTSA-GVWR
    """
    return np.asarray(empty_lb, float) + rated_cargo_lb + SEAT_LB * np.asarray(seats, float)


def cargo_by_label_lb(*, gvwr_lb: ArrayLike, empty_lb: ArrayLike) -> NDArray[np.float64]:
    """Cargo the label leaves: GVWR less the actual empty weight. Not below 0.

    Parameters
    ----------
    gvwr_lb, empty_lb : array_like
        Rating, and weight of the trailer as it stands. [lb]

    References
    ----------
    NHTSA-GVWR
    """
    return np.maximum(np.asarray(gvwr_lb, float) - empty_lb, 0.0)


def axle_load_at_gvwr_lb(*, gvwr_lb: ArrayLike, coupler_lb: ArrayLike) -> NDArray[np.float64]:
    """What the axles carry when the trailer weighs its GVWR. More than the axles' ratings is a safety defect.

    Parameters
    ----------
    gvwr_lb, coupler_lb : array_like
        Rating, and the part of it the tow vehicle carries. [lb]

    References
    ----------
    NHTSA-GVWR
    """
    return np.asarray(gvwr_lb, float) - coupler_lb


def coupler_share_counted_on_lb(*, gvwr_lb: ArrayLike, gawr_sum_lb: ArrayLike) -> NDArray[np.float64]:
    """Coupler load the label counts on: without it, a trailer at its GVWR overloads its axles. Not below 0.

    Parameters
    ----------
    gvwr_lb, gawr_sum_lb : array_like
        Rating of the trailer, and of its axles together. [lb]

    References
    ----------
    NHTSA-GVWR
    """
    return np.maximum(np.asarray(gvwr_lb, float) - gawr_sum_lb, 0.0)


def tires_sum_lb(
    *, tire_count: ArrayLike, tire_max_load_lb: ArrayLike, passenger_tire: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """Sum of the tires' maximum loads on an axle, which must reach the axle's rating without tolerance.

    Parameters
    ----------
    tire_count : array_like
        Tires on the axle.
    tire_max_load_lb : array_like
        Maximum load of one tire as mounted, the dual figure on duals. [lb]
    passenger_tire : array_like
        1 for passenger-car tires, which count for their load divided by 1.10.

    References
    ----------
    NHTSA-TIRES-GAWR
    """
    passenger = np.asarray(passenger_tire, float)
    divisor = np.where(np.isnan(passenger), np.nan, np.where(passenger == 1, PASSENGER_DIVISOR, 1.0))
    return np.asarray(tire_count, float) * np.asarray(tire_max_load_lb, float) / divisor


def relabel_over_lb(*, gvwr_lb: ArrayLike) -> NDArray[np.float64]:
    """Weight that may be added before first retail sale without correcting the capacity label.

    Parameters
    ----------
    gvwr_lb : array_like
        Rating on the label. [lb]

    Returns
    -------
    limit_lb : ndarray
        The lesser of 1.5 percent of GVWR and 100 lb. [lb]

    References
    ----------
    CARGO-CAPACITY-RULE
    """
    return np.minimum(RELABEL_SHARE * np.asarray(gvwr_lb, float), RELABEL_LB)
