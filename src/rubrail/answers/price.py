"""A price in stages: lines, federal excise tax, state and local taxes, what is paid already, what is due."""

from __future__ import annotations

import math
from collections.abc import Iterable
from decimal import Decimal

from rubrail.answers.price_parts import NOTHING, Counted, Deal, ExciseFacts, ExciseTax, Price, PriceLine, SalesTaxed
from rubrail.quantity.money import cents
from rubrail.rules import excise
from rubrail.rules.tables import table
from rubrail.things.rates import LINE_KINDS, Rates, SalesTax, percent

IN, OUT, OPEN = "in", "out", "in, not settled"
_EXCISE = {
    "unit": (IN, "price of chassis and body"),
    "option": (IN, "accessories sold on or with it, and installing them"),
    "dealer-fitted": (IN, "accessories sold on or with it, and installing them"),
    "preparation": (IN, "any charge to put it in condition ready for use"),
    "freight": (IN, "freight to the yard is part of what the yard asks; only carriage to the buyer is left out"),
    "discount": (IN, "lowers the price"),
    "delivery": (OUT, "transport, delivery and insurance"),
    "insurance": (OUT, "transport, delivery and insurance"),
}
_ADVISER = {
    "document fee": "document_fee",
    "title and registration": "title_and_registration",
    "warranty": "warranty",
}


class DealError(ValueError):
    """A deal that cannot be priced; ``faults`` holds every sentence."""

    def __init__(self, faults: Iterable[str]) -> None:
        self.faults = tuple(faults)
        super().__init__(" ".join(self.faults))


def price(deal: Deal, *, rates: Rates) -> Price:
    """Reckon a price.

    Parameters
    ----------
    deal : Deal
        Lines, what pays, and what taxes ask for.
    rates : Rates
        The yard's own table.

    Raises
    ------
    DealError
        Every line of an unknown kind or wrong sign, and every word that frees of nothing.
    """
    faults = list(_faults(deal, rates))
    if faults:
        raise DealError(faults)
    lines_usd = _sum(line.price_usd for line in deal.lines)
    federal = excise_tax(deal.lines, facts=deal.excise, rates=rates)
    taxes = tuple(_sales_tax(tax, deal, federal.tax_usd) for tax in rates.tax)
    total = lines_usd + federal.tax_usd + _sum(t.tax_usd for t in taxes)
    known = all(line.cost_usd is not None for line in deal.lines if line.price_usd > 0)
    cost = _sum(line.cost_usd or NOTHING for line in deal.lines) if known else None
    return Price(
        lines=deal.lines,
        lines_usd=lines_usd,
        excise=federal,
        taxes=taxes,
        total_usd=total,
        trade_in_usd=deal.trade_in_usd,
        owed_usd=deal.owed_usd,
        deposit_usd=deal.deposit_usd,
        due_usd=total - deal.trade_in_usd + deal.owed_usd - deal.deposit_usd,
        cost_usd=cost,
        margin_usd=None if cost is None else lines_usd - cost,
        rates=rates.title or rates.id,
        rates_effective=rates.effective.isoformat(),
    )


def excise_tax(lines: tuple[PriceLine, ...], *, facts: ExciseFacts, rates: Rates) -> ExciseTax:
    """The federal excise tax on a first retail sale.

    The trailer is taxed where either weight is above the line: the rating, and what its axles carry with the load
    centered on the bed. A charge that the sources do not settle, and the yard's adviser has not, is reckoned as taxed.

    References
    ----------
    USC-26-4051, USC-26-4052, TREAS-145.4051-1, FET-AXLE-METHOD, USC-26-4221
    """
    counted = tuple(_counted(line, rates) for line in lines)
    standing, why = excise_standing(facts)
    owed = standing in ("due", "not known")
    figures = table("excise")["figures"]
    rate = Decimal(str(figures["rate_percent"]))
    base = max(_sum(c.amount_usd for c in counted if c.counts != OUT), NOTHING)
    settled = max(_sum(c.amount_usd for c in counted if c.counts == IN), NOTHING)
    credit = _tire_credit(facts) if owed else NOTHING
    before = cents(base * rate / 100) if owed else NOTHING
    tax = max(before - credit, NOTHING)
    without = max(cents(settled * rate / 100) - credit, NOTHING) if owed else NOTHING
    return ExciseTax(
        standing=standing,
        why=why,
        by_rating_lb=facts.by_rating_lb,
        by_axles_lb=facts.by_axles_lb,
        line_lb=float(excise.UNTAXED_TO_LB),
        lines=counted,
        base_usd=base if owed else NOTHING,
        rate_percent=rate,
        before_credit_usd=before,
        tire_credit_usd=credit,
        tax_usd=tax,
        unsettled_usd=tax - without,
        paper=_paper(facts.free_as),
        accessory_months=int(figures["accessory_months"]),
        accessory_free_to_usd=Decimal(str(figures["accessory_free_to_usd"])),
    )


