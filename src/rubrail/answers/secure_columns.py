"""A plan of tie-downs laid out for the checks: one member a tie-down.

Tolerances of the piece, the limits and the lengths are carried along; the places of anchors and tie points count as
stated, for an inch more or less of a chain's slope changes nothing a person would do.
"""

from __future__ import annotations

import numpy as np

from rubrail.answers.secure_parts import Anchor, Cell, Outfit, Plan, Scene, Tie, anchors_of, used
from rubrail.rules import tiedown_gear
from rubrail.things.columns import Columns
from rubrail.things.fill import fill, times
from rubrail.things.names import CODES, SECURED, TIEDOWN

PATHS, HOLDS = CODES["tiedown_path"], CODES["tiedown_holds"]
_NOWHERE: tuple[None, None, None] = (None, None, None)
Place = tuple[float | None, float | None, float | None]


def columns_of(scene: Scene, plan: Plan) -> Columns:
    """The ``secured_`` and ``tiedown_`` columns of one piece under one plan, every other axis of length 1.

    Raises
    ------
    ValueError
        If the plan names an anchor, a tie point or gear that is not there.
    """
    cells: dict = {name: [scene.columns[name]] for name in scene.columns}
    cells["articulation_locked"] = [float(plan.locked)]
    cells["blocked_forward"] = [float(plan.blocked)]
    cells["kit_short_count"] = [float(sum(short(scene, plan).values()))]
    assert set(cells) == set(SECURED), set(cells) ^ set(SECURED)
    rows = [_row(scene, plan, tie) for tie in plan.ties] or [dict.fromkeys(TIEDOWN, 0.0)]
    cells |= {name: [[row[name]] for row in rows] for name in TIEDOWN}
    return fill(cells)


def short(scene: Scene, plan: Plan) -> dict[str, int]:
    """Gear the plans take beyond what the kit holds, by id."""
    taken = used(plan.ties)
    wanted = {n: taken[n] + scene.elsewhere.get(n, 0) for n in taken}
    return {n: w - scene.counts.get(n, 0) for n, w in wanted.items() if w > scene.counts.get(n, 0)}


def outfit_of(scene: Scene, tie: Tie) -> Outfit:
    """The gear of a tie-down.

    Raises
    ------
    ValueError
        If the kit has no such gear, or the binder does not fit it.
    """
    try:
        return scene.outfits[tie.gear, tie.binder]
    except KeyError:
        what = f"gear {tie.gear!r} with binder {tie.binder!r}" if tie.binder else f"gear {tie.gear!r}"
        raise ValueError(f"the kit has no {what}") from None


def _row(scene: Scene, plan: Plan, tie: Tie) -> dict[str, Cell | float]:
    outfit = outfit_of(scene, tie)
    anchor, point, far = places_of(scene, tie)
    shared = anchors_of(plan.ties)
    at_point = sum(t.point == tie.point for t in plan.ties)
    tension = outfit.tension_lb
    if tension is None and outfit.line_wll_lb is not None:
        tension = times(outfit.line_wll_lb, float(tiedown_gear.tension_lb(wll_lb=1.0)))
    row: dict[str, Cell | float] = {
        "tiedown_present": 1.0,
        "tiedown_holds": float(HOLDS.index(tie.holds)),
        "tiedown_path": float(PATHS.index(tie.path)),
        "tiedown_line_wll_lb": outfit.line_wll_lb,
        "tiedown_line_factor": outfit.line_factor,
        "tiedown_hook_wll_lb": outfit.hook_wll_lb,
        "tiedown_binder_wll_lb": outfit.binder_wll_lb,
        "tiedown_anchor_wll_lb": _least(_share(scene, key, shared[key]) for key in (tie.anchor, tie.far) if key),
        "tiedown_point_wll_lb": _of_point(scene, tie, at_point),
        "tiedown_tension_lb": tension,
        "tiedown_reach_in": outfit.length_in,
    }
    for end, place in (("anchor", anchor), ("point", point), ("far", far)):
        row |= {f"tiedown_{end}_{axis}_in": v for axis, v in zip("xyz", place, strict=True)}
    return row


def _share(scene: Scene, key: str, ends: int) -> Cell:
    """Limit of an anchor for one of the ends that stand on it."""
    return times(scene.anchors[key].wll_lb, 1.0 / ends) if ends > 1 else scene.anchors[key].wll_lb


def _least(limits) -> Cell:
    found = list(limits)
    return None if None in found or not found else min(found, key=float)


def _of_point(scene: Scene, tie: Tie, ends: int) -> Cell | float:
    """Limit of a tie point; none where the maker states none, or where there is no point."""
    stated = scene.points[tie.point].wll_lb if tie.point else None
    return np.inf if stated is None else times(stated, 1.0 / ends)


def places_of(scene: Scene, tie: Tie) -> tuple[Place, Place, Place]:
    """Where a tie-down's anchor, its meeting with the piece and its second anchor are; ``None`` for not known.

    Raises
    ------
    ValueError
        If there is no such anchor or tie point, or one is missing that the path needs.
    """
    for key, known, what in ((tie.anchor, scene.anchors, "anchor"), (tie.far, scene.anchors, "anchor"),
                             (tie.point, scene.points, "tie point")):  # fmt: skip
        if key and key not in known:
            raise ValueError(f"there is no {what} {key!r}; there are {', '.join(known) or 'none'}")
    if tie.path == "direct" and tie.far:
        raise ValueError("a direct tie-down has one anchor")
    if tie.path != "direct" and not tie.far:
        raise ValueError(f"a tie-down that goes {tie.path} needs a second anchor")
    anchor = at(scene.anchors.get(tie.anchor))
    far = at(scene.anchors.get(tie.far)) if tie.path != "direct" else (0.0, 0.0, 0.0)
    point = at(scene.points[tie.point]) if tie.point else _top(scene, anchor, far) if tie.path == "over" else _NOWHERE
    if tie.path == "over" and point[1] is not None and anchor[1] is not None and point[1] * anchor[1] < 0:
        point = (point[0], -point[1], point[2])
    return anchor, point, far


def at(member: Anchor | None) -> Place:
    """Place of an anchor or a point."""
    if member is None:
        return _NOWHERE
    return tuple(None if v is None else float(v) for v in (member.x_in, member.y_in, member.z_in))


def _top(scene: Scene, anchor: Place, far: Place) -> Place:
    """Where a tie-down meets the top edge of the piece, half way between its anchors."""
    if scene.top is None or None in anchor or None in far or scene.rear_x_in != scene.rear_x_in:
        return _NOWHERE
    x = min(max((anchor[0] + far[0]) / 2, scene.front_x_in), scene.rear_x_in)
    return (x, scene.top.half_in if anchor[1] > 0 else -scene.top.half_in, scene.top.at(x))


