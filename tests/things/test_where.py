"""From a column back to the line of the file."""

import math

import pytest

from rubrail.quantity.value import Value
from rubrail.things.names import COLUMNS, ROAD
from rubrail.things.rigs import rig_columns
from rubrail.things.where import where_is
from things.samples import haul, table, trailer


@pytest.mark.parametrize("name", ROAD)
def test_the_value_there_is_the_value_in_the_column(name):
    whole, unit = haul(cargo=[{"piece": table("cargo"), "facing": "front-first"}]), trailer()
    made = rig_columns(haul=whole, trailers=[unit], placement=[200])
    members = len(made[name]) if COLUMNS[name].per else 1
    for member in range(members):
        path, value = where_is(name, whole, unit, member)
        assert " of " in path
        if name == "item_front_x_in":
            continue
        column = made[name][member] if COLUMNS[name].per else made[name]
        number = column.item()
        assert value is None if math.isnan(number) else float(value) == number
        if isinstance(value, Value):
            plus_minus, basis = (
                p[name][member] if COLUMNS[name].per else p[name] for p in (made.plus_minus, made.basis)
            )
            assert (plus_minus.item(), basis.item()) == (value.plus_minus, value.basis)


@pytest.mark.parametrize(
    ("name", "member", "path"),
    [
        ("trailer_gvwr_lb", None, "ratings.gvwr_lb of trailer GN-2410"),
        ("axle_gawr_lb", 1, "axle[2].gawr_lb of trailer GN-2410"),
        ("axle_tire_max_load_lb", 0, "axle[1].tires.max_load_dual_lb of trailer GN-2410"),
        ("truck_rear_axle_lb", None, "weights.rear_axle_lb of truck one-ton-dual"),
        ("truck_tow_rating_lb", None, "tow_ratings.gooseneck_lb of truck one-ton-dual"),
        ("hitch_height_in", None, "hitch[1].height_in of truck one-ton-dual"),
        ("gear_weight_lb", 0, "gear[1].weight_lb of truck one-ton-dual"),
        ("gear_weight_lb", 4, "gear[5], which truck one-ton-dual does not have"),
        ("item_cg_in", 0, "cg_from_front_in of cargo track-loader-11k"),
        ("item_contact_front_in", 0, "contact.start_from_front_in of cargo track-loader-11k"),
        ("item_weight_lb", 3, "cargo[4], which haul H-07 does not have"),
        ("limit_height_in", None, "height_in of limits federal"),
        ("use", None, "use of haul H-07"),
        ("axle_x_in", 5, "axle[6], which trailer GN-2410 does not have"),
    ],
)
def test_paths(name, member, path):
    assert where_is(name, haul(), trailer(), member).path == path


def test_a_block_is_measured_by_its_pieces():
    whole = haul(cargo=[{"piece": table("cargo", 1)}])
    assert where_is("item_weight_lb", whole, trailer(), 0) == (
        "pieces.weight_lb of cargo hay-18",
        Value(16_200, "estimated", 1_620),
    )
    assert where_is("item_cg_in", whole, trailer(), 0).path == "cg_from_front_in of cargo hay-18"


def test_a_missing_hitch_is_named_by_its_kind():
    pintle = trailer(coupling={"kind": "pintle"})
    assert where_is("hitch_height_in", haul(), pintle).path == "a [[hitch]] of kind pintle of truck one-ton-dual"


def test_an_unknown_name_is_refused():
    with pytest.raises(KeyError):
        where_is("no_such_column", haul(), trailer())
