"""What programs read: JSON-LD, CSV, JSON, Atom, sitemap, each parsed back and compared with the unit."""

from __future__ import annotations

import csv
import dataclasses
import io
import json
import math
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from urllib.parse import urlsplit
from xml.etree import ElementTree as ET

import pytest

from rubrail.answers.reading import read_unit
from rubrail.sheets.site import feeds
from rubrail.sheets.site.jsonld import AVAILABLE, json_text, vehicle_data
from rubrail.sheets.site.shown import STANDING_WORDS
from sheets.site.sites import YARD, detail_of, elements, parsed, price_of, trailers, units, whole

ROOT = Path(__file__).resolve().parents[3]
SITEMAP, ATOM = "{http://www.sitemaps.org/schemas/sitemap/0.9}", "{http://www.w3.org/2005/Atom}"
STOCKS = [u.stock_number for u in units()]
# Terms of schema.org this uses, with the kind of value each takes: read on schema.org for weightTotal and payload,
# remembered for the others; the unit codes LBR and INH are UN/CEFACT Recommendation 20's, read as typical codes there.
TERMS = {
    *("@context", "@type", "@id", "url", "name", "sku", "description", "category", "bodyType", "brand", "model"),
    *("vehicleModelDate", "vehicleIdentificationNumber", "color", "itemCondition", "numberOfAxles", "weight"),
    *("weightTotal", "payload", "image", "additionalProperty", "offers"),
}


def block(stock: str) -> dict:
    (script,) = elements(parsed(whole()[f"trailer/{stock}.html"]), "script")
    return json.loads(script.text)


@pytest.mark.parametrize("stock", STOCKS)
def test_json_ld_read_back_is_the_unit(stock):
    it, trailer = block(stock), trailers()[stock]
    assert set(it) <= TERMS
    assert it["@context"] == "https://schema.org"
    assert it["@type"] == ["Product", "Vehicle"]
    assert it["sku"] == trailer.id
    assert it["url"] == f"{YARD.address}trailer/{stock}.html"
    assert it["numberOfAxles"] == len(trailer.axle)
    assert it.get("brand", {}).get("name") == trailer.maker
    assert it.get("vehicleModelDate") == (str(trailer.year) if trailer.year else None)
    assert "vehicleIdentificationNumber" not in it
    for name, value in (("weightTotal", trailer.ratings.gvwr_lb), ("weight", trailer.weights.empty_lb)):
        if value is None:
            assert name not in it
        else:
            assert it[name]["value"] == float(value)
            assert it[name]["unitCode"] == "LBR"
    known = {p["name"]: p["value"] for p in it["additionalProperty"]}
    deck = trailer.deck
    assert known.get("deck width") == (None if deck.width_in is None else float(deck.width_in))
    assert known.get("deck height") == (None if deck.height_in is None else float(deck.height_in))


@pytest.mark.parametrize("stock", STOCKS)
def test_payload_is_the_envelopes_best_and_left_out_where_not_known(stock):
    (u,) = units(stock)
    reading = read_unit(trailers()[stock])
    carries = next((f.value_lb for f in reading.decoding.figures if f.name == "payload-alone"), math.nan)
    if math.isnan(carries):
        assert u.payload_lb is None
        assert "payload" not in block(stock)
    else:
        assert u.payload_lb == pytest.approx(carries)
        assert block(stock)["payload"]["value"] == pytest.approx(carries, abs=0.006)
        assert block(stock)["payload"]["value"] <= float(trailers()[stock].ratings.gvwr_lb)


def test_the_offer_is_the_price_that_may_be_shown():
    offer = block("SH-191")["offers"]
    assert Decimal(offer["price"]) == trailers()["SH-191"].price_usd
    assert offer["priceCurrency"] == "USD"
    assert offer["availability"] == "https://schema.org/InStock"
    assert offer["itemCondition"] == "https://schema.org/NewCondition"
    (u,) = units("SH-191")
    asked = dataclasses.replace(u, price_usd=None, price_says="ask for the price")
    assert "offers" not in vehicle_data(asked, detail_of("SH-191"), yard=YARD)
    for standing, url in AVAILABLE.items():
        it = vehicle_data(dataclasses.replace(u, standing=standing), detail_of("SH-191"), yard=YARD)
        assert it["offers"]["availability"] == url


def test_a_whole_vin_only_where_it_is_given():
    (u,) = units("SH-191")
    it = vehicle_data(dataclasses.replace(u, vin="1Z9XX000000000001"), detail_of("SH-191"), yard=YARD)
    assert it["vehicleIdentificationNumber"] == "1Z9XX000000000001"


@pytest.mark.parametrize("text", ["</script>", "<!--", "&amp;", "\u2028\u2029", "]]>", '"\\'])
def test_json_in_a_page_cannot_end_its_block(text):
    written = json_text({"name": text})
    assert not set(written) & set("<>&\u2028\u2029")
    assert json.loads(written) == {"name": text}


def rows() -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(whole()["units.csv"].decode("utf-8"), newline="")))


