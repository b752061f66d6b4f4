"""What is drawn stands where the specification says: every place is the spec's inches times the drawing's scale."""

from __future__ import annotations

import math

import pytest

from rubrail.sheets.drawing import plan_view, side_view, thumbnail, trailer_outline
from sheets.drawing.made import gooseneck, tag, unknown
from sheets.drawing.reading import Drawing, points, span

WIDTHS = (340.0, 700.0, 960.0)


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("make", [gooseneck, tag])
def test_wheels_stand_at_their_axles_on_the_ground(make, width):
    trailer = make()
    drawing = Drawing(side_view(trailer, width_px=width))
    s = drawing.scale
    wheels = drawing.parts("wheel")
    assert [float(w.get("cx")) for w in wheels] == pytest.approx(
        [float(a.from_coupler_in) * s for a in trailer.axle], abs=0.01
    )
    for wheel in wheels:
        # Its lowest point touches the ground, which is y = 0.
        assert float(wheel.get("cy")) + float(wheel.get("r")) == pytest.approx(0, abs=0.01)


def test_the_stated_loaded_radius_is_the_radius_drawn():
    drawing = Drawing(side_view(gooseneck()))
    assert float(drawing.parts("wheel")[0].get("r")) == pytest.approx(14.5 * drawing.scale, abs=0.01)


def test_duals_are_marked_and_single_wheels_are_not():
    assert len(Drawing(side_view(gooseneck())).parts("dual")) == 2
    assert Drawing(side_view(tag())).parts("dual") == []


@pytest.mark.parametrize("width", WIDTHS)
def test_the_deck_lies_at_its_place_and_height_and_falls_at_its_tail(width):
    drawing = Drawing(side_view(gooseneck(), width_px=width))
    s = drawing.scale
    (surface,) = drawing.parts("deck")
    want = [(92, 34), (392, 34), (452, 23)]
    assert points(surface) == [pytest.approx((x * s, -z * s), abs=0.011) for x, z in want]


def test_crossmembers_lie_at_their_spacing():
    drawing = Drawing(side_view(gooseneck()))
    xs = [float(e.get("x1")) / drawing.scale for e in drawing.parts("crossmember")]
    # 300 in of level deck at 16 in: 18 of them, the last 288 in behind the deck's front at 92.
    assert len(xs) == 18
    assert xs[0] == pytest.approx(108, abs=0.02)
    assert xs[-1] == pytest.approx(380, abs=0.02)


def test_a_stacked_frame_is_deeper_than_a_pierced_one_by_its_crossmembers():
    stacked = trailer_outline(gooseneck())
    frame = {"main_beam": {"depth_in": 12}, "crossmember": {"depth_in": 3}, "deck_thickness_in": 1.5}
    pierced = trailer_outline(gooseneck(frame={**frame, "build": "pierced"}))
    assert stacked.beam_bottom_in == pytest.approx(34 - 1.5 - 3 - 12)
    assert pierced.beam_bottom_in == pytest.approx(34 - 1.5 - 12)
    for outline in (stacked, pierced):
        drawing = Drawing(side_view(outline))
        (beam,) = drawing.parts("beam")
        at_front = [y for x, y in points(beam) if x == pytest.approx(92 * drawing.scale, abs=0.02)]
        assert max(at_front) == pytest.approx(-outline.beam_bottom_in * drawing.scale, abs=0.02)


def test_the_coupler_stands_at_the_coupling_point():
    drawing = Drawing(side_view(gooseneck()))
    x1, x2, _, low = span(drawing.parts("coupler"))
    assert x1 < 0 < x2
    assert low == pytest.approx(-(42 - 1.4) * drawing.scale, abs=0.02)


@pytest.mark.parametrize("kind", ["ball", "pintle", "gooseneck", "kingpin"])
def test_each_coupling_is_drawn_as_what_it_is(kind):
    trailer = unknown(kind)
    side, plan = Drawing(side_view(trailer)), Drawing(plan_view(trailer))
    assert len(side.parts("coupler")) == 1
    assert bool(side.parts("neck")) is (kind in ("gooseneck", "kingpin"))
    assert bool(side.parts("tongue")) is (kind in ("ball", "pintle"))
    assert len(plan.parts("coupler")) == 1


def test_the_neck_clears_the_ground_by_what_is_stated():
    drawing = Drawing(side_view(gooseneck()))
    (neck,) = drawing.parts("neck")
    front = [y for x, y in points(neck) if x == pytest.approx(-10 * drawing.scale, abs=0.02)]
    assert max(front) == pytest.approx(-64 * drawing.scale, abs=0.02)


def test_ramps_stand_as_they_travel_and_reach_the_ground_when_down():
    up, down = Drawing(side_view(gooseneck())), Drawing(side_view(gooseneck(), deployed=True))
    # Standing: from the tail's edge at 23 in, 61 in tall; the neck is at most 75 in high.
    assert -up.top / up.scale > 23 + 55
    # Down: the far end lies sqrt(61^2 - 23^2) = 56.5 in behind the tail's edge at 452 in.
    reach = 452 + math.sqrt(61**2 - 23**2)
    _, right, _, low = span(down.parts("ramp"))
    assert right == pytest.approx(reach * down.scale, abs=2)
    assert low == pytest.approx(0, abs=1)


def test_every_dimension_lettered_is_the_one_stated():
    texts = Drawing(side_view(gooseneck())).texts()
    for stated in ("92 in", "25 ft", "60 in", "42 in", "64 in", "34 in", "23 in", "38 ft 10 in"):
        assert stated in texts
    assert texts.count("42 in") == 2  # coupler height and axle spacing


