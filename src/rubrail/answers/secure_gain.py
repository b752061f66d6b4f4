"""What to add, move or strengthen, that which gains most first; each change is judged again.

Where a plan holds least, the prices of that direction's program bound what any one new or moved tie-down can bring;
only the most promising are tried exactly.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.secure_bundles import usable
from rubrail.answers.secure_columns import at, outfit_of
from rubrail.answers.secure_judge import judged
from rubrail.answers.secure_parts import Anchor, Outfit, Plan, Point, Scene, Tie, anchors_of
from rubrail.answers.secure_report import Change
from rubrail.answers.secure_score import CRITERIA, Scorer, limits_lb
from rubrail.checks.judge import Judgement
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.checks.verdict import NOT_KNOWN, OVER, WORDS
from rubrail.mechanics import lashing
from rubrail.rules import tiedown

Array = NDArray[np.float64]
TRIED = 4
"""Moves, and additions, tried exactly."""
SHOWN = 1
LEAST_GAIN = 0.02
"""A share gained below this is not worth a word."""


@dataclass(frozen=True)
class _Known:
    """A plan whose direct tie-downs on the piece are all known, as arrays for the programs."""

    ties: tuple[int, ...]
    wrench: Array
    working_lb: Array
    breaking_lb: Array


def changes_of(scene: Scene, plan: Plan, *, method: str = "us") -> tuple[Change, ...]:
    """Single changes of a plan, those that clear most first, then those that gain most.

    Parameters
    ----------
    scene : Scene
        Its ``stock`` is what the kit holds beyond the plans of other pieces.
    plan : Plan
    method : str
        ``us`` or ``en``: which checks a change is judged by.
    """
    _, before = judged(scene, plan, method=method)
    found: list[tuple[tuple, Change]] = []
    for c in _candidates(scene, plan):
        _, after = judged(scene, changed(plan, c), method=method)
        cleared = _faults(before) - _faults(after)
        if _faults(after) - _faults(before) or not (cleared or (c.amount > 0 and method == "us")):
            continue
        c = replace(c, clears=tuple(sorted(cleared)), verdict=WORDS[int(after.verdict[0, 0])])
        found.append(((-len(cleared), len(found)), c))
    return tuple(c for _, c in sorted(found, key=lambda f: f[0]))


def changed(plan: Plan, change: Change) -> Plan:
    """The plan with one change made."""
    if change.kind == "lock":
        return replace(plan, locked=True)
    tie = Tie(change.anchor, change.point, change.gear, change.binder, holds=change.holds)
    if not change.number:
        return replace(plan, ties=(*plan.ties, tie))
    ties = list(plan.ties)
    old = ties[change.number - 1]
    ties[change.number - 1] = replace(
        old, anchor=change.anchor, point=change.point, gear=change.gear, binder=change.binder
    )
    return replace(plan, ties=tuple(ties))


def _change(kind: str, says: str, tie: Tie | None, *, number: int = 0, gain_g: float = 0.0) -> Change:
    t = tie or Tie("", "", "")
    unit = "g" if gain_g else ""
    return Change(kind, says, gain_g, unit, (), "", number, t.anchor, t.point, t.gear, t.binder, t.holds)


def _faults(judgement: Judgement) -> set[str]:
    """Checks that fail, or are not known."""
    kinds = judgement.rows.of_kind(*VERDICT_KINDS, "guidance")
    return {
        r.check.id for i, r in enumerate(judgement.rows.rows)
        if kinds[i] and judgement.codes[i, 0, 0] in (OVER, NOT_KNOWN)
    }  # fmt: skip


def _candidates(scene: Scene, plan: Plan) -> Iterator[Change]:
    if scene.columns["secured_bends"] == 1.0 and not plan.locked:
        yield _change("lock", "lock the articulation", None)
    yield from _accessories(scene, plan)
    yield from _stronger(scene, plan)
    yield from _held(scene, plan)


def _spare(scene: Scene, plan: Plan) -> list[Outfit]:
    """Gear of the kit that no plan takes."""
    left = list(scene.stock)
    for tie in plan.ties:
        same = next((o for o in left if (o.gear, o.binder) == (tie.gear, tie.binder)), None)
        if same:
            left.remove(same)
    return left


def _accessories(scene: Scene, plan: Plan) -> Iterator[Change]:
    """Tie down what moves and is not tied down yet."""
    done = {t.point for t in plan.ties if t.holds == "accessory"}
    spare = [o for o in _spare(scene, plan) if o.kind == "chain"][::-1]
    for point in (p for p in scene.points.values() if p.holds == "accessory" and p.key not in done and p.placed):
        for anchor in _free(scene, plan, point)[:1]:
            if spare:
                tie = Tie(anchor.key, point.key, spare[0].gear, spare[0].binder, holds="accessory")
                yield _change("accessory", f"tie down the {point.title} to {anchor.title}", tie)


def _free(scene: Scene, plan: Plan, point: Point) -> list[Anchor]:
    """Anchors of known place and limit that nothing stands on yet, the nearest to a point first."""
    busy = anchors_of(plan.ties)
    free = [a for a in scene.anchors.values() if usable(scene, a) and a.wll_lb is not None and a.key not in busy]
    return sorted(free, key=lambda a: float(np.linalg.norm(np.subtract(at(a), at(point)))))


def _stronger(scene: Scene, plan: Plan) -> Iterator[Change]:
    """Stronger gear of the kit where the gear is what governs."""
    spare = _spare(scene, plan)
    if not spare:
        return
    weak = min(
        (n for n, t in enumerate(plan.ties) if t.holds == "piece"),
        key=lambda n: np.nan_to_num(outfit_of(scene, plan.ties[n]).wll_lb), default=None,
    )  # fmt: skip
    if weak is None:
        return
    tie, best = plan.ties[weak], max(spare, key=lambda o: np.nan_to_num(o.wll_lb))
    if best.wll_lb > np.nan_to_num(outfit_of(scene, tie).wll_lb):
        stronger = replace(tie, gear=best.gear, binder=best.binder)
        yield _change("gear", f"take the {best.title} for tie-down {weak + 1}", stronger, number=weak + 1)


def _known(scene: Scene, plan: Plan) -> _Known | None:
    mine = tuple(n for n, t in enumerate(plan.ties) if t.holds == "piece")
    ties = [plan.ties[n] for n in mine]
    if not ties or not Scorer.fits(scene) or any(t.path != "direct" or not t.point or not t.anchor for t in ties):
        return None
    if not all(scene.anchors[t.anchor].placed and scene.points[t.point].placed for t in ties):
        return None
    shared = anchors_of(plan.ties)
    limits = np.array([
        limits_lb(
            outfit_of(scene, t), _limit(scene.anchors[t.anchor]) / shared[t.anchor],
            _limit(scene.points[t.point]) / sum(u.point == t.point for u in ties),
        )
        for t in ties
    ])  # fmt: skip
    return _Known(mine, _wrench(scene, [(t.anchor, t.point) for t in ties]), limits[:, 0], limits[:, 1])


def _limit(member: Anchor) -> float:
    return np.inf if member.wll_lb is None else float(member.wll_lb)


def _wrench(scene: Scene, ends: list[tuple[str, str]]) -> Array:
    about = Scorer(scene).about
    return lashing.pulls(
        path=np.zeros(len(ends)), anchor_in=np.array([at(scene.anchors[a]) for a, _ in ends]),
        point_in=np.array([at(scene.points[p]) for _, p in ends]), far_in=np.zeros((len(ends), 3)), about_in=about,
    )  # fmt: skip


def _held(scene: Scene, plan: Plan) -> Iterator[Change]:
    """Tie-downs added, and ends moved to other anchors, where they gain most in the direction that holds least."""
    known = _known(scene, plan)
    if known is None:
        return
    scorer = Scorer(scene)
    wanted = [n for n in range(len(CRITERIA)) if scorer.asked[n] > 0]
    shares, cuts = {}, {}
    for n in wanted:
        held, cuts[n] = scorer.held(n, known.wrench, _of(known, n))
        shares[n] = held / scorer.asked[n]
    worst = min(wanted, key=shares.__getitem__)
    order = sorted(wanted, key=shares.__getitem__)
    points = [p for p in scene.points.values() if p.placed and p.holds == "piece"]
    spare = [o for o in _spare(scene, plan) if o.kind == outfit_of(scene, plan.ties[known.ties[0]]).kind]
    adds = [
        (None, a, p, spare[0]) for p in points for a in _free(scene, plan, p) if spare and _side(a, p)
    ]  # fmt: skip
    moves = [
        (n, a, scene.points[t.point], outfit_of(scene, t))
        for n, t in ((n, plan.ties[n]) for n in known.ties)
        for a in _free(scene, plan, scene.points[t.point])
        if _side(a, scene.points[t.point])
    ]
    for kind, some in (("add", adds), ("move", moves)):
        yield from _best(scene, plan, known, scorer, kind=kind, some=some, cut=cuts[worst], order=order,
                         now=shares[worst])  # fmt: skip


def _of(known: _Known, criterion: int) -> Array:
    return known.working_lb if CRITERIA[criterion][0] == "working" else known.breaking_lb


def _side(anchor: Anchor, point: Point) -> bool:
    return float(anchor.y_in) * float(point.y_in) >= 0


def _best(scene, plan, known: _Known, scorer: Scorer, *, kind, some, cut, order, now) -> Iterator[Change]:
    some = [s for s in some if s[3].length_in is not None and _way(s[1], s[2]) <= float(s[3].length_in)]
    if not some:
        return
    wrench = _wrench(scene, [(a.key, p.key) for _, a, p, _ in some])
    limits = np.array([limits_lb(o, _limit(a), _limit(p)) for _, a, p, o in some])
    part = 0 if CRITERIA[cut.criterion][0] == "working" else 1
    total = cut.of_single(known.wrench, _of(known, cut.criterion))
    lost = np.array([0.0 if n is None else total[known.ties.index(n)] for n, *_ in some])
    promise = cut.base + total.sum() - lost + cut.of_single(wrench, limits[:, part])
    tried = []
    for i in np.argsort(-promise, kind="stable")[:TRIED]:
        if promise[i] / scorer.asked[cut.criterion] - now < LEAST_GAIN:
            break
        n, anchor, point, outfit = some[i]
        keep = np.array([m != n for m in known.ties])
        pulls = np.vstack([known.wrench[keep], wrench[i]])
        working, breaking = (
            np.append(lb[keep], limits[i, k]) for k, lb in enumerate((known.working_lb, known.breaking_lb))
        )
        share, _ = scorer.share(pulls, working, breaking, order=order, stop_below=now + LEAST_GAIN)
        if share - now >= LEAST_GAIN:
            held, _ = scorer.held(cut.criterion, pulls, (working, breaking)[part])
            tried.append((share - now, held - now * scorer.asked[cut.criterion], n, anchor, point, outfit))
    direction = tiedown.DIRECTIONS[CRITERIA[cut.criterion][1]]
    for _, more, n, anchor, point, outfit in sorted(tried, key=lambda t: -t[0])[:SHOWN]:
        tie = Tie(anchor.key, point.key, outfit.gear, outfit.binder)
        if n is None:
            says = f"add a tie-down from {anchor.title}, to the {point.title}: {more:.2f} g more held {direction}"
        else:
            says = f"move tie-down {n + 1} to {anchor.title}: {more:.2f} g more held {direction}"
        yield _change(kind, says, tie, number=0 if n is None else n + 1, gain_g=float(more))


def _way(anchor: Anchor, point: Point) -> float:
    return float(np.linalg.norm(np.subtract(at(anchor), at(point))))
