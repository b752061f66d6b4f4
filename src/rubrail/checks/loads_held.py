"""What a tie-down plan holds in each direction: the linear program, asked for every rig and sample it is about."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rubrail.checks.loads_tiedown import DIRECT, OVER, PIECE, places
from rubrail.checks.registry import quantity
from rubrail.mechanics import lashing
from rubrail.mechanics.members import of_present

WORKING, BREAKING = (0, 1, 2, 3), (0, 1, 2, 3, 4)
"""Directions asked at working load limits, and at breaking strength: there is no working criterion upward."""
_LINES = ("anchor", "point", "far")


@quantity(title="acceleration held at the working load limits", per="direction", sources=("LASHING-STATICS",))
def held_working_g(
    *, tiedown_wll_lb, tiedown_present, tiedown_holds, tiedown_path, tiedown_tension_lb,
    tiedown_anchor_x_in, tiedown_anchor_y_in, tiedown_anchor_z_in,
    tiedown_point_x_in, tiedown_point_y_in, tiedown_point_z_in,
    tiedown_far_x_in, tiedown_far_y_in, tiedown_far_z_in,
    secured_weight_lb, secured_cg_x_in, secured_cg_height_in, secured_deck_height_in,
    secured_contact_front_x_in, secured_contact_rear_x_in, secured_contact_width_in, deck_friction,
):  # fmt: skip
    """Greatest acceleration forward, rearward, left and right that tie-downs at their working load limits hold.

    References
    ----------
    LASHING-STATICS
    """
    return _held(limit=tiedown_wll_lb, directions=WORKING, given=locals())


@quantity(title="acceleration held at breaking strength", per="direction", sources=("LASHING-STATICS",))
def held_breaking_g(
    *, tiedown_break_lb, tiedown_present, tiedown_holds, tiedown_path, tiedown_tension_lb,
    tiedown_anchor_x_in, tiedown_anchor_y_in, tiedown_anchor_z_in,
    tiedown_point_x_in, tiedown_point_y_in, tiedown_point_z_in,
    tiedown_far_x_in, tiedown_far_y_in, tiedown_far_z_in,
    secured_weight_lb, secured_cg_x_in, secured_cg_height_in, secured_deck_height_in,
    secured_contact_front_x_in, secured_contact_rear_x_in, secured_contact_width_in, deck_friction,
):  # fmt: skip
    """Greatest acceleration in each direction, and up beyond the weight, that tie-downs hold before one breaks.

    References
    ----------
    LASHING-STATICS
    """
    return _held(limit=tiedown_break_lb, directions=BREAKING, given=locals())


_MEMBERS = (
    "tiedown_present", "tiedown_holds", "tiedown_path", "tiedown_tension_lb",
    *(f"tiedown_{end}_{axis}_in" for end in _LINES for axis in "xyz"),
)  # fmt: skip
_ALONE = (
    "secured_weight_lb", "secured_cg_x_in", "secured_cg_height_in", "secured_deck_height_in",
    "secured_contact_front_x_in", "secured_contact_rear_x_in", "secured_contact_width_in", "deck_friction",
)  # fmt: skip


def _held(*, limit, directions: tuple[int, ...], given: dict) -> NDArray[np.float64]:
    """One row of answers for each cell of the broadcast inputs."""
    members = [np.asarray(v, float) for v in (limit, *(given[n] for n in _MEMBERS))]
    alone = [np.asarray(given[n], float) for n in _ALONE]
    shape = np.broadcast_shapes(*(m.shape[1:] for m in members), *(a.shape for a in alone))
    count = max(m.shape[0] for m in members)
    plans = np.stack([np.broadcast_to(m, (count, *shape)).reshape(count, -1) for m in members])
    pieces = np.stack([np.broadcast_to(a, shape).reshape(-1) for a in alone])
    cells = range(pieces.shape[1])
    answers = [_one(plans[:, :, n], pieces[:, n], directions) for n in cells]
    return np.array(answers).reshape(len(cells), len(directions)).T.reshape(len(directions), *shape)


def _one(plan: NDArray[np.float64], piece: NDArray[np.float64], directions: tuple[int, ...]) -> tuple[float, ...]:
    """Answers for one plan: what does not bear on it is taken out first, so that like plans are worked out once."""
    present, holds, path = plan[1], plan[2], plan[3]
    unknown = (np.nan,) * len(directions)
    there = of_present(present=present, value=1.0 + 0.0 * holds)
    if np.isnan(there).any() or np.isnan(piece).any() or not piece[0] > 0:
        return unknown
    mine = (there > 0) & (holds == PIECE)
    plan = np.array(plan[:, mine])
    path = plan[3]
    plan[4, path != OVER] = 0.0
    plan[-3:, path == DIRECT] = 0.0
    if np.isnan(plan).any():
        return unknown
    return _known(plan.tobytes(), piece.tobytes(), directions)


@lru_cache(maxsize=4096)
def _known(plan: bytes, piece: bytes, directions: tuple[int, ...]) -> tuple[float, ...]:
    rows = np.frombuffer(plan).reshape(1 + len(_MEMBERS), -1)
    limit, _, _, path, drawn = rows[:5]
    anchor, point, far = (places(*rows[n : n + 3]) for n in (5, 8, 11))
    return tuple(held_of(
        path=path, anchor_in=anchor, point_in=point, far_in=far, limit_lb=limit, drawn_lb=drawn,
        piece=dict(zip(_ALONE, np.frombuffer(piece), strict=True)), directions=directions,
    ))  # fmt: skip


def held_of(*, path, anchor_in, point_in, far_in, limit_lb, drawn_lb, piece: dict, directions) -> list[float]:
    """Accelerations one plan holds, all of it known; ``piece`` holds the raw columns of the piece by name."""
    from rubrail.mechanics.lashing_lp import held

    return [h.g for h in held(**program(
        path=path, anchor_in=anchor_in, point_in=point_in, far_in=far_in, limit_lb=limit_lb, drawn_lb=drawn_lb,
        piece=piece,
    ), directions=directions)]  # fmt: skip


def program(*, path, anchor_in, point_in, far_in, limit_lb, drawn_lb, piece: dict) -> dict:
    """Arguments of ``lashing_lp.held`` for one plan.

    A direct tie-down takes whatever comes, up to its limit; one that goes over holds only by what it was drawn to.
    """
    center = np.array([piece["secured_cg_x_in"], 0.0, piece["secured_deck_height_in"] + piece["secured_cg_height_in"]])
    ring = lashing.ring_in(
        front_x_in=piece["secured_contact_front_x_in"],
        rear_x_in=piece["secured_contact_rear_x_in"],
        width_in=piece["secured_contact_width_in"],
        height_in=piece["secured_deck_height_in"],
    )
    over = np.asarray(path) == OVER
    tight = np.minimum(drawn_lb, limit_lb)
    return {
        "pull": lashing.pulls(path=path, anchor_in=anchor_in, point_in=point_in, far_in=far_in, about_in=center),
        "least_lb": np.where(over, tight, 0.0),
        "most_lb": np.where(over, tight, limit_lb),
        "contact_in": ring,
        "about_in": center,
        "weight_lb": float(piece["secured_weight_lb"]),
        "friction": float(piece["deck_friction"]),
    }
