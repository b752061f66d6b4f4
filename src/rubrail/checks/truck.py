"""What the truck allows: its axles, its label, its maker's trailer ratings, its tires, its registration."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import check
from rubrail.rules.tables import figure


@check(
    id="truck-front-axle",
    title="truck front axle against its rating",
    kind="rating",
    group="truck",
    demand="truck_front_load_lb",
    limit="truck_front_gawr_lb",
    sources=("LABEL-GAWR", "STATICS-TRUCK"),
    says="The truck's front axle may not carry more than its rating.",
    settle="weigh the truck's front axle with the loaded trailer hitched",
)
def truck_front_axle(*, truck_front_load_lb, truck_front_gawr_lb):
    """Front axle load of the truck, hitched, against its axle rating.

    References
    ----------
    LABEL-GAWR, STATICS-TRUCK
    """
    return truck_front_load_lb, truck_front_gawr_lb


@check(
    id="truck-rear-axle",
    title="truck rear axle against its rating",
    kind="rating",
    group="truck",
    demand="truck_rear_load_lb",
    limit="truck_rear_gawr_lb",
    sources=("LABEL-GAWR", "STATICS-TRUCK"),
    says="The truck's rear axle may not carry more than its rating; this is often what stops a pickup first.",
    settle="weigh the truck's rear axle with the loaded trailer hitched",
)
def truck_rear_axle(*, truck_rear_load_lb, truck_rear_gawr_lb):
    """Rear axle load of the truck, hitched, against its axle rating.

    References
    ----------
    LABEL-GAWR, STATICS-TRUCK
    """
    return truck_rear_load_lb, truck_rear_gawr_lb


@check(
    id="truck-gross",
    title="truck gross weight against its label",
    kind="rating",
    group="truck",
    demand="truck_gross_lb",
    limit="truck_gvwr_lb",
    sources=("LABEL-GVWR", "STATICS-TRUCK"),
    says="Truck, people, gear and what rests on the hitch may not weigh more than the truck's gross rating.",
    settle="weigh the truck's two axles with the loaded trailer hitched",
)
def truck_gross(*, truck_gross_lb, truck_gvwr_lb):
    """Weight on the truck's axles, hitched, against its gross vehicle weight rating.

    References
    ----------
    LABEL-GVWR, STATICS-TRUCK
    """
    return truck_gross_lb, truck_gvwr_lb


@check(
    id="combination-gross",
    title="truck and trailer against the truck's combination rating",
    kind="rating",
    group="truck",
    demand="combination_gross_lb",
    limit="truck_gcwr_lb",
    sources=("MAKER-RATINGS",),
    says="Truck and trailer together may not weigh more than the truck maker's combination rating.",
    settle="weigh the whole loaded rig",
)
def combination_gross(*, combination_gross_lb, truck_gcwr_lb):
    """Weight of the pair against the maker's gross combination weight rating.

    References
    ----------
    MAKER-RATINGS
    """
    return combination_gross_lb, truck_gcwr_lb


@check(
    id="truck-tow-rating",
    title="trailer against the truck maker's trailer rating for this hitch",
    kind="rating",
    group="truck",
    demand="trailer_gross_lb",
    limit="truck_tow_rating_lb",
    sources=("MAKER-RATINGS",),
    says="The loaded trailer may not weigh more than the truck's maker allows behind this kind of hitch.",
    settle="weigh the loaded trailer, and read the maker's trailer rating for this truck and hitch",
)
def truck_tow_rating(*, trailer_gross_lb, truck_tow_rating_lb):
    """Loaded trailer against the truck maker's trailer rating for the kind of hitch.

    References
    ----------
    MAKER-RATINGS
    """
    return trailer_gross_lb, truck_tow_rating_lb


@check(
    id="truck-front-tires",
    title="truck front tires",
    kind="rating",
    group="truck",
    demand="truck_front_load_lb",
    limit="2 * truck_front_tire_load_lb",
    sources=("TIRE-GAWR", "STATICS-TRUCK"),
    says="The truck's two front tires must carry its front axle.",
    settle="read the front tires' load at their pressure, and weigh the front axle",
)
def truck_front_tires(*, truck_front_load_lb, truck_front_tire_load_lb):
    """Front axle load of the truck against what its two front tires carry.

    References
    ----------
    TIRE-GAWR, STATICS-TRUCK
    """
    return truck_front_load_lb, 2.0 * truck_front_tire_load_lb


@check(
    id="truck-rear-tires",
    title="truck rear tires",
    kind="rating",
    group="truck",
    demand="truck_rear_load_lb",
    limit="truck_rear_tire_count * truck_rear_tire_load_lb",
    sources=("TIRE-GAWR", "STATICS-TRUCK"),
    says="The truck's rear tires must carry its rear axle with the trailer on the hitch.",
    settle="read the rear tires' load at their pressure, and weigh the rear axle",
)
def truck_rear_tires(*, truck_rear_load_lb, truck_rear_tire_count, truck_rear_tire_load_lb):
    """Rear axle load of the truck against what its rear tires carry.

    References
    ----------
    TIRE-GAWR, STATICS-TRUCK
    """
    return truck_rear_load_lb, truck_rear_tire_count * truck_rear_tire_load_lb


@check(
    id="front-axle-lightening",
    title="how much the trailer lightens the truck's front axle",
    kind="guidance",
    group="truck",
    demand="truck_front_empty_lb - truck_front_load_lb",
    limit="0.20 * truck_front_empty_lb",
    sources=("FRONT-LIGHTENING",),
    says="A trailer that lifts more than a fifth off the front axle leaves too little weight to steer and brake with.",
    settle="weigh the truck's front axle with and without the loaded trailer",
)
def front_axle_lightening(*, truck_front_empty_lb, truck_front_load_lb):
    """Front-axle load lost to the trailer against a fifth of what the axle carries without it.

    References
    ----------
    FRONT-LIGHTENING
    """
    share = figure("towing-guidance", "front_lightening")
    return truck_front_empty_lb - truck_front_load_lb, share * truck_front_empty_lb


@check(
    id="steer-axle-share",
    title="the front axle's share of the truck",
    kind="guidance",
    group="truck",
    demand="0.20 * (truck_gross_lb - truck_front_empty_lb - truck_rear_empty_lb) + truck_front_empty_lb"
    " - truck_front_load_lb",
    limit="0.80 * truck_front_empty_lb - 0.20 * truck_rear_empty_lb",
    sources=("STEER-SHARE",),
    says="At least a fifth of what the truck's axles carry should stand on the front one.",
    settle="weigh the truck's two axles with the loaded trailer hitched",
)
def steer_axle_share(*, truck_front_empty_lb, truck_rear_empty_lb, truck_front_load_lb, truck_gross_lb):
    """What the trailer uses up of the front axle's weight beyond a fifth of the truck, against what there is of it.

    Limit: the front axle's surplus over a fifth of the truck without a trailer. Demand: a fifth of what the hitch
    adds to the truck, and what the front axle loses. limit - demand is the surplus with the trailer hitched.

    References
    ----------
    STEER-SHARE
    """
    share = figure("towing-guidance", "steer_share")
    added = truck_gross_lb - truck_front_empty_lb - truck_rear_empty_lb
    surplus = (1.0 - share) * truck_front_empty_lb - share * truck_rear_empty_lb
    return share * added + truck_front_empty_lb - truck_front_load_lb, surplus


@check(
    id="registered-weight",
    title="registered weight of the combination",
    kind="law",
    group="truck",
    demand="combination_gross_lb",
    limit="truck_registered_lb",
    sources=("REGISTERED-WEIGHT",),
    says="Truck and trailer together may not weigh more than the registration says.",
    settle="weigh the whole loaded rig",
)
def registered_weight(*, combination_gross_lb, truck_registered_lb):
    """Weight of the pair against the registered weight; does not apply while that is not stated.

    A buyer seldom knows the figure at the desk and can change it at the counter, so an unstated registration
    does not make the rig unknown: it is told as the duty ``register-for`` instead.

    References
    ----------
    REGISTERED-WEIGHT
    """
    unstated = np.isnan(np.asarray(truck_registered_lb, float))
    return np.where(unstated, 0.0, combination_gross_lb), np.where(unstated, np.inf, truck_registered_lb)


@check(
    id="register-for",
    title="weight the registration must cover",
    kind="duty",
    group="truck",
    demand="combination_gross_lb",
    limit="truck_registered_lb",
    sources=("REGISTERED-WEIGHT",),
    says="The registration must cover the heaviest the rig will run at; states register the pair or the truck.",
    settle="read the weight on the registration",
)
def register_for(*, combination_gross_lb, truck_registered_lb):
    """Weight of the pair, which the registration must cover; not known while that is not stated.

    References
    ----------
    REGISTERED-WEIGHT
    """
    return combination_gross_lb, truck_registered_lb
