"""What the climb does to the rig: the coupler, the truck's rear, the trailer's axles, the jack."""

from __future__ import annotations

import numpy as np

from rubrail.checks.loading import only_where
from rubrail.checks.registry import check


@check(
    id="rig-lifts",
    title="truck or nose lifted off the ground",
    kind="fit",
    group="loading",
    demand="climb_lifted",
    limit="0",
    unit="",
    affine=False,
    sources=("STATICS-LOADING", "REAR-LIGHT"),
    says="A machine on the tail lifts the nose; it must lift neither the truck's rear wheels nor an unhitched nose.",
    settle="let the stands down or put blocks under the rear before anything drives up",
    case="loading",
)
def rig_lifts(*, climb_lifted):
    """Whether the truck's rear, or the unhitched nose, leaves the ground: STATICS-LOADING, REAR-LIGHT."""
    lifted = np.asarray(climb_lifted, float)
    return lifted, np.zeros_like(lifted)


@check(
    id="coupler-uplift",
    title="coupler pulling up on the hitch",
    kind="guidance",
    group="loading",
    demand="0",
    limit="where(climb_hitched == 0, inf, climb_coupler_least_lb)",
    affine=False,
    sources=("STATICS-LOADING", "REAR-LIGHT"),
    says="While the machine is behind the axles the coupler may pull up on the hitch; only its latch then holds it.",
    settle="let the stands down, or put blocks under the rear",
    case="loading",
)
def coupler_uplift(*, climb_hitched, climb_coupler_least_lb):
    """Nothing against the least coupler load: STATICS-LOADING, REAR-LIGHT."""
    return only_where(climb_hitched, 0.0 * np.asarray(climb_coupler_least_lb, float), climb_coupler_least_lb)


@check(
    id="truck-rear-light",
    title="truck's rear axle while loading",
    kind="guidance",
    group="loading",
    demand="where(climb_hitched == 0, 0, 0.5 * climb_truck_rear_alone_lb)",
    limit="where(climb_hitched == 0, inf, climb_truck_rear_lb)",
    scale="demand",
    affine=False,
    sources=("REAR-LIGHT",),
    says="The parking brake holds the rear wheels only: with little left on them the whole rig can roll away.",
    settle="weigh the truck's rear axle; chock the trailer and let its stands down",
    case="loading",
)
def truck_rear_light(*, climb_hitched, climb_truck_rear_alone_lb, climb_truck_rear_lb):
    """Half the truck's own rear load against the least while the machine climbs: REAR-LIGHT."""
    return only_where(climb_hitched, 0.5 * np.asarray(climb_truck_rear_alone_lb, float), climb_truck_rear_lb)


@check(
    id="axle-while-loading",
    title="trailer axle while loading",
    kind="guidance",
    group="loading",
    demand="where(axle_present == 0, 0, climb_axle_lb)",
    limit="where(axle_present == 0, inf, axle_gawr_lb)",
    per="axle",
    affine=False,
    sources=("STATICS-LOADING",),
    says="Behind the axles a machine weighs on them with a lever; no rule forbids it standing still.",
    settle="let the stands down before the machine is on the tail",
    case="loading",
)
def axle_while_loading(*, axle_present, climb_axle_lb, axle_gawr_lb):
    """Greatest load on each axle while the machine climbs against its rating for the road: STATICS-LOADING."""
    return only_where(axle_present, climb_axle_lb, axle_gawr_lb)


@check(
    id="jack-load",
    title="jack under the nose",
    kind="rating",
    group="loading",
    demand="where(climb_hitched == 1, 0, climb_coupler_most_lb)",
    limit="where(climb_hitched == 1, inf, jack_count * jack_rating_lb)",
    affine=False,
    sources=("JACK-RATING",),
    says="Unhitched, the jack carries the nose and whatever the machine adds to it.",
    settle="read the rating on the jack",
    case="loading",
)
def jack_load(*, climb_hitched, climb_coupler_most_lb, jack_count, jack_rating_lb):
    """Greatest load at the nose against what the jacks hold: JACK-RATING."""
    hitched = np.asarray(climb_hitched, float)
    alone = np.where(np.isnan(hitched), np.nan, hitched == 0)
    return only_where(alone, climb_coupler_most_lb, np.asarray(jack_count, float) * jack_rating_lb)


@check(
    id="chocked",
    title="trailer's wheels chocked",
    kind="guidance",
    group="loading",
    demand="1",
    limit="climb_chocked",
    unit="",
    affine=False,
    sources=("REAR-LIGHT",),
    says="Chock the trailer's wheels: its brakes do not hold it while the truck stands, and its tail lifts the truck.",
    settle="put chocks ahead of and behind the trailer's wheels",
    case="loading",
)
def chocked(*, climb_chocked):
    """Whether the trailer's wheels are chocked: REAR-LIGHT."""
    there = np.asarray(climb_chocked, float)
    return np.ones_like(there), there
