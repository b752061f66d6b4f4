"""What of a price may be shown to anybody, by how long ago somebody last looked at it, and what it is for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from rubrail.quantity.money import show_money

if TYPE_CHECKING:
    from rubrail.answers.price_parts import ExciseTax
    from rubrail.things.rates import Rates

STALE_DAYS, ASK_DAYS = 30, 90
"""Days after which a price is shown with its day, and after which it is not shown. Common practice, no source."""
CURRENT, AS_OF, ASK = "current", "as of", "ask"


@dataclass(frozen=True, slots=True)
class PriceShown:
    """What of a price may be shown.

    usd : the price where it may be shown, else ``None``; standing : ``current``, ``as of`` or ``ask``; checked : the
    day somebody last said it was right; days : how long ago, ``None`` where nobody knows; without : fees and taxes
    that are added; excise : whether federal excise tax is due, in words, ``""`` where it was not reckoned
    """

    usd: Decimal | None
    standing: str
    checked: date | None
    days: int | None
    without: tuple[str, ...] = ()
    excise: str = ""

    @property
    def text(self) -> str:
        """As it is said."""
        if self.usd is None:
            return "ask for the price"
        day = f", as of {self.checked:%B} {self.checked.day}, {self.checked.year}" if self.standing == AS_OF else ""
        return f"{show_money(self.usd)} before tax{day}"


def price_age(checked: date | None, *, today: date) -> int | None:
    """Days since a price was looked at; ``None`` where nobody knows, and 0 for a day still to come."""
    return None if checked is None else max((today - checked).days, 0)


def price_standing(days: int | None, *, stale_days: int = STALE_DAYS, ask_days: int = ASK_DAYS) -> str:
    """How a price of that age is shown: exactly at a bound it is still shown as before; of unknown age, not at all."""
    if days is None or days > ask_days:
        return ASK
    return AS_OF if days > stale_days else CURRENT


def price_shown(
    *,
    price_usd: Decimal | None,
    checked: date | None,
    today: date,
    stale_days: int = STALE_DAYS,
    ask_days: int = ASK_DAYS,
    rates: Rates | None = None,
    excise: ExciseTax | None = None,
) -> PriceShown:
    """What of a price may be shown.

    Parameters
    ----------
    price_usd : Decimal or None
        The asking price.
    checked : date or None
        Day somebody last set it or said that it is still right.
    today : date
    stale_days, ask_days : int
        Days after which it is shown with its day, and not at all.
    rates : Rates, optional
        The yard's own, whose fees and taxes come on top.
    excise : ExciseTax, optional
        What the federal tax comes to.
    """
    days = price_age(checked, today=today)
    standing = ASK if price_usd is None else price_standing(days, stale_days=stale_days, ask_days=ask_days)
    return PriceShown(
        usd=None if standing == ASK else price_usd,
        standing=standing,
        checked=checked,
        days=days,
        without=_without(rates, excise),
        excise="" if excise is None else excise_line(excise),
    )


def _without(rates: Rates | None, excise: ExciseTax | None) -> tuple[str, ...]:
    if rates is None:
        return ()
    fees = [f"{fee.title} ({show_money(fee.amount_usd)})" for fee in rates.fee]
    taxes = [tax.title for tax in rates.tax]
    federal = ["federal excise tax"] if excise is not None and excise.standing in ("due", "not known") else []
    return (*fees, *federal, *taxes, "delivery")


def excise_line(tax: ExciseTax) -> str:
    """Whether federal excise tax is due, in words."""
    return {
        "due": "Federal excise tax is due on the first retail sale and is not in the price",
        "not due": "No federal excise tax is due",
        "free": "No federal excise tax is due",
        "not known": "Whether federal excise tax is due is not known yet",
    }[tax.standing]
