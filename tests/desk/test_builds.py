"""A build's page: what is chosen is in its address, rules are told, figures are the engine's own."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from urllib.parse import parse_qsl, urlsplit

import pytest
from django.urls import reverse
from django.utils.html import escape

from answers.yard import haul as haul_thing
from answers.yard import yard
from desk.rig_pages import store_haul
from rubrail import weigh
from rubrail.answers.build import build_of
from rubrail.answers.cheapest import cheapest
from rubrail.desk import builds
from rubrail.desk.books import keep_book
from rubrail.desk.builds import address, asked_options, choose, payload_lb, ways_out
from rubrail.desk.models import Book, Order, Unit
from rubrail.desk.stock import take_apart
from rubrail.quantity.money import show_money
from rubrail.sheets.sentences import weighing_sentence
from rubrail.sheets.sentences_build import cheapest_sentence

pytestmark = pytest.mark.django_db
CATALOG = yard().catalogs["tarnbeck-2027"]
HTMX = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture
def book() -> Book:
    return keep_book(CATALOG, by=None)


@pytest.fixture
def seller(as_role):
    return as_role("sales")


def page(client, url, **query) -> str:
    answer = client.get(url, query)
    assert answer.status_code == 200
    return answer.content.decode()


def le20(book: Book) -> str:
    return reverse("build", args=[book.ident, "LE-20"])


def test_the_list_has_every_model_of_the_books_in_force(seller, book):
    old = CATALOG.model_copy(update={"id": "ended", "title": "An ended book", "until": date(2026, 10, 1)})
    keep_book(old, by=None)
    text = page(seller, reverse("builds"))
    for model in CATALOG.model:
        assert reverse("build", args=[book.ident, model.id]) in text
    assert "An ended book" not in text


def test_the_page_states_the_engines_own_figures(seller, book):
    ids = ["label-15400", "coupler-20k"]
    build = build_of(CATALOG, "LE-20", ids)
    text = page(seller, le20(book), o=ids)
    plain = re.sub(r"<[^>]*>", "", text).replace("\u202f", " ").replace("\xa0", " ")
    # 7,990 + 180 + 190 and 6,640 + 130 + 130 + 420 of freight, by hand from the book
    for amount in (Decimal(8360), Decimal(7320), Decimal(1040)):
        assert show_money(amount) in plain
    assert f"{float(build.trailer.weights.empty_lb):,.0f} lb" in plain
    assert "15,400 lb" in plain
    assert f"{take_apart(build.trailer)['payload_lb']:,.0f} lb" in plain
    assert payload_lb(build.trailer) == take_apart(build.trailer)["payload_lb"]
    assert text.count("<svg") > 3


def test_cost_only_for_those_who_may(seller, book, people, monkeypatch):
    monkeypatch.setattr(type(people["sales"]), "may", lambda self, name: name != "money.see")
    text = page(seller, le20(book))
    assert "Costs us" not in text
    assert "Margin" not in text


def test_a_broken_rule_is_told_and_ways_out_keep_every_rule(seller, book):
    text = page(seller, le20(book), o="axles-8k")
    assert "axles-8k requires one of coupler-20k, pintle." in text
    assert "Order this build" not in text
    assert "Carries, trailer alone" not in text
    chosen = choose(book, "LE-20", ["axles-8k"])
    ways = ways_out(chosen)
    assert {(w.verb, w.ids) for w in ways} >= {
        ("Leave off", ()),
        ("Take", ("axles-8k", "coupler-20k")),
        ("Take", ("axles-8k", "pintle")),
    }
    for way in ways:
        assert not choose(book, "LE-20", way.ids).broken
        assert address(way.ids) in text.replace("&amp;", "&")


def test_needed_groups_are_asked_for(seller):
    catalog = yard().catalogs["pellamy-2027"]
    text = page(seller, reverse("build", args=[keep_book(catalog, by=None).ident, "DO-22"]))
    assert "One option of color is needed." in text
    assert "None yet" in text


def test_options_come_from_radios_and_boxes_alike(seller, book):
    pairs = [("g-coupler", ["coupler-20k"]), ("g-axles", [""]), ("o", ["spare", "spare"]), ("haul", ["3"])]
    assert asked_options(pairs) == ["coupler-20k", "spare"]
    text = page(seller, le20(book), **{"g-coupler": "coupler-20k", "o": "spare"})
    checked = re.findall(r'value="([^"]*)" checked', text)
    assert [c for c in checked if c] == ["coupler-20k", "spare"]


def test_options_of_another_model_are_told_and_left_out(seller, book):
    text = page(seller, le20(book), o=["no-such", "spare"])
    assert "Not made for this model, and left out: no-such." in text
    for url in (reverse("build", args=[book.ident, "XX-1"]), reverse("build", args=["nobody", "LE-20"])):
        assert seller.get(url).status_code == 404


def test_the_part_puts_what_is_chosen_in_the_address(seller, book):
    haul = store_haul(3)
    query = {"haul": haul.pk, "g-coupler": "coupler-20k", "g-axles": "", "o": "spare"}
    answer = seller.get(le20(book), query, **HTMX)
    assert "<html" not in answer.content.decode()
    pushed = urlsplit(answer["HX-Push-Url"])
    assert parse_qsl(pushed.query) == [("o", "coupler-20k"), ("o", "spare"), ("haul", str(haul.pk))]
    again = page(seller, answer["HX-Push-Url"])
    assert answer.content.decode().split("<h2")[0].strip() in again


def test_the_verdict_is_that_of_weighing(seller, book):
    haul = store_haul(3)
    build = build_of(CATALOG, "LE-20", ["coupler-20k"], id="LE-20")
    said = weighing_sentence(
        weigh(haul=haul_thing("03-landscaper-track-loader"), trailer=build.trailer, remedies=False), tried=False
    )
    assert escape(said) in page(seller, le20(book), o="coupler-20k", haul=haul.pk)


def test_ordering_what_does_not_carry_the_haul_is_warned_of(seller, book):
    haul = store_haul(3)
    for ids, over in ((["coupler-20k"], True), (["tires-3520", "label-15400", "coupler-20k"], False)):
        text = page(seller, le20(book), o=ids, haul=haul.pk)
        assert ("this build is over" in text) == over


def test_the_cheapest_build_comes_chosen_with_its_reasons(seller, book):
    haul = store_haul(3)
    found = cheapest(haul=haul_thing("03-landscaper-track-loader"), catalog=CATALOG, model="LE-20")
    text = page(seller, reverse("build-cheapest", args=[book.ident, "LE-20"]), haul=haul.pk, o="spare")
    assert escape(cheapest_sentence(found)) in text
    checked = [c for c in re.findall(r'value="([^"]*)" checked', text) if c]
    assert set(checked) == {o.id for o in found.build.options}
    assert "that is proven" in text
    for forced in found.forced:
        assert forced.option in checked


def test_a_search_that_is_cut_says_so(seller, book, monkeypatch):
    monkeypatch.setattr(builds, "MOST_JUDGED", 1)
    haul = store_haul(4)
    # 24,000 lb of machines: every kind of build is out of reach unless the proof is taken away.
    monkeypatch.setattr("rubrail.answers.cheapest.hopeless", lambda *, classes, **_: [False] * len(classes))
    text = page(seller, reverse("build-cheapest", args=[book.ident, "LE-20"]), haul=haul.pk)
    assert "nothing beyond is proven" in text
    assert "No build reaches it" in text


def test_without_a_haul_the_cheapest_is_not_looked_for(seller, book):
    text = page(seller, reverse("build-cheapest", args=[book.ident, "LE-20"]))
    assert "Choose the haul first" in text


def test_ordering_it(seller, book):
    haul = store_haul(3)
    url = reverse("build-order", args=[book.ident, "LE-20"])
    sent = {
        "o": ["coupler-20k", "spare"],
        "haul": haul.pk,
        "asked": "8440",
        "stock": "SH-900",
        "need_by": "2027-02-01",
    }
    answer = seller.post(url, sent, follow=True)
    order = Order.objects.get()
    assert answer.redirect_chain == [(reverse("order", args=[order.number]), 302)]
    assert (order.options, order.haul, str(order.need_by)) == (["coupler-20k", "spare"], haul, "2027-02-01")
    assert Unit.objects.get(stock_number="SH-900").status == "on-order"
    assert "SH-900" in page(seller, reverse("yard"))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"need_by": "soon"}, "Needed by: must be a day"),
        ({"stock": "a b"}, "Stock number: "),
        ({"asked": "1"}, "asks $8,440 now"),
        ({"asked": "not money"}, "asks $8,440 now"),
        ({"asked": "sNaN", "haul": "²", "need_by": "\x00"}, "asks $8,440 now"),
        ({"o": ["no-such"], "asked": "7990"}, "Not made for this model: no-such."),
        ({"o": ["axles-8k"], "asked": "9380"}, "axles-8k requires one of"),
    ],
)
def test_faults_of_an_order_lose_nothing(seller, book, change, words):
    url = reverse("build-order", args=[book.ident, "LE-20"])
    sent = {"o": ["coupler-20k", "spare"], "asked": "8440", "stock": "SH-900", "note": "Call first"} | change
    text = seller.post(url, sent).content.decode()
    assert words in text
    assert not Order.objects.exists()
    assert not Unit.objects.exists()
    if "o" not in change:
        assert "Call first" in text


def test_nothing_is_ordered_from_a_book_that_ended(seller):
    book = keep_book(CATALOG.model_copy(update={"until": date(2026, 10, 1)}), by=None)
    assert "Nothing is ordered from it" in page(seller, le20(book))
    answer = seller.post(reverse("build-order", args=[book.ident, "LE-20"]), {"asked": "7990"})
    assert not Order.objects.exists()
    assert answer.status_code == 200


def test_pages_lead_to_it_for_those_who_may_order(as_role, book):
    haul = store_haul(3)
    link = f"{reverse('builds')}?haul={haul.pk}"
    for name in ("haul", "board"):
        assert link in page(as_role("sales"), reverse(name, args=[haul.pk]))
        assert link not in page(as_role("viewer"), reverse(name, args=[haul.pk]))
