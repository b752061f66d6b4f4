"""The rig: truck, trailer and cargo stand where they couple and where they are put."""

from __future__ import annotations

import math

import pytest

from rubrail.sheets.drawing import LoadMark, Placed, Rig, rig_plan, rig_side
from rubrail.sheets.drawing.placed import Ride, combined_cg_x_in, ride, seat
from rubrail.sheets.drawing.trailer_views import trailer_outline
from sheets.drawing.made import gooseneck, loader, tag, truck, unknown
from sheets.drawing.reading import NS, Drawing, points, span

LOADS = [
    LoadMark("truck-front", 4_900, 6_000, "clear"),
    LoadMark("truck-rear", 8_100, 9_650, "depends"),
    LoadMark("coupler", 4_400, 7_500, "clear"),
    LoadMark("axles", 19_000, 20_000, "over", governs=True),
]


def side(**changes) -> Drawing:
    width = changes.pop("width_px", 960.0)
    table = {"trailer": gooseneck(), "truck": truck(), "cargo": [Placed(loader(), 200)], "loads": LOADS}
    return Drawing(rig_side(Rig(**{**table, **changes}), width_px=width))


def test_the_truck_stands_with_its_hitch_at_the_coupling_point():
    drawing = side()
    front, rear = (float(w.get("cx")) / drawing.scale for w in drawing.parts("truck-wheel"))
    # The ball is 3 in ahead of the rear axle, the front axle 172 in ahead of that.
    assert rear == pytest.approx(3, abs=0.02)
    assert front == pytest.approx(3 - 172, abs=0.02)


def test_a_ball_hitch_lies_behind_the_truck():
    drawing = side(trailer=tag())
    front, rear = (float(w.get("cx")) / drawing.scale for w in drawing.parts("truck-wheel"))
    assert rear == pytest.approx(-56, abs=0.02)
    assert front == pytest.approx(-228, abs=0.02)


@pytest.mark.parametrize("make", [gooseneck, tag])
def test_ball_and_coupler_meet(make):
    drawing = side(trailer=make())
    (ball,) = drawing.parts("ball")
    x1, x2, top, low = span(drawing.parts("coupler"))
    assert x1 < float(ball.get("cx")) < x2
    assert top - 2 <= float(ball.get("cy")) <= low + 2


def test_the_cargo_bears_on_the_deck_where_its_numbers_say():
    drawing = side()
    (track,) = drawing.parts("track")
    numbers = points(track)
    s = drawing.scale
    assert max(y for _, y in numbers) == pytest.approx(-34 * s, abs=0.05)
    # Contact from 56 to 116 in behind its front, which stands at 200 in; round ends reach past it evenly.
    low, high = min(x for x, _ in numbers) / s, max(x for x, _ in numbers) / s
    assert (low + high) / 2 == pytest.approx(200 + (56 + 116) / 2, abs=0.1)
    assert low < 256
    assert high > 316


def test_turned_round_its_contact_and_cg_change_ends():
    placed = Placed(loader(), 200, rear_first=True)
    assert placed.contacts_x_in == (200 + 148 - 116, 200 + 148 - 56)
    assert placed.cg_x_in == 200 + 148 - 90
    drawing = side(cargo=[placed])
    numbers = points(drawing.parts("track")[0])
    middle = (min(x for x, _ in numbers) + max(x for x, _ in numbers)) / 2 / drawing.scale
    assert middle == pytest.approx(200 + 148 - (56 + 116) / 2, abs=0.1)


def test_the_cg_mark_stands_at_the_center_of_gravity():
    drawing = side()
    (mark,) = drawing.parts("cg")
    circle = mark.find(f"{NS}circle")
    assert float(circle.get("cx")) == pytest.approx(290 * drawing.scale, abs=0.05)
    assert float(circle.get("cy")) == pytest.approx(-(34 + 34) * drawing.scale, abs=0.05)
    assert circle.get("stroke-dasharray") is None