def test_metric_letters_the_same_lengths():
    texts = Drawing(side_view(gooseneck(), metric=True)).texts()
    # 25.4 mm an inch: 300 in = 7.62 m; 34 in = 863.6 mm; 92 in = 2.3368 m.
    assert {"7.62 m", "864 mm", "2.337 m"} <= set(texts)
    assert not [t for t in texts if t.endswith((" in", " ft"))]


def test_what_is_not_known_is_dashed_and_never_lettered_with_a_number():
    drawing = Drawing(side_view(unknown()))
    for part in ("deck", "deck-edge", "beam", "neck", "wheel", "crossmember"):
        assert all(e.get("stroke-dasharray") for e in drawing.parts(part)), part
    named = [t for t in drawing.letters() if t.attributes.get("data-dim")]
    assert named
    assert {t.text for t in named} <= {"not known", "?"}
    assert any("dashed: not known" in t for t in drawing.texts())


@pytest.mark.parametrize("make", [gooseneck, tag])
def test_what_is_known_is_never_dashed(make):
    drawing = Drawing(side_view(make()))
    assert [e.attrib for e in drawing.elements() if e.get("stroke-dasharray")] == []


@pytest.mark.parametrize(
    ("table", "field", "part"),
    [("deck", "height_in", "deck"), ("deck", "flat_length_in", "deck"), ("coupling", "height_in", "coupler")],
)
def test_one_missing_number_dashes_what_rests_on_it(table, field, part):
    whole = gooseneck().model_dump(by_alias=True, exclude_none=True)
    values = {k: v for k, v in whole[table].items() if k != field}
    drawing = Drawing(side_view(gooseneck(**{table: values})))
    assert all(e.get("stroke-dasharray") for e in drawing.parts(part))


def test_plan_and_side_stand_in_line():
    for width in WIDTHS:
        for make in (gooseneck, tag, unknown):
            side, plan = Drawing(side_view(make(), width_px=width)), Drawing(plan_view(make(), width_px=width))
            assert (side.scale, side.left, side.width) == (plan.scale, plan.left, plan.width)


def test_the_plan_is_as_wide_as_stated():
    drawing = Drawing(plan_view(tag()))
    (deck,) = drawing.parts("deck")
    assert span([deck]) == pytest.approx(tuple(v * drawing.scale for v in (58, 274, -41, 41)), abs=0.02)
    _, _, low, high = span(drawing.parts("fender"))
    assert (low, high) == pytest.approx((-51 * drawing.scale, 51 * drawing.scale), abs=0.02)
    assert {"82 in", "102 in"} <= set(drawing.texts())


def test_anchors_are_drawn_on_both_sides_of_the_plan():
    drawing = Drawing(plan_view(gooseneck()))
    marks = [(float(e.get("cx")), float(e.get("cy"))) for e in drawing.parts("anchor")]
    s = drawing.scale
    assert sorted(marks) == [pytest.approx((150 * s, y * s), abs=0.02) for y in (-49, 49)]


def test_a_right_hand_anchor_lies_up_the_page():
    trailer = gooseneck(anchor=[{"kind": "D-ring", "from_coupler_in": 150, "y_in": 49}])
    (mark,) = Drawing(plan_view(trailer)).parts("anchor")
    # Front to the left and seen from above, right of the center line is up.
    assert float(mark.get("cy")) < 0


def test_thumbnails_of_one_list_share_a_scale_and_a_size():
    short, long = Drawing(thumbnail(tag())), Drawing(thumbnail(gooseneck()))
    assert short.scale == long.scale
    assert (short.width, short.height) == (long.width, long.height) == (160, 48)
    assert short.texts() == []
    assert len(short.parts("wheel")) == 2


def test_a_short_trailer_does_not_become_a_poster():
    assert Drawing(side_view(tag(), width_px=2400)).scale == 2.2


def test_the_drawing_is_named_and_told_in_words():
    drawing = Drawing(side_view(gooseneck(title='A <b>"&" neck')))
    assert drawing.root[0].text == 'A <b>"&" neck: side view to scale'
    assert drawing.root.get("role") == "img"
    assert "level deck 25 ft" in drawing.root[1].text
    assert "deck height not known" in Drawing(side_view(unknown())).root[1].text


def test_a_lowering_tail_is_let_down_to_what_is_stated():
    deck = {
        "kind": "deck-over",
        "front_from_coupler_in": 92,
        "flat_length_in": 300,
        "tail_kind": "lowering",
        "tail_length_in": 60,
        "tail_drop_in": 0,
        "tail_lowered_height_in": 5,
        "width_in": 102,
        "height_in": 34,
    }
    travels = Drawing(side_view(gooseneck(deck=deck)))
    loads = Drawing(side_view(gooseneck(deck=deck), deployed=True))
    assert points(travels.parts("deck")[0])[-1][1] == pytest.approx(-34 * travels.scale, abs=0.02)
    assert points(loads.parts("deck")[0])[-1][1] == pytest.approx(-5 * loads.scale, abs=0.02)


def test_a_tilting_deck_meets_the_ground_at_its_angle():
    deck = {
        "kind": "between-fenders",
        "front_from_coupler_in": 58,
        "flat_length_in": 216,
        "tail_kind": "tilt",
        "tilt_length_in": 168,
        "tilt_angle_deg": 12,
        "width_in": 82,
        "height_in": 26,
    }
    drawing = Drawing(side_view(tag(deck=deck), deployed=True))
    (ax, ay), (bx, by) = points(drawing.parts("deck")[-1])
    assert by == pytest.approx(0, abs=0.02)
    assert math.degrees(math.atan2(by - ay, bx - ax)) == pytest.approx(12, abs=0.02)
    assert math.hypot(bx - ax, by - ay) == pytest.approx(168 * drawing.scale, abs=0.02)
    assert drawing.bottom_of("tilt-deck") <= 0.05
