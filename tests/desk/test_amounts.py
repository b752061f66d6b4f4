"""Numbers as the desk writes them. Expected texts are worked by hand."""

import pytest

from rubrail.desk.amounts import written


@pytest.mark.parametrize(
    ("number", "unit", "text"),
    [
        (2.3125, "in", "2-5/16 in"),
        (1.875, "in", "1-7/8 in"),
        (0.375, "in", "3/8 in"),
        (-0.0625, "in", "-1/16 in"),
        (-5.125, "in", "-5-1/8 in"),
        (36.25, "in", "36.25 in"),
        (33.5, "in", "33.5 in"),
        (102, "in", "102 in"),
        (0, "in", "0 in"),
        (20.3, "in", "20.3 in"),
        (14_000, "lb", "14,000 lb"),
        (5.125, "lb", "5 lb"),
    ],
)
def test_written(number: float, unit: str, text: str):
    assert written(number, unit) == text


def test_metric_knows_no_sixteenths():
    # 2.3125 in x 25.4 = 58.7375 mm
    assert written(2.3125, "in", metric=True) == "59 mm"
