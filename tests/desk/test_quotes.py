"""Quotes: frozen when offered, signed once, one buyer a unit; one total everywhere; the link is a secret."""

import json
from datetime import date, timedelta
from decimal import Decimal

import pytest

from answers.yard import yard
from desk.rig_pages import store_haul, store_unit
from rubrail.desk import clock
from rubrail.desk.books import keep_book
from rubrail.desk.models import Change, Quote, QuoteVersion, Unit, User
from rubrail.desk.models.sales import FrozenError, QuoteStatus
from rubrail.desk.sales.freeze import SpoiledError, digest, thawed
from rubrail.desk.sales.quotes import (
    QuoteError,
    accept,
    begin,
    by_link,
    close,
    deliver,
    give_link,
    offer,
    revoke_link,
)
from rubrail.desk.sales.terms import NoRatesError, price_of
from rubrail.sheets.paper.press import press

pytestmark = pytest.mark.django_db


@pytest.fixture
def seller(people):
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    return User.objects.get(role="sales")


def quoted(seller, unit="SH-212", haul=4):
    return begin(unit=store_unit(unit), haul=store_haul(haul), buyer="Larkhill Rental", by=seller)


def test_no_rates_no_quote(people):
    with pytest.raises(NoRatesError, match="taxes and fees"):
        begin(unit=store_unit("SH-212"), haul=None, buyer="x", by=User.objects.get(role="sales"))


def test_a_quote_begins_at_the_asking_price_with_every_fee(seller):
    quote = quoted(seller)
    rates = yard().rates["sedge-hollow-2026"]
    found = price_of(quote.terms, quote.unit, rates)
    assert found.lines[0].price_usd == quote.unit.price_usd
    assert found.lines_usd == quote.unit.price_usd + sum(f.amount_usd for f in rates.fee)
    passed_on = sum(f.amount_usd for f in rates.fee if f.kind == "title and registration")
    assert found.cost_usd == (None if quote.unit.cost_usd is None else quote.unit.cost_usd + passed_on)
    assert quote.number == f"Q{clock.today().year}-0001"
    assert begin(unit=quote.unit, haul=None, buyer="another", by=seller).number.endswith("-0002")


def test_what_is_offered_prints_the_same_whatever_changes_after(seller):
    quote = quoted(seller)
    version = offer(quote, by=seller, seen_version=quote.version)
    first = press(thawed(version.content, expect=version.digest))
    Unit.objects.filter(pk=quote.unit_id).update(price_usd=Decimal(1), spec={})
    again = QuoteVersion.objects.get(pk=version.pk)
    assert press(thawed(again.content, expect=again.digest)) == first
    assert again.digest == digest(again.content)


def test_a_frozen_version_is_never_changed(seller):
    quote = quoted(seller)
    version = offer(quote, by=seller, seen_version=quote.version)
    with pytest.raises(FrozenError):
        version.save()
    with pytest.raises(FrozenError):
        QuoteVersion.objects.all().update(total_usd=1)
    with pytest.raises(FrozenError):
        QuoteVersion.objects.all().delete()
    spoiled = json.loads(json.dumps(version.content))
    spoiled["paper"]["title"] = "another"
    with pytest.raises(SpoiledError):
        thawed(spoiled, expect=version.digest)


def test_nothing_of_cost_is_on_the_sheet(seller):
    quote = quoted(seller)
    Unit.objects.filter(pk=quote.unit_id).update(cost_usd=Decimal("12345.67"))
    quote.unit.refresh_from_db()
    version = offer(quote, by=seller, seen_version=quote.version)
    paper = json.dumps(version.content["paper"])
    assert "12345" not in paper
    assert "12,345" not in paper
    assert "cost" not in paper.lower()


def test_totals_are_the_same_on_paper_and_in_what_it_rests_on(seller):
    quote = quoted(seller)
    quote.terms["lines"].append({"kind": "discount", "title": "discount", "price_usd": "-250.50"})
    quote.terms |= {"trade_in_usd": "4000", "deposit_usd": "500"}
    quote.save()
    version = offer(quote, by=seller, seen_version=quote.version)
    found = price_of(quote.terms, quote.unit, yard().rates["sedge-hollow-2026"])
    assert version.total_usd == found.total_usd
    assert Decimal(version.content["rests_on"]["price"]["total_usd"]) == found.total_usd
    assert Decimal(version.content["rests_on"]["price"]["due_usd"]) == found.due_usd
    assert f"${found.total_usd:,.2f}".removesuffix(".00") in version.content["paper"]["lead"]


