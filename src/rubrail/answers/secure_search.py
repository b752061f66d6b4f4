"""Propose a plan: the fewest tie-downs that the law and good practice ask for, placed to hold most.

Among plans of one number the best has the greatest least share (what is held over what is asked, in its weakest
direction), capped at ``ENOUGH``, less a hair for every inch of chain. It is chosen for the friction of a deck nobody
swept, so that chains hold and not rubber; how many are needed, and the verdict, go by the friction that is stated.
Plans are tried best bound first, and every program solved tightens the bounds of all the others (``secure_score``), so
that the best is proven after a few.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations
from math import comb

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.secure_bundles import Bundles, bundles_of, wrenches
from rubrail.answers.secure_columns import columns_of
from rubrail.answers.secure_parts import Outfit, Plan, Scene, Tie
from rubrail.answers.secure_score import CRITERIA, Scorer, limits_lb, unswept_friction
from rubrail.checks.engine import Evaluation
from rubrail.rules import tiedown

Array = NDArray[np.float64]
ENOUGH = 1.5
"""Share beyond which a shorter chain counts for more than a stronger hold."""
PER_INCH = 1e-4
MORE = 4
"""Tie-downs tried beyond the fewest."""
MOST_SETS = 40_000


@dataclass(frozen=True)
class Found:
    """A set of tie-downs: what it is worth to the search, its share (``nan`` where it cannot be reckoned).

    lawful : whether it may hold the law; firm : whether it counts enough at the most the piece may weigh.
    """

    ties: tuple[Tie, ...]
    worth: float
    share: float
    lawful: bool = True
    firm: bool = False

    @property
    def holds(self) -> bool:
        """Whether everything asked is held, as far as it can be reckoned."""
        return self.lawful and self.firm and not self.share < 1.0

    @property
    def rank(self) -> tuple[bool, bool, bool, float]:
        """Sort key: what holds, what the law may let pass, and whatever the piece weighs, then its worth."""
        return (self.holds, self.lawful, self.firm, self.worth)


@dataclass(frozen=True)
class Sets:
    """Sets of one number of tie-downs: rows of bundle indexes."""

    rows: NDArray[np.intp]
    bundles: Bundles

    def sums(self, of_bundle: Array) -> Array:
        """A value of the bundles added up over each set."""
        return of_bundle[self.rows].sum(axis=1)


def fewest(scene: Scene, *, lean: bool = False) -> int:
    """Tie-downs the law asks for at least; four on any machine, as practice has it, unless ``lean``."""
    needed = float(
        tiedown.tiedowns_needed(
            length_in=scene.number("secured_length_in"), weight_lb=scene.number("secured_weight_lb"),
            blocked_forward=0.0, is_machine=scene.columns["secured_is_machine"],
            is_vehicle=scene.columns["secured_is_vehicle"],
        )
    )  # fmt: skip
    usual = 1 if lean else 4 if scene.columns["secured_is_machine"] == 1.0 else 2
    return usual if np.isnan(needed) else max(int(needed), usual)


_WAYS = (
    {"rated": True, "outward": True},
    {"rated": True, "outward": False},
    {"rated": True, "outward": False, "paired": False},
    {"rated": False, "outward": True},
    {"rated": False, "outward": False, "paired": False},
)
"""What is asked of a plan beside the law, less and less of it: anchors of known limit, chains that pull away from the
piece, left and right alike."""


def best_direct(
    scene: Scene, stock: tuple[Outfit, ...], *, lean: bool = False, plain: bool = False
) -> Found | None:
    """The best plan of direct tie-downs, None where there are no points, anchors or gear.

    Parameters
    ----------
    scene : Scene
    stock : tuple of Outfit
        Gear to take, in the order it is taken.
    lean : bool
        Begin with what the law asks for, though practice asks for more.
    plain : bool
        Try every set by its programs: the same answer, slowly; tests and benchmarks compare the two.
    """
    best: Found | None = None
    for way in (w for w in _WAYS if not lean or "paired" in w):
        if best is not None and (best.holds or (best.lawful and ("paired" in way or not way["rated"]))):
            break
        found = _best(scene, stock, way, lean=lean, plain=plain)
        if found is not None and (best is None or found.rank > best.rank):
            best = found
    return best


def _best(scene: Scene, stock: tuple[Outfit, ...], way: dict[str, bool], *, lean: bool, plain: bool) -> Found | None:
    lengths = [float(o.length_in) for o in stock if o.length_in is not None]
    if not lengths:
        return None
    best_lb = max(limits_lb(o, np.inf, np.inf)[0] for o in stock)
    bundles = bundles_of(scene, best_lb=best_lb, reach_in=max(lengths), **way)
    if bundles is None:
        return None
    scorer = Scorer(scene, most_friction=unswept_friction()) if Scorer.fits(scene) else None
    first, best, spare = fewest(scene, lean=lean), None, None
    for count in range(first, first + MORE + 1):
        for sets in sets_of(scene, bundles, count):
            heavy = _lawful(scene, sets, high=True, everywhere=not lean)
            lawful = heavy if heavy.any() else _lawful(scene, sets, high=False, everywhere=not lean)
            if not lawful.any():
                spare = _strongest(scene, sets, stock) or spare
                continue
            some = replace(sets, rows=sets.rows[lawful])
            found = (_tried_all if plain else _tried)(scene, some, stock, scorer)
            if found:
                found = replace(found, share=_stated_share(scene, found))
                best = found if best is None or found.rank > best.rank else best
        if best is not None and (best.holds or (lean and best.firm)):
            break
    return best or spare


def _stated_share(scene: Scene, found: Found) -> float:
    """Share of a set with the friction that is stated."""
    from rubrail.answers.secure_judge import held_of, least_share

    columns = columns_of(scene, Plan(found.ties))
    return least_share(held_of(Evaluation(columns)))


def sets_of(scene: Scene, bundles: Bundles, count: int) -> Iterator[Sets]:
    """Every set of so many tie-downs; no anchor serves twice, and no tie point twice before each has served once."""
    sizes = set(bundles.size.tolist())
    points = len({s.point for s in bundles.singles})
    for picked in range(-(-count // max(sizes)), count // min(sizes) + 1):
        index = _thinned(bundles, picked)
        if len(index) < picked:
            continue
        rows = np.array(list(combinations(index.tolist(), picked)), np.intp).reshape(-1, picked)
        rows = rows[bundles.size[rows].sum(axis=1) == count]
        if not len(rows):
            continue
        rows = rows[_apart(bundles.anchors[rows]) & _spread(bundles, rows, -(-count // points))]
        if len(rows):
            yield Sets(rows, bundles)


def _thinned(bundles: Bundles, picked: int) -> NDArray[np.intp]:
    """All bundles, or so many of the shortest at each tie point that their sets can be counted through."""
    count = len(bundles.members)
    if comb(count, picked) <= MOST_SETS:
        return np.arange(count)
    order = np.argsort(bundles.length_in, kind="stable")
    groups: dict[int, list[int]] = {}
    for n in order:
        groups.setdefault(int(bundles.points[n]), []).append(int(n))
    each = max(len(g) for g in groups.values())
    while each > 1 and comb(sum(min(each, len(g)) for g in groups.values()), picked) > MOST_SETS:
        each -= 1
    return np.sort(np.array([n for g in groups.values() for n in g[:each]], np.intp))


def _apart(masks: NDArray[np.int64]) -> NDArray[np.bool_]:
    union, clash = masks[:, 0].copy(), np.zeros(len(masks), bool)
    for column in masks.T[1:]:
        clash |= (union & column) != 0
        union |= column
    return ~clash


def _spread(bundles: Bundles, rows: NDArray[np.intp], most: int) -> NDArray[np.bool_]:
    """Whether no tie point serves more often than it must."""
    names = list(dict.fromkeys(s.point for s in bundles.singles))
    of_single = np.array([[s.point == n for n in names] for s in bundles.singles], float)
    return (bundles.total(of_single)[rows].sum(axis=1) <= most).all(axis=1)


def _lawful(scene: Scene, sets: Sets, *, high: bool, everywhere: bool) -> NDArray[np.bool_]:
    """Whether each set may count enough: ``high`` at the most the piece may weigh, ``everywhere`` at each end and on
    each side even where the law does not ask for it."""
    weight = scene.columns["secured_weight_lb"]
    most = 0.0 if weight is None else weight.high if high else weight.number
    needed = float(tiedown.aggregate_needed_lb(weight_lb=most))
    credit = float(tiedown.credit(path=0.0))
    enough = sets.sums(credit * sets.bundles.total(sets.bundles.cap_lb)) >= needed * (1 - 1e-9)
    center = scene.number("secured_cg_x_in")
    point_x, anchor_y = sets.bundles.point_in[:, 0], sets.bundles.anchor_in[:, 1]
    if np.isnan(center):
        center = float(point_x.mean())
    places = np.stack([point_x < center, point_x >= center, anchor_y < 0, anchor_y > 0], axis=-1)
    machine = tiedown.machine_rule_applies(weight_lb=most, is_machine=scene.columns["secured_is_machine"])
    if not everywhere and machine == 0:
        return enough
    return enough & (sets.bundles.total(places.astype(float))[sets.rows].sum(axis=1) > 0).all(axis=1)


def _strongest(scene: Scene, sets: Sets, stock: tuple[Outfit, ...]) -> Found | None:
    """Where no set is lawful: the one that comes nearest to half the weight."""
    best = int(sets.sums(sets.bundles.total(sets.bundles.cap_lb)).argmax())
    ties = _dressed(scene, sets.bundles, sets.rows[best], stock)
    return None if ties is None else Found(ties[0], -np.inf, float("nan"), lawful=False)


def _dressed(scene: Scene, bundles: Bundles, row: NDArray[np.intp], stock: tuple[Outfit, ...]):
    """Ties of one set with gear, the strongest for the strongest ends; None where a chain is too short or missing.

    Returns
    -------
    ties, index, working_lb, breaking_lb
    """
    index = [i for b in row for i in bundles.members[b]]
    singles = [bundles.singles[i] for i in index]
    left, chosen = list(stock), {}
    for n in sorted(range(len(index)), key=lambda n: (-min(singles[n].anchor_lb, singles[n].point_lb), n)):
        way = singles[n].length_in
        outfit = next((o for o in left if o.length_in is not None and float(o.length_in) >= way), None)
        if outfit is None:
            return None
        left.remove(outfit)
        chosen[n] = outfit
    uses = [sum(s.point == t.point for s in singles) for t in singles]
    limits = np.array(
        [limits_lb(chosen[n], s.anchor_lb, s.point_lb / uses[n]) for n, s in enumerate(singles)]
    )
    ties = tuple(Tie(s.anchor, s.point, chosen[n].gear, chosen[n].binder) for n, s in enumerate(singles))
    return ties, index, limits[:, 0], limits[:, 1]


def _counts_enough(scene: Scene, working_lb: Array, *, high: bool = False) -> bool:
    """Whether limits count enough, at the stated weight or at the most it may be; an unknown weight asks nothing."""
    weight = scene.columns["secured_weight_lb"]
    if weight is None:
        return True
    needed = float(tiedown.aggregate_needed_lb(weight_lb=weight.high if high else weight.number))
    return bool(float(tiedown.credit(path=0.0)) * working_lb.sum() >= needed * (1 - 1e-9))


def _tried(scene: Scene, sets: Sets, stock: tuple[Outfit, ...], scorer: Scorer | None) -> Found | None:
    """Best first, by bounds that every program solved makes tighter."""
    length = sets.sums(sets.bundles.length_in)
    if scorer is None:
        return _shortest(scene, sets, stock, length)
    wrench = wrenches(sets.bundles, about_in=scorer.about)
    most = np.array(
        [np.max([limits_lb(o, s.anchor_lb, s.point_lb) for o in set(stock)], axis=0) for s in sets.bundles.singles]
    )
    alike = bool((sets.bundles.size == 2).all())
    wanted = [n for n, (_, d) in enumerate(CRITERIA) if scorer.asked[n] > 0 and not (alike and d == 3)]
    bound = np.full((len(sets.rows), len(CRITERIA)), np.inf)

    def tighten(cuts) -> None:
        for cut in cuts:
            limit = most[:, 0 if CRITERIA[cut.criterion][0] == "working" else 1]
            total = sets.sums(sets.bundles.total(cut.of_single(wrench, limit)))
            share = (cut.base + total) / scorer.asked[cut.criterion]
            np.minimum(bound[:, cut.criterion], share, out=bound[:, cut.criterion])

    tighten(c for c in scorer.first_cuts() if c.criterion in wanted)
    open_, best = np.ones(len(sets.rows), bool), None
    while open_.any():
        promise = np.where(open_, np.minimum(bound.min(axis=1), ENOUGH) - PER_INCH * length, -np.inf)
        n = int(promise.argmax())
        if best is not None and promise[n] <= best.worth:
            break
        open_[n] = False
        dressed = _dressed(scene, sets.bundles, sets.rows[n], stock)
        if dressed is None or not _counts_enough(scene, dressed[2]):
            continue
        ties, index, working, breaking = dressed
        floor = -np.inf if best is None else best.worth + PER_INCH * length[n]
        order = sorted(wanted, key=lambda c: bound[n, c])
        share, cuts = scorer.share(wrench[index], working, breaking, order=order, stop_below=floor)
        tighten(cuts)
        if share > floor:
            worth = min(share, ENOUGH) - PER_INCH * length[n]
            best = Found(ties, float(worth), float(share), firm=_counts_enough(scene, working, high=True))
    return best


def _tried_all(scene: Scene, sets: Sets, stock: tuple[Outfit, ...], scorer: Scorer | None) -> Found | None:
    """Every set by all of its programs: what ``_tried`` is held against."""
    length, best = sets.sums(sets.bundles.length_in), None
    if scorer is None:
        return _shortest(scene, sets, stock, length)
    wrench = wrenches(sets.bundles, about_in=scorer.about)
    wanted = [n for n in range(len(CRITERIA)) if scorer.asked[n] > 0]
    for n, row in enumerate(sets.rows):
        dressed = _dressed(scene, sets.bundles, row, stock)
        if dressed is None or not _counts_enough(scene, dressed[2]):
            continue
        ties, index, working, breaking = dressed
        share, _ = scorer.share(wrench[index], working, breaking, order=wanted, stop_below=-np.inf)
        worth = min(share, ENOUGH) - PER_INCH * length[n]
        if best is None or worth > best.worth:
            best = Found(ties, float(worth), float(share), firm=_counts_enough(scene, working, high=True))
    return best


def _shortest(scene: Scene, sets: Sets, stock: tuple[Outfit, ...], length: Array) -> Found | None:
    """The shortest chains, where what is held cannot be reckoned."""
    for n in np.argsort(length, kind="stable"):
        dressed = _dressed(scene, sets.bundles, sets.rows[n], stock)
        if dressed is not None and _counts_enough(scene, dressed[2]):
            firm = _counts_enough(scene, dressed[2], high=True)
            return Found(dressed[0], -PER_INCH * float(length[n]), float("nan"), firm=firm)
    return None

