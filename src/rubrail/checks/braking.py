"""Brakes, breakaway and surge brakes: what the law asks of this rig against what is fitted."""

from __future__ import annotations

import numpy as np

from rubrail.checks.registry import check, quantity
from rubrail.rules import brakes, license

PRIVATE = 0
SURGE = 3


@quantity(title="brakes needed on the trailer", sources=("CFR-49-393.42", "BRAKES-STATES"))
def brakes_needed(
    *,
    trailer_gross_lb,
    coupler_load_lb,
    truck_front_empty_lb,
    truck_rear_empty_lb,
    combination_figure_lb,
    use,
    interstate,
    limit_brake_exempt_lb,
):
    """1 where the state's figure or, for carriers in interstate commerce, the federal one asks for brakes.

    References: CFR-49-393.42, BRAKES-STATES.
    """
    state = brakes.state_brakes_required(trailer_gross_lb=trailer_gross_lb, exempt_lb=limit_brake_exempt_lb)
    federal = brakes.federal_brakes_required(
        trailer_gross_lb=trailer_gross_lb,
        hitch_load_lb=coupler_load_lb,
        tow_axles_lb=np.asarray(truck_front_empty_lb, float) + truck_rear_empty_lb,
    )
    carrier = federal_carrier(use=use, interstate=interstate, combination_figure_lb=combination_figure_lb)
    bound = np.where(carrier == 0, 0.0, np.where(federal == 0, 0.0, carrier * federal))
    return brakes.either(state, bound)


def federal_carrier(*, use, interstate, combination_figure_lb) -> np.ndarray:
    """1 where the rig runs in interstate commerce and is heavy enough for the federal rules; ``nan`` not known."""
    use, across = np.asarray(use, float), np.asarray(interstate, float)
    commerce = np.where(np.isnan(use), np.nan, use != PRIVATE)
    heavy = license.carrier_duty(combination_figure_lb=combination_figure_lb)
    out = (commerce == 0) | (across == 0) | (heavy == 0)
    return np.where(out, 0.0, commerce * across * heavy)


@check(
    id="brakes-all-wheels",
    title="brakes on every axle that needs them",
    kind="law",
    group="road",
    demand="where(brakes_needed * (sum(axle_present) > sum(where(axle_present == 0, 0, axle_braked))), 1, 0)",
    limit="0",
    unit="",
    affine=False,
    sources=("CFR-49-393.42", "BRAKES-STATES"),
    says="A trailer this heavy needs brakes on all its wheels; light trailers are exempt up to the state's figure.",
    settle="look for brakes at each axle",
)
def brakes_all_wheels(*, brakes_needed, axle_present, axle_braked):
    """1 where an axle must have brakes and has none; there may be no such lack: CFR-49-393.42, BRAKES-STATES.

    The federal rule asks for brakes on all wheels; some states ask for less. With brakes on every axle it does not
    matter whether they are needed.
    """
    there = np.asarray(axle_present, float)
    bare = np.where(there == 0, 0.0, there - axle_braked).sum(axis=0)
    need = np.asarray(brakes_needed, float)
    lacking = np.where(np.isnan(bare), np.nan, bare > 0)
    return np.where((need == 0) | (lacking == 0), 0.0, lacking * need), 0.0


@check(
    id="breakaway",
    title="breakaway device where one is needed",
    kind="law",
    group="road",
    demand=(
        "where((brakes_needed == 1) + (trailer_gross_lb > limit_breakaway_exempt_lb + 0.000001),"
        " 1 - breakaway_fitted, 0)"
    ),
    limit="0",
    unit="",
    affine=False,
    sources=("CFR-49-393.43", "BRAKES-STATES"),
    says="Where brakes are required they must set themselves if the trailer breaks away, and hold for 15 minutes.",
    settle="look for the breakaway switch, and try it",
)
def breakaway(*, brakes_needed, trailer_gross_lb, limit_breakaway_exempt_lb, breakaway_fitted):
    """1 where a breakaway device is needed and not fitted; there may be no such lack: CFR-49-393.43, BRAKES-STATES.

    On trailers of three or more axles not every required brake has to be set by it. Where one is fitted it does not
    matter whether it is needed.
    """
    heavy = brakes.state_brakes_required(trailer_gross_lb=trailer_gross_lb, exempt_lb=limit_breakaway_exempt_lb)
    need = brakes.either(brakes_needed, heavy)
    fitted = np.asarray(breakaway_fitted, float)
    return np.where((need == 0) | (fitted == 1), 0.0, need * (1.0 - fitted)), 0.0


@check(
    id="surge-brakes",
    title="surge brakes behind this truck",
    kind="law",
    group="road",
    demand=(
        "where(max(axle_present * axle_braked * (axle_brake_kind == 3)), max(trailer_gvwr_lb, trailer_gross_lb), 0)"
    ),
    limit="",
    affine=False,
    sources=("CFR-49-393.48", "SURGE-ACTUAL"),
    says="Surge brakes are allowed to 12,000 lb at 1.75 times the truck's GVWR, to 20,000 lb at 1.25 times, no more.",
    settle="read the GVWR of truck and trailer",
)
def surge_brakes(*, axle_present, axle_braked, axle_brake_kind, trailer_gvwr_lb, trailer_gross_lb, truck_gvwr_lb):
    """Trailer's rating or weight, the greater, against what may have surge brakes: CFR-49-393.48, SURGE-ACTUAL.

    Does not apply to a trailer without surge brakes.
    """
    there, braked = np.asarray(axle_present, float), np.asarray(axle_braked, float)
    kind = np.asarray(axle_brake_kind, float)
    surge = np.where((there == 0) | (braked == 0), 0.0, np.where(np.isnan(kind), np.nan, kind == SURGE))
    surge = np.where(np.isnan(braked) & (surge != 0), np.nan, surge)
    some = np.where((surge == 1).any(axis=0), 1.0, np.where(np.isnan(surge).any(axis=0), np.nan, 0.0))
    weight = np.maximum(trailer_gvwr_lb, trailer_gross_lb)
    limit = brakes.surge_limit_lb(trailer_weight_lb=weight, tow_gvwr_lb=truck_gvwr_lb)
    limit = np.where(some == 0, np.inf, np.where(np.isnan(some), np.nan, limit))
    return np.where(some == 0, 0.0, weight), limit
