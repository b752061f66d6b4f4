"""License groups and the tow vehicle's use tax beyond the published cases."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.rules import license

WEIGHTS = st.integers(0, 60_000)


@given(truck=WEIGHTS, trailer=WEIGHTS, truck_weight=WEIGHTS, trailer_weight=WEIGHTS, label=WEIGHTS, more=WEIGHTS)
def test_more_weight_never_asks_for_less(truck, trailer, truck_weight, trailer_weight, label, more):
    given_ = {
        "truck_gvwr_lb": truck,
        "trailer_gvwr_lb": trailer,
        "truck_weight_lb": truck_weight,
        "trailer_weight_lb": trailer_weight,
        "label_gcwr_lb": label,
    }
    before = license.license_group(**given_)
    for name in given_:
        assert license.license_group(**{**given_, name: given_[name] + more}) >= before


@given(truck=WEIGHTS, trailer=WEIGHTS)
def test_by_the_words_of_the_rule(truck, trailer):
    want = 3 if truck + trailer >= 26_001 and trailer > 10_000 else 2 if truck >= 26_001 else 0
    assert license.license_group(truck_gvwr_lb=truck, trailer_gvwr_lb=trailer) == want


@given(truck=WEIGHTS, trailer=WEIGHTS, label=WEIGHTS, missing=st.sampled_from(["truck", "trailer", "label"]))
def test_unknown_is_open_only_where_it_decides(truck, trailer, label, missing):
    known = {"truck_gvwr_lb": truck, "trailer_gvwr_lb": trailer, "label_gcwr_lb": label}
    name = {"truck": "truck_gvwr_lb", "trailer": "trailer_gvwr_lb", "label": "label_gcwr_lb"}[missing]
    got = license.license_group(**{**known, name: math.nan})
    least = license.license_group(**{**known, name: 0})
    most = license.license_group(**{**known, name: 10**6})
    if not np.isnan(got):
        assert got == least == most


@pytest.mark.parametrize("weight", [-1, math.nan])
def test_use_tax_of_no_weight_is_refused(weight):
    with pytest.raises(ValueError, match="taxable_gross_lb must be a weight of 0 lb or more"):
        license.use_tax_usd(taxable_gross_lb=weight)


@given(weight=st.integers(55_000, 90_000))
def test_use_tax_by_counting(weight):
    want = 550 if weight > 75_000 else 100 + 22 * sum(1 for step in range(55_000, weight, 1_000))
    assert license.use_tax_usd(taxable_gross_lb=weight) == want
