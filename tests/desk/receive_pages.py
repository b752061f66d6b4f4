"""A unit that stands at the gate, to receive in tests: ordered for a haul that what came does not carry."""

from __future__ import annotations

from typing import Any

from django.test import Client
from django.urls import reverse

from desk.pages import page_form
from rubrail.answers.build import build_of
from rubrail.desk import clock
from rubrail.desk.books import keep_book
from rubrail.desk.hauls import stored
from rubrail.desk.models import Haul, Order, Receipt, User
from rubrail.desk.receiving.begin import begin
from rubrail.desk.sales import orders
from rubrail.things.folder import resolve

BOOK, MODEL = "tarnbeck-2027", "LE-20"
ORDERED = ("tires-3520", "label-15400", "coupler-20k", "crossmembers-12", "spare", "black")
VIN = "1Z9EB2025VAZ34133"


def ordered(by: User, *, options: tuple[str, ...] = ORDERED, haul: Haul | None = None, number: str = "G-1") -> Order:
    """An order of the invented yard, sent and confirmed for today."""
    from answers.yard import yard

    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    book = keep_book(yard().catalogs[BOOK], by=None)
    build = build_of(yard().catalogs[BOOK], MODEL, options)
    order = orders.place(book=book, build=build, haul=haul, stock_number=number, by=by)
    orders.send(order, by=by, seen_version=order.version)
    orders.confirm(order, expected=clock.today(), by=by, seen_version=order.version)
    return order


def track_loader(buyer: str = "Ines Harrow") -> Haul:
    """A haul of 11,000 lb that needs the label of 15,400 lb."""
    from answers.yard import yard

    it = yard().hauls["03-landscaper-track-loader"]
    return Haul.objects.create(buyer=buyer, title="Track loader", spec=stored(resolve(it, yard())))


def received(order: Order, by: User) -> Receipt:
    """A receipt begun for it."""
    return begin(order.unit, day=clock.today(), by=by, carrier="A carrier", bill="B-1", driver="A driver")


def sent(client: Client, receipt: Receipt, step: str, **changes: Any) -> Any:
    """What a browser sends from a step's page with some fields changed; the answer."""
    url = reverse(step, args=[receipt.number])
    form = page_form(client, url) | {k.replace("__", ":"): v for k, v in changes.items()}
    return client.post(url, form)
