"""The order sheet as paper and as CSV, with the yard's cost or without."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from django.conf import settings

from rubrail.answers.build import Build, cost_parts
from rubrail.desk.models import Order
from rubrail.desk.sales.orders import build_in
from rubrail.desk.standing import said_day
from rubrail.sheets.cells import csv_file
from rubrail.sheets.paper.blocks import Paper, Words
from rubrail.sheets.paper.money import order_sheet

COLUMNS = ("order", "maker", "price_book", "effective", "model", "line", "code", "what", "price_usd")
"""Columns of the CSV; ``cost_usd`` follows for those who may see it."""


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One line of an order. ``line`` : model, option, surcharge, freight or total."""

    line: str
    code: str
    what: str
    price_usd: Decimal | None
    cost_usd: Decimal | None


def lines_of(build: Build, *, with_cost: bool) -> list[OrderLine]:
    """The lines of an order; what they ask adds up to the total, and what they cost too."""
    model = build.model
    found = [OrderLine("model", model.id, model.title or model.id, model.price_usd, model.cost_usd)]
    found += [OrderLine("option", o.id, o.title, o.price_usd, o.cost_usd) for o in build.options]
    if with_cost:
        found += [OrderLine(name.partition(",")[0], "", name, None, amount) for name, amount in cost_parts(build)]
    return [*found, OrderLine("total", "", "together", build.price_usd, build.cost_usd)]


def order_as_csv(order: Order, *, with_cost: bool) -> bytes:
    """The order as CSV in UTF-8: one row a line."""
    build = build_in(order)
    head = (order.number, build.catalog.maker, build.catalog.title or build.catalog.id,
            build.catalog.effective.isoformat(), build.model.id)  # fmt: skip
    lines = lines_of(build, with_cost=with_cost)
    rows = [(*head, it.line, it.code, it.what, it.price_usd) for it in lines]
    if not with_cost:
        return csv_file(COLUMNS, rows)
    return csv_file((*COLUMNS, "cost_usd"), ((*row, it.cost_usd) for row, it in zip(rows, lines, strict=True)))


def order_as_paper(order: Order, *, with_cost: bool, metric: bool) -> Paper:
    """The order sheet, the note to the maker before the signatures."""
    paper = order_sheet(
        build=build_in(order),
        number=order.number,
        need_by=said_day(order.need_by) if order.need_by else "",
        # Who the buyer is is no business of the maker's.
        sold_to_stock="a buyer" if order.haul_id else "stock",
        yard=settings.RUBRAIL_YARD_NAME,
        date=said_day(order.created.date()),
        with_cost=with_cost,
        metric=metric,
    )
    if not order.note:
        return paper
    return replace(paper, blocks=(*paper.blocks[:-1], Words((order.note,), heading="Note"), paper.blocks[-1]))
