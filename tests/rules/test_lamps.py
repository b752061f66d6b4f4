"""Lamps and marking where something is not known, and at the edges of year, width and length."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rubrail.rules import lamps

MARKING = "red and white marking"


def sure(**changes):
    base = {"width_in": 102, "length_in": 360, "gvwr_lb": 24_000, "built_year": 2025}
    return {x.item: x.sure for x in lamps.required_lamps(**{**base, **changes})}


def test_unknown_width_leaves_wide_lamps_unsure():
    found = sure(width_in=math.nan)
    assert found["tail lamps"]
    assert not found["identification lamps"]
    assert not found[MARKING]


def test_unknown_length_leaves_intermediate_lamps_unsure():
    assert not sure(length_in=math.nan)["intermediate side marker lamps"]


@pytest.mark.parametrize(("year", "want"), [(1994, True), (1993, False), (1990, False), (math.nan, False)])
def test_marking_by_year(year, want):
    """Required from 1 December 1993; older ones come under another section: listed, and to be asked about."""
    assert sure(built_year=year)[MARKING] is want


@pytest.mark.parametrize("change", [{"gvwr_lb": 10_000}, {"width_in": 79.9}])
def test_no_marking(change):
    assert MARKING not in sure(**change)


def test_edges_count_as_wide_and_long():
    assert "identification lamps" in sure(width_in=80)
    assert "intermediate side reflectors" in sure(length_in=360)
    assert "intermediate side reflectors" not in sure(length_in=359.9)


def test_wide():
    np.testing.assert_array_equal(lamps.wide(width_in=[79.9, 80, np.nan]), [0, 1, np.nan])
