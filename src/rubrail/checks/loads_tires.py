"""Quantities of the trailer's tires: what one carries at its pressure, what an axle's tires carry, what is left."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import quantity
from rubrail.mechanics import tires
from rubrail.mechanics.members import of_present
from rubrail.rules.tables import by_code, column


@quantity(
    title="load one tire carries at its pressure",
    formula=(
        "where(axle_present == 0, 0, axle_tire_max_load_lb"
        " * min(1, max(0, axle_tire_pressure_psi / axle_tire_max_pressure_psi))"
        " / where(axle_tire_family == 2, 1.10, 1))"
    ),
    per="axle",
    sources=("TIRE-PRESSURE-LAW", "TIRE-STIFFNESS", "TIRE-PASSENGER-DERATE"),
)
def axle_tire_load_lb(
    *, axle_present, axle_tire_max_load_lb, axle_tire_max_pressure_psi, axle_tire_pressure_psi, axle_tire_family
):
    """Load one tire of each axle may carry at the pressure it is run at; 0 for an axle not there. [lb]

    References
    ----------
    TIRE-PRESSURE-LAW, TIRE-STIFFNESS, TIRE-PASSENGER-DERATE
    """
    load = tires.tire_load_lb(
        max_load_lb=axle_tire_max_load_lb,
        max_pressure_psi=axle_tire_max_pressure_psi,
        pressure_psi=axle_tire_pressure_psi,
        exponent=by_code(axle_tire_family, column("tire-families", "exponent")),
        derate=by_code(axle_tire_family, column("tire-families", "derate")),
    )
    return of_present(present=axle_present, value=load)


@quantity(
    title="load an axle's tires carry at their pressure",
    formula="where(axle_present == 0, 0, axle_tire_count * axle_tire_load_lb)",
    per="axle",
    sources=("TIRE-GAWR",),
)
def axle_tires_lb(*, axle_present, axle_tire_count, axle_tire_load_lb):
    """Load all tires of each axle may carry together; 0 for an axle not there. [lb]

    References
    ----------
    TIRE-GAWR
    """
    return of_present(present=axle_present, value=np.asarray(axle_tire_count, float) * axle_tire_load_lb)


@quantity(
    title="tire reserve of an axle, percent of its load",
    formula="where(axle_present == 0, 0, (axle_tires_lb / axle_load_lb - 1) * 100)",
    per="axle",
)
def tire_reserve_percent(*, axle_present, axle_tires_lb, axle_load_lb):
    """What the tires of each axle could carry beyond its load, in percent of the load; 0 for an axle not there."""
    return of_present(present=axle_present, value=(np.asarray(axle_tires_lb, float) / axle_load_lb - 1.0) * 100.0)
