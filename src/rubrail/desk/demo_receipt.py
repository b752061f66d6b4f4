"""One unit of the invented yard just come off the truck, not quite as it was ordered, and a deal that hangs on it."""

from __future__ import annotations

from copy import deepcopy

from rubrail.answers.build import build_of
from rubrail.desk import clock
from rubrail.desk.books import thing_in
from rubrail.desk.models import Book, Haul, Order, Receipt, User
from rubrail.desk.models.books import Sort
from rubrail.desk.receiving import begin
from rubrail.desk.receiving.damage import add_damage
from rubrail.desk.sales import orders, quotes
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer

BOOK, MODEL = "tarnbeck-2027", "LE-20"
ORDERED = ("tires-3520", "label-15400", "coupler-20k", "crossmembers-12", "spare", "black")
UNIT = "SH-302"
LIKE = "03-landscaper-track-loader"
BUYER, CONTACT, WHAT = "Hollis Brandt-Ekwe", "by phone in the mornings", "Track loader to the quarry and back"
VIN = "1Z9EB2025VAZ34133"
VIN_ON_PAPERS = "1Z9EB2O25VAZ34133"
"""The papers have a letter O where a zero belongs, which is in no VIN."""


def an_arrival(*, seller: User) -> Order:
    """A trailer ordered for a buyer's haul, expected today, and sold to him on a quote he signed.

    The haul is like the landscaper's: it needs the label of 15,400 lb that was ordered.
    """
    like = Haul.objects.get(spec__id=LIKE)
    spec = {**deepcopy(like.spec), "id": "16-track-loader-to-the-quarry", "title": WHAT}
    spec.pop("notes", None)
    haul = Haul.objects.create(buyer=BUYER, title=WHAT, spec=spec, created_by=seller)
    book = Book.objects.get(sort=Sort.CATALOG, ident=BOOK)
    build = build_of(thing_in(book), MODEL, ORDERED)
    order = orders.place(book=book, build=build, haul=haul, stock_number=UNIT, by=seller)
    orders.send(order, by=seller, seen_version=order.version)
    orders.confirm(order, expected=clock.today(), by=seller, seen_version=order.version)
    quote = quotes.begin(unit=order.unit, haul=haul, buyer=BUYER, contact=CONTACT, by=seller)
    version = quotes.offer(quote, by=seller, seen_version=quote.version)
    quotes.accept(version, name=BUYER, at="the yard", by=seller)
    return order


def a_receipt(order: Order, *, hand: User) -> Receipt:
    """The same trailer half looked at: its label says 14,000, its tires carry less, its papers misspell the VIN."""
    receipt = begin.begin(
        order.unit,
        day=clock.today(),
        by=hand,
        carrier="Ferrow Ridge Haulaway",
        bill="FR-20418",
        driver="Osric Bell-Tamayo",
    )
    receipt.found = {
        "vins": {"label": VIN, "frame": VIN, "papers": VIN_ON_PAPERS},
        "label_seen": "yes",
        "papers": {"year": 2027, "gvwr_lb": 15400.0, "gawr_lb": [7000.0, 7000.0], "empty_lb": 3368.0},
        "looks": {
            "ratings.gvwr_lb": {"is": "other", "value": {"value": 14000.0, "basis": "label"}},
            "axle.*.gawr_lb": {"is": "same"},
            "year": {"is": "same"},
            "axle": {"is": "same"},
            "axle.*.brakes": {"is": "same"},
            "axle.*.tires.count": {"is": "same"},
            "axle.*.tires.size": {"is": "same"},
            "axle.*.tires.load_range": {"is": "same"},
            "axle.*.tires.max_load_lb": {"is": "other", "value": {"value": 3420.0, "basis": "label"}},
            "coupling.kind": {"is": "same"},
            "coupling.gross_rating_lb": {"is": "same"},
            "frame.crossmember_spacing_in": {"is": "other", "value": {"value": 16.0, "basis": "measured"}},
        },
        "parts": {"spare": "missing", "chains": "here", "manuals": "here", "certificate": "here"},
        "tires": ["3126", "3126", "3026", "3126"],
    }
    receipt.save()
    trailer = read_thing(Trailer, receipt.ordered)
    add_damage(
        receipt,
        station="",
        spot={"view": "plan", "x_in": 252.0, "y_in": 41.0},
        words="rub rail bent in, 4 in long, paint off",
        key=None,
        trailer=trailer,
        by=hand,
    )
    return receipt
