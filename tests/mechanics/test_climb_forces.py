"""What a climbing machine presses where: equilibrium at every step, and the textbook's ramps."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.mechanics.climb import climb
from rubrail.mechanics.climb_forces import two_holds
from rubrail.mechanics.climb_path import RAMP, way
from rubrail.mechanics.climb_ramp import simple_beam_moment

from .climbing import dovetail, lowered, site, straight, tilt, tracked, wheeled

WAYS = {"dovetail": dovetail(), "straight": straight(), "lowered": lowered()}
MACHINES = {
    "wheels": wheeled(),
    "rear drive": wheeled(drives=(True, False)),
    "front drive": wheeled(drives=(False, True)),
    "three axles": wheeled(axles=(0, 40, 80), radius=(14, 14, 14)),
    "track": tracked(),
}
MACHINES_ROLL = 0.03


def _balance(c, m, ground=0.0):
    """Forward, up and moment left over, as shares of the weight."""
    p = c.hold.patches
    forward, up = p.forward_lb.sum(axis=0), p.up_lb.sum(axis=0)
    f, z = c.pose.world(m.cg_in, m.cg_height_in)
    moment = ((p.f_in - f) * p.up_lb - (p.z_in - z) * p.forward_lb).sum(axis=0)
    w = float(m.weight_lb)
    return (forward - w * math.sin(ground)) / w, (up - w * math.cos(ground)) / w, moment / (w * float(m.span_in))


@pytest.mark.parametrize("ground", [0.0, 0.06, -0.05])
@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("name", WAYS)
def test_every_step_is_in_equilibrium(name, machine, ground):
    m = MACHINES[machine]
    c = climb(site(WAYS[name], ground=ground, rolling=MACHINES_ROLL), m, end_x_in=200.0)
    bears = c.hold.uphill_lb > 0
    assert bears.mean() > 0.9
    # Three axles share as on even springs also a hair beside a corner, where their slopes are not quite one.
    for left in _balance(c, m, ground):
        assert np.abs(left[bears]).max() < (1e-9 if len(m.contact_in) == 2 else 1e-5)


@pytest.mark.parametrize("machine", MACHINES)
def test_the_ramp_and_what_hangs_on_it_are_in_equilibrium(machine):
    m = MACHINES[machine]
    for w in WAYS.values():
        c = climb(site(w, rolling=MACHINES_ROLL), m, end_x_in=200.0)
        p, b = c.hold.patches, c.beam
        on = p.body == RAMP
        up, forward = np.where(on, p.up_lb, 0.0).sum(axis=0), np.where(on, p.forward_lb, 0.0).sum(axis=0)
        np.testing.assert_allclose(b.foot_lb - b.hinge_up_lb, up, atol=1e-6)
        np.testing.assert_allclose(-b.hinge_forward_lb, forward, atol=1e-6)
        # Whatever does not stand on the ground, nor on the ramp's foot, is on the frame.
        on_ground = np.where(p.body == 0, p.up_lb, 0.0).sum(axis=0)
        np.testing.assert_allclose(c.frame_down_lb + on_ground + b.foot_lb, p.up_lb.sum(axis=0), atol=1e-6)


@pytest.mark.parametrize("machine", MACHINES)
def test_whole_weight_stands_on_the_frame_at_the_end_and_where_it_is(machine):
    m = MACHINES[machine]
    c = climb(site(straight()), m, end_x_in=250.0)
    assert c.frame_down_lb[-1] == pytest.approx(float(m.weight_lb), rel=1e-9)
    x = 250.0 - float(m.cg_in)
    assert c.frame_moment_lb_in[-1] == pytest.approx(float(m.weight_lb) * x, rel=1e-6)


def test_grade_force_and_grip_by_hand():
    """mechanics: 12,000 lb on 15 degrees, rolling 0.02: 3,338 lb; grip 0.5 carries all-wheel drive to 25.6 degrees."""
    th = math.radians(15)
    long = 400.0
    w = way(f_in=(0.0, long * math.cos(th), 900.0), z_in=(0.0, long * math.sin(th), long * math.sin(th)), body=(1, 3))
    m = wheeled(weight=12_000, radius=(20, 20))
    c = climb(site(w, rolling=0.02), m, end_x_in=-500.0)
    on_ramp = np.abs(c.pitch_rad - th) < 1e-9
    need = c.hold.grip[on_ramp] * 12_000 * math.cos(th)
    assert need == pytest.approx(12_000 * (math.sin(th) + 0.02 * math.cos(th)), rel=1e-4)
    assert need[0] == pytest.approx(3_338, abs=1)
    assert math.degrees(math.atan(0.5 - 0.02)) == pytest.approx(25.6, abs=0.05)


def test_weight_on_the_front_axle_up_a_ramp_by_hand():
    """trade S6: 12,800-lb tractor, 92 in, center 35 ahead of the rear axle and 38 high: 4,870 level, 2,681 at 20.7."""
    th = math.asin(34 / 96)
    w = way(f_in=(0.0, 400 * math.cos(th), 900.0), z_in=(0.0, 400 * math.sin(th), 400 * math.sin(th)), body=(1, 3))
    m = wheeled(weight=12_800, axles=(0, 92), radius=(20, 20), cg=35, high=38)
    c = climb(site(w), m, end_x_in=-500.0)
    assert c.hold.axle_lb[1][0] == pytest.approx(4_870, abs=1)
    on_ramp = int(np.flatnonzero(np.abs(c.pitch_rad - th) < 1e-9)[5])
    assert c.hold.axle_lb[1][on_ramp] == pytest.approx(2_681, abs=3)


def test_it_tips_back_where_the_weight_leaves_the_rear_contact():
    """mechanics: center 45 in ahead of the rear contact and 30 high: 56.3 degrees."""
    th = math.atan(45 / 30)
    assert math.degrees(th) == pytest.approx(56.3, abs=0.05)
    for degrees, holds in ((math.degrees(th) - 0.1, True), (math.degrees(th) + 0.1, False)):
        a = math.radians(degrees)
        rear, front, _, _ = two_holds(
            weight_lb=1.0, rear=(-45 * math.cos(a) + 30 * math.sin(a), -45 * math.sin(a) - 30 * math.cos(a), a),
            front=(45 * math.cos(a) + 30 * math.sin(a), 45 * math.sin(a) - 30 * math.cos(a), a),
            rear_drives=True, front_drives=True, rolling=0.0,
        )  # fmt: skip
        assert (front > 0) == holds
        assert rear > 0


@given(
    slopes=st.tuples(st.floats(-0.2, 0.5), st.floats(-0.2, 0.5)), ground=st.floats(-0.1, 0.1),
    apart=st.floats(40, 120), share=st.floats(0.2, 0.8), high=st.floats(10, 45), roll=st.floats(0, 0.06),
    drives=st.sampled_from([(True, True), (True, False), (False, True)]),
)  # fmt: skip
def test_two_places_hold_any_weight_on_any_two_slopes(slopes, ground, apart, share, high, roll, drives):
    rear, front = (-apart * share, -high, slopes[0]), (apart * (1 - share), -high, slopes[1])
    n1, n2, t1, t2 = two_holds(
        weight_lb=1000.0, rear=rear, front=front, rear_drives=drives[0], front_drives=drives[1], rolling=roll,
        ground_rad=ground,
    )  # fmt: skip
    forces = []
    for n, t, (f, z, s) in ((n1, t1, rear), (n2, t2, front)):
        forward, up = n * (t * math.cos(s) - math.sin(s)), n * (math.cos(s) + t * math.sin(s))
        forces.append((forward, up, f * up - z * forward))
    forward, up, moment = np.sum(forces, axis=0)
    assert forward == pytest.approx(1000 * math.sin(ground), abs=1e-6)
    assert up == pytest.approx(1000 * math.cos(ground), abs=1e-6)
    assert moment == pytest.approx(0.0, abs=1e-4)
    for drive, t in zip(drives, (t1, t2), strict=True):
        if not drive:
            assert t == pytest.approx(-roll)


def test_a_tilting_deck_holds_it_as_a_ramp_until_it_comes_level():
    m = tracked(length=60, cg=28, high=30)
    c = climb(tilt(), m, end_x_in=150.0)
    assert c.frame_down_lb[-1] == pytest.approx(float(m.weight_lb))
    before = ~c.level_again
    assert (c.beam.foot_lb[before] >= -1e-6).all()
    # The moment before it falls the foot is light: all hangs on the pivot.
    last = int(np.flatnonzero(before)[-1])
    assert c.beam.foot_lb[last] == pytest.approx(0.0, abs=2.0)


def test_bending_of_a_simple_beam_by_hand():
    """P a b / L; and two equal loads at the thirds, P L / 3."""
    assert simple_beam_moment(load_lb=[1200.0], at_in=[30.0], span_in=100.0) == pytest.approx(1200 * 30 * 70 / 100)
    assert simple_beam_moment(load_lb=[900.0, 900.0], at_in=[40.0, 80.0], span_in=120.0) == pytest.approx(900 * 40)


def test_bending_under_a_track_against_a_sum_of_many_loads():
    m = tracked(length=50, cg=25, high=28)
    w = straight(ramp_length_in=120, deck_height_in=20, edge_height_in=20)
    c = climb(site(w), m, end_x_in=250.0)
    span = float(w.at_in[2])
    flat = np.flatnonzero((c.hold.pressure.at_start + c.hold.pressure.at_end > 0) & (np.abs(c.pitch_rad) > 0.05))
    for i in flat[:: max(len(flat) // 6, 1)]:
        p = c.hold.pressure
        edges = np.linspace(float(p.start_in[i]), float(p.end_in[i]), 4001)
        middle = (edges[1:] + edges[:-1]) / 2
        at = middle + float(c.pose.rear.at_in[i] - c.pose.rear.x_in[i])
        rate = np.interp(middle, [p.start_in[i], p.end_in[i]], [p.at_start[i], p.at_end[i]])
        load = np.where((at > 0) & (at < span), rate * np.diff(edges), 0.0)
        near = (load * (span - at)).sum() / span
        x = np.linspace(0, span, 2000)
        bend = near * x - np.array([(load * np.maximum(v - at, 0.0)).sum() for v in x])
        assert c.beam.moment_lb_in[i] == pytest.approx(bend.max(), rel=2e-2)
