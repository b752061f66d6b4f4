"""Numbers as people say them."""

from __future__ import annotations

from math import inf, nan, radians

import pytest

from rubrail.sheets.sentences_amounts import amount, feet, listed, percent, text_in_metric


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [
        (1_432.4, "lb", "1,432 lb"),
        (3.5, "in", "3.5 in"),
        (102.0, "in", "102 in"),
        (0.2, "lb", "0.2 lb"),
        (0.0, "lb", "0 lb"),
        (-1_234.0, "lb", "−1,234 lb"),
        (radians(2.13), "rad", "2.1°"),
        (80.0, "psi", "80 psi"),
        (9_400, "USD", "$9,400"),
        (4.0, "", "4"),
        (nan, "lb", "not known"),
        (inf, "lb", "no limit"),
    ],
)
def test_amounts(value, unit, said):
    assert amount(value, unit) == said


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [
        # By pencil from the exact definitions: 0.45359237 kg, 25.4 mm, 6.894757 kPa.
        (10_000, "lb", "4,536 kg"),
        (14.0, "in", "356 mm"),
        (80.0, "psi", "552 kPa"),
        (5.0, "USD", "$5"),
        (nan, "lb", "not known"),
    ],
)
def test_metric(value, unit, said):
    assert amount(value, unit, metric=True) == said


def test_feet_as_a_tape_reads():
    assert feet(102.0) == "8 ft 6 in"
    assert feet(120.0) == "10 ft"
    assert feet(11.96 * 12) == "12 ft"
    assert feet(14.0) == "14 in"
    assert feet(-30.0) == "−2 ft 6 in"
    assert feet(100.0, metric=True) == "2.54 m"
    assert feet(nan) == "not known"


def test_percent():
    assert percent(0.0453) == "5 %"
    assert percent(0.001) == "under 1 %"
    assert percent(-0.21) == "−21 %"
    assert percent(inf) == percent(nan) == ""


def test_a_sentence_in_metric_keeps_ball_sizes():
    said = text_in_metric("A 2-5/16 in ball; take 1,230 lb off, move it 14 in rearward, a 3 in ball, 80 psi.")
    assert said == "A 2-5/16 in ball; take 558 kg off, move it 356 mm rearward, a 3 in ball, 552 kPa."
    # 6 in are 152.4 mm and 12 in 304.8; 80 psi are 551.6 kPa and 90 psi 620.5.
    assert text_in_metric("6 to 12 in apart, 80 to 90 psi") == "152 to 305 mm apart, 552 to 621 kPa"


def test_lists():
    assert listed([]) == ""
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "c"]) == "a, b and c"