def test_a_cg_that_is_not_known_is_dashed():
    mark = side(cargo=[Placed(loader(cg_height_in=None), 200)]).parts("cg")[0]
    assert mark.find(f"{NS}circle").get("stroke-dasharray")


def test_the_pointer_shows_the_center_of_gravity_of_all_cargo():
    # 10,000 lb at 290 in and 5,000 lb at 100 + 90 in: (2,900,000 + 950,000) / 15,000 = 256.67 in, by hand.
    pieces = [Placed(loader(), 200), Placed(loader(id="M", weight_lb=5_000), 100)]
    assert combined_cg_x_in(pieces) == pytest.approx(256.667, abs=0.001)
    drawing = side(cargo=pieces)
    (pointer,) = drawing.parts("load-cg")
    assert points(pointer)[0][0] == pytest.approx(256.667 * drawing.scale, abs=0.05)
    unweighed = [*pieces, Placed(loader(id="N", weight_lb=None), 300)]
    assert combined_cg_x_in(unweighed) is None
    assert side(cargo=unweighed).parts("load-cg") == []


@pytest.mark.parametrize("width", [340.0, 960.0])
def test_each_load_is_lettered_under_its_axle(width):
    drawing = side(width_px=width)
    s = drawing.scale
    at = {t.attributes["data-load"]: t for t in drawing.letters() if "data-load" in t.attributes}
    assert {k: t.text for k, t in at.items()} == {
        "truck-front": "4,900 lb",
        "truck-rear": "8,100 lb",
        "coupler": "4,400 lb",
        "axles": "19,000 lb",
    }
    for place, x in (("truck-front", -169), ("truck-rear", 3), ("axles", 321)):
        box = at[place].box
        assert box.y1 > 0
        assert box.x1 - 25 < x * s < box.x2 + 25
    assert at["coupler"].box.y2 < -64 * s


def test_the_governing_load_is_the_largest_figure():
    sizes = {t.text: float(t.attributes["font-size"]) for t in side().letters()}
    assert sizes["19,000 lb"] == max(sizes.values())
    assert sizes["19,000 lb"] > sizes["4,900 lb"]
    assert "trailer axles, governs" in sizes


def test_every_verdict_has_its_own_shape():
    drawing = side()
    shapes = [e.get("data-verdict") for e in drawing.elements() if e.get("data-verdict")]
    assert sorted(shapes) == ["clear", "clear", "depends", "over"]


def test_a_load_that_is_not_known_says_so():
    drawing = side(
        loads=[LoadMark("truck-rear", math.nan, 9_650, "not known"), LoadMark("axles", 9_000, math.nan, "not known")]
    )
    assert "not known" in drawing.texts()
    assert "limit not known" in drawing.texts()
    with pytest.raises(ValueError, match="place must be one of truck-front, truck-rear, coupler, axles, got 'roof'"):
        LoadMark("roof", 1.0)


@pytest.mark.parametrize("draw", [rig_side, rig_plan])
def test_bands_are_painted_where_they_are(draw):
    rig = Rig(
        trailer=gooseneck(), truck=truck(), cargo=[Placed(loader(), 200)], clear_band=(250, 290), holds_band=(240, 300)
    )
    drawing = Drawing(draw(rig))
    for name, (a, b) in {"clear-band": (250, 290), "depends-band": (240, 300)}.items():
        (band,) = drawing.parts(name)
        x1, x2, *_ = span([band])
        assert (x1, x2) == pytest.approx((a * drawing.scale, b * drawing.scale), abs=0.03)


def test_places_are_counted_from_the_front_of_the_deck():
    texts = side().texts()
    assert "108 in" in texts  # 200 - 92
    assert "CG 198 in" in texts  # 290 - 92


def test_side_and_plan_stand_in_line():
    rig = Rig(trailer=tag(), truck=truck(), cargo=[Placed(loader(), 90)], loads=LOADS)
    for width in (340.0, 960.0):
        a, b = Drawing(rig_side(rig, width_px=width)), Drawing(rig_plan(rig, width_px=width))
        assert (a.scale, a.left, a.width) == (b.scale, b.left, b.width)


