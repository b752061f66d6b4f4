"""The public pages as the desk serves them: to anyone, without cookies, the folder's bytes, nothing that is sold."""

from __future__ import annotations

import dataclasses
import io
import zipfile
from datetime import date, timedelta

import pytest
from django.conf import settings
from django.db.models.fields.json import KT
from django.test import Client, RequestFactory
from django.urls import reverse
from PIL import Image

from answers.yard import yard
from desk.public import HERE, get, show, with_photo
from desk.rig_pages import store_unit
from rubrail.desk import clock
from rubrail.desk.books import keep_book
from rubrail.desk.listings import terms_on
from rubrail.desk.models import Listing, Photo, Unit
from rubrail.desk.models.stock import Purpose
from rubrail.desk.public.photos import forget_unused
from rubrail.desk.public.site import archive, site_on
from rubrail.desk.public.units import shown, site_units
from rubrail.desk.stock import trailer_of
from rubrail.desk.views import public_pages
from rubrail.desk.views.labels import label_facts
from rubrail.desk.views.public import FEEDS
from rubrail.quantity.money import show_money
from rubrail.sheets.listing_price import price_shown
from rubrail.sheets.site.folder import LIST, write_site
from rubrail.sheets.site.made import payloads, site_unit
from rubrail.things.folder import plain_listing
from sheets.papers import needs_poppler, told, words
from sheets.site.sites import elements, parsed, text_of

pytestmark = pytest.mark.django_db
STOCKS = ("SH-191", "SH-141", "SH-103")
EVERY_SORT = (
    *("", "index.html", "gooseneck.html", "numbers.html", "trailer/SH-191.html"),
    *("units.csv", "units.json", "arrivals.atom", "sitemap.xml", "robots.txt"),
    *("drawing/SH-191-side.svg", "drawing/SH-191-small.svg", "code/SH-191.svg"),
)


def test_pages_are_open_and_leave_no_cookie():
    show(*STOCKS)
    for path in EVERY_SORT:
        client = Client()
        answer = client.get(f"/public/{path}")
        assert answer.status_code == 200, path
        assert not client.cookies, path
        assert "Cookie" not in answer.headers.get("Vary", ""), path
        assert answer["Cache-Control"].startswith("public, max-age=")
        assert "script-src 'self'" in answer["Content-Security-Policy"]
        assert answer["X-Content-Type-Options"] == "nosniff"
        assert answer["Cross-Origin-Resource-Policy"] == "cross-origin"
        assert answer.headers.get("Access-Control-Allow-Origin") == ("*" if path in FEEDS else None)


def test_served_and_written_are_the_same_bytes(tmp_path):
    unit, *_ = show(*STOCKS)
    photo = with_photo(unit)
    site = site_on(clock.today(), address=HERE)
    write_site(site.files(), tmp_path)
    written = {p.relative_to(tmp_path).as_posix(): p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()}
    del written[LIST]
    assert len([p for p in written if p.startswith("photo/")]) == 3
    for path, data in written.items():
        assert get(path).content == data, path
    pieces = list(archive(site))
    assert len(pieces) > len(written), "sent piece by piece"
    with zipfile.ZipFile(io.BytesIO(b"".join(pieces))) as packed:
        assert packed.testzip() is None
        assert {n: packed.read(n) for n in packed.namelist()} == written
    assert b"".join(archive(site)) == b"".join(pieces)
    photo.delete()
    write_site(site_on(clock.today(), address=HERE).files(), tmp_path)
    assert not list(tmp_path.rglob("*.jpg")), "a withdrawn photo goes with the next writing"


