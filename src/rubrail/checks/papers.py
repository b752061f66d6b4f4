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


def _lacking(needed, held, use, group):
    """1 where a license group is needed and not held; there may be no such lack.

    Outside commerce, and for covered farm vehicles, state law sets the license: a lack there is not known, never
    clear. Group A covers the others; a group the driver holds is never lacking, needed or not.
    """
    needed, held, use = np.broadcast_arrays(*(np.asarray(a, float) for a in (needed, held, use)))
    this = np.where(np.isnan(needed), np.nan, needed == group)
    has = np.where(np.isnan(held), np.nan, held >= group)
    state_law = np.where(np.isnan(use) | (use == PRIVATE) | (use == FARM), np.nan, 1.0)
    return np.where((this == 0) | (has == 1), 0.0, this * (1.0 - has) * state_law), 0.0


@check(
    id="license-a-by-rating",
    title="group A license where the ratings ask for it",
    kind="law",
    group="papers",
    demand="",
    limit="0",
    unit="",
    sources=("CFR-49-383.91", "FMCSA-383.91", "GCWR-RULE", "LICENSE-PRIVATE-USE"),
    says="Ratings of 26,001 lb or more together, with more than 10,000 lb towed, ask for a group A license; the state "
    "confirms, and decides for private and farm use.",
    settle="ask which license group the driver holds, and the state what this use needs",
)
def license_a_by_rating(*, truck_gvwr_lb, trailer_gvwr_lb, truck_label_gcwr_lb, use, license_held):
    """Whether the labels ask for group A against whether it is held.

    References: CFR-49-383.91, FMCSA-383.91, GCWR-RULE, LICENSE-PRIVATE-USE.
    """
    needed = license.license_group(
        truck_gvwr_lb=truck_gvwr_lb, trailer_gvwr_lb=trailer_gvwr_lb, label_gcwr_lb=truck_label_gcwr_lb
    )
    return _lacking(needed, license_held, use, license.A)


@check(
    id="license-a-by-weight",
    title="group A license where actual weights ask for it",
    kind="law",
    group="papers",
    demand="",
    limit="0",
    unit="",
    affine=False,
    sources=("CFR-49-383.91", "CFR-49-383.5", "GCWR-RULE", "LICENSE-PRIVATE-USE"),
    says="Rating or actual weight, whichever is greater, decides the license; a rig past its labels may need group A.",
    settle="weigh truck and trailer, and ask which license group the driver holds",
)
def license_a_by_weight(
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
    """Whether the greater of rating and weight asks for group A against whether it is held.

    References: CFR-49-383.91, CFR-49-383.5, GCWR-RULE, LICENSE-PRIVATE-USE.
    """
    needed = license.license_group(
        truck_gvwr_lb=truck_gvwr_lb,
        trailer_gvwr_lb=trailer_gvwr_lb,
        truck_weight_lb=np.asarray(truck_front_empty_lb, float) + truck_rear_empty_lb,
        trailer_weight_lb=trailer_gross_lb,
        label_gcwr_lb=truck_label_gcwr_lb,
    )
    return _lacking(needed, license_held, use, license.A)


@check(
    id="license-b",
    title="group B license where the truck asks for it",
    kind="law",
    group="papers",
    demand="",
    limit="0",
    unit="",
    affine=False,
    sources=("CFR-49-383.91", "USC-49-31301", "LICENSE-PRIVATE-USE"),
    says="A truck rated or weighing 26,001 lb or more asks for a group B license; the state decides for private and "
    "farm use.",
    settle="read the truck's label, and ask which license group the driver holds",
)
def license_b(
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
    """Whether the truck asks for group B, where group A is not needed, against whether it is held.

    References: CFR-49-383.91, USC-49-31301, LICENSE-PRIVATE-USE.
    """
    needed = license.license_group(
        truck_gvwr_lb=truck_gvwr_lb,
        trailer_gvwr_lb=trailer_gvwr_lb,
        truck_weight_lb=np.asarray(truck_front_empty_lb, float) + truck_rear_empty_lb,
        trailer_weight_lb=trailer_gross_lb,
        label_gcwr_lb=truck_label_gcwr_lb,
    )
    return _lacking(needed, license_held, use, license.B)
