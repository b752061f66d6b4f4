"""Driving up: whether the machine clears the way, climbs it, holds on it, and whether the ramps carry it.

What the climb itself gives (how far a crest rises into the machine, what stands on the ramps) comes from the answer
that drove it, as raw columns; here it is held against what the machine and the ramps allow.
"""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import check


def only_where(applies, demand, limit):
    """A demand and a limit where the condition is 1, none where it is 0, ``nan`` where it is not known."""
    applies = np.asarray(applies, float)
    off = applies == 0
    return (
        np.where(off, 0.0, np.asarray(demand, float) + 0.0 * applies),
        np.where(off, np.inf, np.asarray(limit, float) + 0.0 * applies),
    )


def _two(ramp_count):
    """1 where there is more than one ramp, ``nan`` where that is not known."""
    count = np.asarray(ramp_count, float)
    return np.where(np.isnan(count), np.nan, count >= 2)


@check(
    id="way-up",
    title="a way onto the deck",
    kind="fit",
    group="loading",
    demand="1",
    limit="way_up",
    unit="",
    affine=False,
    sources=("RAMP-ANGLE",),
    says="A machine needs ramps, a tail that lowers or a deck that tilts; without them it takes a dock or a crane.",
    settle="look for ramps under the deck or at its rear",
    case="loading",
)
def way_onto_the_deck(*, way_up):
    """Whether ramps, tail or tilt lead up: RAMP-ANGLE."""
    there = np.asarray(way_up, float)
    return np.ones_like(there), there


@check(
    id="belly-clearance",
    title="belly over the crest",
    kind="fit",
    group="loading",
    demand="climb_crest_in",
    limit="machine_belly_in",
    unit="in",
    affine=False,
    sources=("BREAKOVER", "STATICS-CLIMB"),
    says="Where ramp, tail and deck meet, the edge rises between its wheels; the belly must clear it.",
    settle="measure the clearance under the belly, guards as they will be",
    case="loading",
)
def belly(*, climb_crest_in, machine_belly_in):
    """How far the way rises between the contacts against the belly's clearance: BREAKOVER, STATICS-CLIMB."""
    return climb_crest_in, machine_belly_in


@check(
    id="nose-clearance",
    title="leading end against the ramp",
    kind="fit",
    group="loading",
    demand="climb_nose_rad",
    limit="where(climb_nose_rad == 0, inf, machine_lead_angle_rad)",
    unit="rad",
    affine=False,
    sources=("CFR-49-523.2", "STATICS-CLIMB"),
    says="The end that goes up first must not touch the ramp before the wheels or tracks do.",
    settle="raise the bucket or forks and measure from the tire to the lowest point ahead of it",
    case="loading",
)
def nose(*, climb_nose_rad, machine_lead_angle_rad):
    """Slope the leading end meets against its approach angle: CFR-49-523.2, STATICS-CLIMB."""
    met = np.asarray(climb_nose_rad, float)
    return met, np.where(met == 0, np.inf, np.asarray(machine_lead_angle_rad, float) + 0.0 * met)


@check(
    id="tail-clearance",
    title="trailing end against the ground",
    kind="fit",
    group="loading",
    demand="climb_tail_rad",
    limit="where(climb_tail_rad == 0, inf, machine_trail_angle_rad)",
    unit="rad",
    affine=False,
    sources=("CFR-49-523.2", "STATICS-CLIMB"),
    says="The end that comes last must not drag on the ground or on the ramp.",
    settle="measure from the tire to the lowest point behind it",
    case="loading",
)
def tail(*, climb_tail_rad, machine_trail_angle_rad):
    """Slope the trailing end meets against its departure angle: CFR-49-523.2, STATICS-CLIMB."""
    met = np.asarray(climb_tail_rad, float)
    return met, np.where(met == 0, np.inf, np.asarray(machine_trail_angle_rad, float) + 0.0 * met)