def excise_standing(facts: ExciseFacts) -> tuple[str, str]:
    """Whether the federal excise tax is due, as ``ExciseTax.standing`` says it, and why.

    References
    ----------
    USC-26-4051, TREAS-145.4051-1, FET-AXLE-METHOD, USC-26-4221
    """
    if not facts.new:
        return "not due", "the tax is on the first retail sale, and this is not it"
    if facts.free_as:
        return "free", f"sold free of tax: {facts.free_as}"
    weights = {"its rating": facts.by_rating_lb, "its axles with the load centered on the bed": facts.by_axles_lb}
    over = [name for name, weight in weights.items() if weight > excise.UNTAXED_TO_LB]
    line = f"{excise.UNTAXED_TO_LB:,.0f} lb"
    if over:
        other = "" if len(over) == len(weights) else "; the other weight is not, and the stricter is taken"
        return "due", f"above {line} by {' and by '.join(over)}{other}"
    unknown = [name for name, weight in weights.items() if math.isnan(weight)]
    if unknown:
        return "not known", f"the weight by {' and by '.join(unknown)} is not known; reckoned as due"
    return "not due", f"{line} or less by both weights"


def _counted(line: PriceLine, rates: Rates) -> Counted:
    if line.kind in _EXCISE:
        counts, why = _EXCISE[line.kind]
    else:
        said = getattr(rates.excise, _ADVISER[line.kind])
        asked = rates.excise.asked or "the yard's tax adviser"
        counts, why = (said, f"as {asked} said") if said else (OPEN, "not settled by what was read: ask a tax adviser")
    return Counted(line.title, line.kind, line.price_usd, counts, why)


def _tire_credit(facts: ExciseFacts) -> Decimal:
    if facts.tires is None:
        return NOTHING
    each = (
        t.count * excise.tire_tax_usd(max_load_lb=t.max_load_lb, half_rate=t.half_rate)
        for t in facts.tires
        if not math.isnan(t.max_load_lb)
    )
    return cents(_sum(each))


def _paper(word: str) -> str:
    row = next((r for r in table("excise-free")["rows"] if r["word"] == word), None)
    if row is None:
        return ""
    return (
        "the buyer's signed statement of that use, kept with the sale"
        if row["kind"] == "sale"
        else "what shows that the trailer is such an article, kept with the sale"
    )


def _sales_tax(tax: SalesTax, deal: Deal, excise_usd: Decimal) -> SalesTaxed:
    lines = _sum(line.price_usd for line in deal.lines if line.kind in tax.on)
    federal = excise_usd if tax.federal_excise else NOTHING
    trade = deal.trade_in_usd if tax.trade_in == "after" else NOTHING
    base, why = max(lines + federal - trade, NOTHING), ""
    if tax.first_usd is not None and base > tax.first_usd:
        base, why = tax.first_usd, f"only the first ${tax.first_usd:,} are taxed"
    rate = percent(tax.rate_percent)
    amount = cents(base * rate / 100)
    if tax.most_usd is not None and amount > tax.most_usd:
        amount, why = tax.most_usd, f"never more than ${tax.most_usd:,}"
    word = deal.free.get(tax.id, "")
    paper = next((f.paper for f in tax.free if f.word == word), "")
    if word:
        amount, why = NOTHING, f"free: {word}"
    return SalesTaxed(tax.id, tax.title, lines, federal, trade, base, rate, amount, why, paper)


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, NOTHING)


def _faults(deal: Deal, rates: Rates) -> Iterable[str]:
    for n, line in enumerate(deal.lines, 1):
        if line.kind not in LINE_KINDS:
            yield f"line {n}: kind must be one of {', '.join(LINE_KINDS)}, got {line.kind!r}."
        elif line.kind == "discount" and line.price_usd > 0:
            yield f"line {n}: a discount must be 0 or less, got {line.price_usd}."
        elif line.kind != "discount" and line.kind != "option" and line.price_usd < 0:
            yield f"line {n}: {line.kind} must be 0 or more, got {line.price_usd}; a credit is a discount."
    for name in ("trade_in_usd", "owed_usd", "deposit_usd"):
        amount = getattr(deal, name)
        if amount < 0:
            yield f"{name} must be 0 or more, got {amount}."
    words = excise.free_words()
    if deal.excise.free_as and deal.excise.free_as not in words:
        yield f"free_as must be one of {', '.join(words)}, got {deal.excise.free_as!r}."
    known = {tax.id: [f.word for f in tax.free] for tax in rates.tax}
    for tax, word in deal.free.items():
        if tax not in known:
            yield f"free: {tax!r} is no tax of the yard's table, which has {', '.join(known) or 'none'}."
        elif word and word not in known[tax]:
            yield f"free: {tax} must be one of {', '.join(known[tax]) or 'nothing'}, got {word!r}."
