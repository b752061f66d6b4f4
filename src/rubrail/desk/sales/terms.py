"""What was entered for a quote, between its stored form and the price."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from rubrail.answers.price import price
from rubrail.answers.price_facts import excise_facts
from rubrail.answers.price_parts import Deal, Price, PriceLine
from rubrail.answers.stock_cost import Payment, payment
from rubrail.desk.models import Unit
from rubrail.desk.stock import trailer_of
from rubrail.things.rates import Rates, percent

AMOUNTS = ("trade_in_usd", "owed_usd", "deposit_usd")
"""Terms that are amounts, as ``Deal`` calls them."""


class NoRatesError(LookupError):
    """The yard has no rates in force, so nothing can be priced."""


def first_terms(unit: Unit, rates: Rates) -> dict[str, Any]:
    """Terms of a new quote: the unit at its asking price, and the fees of every sale."""
    lines = [{"kind": "unit", "title": unit.says, "price_usd": _text(unit.price_usd or Decimal(0))}]
    # What the state charges is passed on as it is; what the yard charges costs it nothing more.
    lines += [
        {
            "kind": fee.kind,
            "title": fee.title,
            "price_usd": _text(fee.amount_usd),
            "cost_usd": _text(fee.amount_usd if fee.kind == "title and registration" else Decimal(0)),
        }
        for fee in rates.fee
    ]
    return {"lines": lines}


def deal_of(terms: Mapping[str, Any], unit: Unit) -> Deal:
    """The deal that terms describe. The unit's own cost is the unit's, not a term."""
    lines = []
    for line in terms.get("lines", ()):
        cost = unit.cost_usd if line["kind"] == "unit" else _money(line.get("cost_usd"))
        lines.append(PriceLine(line["kind"], line["title"], Decimal(line["price_usd"]), cost))
    amounts = {name: _money(terms.get(name)) or Decimal(0) for name in AMOUNTS}
    return Deal(
        lines=tuple(lines),
        excise=excise_facts(trailer_of(unit), free_as=terms.get("free_as", "")),
        free=terms.get("free", {}),
        **amounts,
    )


def price_of(terms: Mapping[str, Any], unit: Unit, rates: Rates) -> Price:
    """The price of terms by the yard's rates.

    Raises
    ------
    DealError
        Every fault of the terms.
    """
    return price(deal_of(terms, unit), rates=rates)


def payment_of(terms: Mapping[str, Any], found: Price, rates: Rates) -> Payment | None:
    """A payment estimate, where terms of payment are known and anything is left to finance."""
    asked = terms.get("payment") or {}
    if rates.terms is None and not asked:
        return None
    rate = Decimal(asked["rate_percent"]) if "rate_percent" in asked else percent(rates.terms.rate_percent)
    months = int(asked.get("months") or rates.terms.months)
    down = _money(asked.get("down_usd"))
    if down is None:
        share = percent(rates.terms.down_percent) if rates.terms is not None else Decimal(0)
        down = found.due_usd * share / 100
    financed = (found.due_usd - down).quantize(Decimal("0.01"))
    return payment(financed_usd=financed, rate_percent=rate, months=months) if financed > 0 and months > 0 else None


def _money(text: Any) -> Decimal | None:
    return None if text in (None, "") else Decimal(str(text))


def _text(amount: Decimal) -> str:
    return f"{amount:f}"
