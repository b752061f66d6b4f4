"""Hooking up: chains, plug, brake controller, and how the trailer stands behind the truck."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import check
from rubrail.rules.tables import figure

BALL, GOOSENECK, KINGPIN, PINTLE = range(4)
ELECTRIC, ELECTRIC_OVER_HYDRAULIC = 1, 2
FOUR_WAY, AIR = 0, 3


def _on_tongue(coupling_kind):
    """1 for ball and pintle, 0 for gooseneck and kingpin, ``nan`` where not known."""
    kind = np.asarray(coupling_kind, float)
    return np.where(np.isnan(kind), np.nan, (kind == BALL) | (kind == PINTLE))


def _where(condition, yes, no):
    """``yes`` where the condition is 1, ``no`` where it is 0, ``nan`` where it is not known."""
    condition = np.asarray(condition, float)
    return np.where(condition == 0, no, np.asarray(yes, float) + 0.0 * condition)


@check(
    id="chain-strength",
    title="safety chains against the loaded trailer",
    kind="law",
    group="coupling",
    demand="where((coupling_kind == 0) + (coupling_kind == 3), trailer_gross_lb, 0)",
    limit="where((coupling_kind == 0) + (coupling_kind == 3), chain_count * chain_strength_lb, inf)",
    sources=("CHAIN-STRENGTH",),
    says="The safety chains together must be as strong as the loaded trailer is heavy.",
    settle="read the grade and size of the chains and their hooks",
)
def chain_strength(*, coupling_kind, trailer_gross_lb, chain_count, chain_strength_lb):
    """Loaded trailer on a ball or pintle against the breaking strength of its safety chains together.

    References
    ----------
    CHAIN-STRENGTH
    """
    tongue = _on_tongue(coupling_kind)
    strength = np.asarray(chain_count, float) * chain_strength_lb
    return _where(tongue, trailer_gross_lb, 0.0), _where(tongue, strength, np.inf)


@check(
    id="gooseneck-chains",
    title="safety chains on a gooseneck",
    kind="guidance",
    group="coupling",
    demand="where(coupling_kind == 1, trailer_gross_lb, 0)",
    limit="where(coupling_kind == 1, chain_count * chain_strength_lb, inf)",
    sources=("CHAIN-GOOSENECK",),
    says="Most states want safety chains on a gooseneck too, as strong together as the loaded trailer is heavy.",
    settle="read the grade and size of the chains, and ask the state",
)
def gooseneck_chains(*, coupling_kind, trailer_gross_lb, chain_count, chain_strength_lb):
    """Loaded gooseneck against the breaking strength of its safety chains together.

    References
    ----------
    CHAIN-GOOSENECK
    """
    kind = np.asarray(coupling_kind, float)
    gooseneck = np.where(np.isnan(kind), np.nan, kind == GOOSENECK)
    strength = np.asarray(chain_count, float) * chain_strength_lb
    return _where(gooseneck, trailer_gross_lb, 0.0), _where(gooseneck, strength, np.inf)


@check(
    id="plug-match",
    title="plug on the truck against the trailer's",
    kind="fit",
    group="coupling",
    demand="1",
    limit="where(trailer_plug == 0, truck_plug < 3, trailer_plug == truck_plug)",
    unit="",
    sources=("PLUG-MATCH",),
    says="The trailer's plug must match the truck's, or lamps and brakes do not work; a 4-way needs only an adapter.",
    settle="look at both plugs",
)
def plug_match(*, trailer_plug, truck_plug):
    """Whether the truck's plug serves the trailer's: the same, or a 6- or 7-way, adapted, for a plain 4-way.

    References
    ----------
    PLUG-MATCH
    """
    trailer, truck = np.asarray(trailer_plug, float), np.asarray(truck_plug, float)
    serves = np.where(trailer == FOUR_WAY, truck < AIR, trailer == truck)
    return 1.0, np.where(np.isnan(trailer + truck), np.nan, serves)


@check(
    id="brake-controller",
    title="brake controller in the truck",
    kind="fit",
    group="coupling",
    demand=(
        "max(where(axle_present == 0, 0, where(axle_braked == 0, 0, (axle_brake_kind == 1) + (axle_brake_kind == 2))))"
    ),
    limit="brake_controller_fitted",
    unit="",
    sources=("BRAKE-CONTROLLER",),
    says="Electric trailer brakes, plain or over hydraulic, work only with a brake controller in the truck.",
    settle="look for the controller in the cab",
)
def brake_controller(*, axle_present, axle_braked, axle_brake_kind, brake_controller_fitted):
    """Need of a brake controller (any axle there with electric brakes) against whether the truck has one.

    References
    ----------
    BRAKE-CONTROLLER
    """
    kind, braked = np.asarray(axle_brake_kind, float), np.asarray(axle_braked, float)
    present = np.asarray(axle_present, float)
    electric = np.where(np.isnan(kind), np.nan, (kind == ELECTRIC) | (kind == ELECTRIC_OVER_HYDRAULIC))
    needs = _where(present, _where(braked, electric, 0.0), 0.0)
    # One axle known to need it settles the matter; without such an axle an unknown one keeps it open.
    need = np.where((needs == 1).any(axis=0), 1.0, needs.sum(axis=0))
    return need, np.where(need == 0, np.inf, brake_controller_fitted)


@check(
    id="hitch-too-low",
    title="hitch at least as high as the coupler's lowest setting",
    kind="guidance",
    group="coupling",
    demand="where(coupler_height_max_in > coupler_height_min_in, coupler_height_min_in, 0)",
    limit="where(coupler_height_max_in > coupler_height_min_in, hitch_height_in, inf)",
    unit="in",
    scale="demand",
    sources=("TOW-LEVEL",),
    says="The hitch stands lower than the coupler can be set, so the trailer rides nose down.",
    settle="measure the hitch's height with the truck loaded to tow",
)
def hitch_too_low(*, hitch_height_in, coupler_height_min_in, coupler_height_max_in):
    """Lowest setting of an adjustable coupler against the hitch's height.

    References
    ----------
    TOW-LEVEL
    """
    low, high = np.asarray(coupler_height_min_in, float), np.asarray(coupler_height_max_in, float)
    adjusts = np.where(np.isnan(low + high), np.nan, high > low)
    return _where(adjusts, low, 0.0), _where(adjusts, hitch_height_in, np.inf)


@check(
    id="hitch-too-high",
    title="hitch at most as high as the coupler's highest setting",
    kind="guidance",
    group="coupling",
    demand="where(coupler_height_max_in > coupler_height_min_in, hitch_height_in, 0)",
    limit="where(coupler_height_max_in > coupler_height_min_in, coupler_height_max_in, inf)",
    unit="in",
    sources=("TOW-LEVEL",),
    says="The hitch stands higher than the coupler can be set, so the trailer rides nose up.",
    settle="measure the hitch's height with the truck loaded to tow",
)
def hitch_too_high(*, hitch_height_in, coupler_height_min_in, coupler_height_max_in):
    """Hitch's height against the highest setting of an adjustable coupler.

    References
    ----------
    TOW-LEVEL
    """
    low, high = np.asarray(coupler_height_min_in, float), np.asarray(coupler_height_max_in, float)
    adjusts = np.where(np.isnan(low + high), np.nan, high > low)
    return _where(adjusts, hitch_height_in, 0.0), _where(adjusts, high, np.inf)


@check(
    id="level-trim",
    title="trailer standing level, inches in ten feet",
    kind="guidance",
    group="coupling",
    demand="120 * abs(trim_rad)",
    limit="1",
    unit="in",
    sources=("TOW-LEVEL",),
    says="Tow level to within an inch in ten feet; off level, torsion axles do not share the load.",
    settle="measure the frame's height at both ends with the rig hitched and loaded",
)
def level_trim(*, trim_rad):
    """Rise or fall of the frame over ten feet against one inch.

    References
    ----------
    TOW-LEVEL
    """
    return 120.0 * np.abs(trim_rad), figure("towing-guidance", "level_in_per_120_in")


@check(
    id="neck-over-rail",
    title="neck above the truck's bed rail",
    kind="fit",
    group="coupling",
    demand="where((coupling_kind == 0) + (coupling_kind == 3), 0, bed_rail_height_in)",
    limit="where((coupling_kind == 0) + (coupling_kind == 3), inf, neck_over_bed_in)",
    unit="in",
    sources=("NECK-CLEARANCE",),
    says="The neck must pass above the truck's bed rail.",
    settle="measure the bed rail's height loaded to tow, and the neck's underside",
)
def neck_over_rail(*, coupling_kind, neck_over_bed_in, bed_rail_height_in):
    """Bed rail's height against the height of the neck's underside over it; goosenecks and kingpins only.

    References
    ----------
    NECK-CLEARANCE
    """
    tongue = _on_tongue(coupling_kind)
    neck = 1.0 - tongue
    return _where(neck, bed_rail_height_in, 0.0), _where(neck, neck_over_bed_in, np.inf)


@check(
    id="neck-clearance",
    title="room between neck and bed rail",
    kind="guidance",
    group="coupling",
    demand="where((coupling_kind == 0) + (coupling_kind == 3), 0, 6)",
    limit="where((coupling_kind == 0) + (coupling_kind == 3), inf, neck_over_bed_in - bed_rail_height_in)",
    unit="in",
    scale="demand",
    sources=("NECK-CLEARANCE",),
    says="Leave six inches between neck and bed rail, or the neck strikes the bed where the ground dips.",
    settle="measure the bed rail's height loaded to tow, and the neck's underside",
)
def neck_clearance(*, coupling_kind, neck_over_bed_in, bed_rail_height_in):
    """Six inches against the room between neck and bed rail; goosenecks and kingpins only.

    References
    ----------
    NECK-CLEARANCE
    """
    neck = 1.0 - _on_tongue(coupling_kind)
    room = neck_over_bed_in - np.asarray(bed_rail_height_in, float)
    return _where(neck, figure("towing-guidance", "neck_clearance_in"), 0.0), _where(neck, room, np.inf)


@check(
    id="neck-swing",
    title="neck clear of the cab in a tight turn",
    kind="fit",
    group="coupling",
    demand="where((coupling_kind == 0) + (coupling_kind == 3), 0, neck_swing_in)",
    limit="where((coupling_kind == 0) + (coupling_kind == 3), inf, hitch_to_cab_in)",
    unit="in",
    sources=("NECK-SWING",),
    says="The foremost corner of the trailer must swing clear of the cab in a tight turn.",
    settle="measure from the hitch to the back of the cab, and from the coupling to the neck's foremost corner",
)
def neck_swing(*, coupling_kind, neck_swing_in, hitch_to_cab_in):
    """Reach of the neck's foremost corner against the distance to the cab; goosenecks and kingpins only.

    References
    ----------
    NECK-SWING
    """
    neck = 1.0 - _on_tongue(coupling_kind)
    return _where(neck, neck_swing_in, 0.0), _where(neck, hitch_to_cab_in, np.inf)