def test_only_what_was_chosen_and_is_for_sale_is_shown():
    here, not_shown, sold = (store_unit(s) for s in STOCKS)
    Listing.objects.create(unit=here, shown=True, price_checked=clock.today())
    Listing.objects.create(unit=not_shown, shown=False, price_checked=clock.today())
    Listing.objects.create(unit=sold, shown=True, price_checked=clock.today())
    Unit.objects.filter(pk=sold.pk).update(status="sold")
    assert get("trailer/SH-191.html").status_code == 200
    assert get("trailer/SH-141.html").status_code == 404
    assert get("trailer/SH-103.html").status_code == 410
    assert "SH-103 is no longer for sale" in text_of(parsed(get("trailer/SH-103.html").content))
    for path in ("", "units.csv", "units.json", "arrivals.atom", "sitemap.xml", "by-price.html"):
        text = get(path).content.decode()
        assert "SH-191" in text
        assert "SH-141" not in text
        assert "SH-103" not in text
    for kind in ("side", "small"):
        assert get(f"drawing/SH-103-{kind}.svg").status_code == 410
        assert get(f"drawing/SH-141-{kind}.svg").status_code == 404


def test_a_unit_that_is_sold_drops_out_of_the_folder_by_itself(tmp_path):
    show(*STOCKS)
    write_site(site_on(clock.today(), address=HERE).files(), tmp_path)
    assert (tmp_path / "trailer" / "SH-191.html").exists()
    Unit.objects.filter(stock_number="SH-191").update(status="sold")
    done = write_site(site_on(clock.today(), address=HERE).files(), tmp_path)
    assert done.removed >= 9
    left = [p for p in tmp_path.rglob("*") if p.is_file()]
    assert not [p for p in left if "SH-191" in p.name or b"SH-191" in p.read_bytes()]


@pytest.mark.parametrize(
    "path",
    [
        "../yard/",
        "..%2fyard/",
        "%2e%2e/desk.sqlite3",
        "trailer/../../secret-key",
        "trailer/SH-191.html/",
        "trailer/SH-191",
        "trailer/sh-191.html",
        "trailer/.html",
        "photo/../SH-191.jpg",
        "photo/0-480.jpg",
        "drawing/SH-191.svg",
        "drawing/SH-191-cost.svg",
        "drawing/-small.svg",
        "no/such/page",
        "a" * 2000,
        "/" * 300,
        "\x00",
        "%00",
        "trailer/%00.html",
        "trailer/'%20OR%201=1.html",
        "trailer/<b>.html",
        ".rubrail-site.json",
        "desk.sqlite3",
    ],
)
def test_odd_paths_are_answered_not_found_and_say_nothing(path):
    show("SH-191")
    answer = get(path)
    assert answer.status_code == 404
    text = answer.content.decode()
    assert "There is no such page" in text
    assert "<b>.html" not in text


def test_a_copy_is_told_to_be_good_until_what_is_shown_changes(django_assert_max_num_queries):
    (unit,) = show("SH-191")
    first = get("trailer/SH-191.html")
    etag = first["ETag"]
    with django_assert_max_num_queries(5):
        again = get("trailer/SH-191.html", if_none_match=etag)
    assert again.status_code == 304
    assert not again.content
    assert again["ETag"] == etag
    Unit.objects.filter(pk=unit.pk).update(price_usd=20_123, version=unit.version + 1)
    changed = get("trailer/SH-191.html", if_none_match=etag)
    assert changed.status_code == 200
    assert "$20,123" in changed.content.decode()
    assert get("", if_none_match=get("")["ETag"]).status_code == 304


def test_a_price_ages_without_anybody_touching_it(monkeypatch):
    wording = plain_listing()
    day = date(2026, 11, 28)
    (unit,) = show("SH-191", checked=day)
    price = show_money(unit.price_usd)

    def at(days: int) -> tuple[str, str]:
        monkeypatch.setattr(clock, "today", lambda: day + timedelta(days=days))
        answer = get("trailer/SH-191.html")
        return answer.content.decode(), answer["ETag"]

    now, fresh = at(wording.stale_days)
    assert price in now
    assert "As of" not in now
    later, stale = at(wording.stale_days + 1)
    assert price in later
    assert "as of November 28, 2026" in later
    gone, asked = at(wording.ask_days + 1)
    assert price not in gone
    assert "sk for the price" in gone
    assert '"offers"' not in gone
    assert len({fresh, stale, asked}) == 3


