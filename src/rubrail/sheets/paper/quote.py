"""The quote, which signed is the buyer's order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rubrail.quantity.money import show_money
from rubrail.sheets.drawing import side_view
from rubrail.sheets.paper.blocks import Block, Drawing, Facts, Paper, Signatures, Table, Words
from rubrail.sheets.paper.facts import unit_facts
from rubrail.sheets.sentences_build import excise_sentence
from rubrail.sheets.sentences_words import SAFETY

if TYPE_CHECKING:
    from rubrail.answers.price_parts import Price
    from rubrail.answers.report import Weighing
    from rubrail.answers.stock_cost import Payment
    from rubrail.things.trailer import Trailer

ACKNOWLEDGED = (
    "Ratings on the certification label govern. Weights here are as stated, and estimates until the loaded rig is"
    " weighed.",
    "The buyer answers for the truck, the hitch, the load, its place and its tie-downs on every trip.",
    "What this paper says of licenses, registration and tax is no advice: the agency or an adviser decides.",
)


@dataclass(frozen=True, slots=True)
class QuoteFacts:
    """What a quote says beside its price.

    free_paper : papers the yard must hold for taxes that are not charged
    not_included : what a buyer might expect and does not get
    """

    number: str
    version: int
    buyer: str
    contact: str
    date: str
    valid_until: str
    made_by: str
    trade_in: str = ""
    delivery: str = ""
    notes: str = ""
    not_included: Sequence[str] = ()
    free_paper: Sequence[str] = ()
    yard: str = ""
    link: str = ""


def quote_sheet(
    facts: QuoteFacts,
    *,
    price: Price,
    trailer: Trailer,
    weighing: Weighing | None = None,
    sentence: str = "",
    payment: Payment | None = None,
    metric: bool = False,
) -> Paper:
    """The sheet. It shows no cost.

    Parameters
    ----------
    weighing, sentence : Weighing, str
        Of the buyer's own haul on this unit, and its first sentence; left out where the quote is for no haul.
    """
    head = Facts(
        (
            ("Buyer", facts.buyer),
            ("Reach", facts.contact),
            ("Quote", f"{facts.number}, version {facts.version}"),
            ("Date", facts.date),
            ("Valid until", facts.valid_until),
            ("For the yard", facts.made_by),
            ("Unit", trailer.id),
            ("VIN", trailer.vin or "not known yet"),
        )
    )
    blocks: list[Block] = [head, Drawing(side_view(trailer, width_px=700.0, metric=metric), says="the unit to scale")]
    if weighing is not None and sentence:
        blocks.append(Words((sentence,), heading="For the buyer's own haul"))
    blocks += [_lines(price), _taxes(price), _due(price, facts)]
    if payment is not None:
        blocks.append(
            Words(
                (
                    f"About {show_money(payment.each_usd)} a month for {payment.months} months at"
                    f" {payment.rate_percent} % a year on {show_money(payment.financed_usd)}: an estimate, no offer of"
                    " credit.",
                ),
                heading="If it is financed",
            )
        )
    said = [f"Delivery: {facts.delivery}"] if facts.delivery else []
    said += [f"Not included: {', '.join(facts.not_included)}"] if facts.not_included else []
    said += [facts.notes] if facts.notes else []
    said += [f"The yard needs: {paper}." for paper in facts.free_paper]
    if said:
        blocks.append(Words(tuple(said), heading="Also agreed"))
    blocks += [f for f in unit_facts(trailer, metric=metric)[1:] if f.rows]
    blocks += [
        Words(ACKNOWLEDGED, heading="The buyer has read"),
        Signatures(("Buyer, date", "For the yard, date")),
    ]
    return Paper(
        sort=f"Quote {facts.number}, version {facts.version}; signed by both it is the buyer's order",
        title=trailer.title or trailer.id,
        lead=(
            f"{show_money(price.total_usd)} in all; {show_money(price.due_usd)} due. Valid until {facts.valid_until}."
        ),
        blocks=tuple(blocks),
        yard=facts.yard,
        date=facts.date,
        link=facts.link,
        link_says="this quote",
        foot=SAFETY,
    )


def _lines(price: Price) -> Table:
    rows = [(line.title, line.kind, show_money(line.price_usd)) for line in price.lines]
    return Table(
        ("What", "Kind", "Price"),
        (*rows, ("Together", "", show_money(price.lines_usd))),
        align="llr",
        strong=(len(rows),),
        heading="Price",
    )


def _taxes(price: Price) -> Table:
    tax = price.excise
    rows = [(excise_sentence(tax), show_money(tax.tax_usd))]
    for t in price.taxes:
        why = f"; {t.why}" if t.why else ""
        rows.append((f"{t.title}: {t.rate_percent} % of {show_money(t.base_usd)}{why}", show_money(t.tax_usd)))
    return Table(
        ("Taxes", "Tax"),
        (*rows, ("In all, with every tax", show_money(price.total_usd))),
        align="lr",
        strong=(len(rows),),
    )


def _due(price: Price, facts: QuoteFacts) -> Facts:
    rows = [("In all", show_money(price.total_usd))]
    if price.trade_in_usd:
        rows.append(
            (f"Less trade-in{': ' + facts.trade_in if facts.trade_in else ''}", show_money(-price.trade_in_usd))
        )
    if price.owed_usd:
        rows.append(("Still owed on it", show_money(price.owed_usd)))
    if price.deposit_usd:
        rows.append(("Less deposit", show_money(-price.deposit_usd)))
    rows.append(("Due", show_money(price.due_usd)))
    return Facts(tuple(rows), columns=1)
