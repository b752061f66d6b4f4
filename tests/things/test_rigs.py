"""Columns of rigs: shapes, hitches, tires, facing, orders. Expected figures are the files' own, turned by hand."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.checks import all as _registered  # noqa: F401
from rubrail.checks.registry import CHECKS, raw_inputs
from rubrail.things.cargo import Cargo
from rubrail.things.door import read_thing
from rubrail.things.names import ROAD
from rubrail.things.rigs import (
    Arrangement,
    arrangements,
    item_columns,
    offsets_in,
    pieces_of,
    rig_columns,
    trailer_columns,
)
from things.samples import haul, table, trailer

TAG = {"id": "tag", "coupling": {"kind": "ball", "ball_size_in": 2.3125}, "axle": [{"gawr_lb": 7_000}]}


def columns(*trailers, **options):
    return rig_columns(haul=options.pop("haul", haul()), trailers=trailers or (trailer(),), **options)


def one(made, name):
    return made[name].reshape(-1)[0]


def test_every_column_is_filled_in_the_agreed_shape():
    made = columns(trailer(), trailer(id="other"), placement=[200])
    assert set(made.values) == set(ROAD)
    for name, column in ROAD.items():
        values = made[name]
        assert values.ndim == (4 if column.per else 3), name
        assert values.dtype == float
        assert values.shape[-3] in (1, 2), name
        if name != "item_front_x_in":
            assert made.plus_minus[name].shape == made.basis[name].shape == values.shape


def test_every_input_a_check_asks_for_has_a_column():
    made = columns(placement=[200])
    asked = raw_inputs(tuple(name for check in CHECKS.values() if check.case == "road" for name in check.inputs))
    assert asked
    assert not [n for n in asked if n not in made]


def test_values_tolerances_and_bases_lie_side_by_side():
    made = columns()
    assert one(made, "trailer_empty_weight_lb") == 7_420
    assert one(made.plus_minus, "trailer_empty_weight_lb") == 40
    assert one(made.basis, "trailer_empty_weight_lb") == "weighed"
    assert one(made.basis, "trailer_gvwr_lb") == "label"
    assert one(made.plus_minus, "trailer_gvwr_lb") == 0


def test_absent_axles_are_zero_and_known():
    made = columns(trailer(), trailer(axle=[{"gawr_lb": 7_000}]))
    np.testing.assert_array_equal(made["axle_present"][..., 0, 0], [[1, 1], [1, 0]])
    for name in (n for n, c in ROAD.items() if c.per == "axle"):
        assert made[name][1, 1, 0, 0] == 0, name
    assert math.isnan(made["axle_x_in"][0, 1, 0, 0])


def test_duals_take_the_dual_figure_and_singles_the_single_one():
    single = trailer(axle__1__tires__count=2)
    unknown = trailer(axle__1__tires__count=None)
    loads = columns(trailer(), single, unknown)["axle_tire_max_load_lb"][0, :, 0, 0]
    np.testing.assert_array_equal(loads, [3_080, 3_520, np.nan])


def test_duals_without_a_dual_figure_are_not_known():
    made = columns(trailer(axle__1__tires__max_load_dual_lb=None))
    assert math.isnan(one(made, "axle_tire_max_load_lb"))


@pytest.mark.parametrize(("brakes", "braked"), [("none", 0), ("electric", 1), ("air", 1), (None, math.nan)])
def test_brakes(brakes, braked):
    np.testing.assert_equal(one(columns(trailer(axle__1__brakes=brakes)), "axle_braked"), braked)


@pytest.mark.parametrize(
    ("tail", "length", "drop"),
    [
        ({"tail_kind": "fixed", "tail_length_in": 60, "tail_drop_in": 10}, 60, 10),
        ({"tail_kind": "none", "tail_length_in": None, "tail_drop_in": None}, 0, 0),
        ({"tail_kind": "tilt", "tail_length_in": None, "tail_drop_in": None}, 0, 0),
        ({"tail_kind": "lowering", "tail_length_in": 60, "tail_drop_in": 0}, 60, 0),
        ({"tail_kind": None, "tail_length_in": 0, "tail_drop_in": None}, 0, 0),
        ({"tail_kind": None, "tail_length_in": None, "tail_drop_in": None}, math.nan, math.nan),
    ],
)
def test_tails(tail, length, drop):
    made = columns(trailer(**{f"deck__{k}": v for k, v in tail.items()}))
    np.testing.assert_equal([one(made, "tail_length_in"), one(made, "tail_drop_in")], [length, drop])


def test_bed_center_is_the_middle_of_the_deck_where_the_file_states_none():
    # 92 + (288 + 60) / 2
    made = columns(trailer(), trailer(tax=None))
    np.testing.assert_array_equal(made["tax_bed_center_x_in"][:, 0, 0], [266, 266])
    assert math.isnan(one(columns(trailer(tax=None, deck__flat_length_in=None)), "tax_bed_center_x_in"))


def test_an_only_axle_shares_with_nobody():
    made = columns(trailer(suspension=None), trailer(suspension=None, axle=[{"gawr_lb": 7_000}]))
    np.testing.assert_array_equal(made["suspension_kind"][:, 0, 0], [np.nan, 0])


def test_each_trailer_takes_the_hitch_of_its_kind():
    tag = trailer(coupling=TAG["coupling"])
    pintle = trailer(coupling={"kind": "pintle"})
    made = columns(trailer(), tag, pintle)
    np.testing.assert_array_equal(made["hitch_present"][:, 0, 0], [1, 1, 0])
    np.testing.assert_array_equal(made["hitch_ahead_in"][:, 0, 0], [3, -60, np.nan])
    np.testing.assert_array_equal(made["truck_tow_rating_lb"][:, 0, 0], [30_000, 20_000, np.nan])


def test_of_two_hitches_of_a_kind_the_one_of_the_balls_size_is_taken():
    truck = table("truck")
    truck["hitch"].append({"kind": "ball", "ball_size_in": 2, "gross_rating_lb": 8_000})
    small = trailer(coupling={"kind": "ball", "ball_size_in": 2})
    other = trailer(coupling={"kind": "ball", "ball_size_in": 1.875})
    made = columns(small, other, haul=haul(truck=truck))
    np.testing.assert_array_equal(made["hitch_ball_size_in"][:, 0, 0], [2, 2.3125])


def test_a_truck_that_says_nothing_of_hitches_is_not_known_to_have_one():
    truck = table("truck", hitch=None)
    assert math.isnan(one(columns(haul=haul(truck=truck)), "hitch_present"))
    assert one(columns(haul=haul(truck={**truck, "hitch": []})), "hitch_present") == 0


def test_only_a_ball_distributes_weight():
    whole = haul(weight_distribution=True, front_restoration=0.5)
    made = columns(trailer(), trailer(coupling=TAG["coupling"]), haul=whole)
    np.testing.assert_array_equal(made["weight_distribution"][:, 0, 0], [0, 1])
    np.testing.assert_array_equal(made["front_restoration"][:, 0, 0], [0, 0.5])
    unsaid = columns(trailer(coupling=TAG["coupling"]), haul=haul(weight_distribution=True))
    assert math.isnan(one(unsaid, "front_restoration"))


def test_distribution_takes_the_makers_distributing_figure():
    truck = table("truck", tow_ratings__ball_lb=10_000, tow_ratings__distributing_lb=18_000)
    tag = trailer(coupling=TAG["coupling"])
    assert one(columns(tag, haul=haul(truck=truck)), "truck_tow_rating_lb") == 10_000
    assert one(columns(tag, haul=haul(truck=truck, weight_distribution=True)), "truck_tow_rating_lb") == 18_000


def test_a_truck_without_gear_carries_nothing_known():
    made = columns(haul=haul(truck=table("truck", gear=None)))
    assert made["gear_weight_lb"].shape == (1, 1, 1, 1)
    assert (one(made, "gear_weight_lb"), one(made, "gear_x_in")) == (0, 0)


def test_facing_turns_the_places_round():
    # the track loader: length 150, CG 82, tracks from 46 to 112
    whole = haul()
    both = [Arrangement((0,), ("front-first",)), Arrangement((0,), ("rear-first",))]
    made = item_columns(whole, both)
    np.testing.assert_array_equal(made["item_cg_in"].reshape(-1), [82, 68])
    np.testing.assert_array_equal(made["item_contact_front_in"].reshape(-1), [46, 38])
    np.testing.assert_array_equal(made["item_contact_rear_in"].reshape(-1), [112, 104])
    # CG +-4 and length +-2: from the other end both are off at once
    np.testing.assert_array_equal(made.plus_minus["item_cg_in"].reshape(-1), [4, 6])


def test_wheels_bear_from_the_first_axle_to_the_last():
    wheeled = table("cargo", contact={"kind": "wheels", "axles_from_front_in": [40, 120], "outer_width_in": 78})
    made = item_columns(haul(cargo=[{"piece": wheeled}]), [Arrangement((0,), ("front-first",))])
    assert (one(made, "item_contact_front_in"), one(made, "item_contact_rear_in")) == (40, 120)


def test_a_machine_without_contact_is_not_known_and_a_crate_bears_over_its_length():
    front = [Arrangement((0,), ("front-first",))]
    machine = item_columns(haul(cargo=[{"piece": table("cargo", contact=None)}]), front)
    assert math.isnan(one(machine, "item_contact_front_in"))
    crate = {"id": "c", "kind": "crate", "weight_lb": 900, "length_in": 96, "width_in": 48, "cg_from_front_in": 30}
    for facing, cg in (("front-first", 30), ("rear-first", 66)):
        made = item_columns(haul(cargo=[{"piece": crate}]), [Arrangement((0,), (facing,))])
        assert one(made, "item_contact_front_in") == 0
        assert one(made, "item_contact_rear_in") == 96
        assert one(made, "item_contact_width_in") == 48
        assert one(made, "item_cg_in") == cg


def test_bales_make_one_uniform_block():
    # 18 bales, 2 abreast, 6 on top: (18 - 6) / 2 = 6 rows of 60 in; 18 x 900 lb; 2 x 48 in; 2 x 60 in high
    whole = haul(cargo=[{"piece": table("cargo", 1)}])
    made = item_columns(whole, arrangements(whole))
    read = [one(made, f"item_{n}") for n in ("weight_lb", "length_in", "width_in", "height_in", "cg_in")]
    assert read == [16_200, 360, 96, 120, 180]
    assert len(arrangements(whole)) == 1


def test_rows_are_counted_up():
    pieces = read_thing(Cargo, table("cargo", 1, pieces__count=19)).pieces
    assert pieces.rows == 7


def test_no_cargo_is_one_piece_that_is_not_there():
    whole = haul().model_copy(update={"cargo": ()})
    made = columns(haul=whole, placement=[])
    assert made["item_present"].shape == made["item_front_x_in"].shape == (1, 1, 1, 1)
    assert one(made, "item_present") == one(made, "item_weight_lb") == 0
    assert len(arrangements(whole)) == 1


def load(id_, **changes):
    return {"piece": table("cargo", id=id_, **changes)}


def test_orders_and_facings_of_different_pieces():
    # 2 orders x 2 x 2 facings
    assert len(arrangements(haul(cargo=[load("a"), load("b")]))) == 8


def test_equal_pieces_are_not_told_apart():
    # of two alike: both front, both rear, front then rear, rear then front
    twice = arrangements(haul(cargo=[load("a") | {"count": 2}]))
    seen = [tuple(a.facing[i] for i in a.order) for a in twice]
    assert sorted(seen) == [
        ("front-first", "front-first"),
        ("front-first", "rear-first"),
        ("rear-first", "front-first"),
        ("rear-first", "rear-first"),
    ]


@pytest.mark.parametrize(
    ("changes", "facing", "ways"),
    [
        ({}, "either", 2),
        ({}, "front-first", 1),
        ({}, "rear-first", 1),
        ({"either_way": False}, "either", 1),
        ({"cg_from_front_in": 75, "contact__start_from_front_in": 42}, "either", 1),  # the same both ways
    ],
)
def test_facings_allowed(changes, facing, ways):
    found = arrangements(haul(cargo=[{"piece": table("cargo", **changes), "facing": facing}]))
    assert len(found) == ways
    if facing != "either":
        assert found[0].facing == (facing,)


def test_arrangements_stop_at_the_most():
    many = haul(cargo=[load(name) for name in "abcdef"])
    found = arrangements(many, most=50)
    assert len(found) == 50
    assert found[0].order == (0, 1, 2, 3, 4, 5)


def test_offsets_stand_the_pieces_behind_each_other():
    # 150 long, gap 12: the second stands 162 behind the first
    whole = haul(cargo=[load("a", either_way=False), load("b", length_in=120, either_way=False)])
    made = offsets_in(whole, arrangements(whole))
    np.testing.assert_array_equal(made[:, 0, :, 0], [[0, 132], [162, 0]])
    wider = whole.model_copy(update={"gap_in": haul(gap_in=20).gap_in})
    np.testing.assert_array_equal(offsets_in(wider, arrangements(wider))[:, 0, 0, 0], [0, 170])


@given(st.lists(st.tuples(st.sampled_from("abc"), st.booleans()), min_size=1, max_size=4))
def test_arrangements_are_orders_and_none_comes_twice(loads):
    whole = haul(cargo=[load(name, either_way=either) for name, either in dict(loads).items()])
    found = arrangements(whole)
    assert len(set(found)) == len(found)
    for a in found:
        assert sorted(a.order) == list(range(len(pieces_of(whole))))
    n = len(pieces_of(whole))
    turning = sum(p.either_way for p in pieces_of(whole))
    assert len(found) == math.factorial(n) * 2**turning


def test_a_placement_is_given_by_piece():
    whole = haul(cargo=[load("a"), load("b")])
    arranged = arrangements(whole)[:1]
    made = columns(trailer(), trailer(), haul=whole, arranged=arranged, placement=[[100, 110], [300, 310]])
    assert made["item_front_x_in"].shape == (2, 2, 1, 1)
    assert made["item_front_x_in"][1, 0, 0, 0] == 300
    assert made.units == 2


def test_a_placement_of_the_wrong_length_is_refused():
    with pytest.raises(ValueError, match=r"one place for each of 1 pieces, got shape \(2,\)"):
        columns(placement=[1, 2])


@pytest.mark.parametrize("field", ["truck", "limits", "cargo"])
def test_a_haul_of_ids_is_refused(field):
    named = {"truck": "t", "limits": "l", "cargo": (haul().cargo[0].model_copy(update={"piece": "p"}),)}
    with pytest.raises(TypeError, match=r"names .* by id; resolve it first|names p by id; resolve it first"):
        columns(haul=haul().model_copy(update={field: named[field]}))


def test_a_yards_columns_can_be_made_before():
    units = (trailer(), trailer(id="b", deck__height_in=33))
    before = columns(*units)
    after = columns(*units, of_trailers=trailer_columns(units))
    for name in before.values:
        np.testing.assert_array_equal(before[name], after[name])


def test_a_row_of_many_is_the_rows_of_each():
    units = [trailer(id=f"t{n}", deck__height_in=30 + n, axle__1__from_coupler_in=280 + n) for n in range(5)]
    made = columns(*units)
    for n, unit in enumerate(units):
        alone, of_many = columns(unit), made.take(slice(n, n + 1))
        for name in alone.values:
            np.testing.assert_array_equal(alone[name], of_many[name])
