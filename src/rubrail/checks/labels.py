"""What the certification label must hold by itself, whatever is loaded."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import check
from rubrail.rules import label
from rubrail.rules.tables import by_code, column

PASSENGER = 2


@check(
    id="tires-carry-axle-rating",
    title="tires against the axle's rating",
    kind="law",
    group="tires",
    demand="where(axle_present == 0, 0, axle_gawr_lb)",
    limit=(
        "where(axle_present == 0, inf,"
        " axle_tire_count * axle_tire_max_load_lb / where(axle_tire_family == 2, 1.10, 1))"
    ),
    per="axle",
    sources=("NHTSA-TIRES-GAWR",),
    says="The tires on an axle must together carry its rating at their highest pressure, without any tolerance.",
    settle="read the load on the tires' sidewalls",
)
def tires_carry_axle_rating(*, axle_present, axle_gawr_lb, axle_tire_count, axle_tire_max_load_lb, axle_tire_family):
    """Each axle's rating against the sum of its tires' maximum loads: NHTSA-TIRES-GAWR."""
    absent = np.asarray(axle_present) == 0
    family = np.asarray(axle_tire_family, float)
    tires = label.tires_sum_lb(
        tire_count=axle_tire_count,
        tire_max_load_lb=axle_tire_max_load_lb,
        passenger_tire=np.where(np.isnan(family), np.nan, family == PASSENGER),
    )
    return np.where(absent, 0.0, axle_gawr_lb), np.where(absent, np.inf, tires)


@check(
    id="label-coupler-share",
    title="coupler load the label counts on",
    kind="duty",
    group="trailer",
    demand="max(trailer_gvwr_lb - sum(where(axle_present == 0, 0, axle_gawr_lb)), 0)",
    limit="where((coupling_kind == 1) + (coupling_kind == 2), 0.25, 0.15) * trailer_gvwr_lb",
    sources=("NHTSA-GVWR", "SHARE-GUIDANCE"),
    says="A label above the axles' ratings counts on the truck carrying the rest; without that coupler load the axles "
    "are past their ratings.",
    settle="read the ratings on the certification label",
)
def label_coupler_share(*, trailer_gvwr_lb, axle_present, axle_gawr_lb, coupling_kind):
    """GVWR above the axle ratings against the greatest share that guidance puts on the coupler.

    References: NHTSA-GVWR, SHARE-GUIDANCE.
    """
    ratings = np.where(np.asarray(axle_present) == 0, 0.0, axle_gawr_lb).sum(axis=0)
    counted = label.coupler_share_counted_on_lb(gvwr_lb=trailer_gvwr_lb, gawr_sum_lb=ratings)
    return counted, by_code(coupling_kind, column("coupler-shares", "high")) * trailer_gvwr_lb
