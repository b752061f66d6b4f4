"""Whether the ratings of one unit hold together, with the sums worked by hand beside each case."""

from __future__ import annotations

import math

import pytest

from answers.receiving import changed, gooseneck, label, maker, measured
from answers.yard import yard
from rubrail.answers.receive_ratings import guard_excluded, lamps_of, rating_lines
from rubrail.things.build import Equipment

EQUIPMENT = yard().trailers["SH-131"]
"""A low equipment trailer of 14,000 lb on two 7,000 lb axles, ball coupler."""
LIGHT = yard().trailers["SH-111"]
"""A landscape trailer of 7,000 lb, ball coupler."""


def line(trailer, key, member="", **how):
    return next(x for x in rating_lines(trailer=trailer, **how) if x.key == key and x.member in (member, ""))


@pytest.mark.parametrize(
    ("each_lb", "family", "word", "sum_lb"),
    [
        (3_500, "ST", "clear", 7_000),  # 2 x 3,500 = 7,000: equal is enough
        (3_325, "ST", "over", 6_650),  # 95 percent: no tolerance
        (3_850, "P", "clear", 7_000),  # 3,850 / 1.10 = 3,500
        (3_849, "P", "over", 2 * 3_849 / 1.10),
        (None, "ST", "not known", math.nan),
    ],
)
def test_tires_must_carry_the_axle(each_lb, family, word, sum_lb):
    load = None if each_lb is None else label(each_lb)
    t = changed(EQUIPMENT, axle__gawr_lb=label(7_000), axle__tires__max_load_lb=load, axle__tires__family=family)
    found = line(t, "tires-carry-axle-rating", "axle 1")
    assert found.verdict == word
    assert found.limit == pytest.approx(sum_lb, nan_ok=True)
    assert found.missing == (("axle_tire_max_load_lb",) if word == "not known" else ())


def test_duals_count_their_dual_figure():
    t = gooseneck(axle__tires__max_load_dual_lb=label(2_499), axle__tires__max_load_lb=label(3_000))
    assert line(t, "tires-carry-axle-rating", "axle 2").limit == 4 * 2_499
    assert line(t, "tires-carry-axle-rating", "axle 2").verdict == "over"


@pytest.mark.parametrize(("each_lb", "word"), [(2_500, "clear"), (2_499, "over"), (None, "not known")])
def test_wheels_must_carry_the_axle(each_lb, word):
    t = gooseneck(axle__wheel_rating_lb=None if each_lb is None else label(each_lb))
    found = line(t, "axle-wheels", "axle 1")
    assert (found.verdict, found.demand) == (word, 10_000)


@pytest.mark.parametrize(
    ("gvwr_lb", "cargo_lb", "word"),
    [(17_540, 10_420, "clear"), (17_539, 10_420, "over"), (17_540, math.nan, "not known")],
)
def test_gvwr_floor(gvwr_lb, cargo_lb, word):
    """7,120 lb empty and 10,420 lb rated cargo are 17,540 lb."""
    t = gooseneck(ratings__gvwr_lb=label(gvwr_lb))
    assert line(t, "gvwr-floor", rated_cargo_lb=cargo_lb).verdict == word


def test_the_share_the_label_counts_on():
    """22,500 - 2 x 10,000 = 2,500 lb, of 25 percent = 5,625 lb; 1,240 lb on the coupler leave 21,260 on axles."""
    share, flat = (line(gooseneck(), key) for key in ("label-coupler-share", "axle-group"))
    assert (share.demand, share.limit, share.verdict) == (2_500, 5_625, "clear")
    assert (flat.demand, flat.limit, flat.verdict) == (21_260, 20_000, "depends")
    much = line(gooseneck(ratings__gvwr_lb=label(27_000)), "label-coupler-share")
    assert (much.demand, much.limit, much.verdict) == (7_000, 6_750, "depends")


@pytest.mark.parametrize(("rated_lb", "word"), [(22_500, "clear"), (22_499, "over"), (None, "not known")])
def test_the_coupler_must_take_the_gross(rated_lb, word):
    t = gooseneck(coupling__gross_rating_lb=None if rated_lb is None else label(rated_lb))
    assert line(t, "coupler-gross").verdict == word


@pytest.mark.parametrize(("rated_lb", "word"), [(3_375, "clear"), (3_374, "depends")])
def test_the_coupler_must_take_the_least_share(rated_lb, word):
    """Guidance for a gooseneck begins at 15 percent: 0.15 x 22,500 = 3,375 lb, above the 2,500 the label counts on."""
    t = gooseneck(coupling__vertical_rating_lb=label(rated_lb))
    assert (line(t, "coupler-vertical").demand, line(t, "coupler-vertical").verdict) == (3_375, word)


def test_light_couplings_go_by_their_class():
    """7,000 lb is class 4: each chain breaks at 7,000 lb or more; its ball goes by strength. 3,500 lb asks 2 in."""
    t = changed(LIGHT, ratings__gvwr_lb=label(7_000), chains__strength_lb=label(6_999))
    assert line(t, "j684-chain").verdict == "over"
    assert not [x for x in rating_lines(trailer=t) if x.key == "j684-ball"]
    small = changed(LIGHT, ratings__gvwr_lb=label(3_500), coupling__ball_size_in=maker(1.875))
    assert (line(small, "j684-ball").demand, line(small, "j684-ball").verdict) == (2, "over")
    heavy = changed(LIGHT, ratings__gvwr_lb=label(10_001))
    assert not [x for x in rating_lines(trailer=heavy) if x.key.startswith("j684")]
    assert not [x for x in rating_lines(trailer=gooseneck()) if x.key.startswith("j684")]


