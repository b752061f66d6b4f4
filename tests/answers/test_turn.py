"""Turning real rigs of the invented yard: more room is never worse, and an unknown is no pass."""

import math
from dataclasses import replace

import numpy as np
import pytest

from rubrail.answers.turn import turn
from rubrail.answers.turn_corner import CornerError, read_corner
from rubrail.answers.weigh import weigh
from rubrail.mechanics.turning_fit import Corner
from rubrail.quantity.value import Value
from rubrail.sheets.drawing import Rig
from rubrail.sheets.drawing.turn_view import turn_view
from rubrail.sheets.sentences_turn import touch_sentence, turn_sentence

from .yard import haul, yard

CORNER = Corner(math.pi / 2, 168, 288, 180)


def turned(name, unit, corner=CORNER, **size):
    the_haul = haul(name)
    if size:
        truck = the_haul.truck
        the_haul = the_haul.model_copy(
            update={"truck": truck.model_copy(update={"size": truck.size.model_copy(update=size)})}
        )
    return turn(haul=the_haul, trailer=yard().trailers[unit], corner=corner)


def test_exit_needed_is_where_it_just_fits():
    result, _ = turned("04-three-machines", "SH-213")
    assert result.verdict == "over"
    wider, _ = turned("04-three-machines", "SH-213", replace(CORNER, exit_in=result.exit_needed_in))
    narrower, _ = turned("04-three-machines", "SH-213", replace(CORNER, exit_in=result.exit_needed_in - 6))
    assert wider.spare_in >= -0.1
    assert narrower.spare_in < 0.5


@pytest.mark.parametrize("wider", ["entry_in", "exit_in", "curb_in"])
def test_more_road_is_never_worse(wider):
    spare = [
        turned("04-three-machines", "SH-191", replace(CORNER, **{wider: getattr(CORNER, wider) + more}))[0].spare_in
        for more in (0, 40, 120)
    ]
    assert spare[0] <= spare[1] + 0.1 <= spare[2] + 0.2


def test_tolerances_never_help_and_a_usual_circle_is_never_clear_by_a_hair():
    for unit in ("SH-121", "SH-133", "SH-152"):
        result, _ = turned("03-landscaper-track-loader", unit)
        assert result.worst_spare_in <= result.spare_in + 0.1
        assert not result.radius_known
        if result.worst_spare_in < 0 <= result.spare_in:
            assert result.verdict == "depends"
            assert "turning circle" in turn_sentence(result)


def test_the_trucks_own_circle_is_used_where_it_is_known():
    # 47 ft curb to curb: outer tire 282 in from the center, the rear axle's middle half a truck's width further in.
    result, _ = turned("01-mowing-round", "SH-133", turning_circle_in=Value(564.0, "maker", 0.0))
    wheelbase, half = 145.0, 40.0
    want = math.hypot(math.sqrt(282**2 - wheelbase**2) - half, wheelbase)
    assert result.radius_known
    assert result.least_radius_in == pytest.approx(want)


def test_what_is_not_known_is_named_and_never_a_pass():
    result, driven = turned("01-mowing-round", "SH-191")
    assert result.verdict == "not known"
    assert driven is None
    assert math.isnan(result.spare_in)
    assert [n.name for n in result.missing] == ["hitch_ahead_in"]
    assert turn_sentence(result).startswith("Not known")
    assert all("not known" in touch_sentence(t) for t in result.touches)


def test_cargo_behind_and_beside_the_trailer_counts():
    _, driven = turned("04-three-machines", "SH-121")
    trailer = yard().trailers["SH-121"]
    assert driven.rig.trailer.rear_in >= float(trailer.size.rear_from_coupler_in)


def test_a_neck_that_reaches_the_cab_is_over():
    result, _ = turned("04-three-machines", "SH-213", Corner(math.pi / 2, 400, 600, 0))
    neck = next(t for t in result.touches if t.name == "neck and cab")
    assert neck.angle_deg > result.fold_deg
    near, _ = turned(
        "04-three-machines",
        "SH-213",
        Corner(math.pi / 2, 400, 600, 0),
        hitch_to_cab_in=Value(20.0, "measured", 0.0),
    )
    touching = next(t for t in near.touches if t.name == "neck and cab")
    assert touching.angle_deg < neck.angle_deg
    assert near.verdict == "over"
    assert "touch" in turn_sentence(near)


def test_crest_by_hand():
    result, _ = turned("04-three-machines", "SH-191")
    crest = next(t for t in result.touches if "crest" in t.name)
    truck = haul("04-three-machines").truck
    weighed = weigh(haul=haul("04-three-machines"), trailer=yard().trailers["SH-191"], remedies=False)
    room = next(x.margin for x in weighed.lines if x.check == "neck-over-rail")
    ahead = next(float(h.ahead_of_rear_axle_in) for h in truck.hitch if h.kind == "gooseneck")
    reach = float(truck.size.bed_end_behind_rear_axle_in) + ahead
    assert math.isnan(crest.here_deg)
    assert math.tan(math.radians(crest.angle_deg)) * reach == pytest.approx(room)


def test_the_band_is_wider_than_the_trailer_and_its_axles_cut_in():
    result, driven = turned("04-three-machines", "SH-213")
    swept = driven.course.swept(driven.rig)
    assert result.swept_in > driven.rig.trailer.width_in
    assert np.isfinite(swept).all()
    assert 0 < result.inside_in < result.radius_in


@pytest.mark.parametrize(("angle", "curb"), [(60, 0), (90, 15), (120, 15)])
@pytest.mark.parametrize("width", [640, 336])
def test_drawing_holds_its_frame(angle, curb, width):
    corner = Corner(math.radians(angle), 168, 288, curb * 12)
    _, driven = turned("04-three-machines", "SH-213", corner)
    the_haul = haul("04-three-machines")
    rig = Rig(trailer=yard().trailers["SH-213"], truck=the_haul.truck)
    svg = turn_view(rig, driven=driven, corner=corner, width_px=width)
    assert f'width="{width}"' in svg
    assert "14 ft" in svg
    assert ("too tight" in svg) == (driven.fit.spare_in < 0)


def test_every_fault_of_a_corner_at_once():
    with pytest.raises(CornerError) as told:
        read_corner({"angle": "200", "entry": "wide", "exit": "20", "curb": "-1"})
    assert set(told.value.faults) == {"angle", "entry", "exit", "curb"}
    assert told.value.faults["entry"] == (
        "width of the lane in must be 6 ft to 100 ft, such as '12 ft', got 'wide': it is not a number with a unit."
    )
    corner = read_corner({"angle": "90", "entry": "12 ft", "exit": "6 m", "curb": "15 ft"})
    assert (corner.entry_in, corner.curb_in) == (144, 180)
    assert corner.exit_in == pytest.approx(6000 / 25.4)