@check(
    id="climb-slope",
    title="slope against what the machine climbs",
    kind="rating",
    group="loading",
    demand="climb_slope_rad",
    limit="machine_slope_rad",
    unit="rad",
    affine=False,
    sources=("MACHINE-MANUAL", "RAMP-ANGLE"),
    says="The machine's manual states the steepest slope it may drive on; some allow less on loading ramps.",
    settle="read the slope in the machine's manual",
    case="loading",
)
def slope(*, climb_slope_rad, machine_slope_rad):
    """Steepest slope of the way against the manual's: MACHINE-MANUAL, RAMP-ANGLE."""
    return climb_slope_rad, machine_slope_rad


@check(
    id="climb-grip",
    title="grip on the ramp",
    kind="fit",
    group="loading",
    demand="100 * climb_grip",
    limit="100 * surface_grip",
    unit="%",
    affine=False,
    sources=("GRIP-PRACTICE", "STATICS-CLIMB"),
    says="What drives must hold on the surface as it is; wet steel holds little, steel on it less.",
    settle="say whether the ramps are dry, and which axles drive",
    case="loading",
)
def grip(*, climb_grip, surface_grip):
    """Friction needed against friction there is, percent of what presses: GRIP-PRACTICE, STATICS-CLIMB."""
    return 100 * np.asarray(climb_grip, float), 100 * np.asarray(surface_grip, float)


@check(
    id="tips-back",
    title="tipping back on the ramp",
    kind="fit",
    group="loading",
    demand="0",
    limit="climb_uphill_lb",
    affine=False,
    sources=("STATICS-CLIMB",),
    says="Once nothing presses under its uphill end, the machine goes over backward.",
    settle="measure the height of the center of gravity, attachments as they will be",
    case="loading",
)
def tips_back(*, climb_uphill_lb):
    """Nothing against the least load under the uphill end: STATICS-CLIMB."""
    least = np.asarray(climb_uphill_lb, float)
    return np.zeros_like(least), least


@check(
    id="uphill-light",
    title="light at the uphill end",
    kind="guidance",
    group="loading",
    demand="0.10 * machine_weight_lb",
    limit="climb_uphill_lb",
    affine=False,
    scale="demand",
    sources=("UPHILL-LIGHT",),
    says="Under a tenth of the weight at the uphill end, steering is lost and little is left before it tips.",
    settle="weigh the machine axle by axle, attachments as they will be",
    case="loading",
)
def uphill_light(*, machine_weight_lb, climb_uphill_lb):
    """A tenth of the weight against the least at the uphill end: UPHILL-LIGHT."""
    return 0.10 * np.asarray(machine_weight_lb, float), climb_uphill_lb


@check(
    id="ramp-pair",
    title="ramps against the rating of the pair",
    kind="rating",
    group="loading",
    demand="where(ramp_count < 2, 0, climb_ramp_lb)",
    limit="where(ramp_count < 2, inf, ramp_rating_pair_lb)",
    affine=False,
    sources=("RAMP-RATING",),
    says="Both ramps together must be rated for what stands on them at once, often three quarters of the machine.",
    settle="read the plate on the ramps",
    case="loading",
)
def ramp_pair(*, climb_ramp_lb, ramp_count, ramp_rating_pair_lb):
    """What stands on all ramps against the rating of a pair: RAMP-RATING.

    Where only one is rated, a pair is rated twice that.
    """
    return only_where(_two(ramp_count), climb_ramp_lb, ramp_rating_pair_lb)


