"""The exact search along a line against dense sampling and a linear program."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from rubrail.answers.shift import best_shift, bounds


def test_two_lines_cross_at_the_peak():
    # 1 + s and 3 - s meet at s = 1 with value 2 (worked by hand).
    shift, value, rising, falling = best_shift(
        at_zero=np.array([1.0, 3.0]), slope=np.array([1.0, -1.0]), low=np.array(-10.0), high=np.array(10.0)
    )
    assert (shift, value, rising, falling) == (1.0, 2.0, 0, 1)


@pytest.mark.parametrize(("slope", "want"), [(-1.0, 0.0), (1.0, 5.0)])
def test_a_single_line_peaks_at_a_bound(slope, want):
    shift, value, *_ = best_shift(
        at_zero=np.array([2.0]), slope=np.array([slope]), low=np.array(0.0), high=np.array(5.0)
    )
    assert shift == want
    assert value == 2.0 + slope * want


def test_bounds_are_where_lines_cross_zero():
    # s - 2 >= 0 and 6 - 2 s >= 0: between 2 and 3 (by hand).
    low, high = bounds(at_zero=np.array([-2.0, 6.0]), slope=np.array([1.0, -2.0]))
    assert (low, high) == (2.0, 3.0)


def test_a_flat_line_below_zero_leaves_no_room():
    low, high = bounds(at_zero=np.array([-1.0]), slope=np.array([0.0]))
    assert low > high


lines = st.lists(
    st.tuples(st.floats(-50, 50), st.floats(-5, 5).filter(lambda s: abs(s) > 1e-3)), min_size=1, max_size=12
)


@given(lines)
def test_no_linear_program_finds_a_better_shift(rows):
    a, b = (np.array(c) for c in zip(*rows, strict=True))
    shift, value, *_ = best_shift(at_zero=a, slope=b, low=np.array(-20.0), high=np.array(30.0))
    # maximize t with t <= a + b s
    lp = linprog(c=[0, -1], A_ub=np.column_stack([-b, np.ones_like(a)]), b_ub=a, bounds=[(-20, 30), (None, None)])
    assert value == pytest.approx(-lp.fun, abs=1e-7)
    assert value == pytest.approx((a + b * shift).min(), abs=1e-9)


def test_many_rigs_at_once_equal_each_alone():
    rng = np.random.default_rng(7)
    a, b = rng.normal(size=(9, 40, 3)), rng.normal(size=(9, 40, 3))
    low, high = np.full((40, 3), -4.0), np.full((40, 3), 6.0)
    together = best_shift(at_zero=a, slope=b, low=low, high=high)
    for u in range(40):
        for p in range(3):
            alone = best_shift(at_zero=a[:, u, p], slope=b[:, u, p], low=low[u, p], high=high[u, p])
            assert [x[u, p] for x in together] == [x[()] for x in alone]
