"""Tying down by the law: how many, how strong, where, what else must be held; and whether the gear is there.

What is guidance, or advice from statics, stands in ``securing_advice`` and never decides what the law decides.
"""

from __future__ import annotations

import numpy as np

from rubrail.checks import loads_held, loads_tiedown  # noqa: F401  registers the quantities
from rubrail.checks.axle_groups import MEMBER_NAMES
from rubrail.checks.loads_tiedown import OVER, PIECE
from rubrail.checks.registry import check
from rubrail.mechanics.members import of_present
from rubrail.rules import tiedown

MEMBER_NAMES.update(loads_tiedown.MEMBER_NAMES)

HEAVY = "where(secured_is_machine == 0, 0, secured_weight_lb >= 10000)"


def where_applies(applies, demand, limit):
    """A demand and a limit where the condition is 1, none where it is 0, ``nan`` where it is not known."""
    applies = np.asarray(applies, float)
    off = applies == 0
    return (
        np.where(off, 0.0, np.asarray(demand, float) + 0.0 * applies),
        np.where(off, np.inf, np.asarray(limit, float) + 0.0 * applies),
    )


@check(
    id="tiedown-count",
    title="number of tie-downs",
    kind="law",
    group="securing",
    demand="tiedowns_needed_count",
    limit="tiedown_count",
    unit="tie-downs",
    affine=False,
    sources=("CFR-49-393.110", "CFR-49-393.128", "CFR-49-393.130"),
    says="The law asks for so many tie-downs by length and weight, and for four on a machine of 10,000 lb or more.",
    settle="weigh the machine with what is on it, and measure its length",
    case="securing",
)
def count_of_tiedowns(*, tiedowns_needed_count, tiedown_count):
    """Least number of tie-downs against those on the piece: CFR-49-393.110, CFR-49-393.128, CFR-49-393.130."""
    return tiedowns_needed_count, tiedown_count


@check(
    id="tiedown-aggregate",
    title="working load limits together against half the weight",
    kind="law",
    group="securing",
    demand="0.5 * secured_weight_lb",
    limit="sum(tiedown_counted_lb)",
    affine=False,
    sources=("CFR-49-393.106", "CFR-49-393.108"),
    says="What the tie-downs count together must be at least half the weight; one fastened to the piece counts half.",
    settle="weigh the machine, and read the limits marked on chains, binders and anchors",
    case="securing",
)
def aggregate(*, secured_weight_lb, tiedown_counted_lb):
    """Half the weight against what the tie-downs count together: CFR-49-393.106, CFR-49-393.108."""
    return tiedown.aggregate_needed_lb(weight_lb=secured_weight_lb), np.asarray(tiedown_counted_lb, float).sum(axis=0)


@check(
    id="tiedown-ends",
    title="tie-downs at each end and on each side",
    kind="law",
    group="securing",
    demand="",
    limit="",
    unit="tie-downs",
    affine=False,
    sources=("CFR-49-393.128", "CFR-49-393.130"),
    says="A machine or vehicle must be held at front and rear and on both sides, as near its ends as practicable.",
    settle="say where each chain is fastened",
    case="securing",
)
def ends_and_sides(
    *,
    secured_is_machine,
    secured_is_vehicle,
    secured_weight_lb,
    secured_cg_x_in,
    tiedown_present,
    tiedown_holds,
    tiedown_path,
    tiedown_point_x_in,
    tiedown_anchor_y_in,
):
    """One tie-down against the fewest at the front, at the rear, on the left and on the right.

    Asked of machines of 10,000 lb and more, and of vehicles to 10,000 lb. Which end: ahead of the center of gravity
    or behind it. One that goes over is on both sides.

    References
    ----------
    CFR-49-393.128, CFR-49-393.130
    """
    machine = tiedown.machine_rule_applies(weight_lb=secured_weight_lb, is_machine=secured_is_machine)
    vehicle = tiedown.vehicle_rule_applies(weight_lb=secured_weight_lb, is_vehicle=secured_is_vehicle)
    x, y = np.asarray(tiedown_point_x_in, float), np.asarray(tiedown_anchor_y_in, float)
    holds, path = np.asarray(tiedown_holds, float), np.asarray(tiedown_path, float)
    known = 0.0 * (x + y + path + secured_cg_x_in)

    def fewest(place):
        # Where an accessory is tied says nothing of the piece, known or not.
        mine = np.where(holds == PIECE, place + known, 0.0 * holds)
        return of_present(present=tiedown_present, value=mine).sum(axis=0)

    sides = [x < secured_cg_x_in, x >= secured_cg_x_in, (y < 0) | (path == OVER), (y > 0) | (path == OVER)]
    least = np.minimum.reduce([fewest(s) for s in sides])
    return where_applies(np.maximum(machine, vehicle), 1.0, least)


