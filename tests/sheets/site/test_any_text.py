"""Whatever people typed: pages stay valid HTML, data blocks and feeds read back as it was, no path leads out."""

from __future__ import annotations

import csv
import dataclasses
import io
import json
import re
from xml.etree import ElementTree as ET

from hypothesis import given, settings
from hypothesis import strategies as st

from rubrail.sheets.listing import Said
from rubrail.sheets.site import feeds
from rubrail.sheets.site.folder import SAFE
from rubrail.sheets.site.frame import PageHead, page
from rubrail.sheets.site.jsonld import json_text
from rubrail.sheets.site.markup import el
from rubrail.sheets.site.shown import file_name, stock_number_of
from rubrail.sheets.site.unit import unit_html
from sheets.site.sites import YARD, detail_of, elements, parsed, units

ANY = st.text(max_size=60) | st.sampled_from(["</script>", "<!--", "]]>", "&lt;", '"', "'", "\x00", "\ud7ff￾", "=1+1"])
STOCK = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9._-]{0,20}", fullmatch=True) | st.sampled_from(
    ["CON", "con.", "nul_.x", "COM1", "LPT9_", "prn..a", "AUX-1"]
)


@given(title=ANY, words=ANY, color=ANY, maker=ANY)
@settings(max_examples=40, deadline=None)
def test_a_units_page_holds_any_text(title, words, color, maker):
    u = dataclasses.replace(units("SH-191")[0], title=title, color=color, maker=maker)
    detail = dataclasses.replace(
        detail_of("SH-191"), headline=words, paragraphs=(Said("x", words, (words, title), listed=True),), ending=words
    )
    tree = parsed(unit_html(u, detail, yard=YARD))
    (script,) = elements(tree, "script")
    data = json.loads(script.text)
    assert data["name"] == title
    assert data.get("color", "") == color
    assert len(list(elements(tree, "h1"))) == 1


@given(name=ANY, contact=ANY)
@settings(max_examples=60, deadline=None)
def test_a_frame_holds_any_text(name, contact):
    yard = dataclasses.replace(YARD, name=name, contact=(contact,))
    tree = parsed(page(PageHead("index.html", name, contact), el("h1", name), yard=yard))
    assert not list(elements(tree, "script"))


@given(text=ANY)
@settings(deadline=None)
def test_data_reads_back_as_it_was(text):
    written = json_text({"a": [text]})
    assert json.loads(written) == {"a": [text]}
    assert not re.search("[<>&]", written)


@given(title=ANY, maker=ANY)
@settings(max_examples=60, deadline=None)
def test_feeds_read_back(title, maker):
    some = [dataclasses.replace(units("SH-191")[0], title=title, maker=maker)]
    rows = list(csv.reader(io.StringIO(feeds.units_csv(some, yard=YARD).decode("utf-8"), newline="")))
    assert len(rows) == 2
    assert rows[1][1].removeprefix("'") == title.removeprefix("'")
    assert json.loads(feeds.units_json(some, yard=YARD))["units"][0]["title"] == (title or None)
    ET.fromstring(feeds.arrivals(some, yard=YARD))


@given(stock=STOCK)
@settings(deadline=None)
def test_every_stock_number_has_files_of_its_own_inside_the_site(stock):
    u = dataclasses.replace(units("SH-191")[0], stock_number=stock)
    assert SAFE.fullmatch(u.path)
    assert stock_number_of(file_name(stock)) == stock
    assert not re.match(r"(?i)(con|prn|aux|nul|com\d|lpt\d)(\.|$)", file_name(stock))
