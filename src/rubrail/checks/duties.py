"""Duties and taxes this rig brings: told beside the verdict, never part of it."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import check
from rubrail.rules import excise, guard, lamps, license

PRIVATE, OWN_BUSINESS, FOR_HIRE, FARM = range(4)
WHOLE_LB = 1.0
"""Duties begin at a whole pound; the greatest weight without one is a pound less."""


@check(
    id="license-line",
    title="license line of the combination",
    kind="duty",
    group="papers",
    demand="where(max(trailer_gvwr_lb, trailer_gross_lb) > 10000, combination_figure_lb, 0)",
    limit="where(max(trailer_gvwr_lb, trailer_gross_lb) > 10000, 26000, inf)",
    affine=False,
    sources=("CFR-49-383.91", "GCWR-RULE"),
    says="With more than 10,000 lb towed, a combination of 26,001 lb or more needs a group A license.",
    settle="read both certification labels and weigh truck and trailer",
)
def license_line(*, combination_figure_lb, trailer_gvwr_lb, trailer_gross_lb):
    """The weight the license goes by against the last pound without one: CFR-49-383.91, GCWR-RULE."""
    towed = np.maximum(trailer_gvwr_lb, trailer_gross_lb)
    light = towed <= license.LICENSE_TOWED_OVER_LB
    limit = np.where(light, np.inf, license.LICENSE_FROM_LB - WHOLE_LB)
    return np.where(light, 0.0, combination_figure_lb + 0.0 * towed), limit


def _carrier(combination_figure_lb, use, interstate, last_lb):
    """Demand and limit of a duty of carriers in interstate commerce that begins past ``last_lb``."""
    use, across = np.asarray(use, float), np.asarray(interstate, float)
    out = (use == PRIVATE) | (across == 0)
    open_ = np.isnan(use) | np.isnan(across)
    limit = np.where(out, np.inf, np.where(open_, np.nan, last_lb))
    return np.where(out, 0.0, combination_figure_lb), limit


@check(
    id="carrier-number",
    title="carrier number and side marking",
    kind="duty",
    group="papers",
    demand="where((use == 0) + (interstate == 0), 0, combination_figure_lb)",
    limit="where((use == 0) + (interstate == 0), inf, 10000)",
    affine=False,
    sources=("CFR-49-390.5", "FMCSA-CARRIER"),
    says="In business across state lines a rig of 10,001 lb or more needs a carrier number on its sides; many states "
    "ask the same inside the state.",
    settle="read both certification labels, and ask whether the haul crosses a state line",
)
def carrier_number(*, combination_figure_lb, use, interstate):
    """The weight carrier rules go by against the last pound without them: CFR-49-390.5, FMCSA-CARRIER."""
    return _carrier(combination_figure_lb, use, interstate, license.CARRIER_FROM_LB - WHOLE_LB)


@check(
    id="medical-certificate",
    title="driver's medical certificate",
    kind="duty",
    group="papers",
    demand="",
    limit="",
    affine=False,
    sources=("FMCSA-CARRIER", "FMCSA-FARM"),
    says="In business across state lines a driver of 10,001 lb or more carries a medical certificate; drivers of "
    "covered farm vehicles do not.",
    settle="ask whether the rig is a covered farm vehicle and whether the haul crosses a state line",
)
def medical_certificate(*, combination_figure_lb, use, interstate):
    """The weight carrier rules go by against the last pound without a certificate: FMCSA-CARRIER, FMCSA-FARM.

    Past it a farm's rig is not known: the certificate falls away only for a covered farm vehicle.
    """
    demand, limit = _carrier(combination_figure_lb, use, interstate, license.CARRIER_FROM_LB - WHOLE_LB)
    open_ = (np.asarray(use, float) == FARM) & (demand > limit)
    return demand, np.where(open_, np.nan, limit)


@check(
    id="farm-line",
    title="line of the covered farm vehicle",
    kind="duty",
    group="papers",
    demand="where(use == 3, combination_figure_lb, 0)",
    limit="where(use == 3, 26000, inf)",
    affine=False,
    sources=("FMCSA-FARM",),
    says="Above about 26,000 lb a covered farm vehicle is exempt only in its home state or within 150 air miles; "
    "agencies print the line as 26,000 and as 26,001 lb.",
    settle="ask the state about a weight between 26,000 and 26,001 lb",
)
def farm_line(*, combination_figure_lb, use):
    """The weight carrier rules go by against the farm line; not known where the sources disagree: FMCSA-FARM."""
    use = np.asarray(use, float)
    reach = license.farm_reach(combination_figure_lb=combination_figure_lb)
    limit = np.where(np.isnan(use) | np.isnan(reach), np.nan, license.FARM_LINE_LOW_LB)
    other = (use != FARM) & ~np.isnan(use)
    return np.where(other, 0.0, combination_figure_lb), np.where(other, np.inf, limit)


@check(
    id="use-tax",
    title="heavy vehicle use tax of the truck",
    kind="tax",
    group="papers",
    demand="combination_gross_lb",
    limit="54999",
    sources=("USC-26-4481", "USC-26-4482"),
    says="From 55,000 lb, truck and trailers with the heaviest load customarily carried, the truck owes a yearly tax.",
    settle="ask for the heaviest load the truck customarily carries",
)
def use_tax(*, combination_gross_lb):
    """This haul's weight against the last pound untaxed: USC-26-4481, USC-26-4482.

    The tax goes by the heaviest load customarily carried, so a light haul does not clear the truck of it.
    """
    return combination_gross_lb, license.USE_TAX_FROM_LB - WHOLE_LB


@check(
    id="lamps",
    title="lamps and marking complete",
    kind="duty",
    group="papers",
    demand="1",
    limit="lamps_complete",
    unit="",
    sources=("LAMPS-393.11", "CONSPICUITY"),
    says="Every lamp, reflector and marking its width, length and rating ask for must be on the trailer and work.",
    settle="walk round the trailer with the list of lamps",
)
def lamps_complete_check(*, lamps_complete):
    """Whether every lamp and marking required was seen: LAMPS-393.11, CONSPICUITY."""
    return 1.0, lamps_complete


@check(
    id="conspicuity",
    title="red and white marking",
    kind="duty",
    group="papers",
    demand="where(trailer_width_in < 80, 0, trailer_gvwr_lb)",
    limit="where(trailer_width_in < 80, inf, 10000)",
    sources=("CONSPICUITY", "NHTSA-8816"),
    says="A trailer 80 in or wider, over 10,000 lb GVWR, is marked red and white along half of each side and behind.",
    settle="read the label and measure the width",
)
def conspicuity(*, trailer_width_in, trailer_gvwr_lb):
    """Rating of a wide trailer against the last pound without marking: CONSPICUITY, NHTSA-8816."""
    wide = lamps.wide(width_in=trailer_width_in)
    limit = np.where(wide == 0, np.inf, np.where(np.isnan(wide), np.nan, lamps.MARKING_OVER_LB))
    return np.where(wide == 0, 0.0, trailer_gvwr_lb), limit


@check(
    id="rear-guard",
    title="rear impact guard",
    kind="duty",
    group="papers",
    demand="trailer_gvwr_lb",
    limit="9999",
    sources=("CFR-49-571.224", "NHTSA-GUARD"),
    says="From 10,000 lb GVWR a trailer has a rear guard unless its frame is low behind or its wheels stand at the "
    "very rear; the maker says which.",
    settle="ask the maker which exclusion the trailer is built to",
)
def rear_guard(*, trailer_gvwr_lb):
    """Rating against the last pound without a guard or an exclusion: CFR-49-571.224, NHTSA-GUARD."""
    return trailer_gvwr_lb, guard.GUARD_FROM_LB - WHOLE_LB


@check(
    id="excise-by-rating",
    title="excise-tax weight by the rating",
    kind="tax",
    group="papers",
    demand="trailer_gvwr_lb",
    limit="26000",
    sources=("USC-26-4051", "TREAS-145.4051-1"),
    says="A trailer rated above 26,000 lb is taxed 12 percent at first retail sale; a rating lower than the trailer "
    "is built for may be disregarded.",
    settle="read the certification label, and ask a tax adviser",
)
def excise_by_rating(*, trailer_gvwr_lb):
    """GVWR against the greatest untaxed: USC-26-4051, TREAS-145.4051-1."""
    return trailer_gvwr_lb, excise.UNTAXED_TO_LB


@check(
    id="excise-by-axles",
    title="excise-tax weight by axle ratings and their place",
    kind="tax",
    group="papers",
    demand="sum(where(axle_present == 0, 0, axle_gawr_lb)) * axle_group_x_in / tax_bed_center_x_in",
    limit="26000",
    sources=("FET-AXLE-METHOD", "USC-26-4051", "TREAS-145.4051-1"),
    says="By axle ratings and where they stand under the bed a trailer can be taxable though its label reads less; "
    "the method is the trade's, not settled law.",
    settle="measure from the coupling to the bed's center, and ask a tax adviser",
)
def excise_by_axles(*, axle_present, axle_gawr_lb, axle_group_x_in, tax_bed_center_x_in):
    """Weight the axles would carry with the load centered on the bed.

    References: FET-AXLE-METHOD, USC-26-4051, TREAS-145.4051-1.
    """
    ratings = np.where(np.asarray(axle_present) == 0, 0.0, axle_gawr_lb).sum(axis=0)
    weight = excise.taxable_weight_by_axles_lb(
        gawr_sum_lb=ratings, axle_center_x_in=axle_group_x_in, bed_center_x_in=tax_bed_center_x_in
    )
    return weight, excise.UNTAXED_TO_LB