def test_head_is_answered_and_nothing_can_be_sent():
    show("SH-191")
    answer = Client().head("/public/trailer/SH-191.html")
    assert answer.status_code == 200
    assert not answer.content
    for method in ("post", "put", "patch", "delete"):
        assert getattr(Client(), method)("/public/").status_code == 405


@pytest.mark.parametrize("path", ["", "units.json", "sitemap.xml"])
def test_more_units_cost_no_more_queries(path, django_assert_max_num_queries):
    show("SH-191")
    with django_assert_max_num_queries(5):
        get(path)
    show("SH-141", "SH-103", "SH-212")
    with django_assert_max_num_queries(5):
        get(path)


def test_the_desk_shows_what_the_files_would():
    units = {u.stock_number: u for u in show(*STOCKS, "SH-212", "SH-101")}
    day = clock.today()
    for it in site_units(shown(), terms=terms_on(day)):
        trailer = trailer_of(units[it.stock_number])
        (lb,) = payloads([trailer])
        price = price_shown(price_usd=trailer.price_usd, checked=day, today=day)
        told = site_unit(trailer, payload_lb=lb, price=price, listed=day)
        assert it.payload_lb == pytest.approx(told.payload_lb)
        same = {"payload_lb": None, "rests_on": "", "updated": None}
        assert dataclasses.replace(it, **same) == dataclasses.replace(told, **same)


def test_how_long_a_unit_stands_is_told_only_where_the_yard_chose_to(settings):
    """Lists and the feed go by the day it was listed; the day it came is nowhere until the yard says so."""
    (unit,) = show("SH-191")
    came = f"{trailer_of(unit).arrived:%Y-%m-%d}"
    listed = f"{clock.today():%Y-%m-%d}"
    for path in EVERY_SORT:
        assert came not in get(path).content.decode("utf-8", "replace"), path
    etag = get("units.csv")["ETag"]
    (row,) = get("units.json").json()["units"]
    assert (row["arrived"], row["listed"]) == (None, listed)
    assert f"<published>{listed}T" in get("arrivals.atom").content.decode()
    settings.RUBRAIL_ARRIVALS = True
    (row,) = get("units.json").json()["units"]
    assert (row["arrived"], row["listed"]) == (came, listed)
    assert f"<published>{came}T" in get("arrivals.atom").content.decode()
    assert get("units.csv")["ETag"] != etag


def test_what_another_engine_worked_out_is_worked_out_again():
    (unit,) = show("SH-191")
    Unit.objects.filter(pk=unit.pk).update(derived_by="another", payload_lb=99)
    (it,) = site_units(shown(), terms=terms_on(clock.today()))
    assert it.payload_lb == pytest.approx(unit.payload_lb)


def test_nothing_of_cost_notes_or_place_gets_out():
    units = show(*STOCKS)
    Unit.objects.filter(pk=units[0].pk).update(status_note="a secret note", location="row secret")
    site = site_on(clock.today(), address=HERE)
    for file in site.files():
        text = (file.make() or b"").decode("utf-8", "replace")
        assert "secret" not in text
        for unit in units:
            if unit.stock_number in file.path:
                assert show_money(unit.cost_usd) not in text
            assert unit.vin not in text


