"""``rubrail price``: what a unit comes to, with the federal excise tax and the yard's own taxes."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.answers.price_parts import Price, PriceLine
    from rubrail.cli.screen import Screen
    from rubrail.things.rates import Rates
    from rubrail.things.trailer import Trailer
    from rubrail.things.yard import Yard as YardThing


def command(
    trailer: options.Trailer,
    line: Annotated[
        list[str] | None,
        typer.Option("--line", metavar="LINE", help="Another line, such as 'dealer-fitted: winch: 1,680'."),
    ] = None,
    discount: Annotated[str | None, typer.Option("--discount", metavar="USD", help="Taken off the price.")] = None,
    trade_in: Annotated[
        str | None, typer.Option("--trade-in", metavar="USD", help="Allowance for a trade-in.")
    ] = None,
    owed: Annotated[str | None, typer.Option("--owed", metavar="USD", help="Still owed on the trade-in.")] = None,
    deposit: Annotated[str | None, typer.Option("--deposit", metavar="USD", help="Paid already.")] = None,
    tax_in: Annotated[
        str | None,
        typer.Option("--tax-in", metavar="USD", help="The unit for so much, excise tax included: find its price."),
    ] = None,
    free_as: Annotated[
        str | None, typer.Option("--free-as", metavar="WORDS", help="Sale free of excise tax, such as 'export'.")
    ] = None,
    rates: Annotated[
        str | None, typer.Option("--rates", metavar="ID", help="Which rates; the latest in force.")
    ] = None,
    yard: options.Yard = None,
    as_json: options.AsJson = False,
) -> None:
    """Price a unit in stages: lines, federal excise tax by both weights, state and local taxes, what is due."""
    from rubrail.answers.price import DealError, price
    from rubrail.answers.price_facts import excise_facts
    from rubrail.answers.price_parts import Deal
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_build import price_sentence

    found_yard = given.yard_of(yard, trailer)
    the_trailer = given.trailer_of(trailer, found_yard)
    the_rates = rates_of(rates, found_yard)
    sentences: list[str] = []
    amounts = {
        name: _money(flag, text, sentences)
        for name, flag, text in (
            ("trade_in_usd", "--trade-in", trade_in),
            ("owed_usd", "--owed", owed),
            ("deposit_usd", "--deposit", deposit),
            ("discount", "--discount", discount),
            ("tax_in", "--tax-in", tax_in),
        )
    }
    off, asked = amounts.pop("discount"), amounts.pop("tax_in")
    lines = _lines(the_trailer, line or (), off, the_rates, sentences)
    if sentences:
        raise BadInput(*sentences)
    if asked:
        lines = _backed_out(lines, asked, the_trailer, free_as or "", the_rates)
    try:
        result = price(
            Deal(lines=lines, excise=excise_facts(the_trailer, free_as=free_as or ""), **amounts), rates=the_rates
        )
    except DealError as bad:
        raise BadInput(*bad.faults) from None
    sentence = price_sentence(result)
    if as_json:
        print(told(answer="price", sentence=sentence, record=result))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(), result, sentence)


def _backed_out(
    lines: tuple[PriceLine, ...], asked: Decimal, trailer: Trailer, free_as: str, rates: Rates
) -> tuple[PriceLine, ...]:
    """The lines with the unit at the price that its own excise tax brings to what is asked."""
    from dataclasses import replace

    from rubrail.answers.price import excise_tax
    from rubrail.answers.price_back import without_excise_usd
    from rubrail.answers.price_facts import excise_facts

    tax = excise_tax(lines[:1], facts=excise_facts(trailer, free_as=free_as), rates=rates)
    if tax.standing not in ("due", "not known"):
        return (replace(lines[0], price_usd=asked), *lines[1:])
    alone = without_excise_usd(with_tax_usd=asked, rate_percent=tax.rate_percent, credit_usd=tax.tire_credit_usd)
    return (replace(lines[0], price_usd=alone), *lines[1:])


def rates_of(name: str | None, yard: YardThing | None) -> Rates:
    """The rates of an id, or the latest that hold today.

    Raises
    ------
    BadInput
        If the yard has none of that id, or none that hold.
    """
    from datetime import UTC, datetime

    known = yard.rates if yard else {}
    if name is not None:
        if name not in known:
            raise BadInput(f"--rates must be one of {', '.join(known) or 'none'}, got {name!r}.")
        return known[name]
    today = datetime.now(tz=UTC).astimezone().date()
    holding = [r for r in known.values() if r.effective <= today and (r.until is None or today <= r.until)]
    if not holding:
        raise BadInput("The yard has no rates that hold today: a file in rates/ states taxes and fees.")
    return max(holding, key=lambda r: r.effective)


def _money(flag: str, text: str | None, sentences: list[str]) -> Decimal:
    from rubrail.quantity.money import UnreadableMoneyError, parse_money

    if text is None:
        return Decimal(0)
    try:
        return parse_money(text)
    except UnreadableMoneyError as reason:
        sentences.append(f"{flag} must be dollars such as '1,500', got {text!r}: it {reason}.")
        return Decimal(0)


def _lines(
    trailer: Trailer, typed: Sequence[str], off: Decimal, rates: Rates, sentences: list[str]
) -> tuple[PriceLine, ...]:
    from rubrail.answers.price_parts import PriceLine
    from rubrail.things.rates import LINE_KINDS

    found = []
    if trailer.price_usd is None:
        sentences.append(f"{trailer.id} has no price (price_usd).")
    else:
        found.append(PriceLine("unit", trailer.title or trailer.id, trailer.price_usd, trailer.cost_usd))
    for text in typed:
        kind, _, rest = text.partition(":")
        title, _, amount = rest.rpartition(":")
        if kind.strip() not in LINE_KINDS or not title.strip():
            sentences.append(
                f"--line must be 'KIND: what it is: USD' with a kind of {', '.join(LINE_KINDS)}, got {text!r}."
            )
            continue
        found.append(PriceLine(kind.strip(), title.strip(), _money("--line", amount.strip(), sentences)))
    found += [PriceLine(fee.kind, fee.title, fee.amount_usd, Decimal(0)) for fee in rates.fee]
    if off:
        found.append(PriceLine("discount", "discount", -off))
    return tuple(found)


def show(screen: Screen, price: Price, sentence: str) -> None:
    """Print a price stage by stage; what the unit cost the yard is never printed."""
    from rubrail.quantity.money import show_money
    from rubrail.sheets.sentences_amounts import amount
    from rubrail.sheets.sentences_build import excise_sentence

    screen.text(sentence, style="bold")

    def stage(head: str, rows: list[tuple[str, str]]) -> None:
        screen.heading(head)
        screen.table(("", "wrap"), ("", "right", 14), no_header=True, rows=rows)

    stage(
        "Lines",
        [(line.title, show_money(line.price_usd)) for line in price.lines]
        + [("Together", show_money(price.lines_usd))],
    )
    tax = price.excise
    screen.text()
    screen.text(excise_sentence(tax))
    rows = [
        ("Weight by the label", amount(tax.by_rating_lb, "lb")),
        ("Weight by axles, load centered on the bed", amount(tax.by_axles_lb, "lb")),
    ]
    if tax.standing in ("due", "not known"):
        rows += [(f"{c.title}: {c.counts}", show_money(c.amount_usd)) for c in tax.lines]
        rows += [
            ("Taxed", show_money(tax.base_usd)),
            (f"{tax.rate_percent} %", show_money(tax.before_credit_usd)),
            ("Less the tax on its tires", show_money(-tax.tire_credit_usd)),
            ("Excise tax", show_money(tax.tax_usd)),
        ]
    stage("Federal excise tax", rows)
    if tax.unsettled_usd:
        screen.text(f"{show_money(tax.unsettled_usd)} of it is on charges nobody has settled: ask a tax adviser.")
    stage(
        "State and local",
        [
            (
                f"{t.title}, {t.rate_percent} % of {show_money(t.base_usd)}{'; ' + t.why if t.why else ''}",
                show_money(t.tax_usd),
            )
            for t in price.taxes
        ],
    )
    stage(
        "Due",
        [
            ("In all", show_money(price.total_usd)),
            ("Less the trade-in", show_money(-price.trade_in_usd)),
            ("Owed on the trade-in", show_money(price.owed_usd)),
            ("Less the deposit", show_money(-price.deposit_usd)),
            ("Due", show_money(price.due_usd)),
        ],
    )
    screen.text()
    screen.text("Not tax advice: the yard's tax adviser and the law prevail.", style="dim")
