"""What must hold of every rig: order does not matter, mirrors agree, more never helps, limits are linear."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import CHECKS, raw_inputs
from rubrail.mechanics import balance, suspension, tires, truck

from .rigs import many_rigs

weights = st.floats(10, 50_000)
places = st.floats(20, 600)
LOADS = ("axle_group_load_lb", "coupler_load_lb", "truck_front_load_lb", "truck_rear_load_lb", "combination_gross_lb")


@given(st.lists(st.tuples(weights, places), min_size=1, max_size=6), places, st.randoms())
def test_the_order_of_the_cargo_does_not_matter(items, axle, random):
    shuffled = random.sample(items, len(items))
    one, other = (
        balance.coupler_load_lb(weight_lb=[w for w, _ in order], x_in=[x for _, x in order], axle_group_x_in=axle)
        for order in (items, shuffled)
    )
    scale = sum(w for w, _ in items) * max(1, max(x for _, x in items) / axle)
    assert abs(one - other) <= 1e-9 * scale


@given(st.lists(st.tuples(weights, places), min_size=1, max_size=6), places)
def test_seen_from_the_other_end_coupler_and_axles_change_places(items, axle):
    weight, x = [w for w, _ in items], np.array([x for _, x in items])
    coupler = balance.coupler_load_lb(weight_lb=weight, x_in=x, axle_group_x_in=axle)
    mirrored = balance.axle_group_load_lb(weight_lb=weight, x_in=axle - x, axle_group_x_in=axle)
    assert abs(coupler - mirrored) <= 1e-9 * sum(weight) * max(1, x.max() / axle)


@given(weights, st.floats(-80, 80), st.floats(100, 260))
def test_seen_from_the_other_end_the_trucks_axles_change_places(load, ahead, base):
    front = truck.front_change_lb(vertical_lb=load, ahead_in=ahead, wheelbase_in=base)
    rear = load - truck.front_change_lb(vertical_lb=load, ahead_in=base - ahead, wheelbase_in=base)
    assert front == pytest.approx(rear, rel=1e-9, abs=1e-9 * load)


@given(weights, places, places, st.floats(1, 100))
def test_moving_the_load_back_takes_off_the_coupler(load, x, axle, step):
    here, there = (balance.coupler_load_lb(weight_lb=[load], x_in=[at], axle_group_x_in=axle) for at in (x, x + step))
    assert there < here
    assert here - there == pytest.approx(load * step / axle, rel=1e-6)


@given(weights, weights, st.floats(0, 0.5), places)
def test_a_load_set_for_a_share_gives_that_share(load, empty, share, axle):
    empty_x = 0.8 * axle
    x = balance.load_x_for_share_in(
        share=share, load_lb=load, empty_weight_lb=empty, empty_x_in=empty_x, axle_group_x_in=axle
    )
    got = balance.coupler_share(weight_lb=[empty, load], x_in=[empty_x, x], axle_group_x_in=axle)
    assert got == pytest.approx(share, abs=1e-9)


@given(st.floats(-6, 6), st.floats(500, 10_000), st.floats(120, 400), st.floats(30, 60))
def test_raising_and_lowering_the_nose_are_mirror_images(raised, rate, first, apart):
    up, down = (
        suspension.off_level_shift_lb(
            axle_present=[1, 1],
            axle_x_in=[first, first + apart],
            rate_lb_per_in=rate,
            coupler_raise_in=r,
            independent=1,
        )
        for r in (raised, -raised)
    )
    np.testing.assert_allclose(up, -down, atol=1e-6)
    if raised > 0:
        assert up[1] > 0 > up[0]


@given(st.floats(500, 8_000), st.floats(30, 130), st.floats(0, 160), st.floats(0, 30), st.floats(0.3, 1.0))
def test_more_air_never_carries_less_nor_more_than_the_sidewall(load, most, psi, more, exponent):
    one, other = (
        float(tires.tire_load_lb(max_load_lb=load, max_pressure_psi=most, pressure_psi=p, exponent=exponent))
        for p in (psi, psi + more)
    )
    assert one <= other <= load
    tabulated = tires.tabulated_load_lb(max_load_lb=load, max_pressure_psi=most, pressure_psi=psi, exponent=exponent)
    assert one <= tabulated * (1 + 1e-12)


def changed(rigs, **changes):
    return Evaluation(rigs.with_values({**changes}))


@pytest.mark.parametrize("name", LOADS)
def test_loads_are_linear_in_weight_and_in_place(name):
    rigs = many_rigs(np.random.default_rng(7), 500)
    for column, step in (("item_weight_lb", 1_000.0), ("item_front_x_in", 20.0)):
        at = [changed(rigs, **{column: rigs[column] + k * step}).value(name) for k in range(3)]
        scale = 1 + np.abs(at).max(axis=0)
        assert (np.abs(at[0] - 2 * at[1] + at[2]) / scale).max() < 1e-9


def test_weight_added_between_coupling_and_axles_never_lightens_trailer_or_coupler():
    rigs = many_rigs(np.random.default_rng(8), 2_000)
    place = Evaluation(rigs).value("item_x_in")
    between = (place > 0) & (place < Evaluation(rigs).value("axle_group_x_in"))
    heavier = changed(rigs, item_weight_lb=rigs["item_weight_lb"] + np.where(between, 500.0, 0.0))
    for name in ("trailer_gross_lb", "axle_group_load_lb", "axle_load_lb", "coupler_load_lb"):
        assert (heavier.value(name) >= Evaluation(rigs).value(name) - 1e-9).all(), name


@pytest.mark.parametrize("name", [n for n, c in CHECKS.items() if c.affine])
def test_a_check_called_affine_is(name):
    """Its margin is a straight line in the weight of a piece and in its place: envelope and placement rest on it."""
    check = CHECKS[name]
    rigs = many_rigs(np.random.default_rng(9), 60)
    rng = np.random.default_rng(10)
    for column in raw_inputs(check.inputs):
        if column not in rigs:
            rigs = rigs.with_values({column: stand_in(column, rng, 60)})
    for column, step in (("item_weight_lb", 1_000.0), ("item_front_x_in", 20.0)):
        margins = []
        for k in range(3):
            values = rigs[column].copy()
            values[0] += k * step
            demand, limit = Evaluation(rigs.with_values({column: values})).check(name)
            with np.errstate(invalid="ignore"):
                margins.append(limit - demand)
        with np.errstate(invalid="ignore"):
            bend = margins[0] - 2 * margins[1] + margins[2]
        finite = np.isfinite(bend)
        assert (np.abs(bend[finite]) <= 1e-6 * (1 + np.abs(margins[1][finite]))).all(), column


def stand_in(column, rng, count):
    """Any plausible value of a column the random rigs leave out."""
    from rubrail.things.names import CODES, COLUMNS, unit_of

    from .rigs import AXLES, GEAR, ITEMS

    c = COLUMNS[column]
    lead = {"axle": AXLES, "item": ITEMS, "gear": GEAR}.get(c.per)
    shape = (lead, count, 1, 1) if lead else (count, 1, 1)
    if c.codes:
        return rng.integers(0, len(CODES[c.codes]), shape).astype(float)
    low, high = {"lb": (1_000, 30_000), "in": (20, 400), "psi": (40, 110)}.get(unit_of(column), (0, 2))
    values = rng.uniform(low, high, shape)
    return values if unit_of(column) else np.floor(values)