def test_photos_to_show_come_in_sizes_and_no_other_photo_gets_out():
    unit, other = show("SH-191", "SH-141")
    good = with_photo(unit)
    hidden = [with_photo(unit, purpose=p) for p in (Purpose.LABEL, Purpose.DAMAGE, Purpose.CHECK)]
    page = parsed(get("trailer/SH-191.html").content)
    images = [i for i in elements(page, "img") if "photo/" in i.get("src")]
    assert [i.get("alt") for i in images] == ["show of it"]
    for part in images[0].get("srcset").split(", "):
        path, width = part.split()
        answer = get(path.removeprefix("../"))
        assert answer["Content-Type"] == "image/jpeg"
        assert answer["Cache-Control"] == "public, max-age=600, must-revalidate"
        assert get(path.removeprefix("../"), if_none_match=answer["ETag"]).status_code == 304
        with Image.open(io.BytesIO(answer.content)) as image:
            assert image.size == (int(width[:-1]), round(int(width[:-1]) * 0.75))
            assert not image.getexif()
    for photo in hidden:
        stem = photo.full.name.rpartition("/")[2].removesuffix(".jpg")
        assert stem not in get("trailer/SH-191.html").content.decode()
        for width in (480, 960, 1600):
            assert get(f"photo/{stem}-{width}.jpg").status_code == 410
    assert get(f"photo/{'0' * 32}-480.jpg").status_code == 410, "a name nobody had is answered as one of before"
    stem = good.full.name.rpartition("/")[2].removesuffix(".jpg")
    assert get(f"photo/{stem}-481.jpg").status_code == 404
    forget_unused({stem})
    assert get(f"photo/{stem}-480.jpg").status_code == 200
    etag = get(f"photo/{stem}-480.jpg")["ETag"]
    for rows, took in (
        (Listing.objects.filter(unit=unit), {"shown": False}),
        (Photo.objects.filter(pk=good.pk), {"purpose": Purpose.CHECK}),
        (Unit.objects.filter(pk=unit.pk), {"status": "sold"}),
    ):
        before = dict(rows.values(*took)[0])
        rows.update(**took)
        gone = get(f"photo/{stem}-480.jpg", if_none_match=etag)
        assert gone.status_code == 410, f"a copy somewhere that asks again is told so: {took}"
        assert "This photo is not shown any more" in text_of(parsed(gone.content))
        rows.update(**before)
        assert get(f"photo/{stem}-480.jpg", if_none_match=etag).status_code == 304
    good.delete()
    assert get(f"photo/{stem}-480.jpg").status_code == 410
    assert other
    assert forget_unused(set()) == 2, "both smaller sizes; the greatest is the photo itself"


def test_a_photo_whose_file_is_gone_is_not_found():
    (unit,) = show("SH-191")
    photo = with_photo(unit)
    photo.full.storage.delete(photo.full.name)
    stem = photo.full.name.rpartition("/")[2].removesuffix(".jpg")
    assert get(f"photo/{stem}-480.jpg").status_code == 404


def test_the_address_of_the_options_stands_in_links(settings):
    show("SH-191")
    settings.RUBRAIL_PUBLIC_ADDRESS = "https://yard.example/"
    text = get("trailer/SH-191.html").content.decode()
    assert 'rel="canonical" href="https://yard.example/trailer/SH-191.html"' in text
    assert "testserver" not in text


def test_the_yards_name_and_contact_stand_on_every_page(settings):
    settings.RUBRAIL_YARD_NAME, settings.RUBRAIL_CONTACT = "A <yard>", ["The office & the gate"]
    text = text_of(parsed(get("numbers.html").content))
    assert "A <yard>" in text
    assert "The office & the gate" in text


def test_what_the_yard_adds_to_its_prices_is_told_and_changes_the_copy():
    show("SH-191")
    before = get("trailer/SH-191.html")
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    after = get("trailer/SH-191.html", if_none_match=before["ETag"])
    assert after.status_code == 200
    assert "sales tax" in after.content.decode()
    assert "sales tax" not in before.content.decode()


def test_a_text_with_a_refused_claim_goes_out_nowhere(as_role):
    show("SH-191")
    wording = plain_listing().model_copy(update={"id": "bold", "ending": "Tows anything, legal everywhere."})
    keep_book(wording, by=None)
    text = get("trailer/SH-191.html").content.decode()
    assert "Tows anything" not in text
    assert "Every figure by itself" in text
    told_so = as_role("sales").get(reverse("listing", args=["SH-191"])).content.decode()
    assert "without its text while a claim in it is refused" in told_so


def test_the_yards_own_words_stand_on_the_page():
    (unit,) = show("SH-191")
    Listing.objects.filter(unit=unit).update(words="Came in with two spare tires.")
    assert "Came in with two spare tires." in get("trailer/SH-191.html").content.decode()


