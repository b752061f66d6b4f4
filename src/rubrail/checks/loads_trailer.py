"""Quantities of the trailer: what stands on it, what its axles carry and what its coupler carries."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import quantity
from rubrail.mechanics import balance, suspension, truck
from rubrail.mechanics.members import of_present, sum_of_present


@quantity(
    title="cargo weight",
    formula="sum(where(item_present == 0, 0, item_weight_lb))",
    sources=("STATICS-BALANCE",),
)
def cargo_weight_lb(*, item_present, item_weight_lb):
    """Weight of everything on the deck. [lb]

    References
    ----------
    STATICS-BALANCE
    """
    return sum_of_present(present=item_present, value=item_weight_lb)


@quantity(
    title="center of gravity of a piece, behind the coupling point",
    formula="where(item_present == 0, 0, item_front_x_in + item_cg_in)",
    per="item",
    sources=("STATICS-BALANCE",),
)
def item_x_in(*, item_present, item_front_x_in, item_cg_in):
    """Coupling point to the center of gravity of each piece of cargo; 0 for a piece that is not there. [in]

    References
    ----------
    STATICS-BALANCE
    """
    return of_present(present=item_present, value=np.asarray(item_front_x_in, float) + item_cg_in)


@quantity(
    title="rear end of a piece, behind the coupling point",
    formula="where(item_present == 0, 0, item_front_x_in + item_length_in)",
    per="item",
)
def item_rear_x_in(*, item_present, item_front_x_in, item_length_in):
    """Coupling point to the rearmost point of each piece of cargo; 0 for a piece that is not there. [in]"""
    return of_present(present=item_present, value=np.asarray(item_front_x_in, float) + item_length_in)


@quantity(
    title="trailer gross weight",
    formula="trailer_empty_weight_lb + cargo_weight_lb",
    sources=("STATICS-BALANCE",),
)
def trailer_gross_lb(*, trailer_empty_weight_lb, cargo_weight_lb):
    """Weight of the loaded trailer, the part on the coupler included. [lb]

    References
    ----------
    STATICS-BALANCE
    """
    return trailer_empty_weight_lb + cargo_weight_lb


@quantity(
    title="center of the axle group, behind the coupling point",
    formula="sum(where(axle_present == 0, 0, axle_x_in)) / sum(axle_present)",
    sources=("STATICS-BALANCE",),
)
def axle_group_x_in(*, axle_present, axle_x_in):
    """Mean place of the trailer's axles. [in]

    References
    ----------
    STATICS-BALANCE
    """
    return balance.axle_group_x_in(axle_present=axle_present, axle_x_in=axle_x_in)


@quantity(
    title="coupler setting nearest the hitch",
    formula="min(max(hitch_height_in, coupler_height_min_in), coupler_height_max_in)",
)
def coupler_setting_in(*, hitch_height_in, coupler_height_min_in, coupler_height_max_in):
    """Level height of the coupling point once the coupler is set, within its range, as near the hitch as it goes. [in]

    At the setting the hitch height names, the trailer tows level.
    """
    return np.minimum(np.maximum(hitch_height_in, coupler_height_min_in), coupler_height_max_in)


@quantity(
    title="hitch above the level height of the coupler",
    formula="hitch_height_in - coupler_setting_in",
)
def coupler_raise_in(*, hitch_height_in, coupler_setting_in):
    """How far the hitch holds the nose above level; negative below. [in]"""
    return hitch_height_in - coupler_setting_in


@quantity(
    title="trim, nose up",
    formula=(
        "coupler_raise_in * where(suspension_kind == 0,"
        " sum(axle_present) / sum(where(axle_present == 0, 0, axle_x_in)),"
        " sum(where(axle_present == 0, 0, axle_x_in))"
        " / sum(where(axle_present == 0, 0, axle_x_in ** 2)))"
    ),
    sources=("SPRING-AXLES",),
)
def trim_rad(*, axle_present, axle_x_in, coupler_raise_in, suspension_kind):
    """Nose-up pitch of the trailer as hitched; it does not depend on the cargo. [rad]

    References
    ----------
    SPRING-AXLES
    """
    return suspension.pitch_rad(
        axle_present=axle_present,
        axle_x_in=axle_x_in,
        coupler_raise_in=coupler_raise_in,
        independent=suspension_kind,
    )


@quantity(
    title="what standing off level adds to an axle",
    per="axle",
    sources=("SPRING-AXLES",),
)
def off_level_lb(*, axle_present, axle_x_in, suspension_rate_lb_per_in, coupler_raise_in, suspension_kind):
    """Load that pitch adds to each independently sprung axle; 0 on equalized axles and when level. [lb]

    References
    ----------
    SPRING-AXLES
    """
    return suspension.off_level_shift_lb(
        axle_present=axle_present,
        axle_x_in=axle_x_in,
        rate_lb_per_in=suspension_rate_lb_per_in,
        coupler_raise_in=coupler_raise_in,
        independent=suspension_kind,
    )


@quantity(
    title="axle group load, level and before any weight distribution",
    formula=(
        "trailer_empty_weight_lb - trailer_empty_coupler_lb"
        " + sum(where(item_present == 0, 0, item_weight_lb * item_x_in)) / axle_group_x_in"
    ),
    sources=("STATICS-BALANCE",),
)
def axle_group_level_lb(
    *, trailer_empty_weight_lb, trailer_empty_coupler_lb, item_present, item_weight_lb, item_x_in, axle_group_x_in
):
    """Load on all axles with the trailer level: the empty trailer's part, and the cargo's by moments. [lb]

    References
    ----------
    STATICS-BALANCE
    """
    cargo = balance.axle_group_load_lb(
        weight_lb=of_present(present=item_present, value=item_weight_lb),
        x_in=of_present(present=item_present, value=item_x_in),
        axle_group_x_in=axle_group_x_in,
    )
    return trailer_empty_weight_lb - trailer_empty_coupler_lb + cargo


@quantity(
    title="coupler load",
    formula="trailer_gross_lb - axle_group_level_lb - sum(off_level_lb)",
    sources=("STATICS-BALANCE",),
)
def coupler_load_lb(*, trailer_gross_lb, axle_group_level_lb, off_level_lb):
    """Load on the coupling point as a scale under it would read, before any weight distribution. [lb]

    References
    ----------
    STATICS-BALANCE
    """
    return trailer_gross_lb - axle_group_level_lb - np.asarray(off_level_lb).sum(axis=0)


@quantity(
    title="load that weight distribution sends back to the trailer's axles",
    formula=(
        "where(weight_distribution == 0, 0, front_restoration * coupler_load_lb * max(-hitch_ahead_in, 0)"
        " / (axle_group_x_in + max(-hitch_ahead_in, 0)))"
    ),
    sources=("WEIGHT-DISTRIBUTION",),
)
def distribution_return_lb(
    *, coupler_load_lb, hitch_ahead_in, axle_group_x_in, weight_distribution, front_restoration
):
    """What the spring bars take off the coupler and put on the trailer's axles; 0 without them. [lb]

    References
    ----------
    WEIGHT-DISTRIBUTION
    """
    used = np.asarray(weight_distribution, float)
    back = truck.distribution_return_lb(
        coupler_load_lb=coupler_load_lb,
        behind_in=np.maximum(-np.asarray(hitch_ahead_in, float), 0.0),
        axle_group_x_in=axle_group_x_in,
        restoration=front_restoration,
    )
    return np.where(used == 0, 0.0, back + 0.0 * used)


@quantity(
    title="axle group load",
    formula="axle_group_level_lb + sum(off_level_lb) + distribution_return_lb",
    sources=("STATICS-BALANCE", "WEIGHT-DISTRIBUTION"),
)
def axle_group_load_lb(*, axle_group_level_lb, off_level_lb, distribution_return_lb):
    """Load on all the trailer's axles together, trim and weight distribution included. [lb]

    References
    ----------
    STATICS-BALANCE, WEIGHT-DISTRIBUTION
    """
    return axle_group_level_lb + np.asarray(off_level_lb).sum(axis=0) + distribution_return_lb


@quantity(
    title="axle load",
    formula=(
        "where(axle_present == 0, 0,"
        " (axle_group_level_lb + distribution_return_lb) / sum(axle_present) + off_level_lb)"
    ),
    per="axle",
    sources=("STATICS-BALANCE", "SPRING-AXLES", "WEIGHT-DISTRIBUTION"),
)
def axle_load_lb(*, axle_present, axle_group_level_lb, distribution_return_lb, off_level_lb):
    """Load on each axle: an even share, and what trim adds on independent axles; 0 for an axle not there. [lb]

    References
    ----------
    STATICS-BALANCE, SPRING-AXLES, WEIGHT-DISTRIBUTION
    """
    level = suspension.even_share_lb(
        axle_present=axle_present, group_load_lb=axle_group_level_lb + np.asarray(distribution_return_lb)
    )
    return of_present(present=axle_present, value=level + off_level_lb)


@quantity(
    title="underside of the neck over the end of the truck's bed",
    formula=(
        "neck_underside_height_in + coupler_raise_in"
        " - where(trim_rad == 0, 0, trim_rad * (hitch_ahead_in + bed_end_behind_axle_in))"
    ),
    sources=("NECK-TRIM",),
)
def neck_over_bed_in(*, neck_underside_height_in, coupler_raise_in, trim_rad, hitch_ahead_in, bed_end_behind_axle_in):
    """Ground to the neck's underside where it passes over the rear end of the bed, at the trim as hitched. [in]

    A hitch above the coupler's setting lifts the neck by as much at the coupling, and by less toward the axles.

    References
    ----------
    NECK-TRIM
    """
    trim = np.asarray(trim_rad, float)
    drop = np.where(trim == 0, 0.0, trim * (np.asarray(hitch_ahead_in, float) + bed_end_behind_axle_in))
    return neck_underside_height_in + coupler_raise_in - drop