def test_footprints_lie_where_the_cargo_stands():
    rig = Rig(trailer=gooseneck(), truck=truck(), cargo=[Placed(loader(), 200)])
    drawing = Drawing(rig_plan(rig))
    s = drawing.scale
    _, _, low, high = span(drawing.parts("contact"))
    assert (low, high) == pytest.approx((-38 * s, 38 * s), abs=0.03)


def test_a_high_hitch_lifts_the_nose_about_the_axles():
    o = trailer_outline(gooseneck())
    set_on, moves = ride(o, hitch_height_in=48.0)
    # 6 in at 321 in ahead of the axles: the nose is up by asin(6 / 321).
    assert moves.pitch_rad == pytest.approx(math.asin(6 / 321))
    assert moves.point(0, 42) == pytest.approx((0, 48))
    assert moves.point(321, 42)[1] == pytest.approx(42, abs=0.02)
    assert set_on.coupler_height_in == 42


def test_an_adjustable_coupler_is_set_level_before_the_trailer_is_tilted():
    coupling = {
        "kind": "gooseneck",
        "height_in": 42,
        "height_min_in": 38,
        "height_max_in": 46,
        "neck_underside_height_in": 64,
    }
    o = trailer_outline(gooseneck(coupling=coupling))
    assert ride(o, hitch_height_in=45.0)[1] == Ride(45.0, 0.0, 0.0)
    assert ride(o, hitch_height_in=47.0)[1].rise_in == pytest.approx(1)
    assert ride(o, hitch_height_in=None)[1].pitch_rad == 0


def test_on_the_break_a_machine_stays_level_until_its_weight_passes_it():
    o = trailer_outline(gooseneck())  # break at 392 in, tail falls 11 in over 60 in
    assert seat(o, front=300, rear=360, cg=330) == (34, 0)
    assert seat(o, front=370, rear=430, cg=390) == (34, 0)
    base, slope = seat(o, front=400, rear=440, cg=420)
    assert base == pytest.approx(34 - 11 * 8 / 60)
    assert slope == pytest.approx(math.atan2(-11 * 40 / 60, 40))


def test_without_a_truck_the_loaded_trailer_stands_alone():
    drawing = side(truck=None)
    assert drawing.parts("truck-wheel") == []
    assert "8,100 lb" not in drawing.texts()
    assert "19,000 lb" in drawing.texts()


def test_a_truck_of_unknown_size_is_dashed():
    from rubrail.things.truck import Truck

    drawing = side(truck=Truck.model_validate({"id": "K"}))
    for part in ("cab", "bed", "truck-wheel"):
        assert all(e.get("stroke-dasharray") for e in drawing.parts(part)), part
    assert any("dashed: not known" in t for t in drawing.texts())


def test_nothing_is_lettered_as_a_length_that_is_not_known():
    drawing = side(trailer=unknown(), loads=())
    assert not [t for t in drawing.letters() if t.attributes.get("data-dim", "").startswith(("piece", "combination"))]


def test_pieces_carry_what_a_script_needs_to_drag_them():
    (piece,) = [e for e in side().elements("g") if e.get("data-part") == "cargo"]
    assert (piece.get("data-item"), piece.get("data-front-x-in"), piece.get("data-cg-x-in")) == ("0", "200", "290")


def test_dual_wheels_widen_the_rear_of_a_pickup_and_not_its_front():
    wide = truck().model_dump(by_alias=True, exclude_none=True)
    wide["size"]["width_in"], wide["tires"]["rear_count"] = 96, 4
    drawing = Drawing(rig_plan(Rig(trailer=tag(), truck=truck(**wide))))
    s = drawing.scale
    outer = {"front": 0.0, "rear": 0.0}
    for tire in drawing.parts("truck-tire"):
        x1, x2, y1, y2 = span([tire])
        end = "rear" if (x1 + x2) / 2 > -100 * s else "front"
        outer[end] = max(outer[end], abs(y1), abs(y2))
    assert outer["front"] < 40 * s < outer["rear"] < 48 * s
