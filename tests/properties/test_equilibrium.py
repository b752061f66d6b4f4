"""Forces and moments of trailer and truck balance, on 10,000 random rigs, reckoned again from the raw columns."""

from __future__ import annotations

import numpy as np
import pytest

from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.engine import Evaluation
from rubrail.things.columns import Columns

from .rigs import many_rigs

CLOSE = 1e-9


@pytest.fixture(scope="module")
def rigs() -> Columns:
    return many_rigs(np.random.default_rng(20_260), 10_000)


@pytest.fixture(scope="module")
def loads(rigs) -> Evaluation:
    return Evaluation(rigs)


def weights(rigs):
    """Weight, moment about the coupling, and axle places, from the raw columns alone."""
    item = np.nan_to_num(rigs["item_weight_lb"])
    place = np.nan_to_num(rigs["item_front_x_in"] + rigs["item_cg_in"])
    axle = np.nan_to_num(rigs["axle_x_in"])
    group = axle.sum(0) / rigs["axle_present"].sum(0)
    empty = rigs["trailer_empty_weight_lb"]
    moment = (empty - rigs["trailer_empty_coupler_lb"]) * group + (item * place).sum(0)
    return empty + item.sum(0), moment, axle, group


def test_the_rigs_are_of_every_kind(rigs):
    for name in ("suspension_kind", "weight_distribution"):
        assert 1_000 < (rigs[name] == 1).sum() < 9_000
    assert set(np.unique(rigs["axle_present"].sum(0))) == {1, 2, 3, 4}
    assert set(np.unique(rigs["item_present"].sum(0))) == {0, 1, 2, 3}


def test_nothing_absent_or_unused_makes_a_load_unknown(loads):
    for name in ("axle_load_lb", "coupler_load_lb", "truck_front_load_lb", "truck_rear_load_lb"):
        assert np.isfinite(loads.value(name)).all()


def test_forces_on_the_trailer_balance(rigs, loads):
    gross, *_ = weights(rigs)
    on_hitch = loads.value("coupler_load_lb") - loads.value("distribution_return_lb")
    left = loads.value("axle_load_lb").sum(0) + on_hitch - gross
    assert np.abs(left / gross).max() < CLOSE


def test_moments_on_the_trailer_balance_about_the_coupling(rigs, loads):
    gross, moment, axle, group = weights(rigs)
    couple = loads.value("distribution_return_lb") * group
    left = (loads.value("axle_load_lb") * axle).sum(0) - moment - couple
    assert np.abs(left / (gross * group)).max() < CLOSE


def test_forces_on_the_truck_balance(rigs, loads):
    on_hitch = loads.value("coupler_load_lb") - loads.value("distribution_return_lb")
    down = rigs["truck_front_axle_lb"] + rigs["truck_rear_axle_lb"] + rigs["gear_weight_lb"].sum(0) + on_hitch
    left = loads.value("truck_front_load_lb") + loads.value("truck_rear_load_lb") - down
    assert np.abs(left / down).max() < CLOSE


def test_moments_on_the_truck_balance_about_its_front_axle(rigs, loads):
    *_, group = weights(rigs)
    base = rigs["truck_wheelbase_in"]
    back = loads.value("distribution_return_lb")
    gear = (rigs["gear_weight_lb"] * np.nan_to_num(rigs["gear_x_in"])).sum(0)
    down = rigs["truck_rear_axle_lb"] * base + gear
    down = down + (loads.value("coupler_load_lb") - back) * (base - rigs["hitch_ahead_in"]) - back * group
    left = loads.value("truck_rear_load_lb") * base - down
    scale = (rigs["truck_front_axle_lb"] + rigs["truck_rear_axle_lb"]) * base + np.abs(down)
    assert np.abs(left / scale).max() < CLOSE


def test_spring_bars_give_back_the_share_asked_for(rigs, loads):
    used = rigs["weight_distribution"] == 1
    lost_plain = (loads.value("coupler_load_lb") * rigs["hitch_ahead_in"] / rigs["truck_wheelbase_in"])[used]
    lost = (loads.value("truck_front_load_lb") - loads.value("truck_front_empty_lb"))[used]
    share = rigs["front_restoration"][used]
    np.testing.assert_allclose(lost, (1 - share) * lost_plain, rtol=1e-9, atol=1e-6)


def test_independent_axles_deflect_as_one_rigid_body_held_at_the_coupling(rigs, loads):
    """Added load over rate is a straight line along the trailer that meets the coupling at the raise, turned round."""
    shift, present = loads.value("off_level_lb"), rigs["axle_present"] == 1
    independent = (rigs["suspension_kind"] == 1) & (rigs["axle_present"].sum(0) > 1)
    sink = np.where(present, shift / rigs["suspension_rate_lb_per_in"], np.nan)
    x = rigs["axle_x_in"]
    slope = (sink[1] - sink[0]) / (x[1] - x[0])
    at_coupling = (sink[0] - slope * x[0])[independent]
    np.testing.assert_allclose(at_coupling, -loads.value("coupler_raise_in")[independent], atol=1e-7)
    third = independent & present[2]
    np.testing.assert_allclose(sink[2][third], (sink[0] + slope * (x[2] - x[0]))[third], atol=1e-7)
    np.testing.assert_allclose(slope[independent], loads.value("trim_rad")[independent], atol=1e-9)
    assert np.abs(shift[:, independent]).max() > 100


def test_equalized_axles_share_evenly_at_any_trim(rigs, loads):
    equalized = rigs["suspension_kind"] == 0
    load, present = loads.value("axle_load_lb"), rigs["axle_present"] == 1
    even = loads.value("axle_group_load_lb") / rigs["axle_present"].sum(0)
    np.testing.assert_allclose(load[present & equalized], np.broadcast_to(even, load.shape)[present & equalized])