def test_csv_has_the_declared_columns_and_every_unit():
    assert list(rows()[0]) == [c.name for c in feeds.COLUMNS]
    assert [r["stock_number"] for r in rows()] == sorted(STOCKS)
    for row in rows():
        trailer = trailers()[row["stock_number"]]
        assert row["gvwr_lb"] == f"{float(trailer.ratings.gvwr_lb):.0f}"
        assert Decimal(row["price_usd"]) == trailer.price_usd == price_of(trailer.id).usd
        assert row["price_day"] == "2026-11-20"
        assert row["page"] == f"{YARD.address}trailer/{trailer.id}.html"
        assert (date.fromisoformat(row["arrived"]) if row["arrived"] else None) == trailer.arrived
        assert datetime.fromisoformat(row["updated"]) == datetime(2026, 11, 21, 9, 30, tzinfo=UTC)
        (u,) = units(trailer.id)
        assert (float(row["carries_lb"]) if row["carries_lb"] else None) == pytest.approx(u.payload_lb, abs=0.006)
    assert any(r["carries_lb"] == "" for r in rows()), "an unknown is an empty cell"


def test_json_says_the_same_as_csv():
    table = json.loads(whole()["units.json"])
    assert table["schema"] == "rubrail/units/1"
    assert list(table["columns"]) == [c.name for c in feeds.COLUMNS]
    for in_csv, in_json in zip(rows(), table["units"], strict=True):
        assert list(in_json) == list(in_csv)
        for name, value in in_json.items():
            assert in_csv[name] == ("" if value is None else str(value)), name


@pytest.mark.parametrize("title", ["=1+1", "+x", "-x", "@x", "'=x", "\t=x", "＝x"])
def test_no_cell_begins_a_formula(title):
    (u,) = units("SH-191")
    text = feeds.units_csv([dataclasses.replace(u, title=title, maker='a, "b"\nc')], yard=YARD).decode()
    (row,) = csv.DictReader(io.StringIO(text, newline=""))
    assert row["title"] == f"'{title}"
    assert row["maker"] == 'a, "b"\nc'


def test_names_of_columns_carry_their_unit_and_are_told_in_the_docs():
    assert feeds.documented() in (ROOT / "docs" / "site.md").read_text("utf-8")
    for c in feeds.COLUMNS:
        words = c.says.lower()
        if "weight" in words or "carries" in words or "rating" in words:
            assert c.name.endswith("_lb")


def test_sitemap_keeps_its_protocols_rules():
    """Rules of sitemaps.org, protocol 0.9, read there: the namespace, one host, whole addresses of under 2,048
    letters, dates as the W3C writes them, at most 50,000 addresses.
    """
    root = ET.fromstring(whole()["sitemap.xml"])
    assert root.tag == f"{SITEMAP}urlset"
    places = []
    for url in root:
        assert url.tag == f"{SITEMAP}url"
        assert [child.tag.removeprefix(SITEMAP) for child in url] in (["loc"], ["loc", "lastmod"])
        places.append(url.findtext(f"{SITEMAP}loc"))
        if last := url.findtext(f"{SITEMAP}lastmod"):
            assert datetime.fromisoformat(last).tzinfo is not None
    assert len(places) == len(set(places)) <= 50_000
    assert {urlsplit(p).netloc for p in places} == {"yard.example"}
    assert all(p.startswith(YARD.address) and len(p) < 2048 for p in places)
    pages = {p for p in whole() if p.endswith(".html") and p != "404.html"}
    assert {p.removeprefix(YARD.address) or "index.html" for p in places} == pages


def test_robots_names_the_sitemap():
    assert f"Sitemap: {YARD.address}sitemap.xml" in whole()["robots.txt"].decode().splitlines()


def test_atom_keeps_its_standards_rules():
    """RFC 4287: feed and entry need id, title and updated; an author somewhere; dates as RFC 3339 writes them."""
    feed = ET.fromstring(whole()["arrivals.atom"])
    assert feed.tag == f"{ATOM}feed"
    assert feed.findtext(f"{ATOM}author/{ATOM}name") == YARD.name
    assert feed.find(f"{ATOM}link[@rel='self']").get("href") == f"{YARD.address}arrivals.atom"
    entries = feed.findall(f"{ATOM}entry")
    assert 0 < len(entries) <= feeds.NEWEST
    for part in (feed, *entries):
        for name in ("id", "title", "updated"):
            assert part.findtext(ATOM + name)
        assert part.findtext(f"{ATOM}updated").endswith("Z")
        datetime.fromisoformat(part.findtext(f"{ATOM}updated"))
    ids = [e.findtext(f"{ATOM}id") for e in entries]
    assert len(ids) == len(set(ids))
    days = [datetime.fromisoformat(e.findtext(f"{ATOM}published")) for e in entries]
    assert days == sorted(days, reverse=True)


def test_a_feed_carries_what_xml_can_carry():
    (u,) = units("SH-191")
    ET.fromstring(feeds.arrivals([dataclasses.replace(u, title="a\x00\x1b<&>")], yard=YARD))
    ET.fromstring(feeds.arrivals([], yard=YARD))


def test_every_standing_has_its_words():
    assert set(STANDING_WORDS) == set(AVAILABLE)
