"""Checklists come from the unit; what is entered is reckoned; what nobody looked at is never in order."""

from __future__ import annotations

import math
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from answers.yard import yard
from rubrail.answers.checklist import SORTS, SortError, checklist
from rubrail.answers.checklist_judge import judge, result, tire_age_years
from rubrail.answers.checklist_parts import STATIONS, Entry, Line, line_of
from rubrail.rules.lamps import required_lamps
from rubrail.rules.sources import source
from rubrail.sheets.sentences_checklist import (
    SORT_WORDS,
    judged_sentence,
    line_words,
    reason_sentence,
    result_sentence,
)
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer

DAY = date(2026, 11, 28)
TRAILERS = yard().trailers


def a_trailer(**changes: Any) -> Trailer:
    """Two axles rated 7,000 lb on four tires of 3,520 lb at 80 psi."""
    tires = {
        "count": 2, "size": "ST235/80R16", "load_range": "E", "family": "ST", "max_load_lb": 3520,
        "max_pressure_psi": 80, "pressure_psi": 80,
    }  # fmt: skip
    axle = {"gawr_lb": 7000, "from_coupler_in": 185, "brakes": "electric", "wheel_rating_lb": 3750, "tires": tires}
    table = {
        "id": "T-1",
        "vin": "1M8GDM9AXKP042788",
        "coupling": {"kind": "ball", "ball_size_in": 2.3125, "gross_rating_lb": 14000},
        "ratings": {"gvwr_lb": 14000},
        "weights": {"empty_lb": {"value": 3350, "basis": "weighed"}, "empty_coupler_lb": 310},
        "axle": [axle, {**axle, "from_coupler_in": 219}],
        "size": {"width_in": 102, "front_from_coupler_in": -5, "rear_from_coupler_in": 304},
        "breakaway": True,
        "year": 2026,
        **changes,
    }
    return read_thing(Trailer, {k: v for k, v in table.items() if v is not None})


def line(key: str, trailer: Trailer | None = None, sort: str = "inspection") -> Line:
    return next(each for each in checklist(trailer or a_trailer(), sort=sort) if each.key == key)


def entered(key: str, *numbers: float, trailer: Trailer | None = None, answer: str = "ok", **more: Any):
    return judge(line(key, trailer), Entry(answer, numbers, **more), on=DAY)


# what stands on the list ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("sort", SORTS)
def test_every_unit_of_the_yard_has_lists_whose_lines_have_words_and_sources(sort: str):
    for trailer in TRAILERS.values():
        check_words(checklist(trailer, sort=sort))
    assert sort in SORT_WORDS


def check_words(lines):
    keys = [each.key for each in lines]
    assert len(keys) == len(set(keys))
    stations = [list(STATIONS).index(each.station) for each in lines]
    assert stations == sorted(stations), "front to back"
    for each in lines:
        for metric in (False, True):
            words = line_words(each, metric=metric)
            assert all((words.title, words.do, words.good)), each.key
            assert "None" not in f"{words.title}{words.do}{words.good}{words.unknown}", each.key
        assert all(source(key) for key in each.sources)
        assert line_of(each.table()) == each
        assert (each.entry == "numbers") == bool(each.places)


def test_every_lamp_the_rules_ask_for_is_a_line():
    for t in TRAILERS.values():
        check_lamps(t)


def check_lamps(t: Trailer):
    size = [math.nan if v is None else float(v) for v in (t.size.width_in, t.size.rear_from_coupler_in)]
    front = math.nan if t.size.front_from_coupler_in is None else float(t.size.front_from_coupler_in)
    gvwr = math.nan if t.ratings.gvwr_lb is None else float(t.ratings.gvwr_lb)
    wanted = required_lamps(
        width_in=size[0], length_in=size[1] - front, gvwr_lb=gvwr, built_year=float(t.year or math.nan)
    )
    found = [each.facts for each in checklist(t) if each.sort in ("lamp", "marking")]
    assert sorted(lamp["item"] for lamp in found) == sorted(lamp.item for lamp in wanted)
    places = [lamp["place"] for lamp in found]
    assert places == sorted(places, key=WALK_OF_LAMPS.index), "one walk round the trailer"


