"""Quantities of the truck and of the pair: axle loads with people, gear and coupler load, and the whole weight."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import quantity
from rubrail.mechanics import truck


@quantity(
    title="truck front axle with people and gear, no trailer",
    formula=(
        "truck_front_axle_lb + sum(where(gear_weight_lb == 0, 0,"
        " gear_weight_lb * (1 - gear_x_in / truck_wheelbase_in)))"
    ),
    sources=("STATICS-TRUCK",),
)
def truck_front_empty_lb(*, truck_front_axle_lb, gear_weight_lb, gear_x_in, truck_wheelbase_in):
    """Front axle of the truck with its people and gear, no trailer hitched. [lb]

    References
    ----------
    STATICS-TRUCK
    """
    weight = np.asarray(gear_weight_lb, float)
    front = weight * (1.0 - np.asarray(gear_x_in, float) / truck_wheelbase_in)
    return truck_front_axle_lb + np.where(weight == 0, 0.0, front).sum(axis=0)


@quantity(
    title="truck rear axle with people and gear, no trailer",
    formula=(
        "truck_rear_axle_lb + sum(where(gear_weight_lb == 0, 0, gear_weight_lb * gear_x_in / truck_wheelbase_in))"
    ),
    sources=("STATICS-TRUCK",),
)
def truck_rear_empty_lb(*, truck_rear_axle_lb, gear_weight_lb, gear_x_in, truck_wheelbase_in):
    """Rear axle of the truck with its people and gear, no trailer hitched. [lb]

    References
    ----------
    STATICS-TRUCK
    """
    weight = np.asarray(gear_weight_lb, float)
    rear = weight * np.asarray(gear_x_in, float) / truck_wheelbase_in
    return truck_rear_axle_lb + np.where(weight == 0, 0.0, rear).sum(axis=0)


@quantity(
    title="what the trailer adds to the truck's front axle",
    formula=(
        "((coupler_load_lb - distribution_return_lb) * hitch_ahead_in + distribution_return_lb * axle_group_x_in)"
        " / truck_wheelbase_in"
    ),
    sources=("STATICS-TRUCK", "WEIGHT-DISTRIBUTION"),
)
def front_change_lb(*, coupler_load_lb, distribution_return_lb, hitch_ahead_in, truck_wheelbase_in, axle_group_x_in):
    """Load the coupler and the spring bars together add to the front axle; negative where they lift it. [lb]

    References
    ----------
    STATICS-TRUCK, WEIGHT-DISTRIBUTION
    """
    return truck.front_change_distributing_lb(
        coupler_load_lb=coupler_load_lb,
        return_lb=distribution_return_lb,
        ahead_in=hitch_ahead_in,
        wheelbase_in=truck_wheelbase_in,
        axle_group_x_in=axle_group_x_in,
    )


@quantity(
    title="truck front axle load",
    formula="truck_front_empty_lb + front_change_lb",
    sources=("STATICS-TRUCK", "WEIGHT-DISTRIBUTION"),
)
def truck_front_load_lb(*, truck_front_empty_lb, front_change_lb):
    """Front axle of the truck with the trailer hitched. [lb]

    References
    ----------
    STATICS-TRUCK, WEIGHT-DISTRIBUTION
    """
    return truck_front_empty_lb + front_change_lb


@quantity(
    title="truck rear axle load",
    formula="truck_rear_empty_lb + coupler_load_lb - distribution_return_lb - front_change_lb",
    sources=("STATICS-TRUCK", "WEIGHT-DISTRIBUTION"),
)
def truck_rear_load_lb(*, truck_rear_empty_lb, coupler_load_lb, distribution_return_lb, front_change_lb):
    """Rear axle of the truck with the trailer hitched. [lb]

    References
    ----------
    STATICS-TRUCK, WEIGHT-DISTRIBUTION
    """
    return truck_rear_empty_lb + coupler_load_lb - distribution_return_lb - front_change_lb


@quantity(
    title="truck gross weight",
    formula="truck_front_empty_lb + truck_rear_empty_lb + coupler_load_lb - distribution_return_lb",
    sources=("STATICS-TRUCK",),
)
def truck_gross_lb(*, truck_front_empty_lb, truck_rear_empty_lb, coupler_load_lb, distribution_return_lb):
    """What the truck's two axles carry: truck, people, gear and what rests on the hitch. [lb]

    References
    ----------
    STATICS-TRUCK
    """
    return truck_front_empty_lb + truck_rear_empty_lb + coupler_load_lb - distribution_return_lb


@quantity(
    title="combination gross weight",
    formula="truck_front_empty_lb + truck_rear_empty_lb + trailer_gross_lb",
    sources=("STATICS-TRUCK",),
)
def combination_gross_lb(*, truck_front_empty_lb, truck_rear_empty_lb, trailer_gross_lb):
    """Weight of truck and trailer together. [lb]

    References
    ----------
    STATICS-TRUCK
    """
    return truck_front_empty_lb + truck_rear_empty_lb + trailer_gross_lb


@quantity(
    title="combination length",
    formula=(
        "truck_front_overhang_in + truck_wheelbase_in - hitch_ahead_in"
        " + max(trailer_rear_x_in, max(where(item_present == 0, trailer_rear_x_in, item_rear_x_in)))"
    ),
)
def combination_length_in(
    *,
    truck_front_overhang_in,
    truck_wheelbase_in,
    hitch_ahead_in,
    trailer_rear_x_in,
    item_present,
    item_rear_x_in,
):
    """Front bumper to the rearmost part of trailer or load. [in]"""
    rear = np.where(np.asarray(item_present, float) == 0, trailer_rear_x_in, item_rear_x_in)
    rearmost = np.maximum(np.asarray(trailer_rear_x_in, float), rear.max(axis=0))
    return np.asarray(truck_front_overhang_in, float) + truck_wheelbase_in - hitch_ahead_in + rearmost
