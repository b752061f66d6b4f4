"""Quotes and sales for the yard's books: amounts as frozen, cost guarded, columns documented."""

from __future__ import annotations

import csv
import io
import re
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from django.urls import reverse

from answers.yard import yard
from desk.rig_pages import store_unit
from rubrail.desk import clock
from rubrail.desk.books import keep_book
from rubrail.desk.models import Quote, Unit, User
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.sales import quotes
from rubrail.desk.sales.ledger import BOOKS, Entry, documented, entries
from rubrail.desk.standing import BY_KEY, take_step
from rubrail.sheets.cells import said

pytestmark = pytest.mark.django_db
DOCS = Path(__file__).resolve().parents[2] / "docs" / "books.md"


@pytest.fixture
def seller(people):
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    return User.objects.get(role="sales")


def offered(seller, unit="SH-212", buyer="Larkhill Rental") -> Quote:
    quote = quotes.begin(unit=store_unit(unit), haul=None, buyer=buyer, by=seller)
    quote.terms |= {"trade_in_usd": "4000", "deposit_usd": "500.50"}
    quote.save()
    quotes.offer(quote, by=seller, seen_version=quote.version)
    return quote


def delivered(seller, unit="SH-212") -> Quote:
    quote = offered(seller, unit)
    quotes.accept(quote.versions.first(), name="Pat Larkhill", at="here", by=seller)
    quote.refresh_from_db()
    quotes.deliver(quote, day=clock.today(), by=seller, seen_version=quote.version)
    return quote


def table(client, name) -> list[dict[str, str]]:
    answer = client.get(reverse("books-csv", args=[name]))
    assert answer.status_code == 200
    return list(csv.DictReader(io.StringIO(answer.content.decode())))


@pytest.mark.parametrize("name", BOOKS)
def test_columns_are_documented_as_they_are_declared(name):
    text = DOCS.read_text("utf-8")
    written = re.search(rf"<!-- {name} -->\n(.*?)\n<!-- end -->", text, re.S)
    assert written[1] == documented(name)
    names = [c.name for c in BOOKS[name][1]]
    assert len(set(names)) == len(names)


def test_amounts_are_those_of_the_frozen_version(seller, as_role):
    quote = offered(seller)
    version = quote.versions.get()
    price = version.content["rests_on"]["price"]
    Unit.objects.filter(pk=quote.unit_id).update(price_usd=1, cost_usd=1)
    Quote.objects.filter(pk=quote.pk).update(terms={"lines": []})
    row = table(as_role("sales"), "quotes")[0]
    assert Decimal(row["total_usd"]) == version.total_usd
    for name in ("lines_usd", "total_usd", "trade_in_usd", "deposit_usd", "due_usd", "cost_usd", "margin_usd"):
        assert Decimal(row[name]) == Decimal(price[name]), name
    assert (row["trade_in_usd"], row["deposit_usd"]) == ("4000.00", "500.50")
    parts = [Decimal(row[n]) for n in ("lines_usd", "excise_tax_usd", "sales_taxes_usd")]
    assert sum(parts) == version.total_usd
    assert row["digest"] == version.digest


def test_page_paper_csv_and_json_have_one_total(seller, as_role):
    quote = offered(seller)
    client = as_role("sales")
    row = table(client, "quotes")[0]
    told = client.get(reverse("books-json", args=["quotes"])).json()["rows"][0]
    assert {k: v or "" for k, v in told.items()} == row
    shown = f"${Decimal(row['total_usd']):,.2f}".removesuffix(".00")
    assert shown in client.get(reverse("quote", args=[quote.number])).content.decode()
    assert shown in str(quote.versions.get().content["paper"])


def test_the_latest_version_counts(seller, as_role):
    quote = offered(seller)
    quote.terms["lines"][0]["price_usd"] = "20000"
    quote.save()
    version = quotes.offer(quote, by=seller, seen_version=quote.version)
    row = table(as_role("sales"), "quotes")[0]
    assert (row["version"], Decimal(row["total_usd"])) == ("2", version.total_usd)


