"""Dollars are exact, and rounded in one way."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.quantity.money import UnreadableMoneyError, cents, parse_money, show_money


@pytest.mark.parametrize(
    ("amount", "rounded"),
    [("2.675", "2.68"), ("2.665", "2.67"), ("-0.005", "-0.01"), ("2.6749", "2.67"), ("7", "7.00")],
)
def test_halves_go_away_from_zero(amount, rounded):
    assert cents(Decimal(amount)) == Decimal(rounded)


@pytest.mark.parametrize("amount", [2.5, True, "2.50", None])
def test_only_exact_amounts_are_rounded(amount):
    with pytest.raises(TypeError, match="money must be Decimal or int, got"):
        cents(amount)


@pytest.mark.parametrize(
    ("raw", "amount"),
    [
        (21450, "21450"),
        (21450.5, "21450.5"),
        (0.1, "0.1"),
        ("$21,450.50", "21450.50"),
        ("21450", "21450"),
        ("-$300", "-300"),
        ("1,000 USD", "1000"),
        (Decimal("9.99"), "9.99"),
    ],
)
def test_reads(raw, amount):
    assert parse_money(raw) == Decimal(amount)


@pytest.mark.parametrize(
    "raw", ["", "abc", "1,00", "12.345", "$", True, None, [], "9" * 50, float("nan"), float("inf")]
)
def test_refuses(raw):
    with pytest.raises(UnreadableMoneyError, match="is not an amount"):
        parse_money(raw)


def test_refuses_fractions_of_a_cent():
    with pytest.raises(UnreadableMoneyError, match="has fractions of a cent"):
        parse_money(21450.505)


@pytest.mark.parametrize(
    ("amount", "text"),
    [("21450", "$21,450"), ("21450.5", "$21,450.50"), ("-300", "-$300"), ("0", "$0"), ("0.004", "$0")],
)
def test_shows(amount, text):
    assert show_money(Decimal(amount)) == text


def test_an_unknown_amount_says_so():
    assert show_money(None) == "not known"


@given(st.decimals(-10_000_000, 10_000_000, places=2))
def test_what_is_shown_reads_back(amount):
    assert parse_money(show_money(amount)) == amount
