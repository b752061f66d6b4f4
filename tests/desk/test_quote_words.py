"""Words of a quote that claim too much: not offered as typed, and told where they were offered before."""

import json

import pytest
from django.urls import reverse

from answers.yard import yard
from desk.rig_pages import store_haul, store_unit
from rubrail.desk.books import keep_book
from rubrail.desk.models import Quote, QuoteVersion, User
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.sales.freeze import digest
from rubrail.desk.sales.quotes import QuoteError, begin, offer
from rubrail.desk.stock import change_unit, trailer_of

pytestmark = pytest.mark.django_db
BOAST = "Hauls anything, no CDL needed"


@pytest.fixture
def quote(people):
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    unit = store_unit("SH-212")
    changed = trailer_of(unit).model_copy(update={"title": BOAST})
    change_unit(unit, changed, by=None, seen_version=unit.version)
    return begin(unit=unit, haul=store_haul(4), buyer="Larkhill Rental", by=User.objects.get(role="sales"))


def page_of(client, quote) -> str:
    return client.get(reverse("quote", args=[quote.number])).content.decode()


def test_a_true_title_is_offered_in_place_of_one_that_claims_too_much(quote, as_role):
    assert quote.terms["lines"][0]["title"] == BOAST
    said = page_of(as_role("sales"), quote)
    assert "Papers of SH-212 leave out the unit&#x27;s title. They call it “Gooseneck deck-over trailer" in said
    version = offer(quote, by=User.objects.get(role="sales"), seen_version=quote.version)
    paper = json.dumps(version.content["paper"])
    assert BOAST not in paper
    assert version.content["paper"]["title"].startswith("Gooseneck deck-over trailer")
    (price,) = (b for b in version.content["paper"]["blocks"] if b.get("heading") == "Price")
    assert price["rows"][0][0] == version.content["paper"]["title"]
    assert version.content["rests_on"]["terms"] == Quote.objects.get(pk=quote.pk).terms, "what was typed is kept"
    assert "printed no longer" not in page_of(as_role("sales"), quote)


def test_a_line_that_still_has_the_words_of_before_is_called_truly_too(quote, as_role):
    """The unit's title was mended after the quote was begun."""
    unit = quote.unit
    mended = trailer_of(unit).model_copy(update={"title": "Deck-over, 20 ft"})
    change_unit(unit, mended, by=None, seen_version=unit.version)
    quote = Quote.objects.get(pk=quote.pk)
    said = page_of(as_role("sales"), quote)
    assert "leave out" not in said
    assert "The unit&#x27;s line is offered as “Gooseneck deck-over trailer" in said
    version = offer(quote, by=User.objects.get(role="sales"), seen_version=quote.version)
    assert BOAST not in json.dumps(version.content["paper"])
    assert version.content["paper"]["title"] == "Deck-over, 20 ft"


@pytest.mark.parametrize("field", ["notes", "delivery", "line"])
def test_what_claims_too_much_is_not_offered_and_stays_to_be_mended(quote, field, as_role):
    if field == "line":
        quote.terms["lines"].append({"kind": "other", "title": "Upgrade, half-ton towable", "price_usd": "100"})
        quote.terms["lines"][-1]["kind"] = quote.terms["lines"][1]["kind"]
    else:
        quote.terms[field] = "It is half-ton towable."
    quote.save()
    with pytest.raises(QuoteError, match="half-ton towable” is refused: what a truck may pull depends"):
        offer(quote, by=User.objects.get(role="sales"), seen_version=quote.version)
    assert not QuoteVersion.objects.filter(quote=quote).exists()
    assert "half-ton towable” is refused" in page_of(as_role("sales"), quote)


def test_what_was_agreed_of_money_and_delivery_is_offered(quote):
    quote.terms |= {"notes": "Free delivery, price reduced by $500, no fees. 12 months warranty.", "delivery": "by us"}
    quote.save()
    assert offer(quote, by=User.objects.get(role="sales"), seen_version=quote.version).number == 1


def test_a_version_offered_before_stays_as_it_was_and_the_seller_is_told(quote, as_role):
    version = offer(quote, by=User.objects.get(role="sales"), seen_version=quote.version)
    content = {**version.content, "paper": {**version.content["paper"], "title": BOAST}}
    version = QuoteVersion.objects.create(
        quote=quote, number=2, by_name="x", total_usd=version.total_usd, content=content, digest=digest(content)
    )
    said = page_of(as_role("sales"), quote)
    assert f"Version 2 calls the unit “{BOAST}”, which is printed no longer. “Hauls anything” is refused" in said
    assert "Offer a new version to put it right." in said
    Quote.objects.filter(pk=quote.pk).update(status=QuoteStatus.LOST)
    assert "Offer a new version" not in page_of(as_role("sales"), quote)
    assert QuoteVersion.objects.get(pk=version.pk).content == content
