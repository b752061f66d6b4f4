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
    found = [each.facts["item"] for each in checklist(t) if each.sort in ("lamp", "marking")]
    assert found == [lamp.item for lamp in wanted]


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
    assert entered("magnets-1", 3.6, 3.6).why == "high"


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
    numbers = {"pressure": (80, 80), "date code": (2026, 2026), "magnets": (3, 3), "battery": (12.6,)}
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
