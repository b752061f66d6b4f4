"""Ordered against received, field by field: same or not, what rests on it, what it costs."""

from __future__ import annotations

import math

import pytest

from answers.receiving import changed, gooseneck, label, maker, measured
from answers.yard import yard
from rubrail.answers.receive_fields import compare_fields
from rubrail.answers.receive_names import GROUPS, group_of, label_of
from rubrail.answers.receive_pairs import put
from rubrail.sheets.sentences_receive import effect_words
from rubrail.things.build import Equipment
from rubrail.things.trailer import Trailer


def field(path, *, ordered, received):
    return next(f for f in compare_fields(ordered=ordered, received=received).fields if f.path == path)


def verdict(path, *, ordered, received):
    return field(path, ordered=ordered, received=received).verdict


@pytest.mark.parametrize(
    ("ordered", "received", "word"),
    [
        (maker(102), measured(101.9, 0.5), "same"),
        (maker(102), measured(101.5, 0.5), "same"),  # exactly as far as the tape may be off
        (maker(102), measured(101.4, 0.5), "differs"),
        (maker(102, 1), measured(100.6, 0.5), "same"),
        (maker(102), None, "not known"),
        (None, measured(102), "not ordered"),
    ],
)
def test_a_measured_number_has_its_tolerances(ordered, received, word):
    a, b = gooseneck(size__width_in=ordered), gooseneck(size__width_in=received)
    assert verdict("size.width_in", ordered=a, received=b) == word


def test_a_rating_has_none():
    a, b = gooseneck(ratings__gvwr_lb=label(22_500)), gooseneck(ratings__gvwr_lb=label(22_499))
    assert verdict("ratings.gvwr_lb", ordered=a, received=b) == "differs"
    rounded = gooseneck(coupling__ball_size_in=maker(2.3125000001))
    assert verdict("coupling.ball_size_in", ordered=gooseneck(), received=rounded) == "same"


def test_what_neither_has_is_no_row():
    a = gooseneck(jack__kind=None)
    paths = [f.path for f in compare_fields(ordered=a, received=a).fields]
    assert "jack.kind" not in paths
    assert not {"id", "title", "price_usd", "cost_usd", "location", "notes", "status"} & set(paths)


def test_words_are_the_same_in_any_letters():
    assert verdict("color", ordered=gooseneck(color="Gull  Gray"), received=gooseneck(color="gull gray")) == "same"
    assert verdict("color", ordered=gooseneck(color="gray"), received=gooseneck(color="black")) == "differs"


def test_axles_that_agree_are_one_row_and_others_are_not():
    both = field("axle.*.gawr_lb", ordered=gooseneck(), received=gooseneck(axle__gawr_lb=label(9_000)))
    assert (both.label, both.ordered, both.received) == ("axle rating (GAWR), each axle", "10,000 lb", "9,000 lb")
    one = put(gooseneck(), "axle.1.gawr_lb", label(9_000))
    found = compare_fields(ordered=gooseneck(), received=one).fields
    rows = {f.path: f.verdict for f in found if f.path.endswith(".gawr_lb")}
    assert rows == {"axle.0.gawr_lb": "same", "axle.1.gawr_lb": "differs"}


def test_an_axle_too_few_is_told_as_an_axle():
    three = put(gooseneck(), "axle.2", gooseneck().axle[1])
    row = field("axle.2", ordered=three, received=gooseneck())
    assert (row.verdict, row.received, row.label) == ("differs", "not there", "axle 3")
    assert row.touches == "payload"


def test_anchors_are_matched_by_place():
    t = gooseneck()
    without = t.model_copy(update={"anchor": t.anchor[:3] + t.anchor[4:]})
    rows = [f for f in compare_fields(ordered=t, received=without).fields if f.group == "Places to tie to"]
    assert [f.ordered for f in rows if f.verdict == "differs"] == ["D-ring at 233 in, both sides, 6,000 lb"]
    assert sum(f.verdict == "same" for f in rows) == len(t.anchor) - 1
    weak = put(t, "anchor.2.wll_lb", label(3_000))
    (row,) = (f for f in compare_fields(ordered=t, received=weak).fields if f.verdict == "differs")
    assert (row.ordered, row.received) == ("6,000 lb", "3,000 lb")
    assert "tiedown-aggregate" in row.limits


def test_a_member_set_back_or_taken_off_leaves_the_others():
    t = gooseneck()
    assert put(t, "anchor.1", None).anchor == (t.anchor[0], *t.anchor[2:])
    assert put(t, f"anchor.{len(t.anchor)}", t.anchor[0]).anchor == (*t.anchor, t.anchor[0])


@pytest.mark.parametrize(
    ("ordered", "received"), [("SH-101", "SH-191"), ("SH-191", "SH-101"), ("SH-203", "SH-113"), ("SH-121", "SH-174")]
)
def test_units_of_quite_different_kinds_can_be_compared(ordered, received):
    told = compare_fields(ordered=yard().trailers[ordered], received=yard().trailers[received])
    paths = [f.path for f in told.fields]
    assert len(set(paths)) == len(paths)
    assert {f.verdict for f in told.fields} >= {"same", "differs"}
    assert all(f.ordered != f.received for f in told.fields if f.verdict == "differs")


def test_missing_equipment_is_missing_only_where_somebody_listed_it():
    spare = Equipment(tag="spare-tire", says="spare tire and carrier")
    ordered = gooseneck(equipment=(*gooseneck().equipment, spare))
    listed = compare_fields(ordered=ordered, received=gooseneck()).fields
    row = next(f for f in listed if f.label == "spare tire and carrier")
    assert (row.verdict, row.received) == ("differs", "not there")
    nobody = compare_fields(ordered=ordered, received=gooseneck(equipment=())).fields
    assert {f.verdict for f in nobody if f.path.startswith("equipment")} == {"not known"}


