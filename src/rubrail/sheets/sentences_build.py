"""The sentences about builds and prices."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubrail.quantity.money import show_money
from rubrail.sheets.sentences_amounts import amount, listed
from rubrail.sheets.sentences_words import begin, limit_name

if TYPE_CHECKING:
    from rubrail.answers.build import Build
    from rubrail.answers.cheapest import Cheapest, Forced
    from rubrail.answers.price_parts import ExciseTax, Price
    from rubrail.answers.report import Line


def build_sentence(build: Build) -> str:
    """What a build is and what it asks."""
    options = listed([o.title for o in build.options]) if build.options else "no options"
    return f"{build.model.title or build.model.id} by {build.catalog.maker}, {options}: {show_money(build.price_usd)}."


def cheapest_sentence(found: Cheapest, *, metric: bool = False) -> str:
    """The first sentence of the cheapest build."""
    job = f"“{found.haul}”"
    if found.build is None:
        way = _way(found.nearest_line, metric=metric)
        cut = "" if found.proven else f"; the search stopped at {found.judged:,} builds, so it is not proven"
        lead = {"depends": "Depends", "not known": "Not known"}.get(found.verdict, "Over")
        return (
            f"{lead}: no build of {found.model} is {found.wanted} for {job}; the nearest is held back by {way}{cut}."
        )
    with_ = listed([o.title for o in found.build.options]) if found.build.options else "no options"
    line = found.governing
    spare = f"; {limit_name(line.title, line.member)} governs" if line is not None else ""
    return (
        f"{begin(found.verdict)}: the cheapest build of {found.model} for {job} asks"
        f" {show_money(found.build.price_usd)}, with {with_}{spare}."
    )


def _way(line: Line | None, *, metric: bool) -> str:
    if line is None:
        return "the place of its cargo"
    name = limit_name(line.title, line.member)
    if line.verdict == "over" and line.unit:
        return f"{name}, {amount(-line.margin, line.unit, metric=metric)} over"
    return f"{name}, {line.verdict}"


def forced_sentence(forced: Forced, *, metric: bool = False) -> str:
    """Why one option is there."""
    line = forced.line
    if forced.by == "limit" and line is not None:
        return f"{begin(forced.title)}: without it, {_way(line, metric=metric)}."
    return f"{begin(forced.title)}: {forced.says}"


def excise_sentence(tax: ExciseTax) -> str:
    """Whether the federal excise tax is due, and why, in one sentence."""
    lead = {
        "due": f"Federal excise tax is due, {show_money(tax.tax_usd)}",
        "not due": "Federal excise tax is not due",
        "free": "Federal excise tax is not due",
        "not known": f"Whether federal excise tax is due is not known; {show_money(tax.tax_usd)} if it is",
    }[tax.standing]
    return f"{lead}: {tax.why}."


def price_sentence(price: Price) -> str:
    """The first sentence of a price."""
    taxes = price.excise.tax_usd + sum(t.tax_usd for t in price.taxes)
    sure = "" if price.excise.standing != "not known" else ", if the excise tax is due, which is not known"
    return (
        f"{show_money(price.total_usd)} in all, {show_money(taxes)} of it tax{sure};"
        f" {show_money(price.due_usd)} due after trade-in and deposit."
    )
