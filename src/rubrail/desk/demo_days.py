"""The invented yard's recent days, told from today: units sold and delivered with their follow-ups, quotes that run
out or wait, an order its maker has not confirmed.
"""

from __future__ import annotations

from datetime import timedelta

from django.utils import timezone

from rubrail.answers.build import build_of
from rubrail.desk import clock, follow_ups
from rubrail.desk.books import thing_in
from rubrail.desk.models import Book, FollowUp, Haul, Order, Quote, QuoteVersion, Unit, User
from rubrail.desk.models.books import Sort
from rubrail.desk.models.follow import FollowState
from rubrail.desk.sales import orders, quotes
from rubrail.desk.stock import add_unit, trailer_of

DELIVERED = (
    ("SH-097", "SH-203", "Larkhill Rental", "555 0128, the yard office", 178),
    ("SH-106", "SH-152", "Pruett Hollow Farm", "555 0163, after five", 9),
    ("SH-109", "SH-135", "Bastian Okoro-Pike", "555 0117", 1),
)
"""Units already gone: stock number, the unit each was like, its buyer, how to reach the buyer, days since delivery."""
STOOD = timedelta(days=40)
"""How long those stood in the yard before."""
OFFERED = (
    ("SH-136", "11-worn-door-label", "555 0131", 0),
    ("SH-142", "14-paving-crew", "555 0170, ask for the foreman", -4),
)
"""Offers: unit, haul, how to reach the buyer, and days until the last day."""
SIGNED = ("SH-103", "Perrin Vale-Oduya", "555 0155, evenings", 8)
"""A unit sold and still here: its buyer, how to reach the buyer, and days since it was signed for."""
UNANSWERED = ("quarrant-2027", "SH-303", 6)
"""An order: price book, stock number, days since it was sent."""


def load_days(*, seller: User) -> None:
    """Fill the days before today."""
    for number, like, buyer, contact, days in DELIVERED:
        _delivered(number, like, buyer, contact, days, seller=seller)
    for number, haul, contact, days in OFFERED:
        quote = _offered(Unit.objects.get(stock_number=number), haul, contact, seller=seller)
        Quote.objects.filter(pk=quote.pk).update(valid_until=clock.today() + timedelta(days=days))
    _signed(seller=seller)
    _unanswered(seller=seller)


def _delivered(number: str, like: str, buyer: str, contact: str, days: int, *, seller: User) -> None:
    day = clock.today() - timedelta(days=days)
    model = Unit.objects.get(stock_number=like)
    trailer = trailer_of(model).model_copy(
        update={
            "id": number, "vin": None, "cost_usd": model.cost_usd, "status": "in-stock", "location": None,
            "arrived": day - STOOD,
        }
    )  # fmt: skip
    unit = add_unit(trailer, by=seller)
    quote = quotes.begin(unit=unit, haul=None, buyer=buyer, contact=contact, by=seller)
    version = quotes.offer(quote, by=seller, seen_version=quote.version)
    quote = quotes.accept(version, name=buyer, at="the yard", by=seller)
    quotes.deliver(quote, day=day, by=seller, seen_version=quote.version)
    Unit.objects.filter(pk=unit.pk).update(status_since=day)
    # What was due long ago was done then; the last few days are still to do.
    done = FollowUp.objects.filter(quote=quote, due__lt=clock.today() - timedelta(days=3))
    for it in done:
        follow_ups.finish(it, note="Called; all well", by=seller, seen_version=it.version)
        FollowUp.objects.filter(pk=it.pk, state=FollowState.DONE).update(ended=it.due)


def _offered(unit: Unit, haul: str, contact: str, *, seller: User) -> Quote:
    its_haul = Haul.objects.get(spec__id=haul)
    quote = quotes.begin(unit=unit, haul=its_haul, buyer=its_haul.buyer, contact=contact, by=seller)
    quotes.offer(quote, by=seller, seen_version=quote.version)
    return quote


def _signed(*, seller: User) -> None:
    number, buyer, contact, days = SIGNED
    unit = Unit.objects.get(stock_number=number)
    quote = quotes.begin(unit=unit, haul=None, buyer=buyer, contact=contact, by=seller)
    version = quotes.offer(quote, by=seller, seen_version=quote.version)
    quotes.accept(version, name=buyer, at="the yard", by=seller)
    QuoteVersion.objects.filter(pk=version.pk).update(signed_at=timezone.now() - timedelta(days=days))


def _unanswered(*, seller: User) -> None:
    ident, number, days = UNANSWERED
    book = Book.objects.get(sort=Sort.CATALOG, ident=ident)
    catalog = thing_in(book)
    order = orders.place(book=book, build=build_of(catalog, catalog.model[0].id), stock_number=number, by=seller)
    orders.send(order, by=seller, seen_version=order.version)
    Order.objects.filter(pk=order.pk).update(updated=timezone.now() - timedelta(days=days))