def test_chains_together_carry_the_gross():
    t = changed(EQUIPMENT, ratings__gvwr_lb=label(14_000), chains__count=2, chains__strength_lb=label(7_000))
    assert line(t, "chain-strength").verdict == "clear"
    assert line(changed(t, chains__strength_lb=label(6_999)), "chain-strength").verdict == "over"
    assert line(gooseneck(), "chain-strength").verdict == "does not apply"
    assert line(gooseneck(chains__strength_lb=label(11_249)), "gooseneck-chains").verdict == "depends"


def test_brakes_by_the_federal_rule_are_a_caution():
    bare = gooseneck(axle__brakes="none", breakaway=False)
    assert line(bare, "brakes-all-wheels").verdict == "depends"
    assert line(bare, "breakaway").verdict == "depends"
    light = changed(LIGHT, ratings__gvwr_lb=label(3_000))
    assert not [x for x in rating_lines(trailer=light) if x.key in ("brakes-all-wheels", "breakaway")]


@pytest.mark.parametrize(
    ("changes", "excluded"),
    [
        # Rear 100 in behind the last axle, tires 30.8 in high: far more than 12 in ahead of the tail.
        ({"size__rear_from_coupler_in": measured(411)}, math.nan),
        # ST235/80R16: 2 x 0.8 x 235 mm + 16 in = 30.80 in; 311 + 15.40 + 12.007 (305 mm) = 338.41 in.
        ({"size__rear_from_coupler_in": measured(338.4)}, 1.0),
        ({"size__rear_from_coupler_in": measured(338.5)}, math.nan),
        # A fixed rear edge whose top is 22 in high: 558.8 mm, so its underside is under 560 mm for sure.
        ({"deck__tail_kind": "fixed", "deck__height_in": measured(33), "deck__tail_drop_in": measured(11)}, 1.0),
        (
            {"deck__tail_kind": "fixed", "deck__height_in": measured(33.1), "deck__tail_drop_in": measured(11)},
            math.nan,
        ),
        # One that lowers does not count: NHTSA's letter on the adjustable dovetail.
        (
            {"deck__tail_kind": "lowering", "deck__height_in": measured(33), "deck__tail_drop_in": measured(20)},
            math.nan,
        ),
        ({"deck__tail_kind": "tilt", "deck__height_in": measured(19)}, math.nan),
    ],
)
def test_which_exclusion_is_sure(changes, excluded):
    assert guard_excluded(gooseneck(**changes)) == pytest.approx(excluded, nan_ok=True)


def test_the_guard():
    t = gooseneck()
    assert line(t, "rear-guard").verdict == "not known"
    assert line(t, "rear-guard").missing
    fitted = gooseneck(equipment=(Equipment(tag="rear-guard"),))
    assert line(fitted, "rear-guard").verdict == "clear"
    assert line(gooseneck(ratings__gvwr_lb=label(9_999)), "rear-guard").verdict == "does not apply"
    excluded = gooseneck(size__rear_from_coupler_in=measured(338))
    assert line(excluded, "rear-guard").verdict == "does not apply"


@pytest.mark.parametrize(
    ("width_in", "length_in", "gvwr_lb", "there", "not_there"),
    [
        (79, 240, 7_000, (), ("clearance", "identification", "intermediate", "marking")),
        (102, 300, 9_990, ("clearance", "identification"), ("intermediate", "marking")),
        (102, 360, 24_000, ("clearance", "identification", "intermediate", "marking"), ()),
    ],
)
def test_lamps_of_its_size(width_in, length_in, gvwr_lb, there, not_there):
    t = gooseneck(
        size__width_in=measured(width_in),
        size__front_from_coupler_in=measured(0),
        size__rear_from_coupler_in=measured(length_in),
        ratings__gvwr_lb=label(gvwr_lb),
    )
    lamps, marked_in = lamps_of(t)
    names = " ".join(lamp.item for lamp in lamps)
    assert [w for w in there if w not in names] == []
    assert [w for w in not_there if w in names] == []
    assert marked_in == pytest.approx(length_in / 2 if "marking" in there else math.nan, nan_ok=True)


def test_a_neck_ahead_of_the_coupling_is_part_of_the_length():
    # Letter nht93-8.23 of NHTSA-8816: the gooseneck counts into the length that is halved. 60 + 300 in are 30 ft.
    t = gooseneck(
        size__width_in=measured(102),
        size__front_from_coupler_in=measured(-60),
        size__rear_from_coupler_in=measured(300),
        ratings__gvwr_lb=label(24_000),
    )
    lamps, marked_in = lamps_of(t)
    assert "intermediate side marker lamps" in [lamp.item for lamp in lamps]
    assert marked_in == pytest.approx(180)


EVERY_INPUT = (
    "ratings__gvwr_lb", "axle__gawr_lb", "axle__tires__count", "axle__tires__max_load_dual_lb", "axle__tires__family",
    "axle__wheel_rating_lb", "coupling__gross_rating_lb", "coupling__vertical_rating_lb", "weights__empty_coupler_lb",
    "chains__count", "chains__strength_lb", "lamps_complete",
)  # fmt: skip


def test_an_unknown_is_never_a_pass():
    """Every input of a unit taken away by itself: no line that was not clear becomes clear."""
    full = {(x.key, x.member): x.verdict for x in rating_lines(trailer=gooseneck())}
    for path in EVERY_INPUT:
        found = rating_lines(trailer=gooseneck(**{path: None}))
        unknown = [x for x in found if x.verdict == "not known" and full.get((x.key, x.member)) != "not known"]
        assert unknown, path
        assert all(x.missing for x in unknown), path
        assert all(x.verdict != "clear" or full[x.key, x.member] == "clear" for x in found), path
