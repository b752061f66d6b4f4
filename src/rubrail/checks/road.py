"""What the road allows: axle law, size, brakes. Figures are the limits file's; local law prevails."""

from __future__ import annotations

import numpy as np

from rubrail.checks import axle_groups, braking  # noqa: F401  registers groups of axles, and the brake checks
from rubrail.checks.registry import check
from rubrail.rules.bridge import ONE_AXLE_WITHIN_IN, TANDEM_WITHIN_IN


@check(
    id="single-axle",
    title="single axle by law",
    kind="law",
    group="road",
    demand="where(rig_axle_present == 0, 0, rig_axle_load_lb)",
    limit="where(rig_axle_present == 0, inf, limit_single_axle_lb)",
    per="rig axle",
    sources=("USC-23-127", "FHWA-SIZE-WEIGHT"),
    says="No axle on the road may carry more than the law allows one axle, whatever it is rated for.",
    settle="weigh the axles",
)
def single_axle(*, rig_axle_load_lb, rig_axle_present, limit_single_axle_lb):
    """Each axle of truck and trailer against the single-axle limit: USC-23-127, FHWA-SIZE-WEIGHT."""
    absent = np.asarray(rig_axle_present) == 0
    return np.where(absent, 0.0, rig_axle_load_lb), np.where(absent, np.inf, limit_single_axle_lb)


@check(
    id="tandem",
    title="tandem by law",
    kind="law",
    group="road",
    demand="where(trailer_span_in > 96, 0, trailer_span_load_lb)",
    limit="where(trailer_span_in > 96, inf, where(trailer_span_in > 40, limit_tandem_lb, limit_single_axle_lb))",
    per="tandem",
    sources=("USC-23-127", "FHWA-SIZE-WEIGHT"),
    says="Axles within 96 in of each other, however many, share the tandem limit; within 40 in they count as one.",
    settle="weigh the axles, and measure from the first to the last",
)
def tandem(*, trailer_span_in, trailer_span_load_lb, limit_single_axle_lb, limit_tandem_lb):
    """Every group of the trailer's axles within 96 in against what it may carry: USC-23-127, FHWA-SIZE-WEIGHT.

    A group that is not there has length 0 and load 0, and does not apply.
    """
    span = np.round(np.asarray(trailer_span_in, float), 6)
    none, unknown = (span == 0) | (span > TANDEM_WITHIN_IN), np.isnan(span)
    limit = np.where(span > ONE_AXLE_WITHIN_IN, limit_tandem_lb, limit_single_axle_lb)
    limit = np.where(none, np.inf, np.where(unknown, np.nan, limit))
    return np.where(none, 0.0, trailer_span_load_lb), limit


@check(
    id="axle-groups",
    title="axle groups by the bridge formula",
    kind="law",
    group="road",
    demand="axle_span_load_lb",
    limit="axle_span_limit_lb",
    per="axle group",
    sources=("USC-23-127", "BRIDGE-LENGTH"),
    says="Every group of consecutive axles may weigh only what its length and number of axles allow.",
    settle="weigh the axles, and measure their spacings",
)
def bridge_groups(*, axle_span_load_lb, axle_span_limit_lb):
    """Every group of consecutive axles of the rig against the bridge formula: USC-23-127, BRIDGE-LENGTH.

    A group that is not there, or that the tandem check has, does not apply.
    """
    return np.where(np.isposinf(axle_span_limit_lb), 0.0, axle_span_load_lb), axle_span_limit_lb


@check(
    id="road-gross",
    title="gross weight by law",
    kind="law",
    group="road",
    demand="combination_gross_lb",
    limit="limit_gross_lb",
    sources=("USC-23-127",),
    says="Truck and trailer together may not weigh more than the road allows without a permit.",
    settle="weigh truck and trailer together",
)
def road_gross(*, combination_gross_lb, limit_gross_lb):
    """Truck and trailer together against the gross limit: USC-23-127."""
    return combination_gross_lb, limit_gross_lb


