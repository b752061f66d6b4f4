"""What the trailer's own label allows: the whole of it, its axles together, and each axle."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import check
from rubrail.mechanics.members import sum_of_present


@check(
    id="trailer-gross",
    title="trailer gross weight against its label",
    kind="rating",
    group="trailer",
    demand="trailer_gross_lb",
    limit="trailer_gvwr_lb",
    sources=("LABEL-GVWR",),
    says="Trailer and cargo together may not weigh more than the gross rating on the trailer's label.",
    settle="weigh the loaded trailer, coupler included",
)
def trailer_gross(*, trailer_gross_lb, trailer_gvwr_lb):
    """Loaded trailer against the gross vehicle weight rating on its certification label.

    References
    ----------
    LABEL-GVWR
    """
    return trailer_gross_lb, trailer_gvwr_lb


@check(
    id="axle-group",
    title="all trailer axles against the sum of their ratings",
    kind="rating",
    group="trailer",
    demand="axle_group_load_lb",
    limit="sum(where(axle_present == 0, 0, axle_gawr_lb))",
    sources=("LABEL-GAWR",),
    says="The trailer's axles together may not carry more than their ratings add up to.",
    settle="weigh the trailer's axles with the rig hitched and loaded",
)
def axle_group(*, axle_group_load_lb, axle_present, axle_gawr_lb):
    """Load on the axle group against the sum of the axle ratings.

    References
    ----------
    LABEL-GAWR
    """
    return axle_group_load_lb, sum_of_present(present=axle_present, value=axle_gawr_lb)


@check(
    id="axle",
    title="each trailer axle against its rating",
    kind="rating",
    group="trailer",
    demand="where(axle_present == 0, 0, axle_load_lb)",
    limit="where(axle_present == 0, inf, axle_gawr_lb)",
    per="axle",
    sources=("LABEL-GAWR", "SPRING-AXLES"),
    says="No axle of the trailer may carry more than the rating stamped for it.",
    settle="weigh each axle of the trailer with the rig hitched and loaded",
)
def axle(*, axle_present, axle_load_lb, axle_gawr_lb):
    """Load on each axle against its gross axle weight rating.

    References
    ----------
    LABEL-GAWR, SPRING-AXLES
    """
    absent = np.asarray(axle_present, float) == 0
    return np.where(absent, 0.0, axle_load_lb), np.where(absent, np.inf, axle_gawr_lb)