WALK_OF_LAMPS = [
    "front, at full width",
    "sides, front",
    "sides, near the middle",
    "sides, rear",
    *("rear", "rear, at full width", "rear, centered, 6 to 12 in apart"),
    "half of each side, and the rear",
]


def test_an_unknown_sort_is_told():
    with pytest.raises(SortError, match=r"sort must be one of inspection, round, got 'audit'\."):
        checklist(a_trailer(), sort="audit")


def test_a_narrow_light_unit_without_brakes_asks_for_less():
    axle = {"gawr_lb": 2990, "from_coupler_in": 120, "brakes": "none"}
    t = a_trailer(axle=[axle], breakaway=False, ratings={"gvwr_lb": 2990}, weights={}, size={"width_in": 79})
    sorts = {each.sort for each in checklist(t)}
    assert not sorts & {"breakaway", "battery", "brakes", "magnets", "marking", "no brakes"}
    heavier = a_trailer(axle=[axle], breakaway=False, ratings={"gvwr_lb": 3001}, weights={})
    assert "no brakes" in {each.sort for each in checklist(heavier)}


def test_a_rear_guard_is_a_line_where_one_is_needed_or_may_be():
    tail = {"kind": "deck-over", "height_in": 34, "tail_kind": "none"}
    # 14,000 lb; the tires' rear more than 305 mm (12 in) ahead of the rear: 304 - 219 - half of 30.8 in, by hand 70 in
    unsure = line("guard", a_trailer(deck=tail))
    assert (unsure.facts["sure"], unsure.optional) == (False, True)
    assert "22" in line_words(unsure).good  # 560 mm, in inches
    light = a_trailer(deck=tail, ratings={"gvwr_lb": 9_990})
    assert "guard" not in {each.key for each in checklist(light)}


def test_a_used_unit_is_measured_further():
    more = {each.key for each in checklist(a_trailer(condition="used"))} - {
        each.key for each in checklist(a_trailer())
    }
    assert more == {"tread-1", "tread-2", "lining-1", "lining-2"}


def test_what_the_file_does_not_say_is_told_at_its_line():
    t = a_trailer(vin=None, chains={}, plug=None, size={})
    assert line("vin", t).missing == ("the unit's VIN",)
    assert line("chains", t).missing == ("how many chains", "strength of one chain")
    assert line("torque-1", t).missing == ("torque of the wheel nuts of axle 1",)
    clearance = line("lamp-front-clearance-lamps", t)
    assert "overall width" in clearance.missing
    assert not clearance.facts["sure"]
    assert "not known" in line_words(clearance).good


def test_an_axle_without_brakes_on_a_braked_unit_is_told():
    axles = [a.model_dump(mode="json", exclude_none=True) for a in a_trailer().axle]
    t = a_trailer(axle=[axles[0], {**axles[1], "brakes": "none"}])
    assert {each.key for each in checklist(t) if each.sort == "no brakes"} == {"no-brakes-2"}
    assert line_words(line("no-brakes-2", t)).title == "No brakes, axle 2"
    light = a_trailer(axle=[axles[0], {**axles[1], "brakes": "none"}], ratings={"gvwr_lb": 3000}, weights={})
    assert "no-brakes-2" not in {each.key for each in checklist(light)}


def test_hubs_and_brakes_are_looked_at_with_the_wheels_up_and_nuts_when_they_are_down():
    for t in TRAILERS.values():
        found = [each.sort for each in checklist(t)]
        last = max(n for n, sort in enumerate(found) if sort in ("hubs", "brakes", "magnets", "lining", "pushrods"))
        assert found.index("torque") > last


