"""What a unit costs while it stands, and what a payment comes to: interest by the day and by the month."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from rubrail.quantity.money import cents

DAYS_OF_YEAR = 365


@dataclass(frozen=True, slots=True)
class StockCost:
    """What a unit has cost by a day of stock.

    interest_usd : so far; paid_down_usd : of its cost, to the lender; each_day_usd : from now on
    """

    days: int
    interest_usd: Decimal
    paid_down_usd: Decimal
    owed_usd: Decimal
    each_day_usd: Decimal


def stock_cost(
    *, cost_usd: Decimal, rate_percent: Decimal, days: int, paydowns: Sequence[tuple[int, Decimal]] = ()
) -> StockCost:
    """Simple interest on what is owed, day by day, with shares of the first amount paid down on given days.

    Parameters
    ----------
    cost_usd : Decimal
        What was borrowed on the unit.
    rate_percent : Decimal
        Yearly.
    days : int
        Days in stock.
    paydowns : sequence of (day, percent of the first amount)
        In order of day; the day itself still counts at what was owed before.

    References
    ----------
    STOCK-INTEREST
    """
    if days < 0:
        raise ValueError(f"days must be 0 or more, got {days}")
    daily = rate_percent / 100 / DAYS_OF_YEAR
    owed, interest, at = cost_usd, Decimal(0), 0
    for day, share in paydowns:
        if day > days:
            break
        interest += owed * daily * (day - at)
        owed, at = owed - cost_usd * share / 100, day
    interest += owed * daily * (days - at)
    return StockCost(days, cents(interest), cents(cost_usd - owed), cents(owed), cents(owed * daily))


@dataclass(frozen=True, slots=True)
class Payment:
    """A loan's level monthly payment; the last one takes up what rounding left."""

    financed_usd: Decimal
    months: int
    rate_percent: Decimal
    each_usd: Decimal
    last_usd: Decimal
    interest_usd: Decimal


def payment(*, financed_usd: Decimal, rate_percent: Decimal, months: int) -> Payment:
    """Level payments at the end of each month.

    Parameters
    ----------
    financed_usd : Decimal
    rate_percent : Decimal
        Yearly, a twelfth each month.
    months : int
        At least 1.

    Raises
    ------
    ValueError
        If there is nothing to finance, or no month to pay in.

    References
    ----------
    ANNUITY
    """
    if financed_usd <= 0 or months < 1 or rate_percent < 0:
        raise ValueError(
            f"a payment needs an amount above 0, a rate of 0 or more and a month at least;"
            f" got {financed_usd}, {rate_percent} and {months}"
        )
    monthly = rate_percent / 1200
    growth = (1 + monthly) ** months
    exact = financed_usd / months if monthly == 0 else financed_usd * monthly * growth / (growth - 1)
    each, owed, interest = cents(exact), financed_usd, Decimal(0)
    for _ in range(months - 1):
        charge = cents(owed * monthly)
        interest += charge
        owed += charge - each
    charge = cents(owed * monthly)
    return Payment(financed_usd, months, rate_percent, each, owed + charge, interest + charge)