@check(
    id="accessories-secured",
    title="accessories lowered and tied down",
    kind="law",
    group="securing",
    demand=f"where({HEAVY}, secured_accessory_count, 0)",
    limit=f"where({HEAVY}, accessory_tiedown_count, inf)",
    unit="tie-downs",
    affine=False,
    sources=("CFR-49-393.130", "TIEDOWN-ACCESSORY"),
    says="Buckets, booms and blades must be lowered all the way and secured to the trailer.",
    settle="count the accessories that move, and see where each can be tied",
    case="securing",
)
def accessories(*, secured_is_machine, secured_weight_lb, secured_accessory_count, accessory_tiedown_count):
    """Accessories of a machine of 10,000 lb or more against tie-downs on them: CFR-49-393.130, TIEDOWN-ACCESSORY.

    The regulation says secured, not how; one tie-down each is what inspectors look for.
    """
    heavy = tiedown.machine_rule_applies(weight_lb=secured_weight_lb, is_machine=secured_is_machine)
    return where_applies(heavy, secured_accessory_count, accessory_tiedown_count)


@check(
    id="articulation-locked",
    title="articulation locked",
    kind="law",
    group="securing",
    demand=f"where({HEAVY}, secured_bends, 0)",
    limit=f"where({HEAVY}, articulation_locked, inf)",
    unit="",
    affine=False,
    sources=("CFR-49-393.130",),
    says="A machine that bends in the middle must be kept from bending, by its lock or by chains.",
    settle="look for the machine's articulation lock",
    case="securing",
)
def articulation(*, secured_is_machine, secured_weight_lb, secured_bends, articulation_locked):
    """Whether a machine of 10,000 lb or more that bends is locked: CFR-49-393.130."""
    heavy = tiedown.machine_rule_applies(weight_lb=secured_weight_lb, is_machine=secured_is_machine)
    return where_applies(heavy, secured_bends, articulation_locked)


@check(
    id="tiedown-reach",
    title="length of each tie-down",
    kind="fit",
    group="securing",
    demand="where(tiedown_present == 0, 0, tiedown_length_in)",
    limit="where(tiedown_present == 0, inf, tiedown_reach_in)",
    unit="in",
    per="tiedown",
    affine=False,
    sources=("LASHING-STATICS",),
    says="The chain or strap must reach from anchor to piece, and on to its second anchor where it goes over.",
    settle="measure from the anchor to the tie point",
    case="securing",
)
def reach(*, tiedown_present, tiedown_length_in, tiedown_reach_in):
    """Way of each tie-down against the length of its chain or strap: LASHING-STATICS."""
    return where_applies(tiedown_present, tiedown_length_in, tiedown_reach_in)


@check(
    id="tiedown-kit",
    title="gear the kit does not hold",
    kind="fit",
    group="securing",
    demand="kit_short_count",
    limit="0",
    unit="pieces",
    affine=False,
    sources=("COMMON-PRACTICE",),
    says="The plan takes more chains, binders or straps than the kit holds.",
    settle="count the gear",
    case="securing",
)
def kit(*, kit_short_count):
    """Pieces of gear beyond the kit against none: COMMON-PRACTICE."""
    short = np.asarray(kit_short_count, float)
    return short, np.zeros_like(short)