def test_air_brakes_ask_for_lines_and_pushrods_and_not_for_cable_and_battery():
    sorts = {each.sort for each in checklist(TRAILERS["SH-174"])}
    assert {"air lines", "pushrods"} <= sorts
    assert not sorts & {"breakaway cable", "battery", "magnets", "brake fluid"}
    axles = [a.model_dump(mode="json", exclude_none=True) for a in a_trailer().axle]
    used = a_trailer(condition="used", axle=[{**a, "brakes": "air"} for a in axles])
    assert [line(key, used).least for key in ("lining-1", "pad-1")] == [0.25, 0.125]


@pytest.mark.parametrize(
    ("numbers", "mark", "why"),
    [((2, 1.75, 2), "ok", "measured"), ((2, 1.75, 2.25), "not ok", "stroke"), ((0, 0, 0), "not known", "no limit")],
)
def test_pushrods_are_held_to_the_limit_of_their_chamber(numbers, mark, why):
    judged = entered("pushrods-1", *numbers, trailer=TRAILERS["SH-174"])
    assert (judged.mark, judged.why) == (mark, why)
    if mark == "not ok":
        said = judged_sentence(line("pushrods-1", TRAILERS["SH-174"]), judged)
        assert said == "Right comes out 2.25 in; its chamber allows 2 in: adjust the brake."


@pytest.mark.parametrize(
    ("basis", "cargo", "mark"),
    # 9,990 less 3,350 leaves 6,640; relabeling begins at the lesser of 1.5 percent (149.85) and 100 lb: by hand
    [
        ("weighed", 6640, "ok"),
        ("weighed", 6740, "ok"),
        ("weighed", 6741, "not ok"),
        ("maker", 6741, "not known"),
        ("maker", 6740, "ok"),
    ],
)
def test_a_light_unit_has_a_placard_and_its_cargo_is_reckoned(basis, cargo, mark):
    t = a_trailer(ratings={"gvwr_lb": 9_990}, weights={"empty_lb": {"value": 3350, "basis": basis}})
    judged = entered("placard", cargo, trailer=t)
    assert judged.mark == mark
    assert "leaves 6,640 lb" in judged_sentence(line("placard", t), judged)


def test_no_placard_is_asked_for_above_ten_thousand_pounds_and_none_reckoned_without_the_empty_weight():
    assert "placard" not in {each.key for each in checklist(a_trailer(ratings={"gvwr_lb": 10_001}))}
    t = a_trailer(ratings={"gvwr_lb": 10_000}, weights={})
    assert line("placard", t).missing == ("empty weight",)
    assert entered("placard", 5000, trailer=t).mark == "not known"


def test_a_torque_the_file_does_not_have_is_entered_from_the_makers_sheet_and_held_to_it():
    assert line("torque-1").places == ("the maker's sheet", "left", "right")
    assert entered("torque-1", 120, 120, 120).why == "by sheet"
    assert entered("torque-1", 120, 120, 119).facts["place"] == "right"
    assert entered("torque-1", 0, 0, 0).mark == "not known"
    assert entered("torque-1").mark == "open", "a word alone is no torque"


def test_what_the_other_scale_rounds_is_no_difference():
    # 3,175 kg is 6,999.7 lb, 163 N m 120.2 ft lb, 550 kPa 79.77 psi, 760 kPa 110.23 psi: by hand
    axles = [a.model_dump(mode="json") for a in a_trailer().axle]
    t = a_trailer(axle=[{**a, "wheel_torque_ft_lb": 120} for a in axles])
    assert entered("ratings", 14000, 6999.7, 6999.7).mark == "ok"
    assert entered("ratings", 14000, 6998, 7000).mark == "not ok"
    assert entered("torque-1", 120.2, 120.2, trailer=t).mark == "ok"
    assert entered("pressure-1", 79.77, 79.77).mark == "ok"
    for a in axles:
        a["tires"].update(max_load_lb=4080, max_pressure_psi=110, pressure_psi=110)
    assert entered("pressure-1", 110.23, 110, trailer=a_trailer(axle=axles)).mark == "ok"


