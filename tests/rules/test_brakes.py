"""The braking table hangs together, and brake rules beyond the published cases."""

from __future__ import annotations

import numpy as np
import pytest

from rubrail.rules import brakes, guard
from rubrail.rules.tables import table

ROWS = table("brakes")["rows"]
FEET_PER_SECOND = 20 * 5280 / 3600


@pytest.mark.parametrize("row", ROWS, ids=lambda r: r["class"])
def test_force_and_deceleration_are_the_same_figure(row):
    assert row["deceleration_ft_s2"] / 32.174 * 100 == pytest.approx(row["force_percent"], abs=0.06)


def test_stopping_distances_are_near_what_the_decelerations_give():
    """v2/2a from 20 mph: 25.3 ft and 30.7 ft; the longer service stops allow for the time brakes take to set."""
    by_physics = [FEET_PER_SECOND**2 / 2 / r["deceleration_ft_s2"] for r in ROWS]
    assert by_physics == pytest.approx([25.3, 30.7, 30.7], abs=0.05)
    assert ROWS[0]["service_stop_ft"] == pytest.approx(by_physics[0], abs=0.5)
    assert all(r["service_stop_ft"] >= p for r, p in zip(ROWS[1:], by_physics[1:], strict=True))


def test_a_pickup_alone_and_a_combination():
    """Check values 77 and 79, read in a state's copy of 393.52(d)."""
    alone, combination = ROWS[0], ROWS[2]
    assert (alone["service_stop_ft"], alone["deceleration_ft_s2"], alone["force_percent"]) == (25, 17, 52.8)
    assert (combination["service_stop_ft"], combination["deceleration_ft_s2"]) == (40, 14)
    assert combination["force_percent"] == 43.5


def test_either():
    three = np.array([0.0, 1.0, np.nan])
    got = brakes.either(three[:, None], three[None, :])
    np.testing.assert_array_equal(got, [[0, 1, np.nan], [1, 1, 1], [np.nan, 1, np.nan]])


def test_light_trailer_with_unknown_hitch_load_is_not_known():
    required = brakes.federal_brakes_required
    assert np.isnan(required(trailer_gross_lb=2_500, hitch_load_lb=np.nan, tow_axles_lb=6_000))
    assert required(trailer_gross_lb=3_500, hitch_load_lb=np.nan, tow_axles_lb=6_000) == 1


@pytest.mark.parametrize(
    ("gvwr", "excluded", "want"),
    [(9_999, np.nan, 0), (10_000, np.nan, np.nan), (np.nan, 1, 0), (np.nan, 0, np.nan), (26_000, 0, 1)],
)
def test_guard_where_something_is_not_known(gvwr, excluded, want):
    np.testing.assert_equal(float(guard.guard_required(gvwr_lb=gvwr, excluded=excluded)), want)


def test_low_chassis_where_something_is_not_known():
    low = guard.low_chassis
    assert np.isnan(low(frame_behind_tires=1, frame_edge_height_in=np.nan, edge_is_frame=1))
    assert low(frame_behind_tires=0, frame_edge_height_in=np.nan, edge_is_frame=1) == 0
    assert low(frame_behind_tires=1, frame_edge_height_in=22.1, edge_is_frame=np.nan) == 0
    assert np.isnan(guard.wheels_back(fixed_axle=np.nan, tire_rear_ahead_in=5))
