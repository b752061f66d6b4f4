"""What a price is made of: lines, what pays it, and the facts that taxes ask for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One line of a price.

    kind : one of ``things.rates.LINE_KINDS``; a discount's price is negative
    cost_usd : what it costs the yard, ``None`` where nobody said
    """

    kind: str
    title: str
    price_usd: Decimal
    cost_usd: Decimal | None = None


@dataclass(frozen=True, slots=True)
class TaxedTire:
    """Tires of one rating sold with the trailer, for the credit of the tax their maker paid."""

    max_load_lb: float
    count: int
    half_rate: bool = False


@dataclass(frozen=True, slots=True)
class ExciseFacts:
    """What decides the federal excise tax on one trailer.

    by_rating_lb, by_axles_lb : the two weights, ``nan`` where not known
    tires : ``None`` where they are not known, so that no credit is taken
    free_as : a word of ``rules.excise.free_words`` the sale is free as; empty for none
    new : a first retail sale; a used trailer's was taxed, or not, before
    """

    by_rating_lb: float
    by_axles_lb: float
    tires: tuple[TaxedTire, ...] | None = None
    free_as: str = ""
    new: bool = True


@dataclass(frozen=True, slots=True)
class Deal:
    """Everything a price is reckoned from.

    trade_in_usd : allowance for what the buyer gives; owed_usd : what is still owed on it, which the yard pays off
    deposit_usd : paid already
    free : by tax id, the word under which this sale is free of it
    """

    lines: tuple[PriceLine, ...]
    excise: ExciseFacts
    trade_in_usd: Decimal = NOTHING
    owed_usd: Decimal = NOTHING
    deposit_usd: Decimal = NOTHING
    free: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Counted:
    """One line as a tax counts it: ``in``, ``out``, or ``in, not settled``."""

    title: str
    kind: str
    amount_usd: Decimal
    counts: str
    why: str


@dataclass(frozen=True, slots=True)
class ExciseTax:
    """The federal excise tax, step by step.

    standing : ``due``, ``not due``, ``free`` or ``not known``; where it is not known, it is reckoned as due
    unsettled_usd : part of the tax that is on charges the sources do not settle
    paper : what the yard must hold for a sale free of it
    """

    standing: str
    why: str
    by_rating_lb: float
    by_axles_lb: float
    line_lb: float
    lines: tuple[Counted, ...]
    base_usd: Decimal
    rate_percent: Decimal
    before_credit_usd: Decimal
    tire_credit_usd: Decimal
    tax_usd: Decimal
    unsettled_usd: Decimal
    paper: str
    accessory_months: int
    accessory_free_to_usd: Decimal


@dataclass(frozen=True, slots=True)
class SalesTaxed:
    """One state or local tax, step by step."""

    id: str
    title: str
    lines_usd: Decimal
    excise_usd: Decimal
    trade_in_usd: Decimal
    base_usd: Decimal
    rate_percent: Decimal
    tax_usd: Decimal
    why: str
    paper: str


@dataclass(frozen=True, slots=True)
class Price:
    """A price in its stages, in the order they are reckoned.

    lines_usd : sum of the lines; total_usd : with every tax; due_usd : after trade-in, what is owed on it, and deposit
    cost_usd, margin_usd : ``None`` where a line's cost is not known
    rates, rates_effective : the yard's table it was reckoned by
    """

    lines: tuple[PriceLine, ...]
    lines_usd: Decimal
    excise: ExciseTax
    taxes: tuple[SalesTaxed, ...]
    total_usd: Decimal
    trade_in_usd: Decimal
    owed_usd: Decimal
    deposit_usd: Decimal
    due_usd: Decimal
    cost_usd: Decimal | None
    margin_usd: Decimal | None
    rates: str
    rates_effective: str
