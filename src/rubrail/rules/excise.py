"""Federal excise tax on trailers and on tires: weights that decide it, and amounts. Not tax advice; some points are
not settled by what was read and are marked *ask* in the table."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.quantity.money import cents
from rubrail.rules.tables import figure, table

UNTAXED_TO_LB = figure("excise", "untaxed_to_lb")


def _exact(key: str) -> Decimal:
    """A figure of the table as written, free of binary rounding."""
    return Decimal(str(table("excise")["figures"][key]))


@dataclass(frozen=True, slots=True)
class PriceItem:
    """What a charge does to the taxed price: ``included``, ``excluded``, ``not deducted`` or ``ask``."""

    item: str
    treatment: str
    source: str


def price_items() -> tuple[PriceItem, ...]:
    """Every kind of charge the sources speak of, and how it counts. ``ask`` means a tax adviser."""
    return tuple(PriceItem(r["item"], r["treatment"], r["source"]) for r in table("excise")["rows"])


def free_words() -> tuple[str, ...]:
    """Sales and articles free of the tax, in the words ``excise_tax_usd`` takes."""
    return tuple(r["word"] for r in table("excise-free")["rows"])


def taxable_weight_by_axles_lb(
    *, gawr_sum_lb: ArrayLike, axle_center_x_in: ArrayLike, bed_center_x_in: ArrayLike
) -> NDArray[np.float64]:
    """Weight at which the axles reach their ratings with the load centered on the bed, by the trade's method.

    Parameters
    ----------
    gawr_sum_lb : array_like
        Sum of the axle ratings. [lb]
    axle_center_x_in, bed_center_x_in : array_like
        Coupling point to the center of the axles, and to the center of the load-carrying bed. [in]

    References
    ----------
    FET-AXLE-METHOD
    """
    bed = np.asarray(bed_center_x_in, float)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(bed > 0, np.asarray(gawr_sum_lb, float) * axle_center_x_in / bed, np.nan)


def is_taxable(*, weight_lb: ArrayLike) -> NDArray[np.float64]:
    """1 where a trailer of this gross vehicle weight is taxed (above 26,000 lb), else 0; ``nan`` not known.

    References
    ----------
    USC-26-4051
    """
    weight = np.asarray(weight_lb, float)
    return np.where(np.isnan(weight), np.nan, weight > UNTAXED_TO_LB)


def tire_tax_usd(*, max_load_lb: Decimal | float, half_rate: bool = False) -> Decimal:
    """Tax the tire's maker paid on one tire, unrounded; it may be credited on a taxed trailer sold with the tire.

    Parameters
    ----------
    max_load_lb : Decimal or float
        Maximum rated load. Only what exceeds 3,500 lb counts, fractions of a step of 10 lb included. [lb]
    half_rate : bool
        True for bias-ply and super single tires.

    Raises
    ------
    ValueError
        If the load is negative or not known.

    References
    ----------
    USC-26-4071
    """
    load = _amount(max_load_lb, name="max_load_lb", unit="lb")
    over = max(load - _exact("tire_free_to_lb"), Decimal(0))
    cents = _exact("tire_half_cents_per_step" if half_rate else "tire_cents_per_step")
    return over / _exact("tire_step_lb") * cents / 100


def excise_tax_usd(
    *, price_usd: Decimal, weight_lb: float, tire_credit_usd: Decimal = Decimal(0), free_as: str = ""
) -> Decimal:
    """Excise tax on the first retail sale of a trailer, to the cent, never below 0.

    Parameters
    ----------
    price_usd : Decimal
        Taxed price, as ``price_items`` makes it up.
    weight_lb : float
        Gross vehicle weight for the tax. [lb]
    tire_credit_usd : Decimal
        Tire tax already paid on the tires sold with it.
    free_as : str
        Word of ``free_words`` under which the sale or the article is free of tax; empty for none.

    Raises
    ------
    ValueError
        If the price or the credit is negative, the weight is not known, or ``free_as`` is not a listed word.

    References
    ----------
    USC-26-4051, USC-26-4221
    """
    if free_as and free_as not in free_words():
        raise ValueError(f"free_as must be one of {', '.join(free_words())}, got {free_as!r}.")
    price = _amount(price_usd, name="price_usd", unit="USD")
    credit = _amount(tire_credit_usd, name="tire_credit_usd", unit="USD")
    weight = _amount(weight_lb, name="weight_lb", unit="lb")
    if free_as or weight <= _exact("untaxed_to_lb"):
        return Decimal("0.00")
    return max(cents(price * _rate() - credit), Decimal("0.00"))


def accessory_tax_usd(
    *, months_after_first_use: float, total_usd: Decimal, replacement: bool = False, taxed_trailer: bool = True
) -> Decimal:
    """Tax on accessories an owner has installed later: within six months and above 1,000 dollars in all.

    Parameters
    ----------
    months_after_first_use : float
        Months since the trailer was first put in service.
    total_usd : Decimal
        Parts and installation, all such work on the trailer in that time.
    replacement : bool
        True for a part that replaces another.
    taxed_trailer : bool
        False for a trailer below the weight line.

    References
    ----------
    USC-26-4051
    """
    total = _amount(total_usd, name="total_usd", unit="USD")
    late = _amount(months_after_first_use, name="months_after_first_use", unit="months") > _exact("accessory_months")
    if replacement or not taxed_trailer or late or total <= _exact("accessory_free_to_usd"):
        return Decimal("0.00")
    return cents(total * _rate())


def resale_tax_usd(*, months_after_first_sale: float, price_usd: Decimal, tax_already_paid_usd: Decimal) -> Decimal:
    """Tax still owed on a trailer resold within six months of a taxed sale, after credit for the tax paid on it.

    Parameters
    ----------
    months_after_first_sale : float
        Months since the taxed sale.
    price_usd, tax_already_paid_usd : Decimal
        Price of the second sale, and the tax of the first.

    References
    ----------
    TREAS-145.4052-1
    """
    months = _amount(months_after_first_sale, name="months_after_first_sale", unit="months")
    price = _amount(price_usd, name="price_usd", unit="USD")
    paid = _amount(tax_already_paid_usd, name="tax_already_paid_usd", unit="USD")
    if months >= _exact("resale_months"):
        return Decimal("0.00")
    return max(cents(price * _rate() - paid), Decimal("0.00"))


def rebate_overpayment_usd(*, rebate_usd: Decimal) -> Decimal:
    """Tax overpaid when part of a taxed price is given back after the sale.

    References
    ----------
    USC-26-4221
    """
    return cents(_amount(rebate_usd, name="rebate_usd", unit="USD") * _rate())


def maker_direct_base_usd(*, price_usd: Decimal) -> Decimal:
    """Taxed price where a maker sells a trailer straight to its user: the price and the presumed markup, which is nil.

    References
    ----------
    USC-26-4052, IRS-PUB-510
    """
    price = _amount(price_usd, name="price_usd", unit="USD")
    return cents(price * (1 + _exact("maker_direct_markup_percent") / 100))


def _rate() -> Decimal:
    return _exact("rate_percent") / 100


def _amount(value: Decimal | float, *, name: str, unit: str) -> Decimal:
    amount = value if isinstance(value, Decimal) else Decimal(str(value))
    if amount.is_nan() or amount < 0:
        raise ValueError(f"{name} must be 0 {unit} or more, got {value}.")
    return amount
