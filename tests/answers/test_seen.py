"""What a list's entries say of the unit's file: only what was read or seen, only where the file has it otherwise."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import pytest

from answers.yard import haul, yard
from rubrail.answers.checklist import checklist
from rubrail.answers.checklist_parts import Entry, Line
from rubrail.answers.hand_over_keep import as_read
from rubrail.answers.hand_over_lines import hand_over_list
from rubrail.answers.seen import Seen, seen_on
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck

ON = date(2026, 11, 28)
UNIT = yard().trailers["SH-133"]


def unit(**more: object) -> Trailer:
    """The unit with whole tables of its file written anew."""
    table = UNIT.model_dump(mode="json", by_alias=True, exclude_none=True, exclude_unset=True)
    return read_thing(Trailer, {k: v for k, v in {**table, **more}.items() if v is not None})


def seen(trailer: Trailer, entries: Mapping[str, Entry], *, lines: tuple[Line, ...] = ()) -> dict[str, Seen]:
    found = seen_on(trailer, lines or checklist(trailer), entries, on=ON)
    return {s.path: s for s in found}


def every_lamp(trailer: Trailer, **other: Entry) -> dict[str, Entry]:
    return {
        line.key: other.get(line.key, Entry("ok", tuple(999.0 for _ in line.places)))
        for line in checklist(trailer)
        if line.sort in ("lamp", "marking")
    }


def test_a_list_nobody_entered_anything_on_says_nothing():
    assert seen(unit(lamps_complete=None, breakaway=None, vin=None), {}) == {}


def test_ratings_off_the_label_go_before_the_file_and_a_blank_says_nothing():
    other = unit(ratings={"gvwr_lb": {"value": 14_000, "basis": "maker"}})
    found = seen(other, {"ratings": Entry("ok", (14_000.0, 7_500.0, None))})
    assert found == {
        "ratings.gvwr_lb": Seen("ratings.gvwr_lb", 14_000.0, "label", "ratings"),
        "axle.0.gawr_lb": Seen("axle.0.gawr_lb", 7_500.0, "label", "ratings"),
    }


def test_a_rating_read_in_kilograms_is_the_same_rating():
    # 15,400 lb are 6,985.3 kg (1 kg = 2.20462 lb); the label prints 6,985, which is 15,399.3 lb.
    assert UNIT.ratings.gvwr_lb.number == 15_400
    assert "ratings.gvwr_lb" not in seen(UNIT, {"ratings": Entry("ok", (15_399.3, None, None))})


def test_a_vin_is_taken_where_the_file_has_none_and_it_is_sound():
    bare, vin = unit(vin=None), UNIT.vin
    assert seen(bare, {"vin": Entry("ok", text=vin)})["vin"].value == vin
    assert seen(bare, {"vin": Entry("ok", text=vin[:-1] + "O")}) == {}, "the letter O is no VIN's"
    assert seen(UNIT, {"vin": Entry("ok", text=vin[:-1] + ("2" if vin[-1] == "1" else "1"))}) == {}


def test_stamps_that_agree_make_the_files_figures_read_ones():
    soft = UNIT.coupling.model_dump(mode="json", exclude_none=True) | {
        "gross_rating_lb": {"value": UNIT.coupling.gross_rating_lb.number, "basis": "maker"},
    }
    other = unit(coupling=soft)
    found = seen(other, {"coupling-stamp": Entry("ok")})
    assert found["coupling.gross_rating_lb"].basis == "label"
    assert found["coupling.gross_rating_lb"].value == UNIT.coupling.gross_rating_lb.number
    assert seen(other, {"coupling-stamp": Entry("not ok", text="says 10,000")}) == {}
    # What the file has by now is not what the line showed: nobody read that.
    lines = checklist(other)
    changed = unit(coupling=soft | {"gross_rating_lb": {"value": 21_000, "basis": "maker"}})
    assert "coupling.gross_rating_lb" not in seen(changed, {"coupling-stamp": Entry("ok")}, lines=lines)


def test_lamps_are_complete_only_where_every_one_is_in_order():
    bare = unit(lamps_complete=None)
    lamps = every_lamp(bare)
    assert seen(bare, lamps)["lamps_complete"].value is True
    first = next(iter(lamps))
    assert "lamps_complete" not in seen(bare, {k: e for k, e in lamps.items() if k != first}), "one was not looked at"
    dark = seen(unit(lamps_complete=True), {**lamps, first: Entry("not ok", text="dark")})
    assert dark["lamps_complete"].value is False


def test_a_lamp_that_may_be_required_and_is_not_there_leaves_it_open():
    bare = unit(lamps_complete=None, size=None)
    lines = checklist(bare)
    unsure = [line.key for line in lines if line.sort in ("lamp", "marking") and not line.facts["sure"]]
    assert unsure, "its width and length are not known"
    found = seen(bare, every_lamp(bare, **{unsure[0]: Entry("not here")}))
    assert "lamps_complete" not in found


@pytest.mark.parametrize(("answer", "found"), [("ok", {"breakaway": True}), ("not ok", {})])
def test_a_breakaway_that_locked_the_brakes_is_there(answer, found):
    entries = {"breakaway": Entry(answer, text="does not hold")}
    assert {k: s.value for k, s in seen(unit(breakaway=None), entries).items()} == found


def test_torque_of_the_makers_sheet_where_the_file_has_none():
    axles = [a.model_dump(mode="json", exclude_none=True, exclude_unset=True) for a in UNIT.axle]
    bare = unit(axle=[{k: v for k, v in a.items() if k != "wheel_torque_ft_lb"} for a in axles])
    found = seen(bare, {"torque-2": Entry("ok", (120.0, 120.0, 120.0)), "torque-1": Entry("ok", (120.0, 120.0, 90.0))})
    assert found == {"axle.1.wheel_torque_ft_lb": Seen("axle.1.wheel_torque_ft_lb", 120.0, "maker", "torque-2")}


def test_a_hand_over_tells_the_units_own_coupler_and_never_how_hard_its_tires_were():
    lines = hand_over_list(UNIT, haul=haul("03-landscaper-track-loader"))
    entries = {
        "ball": Entry("ok", (2.3125, 2.0)), "pressure-1": Entry("ok", (90.0, 90.0)),
        "door-label": Entry("ok", (9_900.0, 5_000.0, 6_000.0)),
    }  # fmt: skip
    assert seen(UNIT, entries, lines=lines) == {
        "coupling.ball_size_in": Seen("coupling.ball_size_in", 2.0, "label", "ball")
    }


# -- the truck kept for the next haul

JOB = haul("10-weight-distribution")
BALL = yard().trailers["SH-153"]


def kept(truck: Truck = JOB.truck, **readings: float | str | bool) -> Truck:
    return as_read(truck, haul=JOB, trailer=BALL, readings=readings)


def test_what_was_read_is_written_and_nothing_else():
    assert kept() == JOB.truck
    # Read the same, a rating of the label stays one; a height from elsewhere becomes a measured one.
    assert kept(truck_rear_gawr_lb=JOB.truck.ratings.rear_gawr_lb.number) == JOB.truck
    tires = {"truck_rear_tire_psi": 80.0, "truck_rear_tire_max_psi": 80.0}
    assert kept(**tires, truck_rear_tire_max_lb=JOB.truck.tires.rear_each_lb.number) == JOB.truck
    one = kept(truck_rear_gawr_lb=4_700.0, hitch_height_in=21.0, brake_controller=True)
    assert (one.ratings.rear_gawr_lb.number, one.ratings.rear_gawr_lb.basis) == (4_700, "label")
    assert one.ratings.gvwr_lb == JOB.truck.ratings.gvwr_lb
    changed = [n for n, (a, b) in enumerate(zip(one.hitch, JOB.truck.hitch, strict=True)) if a != b]
    assert [(one.hitch[n].height_in.number, one.hitch[n].height_in.basis) for n in changed] == [(21, "measured")]
    # the trailer takes 2-5/16 in, so that is the hitch which was in use
    assert one.hitch[changed[0]].ball_size_in.number == 2.3125


def test_a_ball_that_was_read_is_found_among_the_trucks_and_the_others_stay():
    assert {h.ball_size_in.number for h in JOB.truck.hitch} == {2.0, 2.3125}
    one = kept(hitch_ball_size_in=2.0, hitch_height_in=21.0)
    assert sorted(h.ball_size_in.number for h in one.hitch) == [2.0, 2.3125]
    assert {h.ball_size_in.number: h.height_in and h.height_in.number for h in one.hitch}[2.0] == 21
    other = kept(hitch_ball_size_in=2.5)
    assert sorted(h.ball_size_in.number for h in other.hitch) == [2.0, 2.5], "the one in use has another ball on"


def test_a_truck_without_hitches_gets_the_one_that_was_read():
    bare = JOB.truck.model_copy(update={"hitch": ()})
    one = kept(bare, hitch_ball_size_in=2.3125)
    assert [(h.kind, h.ball_size_in.number) for h in one.hitch] == [("ball", 2.3125)]


def test_what_was_not_found_out_leaves_what_the_file_has():
    # A pressure without its sidewall says nothing of the load; a ball without its hitch's plate nothing of the hitch.
    one = kept(truck_rear_tire_psi=60.0)
    assert one.tires.rear_each_lb == JOB.truck.tires.rear_each_lb
    hitch = replace_ratings(JOB.truck)
    assert kept(hitch, ball_rating_lb=30_000.0).hitch == hitch.hitch


def replace_ratings(truck: Truck) -> Truck:
    """The truck with nothing known of what its hitches are rated for."""
    none = dict.fromkeys(("gross_rating_lb", "distributing_gross_rating_lb"))
    return truck.model_copy(update={"hitch": tuple(h.model_copy(update=none) for h in truck.hitch)})
