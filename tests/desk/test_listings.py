"""Listings on the desk: shown or not, words refused and kept aside, the age of prices, two people at once."""

from __future__ import annotations

import html
import re
from datetime import timedelta
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse

from rubrail.desk import clock
from rubrail.desk.listings import offer_of, set_shown, set_words, stale_prices, terms_on, why_not_shown
from rubrail.desk.models import Change, Listing, Photo, Unit
from rubrail.desk.models.stock import Purpose
from rubrail.desk.price_days import price_day
from rubrail.desk.stock import change_unit, trailer_of
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer

# A payload needs tires and a place of the deck; the fixture's unit has neither.
WHOLE = {
    "coupling": {"kind": "ball", "gross_rating_lb": 15_000, "vertical_rating_lb": 2_250, "height_in": 20},
    "weights": {"basis": "weighed", "empty_lb": 3_350, "empty_coupler_lb": 310},
    "axle": [
        {
            "gawr_lb": 7_000, "from_coupler_in": x, "brakes": "electric", "wheel_rating_lb": 3_750,
            "tires": {"count": 2, "size": "ST235/80R16", "family": "ST", "max_load_lb": 3_520, "max_pressure_psi": 80,
                      "pressure_psi": 80},
        }
        for x in (185, 219)
    ],
    "suspension": {"kind": "equalized"},
    "deck": {"kind": "between-fenders", "front_from_coupler_in": 58, "flat_length_in": 240, "tail_kind": "none",
             "width_in": 82, "height_in": 24},
    "chains": {"count": 2, "strength_lb": 21_600},
    "condition": "used",
    "notes": "quince marmalade",
}  # fmt: skip


@pytest.fixture
def whole(make_unit) -> Unit:
    """A unit of which all is known that its payload needs: label 14,000 less 3,350 empty is 10,650 lb."""
    return make_unit("T-9", **WHOLE)


def url_of(unit: Unit, page: str = "listing") -> str:
    return reverse(page, args=[unit.stock_number])


def change(client: Client, unit: Unit, do: str, **given: str):
    form = {"seen": str(getattr(getattr(Unit.objects.get(pk=unit.pk), "listing", None), "version", 0))}
    return client.post(url_of(unit, "listing-change"), {**form, "do": do, **given})


def text_of(answer) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", answer.content.decode())))


def age(unit: Unit, days: int) -> None:
    Listing.objects.update_or_create(unit=unit, defaults={"price_checked": clock.today() - timedelta(days=days)})


def trail(unit: Unit) -> list[str]:
    return list(Change.objects.filter(kind="unit", thing=unit.pk).order_by("pk").values_list("sentence", flat=True))[
        1:
    ]


def test_the_page_words_the_unit_and_nothing_more(whole, as_role):
    for role in ("owner", "sales", "hand", "viewer"):
        answer = as_role(role).get(url_of(whole))
        page = text_of(answer)
        assert "Used Invented Works bumper-pull low-deck trailer, 20 ft deck, two axles, 14,000 lb label GVWR" in page
        assert "10,650 lb at most" in page
        for secret in ("7,800", "quince", "row C, 2"):
            assert secret not in page, (role, secret)
        assert ("The price is still right" in page) == (role in ("owner", "sales"))


def test_showing_and_taking_off(whole, as_role):
    seller = as_role("sales")
    assert "Not shown." in text_of(seller.get(url_of(whole)))
    assert change(seller, whole, "show").status_code == 302
    assert Listing.objects.get().shown
    assert change(seller, whole, "show").status_code == 302, "once is enough"
    page = seller.get(url_of(whole)).content.decode()
    assert 'href="/public/trailer/T-9.html"' in page
    assert seller.get("/public/trailer/T-9.html").status_code == 200
    assert change(seller, whole, "hide").status_code == 302
    assert not Listing.objects.get().shown
    assert trail(whole) == [
        "Sal Brandt put unit T-9 on the public pages.",
        "Sal Brandt took unit T-9 off the public pages.",
    ]


def test_a_press_that_comes_twice_is_no_quarrel(whole, as_role):
    """A double click sends the same form again, with the version that the first one made old."""
    seller = as_role("sales")
    page = seller.get(url_of(whole)).content.decode()
    key = re.search(r'name="once" value="([^"]+)"', page).group(1)
    form = {"do": "show", "seen": "0", "once": key}
    answers = [seller.post(url_of(whole, "listing-change"), form) for _ in range(2)]
    assert [a.status_code for a in answers] == [302, 302]
    assert len(trail(whole)) == 1


@pytest.mark.parametrize(
    ("status", "reason"),
    [("in-stock", ""), ("held", ""), ("on-order", ""), ("sold", "It is sold: only what is for sale is shown."),
     ("retired", "It is retired: only what is for sale is shown.")],
)  # fmt: skip
def test_which_units_may_be_shown(status, reason, make_unit):
    unit = make_unit("T-9", **WHOLE, status=status)
    found = offer_of(unit, terms_on(clock.today()))
    assert why_not_shown(unit, found) == reason
    standing = {"held": "held for a buyer", "on-order": "expected"}.get(status, "")
    assert standing in found.text.plain


