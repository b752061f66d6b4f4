"""Tying down by the European method, on the same plan: sliding and tipping in each direction.

A lashing capacity nobody marked is taken to be the working load limit, which is the lesser of the two.
"""

from __future__ import annotations

import numpy as np

from rubrail.checks.loads_tiedown import DIRECT, OVER, PIECE, places
from rubrail.checks.registry import check
from rubrail.checks.securing import where_applies
from rubrail.mechanics import lashing, lashing_en
from rubrail.mechanics.members import of_present
from rubrail.rules.tables import column, figure

TABLE = "en-12195-1"
WAYS = lashing.TOWARD[:4]


def _per_direction(key: str, ndim: int):
    return column(TABLE, key).reshape((-1,) + (1,) * ndim)


def _lines(given: dict):
    """For each tie-down that holds the piece: pull a pound of tension, whether it is there, goes over, its forces."""
    path = np.asarray(given["tiedown_path"], float)
    ends = [places(*(given[f"tiedown_{e}_{a}_in"] for a in "xyz")) for e in ("anchor", "point", "far")]
    direct = (path == DIRECT)[..., None]
    ends[2] = np.where(direct, 0.0, ends[2])
    # Sliding asks for no moment, and so not where the center of gravity is.
    about = places(given.get("secured_cg_x_in", 0.0), 0.0, given.get("secured_deck_height_in", 0.0))
    pull = lashing.pulls(path=path, anchor_in=ends[0], point_in=ends[1], far_in=ends[2], about_in=about[None])
    holds = np.asarray(given["tiedown_holds"], float)
    mine = of_present(present=given["tiedown_present"], value=(holds == PIECE) + 0.0 * holds)
    over = np.where(np.isnan(path), np.nan, path == OVER)
    wll = np.asarray(given["tiedown_wll_lb"], float)
    # A top-over lashing counts by its tension, which may be no more than half its capacity.
    drawn = np.where(over == 0, 0.0, np.minimum(given["tiedown_tension_lb"], wll / 2))

    def only_mine(value):
        return of_present(present=mine, value=np.asarray(value, float))

    return pull, only_mine, over, wll, drawn


def _along(pull, way):
    """Pull against a movement along ``way``, and down, per pound of tension."""
    against = -(pull[..., 0] * way[0] + pull[..., 1] * way[1])
    return against, -pull[..., 2]


@check(
    id="en-sliding",
    title="sliding, EN 12195-1",
    kind="law",
    group="securing",
    demand="",
    limit="",
    per="direction",
    scale="demand",
    affine=False,
    sources=("EN-12195-1", "GDV-ROAD"),
    says="By the European standard, lashings and friction keep the piece from sliding at its design accelerations.",
    settle="weigh the piece, and find out the friction of its surfaces",
    case="securing-en",
)
def en_sliding(
    *, tiedown_wll_lb, tiedown_present, tiedown_holds, tiedown_path, tiedown_tension_lb,
    tiedown_anchor_x_in, tiedown_anchor_y_in, tiedown_anchor_z_in,
    tiedown_point_x_in, tiedown_point_y_in, tiedown_point_z_in,
    tiedown_far_x_in, tiedown_far_y_in, tiedown_far_z_in,
    secured_weight_lb, deck_friction,
):  # fmt: skip
    """Force that would slide the piece forward, rearward, left and right, against what lashings hold.

    References
    ----------
    EN-12195-1, GDV-ROAD
    """
    pull, mine, over, wll, drawn = _lines(locals())
    rows = []
    for n, way in enumerate(WAYS):
        along, down = _along(pull, way)
        slides, holds = lashing_en.sliding(
            weight=secured_weight_lb, friction=deck_friction,
            acceleration_g=column(TABLE, "sliding_g")[n], safety=column(TABLE, "safety")[n],
            along=mine(along), down=mine(down), capacity=mine(wll), drawn=mine(drawn), is_over=mine(over),
            dynamic=figure(TABLE, "dynamic_friction"), vertical_g=figure(TABLE, "vertical_g"),
        )  # fmt: skip
        known = 0.0 * sum(mine(v).sum(axis=0) for v in (along, wll, drawn, over))
        rows.append(np.broadcast_arrays(slides + known, holds + known))
    return np.stack([r[0] for r in rows]), np.stack([r[1] for r in rows])


@check(
    id="en-tipping",
    title="tipping, EN 12195-1",
    kind="law",
    group="securing",
    demand="",
    limit="",
    unit="lb in",
    per="direction",
    scale="demand",
    affine=False,
    sources=("EN-12195-1",),
    says="By the European standard, the piece must stand, or be held down, at its design accelerations.",
    settle="find the height of the center of gravity",
    case="securing-en",
)
def en_tipping(
    *, tiedown_wll_lb, tiedown_present, tiedown_holds, tiedown_path, tiedown_tension_lb,
    tiedown_anchor_x_in, tiedown_anchor_y_in, tiedown_anchor_z_in,
    tiedown_point_x_in, tiedown_point_y_in, tiedown_point_z_in,
    tiedown_far_x_in, tiedown_far_y_in, tiedown_far_z_in,
    secured_weight_lb, secured_cg_x_in, secured_cg_height_in, secured_deck_height_in,
    secured_contact_front_x_in, secured_contact_rear_x_in, secured_contact_width_in,
):  # fmt: skip
    """Moment that would tip the piece over each edge it stands on, against what lashings hold down.

    A piece that stands without lashings does not apply.

    References
    ----------
    EN-12195-1
    """
    pull, mine, over, wll, drawn = _lines(locals())
    front, rear = (np.asarray(v, float) for v in (secured_contact_front_x_in, secured_contact_rear_x_in))
    half = np.asarray(secured_contact_width_in, float) / 2
    to_edge = [secured_cg_x_in - front, rear - secured_cg_x_in, half, half]
    rows = []
    for n, (way, edge) in enumerate(zip(WAYS, to_edge, strict=True)):
        along, down = _along(pull, way)
        # Moments about the foot of the center of gravity, moved to the edge; tipping turns about the level line there.
        lever = mine(-(pull[..., 4] * way[0] - pull[..., 3] * way[1]) + down * np.asarray(edge, float))
        tips, holds = lashing_en.tipping(
            weight=secured_weight_lb, acceleration_g=column(TABLE, "tipping_g")[n], safety=column(TABLE, "safety")[n],
            height=secured_cg_height_in, to_edge=edge, righting=lever, capacity=mine(wll), drawn=mine(drawn),
            is_over=mine(over), vertical_g=figure(TABLE, "vertical_g"),
        )  # fmt: skip
        known = 0.0 * (lever.sum(axis=0) + sum(mine(v).sum(axis=0) for v in (along, wll, drawn, over)))
        stands = np.where(np.isnan(tips), np.nan, tips > 0)
        rows.append(np.broadcast_arrays(*where_applies(stands, tips + known, holds + known)))
    return np.stack([r[0] for r in rows]), np.stack([r[1] for r in rows])
