"""One gate for every quantity and every check: written once, run over the whole registry."""

from __future__ import annotations

import zlib

import numpy as np
import pytest

from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.registry import CHECKS, QUANTITIES, raw_inputs
from rubrail.rules.sources import all_sources
from rubrail.things.names import COLUMNS

from .samples import inputs, member_axis

WORDS = {
    "sum": lambda x: np.sum(x, axis=0),
    "min": lambda *a: np.minimum.reduce(np.broadcast_arrays(*a)) if len(a) > 1 else np.min(a[0], axis=0),
    "max": lambda *a: np.maximum.reduce(np.broadcast_arrays(*a)) if len(a) > 1 else np.max(a[0], axis=0),
    "where": np.where, "sqrt": np.sqrt, "abs": np.abs, "sin": np.sin, "cos": np.cos, "tan": np.tan,
    "asin": np.arcsin, "atan": np.arctan, "round": np.round, "inf": np.inf, "nan": np.nan,
}  # fmt: skip
EVERY = [*QUANTITIES, *CHECKS]


def generator(name: str) -> np.random.Generator:
    return np.random.default_rng(zlib.crc32(name.encode()))


def entry(name):
    return QUANTITIES.get(name) or CHECKS[name]


def results(e, values) -> tuple[np.ndarray, ...]:
    with np.errstate(all="ignore"):
        out = e.function(**values)
    return tuple(np.asarray(o, float) for o in (out if isinstance(out, tuple) else (out,)))


@pytest.mark.parametrize("name", EVERY)
def test_every_input_is_a_column_or_a_quantity(name):
    assert all(n in COLUMNS for n in raw_inputs(entry(name).inputs))


@pytest.mark.parametrize("name", EVERY)
def test_sources_exist_and_stand_in_the_docstring(name):
    e = entry(name)
    known = all_sources()
    assert e.function.__doc__, "a docstring is owed"
    for key in e.sources:
        assert key in known
        assert key in e.function.__doc__
    if name in CHECKS:
        assert e.sources, "a check names its source"
        assert e.says.endswith((".", "?"))


@pytest.mark.parametrize("name", EVERY)
def test_the_printed_formula_is_what_the_function_computes(name):
    e = entry(name)
    formulas = (e.formula,) if name in QUANTITIES else (e.demand, e.limit)
    rng = generator(name)
    for _ in range(60):
        values = inputs(e.inputs, rng)
        for formula, got in zip(formulas, results(e, values), strict=True):
            if formula:
                with np.errstate(all="ignore"):
                    want = eval(formula, {"__builtins__": {}}, {**WORDS, **values})
                applies = np.isfinite(got)
                got, want = np.broadcast_arrays(got, np.asarray(want, float))
                np.testing.assert_allclose(got[applies], want[applies], rtol=1e-9, atol=1e-9)


@pytest.mark.parametrize("name", EVERY)
def test_each_cell_of_an_array_call_equals_the_scalar_call(name):
    e = entry(name)
    shape = (3, 2, 2)
    values = inputs(e.inputs, generator(name), shape)
    together = results(e, values)
    lead = 1 if e.per else 0
    for cell in np.ndindex(*shape):
        alone = results(e, {n: v[(..., *cell)] for n, v in values.items()})
        for whole, part in zip(together, alone, strict=True):
            whole = np.broadcast_to(whole, (*whole.shape[:lead], *shape)) if whole.ndim >= lead else whole
            if not np.array_equal(whole[(..., *cell)], part, equal_nan=True):
                np.testing.assert_array_equal(whole[(..., *cell)], part)


# A limit that applies only once it is stated; unstated, it is told as a duty.
ONLY_WHEN_STATED = {("registered-weight", "truck_registered_lb")}
TRIED = 12
"""Other values of an input whose absence went unnoticed."""


@pytest.mark.parametrize("name", EVERY)
def test_an_unknown_input_is_never_ignored_where_it_matters(name):
    """nan gives nan, unless no value of that input would have changed the answer."""
    e = entry(name)
    rng = generator(name)
    seen_unknown = set()
    for _ in range(80):
        values = inputs(e.inputs, rng)
        for n in (n for n in e.inputs if (name, n) not in ONLY_WHEN_STATED):
            unknown = dict(values)
            unknown[n] = np.array(values[n], float)
            if member_axis(n):
                unknown[n][0] = np.nan
            else:
                unknown[n][...] = np.nan
            got = [np.asarray(r) for r in results(e, unknown)]
            if any(np.isnan(r).any() for r in got):
                seen_unknown.add(n)
                continue
            # Other values of it, side by side: that each comes out as it would alone is another test's.
            other = {k: np.repeat(np.array(v, float)[..., None], TRIED, axis=-1) for k, v in values.items()}
            fresh = inputs((n,), rng, (TRIED,))[n]
            if member_axis(n):
                other[n][0] = fresh[0]
            else:
                other[n] = fresh
            for a, b in zip(got, results(e, other), strict=True):
                np.testing.assert_array_equal(*np.broadcast_arrays(a[..., None], b), n)
    missed = {n for n in e.inputs if not n.endswith("_present") and (name, n) not in ONLY_WHEN_STATED} - seen_unknown
    assert not missed, f"nan in {missed} was never seen to give nan"


@pytest.mark.parametrize("name", CHECKS)
def test_seen_to_hold_and_to_fail(name):
    e = CHECKS[name]
    rng = generator(name)
    held = failed = False
    for _ in range(400):
        demand, limit = results(e, inputs(e.inputs, rng))
        with np.errstate(invalid="ignore"):
            margin = limit - demand
        finite = np.isfinite(margin)
        held |= bool((margin[finite] >= 0).any())
        failed |= bool((margin[finite] < 0).any())
        if held and failed:
            return
    assert held, "never seen to hold"
    assert failed, "never seen to fail"


RATINGS = [n for n in COLUMNS if "rating_lb" in n or n.endswith(("gvwr_lb", "gawr_lb", "strength_lb"))]


@pytest.mark.parametrize("name", [n for n, c in CHECKS.items() if c.kind == "rating"])
def test_more_rating_never_hurts(name):
    e = CHECKS[name]
    rng = generator(name)
    for _ in range(60):
        values = inputs(e.inputs, rng)
        demand, limit = results(e, values)
        for n in set(e.inputs) & set(RATINGS):
            more = results(e, {**values, n: values[n] + 500.0})
            with np.errstate(invalid="ignore"):
                before, after = limit - demand, more[1] - more[0]
            both = np.isfinite(before) & np.isfinite(after)
            assert (after[both] >= before[both] - 1e-9).all(), n
