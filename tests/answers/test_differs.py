"""What sets a unit apart, on small yards worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.answers.differs import Difference, Trait, differences

HEIGHT = Trait("height", "deck height", "in", 0.5, ("low", "lower"), ("high", "higher"))
PRICE = Trait("price", "price", "USD", 250, ("low", "lower"), ("high", "higher"))
RAMPS = Trait("ramps", "ramps")


def one(trait: Trait, own, others) -> Difference | None:
    found = differences(traits=[trait], own={trait.key: own}, others={trait.key: others})
    assert len(found) <= 1
    return found[0] if found else None


def test_a_low_deck_among_high_ones():
    # By hand: 31 33 34 35 36 36 38, the middle of seven is 35; one of seven, 1/7 < 1/4, is at 31 or below.
    told = one(HEIGHT, 31.0, [36, 33, 31, 35, 34, 38, 36])
    assert told == Difference(HEIGHT, 31.0, 35.0, 7, 1, 0, -1)


def test_a_high_one_counts_the_other_way():
    # By hand: eight of them, the middle two 34 and 35; none is at 40 or above.
    assert one(HEIGHT, 40.0, [30, 32, 33, 34, 35, 36, 37, 38]) == Difference(HEIGHT, 40.0, 34.5, 8, 0, 0, 1)


@pytest.mark.parametrize(
    ("own", "others", "why"),
    [
        (33.0, [31, 32, 34, 35, 36, 37, 38], "2 of 7 are at 33 or lower: more than a quarter"),
        (34.6, [35, 35, 35, 35, 35], "none is as low, but 0.4 in is not worth a word"),
        (35.0, [35, 35, 35], "it is the median"),
        (20.0, [35, 36], "two others make nothing usual"),
        (20.0, [35, 36, None, math.nan, ""], "nor do two that are known among five"),
        (None, [35, 36, 37], "its own is not known"),
        (math.nan, [35, 36, 37], "its own is not known"),
    ],
)
def test_what_is_left_out(own, others, why):
    assert one(HEIGHT, own, others) is None, why


def test_exactly_a_quarter_is_still_few():
    # By hand: of 4 others one is as low: 1 = 0.25 x 4. Of 3 others one is more than a quarter.
    assert one(HEIGHT, 30.0, [30, 35, 36, 37]).alike == 1
    assert one(HEIGHT, 30.0, [30, 35, 36]) is None


def test_exactly_the_least_distance_is_told():
    assert one(HEIGHT, 34.5, [35, 35, 35, 35]).typical == 35


def test_words_against_the_most_common_word():
    # By hand: stand-up 4 of 7 is more than half; slide-in 1 of 7 is less than a quarter.
    others = ["stand-up", "slide-in", "stand-up", "gate", "stand-up", None, "stand-up", "gate"]
    assert one(RAMPS, "slide-in", others) == Difference(RAMPS, "slide-in", "stand-up", 7, 1, 4, 0)
    assert one(RAMPS, "gate", others) is None, "2 of 7 are more than a quarter"
    assert one(RAMPS, "stand-up", others) is None
    assert one(RAMPS, "bi-fold", ["gate", "stand-up", "slide-in"]) is None, "no word is usual there"


def test_arrays_say_what_lists_say():
    assert one(HEIGHT, 31.0, np.array([36, 33, np.nan, 31, 35, 34, 38, 36])) == one(
        HEIGHT, 31.0, [36, 33, None, 31, 35, 34, 38, 36]
    )
    words = ["stand-up", "stand-up", None, "stand-up"]
    assert one(RAMPS, "gate", np.array(words, object)) == one(RAMPS, "gate", words)
    assert one(RAMPS, "gate", np.array(words, object)).others == 3


def test_the_rarest_stands_first_and_the_order_of_traits_breaks_ties():
    found = differences(
        traits=[PRICE, HEIGHT, RAMPS],
        own={"price": 1000.0, "height": 30.0, "ramps": "gate"},
        others={
            "price": [900.0, 5000.0, 5000.0, 5000.0, 5000.0],  # 1 of 5
            "height": [31, 35, 36],  # 0 of 3
            "ramps": ["stand-up"] * 4,  # 0 of 4
        },
    )
    assert [d.trait.key for d in found] == ["height", "ramps", "price"]


numbers = st.floats(-1e4, 1e4, allow_nan=False)


@given(own=numbers, others=st.lists(numbers, min_size=3, max_size=30), shift=st.sampled_from([-512.0, 0.0, 1024.0]))
def test_the_order_of_the_yard_and_where_zero_lies_do_not_matter(own, others, shift):
    plain = Trait("n", "n", "lb", 1.0, ("low", "lower"), ("high", "higher"))
    own, others = round(own), [round(v) for v in others]
    told = one(plain, own, others)
    assert one(plain, own, others[::-1]) == told
    moved = one(plain, own + shift, [v + shift for v in others])
    assert (moved is None) == (told is None)
    if told:
        assert (moved.alike, moved.way, moved.typical - shift) == (told.alike, told.way, told.typical)
        assert told.alike <= told.others / 4


@given(own=numbers, others=st.lists(numbers, min_size=3, max_size=30))
def test_looking_in_the_mirror_turns_low_into_high(own, others):
    plain = Trait("n", "n", "lb", 1.0, ("low", "lower"), ("high", "higher"))
    told, mirrored = one(plain, own, others), one(plain, -own, [-v for v in others])
    assert (told is None) == (mirrored is None)
    if told:
        assert (mirrored.alike, mirrored.way) == (told.alike, -told.way)