@pytest.mark.parametrize(
    ("path", "touches"),
    [
        ("ratings.gvwr_lb", "payload"),
        ("weights.empty_lb", "payload"),
        ("axle.*.tires.max_load_dual_lb", "payload"),
        ("axle.*.tires.max_load_lb", ""),  # singles' figure, on duals
        ("coupling.vertical_rating_lb", "payload"),
        ("size.width_in", "limits"),
        ("plug", "limits"),
        ("ramp.0.length_in", "limits"),
        ("frame.crossmember_spacing_in", ""),
        ("color", ""),
        ("maker", ""),
    ],
)
def test_what_rests_on_a_field_is_what_the_checks_ask_for(path, touches):
    assert field(path, ordered=gooseneck(), received=gooseneck()).touches == touches


def test_each_difference_is_set_back_alone():
    """By label 22,500 - 7,120 = 15,380 lb. A GVWR 2,500 lb lower costs 2,500; 400 lb more of trailer costs 400."""
    received = gooseneck(ratings__gvwr_lb=label(20_000), weights__empty_lb=maker(7_520, 150))
    told = compare_fields(ordered=gooseneck(), received=received)
    by_path = {f.path: f for f in told.fields}
    assert by_path["ratings.gvwr_lb"].label_lb == pytest.approx(-2_500)
    assert by_path["ratings.gvwr_lb"].axles_lb == pytest.approx(0)
    assert by_path["weights.empty_lb"].label_lb == pytest.approx(-400)
    assert math.isnan(by_path["color"].label_lb)
    assert told.costliest == "ratings.gvwr_lb"
    label_row = next(p for p in told.payload if p.key == "label")
    assert (label_row.ordered_lb, label_row.received_lb) == pytest.approx((15_380, 12_480))
    assert label_row.change_lb == pytest.approx(-2_900)


def test_a_difference_that_only_the_trailer_alone_feels_is_told():
    """A coupler for 18,000 lb less 7,120 lb empty leaves 10,880 lb, whatever label and axles would leave."""
    told = compare_fields(ordered=gooseneck(), received=gooseneck(coupling__gross_rating_lb=label(18_000)))
    coupler = next(f for f in told.fields if f.path == "coupling.gross_rating_lb")
    assert (coupler.label_lb, coupler.axles_lb) == pytest.approx((0, 0))
    alone = next(p for p in told.payload if p.key == "alone")
    assert alone.received_lb == pytest.approx(18_000 - 7_120)
    assert coupler.alone_lb == pytest.approx(alone.change_lb)
    assert coupler.alone_lb < -1_000
    assert effect_words(coupler).endswith("lb at its best place")
    assert told.costliest == "coupling.gross_rating_lb"


def test_a_difference_for_the_better_costs_nothing():
    told = compare_fields(ordered=gooseneck(), received=gooseneck(ratings__gvwr_lb=label(23_000)))
    assert told.costliest == ""
    assert next(f.label_lb for f in told.fields if f.path == "ratings.gvwr_lb") == pytest.approx(500)


def test_without_an_order_nothing_is_compared():
    told = compare_fields(ordered=None, received=gooseneck())
    assert {f.verdict for f in told.fields} == {"not ordered"}
    assert all(math.isnan(p.ordered_lb) and math.isnan(p.change_lb) for p in told.payload)
    assert not math.isnan(told.payload[0].received_lb)


def test_what_is_not_known_stays_so():
    told = compare_fields(ordered=gooseneck(), received=gooseneck(ratings__gvwr_lb=None))
    row = next(f for f in told.fields if f.path == "ratings.gvwr_lb")
    assert (row.verdict, row.received, row.touches) == ("not known", "not known", "payload")
    assert math.isnan(row.label_lb)
    assert math.isnan(next(p.received_lb for p in told.payload if p.key == "label"))


UNITS = sorted(yard().trailers)


@pytest.mark.parametrize("name", UNITS[::6])
def test_a_unit_is_as_itself(name):
    t = yard().trailers[name]
    told = compare_fields(ordered=t, received=t)
    assert {f.verdict for f in told.fields} == {"same"}
    assert told.costliest == ""
    assert all(p.change_lb == 0 or math.isnan(p.change_lb) for p in told.payload)
    assert [GROUPS.index(f.group) for f in told.fields] == sorted(GROUPS.index(f.group) for f in told.fields)
    assert len({f.path for f in told.fields}) == len(told.fields)


def test_putting_a_field_leaves_the_rest():
    t = gooseneck()
    back = put(put(t, "axle.*.gawr_lb", label(9_000)), "axle.*.gawr_lb", label(10_000))
    assert isinstance(back, Trailer)
    assert back == t
    assert changed(t, axle__gawr_lb=label(9_000)) == put(t, "axle.*.gawr_lb", label(9_000))


@pytest.mark.parametrize(
    ("path", "group", "name"),
    [
        ("axle.1.tires.load_range", "Tires and wheels", "tire load range, axle 2"),
        ("axle.*.brakes", "Brakes, plug and lamps", "axle brakes"),
        ("ramp.1.length_in", "Ramps", "ramp length, ramp 2"),
        ("frame.main_beam.depth_in", "Frame", "main beam depth"),
        ("weights.empty_lb", "Ratings and weights", "empty weight"),
    ],
)
def test_names(path, group, name):
    assert (group_of(path), label_of(path)) == (group, name)
