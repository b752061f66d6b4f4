"""A deck's height added up from a build, each part with how it is known."""

from __future__ import annotations

import math

import pytest

from rubrail.rules.builds import deck_stack

HEAVY = {
    "loaded_radius_in": None,
    "tire": "215/75R17.5 H",
    "axle_to_frame_in": 5.25,
    "beam_depth_in": 12.2,
    "stacked": False,
    "crossmember_depth_in": 3,
    "crossmember_rise_in": None,
    "deck_thickness_in": None,
    "planks": True,
}


def test_the_heavy_deck_over_of_the_trade_comes_to_about_32_in():
    """Common practice, no source."""
    stack = deck_stack(**HEAVY)
    assert stack.height_in == pytest.approx(32, abs=0.25)
    assert [p.known for p in stack.parts] == ["from the tire's size", "stated", "stated", "typical", "typical"]
    assert stack.missing == ()


def test_the_parts_add_up():
    stack = deck_stack(**HEAVY)
    assert sum(p.height_in for p in stack.parts) == pytest.approx(stack.height_in, rel=1e-12)


def test_what_is_stated_goes_before_what_is_typical():
    stack = deck_stack(
        **{**HEAVY, "loaded_radius_in": 14.5, "crossmember_rise_in": 0.5, "deck_thickness_in": 1.125, "planks": None}
    )
    assert stack.height_in == pytest.approx(14.5 + 5.25 + 12.2 + 0.5 + 1.125)
    assert {p.known for p in stack.parts} == {"stated"}


def test_stacked_rises_by_the_crossmembers_depth():
    stack = deck_stack(**{**HEAVY, "stacked": True})
    assert stack.height_in - deck_stack(**HEAVY).height_in == pytest.approx(4, abs=0.25)


@pytest.mark.parametrize(
    ("change", "missing"),
    [
        ({"tire": None}, "loaded tire"),
        ({"tire": "8.25-20"}, "loaded tire"),
        ({"axle_to_frame_in": None}, "axle center to main beam"),
        ({"beam_depth_in": None}, "main beam"),
        ({"stacked": None}, "crossmembers above the main beam"),
        ({"stacked": True, "crossmember_depth_in": None}, "crossmembers above the main beam"),
        ({"planks": None}, "deck"),
        ({"planks": False}, "deck"),
    ],
)
def test_a_part_not_known_leaves_the_height_not_known_and_is_named(change, missing):
    stack = deck_stack(**{**HEAVY, **change})
    assert math.isnan(stack.height_in)
    assert stack.missing == (missing,)