def test_what_no_longer_reads_is_not_shown(whole, as_role):
    Unit.objects.filter(pk=whole.pk).update(spec={"axle": "gone"})
    seller = as_role("sales")
    change(seller, whole, "show")
    page = text_of(seller.get(url_of(whole)))
    assert "mend first what this page says is wrong" in page
    assert "no longer reads" in page
    assert as_role("sales").get(reverse("listings")).status_code == 200
    answer = change(as_role("sales"), whole, "words", words="A fine trailer.")
    assert "A fine trailer." in answer.content.decode()
    assert not Listing.objects.exists()


def test_a_title_that_claims_too_much_is_not_put_on_the_pages(make_unit, as_role):
    unit = make_unit("T-9", **WHOLE, title="14K tilt, like new")
    page = text_of(as_role("sales").get(url_of(unit)))
    assert "In the unit's title:" in page
    assert "they read Bumper-pull low-deck trailer, 20 ft in place of the title" in page
    assert "Used Invented Works bumper-pull low-deck trailer" in page, "the text itself does not use the title"
    assert "Show it on the public pages" not in page
    change(as_role("sales"), unit, "show")
    assert not Listing.objects.filter(shown=True).exists()


def test_refused_words_are_kept_aside_with_the_place_marked(whole, as_role):
    seller = as_role("sales")
    assert change(seller, whole, "words", words="Stood inside.").status_code == 302
    answer = change(seller, whole, "words", words="Stood inside. 14K payload, no CDL needed!")
    assert answer.status_code == 200
    listing = Listing.objects.get()
    assert (listing.words, listing.draft) == ("Stood inside.", "Stood inside. 14K payload, no CDL needed!")
    marked = [
        html.unescape(m) for m in re.findall(r'<mark class="claim__words">([^<]*)</mark>', answer.content.decode())
    ]
    assert marked == ["14K payload", "no CDL needed"]
    page = text_of(seller.get(url_of(whole)))
    assert "What it carries at its best place is 10,650 lb." in page
    assert "ask which license you need with your truck" in page
    assert "words refused" in text_of(seller.get(reverse("listings") + "?which=work")).lower()
    assert change(seller, whole, "words", words="Stood inside. Carries 10,650 lb.").status_code == 302
    listing = Listing.objects.get()
    assert (listing.words, listing.draft) == ("Stood inside. Carries 10,650 lb.", "")
    assert trail(whole) == [
        "Sal Brandt changed the own words in the listing of unit T-9.",
        "Sal Brandt changed the own words in the listing of unit T-9.",
    ]


def test_words_that_no_longer_hold_are_told(whole, people, as_role):
    set_shown(whole, True, by=people["sales"], seen_version=0)
    set_words(whole, "Carries 10,650 lb.", refused=False, by=people["sales"], seen_version=whole.listing.version)
    table = trailer_of(whole).model_dump(mode="json", by_alias=True, exclude_none=True)
    table["weights"]["empty_lb"] = {"value": 3_900, "basis": "weighed"}
    unit = Unit.objects.get()
    change_unit(unit, read_thing(Trailer, table), by=people["sales"], seen_version=unit.version)
    page = text_of(as_role("viewer").get(url_of(whole)))
    assert "they no longer hold" in page
    assert "its words no longer hold" in text_of(as_role("viewer").get(reverse("listings"))).lower()


def test_too_many_words_are_kept_in_the_form(whole, as_role):
    answer = change(as_role("sales"), whole, "words", words="word " * 500)
    assert "The words have 2,499 letters; at most 2,000 are kept." in text_of(answer)
    assert "word word" in answer.content.decode()
    assert not Listing.objects.exists()


def test_whoever_saves_second_is_told_and_loses_nothing(whole, as_role):
    client, url = as_role("sales"), url_of(whole, "listing-change")
    assert client.post(url, {"seen": "0", "do": "words", "words": "One."}).status_code == 302
    answer = client.post(url, {"seen": "0", "do": "words", "words": "Two, typed long."})
    assert answer.status_code == 409
    assert "Two, typed long." in answer.content.decode()
    assert "Somebody changed this listing" in text_of(answer)
    assert Listing.objects.get().words == "One."
    for do in ("show", "price"):
        assert client.post(url, {"seen": "0", "do": do}).status_code == 409
        assert client.post(url, {"seen": "x" * 50, "do": do}).status_code == 409
    assert not Listing.objects.get().shown


def test_a_price_is_as_old_as_the_last_look_at_it(whole, people, as_role):
    assert price_day(whole) == clock.local(whole.created).date()
    age(whole, 47)
    whole = Unit.objects.get()
    page = text_of(as_role("viewer").get(url_of(whole)))
    assert "Old: Looked at 47 days ago" in page
    assert "as of" in page
    assert [(s.unit.pk, s.days, s.standing) for s in stale_prices(clock.today())] == [(whole.pk, 47, "as of")]
    change(as_role("sales"), whole, "price")
    assert price_day(Unit.objects.get()) == clock.today()
    assert Listing.objects.get().price_checked_by == people["sales"]
    assert stale_prices(clock.today()) == []
    assert trail(whole)[-1] == "Sal Brandt looked at the price of unit T-9: it is still right."


