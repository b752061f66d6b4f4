"""Candidates of a plan: each tie point with each anchor, left and right together where both sides are alike.

A *bundle* is what is taken or left as one: two mirrored tie-downs, or one that has no mirror image.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.secure_columns import at
from rubrail.answers.secure_parts import Anchor, Point, Scene
from rubrail.mechanics import lashing

Array = NDArray[np.float64]
_SAME_IN = 0.05
EDGE_IN = 1.0
"""An anchor no further than this inside the edge of a track or tire can still be reached."""
INWARD_IN = 6.0
"""A chain that leans so little toward the middle still counts as upright."""
MOST_ANCHORS = 60
"""Anchors looked at, the nearest to the piece: their set is kept in one word of 64 bits."""


@dataclass(frozen=True, slots=True)
class Single:
    """One anchor with one tie point: its keys, its way, and the limits of its ends."""

    anchor: str
    point: str
    length_in: float
    anchor_lb: float
    point_lb: float


@dataclass(frozen=True)
class Bundles:
    """Candidates as arrays.

    singles : the tie-downs; members : of each bundle, which of them; anchor_in, point_in : their places, shape
    ``(single, 3)``; cap_lb : what one is good for with the best gear, ``(single,)``; anchors, points : bit masks of
    those a bundle uses, ``(bundle,)``; size, length_in : how many tie-downs and inches it has, ``(bundle,)``.
    """

    singles: tuple[Single, ...]
    members: tuple[tuple[int, ...], ...]
    anchor_in: Array
    point_in: Array
    cap_lb: Array
    anchors: NDArray[np.int64]
    points: NDArray[np.int64]
    size: NDArray[np.intp]
    length_in: Array

    def total(self, of_single: Array) -> Array:
        """Sum of a value of the tie-downs over each bundle."""
        return np.array([of_single[list(m)].sum(axis=0) for m in self.members])


def usable(scene: Scene, anchor: Anchor) -> bool:
    """Whether an anchor's place is known, no other piece takes it, and the piece does not stand on it."""
    if not anchor.placed or anchor.key in scene.taken:
        return False
    front, rear, width = (scene.number(f"secured_contact_{n}_in") for n in ("front_x", "rear_x", "width"))
    covered = front < float(anchor.x_in) < rear and abs(float(anchor.y_in)) < width / 2 - EDGE_IN
    return not covered


def bundles_of(
    scene: Scene, *, best_lb: float, reach_in: float, rated: bool = True, outward: bool = False, paired: bool = True
) -> Bundles | None:
    """Every candidate a piece has; None where it has none.

    Parameters
    ----------
    scene : Scene
    best_lb, reach_in : float
        Limit of the strongest gear, and length of the longest.
    rated : bool
        Only anchors whose limit is known; else every anchor, those of unknown limit as if they never governed.
    outward : bool
        Only chains that pull away from the piece: from its front points forward, from its rear points rearward, as
        common practice has it (no source).
    paired : bool
        Mirrored tie-downs together; else each by itself.
    """
    points = [p for p in scene.points.values() if p.placed and p.holds == "piece"]
    anchors = [
        a for a in scene.anchors.values() if usable(scene, a) and (a.wll_lb is not None or not rated)
    ]  # fmt: skip
    middle = (scene.front_x_in + scene.rear_x_in) / 2
    anchors = sorted(anchors, key=lambda a: abs(float(a.x_in) - middle))[:MOST_ANCHORS]
    singles: dict[tuple[str, str], int] = {}
    found: list[Single] = []
    for point in points:
        for anchor in anchors:
            if _across(point, anchor) or (outward and _inward(scene, point, anchor)):
                continue
            way = float(np.linalg.norm(np.subtract(at(point), at(anchor))))
            if 0 < way <= reach_in:
                singles[point.key, anchor.key] = len(found)
                found.append(Single(anchor.key, point.key, way, _limit(anchor), _limit(point)))
    if not found:
        return None
    images = _images(points), _images(anchors)
    members: list[tuple[int, ...]] = []
    for n, single in enumerate(found):
        image = singles.get((images[0].get(single.point, ""), images[1].get(single.anchor, "")))
        if image is None or image == n or not paired:
            members.append((n,))
        elif image > n:
            members.append((n, image))
    return _arrays(scene, found, members, best_lb)


def _arrays(scene: Scene, found: Sequence[Single], members: Sequence[tuple[int, ...]], best_lb: float) -> Bundles:
    bit = {key: 1 << n for n, key in enumerate(dict.fromkeys(s.anchor for s in found))}
    spot = {key: 1 << n for n, key in enumerate(dict.fromkeys(s.point for s in found))}

    def mask(keys: Iterable[int]) -> int:
        out = 0
        for key in keys:
            out |= key
        return out

    return Bundles(
        singles=tuple(found),
        members=tuple(members),
        anchor_in=np.array([at(scene.anchors[s.anchor]) for s in found], float),
        point_in=np.array([at(scene.points[s.point]) for s in found], float),
        cap_lb=np.array([min(s.anchor_lb, s.point_lb, best_lb) for s in found]),
        anchors=np.array([mask(bit[found[i].anchor] for i in m) for m in members], np.int64),
        points=np.array([mask(spot[found[i].point] for i in m) for m in members], np.int64),
        size=np.array([len(m) for m in members]),
        length_in=np.array([sum(found[i].length_in for i in m) for m in members]),
    )


def _across(point: Point, anchor: Anchor) -> bool:
    """Whether a tie-down would cross the center line under the piece, which a proposal leaves to a person."""
    return float(point.y_in) * float(anchor.y_in) < 0


def _inward(scene: Scene, point: Point, anchor: Anchor) -> bool:
    """Whether a tie-down would pull its end of the piece toward the middle."""
    center = scene.number("secured_cg_x_in")
    center = (scene.front_x_in + scene.rear_x_in) / 2 if np.isnan(center) else center
    ahead = 1.0 if float(point.x_in) < center else -1.0
    return ahead * (float(anchor.x_in) - float(point.x_in)) > INWARD_IN


def _limit(member: Anchor) -> float:
    return np.inf if member.wll_lb is None else float(member.wll_lb)


def _images(members: Sequence[Anchor]) -> dict[str, str]:
    """Key of each member's mirror image on the other side of the center line; itself on the line."""
    out = {}
    for a in members:
        mirror = np.array(at(a)) * (1, -1, 1)
        image = next((b.key for b in members if np.abs(mirror - np.array(at(b))).max() < _SAME_IN), "")
        out[a.key] = image
    return out


def wrenches(bundles: Bundles, *, about_in: Array) -> Array:
    """Force and moment of each tie-down a pound of tension, shape ``(single, 6)``."""
    count = len(bundles.singles)
    return lashing.pulls(
        path=np.zeros(count), anchor_in=bundles.anchor_in, point_in=bundles.point_in,
        far_in=np.zeros((count, 3)), about_in=about_in,
    )  # fmt: skip