def test_without_the_labels_pressure_only_the_sidewalls_own_is_in_order():
    axles = [a.model_dump(mode="json", exclude_none=True) for a in a_trailer().axle]
    for a in axles:
        del a["tires"]["pressure_psi"]
        a["gawr_lb"] = 5200
    t = a_trailer(axle=axles)
    assert entered("pressure-1", 80, 80, trailer=t).mark == "ok"
    judged = entered("pressure-1", 70, 80, trailer=t)
    assert (judged.mark, judged.why) == ("not known", "label not known")
    assert "read it there" in judged_sentence(line("pressure-1", t), judged)


def test_the_height_of_the_coupling_is_measured_within_its_settings():
    t = a_trailer(coupling={"kind": "ball", "height_min_in": 18, "height_max_in": 25})
    assert [entered("coupling-height", h, trailer=t).mark for h in (17.9, 18, 25, 25.1)] == [
        *("not ok", "ok", "ok", "not ok")
    ]


def test_a_torque_of_the_file_is_asked_for_to_the_foot_pound():
    axles = [a.model_dump(mode="json") for a in a_trailer().axle]
    t = a_trailer(axle=[{**a, "wheel_torque_ft_lb": 120, "wheel_studs": 8, "hubs": "oil"} for a in axles])
    words = line_words(line("torque-1", t))
    assert words.good.startswith("120 ft lb on 8 studs, every wheel.")
    assert "first 10, 25 and 50 miles" in words.good
    assert entered("torque-1", 120, 120, trailer=t).mark == "ok"
    assert entered("torque-1", 120, 90, trailer=t).mark == "not ok"


# what is entered, reckoned ----------------------------------------------------------------------------------------


def test_nothing_entered_is_never_in_order():
    for each in checklist(a_trailer()):
        assert judge(each, None, on=DAY).mark == "open"
        assert judge(each, Entry(), on=DAY).mark == "open"


@pytest.mark.parametrize(
    ("psi", "mark", "why"),
    [
        # 3,520 lb at 80 psi; the axle's share is 3,500 lb a tire. In proportion, 79 psi carries 3,476 lb: by hand.
        ((80, 80), "ok", "carries"),
        ((80, 79), "not ok", "carries less"),
        ((35, 80), "not ok", "carries less"),
        ((80, 81), "not ok", "high"),
    ],
)
def test_pressure_is_reckoned(psi, mark, why):
    judged = entered("pressure-1", *psi)
    assert (judged.mark, judged.why) == (mark, why)


def test_low_pressure_says_what_the_tire_still_carries():
    each = line("pressure-1")
    judged = judge(each, Entry("ok", (65, 80)), on=DAY)
    # 3,520 x 65/80 = 2,860; 3,500 - 2,860 = 640, by hand
    assert judged_sentence(each, judged) == (
        "At 65 psi the left tire carries 2,860 lb, 640 lb less than its share of the axle's rating (3,500 lb)."
        " Air up to 80 psi, cold."
    )


def test_a_tire_too_weak_at_any_pressure_is_not_told_to_be_aired_up():
    each = line("pressure-1", TRAILERS["SH-132"])
    said = judged_sentence(each, judge(each, Entry("ok", (80, 80)), on=DAY))
    # its sidewall says 3,420 lb at 80 psi, and the axle's share is 3,500
    assert "carries 3,420 lb, 80 lb less" in said
    assert "the tire is short, not only the air" in said
    assert "Air up" not in said


def test_under_the_label_is_not_in_order_even_where_the_axle_still_carries():
    axles = [a.model_dump(mode="json") for a in a_trailer().axle]
    t = a_trailer(axle=[{**a, "gawr_lb": 5200} for a in axles])
    judged = entered("pressure-1", 70, 72, trailer=t)
    # 3,520 x 70/80 = 3,080, twice 6,160, over 5,200: by hand
    assert (judged.mark, judged.why) == ("not ok", "under label")
    assert judged.facts["axle_carries_lb"] == pytest.approx(6160)


