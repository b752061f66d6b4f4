"""What a unit costs while it stands, by the yard's own rates; for those who may see money."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from rubrail.answers.stock_cost import StockCost, stock_cost
from rubrail.desk.books import rates_on
from rubrail.desk.models import Unit
from rubrail.things.rates import Rates, percent


def standing_cost(unit: Unit, *, today: date, rates: Rates | None = None) -> StockCost | None:
    """Interest on a unit so far and from today on; ``None`` where its cost, its days or the rate is not known."""
    days = unit.days_here(today=today)
    if unit.cost_usd is None or days is None:
        return None
    return cost_of(unit.cost_usd, days, rates_on(today) if rates is None else rates)


def cost_of(cost_usd: Decimal, days: int, rates: Rates | None) -> StockCost | None:
    """What something bought for so much has cost after so many days; ``None`` where the rate is not known.

    Parameters
    ----------
    cost_usd : Decimal
    days : int
        In stock. [day]
    rates : Rates or None
        The yard's own.
    """
    if rates is None or rates.stock.rate_percent is None:
        return None
    return stock_cost(
        cost_usd=cost_usd,
        rate_percent=percent(rates.stock.rate_percent),
        days=days,
        paydowns=[(step.day, percent(step.share_percent)) for step in rates.stock.curtailment],
    )
