"""What the buttons of a tie-down page do to a plan: take one off, add one more."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from math import dist

from rubrail.answers.secure_bundles import usable
from rubrail.answers.secure_columns import at
from rubrail.answers.secure_parts import Anchor, Outfit, Plan, Point, Scene, Tie, anchors_of, used
from rubrail.answers.secure_propose import known_to_each_other


def commanded(scenes: Sequence[Scene], plans: Sequence[Plan], do: str) -> tuple[tuple[Plan, ...], str]:
    """Plans after a button, and a sentence where it could not be done.

    Parameters
    ----------
    do : str
        ``off:N`` for the Nth tie-down over all pieces, counted from 0; ``add:N`` for one more on piece N; anything
        else changes nothing.
    """
    word, _, which = do.partition(":")
    n = int(which) if which.isascii() and which.isdigit() and len(which) < 4 else -1
    if word == "off":
        return _without(plans, n), ""
    if word == "add" and 0 <= n < len(plans):
        tie = one_more(known_to_each_other(scenes, plans)[n], plans[n])
        if tie is None:
            return tuple(plans), "There is no free anchor in reach of a tie point, or no gear left, for one more."
        grown = replace(plans[n], ties=(*plans[n].ties, tie))
        return (*plans[:n], grown, *plans[n + 1 :]), ""
    return tuple(plans), ""


def _without(plans: Sequence[Plan], n: int) -> tuple[Plan, ...]:
    out = []
    for plan in plans:
        ties = plan.ties
        if 0 <= n < len(ties):
            ties = (*ties[:n], *ties[n + 1 :])
        n -= len(plan.ties)
        out.append(replace(plan, ties=ties))
    return tuple(out)


def one_more(scene: Scene, plan: Plan) -> Tie | None:
    """A tie-down to begin with: the tie point used least, the nearest free anchor on its side, gear that reaches."""
    spare = _spare(scene, plan)
    points = [p for p in scene.points.values() if p.placed and p.holds == "piece"]
    if not points:
        return _over(scene, plan, spare)
    uses = Counter(t.point for t in plan.ties)
    for point in sorted(points, key=lambda p: uses[p.key]):
        for anchor in sorted(_free(scene, plan), key=lambda a: _way(a, point)):
            if float(anchor.y_in) * float(point.y_in) < 0:
                continue
            outfit = next((o for o in spare if _reaches(o, _way(anchor, point))), None)
            if outfit:
                return Tie(anchor.key, point.key, outfit.gear, outfit.binder)
    return None


def _over(scene: Scene, plan: Plan, spare: Sequence[Outfit]) -> Tie | None:
    """Over the top, between the free pair of anchors nearest to the middle of the piece."""
    strap = next((o for o in spare if o.kind == "strap"), None)
    free = {a.key: a for a in _free(scene, plan)}
    pairs = [
        (left, right) for left in free.values() for right in free.values()
        if float(left.y_in) < 0 < float(right.y_in) and float(left.x_in) == float(right.x_in)
    ]  # fmt: skip
    middle = (scene.front_x_in + scene.rear_x_in) / 2
    if strap is None or not pairs:
        return None
    left, right = min(pairs, key=lambda pair: abs(float(pair[0].x_in) - middle))
    return Tie(left.key, "", strap.gear, strap.binder, path="over", far=right.key)


def _spare(scene: Scene, plan: Plan) -> list[Outfit]:
    """Gear no plan takes; of the kind the plan has first."""
    taken, out = used(plan.ties), []
    for outfit in scene.stock:
        names = [n for n in (outfit.gear, outfit.binder) if n]
        if all(taken[n] > 0 for n in names):
            taken -= Counter(names)
        else:
            out.append(outfit)
    has = {scene.outfits[t.gear, t.binder].kind for t in plan.ties if t.holds == "piece"} or {"chain"}
    return sorted(out, key=lambda o: o.kind not in has)


def _free(scene: Scene, plan: Plan) -> list[Anchor]:
    busy = anchors_of(plan.ties)
    return [a for a in scene.anchors.values() if usable(scene, a) and a.key not in busy]


def _way(anchor: Anchor, point: Point) -> float:
    return dist(at(anchor), at(point))


def _reaches(outfit: Outfit, way_in: float) -> bool:
    return outfit.length_in is not None and float(outfit.length_in) >= way_in
