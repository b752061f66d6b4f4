"""What tie-downs hold: the linear program against every vertex, mirror images, more chains, bounds that are bounds."""

from __future__ import annotations

from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from answers.tied import chain, machine, ring, scene, trailer
from rubrail.answers.secure_bundles import bundles_of, wrenches
from rubrail.answers.secure_columns import columns_of
from rubrail.answers.secure_judge import held_of
from rubrail.answers.secure_parts import Plan
from rubrail.answers.secure_score import CRITERIA, Scorer
from rubrail.answers.secure_search import _best, best_direct
from rubrail.checks.engine import Evaluation
from rubrail.mechanics import lashing
from rubrail.mechanics.lashing_lp import MOST_G, UP, balance, held

SEEDS = st.integers(0, 2**32 - 1)
CENTER = np.array([200.0, 0.0, 60.0])


def random_plan(seed: int, count: int) -> dict:
    rng = np.random.default_rng(seed)
    point = rng.uniform([150, -30, 34], [250, 30, 80], (count, 3))
    anchor = rng.uniform([90, -50, 26], [310, 50, 30], (count, 3))
    pull = lashing.pulls(path=np.zeros(count), anchor_in=anchor, point_in=point, far_in=anchor, about_in=CENTER)
    ring_in = lashing.ring_in(front_x_in=160, rear_x_in=240, width_in=70, height_in=30)
    return {
        "pull": pull, "least_lb": np.zeros(count), "most_lb": rng.uniform(2000, 9000, count), "contact_in": ring_in,
        "about_in": CENTER, "weight_lb": float(rng.uniform(5000, 30000)), "friction": float(rng.uniform(0.1, 0.6)),
    }  # fmt: skip