def test_accepting_holds_the_unit_and_delivering_sells_it(seller):
    quote = quoted(seller)
    version = offer(quote, by=seller, seen_version=quote.version)
    accepted = accept(version, name="Pat Larkhill", at="192.0.2.7", by=None)
    assert accepted.status == QuoteStatus.ACCEPTED
    unit = Unit.objects.get(pk=quote.unit_id)
    assert unit.status == "held"
    signed = QuoteVersion.objects.get(pk=version.pk)
    assert (signed.signed_name, signed.signed_from) == ("Pat Larkhill", "192.0.2.7")
    assert signed.signed_at is not None
    deliver(Quote.objects.get(pk=quote.pk), day=clock.today(), by=seller, seen_version=accepted.version)
    assert Unit.objects.get(pk=unit.pk).status == "sold"
    told = list(Change.objects.filter(kind="quote", thing=quote.pk).values_list("sentence", flat=True))
    assert any("signed by Pat Larkhill" in s for s in told)
    assert any("delivered quote" in s for s in told)


def test_two_people_never_buy_one_unit(seller):
    first = quoted(seller)
    second = begin(unit=first.unit, haul=None, buyer="Another", by=seller)
    a = offer(first, by=seller, seen_version=first.version)
    b = offer(second, by=seller, seen_version=second.version)
    accept(a, name="First", at="", by=None)
    with pytest.raises(QuoteError, match="another buyer's"):
        accept(b, name="Second", at="", by=None)
    assert Quote.objects.get(pk=second.pk).status == QuoteStatus.OFFERED
    assert QuoteVersion.objects.get(pk=b.pk).signed_at is None


def test_only_the_latest_version_in_its_time_is_accepted_once(seller):
    quote = quoted(seller)
    old = offer(quote, by=seller, seen_version=quote.version)
    new = offer(quote, by=seller, seen_version=quote.version)
    with pytest.raises(QuoteError, match="newer version"):
        accept(old, name="x", at="", by=None)
    Quote.objects.filter(pk=quote.pk).update(valid_until=clock.today() - timedelta(days=1))
    with pytest.raises(QuoteError, match="was valid until"):
        accept(new, name="x", at="", by=None)
    Quote.objects.filter(pk=quote.pk).update(valid_until=clock.today())
    accept(new, name="x", at="", by=None)
    with pytest.raises(QuoteError, match="accepted"):
        accept(new, name="y", at="", by=None)


def test_a_link_is_a_secret_that_can_be_revoked(seller):
    quote = quoted(seller)
    with pytest.raises(QuoteError, match="only an offered"):
        give_link(quote, by=seller)
    offer(quote, by=seller, seen_version=quote.version)
    secret = give_link(quote, by=seller)
    assert len(secret) >= 40
    assert by_link(secret).pk == quote.pk
    assert secret not in json.dumps(list(Quote.objects.values("link", "terms")))
    newer = give_link(quote, by=seller)
    assert by_link(secret) is None
    revoke_link(quote, by=seller)
    assert by_link(newer) is None
    assert by_link("") is None


def test_a_lost_quote_lets_its_unit_go(seller):
    quote = quoted(seller)
    accepted = accept(offer(quote, by=seller, seen_version=quote.version), name="x", at="", by=None)
    close(accepted, status=QuoteStatus.LOST, why="bought elsewhere", by=seller, seen_version=accepted.version)
    assert Unit.objects.get(pk=quote.unit_id).status == "in-stock"
    with pytest.raises(QuoteError, match="already"):
        close(accepted, status=QuoteStatus.LOST, why="", by=seller, seen_version=accepted.version)
    with pytest.raises(QuoteError, match="only an accepted"):
        deliver(accepted, day=date(2026, 1, 1), by=seller, seen_version=accepted.version)
