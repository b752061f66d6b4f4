"""What holds the trailer: by hand, against trying every set of supports, and in equilibrium always."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.mechanics.climb_hitch import coupler_rise_in, lift_off_lb, truck_axles_lb
from rubrail.mechanics.climb_supports import FIRM_LB_PER_IN, Holding, Trailer, held

A = np.asarray


def trailer(*, weight=3_800.0, coupler=500.0, axles=(190.0,), rate=2_000.0, independent=0.0) -> Trailer:
    return Trailer(
        A(weight), A(coupler), A(30.0), np.ones(len(axles)), A(axles, float), A(rate), A(float(independent))
    )


def holding(*, hitched=1.0, rate=1_500.0, lift=-1e9, stand=250.0, gap=np.inf, rear=250.0, edge=24.0) -> Holding:
    return Holding(*(A(v) for v in (hitched, rate, lift, stand, gap, rear, edge)))


def on(t, h, *, weight, x, ground=0.0):
    return held(t, h, down_lb=weight, moment_lb_in=A(weight) * x, ground_rad=ground)


def test_coupler_lifts_off_by_hand():
    """mechanics: 3,800-lb trailer, center 25 in ahead of the axle, machine 60 in behind: off at 1,583 lb."""
    t, h = trailer(), holding()
    assert on(t, h, weight=1_583.33, x=250.0).coupler_lb == pytest.approx(0.0, abs=0.1)
    assert on(t, h, weight=9_200, x=250.0).coupler_lb == pytest.approx(-2_405, abs=1)


def test_stand_with_a_gap_lets_the_coupler_rise_by_hand():
    """trade, rule 14: a 2-in gap under the stands of a tag lets the coupler rise 4.4 in."""
    assert coupler_rise_in(gap_in=2, axle_group_x_in=202, stand_x_in=294) == pytest.approx(4.4, abs=0.02)
    # Unhitched, the weight over the stand tips the trailer onto it.
    t = trailer(weight=3_550, coupler=422, axles=(185.0, 219.0), rate=1e6)
    h = holding(hitched=0.0, stand=294.0, gap=2.0, rear=294.0)
    r = on(t, h, weight=9_000, x=294.0)
    assert r.coupler_rise_in == pytest.approx(4.4, abs=0.05)
    assert r.lifted
    assert r.coupler_lb == 0
    assert r.stand_lb + r.axle_lb.sum() == pytest.approx(12_550)


def test_truck_under_a_coupler_load_by_hand():
    """mechanics: 5,000 lb 4 in ahead, wheelbase 172: +116.3 and +4,883.7; lift where the rear is nothing."""
    front, rear = truck_axles_lb(front_lb=0, rear_lb=0, coupler_lb=5_000, hitch_ahead_in=4, wheelbase_in=172)
    assert (float(front), float(rear)) == pytest.approx((116.28, 4_883.72), abs=0.01)
    off = lift_off_lb(rear_lb=3_150, hitch_ahead_in=-58, wheelbase_in=160)
    _, rear = truck_axles_lb(front_lb=4_600, rear_lb=3_150, coupler_lb=off, hitch_ahead_in=-58, wheelbase_in=160)
    assert rear == pytest.approx(0.0, abs=1e-9)
    assert off == pytest.approx(-3_150 / (1 + 58 / 160))


SYSTEMS = {
    "weight": st.floats(1_500, 9_000), "share": st.floats(0.02, 0.3), "load": st.floats(0, 25_000),
    "x": st.floats(60, 388), "rate": st.floats(1_000, 6_000), "coupler_rate": st.floats(500, 5_000),
    "independent": st.sampled_from([0.0, 1.0]), "hitched": st.sampled_from([0.0, 1.0]),
    "lift": st.floats(-9_000, -500), "gap": st.sampled_from([np.inf, 0.0, 0.5, 2.0, 6.0]),
    "stand": st.floats(230, 380), "edge": st.floats(8, 36), "count": st.sampled_from([1, 2, 3]),
}  # fmt: skip


def _system(weight, share, rate, coupler_rate, independent, hitched, lift, gap, stand, edge, count, **_):
    axles = tuple(190.0 + 34.0 * k for k in range(count))
    t = trailer(weight=weight, coupler=weight * share, axles=axles, rate=rate, independent=independent)
    h = holding(hitched=hitched, rate=coupler_rate, lift=lift, stand=stand, gap=gap, rear=390.0, edge=edge)
    return t, h, axles


@given(**SYSTEMS)
def test_reactions_balance_and_only_push(load, x, **given_):
    t, h, axles = _system(**given_)
    r = on(t, h, weight=load, x=x)
    total = float(t.weight_lb) + load
    assert r.coupler_lb + r.axle_lb.sum() + r.stand_lb + r.edge_lb == pytest.approx(total, rel=1e-7)
    moment = (r.axle_lb * A(axles)).sum() + r.stand_lb * h.stand_x_in + r.edge_lb * h.rear_x_in
    middle = float(np.mean(axles))
    assert moment == pytest.approx((float(t.weight_lb) - float(t.coupler_lb)) * middle + load * x, rel=1e-7, abs=1)
    assert (r.axle_lb >= 0).all()
    assert r.stand_lb >= 0
    assert r.edge_lb >= 0
    assert r.coupler_lb >= (h.lift_lb if h.hitched > 0 else 0) - 1e-6


@given(**SYSTEMS)
def test_against_trying_every_set_of_supports(load, x, **given_):
    """Linear equations for each set of supports that may follow; the set that agrees with itself is the answer."""
    t, h, axles = _system(**given_)
    n, middle = len(axles), float(np.mean(axles))
    least = float(h.lift_lb) if h.hitched > 0 else 0.0
    rows = [(0.0, float(h.coupler_rate_lb_per_in) if h.hitched > 0 else FIRM_LB_PER_IN, float(t.coupler_lb), least)]
    rest = float(t.weight_lb - t.coupler_lb)
    k = float(t.axle_rate_lb_per_in)
    if t.independent > 0:
        rows += [(a, k, rest / n, 0.0) for a in axles]
    else:
        rows.append((middle, n * k, rest, 0.0))
    if np.isfinite(h.stand_gap_in):
        rows.append((float(h.stand_x_in), FIRM_LB_PER_IN, -FIRM_LB_PER_IN * float(h.stand_gap_in), 0.0))
    rows.append((float(h.rear_x_in), FIRM_LB_PER_IN, -FIRM_LB_PER_IN * float(h.rear_height_in), 0.0))
    total = float(t.weight_lb) + load
    moment = rest * middle + load * x
    answers = []
    for follow in product((0, 1), repeat=len(rows)):
        a, b = np.zeros((2, 2)), np.array([total, moment])
        for (at, rate, at_rest, low), f in zip(rows, follow, strict=True):
            one = np.array([1.0, at])
            a += f * rate * np.outer(one, one)
            b -= (at_rest if f else low) * one
        if abs(np.linalg.det(a)) < 1e-6 * max(a[0, 0] * a[1, 1], 1e-9):
            continue
        y = np.linalg.solve(a, b)
        pushes = [at_rest + rate * (y[0] + y[1] * at) for at, rate, at_rest, _ in rows]
        good = all((p >= low - 1e-4) if f else (p <= low + 1e-4)
                   for p, f, (_, _, _, low) in zip(pushes, follow, rows, strict=True))  # fmt: skip
        if good:
            answers.append([max(p, low) for p, (_, _, _, low) in zip(pushes, rows, strict=True)])
    r = on(t, h, weight=load, x=x)
    assert answers
    got = [float(r.coupler_lb), float(r.axle_lb.sum()), float(r.stand_lb), float(r.edge_lb)]
    want = [[w[0], sum(w[1:-1] if np.isinf(h.stand_gap_in) else w[1:-2]),
             0.0 if np.isinf(h.stand_gap_in) else w[-2], w[-1]] for w in answers]  # fmt: skip
    assert min(np.abs(np.array(w) - got).max() for w in want) < 1e-3 * total


def test_arrays_cell_by_cell():
    t, h = trailer(independent=1.0, axles=(180.0, 214.0)), holding(lift=-2_000.0, gap=1.0)
    weights = np.linspace(0, 12_000, 7)
    together = on(t, h, weight=weights, x=260.0)
    for i, w in enumerate(weights):
        alone = on(t, h, weight=w, x=260.0)
        assert together.coupler_lb[i] == pytest.approx(float(alone.coupler_lb), abs=1e-6)
        assert together.axle_lb[:, i] == pytest.approx(alone.axle_lb, abs=1e-6)


def test_unknown_stays_unknown():
    for name in ("weight_lb", "coupler_lb"):
        t = trailer()
        t = Trailer(**{**t.__dict__, name: A(np.nan)})
        assert np.isnan(on(t, holding(), weight=1_000, x=250.0).coupler_lb)
    assert np.isnan(on(trailer(), holding(gap=np.nan), weight=9_000, x=250.0).stand_lb)
