"""The bridge formula against every cell of the printed table, and against plain fractions on random groups."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.rules import bridge
from rubrail.rules.tables import table

ROWS = table("bridge")["rows"]
LIMITS = {"single_axle_lb": 20_000, "tandem_lb": 34_000}
FLOORED = {
    (11, 4): 49_000,
    (15, 5): 57_000,
    (18, 6): 64_500,
    (19, 6): 65_000,
    (22, 7): 72_500,
    (23, 7): 73_000,
    (25, 8): 80_000,
    (26, 8): 80_500,
    (27, 8): 81_000,
    (29, 9): 88_000,
    (30, 9): 88_500,
    (31, 9): 89_000,
}
"""Cells one state prints 500 lb below the nearest 500: rounded down instead. Kept apart from the table."""


def by_fractions(length, n):
    """The formula in steps of 500 lb, exact."""
    return Fraction(length * n, n - 1) + 12 * n + 36


def span_in(row):
    return 12 * row["length_ft"]


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['length_ft']} ft, {r['axles']} axles")
def test_cell(row):
    got = bridge.axle_group_limit_lb(span_in=span_in(row), axle_count=row["axles"], **LIMITS)
    assert got == row["limit_lb"]


@pytest.mark.parametrize(
    "row", [r for r in ROWS if r["tie"]], ids=lambda r: f"{r['length_ft']} ft, {r['axles']} axles"
)
def test_an_exact_half_goes_up_where_the_state_says_so(row):
    up = bridge.axle_group_limit_lb(span_in=span_in(row), axle_count=row["axles"], ties_up=1, **LIMITS)
    assert up == row["limit_lb"] + 500
    assert by_fractions(row["length_ft"], row["axles"]) % 1 == Fraction(1, 2)


def test_no_other_cell_is_an_exact_half():
    for row in ROWS:
        if row["length_ft"] > 8.5 and not row["tie"]:
            assert by_fractions(row["length_ft"], row["axles"]) % 1 != Fraction(1, 2)


def test_the_floored_cells_are_not_in_the_table_and_are_500_short():
    cells = {(r["length_ft"], r["axles"]) for r in ROWS}
    for (length, n), printed in FLOORED.items():
        assert (length, n) not in cells
        assert printed == 500 * math.floor(by_fractions(length, n))
        assert bridge.bridge_formula_lb(length_ft=length, axle_count=n) == printed + 500


@given(length=st.integers(4, 100), n=st.integers(2, 9))
def test_nearest_500_with_halves_down(length, n):
    steps = by_fractions(length, n)
    want = math.ceil(steps - Fraction(1, 2))
    assert bridge.bridge_formula_lb(length_ft=length, axle_count=n) == 500 * want


@given(span=st.floats(1, 900), more=st.floats(0, 200), n=st.integers(2, 7))
def test_a_longer_group_never_carries_less(span, more, n):
    short, long = (bridge.axle_group_limit_lb(span_in=s, axle_count=n, **LIMITS) for s in (span, span + more))
    assert long >= short


def test_inches_that_do_not_add_up_exactly_still_sit_on_the_line():
    assert bridge.group_kind(span_in=0.1 * 3 + 95.7) == bridge.TANDEM
    assert bridge.group_kind(span_in=96.01) == bridge.GROUP
    assert bridge.group_kind(span_in=40.01) == bridge.TANDEM
    assert np.isnan(bridge.group_kind(span_in=np.nan))


def test_unknown_length_or_too_few_axles():
    assert np.isnan(bridge.axle_group_limit_lb(span_in=np.nan, axle_count=3, **LIMITS))
    assert np.isnan(bridge.bridge_formula_lb(length_ft=20, axle_count=1))


def test_groups_keep_their_number_on_a_longer_rig():
    assert bridge.consecutive_groups(axles=5)[:6] == bridge.consecutive_groups(axles=4)
