"""A unit of the invented yard whose buyer comes today: quote signed, hand-over begun, some of it read and measured."""

from __future__ import annotations

from datetime import timedelta

from django.utils import timezone

from rubrail.desk.checking.entries import keep_entry, line_in
from rubrail.desk.handing.steps import begin
from rubrail.desk.models import Haul, QuoteVersion, Unit, User
from rubrail.desk.sales import quotes

UNIT, HAUL, CONTACT = "SH-153", "10-weight-distribution", "555 0155, evenings"
ENTERED = (
    ("this-truck", {"answer": "ok", "text": "plate KJ4 2190"}),
    ("door-label", {"answer": "ok", "numbers": [7_850.0, 4_050.0, 4_650.0]}),
    ("controller", {"answer": "ok"}),
    ("gain", {"answer": "ok", "text": "5.5, set on a slow stop"}),
    ("ball", {"answer": "ok", "numbers": [2.3125, 2.3125]}),
    ("coupled", {"answer": "ok"}),
    ("chains-on", {"answer": "ok"}),
    ("pressure-1", {"answer": "ok", "numbers": [80.0, 78.0]}),
)
"""Lines entered so far."""


def demo_hand_over(*, seller: User, hand: User) -> None:
    """Sign the quote of one unit, and begin its hand-over."""
    unit, haul = Unit.objects.get(stock_number=UNIT), Haul.objects.get(spec__id=HAUL)
    quote = quotes.begin(unit=unit, haul=haul, buyer=haul.buyer, contact=CONTACT, by=seller)
    version = quotes.offer(quote, by=seller, seen_version=quote.version)
    quotes.accept(version, name=haul.buyer, at="the yard", by=seller)
    QuoteVersion.objects.filter(pk=version.pk).update(signed_at=timezone.now() - timedelta(days=2))
    it = begin(unit, by=hand)
    for key, value in ENTERED:
        keep_entry(it, line_in(it, key), value, seen=0, by=hand)
