"""docs/pricing.md: the stages of a price, and the sales worked by hand that the tests hold."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from rubrail.quantity.money import cents
from rubrail.rules.excise import price_items
from rubrail.rules.tables import table

HEAD = """# How a price is reckoned

Written by `scripts/make_docs.py`; a test fails when it differs. Money is decimal, never binary; one helper rounds, to
the cent, halves away from zero (`quantity/money.py`). The stages, in their order:

1. **Lines.** Unit, options, parts the yard fits, preparation, freight, delivery, insurance, fees, warranty; a discount
   is a line below 0. Their sum is what the yard asks before tax.
2. **Federal excise tax**, once, on the whole base:
   1. Is it due? On the first retail sale of a trailer whose weight is above {line:,.0f} lb. Two weights are reckoned
      and shown: the rating on the label, and what the axles carry with the load centered on the bed. The stricter
      governs, for an unreasonably low rating may be disregarded. Where a weight is not known and the other does not
      decide, the tax is reckoned as due and said to be not known.
   2. The base, by the table below. A charge that the sources do not settle is reckoned as taxed until the yard's own
      adviser has said otherwise (`[excise]` of the rates file), and its share of the tax is told apart.
   3. {rate} % of the base, rounded; less the tax the makers of its tires paid, rounded once over all tires; never
      below 0. A tire whose size does not say radial earns half the credit; tires of unknown load earn none.
3. **State and local taxes**, each by itself, by the yard's own table: the kinds of line it is on, with or without the
   excise tax, before or after the trade-in; then the part that is taxed at most, the rate, rounding, the cap.
4. **Total**: lines and taxes.
5. **Due**: less the trade-in allowance, plus what is owed on the trade-in, less the deposit.

Rules for which the sale is free are words of a list, each with the paper the yard must hold. Local law and the yard's
tax adviser prevail; nothing here is tax advice.

## What the federal base holds

| charge | counts | source |
|---|---|---|
"""
WORKED = """
Freight to the yard is counted in: it is part of what the yard asks, and only carriage to the buyer is left out. The
sources read do not put it in so many words; counting it in is the stricter reading.

## Sales worked by hand

The invented yard's taxes. These are the cases of `tests/answers/pricing_cases.toml`.

| sale | lines | excise | state | county | total | due |
|---|---:|---:|---:|---:|---:|---:|
"""
BACK = """
## The price with the tax in it

A buyer who names one figure, tax included, is answered with the price whose tax brings it to that figure:
`(figure + tire credit) / {factor}`, then the cent is found by reckoning forward again. 33,600 holds 3,600 of tax.

## What stock and payments cost

Interest is simple, on what is owed, a {year}th of the yearly rate each day, with shares of the cost paid down on given
days: 21,500 at 9.25 % is 5.45 a day, 981 after 180 days, and with a tenth paid down at 180, 210 and 240 days 1,259
after 240 and 1,487 after 300. Payments are level at the end of each month; the last one takes up what rounding left.
They are estimates, not an offer of credit.
"""


def pricing_page(cases: Iterable[Mapping[str, Any]]) -> str:
    """The whole page.

    Parameters
    ----------
    cases : iterable of mapping
        As ``tests/answers/pricing_cases.toml`` has them.
    """
    figures = table("excise")["figures"]
    cases = list(cases)
    out = [HEAD.format(line=figures["untaxed_to_lb"], rate=figures["rate_percent"])]
    out += [f"| {p.item} | {p.treatment} | {p.source} |\n" for p in price_items()]
    out.append(WORKED)
    for case in cases:
        amounts = " | ".join(f"{cents(Decimal(v)):,}" for v in case["want"].values())
        out.append(f"| {case['title']} | {amounts} |\n")
    out.append("\nHow each was worked:\n\n")
    out += [f"- **{case['title']}.** {case['by']}\n" for case in cases]
    out.append(BACK.format(factor=1 + Decimal(figures["rate_percent"]) / 100, year=365))
    return "".join(out)
