"""The invented yard in the database: its units, trucks, machines and hauls, and one person for each role."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import timedelta
from importlib.resources import as_file, files
from pathlib import Path

from django.db import transaction

from rubrail.desk import clock
from rubrail.desk.books import keep_book, thing_in
from rubrail.desk.hauls import stored
from rubrail.desk.models import Book, Haul, Machine, Truck, Unit, User
from rubrail.desk.models.books import Sort
from rubrail.desk.permissions import HAND, OWNER, SALES, VIEWER
from rubrail.desk.stock import add_units
from rubrail.desk.tickets.keep import add_tickets
from rubrail.things.folder import load_yard, resolve
from rubrail.things.part import Thing

PEOPLE = (
    ("Ada Quill", "ada", OWNER),
    ("Tomas Verrin", "tomas", SALES),
    ("June Okafor-Lind", "june", HAND),
    ("Wen Marlow", "wen", VIEWER),
)
BUYERS = {
    "01-mowing-round": "Brindle and Son Mowing",
    "02-midi-excavator-for-hire": "Castor Line Carriers",
    "03-landscaper-track-loader": "Odell Fennick",
    "04-three-machines": "Larkhill Rental",
    "05-hay-round-bales": "Maren Tolliver-Boyd",
    "06-under-26001": "Bastian Okoro-Pike",
    "07-tractor-on-duals": "Pruett Hollow Farm",
    "08-large-telehandler": "Larkhill Rental",
    "09-loaded-service-truck": "Idris Colwell-Tan",
    "10-weight-distribution": "Nell Abernath-Ruiz",
    "11-worn-door-label": "Tobin Strand-Lee",
    "12-backhoe-of-unknown-weight": "Casimir Dole-Hart",
    "13-scissor-lifts": "Larkhill Rental",
    "14-paving-crew": "Quarrel Road Paving",
    "15-tractor-tall-truck": "Anselm Reyes-Holm",
}
"""Who each haul of the invented yard is for, by the haul's id; the hauls' files name no buyers."""


def load_demo(*, say: Callable[[str], None] = print) -> None:
    """Fill an empty database with the invented yard; one that has people is left as it is."""
    if User.objects.exists():
        return
    with as_file(files("rubrail.demo") / "yard") as folder, transaction.atomic():
        for name, username, role in PEOPLE:
            # Nobody signs in by password here: the sign-in page has a button for each.
            User.objects.create_user(username=username, name=name, role=role, password=None)
        count = load_folder(folder, by=None, buyers=BUYERS)
        _quotes()
        _orders()
        _listings()
        _receipt()
        _checks()
        _hand_over()
        _days()
    say(f"The invented yard has {count} units.")


def _listings() -> None:
    from rubrail.desk.demo_listings import demo_listings

    demo_listings(User.objects.get(username="tomas"))


QUOTES = (("SH-213", "04-three-machines", True), ("SH-133", "03-landscaper-track-loader", False))
"""Quotes of the invented yard: unit, haul, and whether it is offered already."""


def _quotes() -> None:
    from rubrail.desk.sales import quotes

    seller = User.objects.get(username="tomas")
    for number, haul, offered in QUOTES:
        unit = Unit.objects.get(stock_number=number)
        its_haul = Haul.objects.get(spec__id=haul)
        quote = quotes.begin(unit=unit, haul=its_haul, buyer=its_haul.buyer, by=seller)
        if offered:
            quotes.offer(quote, by=seller, seen_version=quote.version)


ORDERED = ("tires-3520", "label-15400", "coupler-20k", "spare")
ORDERS = (("tarnbeck-2027", "LE-20", ORDERED, "03-landscaper-track-loader"),)
"""Orders of the invented yard: price book, model, options, and the haul each is for; sent and confirmed."""


def _orders() -> None:
    from rubrail.answers.build import build_of
    from rubrail.desk.sales import orders

    seller = User.objects.get(username="tomas")
    for ident, model, options, haul in ORDERS:
        book = Book.objects.get(sort=Sort.CATALOG, ident=ident)
        build = build_of(thing_in(book), model, options)
        its_haul = Haul.objects.get(spec__id=haul)
        order = orders.place(book=book, build=build, haul=its_haul, stock_number="SH-301", by=seller)
        orders.send(order, by=seller, seen_version=order.version)
        expected = clock.today() + timedelta(weeks=build.model.lead_weeks or 6)
        orders.confirm(order, expected=expected, by=seller, seen_version=order.version)


def _receipt() -> None:
    from rubrail.desk.demo_receipt import a_receipt, an_arrival

    order = an_arrival(seller=User.objects.get(username="tomas"))
    a_receipt(order, hand=User.objects.get(username="june"))


def _checks() -> None:
    from rubrail.desk.demo_checks import demo_checks

    demo_checks(hand=User.objects.get(username="june"))


def _hand_over() -> None:
    from rubrail.desk.demo_hand_over import demo_hand_over

    people = User.objects
    demo_hand_over(seller=people.get(username="tomas"), hand=people.get(username="june"))


def _days() -> None:
    from rubrail.desk.demo_days import load_days

    load_days(seller=User.objects.get(username="tomas"))


def load_folder(folder: Path, *, by: User | None, buyers: Mapping[str, str] | None = None) -> int:
    """Store everything a yard folder holds; the number of units.

    Raises
    ------
    Faults
        Every fault of every file; nothing is stored then.
    """
    yard = load_yard(folder)
    with transaction.atomic():
        there = {number.lower() for number in Unit.objects.values_list("stock_number", flat=True)}
        add_units([t for t in yard.trailers.values() if t.id.lower() not in there], by=by)
        Truck.objects.bulk_create(Truck(name=_name(t), spec=stored(t), created_by=by) for t in yard.trucks.values())
        Machine.objects.bulk_create(Machine(name=_name(c), spec=stored(c), created_by=by) for c in yard.cargo.values())
        for haul in yard.hauls.values():
            buyer = (buyers or {}).get(haul.id, "")
            Haul.objects.create(buyer=buyer, title=_name(haul), spec=stored(resolve(haul, yard)), created_by=by)
        add_tickets(yard, by=by)
        for thing in (
            *yard.catalogs.values(),
            *yard.rates.values(),
            *yard.kits.values(),
            *yard.listings.values(),
            *yard.checks.values(),
        ):
            keep_book(thing, by=by)
    return len(yard.trailers)


def _name(thing: Thing) -> str:
    return (getattr(thing, "title", None) or thing.id)[:120]