def test_the_units_page_says_that_its_price_is_old(whole, as_role):
    age(whole, 30)
    assert "looked at" not in text_of(as_role("viewer").get(whole.get_absolute_url()))
    age(whole, 31)
    assert "looked at 31 days ago" in text_of(as_role("viewer").get(whole.get_absolute_url()))


def test_bounds_of_the_age(whole):
    for days, standing in ((30, None), (31, "as of"), (90, "as of"), (91, "ask")):
        age(whole, days)
        found = stale_prices(clock.today())
        assert [s.standing for s in found] == ([standing] if standing else []), days


def test_a_unit_nobody_listed_grows_old_with_its_record(whole):
    Unit.objects.filter(pk=whole.pk).update(created=whole.created - timedelta(days=40))
    assert [s.days for s in stale_prices(clock.today())] == [40]
    Unit.objects.update(status="sold")
    assert stale_prices(clock.today()) == []


def test_a_price_too_old_is_not_shown(whole, as_role):
    age(whole, 91)
    text = as_role("viewer").get(url_of(whole)).context["text"].plain
    assert "Ask for the price." in text
    assert "9,450" not in text
    refused = change(as_role("sales"), whole, "words", words="Only $9,450!")
    assert "it is not the price asked today" in text_of(refused)


def test_changing_the_price_makes_it_young(whole, people):
    age(whole, 100)
    unit = Unit.objects.get()
    dearer = trailer_of(unit).model_copy(update={"price_usd": Decimal(9900), "cost_usd": unit.cost_usd})
    change_unit(unit, dearer, by=people["sales"], seen_version=unit.version)
    listing = Listing.objects.get()
    assert (listing.price_checked, listing.price_checked_by) == (clock.today(), people["sales"])
    assert not listing.shown
    age(whole, 100)
    unit = Unit.objects.get()
    change_unit(unit, trailer_of(unit).model_copy(update={"color": "red", "cost_usd": unit.cost_usd}), by=None,
                seen_version=unit.version)  # fmt: skip
    assert stale_prices(clock.today())[0].days == 100, "another color is no look at the price"


def test_the_list_says_what_there_is_to_do(make_unit, whole, people, as_role):
    make_unit("T-8", price_usd=None)
    make_unit("T-7", status="sold")
    age(whole, 47)
    set_shown(Unit.objects.get(pk=whole.pk), True, by=people["sales"], seen_version=1)
    lines = {line.unit.stock_number: line for line in as_role("viewer").get(reverse("listings")).context["lines"]}
    assert set(lines) == {"T-8", "T-9"}
    assert lines["T-9"].to_do == ("price looked at 47 days ago", "no photo", "no photo of the label")
    assert lines["T-8"].to_do == ("no price", "payload not known", "no photo", "no photo of the label")
    Photo.objects.create(unit=whole, purpose=Purpose.SHOW, width=1, height=1)
    Photo.objects.create(unit=whole, purpose=Purpose.LABEL, width=1, height=1)
    (line,) = as_role("viewer").get(reverse("listings") + "?which=shown").context["lines"]
    assert line.to_do == ("price looked at 47 days ago",)
    hidden = as_role("viewer").get(reverse("listings") + "?which=hidden").context["lines"]
    assert [x.unit.stock_number for x in hidden] == ["T-8"]
    assert [
        x.unit.stock_number for x in as_role("viewer").get(reverse("listings") + "?words=t-9").context["lines"]
    ] == ["T-9"]


@pytest.mark.parametrize("count", [1, 30])
def test_queries_do_not_grow_with_units(count, make_unit, as_role, django_assert_max_num_queries):
    for n in range(count):
        age(make_unit(f"T-{n}"), 50)
    client = as_role("viewer")
    with django_assert_max_num_queries(10):
        client.get(reverse("listings"))
    with django_assert_max_num_queries(2):
        assert len(stale_prices(clock.today())) == count


def test_hand_and_viewer_change_nothing(whole, as_role):
    for role in ("hand", "viewer"):
        for do in ("show", "price", "words"):
            assert change(as_role(role), whole, do, words="x").status_code == 403
    assert not Listing.objects.exists()


def test_hostile_posts_change_nothing(whole, as_role):
    client, url = as_role("sales"), url_of(whole, "listing-change")
    for form in ({}, {"do": "all"}, {"do": "show"}, {"seen": "-1", "do": "show"}, {"seen": "9", "do": "price"}):
        assert client.post(url, form).status_code in (302, 409)
    assert not Listing.objects.exists()
    answer = client.post(url, {"seen": "0", "do": "words", "words": "\x00<script>{{ x }}</script>"})
    assert answer.status_code == 302
    assert Listing.objects.get().words == "<script>{{ x }}</script>"
    page = client.get(url_of(whole)).content.decode()
    assert "<script>{{" not in page