@check(
    id="ramp-each",
    title="one ramp against its rating",
    kind="rating",
    group="loading",
    demand="where(ramp_count == 0, 0, climb_ramp_lb / where(ramp_count == 1, 1, 2))",
    limit="where(ramp_count == 0, inf, ramp_rating_each_lb)",
    affine=False,
    sources=("RAMP-RATING",),
    says="Each ramp must be rated for its half of what stands on them at once.",
    settle="read the plate on the ramp",
    case="loading",
)
def ramp_each(*, climb_ramp_lb, ramp_count, ramp_rating_each_lb):
    """Half of what stands on the ramps, or all on a single one, against the rating of one: RAMP-RATING.

    Where only the pair is rated, one is rated half of that. A machine has two sides: however many ramps there are,
    two carry it.
    """
    count = np.asarray(ramp_count, float)
    return only_where(count, np.asarray(climb_ramp_lb, float) / np.where(count == 1, 1.0, 2.0), ramp_rating_each_lb)


@check(
    id="ramp-bending",
    title="bending of a ramp",
    kind="guidance",
    group="loading",
    demand="where(ramp_section_stated == 0, 0,"
    " climb_ramp_moment_lb_in / where(ramp_count == 1, 1, 2) / ramp_section_modulus_in3)",
    limit="where(ramp_section_stated == 0, inf, 0.60 * ramp_yield_psi)",
    unit="psi",
    affine=False,
    sources=("BEAM-SIMPLE",),
    says="Where the section of a ramp is stated, its bending stress is held against 0.60 of the yield strength.",
    settle="ask the maker for the section and the alloy of the ramps",
    case="loading",
)
def ramp_bending(
    *, climb_ramp_moment_lb_in, ramp_count, ramp_section_stated, ramp_section_modulus_in3, ramp_yield_psi
):
    """Bending stress of one of two ramps, or of the only one, against 0.60 of yield: BEAM-SIMPLE."""
    carried_by = np.where(np.asarray(ramp_count, float) == 1, 1.0, 2.0) + 0.0 * np.asarray(ramp_count, float)
    stress = np.asarray(climb_ramp_moment_lb_in, float) / carried_by / ramp_section_modulus_in3
    return only_where(ramp_section_stated, stress, 0.60 * np.asarray(ramp_yield_psi, float))


@check(
    id="ramp-outside",
    title="tires inside the outer edge of the ramps",
    kind="fit",
    group="loading",
    demand="where(ramp_count < 2, 0, machine_gauge_in)",
    limit="where(ramp_count < 2, inf, ramp_gap_in / 2 + ramp_width_in)",
    unit="in",
    affine=False,
    sources=("RAMP-GAUGE",),
    says="The middle of each tire or track must lie on its ramp, not outside of it.",
    settle="measure the width over the tires, and the ramps as they are set",
    case="loading",
)
def ramp_outside(*, machine_gauge_in, ramp_count, ramp_gap_in, ramp_width_in):
    """Middle of the tire from the center line against the outer edge of the ramp: RAMP-GAUGE."""
    return only_where(_two(ramp_count), machine_gauge_in, np.asarray(ramp_gap_in, float) / 2 + ramp_width_in)


@check(
    id="ramp-inside",
    title="tires outside the gap between the ramps",
    kind="fit",
    group="loading",
    demand="where(ramp_count < 2, 0, where(ramp_loose == 1, 0, ramp_gap_in / 2))",
    limit="where(ramp_count < 2, inf, where(ramp_loose == 1, inf, machine_gauge_in))",
    unit="in",
    scale="demand",
    affine=False,
    sources=("RAMP-GAUGE",),
    says="The middle of each tire or track must not run in the gap between hinged ramps.",
    settle="measure the width over the tires, and between the ramps",
    case="loading",
)
def ramp_inside(*, machine_gauge_in, ramp_count, ramp_loose, ramp_gap_in):
    """Half the gap against the middle of the tire; loose ramps are set closer: RAMP-GAUGE."""
    loose = np.asarray(ramp_loose, float)
    two = _two(ramp_count)
    applies = np.where(two == 0, 0.0, np.where(np.isnan(loose), np.nan, loose == 0) + 0.0 * two)
    return only_where(applies, np.asarray(ramp_gap_in, float) / 2, machine_gauge_in)
