"""The envelope against bisection by weighing, and its breakpoints against dense sampling."""

import itertools

import numpy as np
import pytest

from rubrail.answers.envelope import envelope_of, fan_of, greatest_anywhere, greatest_at, point_cargo, segments
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.rows import rows_of

from .rigs import columns, random_columns

SEEDS = range(40)


def holds(rig, fan, weight, x) -> np.ndarray:
    """At which places every limit of the fan holds, by weighing the cargo as a point."""
    checks = {r.check.id: r.check for r in fan.rows}.values()
    rows = rows_of(point_cargo(rig, weight_lb=weight[None], x_in=x[None]), checks)
    assert rows.rows == fan.rows
    margin = np.broadcast_to(rows.margin, (len(rows.rows), 1, len(x)))[:, 0]
    return (np.isnan(margin) | (margin >= 0)).all(axis=0)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_envelope_is_what_bisection_by_weighing_finds(seed):
    rng = np.random.default_rng(seed)
    rig = random_columns(rng)
    fan = fan_of(rig, trailer_only=False)
    x = rng.uniform(60, 280, 4)
    weight = greatest_at(fan, x[None])[0][0]
    low, high = np.zeros(4), np.full(4, 60_000.0)
    carries = holds(rig, fan, low, x)
    for _ in range(60):
        middle = (low + high) / 2
        held = holds(rig, fan, middle, x)
        low, high = np.where(held, middle, low), np.where(held, high, middle)
    assert (weight[~carries] == 0.0).all()
    assert weight[carries] == pytest.approx(low[carries], rel=1e-7, abs=1e-4)


@pytest.mark.parametrize("seed", SEEDS)
def test_segments_join_and_say_the_same_as_the_fan(seed):
    rig = random_columns(np.random.default_rng(seed))
    fan = fan_of(rig, trailer_only=False)
    parts = segments(fan, unit=0, low_in=54.0, high_in=270.0)
    assert parts[0].from_x_in == 54.0
    assert parts[-1].to_x_in == 270.0
    for a, b in itertools.pairwise(parts):
        assert a.to_x_in == b.from_x_in
        assert a.to_weight_lb == pytest.approx(b.from_weight_lb, rel=1e-9)
        assert (a.check, a.member) != (b.check, b.member)
    for s in parts:
        xs = np.linspace(s.from_x_in, s.to_x_in, 7)
        weight, _ = greatest_at(fan, xs[None])
        for x, w in zip(xs, weight[0], strict=True):
            assert w == pytest.approx(0.0 if np.isposinf(s.inverse_at_zero) else s.weight_lb(x), rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_sampled_place_carries_more_than_the_best_place(seed):
    rig = random_columns(np.random.default_rng(seed))
    fan = fan_of(rig, trailer_only=True)
    x, best = greatest_anywhere(fan, low_in=np.array([60.0]), high_in=np.array([270.0]))
    sampled, _ = greatest_at(fan, np.linspace(60, 270, 2_000)[None])
    assert sampled.max() <= best[0] * (1 + 1e-9)
    here, _ = greatest_at(fan, x[None])
    assert here[0, 0] == pytest.approx(best[0], rel=1e-9)


def test_the_landscapers_label_governs_in_a_narrow_stretch():
    # By hand, trade notes S1, unit B: label payload 15,400 - 3,550 = 11,850; tires 4 x 3,420 = 13,680 on the axles.
    # Empty axles carry 3,550 - 422 = 3,128; 11,850 lb at x puts 11,850 x / 202 more: at most 10,552, x = 179.87 in.
    fan = fan_of(columns(), trailer_only=True)
    label = [s for s in segments(fan, unit=0, low_in=54.0, high_in=270.0) if s.check == "trailer-gross"]
    assert len(label) == 1
    assert label[0].from_weight_lb == pytest.approx(11_850)
    assert label[0].to_weight_lb == pytest.approx(11_850)
    assert label[0].to_x_in == pytest.approx((13_680 - 3_128) * 202 / 11_850)
    # The coupler takes 2,500: 422 + 11,850 (1 - x / 202) <= 2,500.
    assert label[0].from_x_in == pytest.approx(202 * (1 - (2_500 - 422) / 11_850))


def test_where_the_label_and_another_allow_the_same_the_label_is_named():
    # A coupler rated for just what the label says: 15,400 - 3,550 on both, all along the flat stretch.
    fan = fan_of(columns(coupler_gross_rating_lb=15_400), trailer_only=True)
    level = [s for s in segments(fan, unit=0, low_in=54.0, high_in=270.0) if s.inverse_per_in == 0]
    assert [(s.check, s.also) for s in level] == [("trailer-gross", ("coupler against the loaded trailer",))]
    apart = fan_of(columns(coupler_gross_rating_lb=15_401), trailer_only=True)
    assert all(s.also == () for s in segments(apart, unit=0, low_in=54.0, high_in=270.0) if s.inverse_per_in == 0)


def test_a_fan_read_before_gives_the_same_envelope():
    rig = columns()
    fan = fan_of(rig, trailer_only=True)
    assert envelope_of(rig, trailer="B", with_truck=True, fan=fan) == envelope_of(rig, trailer="B", with_truck=True)


def test_axles_that_allow_alike_are_named_together():
    # Tires of both axles carry 2 x 3,420, and each axle bears half: behind the label both allow the same.
    last = segments(fan_of(columns(), trailer_only=True), unit=0, low_in=54.0, high_in=270.0)[-1]
    assert (last.check, last.member) == ("axle-tires", None)
    weaker = fan_of(columns(axle_tire_max_load_lb=[3_420, 3_400]), trailer_only=True)
    assert segments(weaker, unit=0, low_in=54.0, high_in=270.0)[-1].member == 1
