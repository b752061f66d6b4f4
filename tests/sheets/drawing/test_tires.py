from __future__ import annotations

import pytest

from rubrail.sheets.drawing.tires import tire_size

# Worked by hand from what the designation states: section width in mm, aspect in percent, rim in inches; the share of
# the section height lost under load (0.13) is ours, from memory.
# 235 mm = 9.252 in; 0.80 x 9.252 = 7.402 in of section; 8 + 0.87 x 7.402 = 14.439 in.
# 215 mm = 8.465 in; 0.75 x 8.465 = 6.348 in; 8.75 + 0.87 x 6.348 = 14.273 in.
# 20.5 in across on a 10 in rim: section (20.5 - 10) / 2 = 5.25 in; 5 + 0.87 x 5.25 = 9.568 in.
# 7.50 in section, aspect 1: 8 + 0.87 x 7.5 = 14.525 in.
BY_HAND = [
    ("ST235/80R16", 14.439, 9.252),
    ("ST235/80R16 E", 14.439, 9.252),
    ("215/75R17.5", 14.273, 8.465),
    ("20.5x8.0-10", 9.568, 8.0),
    ("7.50-16", 14.525, 7.5),
]


@pytest.mark.parametrize(("text", "radius", "width"), BY_HAND)
def test_size_from_the_sidewall(text, radius, width):
    size = tire_size(text)
    assert size is not None
    assert size.loaded_radius_in == pytest.approx(radius, abs=0.002)
    assert size.width_in == pytest.approx(width, abs=0.001)


@pytest.mark.parametrize("text", [None, "", "big ones", "999/99R99", "ST"])
def test_what_cannot_be_read_is_not_guessed(text):
    assert tire_size(text) is None
