"""Weighted least squares against a published example, other libraries, and its own properties."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import lstsq
from uncertainties import correlated_values, covariance_matrix

from rubrail.mechanics.least_squares import chance_of_more, doubt, fit

# JCGM 100:2008 (GUM) H.3, table H.6: thermometer readings and observed corrections, in degrees Celsius. Read in a
# copy: the worked example in the documentation of an uncertainty package (source record JCGM-100).
GUM_READINGS = (21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511)
GUM_CORRECTIONS = (-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160)
GUM_RESULTS = {
    "intercept": (-0.1712, 0.0029),  # (value, standard uncertainty), to the digits printed
    "slope": (0.00218, 0.00067),
    "correlation": -0.93,
    "squared residuals": 0.000110096583109,
    "correction at 30": (-0.1494, 0.0041),
}


def test_gum_thermometer():
    """H.3: both estimates, their uncertainties, their correlation, and a prediction that needs the correlation."""
    away = np.array(GUM_READINGS) - 20.0
    design = np.column_stack([np.ones(11), away])
    found = fit(design=design, observed=GUM_CORRECTIONS, covariance=np.eye(11))
    assert found.freedom == 9
    assert found.chi_square == pytest.approx(GUM_RESULTS["squared residuals"], rel=1e-9)
    covariance = found.covariance * found.chi_square / found.freedom  # the spread is taken from the residuals
    spread = np.sqrt(np.diag(covariance))
    assert (round(found.values[0], 4), round(spread[0], 4)) == GUM_RESULTS["intercept"]
    assert (round(found.values[1], 5), round(spread[1], 5)) == GUM_RESULTS["slope"]
    assert round(covariance[0, 1] / spread.prod(), 2) == GUM_RESULTS["correlation"]
    at_30 = np.array([1.0, 10.0])
    told = (round(float(at_30 @ found.values), 4), round(float(doubt(covariance=covariance, combination=at_30)), 4))
    assert told == GUM_RESULTS["correction at 30"]


def made(seed: int, *, readings: int = 9, unknowns: int = 4):
    rng = np.random.default_rng(seed)
    design = rng.integers(-2, 3, (readings, unknowns)).astype(float) + np.eye(readings, unknowns) * 5
    root = rng.normal(size=(readings, readings)) + 4 * np.eye(readings)
    return design, rng.normal(0, 1000, readings), root @ root.T


@pytest.mark.parametrize("seed", range(20))
def test_against_the_uncertainties_package(seed):
    """Estimates as explicit combinations of correlated readings, their covariance taken by that package."""
    design, observed, covariance = made(seed)
    found = fit(design=design, observed=observed, covariance=covariance)
    weight = np.linalg.inv(covariance)
    gain = np.linalg.inv(design.T @ weight @ design) @ design.T @ weight
    readings = correlated_values(observed, covariance)
    theirs = [sum(g * r for g, r in zip(row, readings, strict=True)) for row in gain]
    np.testing.assert_allclose(found.values, [t.nominal_value for t in theirs], rtol=1e-8, atol=1e-8)
    np.testing.assert_allclose(found.covariance, covariance_matrix(theirs), rtol=1e-6, atol=1e-9)


@pytest.mark.parametrize("seed", range(20))
def test_against_scipy(seed):
    design, observed, covariance = made(seed)
    root = np.linalg.cholesky(covariance)
    theirs, misfit, *_ = lstsq(np.linalg.solve(root, design), np.linalg.solve(root, observed))
    found = fit(design=design, observed=observed, covariance=covariance)
    np.testing.assert_allclose(found.values, theirs, rtol=1e-8)
    assert found.chi_square == pytest.approx(misfit, rel=1e-8)


@pytest.mark.parametrize("seed", range(10))
def test_a_reading_alone_is_off_by_what_it_is_said_to_be(seed):
    """The shift of a reading is its residual against the fit of all the others, by leaving it out for true."""
    design, observed, covariance = made(seed)
    independent = np.diag(np.diag(covariance))
    whole = fit(design=design, observed=observed, covariance=independent)
    for n in range(len(observed)):
        rest = np.delete(np.arange(len(observed)), n)
        without = fit(design=design[rest], observed=observed[rest], covariance=independent[np.ix_(rest, rest)])
        predicted = design[n] @ without.values
        assert observed[n] - whole.shift[n] == pytest.approx(predicted, rel=1e-7)
        spread = np.hypot(np.sqrt(independent[n, n]), doubt(covariance=without.covariance, combination=design[n]))
        assert whole.normalized[n] == pytest.approx((observed[n] - predicted) / spread, rel=1e-7)


def test_what_the_readings_do_not_tell():
    """Two unknowns seen only by their sum: the sum is told, neither alone, and nothing checks it."""
    found = fit(design=[[1, 1, 0], [0, 0, 1]], observed=[10, 4], covariance=np.diag([1.0, 4.0]))
    assert found.rank == 2
    assert found.freedom == 0
    assert found.tells([1, 1, 0])
    assert found.tells([2, 2, -3])
    assert not found.tells([1, 0, 0])
    assert not found.tells([0, 1, 1])
    assert np.isnan(found.normalized).all()
    assert np.isnan(found.shift).all()
    assert doubt(covariance=found.covariance, combination=[1, 1, 0]) == pytest.approx(1.0)
    assert np.isnan(chance_of_more(chi_square=0.0, freedom=0))


def test_no_readings_and_no_unknowns():
    assert fit(design=np.zeros((0, 2)), observed=[], covariance=np.zeros((0, 0))).rank == 0
    assert not fit(design=np.zeros((1, 2)), observed=[1], covariance=[[1.0]]).tells([1, 0])


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.permutations(range(9)))
def test_the_order_of_readings_does_not_matter(seed, order):
    design, observed, covariance = made(seed)
    order = list(order)
    one = fit(design=design, observed=observed, covariance=covariance)
    two = fit(design=design[order], observed=observed[order], covariance=covariance[np.ix_(order, order)])
    np.testing.assert_allclose(one.values, two.values, rtol=1e-7, atol=1e-7)
    np.testing.assert_allclose(one.normalized[order], two.normalized, rtol=1e-5, atol=1e-6)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.lists(st.integers(-3, 3), min_size=4, max_size=4))
def test_one_reading_more_never_widens(seed, row):
    """Whatever it shows, and whatever it shares with the others."""
    design, observed, covariance = made(seed, readings=10)
    less = fit(design=design[:9], observed=observed[:9], covariance=covariance[:9, :9])
    more = fit(design=np.vstack([design[:9], row]), observed=observed, covariance=covariance)
    assert np.linalg.eigvalsh(less.covariance - more.covariance).min() >= -1e-7 * np.abs(less.covariance).max()


def test_many_sets_at_once_are_each_the_one():
    sets = [made(seed) for seed in range(5)]
    every = fit(**{k: np.array([s[n] for s in sets]) for n, k in enumerate(("design", "observed", "covariance"))})
    for n, (design, observed, covariance) in enumerate(sets):
        one = fit(design=design, observed=observed, covariance=covariance)
        for name in ("values", "covariance", "residuals", "normalized", "shift", "redundancy", "chi_square", "rank"):
            np.testing.assert_allclose(getattr(every, name)[n], getattr(one, name), rtol=1e-8, atol=1e-9)


def test_chance_of_more():
    """Quantiles of chi-square from the tables: 3.841 leaves 5 % at one degree of freedom, 18.307 at ten."""
    assert chance_of_more(chi_square=3.841, freedom=1) == pytest.approx(0.05, abs=1e-4)
    assert chance_of_more(chi_square=18.307, freedom=10) == pytest.approx(0.05, abs=1e-4)