@check(
    id="overall-width",
    title="overall width",
    kind="law",
    group="road",
    demand="max(trailer_width_in, cargo_width_in)",
    limit="limit_width_in",
    unit="in",
    sources=("CFR-23-658.15", "FHWA-SIZE-WEIGHT"),
    says="The wider of trailer and load may not pass the width limit without a permit.",
    settle="measure the widest part of trailer and load",
)
def overall_width(*, trailer_width_in, cargo_width_in, limit_width_in):
    """The wider of trailer and load against the width limit: CFR-23-658.15, FHWA-SIZE-WEIGHT.

    Devices that carry no load and reach 3 in or less from a side are not counted by that rule.
    """
    return np.maximum(trailer_width_in, cargo_width_in), limit_width_in


@check(
    id="overall-height",
    title="overall height",
    kind="law",
    group="road",
    demand="overall_height_in",
    limit="limit_height_in",
    unit="in",
    affine=False,
    sources=("SIZE-STATES",),
    says="The highest point must pass under what the state allows; there is no federal figure, and states differ.",
    settle="measure from the ground to the highest point, loaded",
)
def overall_height(*, overall_height_in, limit_height_in):
    """Highest point of trailer and load against the state's height limit: SIZE-STATES."""
    return overall_height_in, limit_height_in


@check(
    id="combination-length",
    title="length of truck and trailer",
    kind="law",
    group="road",
    demand="combination_length_in",
    limit="limit_combination_length_in",
    unit="in",
    affine=False,
    sources=("SIZE-STATES", "USC-49-31111"),
    says="From the truck's bumper to the end of trailer or load the rig may be as long as the state allows.",
    settle="measure from the front bumper to the rearmost point",
)
def combination_length(*, combination_length_in, limit_combination_length_in):
    """Truck, trailer and load end to end against the state's limit: SIZE-STATES.

    The federal length rule (USC-49-31111) is for truck tractors; a pickup and trailer are under state law.
    """
    return combination_length_in, limit_combination_length_in


@check(
    id="trailer-length",
    title="length of the trailer",
    kind="law",
    group="road",
    demand="trailer_rear_x_in - trailer_front_x_in",
    limit="limit_trailer_length_in",
    unit="in",
    sources=("SIZE-STATES", "FHWA-SIZE-WEIGHT"),
    says="The trailer itself may be as long as the state allows.",
    settle="measure the trailer from front to rear",
)
def trailer_length(*, trailer_rear_x_in, trailer_front_x_in, limit_trailer_length_in):
    """The trailer's own length against the state's limit: SIZE-STATES.

    Loading devices to 24 in behind and all that carries no load in front are not counted: FHWA-SIZE-WEIGHT.
    """
    return np.asarray(trailer_rear_x_in, float) - trailer_front_x_in, limit_trailer_length_in


@check(
    id="rear-overhang",
    title="load behind the trailer",
    kind="law",
    group="road",
    demand="where(item_present == 0, 0, item_rear_x_in - trailer_rear_x_in)",
    limit="where(item_present == 0, inf, limit_rear_overhang_in)",
    unit="in",
    per="item",
    sources=("CFR-49-393.87",),
    says="The load may reach only so far behind the trailer; beyond 4 ft it is flagged, and the state sets the limit.",
    settle="measure from the trailer's end to the end of the load",
)
def rear_overhang(*, item_present, item_rear_x_in, trailer_rear_x_in, limit_rear_overhang_in):
    """Each piece's end behind the trailer's, negative where it ends ahead, against the limit: CFR-49-393.87."""
    absent = np.asarray(item_present) == 0
    behind = np.asarray(item_rear_x_in, float) - trailer_rear_x_in
    return np.where(absent, 0.0, behind), np.where(absent, np.inf, limit_rear_overhang_in)
