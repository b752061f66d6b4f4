"""Printing numbers with their units. Expected texts converted by hand from the exact definitions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.quantity.parse import parse_quantity
from rubrail.quantity.show import convert, show, show_feet, show_share

SHOWN = [
    ((14_000, "lb"), {}, "14,000 lb"),
    ((14_000, "lb"), {"metric": True}, "6,350 kg"),  # 14,000 x 0.45359237 = 6,350.29
    ((550, "lb"), {"signed": True}, "+550 lb"),
    ((-650.4, "lb"), {"signed": True}, "-650 lb"),
    ((0, "lb"), {"signed": True}, "0 lb"),
    ((-0.2, "lb"), {}, "0 lb"),
    ((102, "in"), {}, "102 in"),
    ((2.3125, "in"), {}, "2.31 in"),
    ((2.3125, "in"), {"decimals": 4}, "2.3125 in"),
    ((102, "in"), {"metric": True}, "2.591 m"),  # 2,590.8 mm
    ((35, "in"), {"metric": True}, "889 mm"),
    ((80, "psi"), {}, "80 psi"),
    ((80, "psi"), {"metric": True}, "552 kPa"),  # 80 x 6.894757 = 551.58
    ((math.pi / 15, "rad"), {}, "12°"),
    ((11.54, "deg"), {}, "11.5°"),
    ((2_000, "lb/in"), {"metric": True}, "350.3 N/mm"),  # 2,000 x 0.1751268 = 350.25
    ((19, "lb/ft"), {}, "19 lb/ft"),
    ((3, ""), {}, "3"),
    ((math.nan, "lb"), {}, "not known"),
    ((math.inf, "lb"), {}, "no limit"),
]


@pytest.mark.parametrize(("given_", "options", "text"), SHOWN)
def test_shows(given_, options, text):
    assert show(*given_, **options) == text


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (102, "8 ft 6 in"),
        (288, "24 ft"),
        (102.5, "8 ft 6.5 in"),
        (6, "6 in"),
        (0, "0 in"),
        (-30, "-2 ft 6 in"),
        (11.9, "1 ft"),
        (-0.05, "0 in"),
        (math.nan, "not known"),
    ],
)
def test_feet_and_inches(inches, text):
    assert show_feet(inches) == text


def test_feet_in_metric_are_meters():
    assert show_feet(102, metric=True) == "2.591 m"


@pytest.mark.parametrize(("ratio", "text"), [(0.047, "4.7 %"), (0.1, "10 %"), (math.nan, "not known")])
def test_shares(ratio, text):
    assert show_share(ratio) == text


def test_convert_refuses_another_dimension():
    with pytest.raises(ValueError, match="lb is a weight and in is a length"):
        convert(1, "lb", "in")


@given(st.floats(-2_000, 2_000))
def test_feet_and_inches_read_back_to_the_quarter_inch(inches):
    assert parse_quantity(show_feet(inches), "in") == pytest.approx(inches, abs=0.126)


@given(st.floats(-200_000, 200_000), st.booleans())
def test_weights_read_back_to_their_rounding(pounds, metric):
    assert parse_quantity(show(pounds, "lb", metric=metric), "lb") == pytest.approx(pounds, abs=1.11)


@given(st.floats(0, 3_000), st.booleans())
def test_lengths_read_back_to_their_rounding(inches, metric):
    assert parse_quantity(show(inches, "in", metric=metric), "in") == pytest.approx(inches, abs=0.021)
