"""From a price with the federal tax in it back to the price without."""

from __future__ import annotations

from decimal import Decimal

from rubrail.quantity.money import CENT, cents


def without_excise_usd(*, with_tax_usd: Decimal, rate_percent: Decimal, credit_usd: Decimal = Decimal(0)) -> Decimal:
    """The price whose excise tax, less the credit for tires, brings it to a price asked with the tax in it.

    The tax of the answer is reckoned and rounded as on any sale; the answer and its tax together are the price asked,
    to the cent, wherever such a price exists, and otherwise the nearest below.

    Parameters
    ----------
    with_tax_usd : Decimal
        What the buyer is to pay for what is taxed, the tax included.
    rate_percent : Decimal
    credit_usd : Decimal
        Tax the tires' maker paid.
    """
    rate = rate_percent / 100
    if with_tax_usd * rate <= credit_usd * (1 + rate):
        # So little that the credit takes all of the tax, or nearly: try it without.
        guess = with_tax_usd
    else:
        guess = cents((with_tax_usd + credit_usd) / (1 + rate))

    def total(base: Decimal) -> Decimal:
        return base + max(cents(base * rate) - credit_usd, Decimal(0))

    while total(guess) > with_tax_usd:
        guess -= CENT
    while total(guess + CENT) <= with_tax_usd:
        guess += CENT
    return guess
