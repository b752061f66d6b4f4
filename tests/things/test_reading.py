"""A field reads a plain number, text with a unit, or a table; its basis and tolerance follow the rules."""

import pytest

from rubrail.quantity.value import Value
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer
from things.samples import table, thing, trailer


@pytest.mark.parametrize(
    ("written", "read"),
    [
        (7_420, Value(7_420, "maker", 150)),
        ("7,420 lb", Value(7_420, "maker", 150)),
        ({"value": 7_420}, Value(7_420, "maker", 150)),
        ({"value": "7,420 lb", "basis": "weighed"}, Value(7_420, "weighed", 40)),
        ({"value": 7_420, "basis": "weighed", "plus_minus": "10 lb"}, Value(7_420, "weighed", 10)),
        ({"value": 7_420, "basis": "weighed", "plus_minus": 0}, Value(7_420, "weighed", 0)),
        ({"value": 7_420, "basis": "label"}, Value(7_420, "label", 0)),
        ("not known", None),
        ("", None),
        ({"value": "not known", "basis": "estimated"}, None),
    ],
)
def test_ways_to_write_a_number(written, read):
    assert trailer(weights__empty_lb=written).weights.empty_lb == read


def test_left_out_is_not_known():
    assert trailer(weights__empty_lb=None).weights.empty_lb is None
    assert trailer(weights=None).weights.empty_lb is None


def test_ratings_are_on_the_label_unless_the_file_says_that_nobody_read_them():
    rated = trailer(ratings__gvwr_lb=24_000, basis="estimated")
    assert rated.ratings.gvwr_lb == Value(24_000, "label", 0)
    guessed = trailer(ratings__gvwr_lb={"value": 24_000, "basis": "typical"})
    assert guessed.ratings.gvwr_lb == Value(24_000, "typical", 2_400)
    assert trailer(ratings__gvwr_lb=guessed.model_dump()["ratings"]["gvwr_lb"]) == guessed


def test_the_nearest_basis_counts():
    own = trailer(basis="typical", weights={"basis": "weighed", "empty_lb": 7_420, "empty_coupler_lb": 1_610})
    assert own.weights.empty_lb.basis == "weighed"
    assert own.deck.height_in.basis == "typical"
    assert trailer(basis=None).deck.height_in.basis == "estimated"


def test_a_basis_does_not_leak_into_what_is_read_next():
    trailer(basis="typical")
    assert trailer(basis=None).deck.height_in.basis == "estimated"
    with pytest.raises(ValueError, match=r"deck\.height_in must be"):
        trailer(basis="typical", deck__height_in=-1)
    assert trailer(basis=None).deck.height_in.basis == "estimated"


def test_a_truck_within_a_haul_keeps_its_own_basis():
    whole = thing("haul", truck=table("truck", basis="typical"), cargo=[{"piece": table("cargo", basis="measured")}])
    assert whole.truck.size.wheelbase_in.basis == "typical"
    assert whole.cargo[0].piece.length_in.basis == "measured"


def test_tire_pressure_without_a_basis_is_the_labels():
    plain = trailer(axle__1__tires__pressure_psi=80).axle[0].tires.pressure_psi
    assert plain == Value(80, "label", 0)


def test_a_haul_of_ids_stays_ids():
    assert thing("haul").truck == "one-ton-dual"
    assert thing("haul").cargo[0].piece == "track-loader-11k"


@pytest.mark.parametrize("kind", ["trailer", "truck", "cargo", "haul", "limits"])
def test_written_back_it_reads_the_same(kind):
    before = thing(kind)
    written = before.model_dump(mode="json", by_alias=True, exclude_unset=True)
    assert read_thing(type(before), written) == before


def test_a_thing_cannot_be_changed():
    with pytest.raises(ValueError, match="frozen"):
        trailer().id = "other"
    with pytest.raises(ValueError, match="frozen"):
        trailer().deck.height_in = None


def test_made_in_code_it_reads_as_from_a_file():
    assert Trailer(**table("trailer")) == trailer()


@pytest.mark.parametrize(("kind", "many"), [("gate", 1), ("full-width", 1), ("stand-up", 2)])
def test_how_many_ramps_where_nobody_says(kind, many):
    """Across the whole width there is one; a pair else."""
    assert trailer(ramp=[{"kind": kind}]).ramp[0].count == many
    assert trailer(ramp=[{"kind": kind, "count": 3}]).ramp[0].count == 3
