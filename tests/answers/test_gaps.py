"""What is not known of a trailer and what hangs on it, against the rig itself with that one input taken away."""

from __future__ import annotations

import numpy as np
import pytest

from rubrail.answers.gaps import gaps_of
from rubrail.answers.payload import alone_best
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.registry import CHECKS, raw_inputs
from rubrail.checks.rows import rows_of
from rubrail.things.columns import Columns
from rubrail.things.names import AXLE, TRAILER

from .rigs import BUMPER_PULL, columns

OWN = [n for n in (*TRAILER, *AXLE) if n in BUMPER_PULL and n not in ("axle_present", "coupling_kind")]


def without(*names: str) -> Columns:
    """The trailer of the rig without some of its values."""
    whole = columns()
    return whole.with_values({n: np.full_like(whole[n], np.nan) for n in names})


def test_nothing_is_missing_of_a_trailer_that_is_known_through():
    # Underside and swing of a neck are not known of it, and a trailer on a ball coupler has no neck.
    assert gaps_of(columns()) == ()


@pytest.mark.parametrize("name", OWN)
def test_each_input_taken_away_is_found_with_all_that_the_rig_then_cannot_tell(name):
    rig = without(name)
    rows = rows_of(rig)
    blind = {rows.rows[i].check.id for i in np.flatnonzero(np.isnan(rows.margin).any(axis=(1, 2)))}
    found = {u.name: u for u in gaps_of(rig)}
    if not blind:
        return
    assert set(found) == {name}
    assert blind <= {b.check for b in found[name].limits}
    assert all(name in raw_inputs(CHECKS[b.check].inputs) for b in found[name].limits)
    assert found[name].payload == bool(np.isnan(alone_best(rig)[0][0]))
    assert found[name].members == ((0, 1) if name in AXLE else ())


def test_what_stops_the_payload_stands_first_then_what_stops_more():
    found = gaps_of(without("lamps_complete", "trailer_empty_coupler_lb", "coupler_vertical_rating_lb"))
    # By the checks themselves: the empty coupler load enters every balance, the rating of the coupler one check,
    # the lamps one that no payload hangs on.
    assert [u.name for u in found] == ["trailer_empty_coupler_lb", "coupler_vertical_rating_lb", "lamps_complete"]
    assert [u.payload for u in found] == [True, True, False]
    assert [b.check for b in found[1].limits] == ["coupler-vertical"]
    assert len(found[0].limits) > 5


def test_only_the_axle_whose_rating_is_missing_is_named():
    rig = columns()
    gawr = np.array(rig["axle_gawr_lb"])
    gawr[1] = np.nan
    (found,) = gaps_of(rig.with_values({"axle_gawr_lb": gawr}))
    assert (found.name, found.members) == ("axle_gawr_lb", (1,))


def test_a_trailer_of_which_nobody_knows_anything_asks_for_each_input_by_itself():
    bare = Columns({"axle_present": np.ones((2, 1, 1, 1)), "coupling_kind": np.zeros((1, 1, 1))})
    found = {u.name for u in gaps_of(bare)}
    assert {"trailer_gvwr_lb", "axle_gawr_lb", "trailer_empty_weight_lb", "deck_front_x_in"} <= found
    assert not {"neck_swing_in", "trailer_advertised_lb", "price_usd"} & found, "no limit hangs on these"
