"""Placement is never beaten: not by a one-inch grid, not by a linear program that may open the gaps."""

import itertools

import numpy as np
import pytest
from scipy.optimize import linprog

from rubrail.answers.placing import affine_rows, at_places, best_places
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.judge import judge
from rubrail.checks.rows import rows_of
from rubrail.things.columns import Columns

from .rigs import columns, random_columns


def trains(rig: Columns, gap_in: float = 12.0) -> tuple[Columns, np.ndarray]:
    """The rig's pieces in every order, closed up, on the position axis."""
    length = rig["item_length_in"][:, 0, 0, 0]
    orders = list(itertools.permutations(range(len(length))))
    offsets = np.zeros((len(length), 1, len(orders), 1))
    for p, order in enumerate(orders):
        at = 0.0
        for i in order:
            offsets[i, 0, p, 0] = at
            at += length[i] + gap_in
    return rig, offsets


def worst_share(rig: Columns, kinds=("rating", "law")) -> float:
    """Least relative margin among limits in pounds; what does not fit on the deck counts as -10."""
    rows = rows_of(rig)
    share = rows.relative[rows.of_kind(*kinds), 0, 0]
    fits = rows.margin[rows.of_kind("fit"), 0, 0].min() >= -1e-6
    return float(share.min()) if fits else -10.0


@pytest.mark.parametrize("seed", range(200))
def test_no_one_inch_grid_beats_it(seed):
    rng = np.random.default_rng(seed)
    rig, offsets = trains(random_columns(rng, pieces=int(rng.integers(1, 4))))
    places = best_places(rig, offsets_in=offsets)
    placed = at_places(rig, places, offsets_in=offsets)
    rows, at_zero, slope = affine_rows(rig, offsets_in=offsets)
    counted = rows.of_kind("rating", "law", "guidance") if places.possible[0] else rows.of_kind("rating", "law")
    fit, must = rows.of_kind("fit"), rows.of_kind("rating", "law", "fit")
    found = places.share[0]
    for p in range(offsets.shape[2]):
        for shift in np.arange(0.0, 320.0, 1.0):
            value = at_zero[:, 0, p] + slope[:, 0, p] * shift
            keeps = value[must if places.possible[0] else fit].min(initial=np.inf) >= 0
            if keeps:
                assert value[counted].min(initial=np.inf) <= found + 1e-9
    if places.possible[0]:
        assert judge(placed, tolerances=False).rows.margin[must, 0, 0].min() >= -1e-6 or not_place_bound(placed, must)


def not_place_bound(placed: Columns, must) -> bool:
    """Whether what fails does not depend on place at all."""
    here = rows_of(placed)
    there = rows_of(placed.with_values({"item_front_x_in": placed["item_front_x_in"] + 7.0}))
    failing = must & (here.margin[:, 0, 0] < -1e-6)
    return bool(np.allclose(here.margin[failing], there.margin[failing]))


@pytest.mark.parametrize("seed", range(40))
def test_opening_the_gaps_gains_nothing(seed):
    """A linear program over every piece's own place, coefficients from the checks themselves."""
    rng = np.random.default_rng(1_000 + seed)
    rig, offsets = trains(random_columns(rng, pieces=2))
    places = best_places(rig, offsets_in=offsets)
    if not places.possible[0]:
        pytest.skip("no place holds every rating: nothing to compare")
    rows = rows_of(rig.with_values({"item_front_x_in": np.zeros((2, 1, 1, 1))}))
    scale = np.where(np.isfinite(rows.scale) & (rows.scale > 0), rows.scale, 1.0)[:, 0, 0]
    base = rows.margin[:, 0, 0] / scale
    moved = [rows_of(rig.with_values({"item_front_x_in": _unit(i)})).margin[:, 0, 0] / scale for i in range(2)]
    with np.errstate(invalid="ignore"):
        per_piece = (np.stack(moved, axis=1) - base[:, None]) / 100.0
    apart = np.array([r.check.id == "pieces-apart" for r in rows.rows])
    usable = np.isfinite(base) & np.isfinite(per_piece).all(axis=1) & (np.abs(per_piece) > 1e-12).any(axis=1) & ~apart
    goal = usable & rows.of_kind("rating", "law", "guidance")
    hard = usable & rows.of_kind("rating", "law", "fit")
    length = rig["item_length_in"][:, 0, 0, 0]
    best = -np.inf
    for first, second in ((0, 1), (1, 0)):
        order = np.zeros(3)
        order[first], order[second] = 1.0, -1.0
        a = np.vstack(
            [
                np.column_stack([-per_piece[goal], np.ones(goal.sum())]),
                np.column_stack([-per_piece[hard], np.zeros(hard.sum())]),
                order,
            ]
        )
        b = np.concatenate([base[goal], base[hard], [-length[first] - 12.0]])
        lp = linprog(c=[0, 0, -1], A_ub=a, b_ub=b, bounds=[(None, None)] * 3)
        if lp.status == 0:
            best = max(best, -lp.fun)
    assert places.share[0] == pytest.approx(best, abs=1e-7)


def _unit(piece: int) -> np.ndarray:
    x = np.zeros((2, 1, 1, 1))
    x[piece] = 100.0
    return x


def test_many_units_at_once_equal_each_alone():
    rng = np.random.default_rng(3)
    rigs = [random_columns(rng) for _ in range(12)]
    names = rigs[0].values
    together = Columns({n: np.concatenate([r[n] for r in rigs], axis=-3) for n in names})
    offsets = np.zeros((1, 1, 1, 1))
    places = best_places(together, offsets_in=offsets)
    for u, rig in enumerate(rigs):
        alone = best_places(rig, offsets_in=offsets)
        assert places.shift_in[u] == alone.shift_in[0]
        assert places.share[u] == alone.share[0]


def test_cargo_that_fits_no_deck_is_not_possible():
    rig = columns(item_length_in=[900.0], item_contact_rear_in=[880.0])
    assert not best_places(rig, offsets_in=np.zeros((1, 1, 1, 1))).possible[0]
