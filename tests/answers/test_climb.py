"""Climbs of the invented yard: against the same climb on fine steps, against themselves changed, and by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubrail.answers.climb import climb_on, climbing
from rubrail.answers.climb_judge import judge_climb
from rubrail.answers.climb_match import can_load, load_verdicts
from rubrail.answers.climb_run import outcomes, run
from rubrail.answers.climb_setup import Day, climb_columns, climbers, driven
from rubrail.answers.place import best_place
from rubrail.answers.rig import Placement, rigs
from rubrail.checks.registry import CHECKS
from rubrail.checks.verdict import OVER, WORDS
from rubrail.demo import YARD
from rubrail.things.door import read_thing
from rubrail.things.folder import load_yard, resolve
from rubrail.things.rig_loading import way_kind
from rubrail.things.trailer import Trailer

FOUND = load_yard(YARD)
PAIRS = (
    ("03-landscaper-track-loader", "SH-133"), ("03-landscaper-track-loader", "SH-121"),
    ("13-scissor-lifts", "SH-152"), ("13-scissor-lifts", "SH-131"), ("07-tractor-on-duals", "SH-203"),
    ("02-midi-excavator-for-hire", "SH-201"), ("12-backhoe-of-unknown-weight", "SH-171"),
    ("14-paving-crew", "SH-174"),
)  # fmt: skip


def laid(haul: str, unit: str):
    one = rigs(haul=resolve(FOUND.hauls[haul], FOUND), trailers=(FOUND.trailers[unit],))
    return one, best_place(one)[0].placement


def line(machine, check: str):
    return next(x for x in machine.lines if x.check == check)


@pytest.mark.parametrize(("haul", "unit"), PAIRS)
def test_every_step_of_the_rig_is_in_equilibrium(haul, unit):
    """Coupler, axles, stand and edge carry the trailer and what stands on it, and balance about the coupling point."""
    one, placement = laid(haul, unit)
    for c in climbers(one, placement):
        columns = replace(climb_columns(one, placement, c, Day()), plus_minus={})
        gap = np.where(np.isnan(columns["stand_gap_in"]), 2.0, columns["stand_gap_in"])
        columns = columns.with_values({"stand_gap_in": gap})
        r = run(columns, kind=way_kind(one.trailers[0]), ground_rad=0.0, stands=True, blocks=False)
        present = columns["axle_present"] > 0
        axles = np.where(present[:, None], r.held.axle_lb, 0.0)
        down = r.held.coupler_lb + axles.sum(axis=0) + r.held.stand_lb + r.held.edge_lb
        loaded = columns["item_present"] > 0
        ahead = np.where(loaded, columns["item_weight_lb"], 0.0)
        at = np.where(loaded, columns["item_front_x_in"] + columns["item_cg_in"], 0.0)
        empty = columns["trailer_empty_weight_lb"]
        np.testing.assert_allclose(down, empty + ahead.sum(axis=0) + r.climb.frame_down_lb, rtol=1e-6)
        x = np.where(present, columns["axle_x_in"], 0.0)
        middle = x.sum(axis=0) / present.sum(axis=0)
        rear = columns["deck_front_x_in"] + columns["deck_flat_length_in"] + columns["tail_length_in"]
        by_empty = (empty - columns["trailer_empty_coupler_lb"]) * middle
        moment = (axles * x[:, None]).sum(axis=0) + (r.held.stand_lb + r.held.edge_lb) * rear
        np.testing.assert_allclose(moment, by_empty + (ahead * at).sum(axis=0) + r.climb.frame_moment_lb_in, rtol=1e-6)


@pytest.mark.parametrize(("haul", "unit"), PAIRS)
def test_what_a_tolerance_changes_is_near_what_fine_steps_say(haul, unit):
    one, placement = laid(haul, unit)
    c = climbers(one, placement)[0]
    done = judge_climb(one, placement, c, Day())
    way = {"kind": way_kind(one.trailers[0]), "ground_rad": 0.0, "stands": True, "blocks": False}
    columns = climb_columns(one, placement, c, Day())
    for name in ("deck_height_in", "machine_cg_in", "machine_cg_height_in"):
        index = next((i for i, n in enumerate(done.judgement.nudges) if n.name == name), None)
        if index is None:
            continue
        fine = outcomes(run(columns.with_values({name: columns[name] + columns.plus_minus[name]}), **way))
        for outcome in ("climb_slope_rad", "climb_uphill_lb", "climb_ramp_lb", "climb_crest_in"):
            want, got = float(fine[outcome].ravel()[0]), float(done.columns[outcome][..., 1 + index].ravel()[0])
            slack = {"climb_slope_rad": 2e-3, "climb_crest_in": 0.06}.get(outcome, 0.012 * float(c.piece.weight_lb))
            assert got == pytest.approx(want, abs=slack), (name, outcome)


@pytest.mark.parametrize(("haul", "unit"), PAIRS)
def test_every_change_offered_does_what_it_says(haul, unit):
    a = climb_on(haul=resolve(FOUND.hauls[haul], FOUND), trailer=FOUND.trailers[unit])
    for m in a.machines:
        for r in m.remedies:
            assert r.clears
            assert set(r.clears) <= {x.check for x in m.lines if x.verdict == "over"}
            assert r.says[0].islower()
            assert r.verdict in WORDS


def test_blocks_and_longer_ramps_are_what_the_changed_files_say():
    haul = resolve(FOUND.hauls["12-backhoe-of-unknown-weight"], FOUND)
    trailer = FOUND.trailers["SH-171"]
    a = climb_on(haul=haul, trailer=trailer)
    ramps = next(r for r in a.machines[0].remedies if r.kind == "ramps")
    ramp = trailer.ramp[0]

    def with_ramp(length: float) -> Trailer:
        longer = ramp.model_copy(update={"length_in": replace(ramp.length_in, number=length)})
        return trailer.model_copy(update={"ramp": (longer,)})

    said = climb_on(haul=haul, trailer=with_ramp(ramps.amount), placement=a.placement, remedies=False).machines[0]
    assert {x.check for x in said.lines if x.verdict == "over"}.isdisjoint(ramps.clears)
    shorter = with_ramp(ramps.amount - 6.0)
    short = climb_on(haul=haul, trailer=shorter, placement=a.placement, remedies=False).machines[0]
    assert not {x.check for x in short.lines if x.verdict == "over"}.isdisjoint(ramps.clears)


@settings(max_examples=12)
@given(length=st.floats(50, 110), more=st.floats(2, 40))
def test_a_longer_ramp_is_never_steeper_and_needs_no_more_grip(length, more):
    one, placement = laid("07-tractor-on-duals", "SH-203")
    c = climbers(one, placement)[0]
    got = []
    for inches in (length, length + more):
        done = judge_climb(one, placement, c, Day(), tolerances=False,
                           changes={"ramp_length_in": np.full((1, 1, 1), inches)})  # fmt: skip
        got.append({n: float(done.columns[n].ravel()[0]) for n in ("climb_slope_rad", "climb_grip", "climb_nose_rad",
                                                                   "climb_uphill_lb")})  # fmt: skip
    assert got[1]["climb_slope_rad"] <= got[0]["climb_slope_rad"] + 1e-9
    assert got[1]["climb_grip"] <= got[0]["climb_grip"] + 1e-6
    assert got[1]["climb_nose_rad"] <= got[0]["climb_nose_rad"] + 1e-6
    assert got[1]["climb_uphill_lb"] >= got[0]["climb_uphill_lb"] - 1.0


def test_a_machine_that_is_the_same_both_ways_climbs_the_same_both_ways():
    piece = read_thing(type(FOUND.cargo["roller-3000"]), {
        "id": "even", "weight_lb": 6000, "cg_from_front_in": 50, "cg_height_in": 30, "length_in": 100, "width_in": 60,
        "height_in": 90, "climbs_deg": 20,
        "contact": {"kind": "wheels", "axles_from_front_in": [15, 85], "wheel_radius_in": [15, 15], "drive": "all",
                    "outer_width_in": 60, "each_width_in": 12, "surface": "rubber"},
        "clearance": {"belly_in": 9, "approach_deg": 25, "departure_deg": 25},
    })  # fmt: skip
    haul = resolve(FOUND.hauls["03-landscaper-track-loader"], FOUND)
    load = haul.cargo[0].model_copy(update={"piece": piece})
    haul = haul.model_copy(update={"cargo": (load,)})
    one = rigs(haul=haul, trailers=(FOUND.trailers["SH-133"],))
    ways = [climbing(one, Placement((120.0,), (w,)), Day(), remedies=False) for w in ("front-first", "rear-first")]
    a, b = ([(x.check, x.member, x.verdict, x.demand, x.limit) for x in w.machines[0].lines] for w in ways)
    assert [x[:3] for x in a] == [x[:3] for x in b]
    np.testing.assert_allclose([x[3:] for x in a], [x[3:] for x in b], rtol=1e-9, atol=1e-9)


def test_slope_and_uplift_by_hand():
    """SH-133: slope is the arc sine of edge over ramp; stands up, the coupler at the end is as moments say."""
    a = climb_on(haul=resolve(FOUND.hauls["03-landscaper-track-loader"], FOUND), trailer=FOUND.trailers["SH-133"],
                 day=Day(stands=False), remedies=False)  # fmt: skip
    t, m = FOUND.trailers["SH-133"], a.machines[0]
    edge = float(t.deck.height_in) - float(t.deck.tail_drop_in)
    hitched = math.degrees(line(m, "climb-slope").demand)
    assert hitched == pytest.approx(math.degrees(math.asin(edge / float(t.ramp[0].length_in))), abs=0.6)
    # At its place: moments about the coupling point, no weight distribution.
    piece = FOUND.cargo["track-loader-10k"]
    x = a.placement.front_x_in[0] + float(piece.cg_from_front_in)
    middle = np.mean([float(axle.from_coupler_in) for axle in t.axle])
    want = float(t.weights.empty_coupler_lb) + float(piece.weight_lb) * (1 - x / middle)
    assert m.course.coupler_lb[-1] == pytest.approx(want, rel=1e-6)


def test_wet_needs_no_less_and_unhitched_asks_the_jack():
    one, placement = laid("13-scissor-lifts", "SH-152")
    dry, wet = (climbing(one, placement, Day(surface=s), remedies=False).machines[0] for s in ("dry", "wet"))
    assert line(wet, "climb-grip").limit < line(dry, "climb-grip").limit
    alone = climbing(one, placement, Day(hitched=False), remedies=False).machines[0]
    checks = {x.check for x in alone.lines}
    assert "jack-load" in checks
    assert "coupler-uplift" not in checks
    assert line(climbing(one, placement, Day(chocked=False), remedies=False).machines[0], "chocked").verdict == "over"


def test_uphill_ground_makes_it_steeper():
    one, placement = laid("03-landscaper-track-loader", "SH-133")
    level, up = (climbing(one, placement, Day(ground_deg=g), remedies=False).machines[0] for g in (0.0, 3.0))
    more = math.degrees(line(up, "climb-slope").demand - line(level, "climb-slope").demand)
    assert more == pytest.approx(3.0, abs=1e-6)
    assert line(up, "tips-back").limit < line(level, "tips-back").limit


def test_backing_is_the_same_machine_over_the_same_place():
    one, placement = laid("03-landscaper-track-loader", "SH-133")
    back = driven(one, placement, "rear-first")
    piece = one.pieces[0]
    cg = placement.front_x_in[0] + float(piece.cg_from_front_in)
    assert back.facing == ("rear-first",)
    assert back.front_x_in[0] + float(piece.length_in) - float(piece.cg_from_front_in) == pytest.approx(cg)


def test_no_way_up_is_over_and_an_unsaid_one_is_not_known():
    haul = resolve(FOUND.hauls["03-landscaper-track-loader"], FOUND)
    none = climb_on(haul=haul, trailer=FOUND.trailers["SH-211"])
    assert (none.way, none.verdict, none.machines[0].governing.check) == ("none", "over", "way-up")
    bare = read_thing(Trailer, {"id": "t", "coupling": {"kind": "ball"}, "axle": [{}]})
    unsaid = climb_on(haul=haul, trailer=bare, placement=Placement((100.0,), ("front-first",)))
    assert unsaid.verdict == "not known"


def test_what_does_not_drive_asks_nothing():
    a = climb_on(haul=resolve(FOUND.hauls["05-hay-round-bales"], FOUND), trailer=FOUND.trailers["SH-212"])
    assert a.verdict == "does not apply"
    assert a.machines == ()


def test_a_match_says_over_exactly_where_the_full_climb_does():
    for haul_id in ("03-landscaper-track-loader", "13-scissor-lifts"):
        haul = resolve(FOUND.hauls[haul_id], FOUND)
        units = [FOUND.trailers[u] for u in ("SH-121", "SH-131", "SH-133", "SH-151", "SH-152", "SH-171", "SH-211")]
        every = rigs(haul=haul, trailers=tuple(units))
        placements = [best_place(rigs(haul=haul, trailers=(t,)))[0].placement for t in units]
        together = load_verdicts(every, range(len(units)), placements)
        for t, p, loads in zip(units, placements, together, strict=True):
            one = rigs(haul=haul, trailers=(t,))
            alone = can_load(one, p)
            assert (alone.verdict, alone.check, alone.item) == (loads.verdict, loads.check, loads.item)
            assert alone.limit == pytest.approx(loads.limit, rel=1e-9, nan_ok=True)
            full = climbing(one, p, Day(), remedies=False)
            assert (full.verdict == "over") == (loads.verdict == "over"), t.id
            if loads.verdict == "over":
                assert loads.check in CHECKS
            assert WORDS.index(full.verdict) <= WORDS.index(loads.verdict)


def test_moments_come_in_order_and_cover_what_is_over():
    for haul, unit in PAIRS:
        a = climb_on(haul=resolve(FOUND.hauls[haul], FOUND), trailer=FOUND.trailers[unit], remedies=False)
        for m in a.machines:
            if m.course is None:
                continue
            places = [x.s_in for x in m.moments]
            assert places == sorted(places)
            assert m.moments[-1].step == len(m.course.s_in) - 1
            told = {c for x in m.moments for c in x.checks}
            still = {"way-up", "chocked", "ramp-outside", "ramp-inside", "climb-slope"}
            assert {x.check for x in m.lines if x.verdict == WORDS[OVER]} <= told | still
            c = m.course
            assert len({len(v) for v in (c.s_in, c.pitch_rad, c.coupler_lb, *c.axle_lb)}) == 1


def test_what_a_day_refuses():
    with pytest.raises(ValueError, match="surface must be one of dry, wet"):
        Day(surface="icy")
    with pytest.raises(ValueError, match="ground must be"):
        Day(ground_deg=40.0)