def by_vertices(plan: dict, direction: int, facets: int) -> float:
    """Greatest acceleration over every basic solution of the same balances."""
    matrix = balance(
        pull=plan["pull"], contact_in=plan["contact_in"], about_in=plan["about_in"], friction=plan["friction"],
        facets=facets,
    )  # fmt: skip
    matrix[:3, 0] = lashing.TOWARD[direction]
    right = np.array([0, 0, 0.0 if direction == UP else 1.0, 0, 0, 0])
    ties = len(plan["most_lb"])
    upper = np.full(matrix.shape[1], np.inf)
    upper[0], upper[1 : 1 + ties] = MOST_G, plan["most_lb"] / plan["weight_lb"]
    bounded = [n for n in range(matrix.shape[1]) if np.isfinite(upper[n])]
    best = -np.inf
    bases = list(combinations(range(matrix.shape[1]), 6))
    squares = np.moveaxis(matrix[:, bases], 0, 1)
    for k in np.flatnonzero(np.abs(np.linalg.det(squares)) >= 1e-9):
        basis, square = bases[k], squares[k]
        rest = [n for n in bounded if n not in basis]
        # Those outside the basis stand at nothing or at their top, in every mixture.
        at_top = np.array(list(product((0.0, 1.0), repeat=len(rest)))).T
        solved = np.linalg.solve(square, right[:, None] - matrix[:, rest] @ (upper[rest][:, None] * at_top))
        good = (solved >= -1e-9).all(axis=0) & (solved <= upper[list(basis)][:, None] + 1e-9).all(axis=0)
        value = solved[basis.index(0)] if 0 in basis else upper[0] * at_top[rest.index(0)]
        best = max(best, value[good].max(initial=-np.inf))
    return best


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("direction", range(5))
def test_the_program_is_the_best_of_all_vertices(seed, direction):
    plan = random_plan(seed, 2)
    plan["contact_in"] = plan["contact_in"][:3]
    found = held(**plan, directions=(direction,), facets=4)[0]
    assert found.g == pytest.approx(max(by_vertices(plan, direction, 4), 0.0), abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(SEEDS)
def test_its_tensions_keep_the_balance_and_their_limits(seed):
    plan = random_plan(seed, 5)
    for direction, found in enumerate(held(**plan)):
        assert (found.tension_lb >= -1e-6).all()
        assert (found.tension_lb <= plan["most_lb"] + 1e-6).all()
        # Tension, gravity and inertia leave a force that the deck can give: it pushes, within its friction.
        force = found.tension_lb @ plan["pull"][:, :3] + plan["weight_lb"] * found.g * lashing.TOWARD[direction]
        force[2] -= 0.0 if direction == UP else plan["weight_lb"]
        assert force[2] <= 1e-3
        assert np.hypot(*force[:2]) <= plan["friction"] * -force[2] + 1e-3


@settings(max_examples=25, deadline=None)
@given(SEEDS)
def test_one_more_chain_or_more_friction_never_holds_less(seed):
    plan = random_plan(seed, 5)
    few = {**plan, "pull": plan["pull"][:4], "least_lb": plan["least_lb"][:4], "most_lb": plan["most_lb"][:4]}
    for less, more in zip(held(**few), held(**plan), strict=True):
        assert more.g >= less.g - 1e-7
    for less, more in zip(held(**few), held(**{**few, "friction": few["friction"] + 0.1}), strict=True):
        assert more.g >= less.g - 1e-7


@settings(max_examples=25, deadline=None)
@given(SEEDS)
def test_a_mirrored_plan_holds_the_same_mirrored(seed):
    plan = random_plan(seed, 4)
    # Forces across and moments about the two other axes change sign in a mirror.
    mirrored = {**plan, "pull": plan["pull"] * np.array([1, -1, 1, -1, 1, -1])}
    one, other = ([h.g for h in held(**p)] for p in (plan, mirrored))
    assert other == pytest.approx([one[0], one[1], one[3], one[2], one[4]], abs=1e-6)


@settings(max_examples=20, deadline=None)
@given(SEEDS)
def test_prices_of_one_plan_bound_every_other(seed):
    s = scene(piece=machine(cg_height_in=20 + seed % 60))
    scorer = Scorer(s)
    bundles = bundles_of(s, best_lb=6600, reach_in=240)
    wrench, rng = wrenches(bundles, about_in=scorer.about), np.random.default_rng(seed)
    limit = np.full(len(wrench), 6600.0)
    one, other = (rng.choice(len(wrench), 4, replace=False) for _ in range(2))
    for criterion, (_, direction) in enumerate(CRITERIA):
        if scorer.asked[criterion] == 0:
            continue
        _, cut = scorer.held(criterion, wrench[one], limit[one])
        value, _ = scorer.held(criterion, wrench[other], limit[other])
        assert value <= cut.base + cut.of_single(wrench, limit)[other].sum() + 1e-6, direction
        first = next(c for c in scorer.first_cuts() if c.criterion == criterion)
        assert value <= first.base + first.of_single(wrench, limit)[other].sum() + 1e-6


@settings(max_examples=12, deadline=None)
@given(SEEDS)
def test_the_search_finds_what_trying_everything_finds(seed):
    rng = np.random.default_rng(seed)
    rings = [ring(float(x), wll=float(rng.choice([5000, 6600, 8000]))) for x in sorted(rng.uniform(70, 350, 5))]
    piece, at = machine(weight_lb=float(rng.uniform(10000, 24000))), float(rng.uniform(100, 200))
    s = scene(on=trailer(anchors=rings), piece=piece, at=at)
    way = {"rated": True, "outward": False}
    fast, plain = (_best(s, s.stock, way, lean=False, plain=p) for p in (False, True))
    assert (fast is None) == (plain is None)
    if fast is not None:
        assert (fast.holds, fast.lawful) == (plain.holds, plain.lawful)
        assert fast.worth == pytest.approx(plain.worth, abs=1e-7)


@settings(max_examples=15, deadline=None)
@given(SEEDS)
def test_more_tie_downs_never_hold_less_in_a_plan(seed):
    s, rng = scene(), np.random.default_rng(seed)
    keys = list(s.anchors)
    ties = [
        chain(str(a), str(p))
        for a, p in zip(rng.choice(keys, 5, replace=False), rng.choice(["1L", "1R", "2L", "2R"], 5), strict=True)
    ]
    few, more = (held_of(Evaluation(columns_of(s, Plan(tuple(t))))) for t in (ties[:4], ties))
    for less, much in zip(few, more, strict=True):
        assert much.breaking_held_g >= less.breaking_held_g - 1e-6


def test_the_best_found_is_lawful_where_one_exists():
    s = scene()
    found = best_direct(s, s.stock)
    assert found is not None
    assert found.holds