def test_what_is_not_offered_has_no_amounts(seller, as_role):
    quotes.begin(unit=store_unit("SH-212"), haul=None, buyer="=HYPERLINK(1)", by=seller)
    row = table(as_role("sales"), "quotes")[0]
    assert (row["status"], row["total_usd"], row["offered"], row["digest"]) == ("draft", "", "", "")
    assert row["buyer"] == "'=HYPERLINK(1)"
    told = as_role("sales").get(reverse("books-json", args=["quotes"])).json()
    assert (told["rows"][0]["total_usd"], told["rows"][0]["buyer"]) == (None, "=HYPERLINK(1)")


def test_sales_are_delivered_quotes_and_units_sold_without(seller, as_role):
    quote = delivered(seller)
    offered(seller, "SH-213", buyer="Somebody else")
    unit = store_unit("SH-121")
    day = clock.today() - timedelta(days=2)
    take_step(unit, BY_KEY["sell"], day=day, sold_for_usd=Decimal("3150"), by=seller, seen_version=unit.version)
    rows = table(as_role("sales"), "sales")
    assert [(r["unit"], r["quote"], r["sold"]) for r in rows] == [
        ("SH-212", quote.number, clock.today().isoformat()),
        ("SH-121", "", day.isoformat()),
    ]
    assert Decimal(rows[0]["total_usd"]) == quote.versions.get().total_usd
    assert (rows[1]["total_usd"], rows[1]["sold_for_usd"]) == ("", "3150.00")
    assert Quote.objects.get(pk=quote.pk).status == QuoteStatus.DELIVERED


@pytest.mark.parametrize("name", BOOKS)
def test_cost_and_margin_only_for_those_who_may(seller, as_role, monkeypatch, name):
    delivered(seller)
    guarded = {c.name for c in BOOKS[name][1] if c.needs}
    assert {"cost_usd", "margin_usd"} <= guarded
    client = as_role("sales")
    assert guarded <= set(table(client, name)[0])
    monkeypatch.setattr(User, "may", lambda self, permission: permission != "money.see")
    assert not guarded & set(table(client, name)[0])
    told = client.get(reverse("books-json", args=[name])).json()
    assert not guarded & {*told["columns"], *told["rows"][0]}


def test_what_cost_is_not_known_stays_so(seller, as_role):
    unit = store_unit("SH-212")
    Unit.objects.filter(pk=unit.pk).update(cost_usd=None)
    unit.refresh_from_db()
    quote = quotes.begin(unit=unit, haul=None, buyer="x", by=seller)
    quotes.offer(quote, by=seller, seen_version=quote.version)
    row = table(as_role("sales"), "quotes")[0]
    assert (row["cost_usd"], row["margin_usd"]) == ("", "")
    assert row["total_usd"]


def test_queries_do_not_grow_with_rows(seller, django_assert_num_queries):
    unit = store_unit("SH-212")
    for count in (1, 6):
        while Quote.objects.count() < count:
            quote = quotes.begin(unit=unit, haul=None, buyer="x", by=seller)
            quotes.offer(quote, by=seller, seen_version=quote.version)
        with django_assert_num_queries(2):
            rows = list(entries("quotes"))
            assert [said(c.get(e)) for c in BOOKS["quotes"][1] for e in rows]
        with django_assert_num_queries(2):
            assert list(entries("sales")) == []


def test_a_unit_without_a_quote_has_a_row_of_its_own():
    entry = Entry(Unit(stock_number="SH-1", vin="", maker="Pellamy", model="", year=2026))
    assert [said(c.get(entry)) for c in BOOKS["sales"][1]][:5] == ["", "", "", "", "SH-1"]


def test_no_other_book(as_role):
    assert as_role("owner").get("/books/people.csv").status_code == 404
