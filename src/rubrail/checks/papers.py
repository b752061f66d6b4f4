"""License, carrier duties and taxes: what papers this rig asks for. Duty and tax are told; a license must be held."""

from __future__ import annotations

import numpy as np

from rubrail.checks import duties, labels  # noqa: F401  registers duties, taxes and what the label must hold
from rubrail.checks.registry import check, quantity
from rubrail.rules import license

PRIVATE, OWN_BUSINESS, FOR_HIRE, FARM = range(4)


@quantity(title="weight that license and carrier rules go by", sources=("GCWR-RULE", "CFR-49-383.5"))
def combination_figure_lb(
    *,
    truck_gvwr_lb,
    trailer_gvwr_lb,
    truck_front_empty_lb,
    truck_rear_empty_lb,
    trailer_gross_lb,
    truck_label_gcwr_lb,
):
    """The greatest of label GCWR and any mix of ratings and actual weights: GCWR-RULE, CFR-49-383.5. [lb]"""
    return license.combination_figure_lb(
        truck_gvwr_lb=truck_gvwr_lb,
        trailer_gvwr_lb=trailer_gvwr_lb,
        truck_weight_lb=np.asarray(truck_front_empty_lb, float) + truck_rear_empty_lb,
        trailer_weight_lb=trailer_gross_lb,
        label_gcwr_lb=truck_label_gcwr_lb,
    )


def _held(needed, held, use):
    """Demand and limit of a license: the group needed against the group held.

    Nothing is asked where no license is needed, or where the driver holds group A, which covers the others.
    Outside commerce, and for covered farm vehicles, state law sets the license: such a rig is not known, never clear.
    """
    needed, held, use = np.broadcast_arrays(*(np.asarray(a, float) for a in (needed, held, use)))
    state_law = np.where(np.isnan(use), np.nan, (use == PRIVATE) | (use == FARM))
    limit = np.where(held >= needed, held, np.where(state_law == 0, held, np.nan))
    none = (needed == 0) | (held == license.A)
    return np.where(none, 0.0, needed), np.where(none, np.inf, limit)


@check(
    id="license-by-rating",
    title="driver's license by the ratings",
    kind="law",
    group="papers",
    demand="",
    limit="",
    unit="",
    sources=("CFR-49-383.91", "FMCSA-383.91", "GCWR-RULE", "LICENSE-PRIVATE-USE"),
    says="By the ratings on the labels the driver needs a license of this group; the state confirms.",
    settle="ask which license group the driver holds, and the state what this use needs",
)
def license_by_rating(*, truck_gvwr_lb, trailer_gvwr_lb, truck_label_gcwr_lb, use, license_held):
    """License group the labels ask for against the one held.

    References: CFR-49-383.91, FMCSA-383.91, GCWR-RULE, LICENSE-PRIVATE-USE.
    """
    needed = license.license_group(
        truck_gvwr_lb=truck_gvwr_lb, trailer_gvwr_lb=trailer_gvwr_lb, label_gcwr_lb=truck_label_gcwr_lb
    )
    return _held(needed, license_held, use)


@check(
    id="license-by-weight",
    title="driver's license with actual weights",
    kind="law",
    group="papers",
    demand="",
    limit="",
    unit="",
    affine=False,
    sources=("CFR-49-383.91", "CFR-49-383.5", "USC-49-31301", "LICENSE-PRIVATE-USE"),
    says="Rating or actual weight, whichever is greater, decides the license; a rig past its labels may need more.",
    settle="weigh truck and trailer, and ask which license group the driver holds",
)
def license_by_weight(
    *,
    truck_gvwr_lb,
    trailer_gvwr_lb,
    truck_front_empty_lb,
    truck_rear_empty_lb,
    trailer_gross_lb,
    truck_label_gcwr_lb,
    use,
    license_held,
):
    """License group asked for by the greater of rating and weight against the one held.

    References: CFR-49-383.91, CFR-49-383.5, USC-49-31301, LICENSE-PRIVATE-USE.
    """
    needed = license.license_group(
        truck_gvwr_lb=truck_gvwr_lb,
        trailer_gvwr_lb=trailer_gvwr_lb,
        truck_weight_lb=np.asarray(truck_front_empty_lb, float) + truck_rear_empty_lb,
        trailer_weight_lb=trailer_gross_lb,
        label_gcwr_lb=truck_label_gcwr_lb,
    )
    return _held(needed, license_held, use)
