"""Every group of a rig's axles, vectorized, against a plain loop over one rig at a time."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
from hypothesis import example, given, settings
from hypothesis import strategies as st

from rubrail.checks import axle_groups as groups


def limit_by_hand(places, first, last):
    """What the law allows axles ``first`` to ``last``, places in tenths of an inch; none for close ones."""
    span = Fraction(places[last] - places[first], 10)
    n = last - first + 1
    if first >= 2 and span <= 96:
        return math.inf
    if span <= 40:
        return 20_000
    if span <= 96:
        return 34_000
    feet = span / 12
    length = 8 if feet < 9 else math.floor(feet + Fraction(1, 2))
    weight = 500 * math.ceil(Fraction(length * n, n - 1) + 12 * n + 36 - Fraction(1, 2))
    if n == 2:
        return min(weight, 40_000)
    tandem = [40 < Fraction(places[b] - places[a], 10) <= 96 for a, b in ((first, first + 1), (last - 1, last))]
    return max(weight, 68_000) if n == 4 and all(tandem) and span >= 432 else weight


@settings(max_examples=200, deadline=None)
@given(
    wheelbase=st.integers(1200, 2400),
    ahead=st.integers(-700, 100),
    first=st.integers(900, 4500),
    steps=st.lists(st.integers(300, 1300), min_size=0, max_size=3),
    loads=st.lists(st.integers(500, 20_000), min_size=6, max_size=6),
)
# The trailer's axles stand 96 in apart to the tenth; as binary fractions, counted from the front axle, a hair more.
@example(wheelbase=1200, ahead=-391, first=900, steps=[960], loads=[5_000] * 6)
def test_spans_loads_and_limits(wheelbase, ahead, first, steps, loads):
    trailer = [first, *(first + sum(steps[: i + 1]) for i in range(len(steps)))]
    places = [0, wheelbase, *(wheelbase - ahead + x for x in trailer)]
    k = len(trailer)
    there = np.array([1.0] * k + [0.0])
    x = np.array([t / 10 for t in trailer] + [np.nan])
    load = np.array([*loads[2 : 2 + k], np.nan], float)
    present = groups.rig_axle_present(axle_present=there)
    rig_x = groups.rig_axle_x_in(truck_wheelbase_in=wheelbase / 10, hitch_ahead_in=ahead / 10, axle_x_in=x)
    rig_load = groups.rig_axle_load_lb(
        truck_front_load_lb=loads[0], truck_rear_load_lb=loads[1], axle_load_lb=np.where(there > 0, load, 0.0)
    )
    spans = groups.axle_span_in(rig_axle_x_in=rig_x, rig_axle_present=present)
    sums = groups.axle_span_load_lb(rig_axle_load_lb=rig_load, rig_axle_present=present)
    limits = groups.axle_span_limit_lb(
        rig_axle_x_in=rig_x,
        rig_axle_present=present,
        limit_single_axle_lb=20_000.0,
        limit_tandem_lb=34_000.0,
        limit_bridge_ties_up=0.0,
    )
    all_loads = loads[: 2 + k]
    member = 0
    for last in range(1, k + 3):
        for start in range(last):
            if last < k + 2:
                assert math.isclose(spans[member], (places[last] - places[start]) / 10, abs_tol=1e-9)
                assert sums[member] == sum(all_loads[start : last + 1])
                assert limits[member] == limit_by_hand(places, start, last)
            else:
                assert (spans[member], sums[member], limits[member]) == (0, 0, math.inf)
            member += 1


def test_an_unknown_axle_leaves_groups_without_it_known():
    sums = groups.axle_span_load_lb(rig_axle_load_lb=np.array([np.nan, 6_000.0, 7_000.0]), rig_axle_present=np.ones(3))
    np.testing.assert_array_equal(sums, [np.nan, np.nan, 13_000.0])


def test_a_trailer_with_one_axle_place_has_no_tandem():
    one = np.ones((1, 4, 1, 1))
    assert groups.trailer_span_in(axle_x_in=200 * one, axle_present=one).shape == (1, 4, 1, 1)
    assert (groups.trailer_span_load_lb(axle_load_lb=5_000 * one, axle_present=one) == 0).all()


def test_names():
    assert [groups.axle_group_name(m) for m in range(4)] == [
        "truck front to truck rear",
        "truck front to trailer axle 1",
        "truck rear to trailer axle 1",
        "truck front to trailer axle 2",
    ]
    assert groups.tandem_name(0) == "trailer axle 1 to trailer axle 2"
    assert groups.tandem_name(2) == "trailer axle 2 to trailer axle 3"
    assert groups.rig_axle_name(3) == "trailer axle 2"
