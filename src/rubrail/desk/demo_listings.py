"""How the invented yard offers its units: some shown, some with words of their own, two prices that are old."""

from __future__ import annotations

from datetime import timedelta

from rubrail.desk import clock
from rubrail.desk.listings import NEVER_SEEN, offer_of, set_shown, set_words, terms_on
from rubrail.desk.models import Listing, Unit, User

SHOWN = (
    *("SH-101", "SH-111", "SH-113", "SH-121", "SH-123", "SH-132", "SH-133", "SH-137", "SH-141"),
    *("SH-151", "SH-161", "SH-171", "SH-184", "SH-193", "SH-201", "SH-211"),
)
WORDS = {
    "SH-132": "Stood inside since it came. Its four tires carry 13,680 lb together, a little less than the axles are"
    " rated for: they are its weakest part.",
    "SH-113": "The tire pressure is not on the label any more. We look it up before it is sold.",
    "SH-112": "14K payload and no CDL needed. Hauls anything!",
}
"""Words of the yard; those of the last make claims that are refused, and are kept aside."""
LOOKED_AT_DAYS_AGO = {"SH-123": 47, "SH-161": 38, "SH-171": 118}


def demo_listings(seller: User) -> None:
    """Offer the invented yard's units."""
    terms = terms_on(clock.today())
    for number in SHOWN:
        set_shown(Unit.objects.get(stock_number=number), True, by=seller, seen_version=NEVER_SEEN)
    for number, words in WORDS.items():
        unit = Unit.objects.select_related("listing").get(stock_number=number)
        version = unit.listing.version if hasattr(unit, "listing") else NEVER_SEEN
        refused = bool(offer_of(unit, terms, words=words).words_refused)
        set_words(unit, words, refused=refused, by=seller, seen_version=version)
    for number, days in LOOKED_AT_DAYS_AGO.items():
        day = clock.today() - timedelta(days=days)
        Listing.objects.filter(unit__stock_number=number).update(price_checked=day, price_checked_by=seller)
