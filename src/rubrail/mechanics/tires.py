"""What a tire carries at the pressure it is run at, and how high it stands.

Below the pressure of its maximum load a tire carries less. The tables of the standards follow
``(pressure / maximum pressure) ** k`` with k under 1; a model of tire stiffness makes the load proportional to
the pressure. The engine takes the lesser of the two. Under full pressure that is always the proportional
figure, since k is under 1: less than the printed table, on purpose, and cured by airing up.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def pressure_share(*, pressure_psi: ArrayLike, max_pressure_psi: ArrayLike) -> Array:
    """Pressure as a share of the maximum, never above 1 (air above the maximum adds no rating) nor below 0.

    Parameters
    ----------
    pressure_psi, max_pressure_psi : array_like
        Cold pressure the tire is run at, and the pressure of its maximum load. [psi]
    """
    return np.clip(np.asarray(pressure_psi, float) / np.asarray(max_pressure_psi, float), 0.0, 1.0)


def tabulated_load_lb(
    *, max_load_lb: ArrayLike, max_pressure_psi: ArrayLike, pressure_psi: ArrayLike, exponent: ArrayLike
) -> Array:
    """Load the standards' tables give at a reduced pressure.

    Parameters
    ----------
    max_load_lb, max_pressure_psi : array_like
        Maximum load of one tire and the pressure it belongs to. [lb], [psi]
    pressure_psi : array_like
        Cold pressure the tire is run at. [psi]
    exponent : array_like
        k of the tire's family.

    References
    ----------
    TIRE-PRESSURE-LAW
    """
    share = pressure_share(pressure_psi=pressure_psi, max_pressure_psi=max_pressure_psi)
    return np.asarray(max_load_lb, float) * share ** np.asarray(exponent, float)


def tire_load_lb(
    *,
    max_load_lb: ArrayLike,
    max_pressure_psi: ArrayLike,
    pressure_psi: ArrayLike,
    exponent: ArrayLike,
    derate: ArrayLike = 1.0,
) -> Array:
    """Load one tire may carry at the pressure it is run at: the lesser of table law and proportion, derated.

    Parameters
    ----------
    max_load_lb, max_pressure_psi : array_like
        Maximum load of one tire as mounted (the dual figure on duals) and its pressure. [lb], [psi]
    pressure_psi : array_like
        Cold pressure the tire is run at. [psi]
    exponent : array_like
        k of the tire's family.
    derate : array_like
        What the load is divided by: 1.10 for a passenger-car tire on a trailer, else 1.

    References
    ----------
    TIRE-PRESSURE-LAW, TIRE-STIFFNESS, TIRE-PASSENGER-DERATE
    """
    share = pressure_share(pressure_psi=pressure_psi, max_pressure_psi=max_pressure_psi)
    least = np.minimum(share ** np.asarray(exponent, float), share)
    return np.asarray(max_load_lb, float) * least / np.asarray(derate, float)


MM_PER_IN = 25.4


def section_height_in(*, width_mm: ArrayLike, aspect: ArrayLike) -> Array:
    """Rim to tread of a new tire. [in]

    Parameters
    ----------
    width_mm : array_like
        Section width, as marked. [mm]
    aspect : array_like
        Section height in percent of the width, as marked.

    References
    ----------
    TIRE-SIZE
    """
    return np.asarray(width_mm, float) * aspect / 100.0 / MM_PER_IN


def overall_diameter_in(*, width_mm: ArrayLike, aspect: ArrayLike, rim_in: ArrayLike) -> Array:
    """Overall diameter of a new tire, unloaded. [in]

    Parameters
    ----------
    width_mm, aspect : array_like
        Section width and aspect in percent, as marked. [mm]
    rim_in : array_like
        Rim diameter, as marked. [in]

    References
    ----------
    TIRE-SIZE
    """
    return np.asarray(rim_in, float) + 2.0 * section_height_in(width_mm=width_mm, aspect=aspect)


def loaded_radius_in(*, width_mm: ArrayLike, aspect: ArrayLike, rim_in: ArrayLike, deflection: ArrayLike) -> Array:
    """Axle center to ground with the tire at its rated load. [in]

    Parameters
    ----------
    width_mm, aspect : array_like
        Section width and aspect in percent, as marked. [mm]
    rim_in : array_like
        Rim diameter, as marked. [in]
    deflection : array_like
        How far it gives, as a share of its section height.

    References
    ----------
    TIRE-LOADED-RADIUS
    """
    height = section_height_in(width_mm=width_mm, aspect=aspect)
    return np.asarray(rim_in, float) / 2.0 + height * (1.0 - np.asarray(deflection, float))
