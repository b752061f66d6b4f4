from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.sheets.drawing.figure import Disc, box, extent, limb, line, moved, skyline, tilted, turned_round
from rubrail.sheets.drawing.view import View, path

place = st.floats(-500, 500)
angle = st.floats(-1.5, 1.5)


@given(place, place, place, place, angle)
def test_tilting_keeps_lengths(ax, az, bx, bz, a):
    (moved_line,) = tilted((line((ax, az), (bx, bz)),), a, (3.0, 4.0))
    (p, q) = moved_line.points
    assert math.dist(p, q) == pytest.approx(math.dist((ax, az), (bx, bz)), abs=1e-6)


def test_a_positive_tilt_lifts_what_lies_rearward():
    (tilted_line,) = tilted((line((0, 0), (100, 0)),), math.atan2(1, 10), (0, 0))
    assert tilted_line.points[1][1] == pytest.approx(100 / math.sqrt(101), rel=1e-6)


def test_turning_round_twice_changes_nothing():
    figure = (box(0, 0, 30, 10), Disc(40, 5, 5))
    assert turned_round(turned_round(figure, 60), 60) == figure


def test_extent_counts_circles_by_their_edge():
    assert extent((box(0, 0, 10, 4), Disc(20, 5, 5))) == (0, 0, 25, 10)


def test_skyline_reads_the_height_of_a_slope_where_it_is_asked():
    roof = (line((0, 0), (100, 50)),)
    assert skyline(roof, 20, 40) == pytest.approx(20)
    assert skyline(roof, 120, 140) == 0
    assert skyline(moved(roof, 0, 10), 0, 0) == pytest.approx(10)


def test_a_limb_is_as_wide_as_it_says():
    bar = limb([(0, 0), (100, 0)], [6, 6])
    assert {z for _, z in bar.points} == {3.0, -3.0}


def test_one_scale_for_both_directions_and_up_is_up():
    view = View(1.5)
    assert (view.x(10), view.y(10)) == (15, -15)


def test_a_rounded_corner_never_passes_the_middle_of_an_edge():
    assert path([(0, 0), (10, 0), (10, 10), (0, 10)], closed=True, radius=50).count("Q") == 4
    assert path([(0, 0), (10, 0)], closed=False) == "M0 0L10 0"
