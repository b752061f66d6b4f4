"""Propose plans for every piece of a placed rig with one kit: direct, over the top, and for accessories."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rubrail.answers.secure_bundles import usable
from rubrail.answers.secure_columns import at, columns_of
from rubrail.answers.secure_parts import Anchor, Outfit, Plan, Scene, Tie, anchors_of, used
from rubrail.answers.secure_search import MORE, Found, best_direct, fewest
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.judge import judge
from rubrail.checks.registry import of_case
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.checks.verdict import CLEAR
from rubrail.rules import tiedown

MOST_OVER, APART_IN = 12, 6.0
"""Straps over the top tried at most, and how far apart they lie at least."""


@dataclass(frozen=True, slots=True)
class Way:
    """An order of choosing. steps : of what, one after the other; lean : as few on each piece as the law asks for."""

    steps: tuple[str, ...]
    lean: bool = False


_WAYS = (
    Way(("piece", "accessories")),
    Way(("accessories", "piece")),
    Way(("heavy accessories", "piece", "accessories"), lean=True),
)
"""Pieces before accessories; where that leaves one without an anchor the other way round; then with less than practice
asks for, where anchors or gear are few."""


def proposals(scenes: Sequence[Scene]) -> tuple[tuple[Scene, ...], tuple[Plan, ...]]:
    """A plan for each piece, the heaviest first choosing its gear and anchors.

    Returns
    -------
    scenes, plans
        In the order given; each scene knows what the others' plans take.
    """
    best: tuple[int, tuple[Scene, ...], tuple[Plan, ...]] | None = None
    for way in _WAYS:
        plans = _chosen(scenes, way)
        known = known_to_each_other(scenes, plans)
        worst = min((_by_law(s, p) for s, p in zip(known, plans, strict=True)), default=CLEAR)
        if best is None or worst > best[0]:
            best = (worst, known, tuple(plans))
        if worst >= CLEAR:
            break
    assert best is not None
    return best[1], best[2]


def _chosen(scenes: Sequence[Scene], way: Way) -> list[Plan]:
    order = sorted(range(len(scenes)), key=lambda n: -np.nan_to_num(scenes[n].number("secured_weight_lb")))
    plans = [Plan() for _ in scenes]
    for step in way.steps:
        for n in order:
            scene = known_to_each_other(scenes, plans)[n]
            if step == "piece":
                # The piece before its accessories, as they are numbered.
                own = anchors_of(plans[n].ties)
                free = replace(scene, taken=scene.taken | set(own), stock=_left(scene.stock, used(plans[n].ties)))
                ties = (*_of_piece(free, lean=way.lean), *plans[n].ties)
            elif any(t.holds == "accessory" for t in plans[n].ties) or (step != "accessories" and not _heavy(scene)):
                continue
            else:
                ties = (*plans[n].ties, *_of_accessories(scene, plans[n]))
            plans[n] = replace(plans[n], ties=ties)
    return plans


def _heavy(scene: Scene) -> bool:
    weight, machine = scene.number("secured_weight_lb"), scene.columns["secured_is_machine"]
    return bool(tiedown.machine_rule_applies(weight_lb=weight, is_machine=machine) == 1.0)


def _by_law(scene: Scene, plan: Plan) -> int:
    """Verdict code of one plan by law and fit alone, which needs no program."""
    checks = [c for c in of_case("securing") if c.kind in VERDICT_KINDS]
    return int(judge(columns_of(scene, plan), checks=checks).verdict[0, 0])


def known_to_each_other(scenes: Sequence[Scene], plans: Sequence[Plan]) -> tuple[Scene, ...]:
    """Scenes that know which gear and anchors the plans of the other pieces take, and what is left for their own."""
    out = []
    for n, scene in enumerate(scenes):
        others = [t for m, p in enumerate(plans) if m != n for t in p.ties]
        elsewhere = used(others)
        out.append(
            replace(
                scene,
                elsewhere=elsewhere,
                stock=_left(scene.stock, elsewhere),
                taken=frozenset(anchors_of(others)),
            )
        )
    return tuple(out)


def _left(stock: Sequence[Outfit], taken: Counter[str]) -> tuple[Outfit, ...]:
    """What is left of a stock when so much gear is taken, by id."""
    missing, out = Counter(taken), []
    for outfit in stock:
        names = [n for n in (outfit.gear, outfit.binder) if n]
        if all(missing[n] > 0 for n in names):
            missing -= Counter(names)
        else:
            out.append(outfit)
    return tuple(out)


def proposed(scene: Scene) -> Plan:
    """The plan proposed for one piece by itself; what the files do not say is left open in it, never guessed."""
    return proposals([scene])[1][0]


def _of_piece(scene: Scene, *, lean: bool) -> tuple[Tie, ...]:
    """Tie-downs of the piece itself, front first, left before right."""
    machine = scene.columns["secured_is_machine"] == 1.0
    direct = machine or any(p.holds == "piece" for p in scene.points.values())
    preferred = "chain" if direct else "strap"
    # Where gear of the right kind runs out, the strongest is planned again: the kit's count tells that it is short.
    have = scene.stock or tuple(scene.outfits.values())
    stock = [o for o in have if o.kind == preferred] or list(have)
    if not stock:
        return ()
    stock += [stock[0]] * max(fewest(scene) + MORE - len(stock), 0)
    if not direct:
        return _over(scene, stock)
    found: Found | None = best_direct(scene, tuple(stock), lean=lean)
    return _in_order(scene, found.ties) if found else _open(scene, stock)


def _in_order(scene: Scene, ties: Sequence[Tie]) -> tuple[Tie, ...]:
    return tuple(sorted(ties, key=lambda t: (at(scene.points[t.point]), at(scene.anchors[t.anchor]))))


def _of_accessories(scene: Scene, plan: Plan) -> tuple[Tie, ...]:
    """Tie-downs of the accessories: the lightest gear left, the nearest anchors left."""
    points = [p for p in scene.points.values() if p.holds == "accessory"]
    count = scene.columns["secured_accessory_count"]
    wanted = len(points) if count is None else int(float(count))
    left = [o for o in _left(scene.stock, used(plan.ties)) if o.kind == "chain"] or list(scene.outfits.values())
    return _accessories(scene, plan.ties, points, wanted, left[::-1]) if left else ()


def _open(scene: Scene, stock: Sequence[Outfit]) -> tuple[Tie, ...]:
    """As many tie-downs as are needed, at the anchors nearest to the corners; what is not known is left open."""
    count, free = fewest(scene), [a for a in scene.anchors.values() if usable(scene, a)]
    points = [p.key for p in scene.points.values() if p.holds == "piece"]
    ends = [(x, side) for x in (scene.front_x_in, scene.rear_x_in) for side in (-1, 1)]
    ties = []
    for n in range(count):
        x, side = ends[n % len(ends)]
        near = [a for a in free if float(a.y_in) * side > 0]
        anchor = min(near, key=lambda a: abs(float(a.x_in) - x), default=None) if x == x else None
        if anchor:
            free.remove(anchor)
        elif scene.anchors:
            continue  # the trailer has too few, which is known: the plan comes out short
        outfit = stock[min(n, len(stock) - 1)]
        point = points[n] if n < len(points) else ""
        ties.append(Tie(anchor.key if anchor else "", point, outfit.gear, outfit.binder))
    return tuple(ties)


def _accessories(
    scene: Scene, ties: Sequence[Tie], points: Sequence[Anchor], wanted: int, stock: Sequence[Outfit]
) -> tuple[Tie, ...]:
    """One tie-down for each accessory, to the nearest free anchor; where one is tied may be left open."""
    busy = anchors_of(ties)
    free = [a for a in scene.anchors.values() if usable(scene, a) and a.key not in busy]
    out = []
    for n in range(wanted):
        outfit = stock[min(n, len(stock) - 1)]
        point = points[n] if n < len(points) and points[n].placed else None
        reach = float("inf") if outfit.length_in is None else float(outfit.length_in)
        anchor = None
        if point is not None:

            def way(a: Anchor, point=point) -> float:
                return float(np.linalg.norm(np.subtract(at(a), at(point))))

            near = [a for a in free if way(a) <= reach]
            rated = [a for a in near if a.wll_lb is not None]
            anchor = min(rated or near, key=way, default=None)
        if anchor:
            free.remove(anchor)
        elif point is not None and scene.anchors:
            continue
        out.append(
            Tie(
                anchor.key if anchor else "", point.key if point else "", outfit.gear, outfit.binder,
                holds="accessory",
            )
        )
    return tuple(out)


def _over(scene: Scene, stock: Sequence[Outfit]) -> tuple[Tie, ...]:
    """Straps over the top, evenly spread: as many as the law counts, more where they then hold what is asked."""
    from rubrail.answers.secure_judge import judged

    longest = max((float(o.length_in) for o in stock if o.length_in is not None), default=0.0)
    stock = [o for o in stock if o.length_in is not None and float(o.length_in) >= longest] or list(stock)
    pairs = _pairs(scene, longest)
    if not pairs:
        return _open(scene, stock)
    weight = scene.columns["secured_weight_lb"]
    needed = 0.0 if weight is None else float(tiedown.aggregate_needed_lb(weight_lb=weight.high))
    lawful: tuple[Tie, ...] = ()
    for count in range(fewest(scene), min(len(pairs), len(stock), MOST_OVER) + 1):
        index = _spread(scene, pairs, count)
        ties = tuple(
            Tie(pairs[i][0].key, "", stock[n].gear, stock[n].binder, "over", pairs[i][1].key)
            for n, i in enumerate(index)
        )
        counted = sum(
            min(_known(stock[n].wll_lb), *(_limit(a) for a in pairs[i])) for n, i in enumerate(index)
        )
        if counted < needed and count < min(len(pairs), len(stock)):
            continue
        lawful = lawful or ties
        _, judgement = judged(scene, Plan(ties), tolerances=False)
        advice = judgement.rows.of_kind("guidance")
        if (judgement.codes[advice] > 1).all():
            return ties
    return lawful or _open_over(scene, pairs, stock)


def _open_over(scene: Scene, pairs: list[tuple[Anchor, Anchor]], stock: Sequence[Outfit]) -> tuple[Tie, ...]:
    """Every pair there is, where there are fewer than the law asks for."""
    return tuple(
        Tie(left.key, "", stock[min(n, len(stock) - 1)].gear, stock[min(n, len(stock) - 1)].binder, "over", right.key)
        for n, (left, right) in enumerate(pairs[: max(fewest(scene), 1)])
    )


def _pairs(scene: Scene, longest: float) -> list[tuple[Anchor, Anchor]]:
    """Anchors that face each other beside the piece and that a strap reaches, front first; one kind of place once."""
    free = [a for a in scene.anchors.values() if usable(scene, a) and float(a.y_in) != 0]
    left = [a for a in free if float(a.y_in) < 0 and scene.front_x_in <= float(a.x_in) <= scene.rear_x_in]
    out = []
    for a in sorted(left, key=lambda a: (float(a.x_in), a.wll_lb is None)):
        mirror = np.array(at(a)) * (1, -1, 1)
        other = next((b for b in free if np.abs(np.array(at(b)) - mirror).max() < 0.05), None)
        if not other or _way(scene, (a, other)) > longest:
            continue
        if not out or float(a.x_in) - float(out[-1][0].x_in) > APART_IN:
            out.append((a, other))
    rated = [p for p in out if None not in (p[0].wll_lb, p[1].wll_lb)]
    return rated if len(rated) >= fewest(scene) else out


def _way(scene: Scene, pair: tuple[Anchor, Anchor]) -> float:
    """Inches over the top from anchor to anchor; ``nan`` where the top is not known."""
    if scene.top is None:
        return float("nan")
    half, top = scene.top.half_in, scene.top.at(float(pair[0].x_in))
    return 2 * (float(np.hypot(abs(float(pair[0].y_in)) - half, float(pair[0].z_in) - top)) + half)


def _spread(scene: Scene, pairs: list[tuple[Anchor, Anchor]], count: int) -> list[int]:
    """Which pairs lie nearest to so many places evenly spread along the piece."""
    long, left = scene.rear_x_in - scene.front_x_in, list(range(len(pairs)))
    chosen = []
    for n in range(count):
        x = scene.front_x_in + (n + 0.5) / count * long
        nearest = min(left, key=lambda i: abs(float(pairs[i][0].x_in) - x))
        left.remove(nearest)
        chosen.append(nearest)
    return sorted(chosen)


def _known(value: float) -> float:
    return value if value == value else np.inf


def _limit(anchor: Anchor) -> float:
    return np.inf if anchor.wll_lb is None else float(anchor.wll_lb)