def test_the_page_for_the_yard_tells_what_is_shown(as_role, settings):
    unit, _ = show("SH-191", "SH-172")
    with_photo(unit)
    store_unit("SH-141")
    page = as_role("sales").get(reverse("public-pages")).content.decode()
    assert "2 units are shown to anybody" in page
    assert "http://testserver/public/" in page
    assert "RUBRAIL_PUBLIC_ADDRESS" in page
    settings.RUBRAIL_PUBLIC_ADDRESS = "https://yard.example/"
    assert "https://yard.example/" in as_role("sales").get(reverse("public-pages")).content.decode()


def test_the_folder_is_written_and_the_archive_taken(as_role, settings, tmp_path):
    settings.RUBRAIL_HOME = tmp_path
    show(*STOCKS)
    client = as_role("owner")
    page = client.post(reverse("public-pages-write"), follow=True).content.decode()
    assert "files are written, 0 as before" in page
    folder = tmp_path / "public-pages"
    assert "SH-191" in (folder / "index.html").read_text("utf-8")
    assert "0 files are written" in client.post(reverse("public-pages-write"), follow=True).content.decode()
    (folder / "mine.txt").write_text("mine")
    page = client.post(reverse("public-pages-write"), follow=True).content.decode()
    assert "that rubrail did not write (mine.txt)" in page
    answer = client.get(reverse("public-pages-zip"))
    assert answer["Content-Type"] == "application/zip"
    assert answer.streaming
    with zipfile.ZipFile(io.BytesIO(answer.getvalue())) as packed:
        assert packed.read("index.html") == (folder / "index.html").read_bytes()


def test_a_press_writes_for_a_while_and_the_next_goes_on(as_role, settings, tmp_path, monkeypatch):
    settings.RUBRAIL_HOME = tmp_path
    monkeypatch.setattr(public_pages, "AT_ONCE_S", 0.0)
    show("SH-191")
    client = as_role("owner")
    page = client.post(reverse("public-pages-write"), follow=True).content.decode()
    assert "1 file is written, 0 as before" in page
    assert "are still to be written: press again to go on" in page
    page = client.post(reverse("public-pages-write"), follow=True).content.decode()
    assert "1 file is written, 1 as before" in page


@needs_poppler
def test_labels_lead_buyers_to_the_public_page_and_others_to_the_desks(as_role):
    show("SH-191")
    store_unit("SH-141")
    client = as_role("hand")
    asked = {"unit": ["SH-191", "SH-141", "SH-999"], "size": "labels"}
    sheet = told(client.get(reverse("labels-paper"), asked).content)
    assert "Scan for its page" in sheet
    assert "For the yard" in sheet
    assert "SH-999" not in sheet
    assert "Scan for its page" not in told(client.get(reverse("labels-paper"), {**asked, "lead": "desk"}).content)
    asked = Unit.objects.select_related("listing").annotate(condition=KT("spec__condition")).order_by("stock_number")
    both = label_facts(RequestFactory().get("/"), list(asked), lead="public")
    assert [f.link for f in both] == ["http://testserver/unit/SH-141/", f"{HERE}trailer/SH-191.html"]


@needs_poppler
def test_labels_are_for_the_units_the_yards_list_shows(as_role, django_assert_max_num_queries):
    for stock in (*STOCKS, "SH-212"):
        store_unit(stock)
    client = as_role("viewer")
    page = client.get(reverse("labels"), {"coupling": "gooseneck"}).content.decode()
    assert "For 2 units" in page
    assert HERE in page, "the codes' address is told where nobody named one"
    with django_assert_max_num_queries(8):
        sheet = client.get(reverse("labels-paper"), {"coupling": "gooseneck", "size": "weather", "on": "a4"})
    pages, _ = words(sheet.content)
    assert [sorted(p) for p in pages] == [pytest.approx([595.28, 841.89], abs=1)] * 2
    assert "SH-141" not in told(sheet.content)
    assert "nothing to print" in client.get(reverse("labels"), {"words": "no such thing"}).content.decode()


def test_an_empty_desk_has_an_empty_site(client):
    assert "None is here now" in get("").content.decode()
    assert reverse("public") == "/public/"
    assert yard().trailers
    assert settings.RUBRAIL_CONTACT == []