@pytest.mark.parametrize("lacking", ["max_load_lb", "max_pressure_psi", "family"])
def test_pressure_that_cannot_be_reckoned_is_not_known_and_holds(lacking: str):
    axles = [a.model_dump(mode="json", exclude_none=True) for a in a_trailer().axle]
    for a in axles:
        del a["tires"][lacking]
    t = a_trailer(axle=axles)
    each = line("pressure-1", t)
    judged = judge(each, Entry("ok", (80, 80)), on=DAY)
    assert judged.mark == "not known"
    assert "cannot be judged" in judged_sentence(each, judged)
    assert each in [r.line for r in result([each], {each.key: Entry("ok", (80, 80))}, on=DAY).reasons]


@given(st.floats(5, 80), st.floats(5, 80), st.floats(0, 30))
def test_more_air_up_to_the_limit_never_makes_it_worse(left: float, right: float, more: float):
    order = {"not ok": 0, "not known": 1, "ok": 2}
    before = entered("pressure-1", left, right)
    after = entered("pressure-1", min(left + more, 80), right)
    assert order[after.mark] >= order[before.mark]


def test_tires_short_of_the_axle_are_never_in_order():
    t = TRAILERS["SH-132"]  # its sidewalls say 3,420 lb: 6,840 against 7,000
    each = line("sidewall-1", t)
    judged = judge(each, Entry("ok"), on=DAY)
    assert (judged.mark, judged.why) == ("not ok", "short")
    assert "carry 6,840 lb together and its rating is 7,000 lb" in judged_sentence(each, judged)


@pytest.mark.parametrize(
    ("changes", "key", "words"),
    [
        ({"chains": {"count": 2, "strength_lb": 6999}}, "chains", "hold 13,998 lb"),
        ({"coupling": {"kind": "ball", "gross_rating_lb": 12500}}, "coupling-stamp", "rated for 12,500 lb"),
        ({"jack": {"rating_lb": 300}}, "jack", "puts 310 lb on it"),
    ],
)
def test_parts_too_weak_by_the_file_are_never_in_order(changes, key, words):
    t = a_trailer(**changes)
    judged = entered(key, trailer=t)
    assert judged.mark == "not ok"
    assert words in judged_sentence(line(key, t), judged)


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"chains": {"count": 2, "strength_lb": 7000}}, "chains"),
        ({"coupling": {"kind": "ball", "gross_rating_lb": 14000}}, "coupling-stamp"),
        ({"jack": {"rating_lb": 310}}, "jack"),
    ],
)
def test_exactly_at_the_limit_holds(changes, key):
    assert entered(key, trailer=a_trailer(**changes)).mark == "ok"


def test_ratings_of_the_label_are_compared_with_the_file():
    assert entered("ratings", 14000, 7000, 7000).mark == "ok"
    judged = entered("ratings", 13990, 7000, 7000)
    assert judged.mark == "not ok"
    assert judged_sentence(line("ratings"), judged) == (
        "GVWR reads 13,990 lb and the unit's file says 14,000 lb. One of them is wrong."
    )


@pytest.mark.parametrize(
    ("typed", "mark"),
    [
        ("1M8GDM9AXKP042788", "ok"),
        (" 1m8g-dm9axkp042788 ", "ok"),
        ("1M8GDM9AXKP042786", "not ok"),
        ("1M8GDM9A", "not ok"),
        ("  ", "open"),
    ],
)
def test_vin_by_the_letter(typed, mark):
    assert judge(line("vin"), Entry("ok", text=typed), on=DAY).mark == mark


def test_a_vin_of_its_own_is_held_to_its_check_digit():
    t = a_trailer(vin=None)
    assert judge(line("vin", t), Entry("ok", text="1M8GDM9AXKP042788"), on=DAY).mark == "ok"
    assert judge(line("vin", t), Entry("ok", text="1M8GDM9A1KP042788"), on=DAY).mark == "not ok"


