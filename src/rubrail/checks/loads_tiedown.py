"""Quantities of a tie-down plan: what each tie-down is good for, and what they hold together."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from rubrail.checks.registry import quantity
from rubrail.mechanics import lashing
from rubrail.mechanics.members import of_present
from rubrail.rules import tiedown

DIRECT, SAME_SIDE, OVER = range(3)
PIECE, ACCESSORY = range(2)
MEMBER_NAMES: dict[str, Callable[[int], str]] = {
    "tiedown": lambda member: f"tie-down {member + 1}",
    "direction": lambda member: tiedown.DIRECTIONS[member],
}
"""What the members of a check per tie-down and per direction are called."""
_PARTS = "tiedown_hook_wll_lb, tiedown_binder_wll_lb, tiedown_anchor_wll_lb, tiedown_point_wll_lb"


@quantity(
    title="least number of tie-downs",
    sources=("CFR-49-393.110", "CFR-49-393.128", "CFR-49-393.130"),
)
def tiedowns_needed_count(
    *, secured_length_in, secured_weight_lb, blocked_forward, secured_is_machine, secured_is_vehicle
):
    """Least number of tie-downs by length, and by the rule for machines or for light vehicles where one applies.

    References
    ----------
    CFR-49-393.110, CFR-49-393.128, CFR-49-393.130
    """
    return tiedown.tiedowns_needed(
        length_in=secured_length_in,
        weight_lb=secured_weight_lb,
        blocked_forward=blocked_forward,
        is_machine=secured_is_machine,
        is_vehicle=secured_is_vehicle,
    )


@quantity(
    title="working load limit of each tie-down, that of its weakest part",
    formula=f"where(tiedown_present == 0, 0, min(tiedown_line_wll_lb, {_PARTS}))",
    per="tiedown",
    sources=("CFR-49-393.108",),
)
def tiedown_wll_lb(
    *,
    tiedown_present,
    tiedown_line_wll_lb,
    tiedown_hook_wll_lb,
    tiedown_binder_wll_lb,
    tiedown_anchor_wll_lb,
    tiedown_point_wll_lb,
):
    """Least of chain or strap, hooks, binder, trailer anchor and the machine's point; 0 where there is none. [lb]

    References
    ----------
    CFR-49-393.108
    """
    parts = (
        tiedown_line_wll_lb, tiedown_hook_wll_lb, tiedown_binder_wll_lb, tiedown_anchor_wll_lb, tiedown_point_wll_lb
    )  # fmt: skip
    return of_present(present=tiedown_present, value=np.minimum.reduce(np.broadcast_arrays(*parts)))


@quantity(
    title="breaking strength of each tie-down, that of its weakest part",
    formula=(
        "where(tiedown_present == 0, 0, min(tiedown_line_factor * min(tiedown_line_wll_lb, tiedown_hook_wll_lb),"
        " 3 * min(tiedown_binder_wll_lb, tiedown_anchor_wll_lb, tiedown_point_wll_lb)))"
    ),
    per="tiedown",
    sources=("DESIGN-FACTORS", "PART-FACTORS"),
)
def tiedown_break_lb(
    *,
    tiedown_present,
    tiedown_line_factor,
    tiedown_line_wll_lb,
    tiedown_hook_wll_lb,
    tiedown_binder_wll_lb,
    tiedown_anchor_wll_lb,
    tiedown_point_wll_lb,
):
    """Least breaking strength of the parts: chain or strap and hooks by its grade, the rest three to one. [lb]

    References
    ----------
    DESIGN-FACTORS, PART-FACTORS
    """
    from rubrail.rules.tiedown_gear import part_factor

    line = np.minimum(*np.broadcast_arrays(tiedown_line_wll_lb, tiedown_hook_wll_lb)) * tiedown_line_factor
    others = np.broadcast_arrays(tiedown_binder_wll_lb, tiedown_anchor_wll_lb, tiedown_point_wll_lb)
    value = np.minimum(line, part_factor() * np.minimum.reduce(others))
    return of_present(present=tiedown_present, value=value)


@quantity(
    title="what each tie-down counts toward half the weight",
    formula=(
        "where(tiedown_present == 0, 0, where(tiedown_holds == 1, 0,"
        " where(tiedown_path == 2, 1, 0.5) * tiedown_wll_lb))"
    ),
    per="tiedown",
    sources=("CFR-49-393.106",),
)
def tiedown_counted_lb(*, tiedown_present, tiedown_holds, tiedown_path, tiedown_wll_lb):
    """Half its working load limit, all of it where it goes over to the other side; an accessory's counts nothing. [lb]

    References
    ----------
    CFR-49-393.106
    """
    holds = np.asarray(tiedown_holds, float)
    counted = tiedown.credit(path=tiedown_path) * tiedown_wll_lb + 0.0 * holds
    return of_present(present=tiedown_present, value=np.where(holds == ACCESSORY, 0.0, counted))


@quantity(title="tie-downs on the piece itself", formula="sum(where(tiedown_present == 0, 0, tiedown_holds == 0))")
def tiedown_count(*, tiedown_present, tiedown_holds):
    """How many tie-downs hold the piece itself."""
    return _count(tiedown_present, tiedown_holds, PIECE)


@quantity(title="tie-downs on its accessories", formula="sum(where(tiedown_present == 0, 0, tiedown_holds == 1))")
def accessory_tiedown_count(*, tiedown_present, tiedown_holds):
    """How many tie-downs hold accessories."""
    return _count(tiedown_present, tiedown_holds, ACCESSORY)


def _count(present, holds, what: int) -> NDArray[np.float64]:
    holds = np.asarray(holds, float)
    return of_present(present=present, value=(holds == what) + 0.0 * holds).sum(axis=0)


def places(x, y, z) -> NDArray[np.float64]:
    """Three columns as places, x, y, z on the last axis."""
    return np.stack(np.broadcast_arrays(*(np.asarray(v, float) for v in (x, y, z))), axis=-1)


@quantity(title="length each tie-down must have", per="tiedown", sources=("LASHING-STATICS",))
def tiedown_length_in(
    *,
    tiedown_present,
    tiedown_path,
    tiedown_anchor_x_in,
    tiedown_anchor_y_in,
    tiedown_anchor_z_in,
    tiedown_point_x_in,
    tiedown_point_y_in,
    tiedown_point_z_in,
    tiedown_far_x_in,
    tiedown_far_y_in,
    tiedown_far_z_in,
):
    """Straight from anchor to piece, or on over or round it to the second anchor; 0 where there is none. [in]

    References
    ----------
    LASHING-STATICS
    """
    far = places(tiedown_far_x_in, tiedown_far_y_in, tiedown_far_z_in)
    long = lashing.line_length_in(
        path=tiedown_path,
        anchor_in=places(tiedown_anchor_x_in, tiedown_anchor_y_in, tiedown_anchor_z_in),
        point_in=places(tiedown_point_x_in, tiedown_point_y_in, tiedown_point_z_in),
        far_in=far,
    )
    return of_present(present=tiedown_present, value=long)
