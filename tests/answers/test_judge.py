"""Verdicts of rigs: what enters them, what caps them, and what tolerances do."""

from functools import cache

import numpy as np
import pytest

from rubrail.answers.place import best_place
from rubrail.answers.rig import rigs
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.engine import Evaluation
from rubrail.checks.judge import judge, judged_again
from rubrail.checks.verdict import WORDS, holds

from .rigs import columns, random_columns
from .yard import haul, yard


def word(rig) -> str:
    return WORDS[int(judge(rig).verdict[0, 0])]


def governing(rig) -> str:
    j = judge(rig)
    return j.rows.rows[int(j.governing[0, 0])].check.id


@pytest.fixture
def sound() -> dict:
    """Changes that leave the landscaper's rig with load-range G tires, which carry the axle's rating."""
    return {"axle_tire_max_load_lb": [4_080, 4_080], "axle_wheel_rating_lb": [4_080, 4_080]}


def test_exact_values_that_hold_are_clear(sound):
    assert word(columns(**sound)) == "clear"
    assert governing(columns(**sound)) == "trailer-gross"


def test_a_doubtful_weight_makes_it_depend(sound):
    # 15,400 - 14,850 = 550 lb to spare (by hand); 600 lb of doubt breaks it, 500 lb does not.
    assert word(columns({"item_weight_lb": [600]}, **sound)) == "depends"
    assert word(columns({"item_weight_lb": [100]}, **sound)) == "clear"


def test_exactly_at_the_limit_passes(sound):
    assert word(columns(trailer_gvwr_lb=14_850, **sound)) == "clear"
    assert word(columns(trailer_gvwr_lb=14_849, **sound)) == "over"


def test_a_missing_rating_is_never_a_pass(sound):
    rig = columns(truck_rear_gawr_lb=np.nan, **sound)
    assert word(rig) == "not known"
    assert governing(rig) == "truck-rear-axle"


def test_over_outranks_not_known(sound):
    rig = columns(truck_rear_gawr_lb=np.nan, trailer_gvwr_lb=10_000, **sound)
    assert word(rig) == "over"
    assert governing(rig) == "trailer-gross"


def test_guidance_that_fails_caps_the_rig_at_depends(sound):
    # Moved back so far that the coupler carries under 10 %: 422 + 11,300 (1 - 190 / 202) = 1,093 of 14,850 (7.4 %).
    rig = columns(item_front_x_in=[130.0], axle_gawr_lb=[7_500, 7_500], **sound)
    j = judge(rig)
    assert WORDS[int(j.verdict[0, 0])] == "depends"
    assert j.rows.rows[int(j.governing[0, 0])].check.id == "coupler-share-low"


def test_duties_and_tax_never_enter(sound):
    j = judge(columns(trailer_gvwr_lb=27_000, coupler_gross_rating_lb=30_000, license_held=3, **sound))
    told = j.rows.of_kind("duty", "tax")
    assert (j.codes[told] == 0).any(), "a heavy label brings duties and the excise tax"
    assert WORDS[int(j.verdict[0, 0])] in ("clear", "depends")


def test_holds_has_one_rounding_tolerance():
    assert holds(-1e-7, 10_000.0)
    assert not holds(-0.02, 10_000.0)
    assert not holds(np.nan, 10_000.0)


@pytest.mark.parametrize("seed", range(30))
def test_the_worst_margin_is_the_corner_of_all_tolerances(seed):
    """Against the rig taken literally: every uncertain input moved to its harmful end at once."""
    rng = np.random.default_rng(seed)
    spread = {"trailer_empty_weight_lb": 150, "item_weight_lb": [300], "item_cg_in": [4], "truck_rear_axle_lb": 100}
    base = random_columns(rng)
    rig = columns(spread)
    rig = type(rig)(base.values, rig.plus_minus)
    j = judge(rig)
    names = list(spread)
    for i, r in enumerate(j.rows.rows):
        if r.check.id not in ("trailer-gross", "truck-rear-axle", "axle-group", "hitch-vertical"):
            continue
        corners = []
        for signs in np.ndindex(*(2,) * len(names)):
            moved = {n: rig[n] + (1 if s else -1) * rig.plus_minus[n] for n, s in zip(names, signs, strict=True)}
            corners.append(judge(rig.with_values(moved), tolerances=False).rows.margin[i, 0, 0])
        # The corner differs from the sum of single harms only by products of two tolerances.
        assert j.worst[i, 0, 0] == pytest.approx(min(corners), abs=15.0)


@cache
def placed():
    """A rig of the invented yard at its best place: some inputs doubtful, some not known."""
    return best_place(rigs(haul=haul("03-landscaper-track-loader"), trailers=(yard().trailers["SH-132"],)))[1]


@pytest.mark.parametrize(
    "change", ["item_front_x_in", "item_weight_lb", "hitch_height_in", "truck_rear_gawr_lb", "deck_width_in"]
)
def test_judged_again_is_as_judged_anew(change):
    """To the last bit: what is not computed again rests on nothing that was changed."""
    stated = judge(placed())
    changes = {change: placed()[change] * 0.75}
    again, anew = judged_again(stated, changes), judge(placed().with_values(changes))
    assert again.nudges == anew.nudges
    for part in ("worst", "codes", "verdict", "governing"):
        np.testing.assert_array_equal(getattr(again, part), getattr(anew, part))
    for mine, theirs in zip(again.rows.demands + again.rows.limits, anew.rows.demands + anew.rows.limits, strict=True):
        np.testing.assert_array_equal(mine, theirs)
    assert not np.array_equal(again.rows.margin, stated.rows.margin, equal_nan=True)


def test_a_quantity_given_as_a_column_is_not_passed_over():
    first = Evaluation(placed())
    stated = first.check("coupler-vertical")[0]
    given = placed().with_values({"coupler_load_lb": first.value("coupler_load_lb") + 100.0})
    np.testing.assert_allclose(Evaluation(given, like=first).check("coupler-vertical")[0], stated + 100.0)
