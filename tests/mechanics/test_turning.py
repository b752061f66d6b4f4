"""The tractrix against its own differential equation and its settled state; the corner against a plain grid."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from rubrail.mechanics.articulation import apart_in, crest_angle_rad, touch_angle_rad
from rubrail.mechanics.turning import follow, inside_radius_in, steady_inside_in, turn_path
from rubrail.mechanics.turning_fit import Corner, best_fit, curb_distance_in
from rubrail.mechanics.turning_rig import Body, TurningRig, course, least_radius_in

RIG = TurningRig(160, -48, 190, Body(-38, 210, 80), Body(40, 290, 102))


@given(length=st.floats(60, 500), start=st.floats(-1.4, 1.4))
def test_led_straight_on_a_body_follows_the_classic_tractrix(length, start):
    lead = np.linspace(0, 600, 4).astype(complex)
    heading = follow(lead, length_in=length, heading=np.exp(1j * start))
    # tan(angle / 2) dies out with distance over length: the tractrix of the textbooks.
    want = 2 * np.arctan(np.tan(start / 2) * np.exp(-600 / length))
    assert np.angle(heading[-1]) == pytest.approx(want, abs=1e-12)


def test_a_curve_agrees_with_an_ordinary_differential_equation():
    radius, length = 300.0, 220.0
    lead = turn_path(radius_in=radius, angle_rad=np.pi / 2, before_in=0.5, after_in=0.5, step_in=1.0)
    got = np.angle(follow(lead, length_in=length)[np.argmin(np.abs(lead - complex(radius, radius)))])

    def slope(s, heading):
        return np.sin(s / radius - heading) / length

    want = solve_ivp(slope, (0, radius * np.pi / 2), [0.0], rtol=1e-10, atol=1e-12).y[0, -1]
    assert got == pytest.approx(want, abs=2e-5)


def test_halving_the_step_changes_little_and_quarters_the_change():
    def inside(step):
        return inside_radius_in(radius_in=420, lengths_in=[160, 300], hitches_in=[4], width_in=102, step_in=step)

    coarse, middle, fine, finest = (inside(s) for s in (24, 12, 6, 3))
    assert abs(coarse - middle) < 0.3
    assert abs(fine - finest) < abs(coarse - middle) / 8


@given(
    radius=st.floats(500, 900), wheelbase=st.floats(100, 220), ahead=st.floats(-60, 20), trailer=st.floats(120, 330)
)
@settings(max_examples=30)
def test_a_long_turn_settles_to_the_sum_of_squares(radius, wheelbase, ahead, trailer):
    got = inside_radius_in(
        radius_in=radius,
        lengths_in=[wheelbase, trailer],
        hitches_in=[ahead],
        width_in=0,
        angle_rad=6 * np.pi,
        step_in=12,
    )
    steady = steady_inside_in(radius_in=radius, lengths_in=[wheelbase, trailer], hitches_in=[ahead])
    assert radius - got == pytest.approx(float(steady), abs=1.0)


def test_no_steady_turn_is_said():
    assert np.isnan(steady_inside_in(radius_in=300, lengths_in=[200, 400]))


def test_every_axle_keeps_its_distance_and_the_hitch_is_on_the_truck():
    driven = course(rig=RIG, radius_in=310, angle_rad=np.pi / 2)
    truck_rear = driven.front - RIG.wheelbase_in * driven.truck_heading
    assert np.abs(driven.hitch - truck_rear) == pytest.approx(np.full(len(driven.front), 48.0))
    assert np.abs(driven.hitch - driven.axle(RIG)) == pytest.approx(np.full(len(driven.front), 190.0))
    assert np.abs(driven.trailer_heading) == pytest.approx(np.ones(len(driven.front)))


def test_many_radii_at_once_are_each_alone():
    radii = np.array([300.0, 420.0])
    both = course(rig=RIG, radius_in=radii, angle_rad=1.2)
    path = turn_path(radius_in=radii, angle_rad=1.2, before_in=50, after_in=90)
    for n in range(2):
        alone = follow(path[:, n], length_in=RIG.wheelbase_in)
        assert follow(path, length_in=RIG.wheelbase_in)[:, n] == pytest.approx(alone)
    assert both.articulation_rad.max(axis=0)[0] > both.articulation_rad.max(axis=0)[1]


def test_the_radius_at_full_lock_is_that_of_the_design_vehicle():
    # P: wheelbase 11 ft, center-line radius 21 ft (TXDOT-ROADWAY); the angle is the table's.
    assert float(least_radius_in(wheelbase_in=132, steer_rad=np.radians(31.588))) == pytest.approx(252, abs=0.05)


@pytest.mark.parametrize("angle", [60, 90, 120])
@pytest.mark.parametrize("curb", [0, 180])
def test_the_best_place_is_never_beaten_by_a_grid(angle, curb):
    corner = Corner(np.radians(angle), 150, 170, curb)
    driven = course(rig=RIG, radius_in=320, angle_rad=corner.angle_rad, step_in=18)
    swept = np.concatenate([driven.swept(RIG), driven.swept_inside(RIG)])
    fit = best_fit(swept, corner=corner)

    def spare(apex):
        left = swept.imag.min() - (apex.imag - corner.entry_in)
        out = ((swept - apex) * np.conj(corner.exit_right)).real.min() + corner.exit_in
        return min(left, out, curb_distance_in(swept, apex=apex, corner=corner).min())

    assert spare(fit.apex) == pytest.approx(fit.spare_in, abs=0.1)
    grid = np.arange(-48, 49, 8)
    assert max(spare(fit.apex + complex(a, b)) for a in grid for b in grid) <= fit.spare_in + 0.1


def test_only_corners_and_inner_sides_decide():
    corner = Corner(np.pi / 2, 150, 170, 120)
    driven = course(rig=RIG, radius_in=320, angle_rad=corner.angle_rad, step_in=18)
    everything = driven._both(RIG.truck.outline(), RIG.trailer.outline())
    quick = best_fit(driven.swept(RIG), corner=corner, inner_side=driven.swept_inside(RIG))
    assert quick.spare_in == pytest.approx(best_fit(everything, corner=corner).spare_in, abs=0.1)


@given(wider=st.floats(1, 120), curb=st.floats(0, 200))
@settings(max_examples=20)
def test_a_wider_lane_never_leaves_less_room(wider, curb):
    driven = course(rig=RIG, radius_in=320, angle_rad=np.pi / 2, step_in=36)
    swept = np.concatenate([driven.swept(RIG), driven.swept_inside(RIG)])
    narrow = best_fit(swept, corner=Corner(np.pi / 2, 140, 150, curb)).spare_in
    assert best_fit(swept, corner=Corner(np.pi / 2, 140, 150 + wider, curb)).spare_in >= narrow - 0.1


def test_distance_from_a_rounded_curb_by_hand():
    corner = Corner(np.pi / 2, 144, 144, 100)
    # Turning right, the curb lies behind and right of the point; its rounding's center is 100 in from both edges.
    at = [0j, complex(-100, 0), complex(-100, -30), complex(-200, 20), complex(40, 300)]
    want = [100 * np.sqrt(2) - 100, 0, 30, -20, 40]
    assert curb_distance_in(np.array(at), apex=0j, corner=corner) == pytest.approx(want)


def test_squares_meet_where_a_compass_says():
    # A deck 10 in behind the hitch and 60 wide meets a bumper 10 in ahead when its corner swings level with it.
    bumper = Body(-50, -10, 200).corners()
    deck = Body(10, 200, 60).corners()
    half, reach = np.arctan2(30, 10), np.hypot(30, 10)
    want = np.pi - half - np.arccos(10 / reach)
    assert touch_angle_rad(towing=bumper, towed=deck) == pytest.approx(want, abs=3e-4)


def test_a_head_that_swings_inside_its_reach_never_meets_the_cab():
    cab, head = Body(-100, -60, 80).corners(), Body(-30, 5, 60).corners()
    assert np.hypot(30, 30) < 60
    assert touch_angle_rad(towing=cab, towed=head) == np.inf
    assert touch_angle_rad(towing=Body(-100, -20, 80).corners(), towed=head) == 0


@given(x=st.floats(-200, 200), y=st.floats(-200, 200), turned=st.floats(0, np.pi))
def test_outlines_are_apart_just_when_no_point_is_shared(x, y, turned):
    a = Body(-40, 40, 60).corners()
    b = (Body(-30, 50, 40).corners() * np.exp(1j * turned)) + complex(x, y)
    gap = apart_in(a, b)
    ahead, side = np.meshgrid(np.linspace(-40, 40, 41), np.linspace(-30, 30, 31))
    local = (ahead + 1j * side - complex(x, y)) * np.exp(-1j * turned)
    shared = ((local.real <= 30) & (local.real >= -50) & (np.abs(local.imag) <= 20)).any()
    assert not (shared and gap > 1e-9)
    if gap < -4:
        assert shared


def test_crest_angle_by_hand():
    assert float(crest_angle_rad(clearance_in=6, reach_in=48)) == pytest.approx(np.arctan(0.125))
    assert float(crest_angle_rad(clearance_in=-2, reach_in=48)) == 0
