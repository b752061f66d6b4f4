"""What is owed a buyer after delivery: which things, on which days, and what is said of them."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.answers.follow_up import FollowUp, follow_ups
from rubrail.rules.after_delivery import driven_by, months_after
from rubrail.sheets.sentences_follow_up import day_to_keep, follow_up_title, follow_up_words
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer

DELIVERED = date(2026, 8, 31)


def trailer(*brakes: str | None, tags: tuple[str, ...] = (), **more: Any) -> Trailer:
    axles = [{"from_coupler_in": 190 + 34 * n} | ({"brakes": b} if b else {}) for n, b in enumerate(brakes)]
    table: dict[str, Any] = {"id": "T-1", "coupling": {"kind": "ball"}, "axle": axles}
    return read_thing(Trailer, table | {"equipment": [{"tag": tag} for tag in tags], "basis": "maker"} | more)


def of(sort: str, *brakes: str | None, tags: tuple[str, ...] = (), **given_: Any) -> list[FollowUp]:
    every = follow_ups(trailer=trailer(*(brakes or ("electric",)), tags=tags), delivered=DELIVERED, **given_)
    return [f for f in every if f.sort == sort]


def test_wheel_nuts_are_one_call_a_day_and_every_distance_is_in_one():
    # TRAILER-MANUALS: 10, 25 and 50 miles; at 25 a day the first two fall on one day
    found = of("wheel-nuts")
    assert [(f.due, f.miles, f.guessed) for f in found] == [
        (date(2026, 9, 1), (10, 25), True),
        (date(2026, 9, 2), (50,), True),
    ]
    slow = of("wheel-nuts", miles_a_day=5)
    assert [(f.due - DELIVERED).days for f in slow] == [2, 5, 10]


@pytest.mark.parametrize(
    ("torques", "says"),
    [
        ((120, 120), "set to 120 ft lb, as its file has it; the manual governs."),
        ((120, 475), "set to 120 and 475 ft lb, as its file has it; the manual governs."),
        ((120, None), "set to the figure in its manual."),
        ((120, {"value": 120, "basis": "estimated"}), "set to the figure in its manual."),
        ((None, None), "set to the figure in its manual."),
    ],
)
def test_the_torque_is_told_where_the_file_has_it_and_nobody_guessed_it(torques, says):
    stated = [{"value": t, "basis": "maker"} if isinstance(t, int) else t for t in torques]
    axles = [{"from_coupler_in": 190 + 34 * n, "wheel_torque_ft_lb": t} for n, t in enumerate(stated)]
    unit = read_thing(Trailer, {"id": "T-1", "coupling": {"kind": "ball"}, "axle": axles})
    first = follow_ups(trailer=unit, delivered=DELIVERED)[0]
    assert follow_up_words(first).endswith(says)


def test_the_last_day_of_the_tax_on_accessories_is_six_months_on():
    # USC-26-4051(b): not later than the date 6 months after it was first placed in service; February has no 31st
    (one,) = of("accessories", excise="due")
    assert (one.due, one.guessed, one.sure) == (date(2027, 2, 28), False, True)
    (one,) = of("accessories", excise="not known")
    assert not one.sure
    assert follow_up_words(one).startswith("It is not known whether federal excise tax was due")
    for standing in ("not due", "free"):
        assert of("accessories", excise=standing) == []


def test_the_words_of_the_tax_give_the_day_the_rate_and_the_free_amount():
    (one,) = of("accessories", excise="due")
    said = follow_up_words(one)
    # 26 USC 4051(a), (b): 12 percent, $1,000
    for part in ("Feb 28, 2027", "12 percent", "more than $1,000", "tax adviser"):
        assert part in said


@pytest.mark.parametrize(
    ("brakes", "tags", "sure"),
    [
        (("electric", "electric"), ("hand-adjusted-brakes",), True),
        (("electric", "electric"), (), False),
        (("electric", None), (), False),
        ((None,), (), False),
        (("surge",), (), False),
    ],
)
def test_brakes_are_told_where_the_file_tells_and_else_asked(brakes, tags, sure):
    (one,) = of("brakes", *brakes, tags=tags)
    assert one.sure == sure
    assert (one.due, one.miles) == (DELIVERED + timedelta(days=8), (200,))
    assert follow_up_title(one).endswith("if by hand") != sure


@pytest.mark.parametrize(
    ("brakes", "tags"),
    [(("none",), ()), (("air", "air"), ()), (("electric",), ("self-adjusting-brakes",))],
)
def test_no_brakes_to_adjust_no_call(brakes, tags):
    assert of("brakes", *brakes, tags=tags) == []


def test_what_comes_by_months_or_miles_comes_at_the_first():
    # AXLE-SERVICE, read in copies: 3 months or 3,000 miles; 12 months or 12,000
    assert [(f.due, f.guessed) for f in of("first-service")] == [(date(2026, 11, 30), False)]
    assert [(f.due, f.guessed) for f in of("first-service", miles_a_day=100)] == [(date(2026, 9, 30), True)]
    assert [f.due for f in of("bearings")] == [date(2027, 8, 31)]


def warranties(condition: str = "new", **months: Any) -> list[FollowUp]:
    unit = trailer("electric", warranty={f"{part}_months": m for part, m in months.items()}, condition=condition)
    return [f for f in follow_ups(trailer=unit, delivered=DELIVERED) if f.sort == "warranty"]


def test_a_warranty_is_reminded_of_before_it_ends_and_those_that_end_together_are_one():
    assert warranties() == []
    rest, both = warranties(trailer=12, frame=36, axles="3 years", finish=12)
    # counted on a calendar: August 31 a year on, and three; 30 days before each
    assert (rest.ends, rest.due) == (date(2027, 8, 31), date(2027, 8, 1))
    assert (both.ends, both.due) == (date(2029, 8, 31), date(2029, 8, 1))
    assert follow_up_title(rest) == "Warranty to Aug 31, 2027: all but frame and axles"
    assert follow_up_title(both) == "Warranty to Aug 31, 2029: frame and axles"
    assert follow_up_words(both).startswith("The warranty on the frame and axles, 36 months, ends on Aug 31, 2029.")
    assert day_to_keep(both) == (both.ends, "End of the warranty, 36 months: frame and axles")
    assert len({f.key for f in (rest, both)}) == 2
    (short,) = warranties(trailer=1)
    assert (short.ends, short.due) == (date(2026, 9, 30), date(2026, 9, 15)), "not before half of it has gone"
    assert follow_up_title(short).endswith(": the whole trailer")
    assert "1 month," in follow_up_words(short)


def test_no_months_are_no_warranty_and_what_nobody_read_is_not_told_as_sure():
    assert warranties(trailer=0) == []
    (rest,) = warranties(trailer=24, tires=0)
    assert follow_up_title(rest).endswith("all but tires")
    for sure, found in (
        (True, warranties(frame=36)),
        (False, warranties(frame={"value": 36, "basis": "typical"})),
        (False, warranties(frame=36, condition="used")),
    ):
        assert [f.sure for f in found] == [sure]
        assert ("read its paper first" in follow_up_words(found[0])) != sure


def test_all_come_in_the_order_of_their_days_with_something_to_say():
    parts = {"trailer": 12, "frame": 36, "axles": 60, "tires": 24, "finish": 6}
    unit = trailer("electric", warranty={f"{part}_months": m for part, m in parts.items()})
    every = follow_ups(trailer=unit, delivered=DELIVERED, excise="due")
    assert [f.due for f in every] == sorted(f.due for f in every)
    assert len({(f.key, f.miles) for f in every}) == len(every)
    for one in every:
        assert len(follow_up_title(one)) <= 60
        assert follow_up_words(one).endswith((".", "?"))


@given(day=st.dates(date(1990, 1, 1), date(2090, 1, 1)), months=st.integers(0, 240))
def test_months_are_counted_as_the_rule_says(day: date, months: int):
    then = months_after(day=day, months=months)
    assert (then.year * 12 + then.month) - (day.year * 12 + day.month) == months
    assert then.day == day.day or (then.day < day.day and (then + timedelta(days=1)).day == 1)


@pytest.mark.parametrize(
    "ask",
    [
        lambda: months_after(day=DELIVERED, months=-1),
        lambda: driven_by(day=DELIVERED, miles=0),
        lambda: driven_by(day=DELIVERED, miles=10, miles_a_day=float("nan")),
    ],
)
def test_what_cannot_be_counted_is_refused(ask):
    with pytest.raises(ValueError, match="must be"):
        ask()
