"""A unit's numbers set out as sums: they add up, and say what a pencil says."""

from __future__ import annotations

import numpy as np
import pytest

from rubrail.answers.decode import figures
from rubrail.answers.envelope import fan_of
from rubrail.answers.height import built_columns

from .rigs import columns
from .yard import yard


def by_name(found) -> dict:
    return {f.name: f for f in found}


@pytest.mark.parametrize("trailer", yard().trailers.values(), ids=lambda t: t.id)
def test_every_sum_adds_up(trailer):
    found = figures(built_columns([trailer]), with_truck=False)
    sums = [f for f in found if f.terms]
    assert {"axles", "tires", "wheels", "payload-label"} <= {f.name for f in sums}
    for f in sums:
        assert sum(t.value_lb for t in f.terms) == pytest.approx(f.value_lb, nan_ok=True), f.name


def test_a_payload_by_axles_set_out():
    # By hand: two axles at 7,000; empty 3,550 less 422 on the coupler is 3,128 on the axles; 10,872 is left. The
    # deck runs from 54 to 270, its middle is 162; axles in the middle of 185 and 219: 202. A load at 162 puts
    # 162 / 202 of itself on the axles: 10,872 x 202 / 162 = 13,556.4 lb, of which 2,684.4 lb on the coupler.
    told = by_name(figures(columns(axle_tire_max_load_lb=[3_750, 3_750]), with_truck=False))["payload-axles"]
    assert told.value_lb == pytest.approx(13_556.4, abs=0.1)
    assert [t.value_lb for t in told.terms] == pytest.approx([14_000, -3_128, 2_684.4], abs=0.1)


def test_no_sum_is_made_up_where_the_tires_stop_it():
    # S1, unit B of the trade notes: tires 2 x 3,420 an axle are less than the rating of 7,000.
    told = by_name(figures(columns(), with_truck=False))
    assert told["payload-axles"].terms == ()
    assert [f.governs for f in (told["axles"], told["tires"], told["wheels"])] == [False, True, False]


def test_the_advertised_number_is_ratings_and_a_share_counted_in():
    # By hand: 15,400 less two axles at 7,000 leaves 1,400, which is 9 % of it.
    told = by_name(figures(columns(), with_truck=False))["advertised"]
    assert [t.value_lb for t in told.terms] == [7_000, 7_000, 1_400]
    assert "(9%)" in told.how
    assert by_name(figures(columns(trailer_advertised_lb=14_000), with_truck=False))["advertised"].terms == ()


def test_a_rating_that_is_not_known_leaves_its_sum_not_known():
    told = by_name(figures(columns(axle_gawr_lb=[7_000, np.nan]), with_truck=False))
    assert np.isnan(told["axles"].value_lb)
    assert [np.isnan(t.value_lb) for t in told["axles"].terms] == [False, True]
    assert told["tires"].governs, "the weakest of those that are known"
    assert told["payload-axles"].terms == ()


def test_a_fan_read_before_gives_the_same_figures():
    rig = columns()
    assert figures(rig, with_truck=True, fan=fan_of(rig, trailer_only=True)) == figures(rig, with_truck=True)


def test_without_the_place_of_its_deck_no_payload_is_told():
    trailer = yard().trailers["SH-191"]
    deckless = trailer.model_copy(update={"deck": trailer.deck.model_copy(update={"flat_length_in": None})})
    told = by_name(figures(built_columns([deckless]), with_truck=False))
    assert np.isnan([told["payload-axles"].value_lb, told["payload-alone"].value_lb]).all()
