"""Excise tax: what is refused, what is never negative, what stays unsettled."""

from __future__ import annotations

import math
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.rules import excise

MONEY = st.decimals(0, 200_000, places=2)


@given(price=MONEY, credit=MONEY, weight=st.integers(1, 60_000))
def test_tax_is_twelve_percent_less_credit_and_never_below_nothing(price, credit, weight):
    tax = excise.excise_tax_usd(price_usd=price, weight_lb=weight, tire_credit_usd=credit)
    if weight <= 26_000:
        assert tax == 0
    else:
        assert tax == max((price * 12 / 100 - credit).quantize(Decimal("0.01"), "ROUND_HALF_UP"), Decimal(0))


@given(word=st.sampled_from(excise.free_words()), price=MONEY)
def test_free_sales_and_articles(word, price):
    assert excise.excise_tax_usd(price_usd=price, weight_lb=40_000, free_as=word) == 0


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"price_usd": Decimal(-1)}, "price_usd must be 0 USD or more, got -1"),
        ({"tire_credit_usd": Decimal(-1)}, "tire_credit_usd must be 0 USD or more"),
        ({"weight_lb": math.nan}, "weight_lb must be 0 lb or more, got nan"),
        ({"free_as": "farm"}, "free_as must be one of export, "),
    ],
)
def test_refusals(change, message):
    with pytest.raises(ValueError, match=message):
        excise.excise_tax_usd(**{"price_usd": Decimal(1), "weight_lb": 30_000, **change})


@given(load=st.integers(0, 20_000))
def test_half_rate_is_half(load):
    assert 2 * excise.tire_tax_usd(max_load_lb=load, half_rate=True) == excise.tire_tax_usd(max_load_lb=load)


def test_what_is_not_settled_says_ask():
    ask = {p.item for p in excise.price_items() if p.treatment == "ask"}
    assert ask == {"document fee", "title and registration fees", "extended warranty"}
    assert {p.treatment for p in excise.price_items()} == {"included", "excluded", "not deducted", "ask"}


def test_accessory_rules():
    tax = excise.accessory_tax_usd
    assert tax(months_after_first_use=5, total_usd=Decimal(2_000)) == 240
    assert tax(months_after_first_use=5, total_usd=Decimal(2_000), replacement=True) == 0
    assert tax(months_after_first_use=5, total_usd=Decimal(2_000), taxed_trailer=False) == 0


def test_resale_after_six_months_owes_nothing():
    assert excise.resale_tax_usd(months_after_first_sale=6, price_usd=Decimal(9), tax_already_paid_usd=Decimal(0)) == 0


def test_taxable():
    np.testing.assert_array_equal(excise.is_taxable(weight_lb=[26_000, 26_001, np.nan]), [0, 1, np.nan])


def test_a_bed_center_of_nothing_is_not_known():
    assert np.isnan(excise.taxable_weight_by_axles_lb(gawr_sum_lb=1, axle_center_x_in=1, bed_center_x_in=0))
