"""Sentences about one unit by itself, written out by hand."""

from __future__ import annotations

import math

import pytest

from rubrail.answers.decode import Decoding, Figure
from rubrail.answers.differs import Difference, Trait
from rubrail.answers.gaps import Blind, Gap
from rubrail.sheets.sentences_unit import (
    difference_sentence,
    measure_first,
    place_words,
    to_measure,
    trait_value,
    weakest_sentence,
    why_measure,
)

HEIGHT = Trait("height", "deck height", "in", 0.5, ("low", "lower"), ("high", "higher"))
LENGTH = Trait("length", "deck", "in", 6, ("short", "shorter"), ("long", "longer"))
RATIO = Trait("ratio", "price for what it carries", "USD/lb", 0.02, ("low", "lower"), ("high", "higher"))
RAMPS = Trait("ramps", "ramps")


def decoding(axles: float, tires: float, wheels: float) -> Decoding:
    least = min((v for v in (axles, tires, wheels) if not math.isnan(v)), default=math.nan)
    parts = [
        Figure(name, "running gear", name, value, "", "", governs=value == least)
        for name, value in (("axles", axles), ("tires", tires), ("wheels", wheels))
    ]
    return Decoding("T-1", "T-1", "", tuple(parts))


@pytest.mark.parametrize(
    ("gear", "said"),
    [
        (
            (14_000, 13_680, 15_000),
            "Of the running gear the tires are the weakest, 13,680 lb; the axle ratings 14,000 lb and the wheels"
            " 15,000 lb.",
        ),
        (
            (14_000, 14_000, 15_000),
            "Of the running gear the axle ratings and tires are the weakest, 14,000 lb; the wheels 15,000 lb.",
        ),
        (
            (7_000, math.nan, 8_600),
            "Of the running gear the axle ratings are the weakest known, 7,000 lb; the wheels 8,600 lb; what the tires"
            " come to is not known.",
        ),
        (
            (math.nan, math.nan, 8_600),
            "Of the running gear only the wheels are known, 8,600 lb; what the axle ratings and tires come to is not"
            " known.",
        ),
        ((7_000, 7_000, 7_000), "Axle ratings, tires and wheels come to the same, 7,000 lb."),
        ((math.nan,) * 3, "What axles, tires and wheels carry is not known."),
    ],
)
def test_the_weakest_of_the_running_gear(gear, said):
    assert weakest_sentence(decoding(*gear)) == said


def test_the_weakest_in_metric():
    # 13,680 lb x 0.45359237 = 6,205.14 kg; 14,000 lb = 6,350.29 kg; 15,000 lb = 6,803.89 kg
    assert "6,205 kg; the axle ratings 6,350 kg and the wheels 6,804 kg" in weakest_sentence(
        decoding(14_000, 13_680, 15_000), metric=True
    )


@pytest.mark.parametrize(
    ("told", "said"),
    [
        (Difference(HEIGHT, 31.0, 35.25, 7, 0, 0, -1), "35.25 in is usual, the middle of 7 others; none is as low"),
        (
            Difference(HEIGHT, 38.0, 35.0, 8, 1, 0, 1),
            "35 in is usual, the middle of 8 others; 1 is as high or higher",
        ),
        (
            Difference(LENGTH, 240.0, 300.0, 12, 3, 0, -1),
            "25 ft is usual, the middle of 12 others; 3 are as short or shorter",
        ),
        (Difference(RAMPS, "slide-in", "stand-up", 7, 0, 4, 0), "stand-up on 4 of 7 others; none like it"),
        (Difference(RAMPS, "slide-in", "stand-up", 9, 2, 6, 0), "stand-up on 6 of 9 others; 2 like it"),
    ],
)
def test_how_unusual_it_is(told, said):
    assert difference_sentence(told) == said


def test_values_of_traits_in_both_measures():
    assert trait_value(HEIGHT, 36.25) == "36.25 in"
    # 36.25 in x 25.4 = 920.75 mm
    assert trait_value(HEIGHT, 36.25, metric=True) == "921 mm"
    assert trait_value(LENGTH, 300.0) == "25 ft"
    assert trait_value(RATIO, 1.5) == "$1.50 a pound"
    # 1.50 / 0.45359237 = 3.3069
    assert trait_value(RATIO, 1.5, metric=True) == "$3.31 a kilogram"
    assert trait_value(RAMPS, "gate") == "gate"


@pytest.mark.parametrize(
    ("name", "says", "members", "said"),
    [
        (
            "deck_height_in", "ground to the top of the deck, trailer level", (),
            "Measure with a tape: ground to the top of the deck, trailer level",
        ),
        (
            "axle_gawr_lb", "gross axle weight rating", (0, 1),
            "Read on the trailer's label: gross axle weight rating, axles 1 and 2",
        ),
        (
            "coupler_vertical_rating_lb", "load on the coupler it is rated for", (),
            "Read what is stamped on the part: load on the coupler it is rated for",
        ),
        ("trailer_empty_weight_lb", "empty weight", (), "Weigh by scale ticket: empty weight"),
        (
            "lamps_complete", "1 where every lamp and marking required was seen", (),
            "Look whether every lamp and marking required was seen",
        ),
        ("suspension_kind", "whether the axles share by an equalizer", (),
         "Look whether the axles share by an equalizer"),
        ("chain_count", "safety chains", (), "Find out: safety chains"),
    ],
)  # fmt: skip
def test_what_to_measure_and_how(name, says, members, said):
    assert to_measure(Gap(name, says, members, (), payload=False)) == said


def test_why_to_measure_it():
    limits = tuple(Blind(str(n), f"limit {n}", "rating") for n in range(1, 6))
    gap = Gap("x", "x", (), (*limits, Blind("t", "a tax", "tax")), payload=True)
    assert why_measure(gap) == (
        "Without it nobody can say what the trailer carries; not to be judged: limit 1, limit 2, limit 3 and 3 more."
    )
    assert why_measure(Gap("x", "x", (), limits[:1], payload=False)) == "Without it not to be judged: limit 1."
    assert why_measure(Gap("x", "x", (), (), payload=True)) == "Without it nobody can say what the trailer carries."
    tax = Gap("x", "x", (), (Blind("t", "a tax", "tax"),), payload=False)
    assert why_measure(tax) == "Without it not to be judged: a tax."


def test_the_first_to_measure_is_one_the_payload_waits_for():
    lamps = Gap("lamps_complete", "1 where every lamp was seen", (), (Blind("l", "lamps", "law"),), payload=False)
    empty = Gap("trailer_empty_weight_lb", "empty weight", (), (), payload=True)
    assert measure_first((empty, lamps)) == (
        "What it carries is not known yet. First: Weigh by scale ticket: empty weight."
    )
    assert measure_first((lamps,)) == "What it carries is not known."


def test_a_place_from_both_ends():
    assert place_words(201, 92) == "9 ft 1 in behind the front of the deck, 16 ft 9 in behind the coupling"
