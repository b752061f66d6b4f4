"""How machines stand as they climb: against dense sampling, against the way itself, and by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.mechanics.climb import climb
from rubrail.mechanics.climb_path import CenterLine, way
from rubrail.mechanics.climb_ways import (
    crest_limit_at_rad,
    crest_limit_rad,
    over_ramps,
    ramp_length_for_in,
    ramp_slope_rad,
    tilt_pivot_in,
)

from .climbing import dovetail, lowered, site, straight, tilt, tracked, wheeled
from .dense_climb import Road, two_axles

WAYS = {"dovetail": dovetail(), "straight": straight(), "lowered": lowered()}
MACHINES = {
    "big rear wheels": {"axles": (0.0, 84.0), "radius": (26.0, 17.0)},
    "small low wheels": {"axles": (0.0, 55.0), "radius": (7.0, 7.0), "cg": 27.0, "high": 24.0},
    "backing up": {"axles": (0.0, 84.0), "radius": (17.0, 26.0), "cg": 50.0},
}


@pytest.mark.parametrize("name", WAYS)
@pytest.mark.parametrize("machine", MACHINES)
def test_two_axles_against_dense_sampling(name, machine):
    w, m = WAYS[name], wheeled(**MACHINES[machine])
    road = Road([float(f) for f in w.f_in[1:]], [float(z) for z in w.z_in[1:]])
    hubs = [road.hub(float(r)) for r in m.radius_in]
    c = climb(site(w), m, end_x_in=180.0)
    f = c.pose.axles[0].f
    kinks = np.array([float(start[1]) for r in m.radius_in for start in CenterLine(w, r).starts()])
    checked = 0
    for i in range(0, len(f), 7):
        if np.abs(kinks - f[i]).min() < 0.2:
            continue
        d = two_axles(
            road, hubs, float(f[i]), wheelbase=float(m.span_in), radii=[float(r) for r in m.radius_in],
            weight=float(m.weight_lb), cg=float(m.cg_in), cg_height=float(m.cg_height_in),
            lead_over=float(m.lead_over_in),
        )  # fmt: skip
        assert c.pose.pitch_rad[i] == pytest.approx(d.pitch, abs=3e-4)
        assert c.room.crest_in[i] == pytest.approx(d.crest, abs=0.03)
        if m.lead_over_in > m.radius_in[-1]:
            assert c.room.nose_rad[i] == pytest.approx(d.nose, abs=4e-3)
        # Near a hollow the sample that a dense wheel touches may be on the other side.
        if abs(c.hold.axle_lb[0][i] - d.rear_lb) < 1e-3 * float(m.weight_lb):
            checked += 1
            assert c.hold.grip[i] == pytest.approx(d.share, abs=2e-3)
    assert checked > 30


def _stands_right(c, m, ground=0.0):
    """Nothing of it is in the way, two places touch, and the weight lies between them or it tips back."""
    p, w = c.pose, c.way
    for touch in (p.rear, p.front):
        f, z = touch.f_in, touch.z_in
        assert np.allclose(z, w.height_in(f), atol=1e-6)
    if m.tracked:
        share = np.linspace(0, 1, 400).reshape(-1, 1)
        f, z = p.world(share * m.span_in)
        assert (z - w.height_in(f)).min() > -1e-6
    else:
        turn = np.linspace(0, 2 * np.pi, 721).reshape(-1, 1)
        for x, r in zip(m.contact_in, m.radius_in, strict=True):
            f, z = p.world(x, r)
            rim = z + r * np.sin(turn) - w.height_in(f + r * np.cos(turn))
            assert rim.min() > -1e-6
    line = p.world(m.cg_in, m.cg_height_in)
    over = line[0] - line[1] * math.tan(ground)
    front = p.front.f_in - p.front.z_in * math.tan(ground)
    last = p.front.axle == len(m.contact_in) - 1 if not m.tracked else p.front.x_in >= m.span_in - 1e-6
    assert ((over <= front + 1e-6) | last).all()


@given(
    height=st.floats(18, 40), drop=st.floats(0, 14), tail=st.floats(30, 72), ramp=st.floats(42, 130),
    length=st.floats(32, 100), cg=st.floats(0.2, 0.8), high=st.floats(18, 45), ground=st.floats(-0.08, 0.08),
)  # fmt: skip
def test_a_track_lies_on_the_way_and_tips_when_its_weight_has_passed(
    height, drop, tail, ramp, length, cg, high, ground
):
    w = over_ramps(deck_height_in=height, deck_front_x_in=60, flat_rear_x_in=340 - tail, rear_x_in=340,
                   edge_height_in=height - drop, ramp_length_in=max(ramp, height))  # fmt: skip
    m = tracked(length=length, cg=cg * length, high=high)
    c = climb(site(w, ground=ground), m, end_x_in=100.0 + length)
    _stands_right(c, m, ground)


@given(
    height=st.floats(18, 40), ramp=st.floats(60, 130), radius=st.floats(6, 26),
    gaps=st.tuples(st.floats(20, 50), st.floats(20, 50)), cg=st.floats(0.2, 0.8),
)  # fmt: skip
def test_three_axles_lie_on_the_way(height, ramp, radius, gaps, cg):
    w = straight(deck_height_in=height, edge_height_in=height, ramp_length_in=ramp)
    axles = (0.0, gaps[0], sum(gaps))
    m = wheeled(axles=axles, radius=(radius,) * 3, cg=cg * sum(gaps))
    _stands_right(climb(site(w), m, end_x_in=250.0), m)


@pytest.mark.parametrize("machine", [tracked(), wheeled(), wheeled(axles=(0, 40, 80), radius=(14, 14, 14))])
@pytest.mark.parametrize("w", WAYS.values(), ids=WAYS)
def test_halving_the_step_changes_nothing(w, machine):
    worst = []
    for steps in (320, 640):
        c = climb(site(w, rolling=0.03), machine, end_x_in=200.0, steps=steps)
        worst.append([
            c.room.crest_in.max(), np.degrees(c.room.nose_rad.max()), np.degrees(c.slope_rad.max()),
            100 * c.hold.grip.max(), c.hold.uphill_lb.min() / 100, c.beam.load_lb.max() / 100,
            c.beam.moment_lb_in.max() / 1e4, c.frame_moment_lb_in.max() / 1e5,
        ])  # fmt: skip
    np.testing.assert_allclose(*worst, atol=0.12)


def test_the_pose_does_not_jump_but_where_a_track_tips():
    for w in WAYS.values():
        c = climb(site(w), wheeled(), end_x_in=200.0)
        rate = np.diff(c.pose.pitch_rad) / np.maximum(np.diff(c.travel_in), 1e-3)
        assert np.abs(rate).max() < 0.05


@pytest.mark.parametrize(("run", "degrees", "high"), [(60, 15.0, 30.0), (48, 20.0, 33.0)])
def test_crest_of_a_rigid_track_by_hand(run, degrees, high):
    """mechanics: the front must pass the crest by its distance to the center of gravity + height x tan(slope)."""
    th = math.radians(degrees)
    length, back = 120.0, 120.0 - run
    w = way(f_in=(0.0, 200 * math.cos(th), 800.0), z_in=(0.0, 200 * math.sin(th), 200 * math.sin(th)), body=(1, 3))
    m = tracked(length=length, cg=back, high=high)
    c = climb(site(w), m, end_x_in=-500.0)
    flat = c.pose.pitch_rad > th - 1e-6
    tips = int(np.flatnonzero(flat)[-1])
    past = c.place_in[tips] + length - 200.0
    assert past == pytest.approx(run + high * math.tan(th), abs=1e-2)
    assert c.pose.pitch_rad[tips + 1] == pytest.approx(0.0, abs=2e-3)
    if (run, degrees, high) == (60, 15.0, 30.0):
        assert run + high * math.tan(th) == pytest.approx(68.0, abs=0.05)


def test_tilting_deck_comes_level_when_the_weight_passes_the_pivot():
    m = tracked(length=60, cg=28, high=30)
    s = tilt()
    c = climb(s, m, end_x_in=150.0)
    first = int(np.argmax(c.level_again))
    f, _ = c.pose.world(m.cg_in, m.cg_height_in)
    pivot = float(s.way.f_in[2])
    assert not c.level_again[0]
    assert c.level_again[-1]
    assert f[first - 1] == pytest.approx(pivot, abs=0.01)
    assert c.pitch_rad[first - 1] == pytest.approx(math.radians(12), abs=1e-9)
    assert c.pitch_rad[first] == pytest.approx(0.0, abs=1e-9)


def test_ramp_angles_by_hand():
    for high, long, want in ((36, 96, 22.02), (33, 96, 20.11), (24, 60, 23.58), (18.75, 48, 22.99), (24, 48, 30.0)):
        assert math.degrees(ramp_slope_rad(height_in=high, length_in=long)) == pytest.approx(want, abs=0.01)
    assert ramp_length_for_in(height_in=24, slope_rad=math.radians(15)) == pytest.approx(92.7, abs=0.05)
    assert math.degrees(crest_limit_rad(belly_in=15, wheelbase_in=120)) == pytest.approx(28.07, abs=0.01)
    assert math.degrees(crest_limit_at_rad(belly_in=10, ahead_in=100, behind_in=140)) == pytest.approx(9.80, abs=0.01)
    assert tilt_pivot_in(deck_height_in=26, tilt_angle_rad=math.radians(30), tilt_length_in=200) == pytest.approx(52)


def test_breakover_is_what_the_climb_finds():
    """A belly as high as the published breakover of this crest just touches it, midway between small wheels."""
    th = math.radians(14.5)
    w = way(f_in=(0.0, 300 * math.cos(th), 900.0), z_in=(0.0, 300 * math.sin(th), 300 * math.sin(th)), body=(1, 3))
    m = wheeled(axles=(0.0, 55.0), radius=(0.01, 0.01), cg=27.0, high=20.0)
    c = climb(site(w), m, end_x_in=-600.0)
    belly = c.room.crest_in.max()
    assert math.degrees(crest_limit_rad(belly_in=belly, wheelbase_in=55)) == pytest.approx(14.5, abs=0.05)
    assert belly == pytest.approx(3.5, abs=0.02)