@pytest.mark.parametrize(
    ("code", "years"),
    # week 1 of 2020 to November 28, 2026: 6.91 years; week 35 of 2024: 2.25: by hand, to a tenth
    [(120, 6.9), (3524, 2.3), (4726, 0.0), (5420, math.nan), (99, math.nan), (5227, math.nan), (35.5, math.nan)],
)
def test_age_of_a_tire(code, years):
    assert tire_age_years(code=code, on=DAY) == pytest.approx(years, abs=0.06, nan_ok=True)


def test_age_of_the_tires_is_told_and_does_not_hold():
    judged = entered("tire-codes-1", 120, 3524)
    assert (judged.mark, judged.why, judged.facts["place"]) == ("not ok", "old", "left")
    assert entered("tire-codes-1", 9999, 3524).mark == "not known"
    assert not line("tire-codes-1").holds


def test_magnets():
    assert entered("magnets-1", 3.0, 3.1).mark == "ok"
    assert entered("magnets-1", 0, 3.1).mark == "not ok"
    assert entered("magnets-1", 2.6, 3.4).why == "uneven"
    assert entered("magnets-1", 4.1, 4.1).mark == "ok"
    assert entered("magnets-1", 4.2, 4.2).why == "high"


def test_a_line_that_needs_numbers_or_a_photo_is_open_without_them():
    assert entered("breakaway-battery").mark == "open"
    assert entered("pressure-1", 80).facts["places"] == ["right"]
    assert entered("label-photo").mark == "open"
    assert entered("label-photo", photos=1).mark == "ok"


def test_not_here_counts_only_where_a_unit_may_be_without():
    assert entered("spare", answer="not here").mark == "not here"
    judged = entered("breakaway", answer="not here")
    assert (judged.mark, judged.why) == ("not ok", "lacking")


# what it comes to -------------------------------------------------------------------------------------------------


def all_good(lines) -> dict[str, Entry]:
    numbers = {
        "pressure": (80, 80), "date code": (2026, 2026), "magnets": (3, 3), "battery": (12.6,), "torque": (120,) * 3,
    }  # fmt: skip
    found = {}
    for each in lines:
        values = each.exact or numbers.get(each.sort, (each.least,) * len(each.places))
        text = each.facts.get("wanted", "") if each.sort == "vin" else ""
        found[each.key] = Entry("ok", tuple(values) if each.places else (), text, photos=1)
    return found


def test_release_when_every_line_that_holds_is_in_order():
    lines = checklist(a_trailer())
    told = result(lines, all_good(lines), on=DAY)
    assert (told.outcome, told.reasons, told.done) == ("release", (), len(lines))
    assert result_sentence(told) == "Release: every line that would hold it is in order."


def test_each_line_that_holds_holds_by_itself_and_no_other_does():
    lines = checklist(a_trailer())
    good = all_good(lines)
    for each in lines:
        for worse in ({k: v for k, v in good.items() if k != each.key}, {**good, each.key: Entry("not ok")}):
            told = result(lines, worse, on=DAY)
            assert (told.outcome == "hold") == each.holds, each.key
            assert [r.line for r in told.reasons] == ([each] if each.holds else [])


def test_what_does_not_hold_is_still_told():
    lines = checklist(a_trailer())
    told = result(lines, {**all_good(lines), "paint": Entry("not ok", text="scratch at the rear left")}, on=DAY)
    assert told.outcome == "release"
    assert [reason_sentence(r) for r in told.remarks] == ["Finish and decals: not in order. scratch at the rear left"]


def test_hold_says_how_many_and_why():
    lines = checklist(a_trailer())
    bad = {**all_good(lines), "pressure-1": Entry("ok", (35, 80))}
    del bad["papers"]
    assert result_sentence(result(lines, bad, on=DAY)) == "Hold: 1 line is not in order and 1 line was not looked at."
