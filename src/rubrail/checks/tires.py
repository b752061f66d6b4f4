"""What the trailer's tires and wheels carry, axle by axle."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import check


@check(
    id="axle-tires",
    title="tires of each trailer axle at the pressure they are run at",
    kind="rating",
    group="tires",
    demand="where(axle_present == 0, 0, axle_load_lb)",
    limit="where(axle_present == 0, inf, axle_tires_lb)",
    per="axle",
    sources=("TIRE-GAWR", "TIRE-PRESSURE-LAW", "TIRE-STIFFNESS", "TIRE-PASSENGER-DERATE"),
    says="The tires of an axle, at the pressure they are run at, must carry what stands on it; low air costs rating.",
    settle="read load and pressure off the sidewall, gauge the tires cold, and weigh the axle",
)
def axle_tires(*, axle_present, axle_load_lb, axle_tires_lb):
    """Load on each axle against what its tires carry at their pressure.

    References
    ----------
    TIRE-GAWR, TIRE-PRESSURE-LAW, TIRE-STIFFNESS, TIRE-PASSENGER-DERATE
    """
    absent = np.asarray(axle_present, float) == 0
    return np.where(absent, 0.0, axle_load_lb), np.where(absent, np.inf, axle_tires_lb)


@check(
    id="axle-wheels",
    title="wheels of each trailer axle",
    kind="rating",
    group="tires",
    demand="where(axle_present == 0, 0, axle_load_lb)",
    limit="where(axle_present == 0, inf, axle_tire_count * axle_wheel_rating_lb)",
    per="axle",
    sources=("WHEEL-RATING", "RIM-MARKS"),
    says="Each wheel has a load its maker rates it for; an axle's wheels together must carry what stands on it.",
    settle="read the load stamped on the wheels or in their maker's sheet, and weigh the axle",
)
def axle_wheels(*, axle_present, axle_load_lb, axle_tire_count, axle_wheel_rating_lb):
    """Load on each axle against what its wheels are rated for, one wheel a tire.

    References
    ----------
    WHEEL-RATING, RIM-MARKS
    """
    absent = np.asarray(axle_present, float) == 0
    rated = np.asarray(axle_tire_count, float) * axle_wheel_rating_lb
    return np.where(absent, 0.0, axle_load_lb), np.where(absent, np.inf, rated)
