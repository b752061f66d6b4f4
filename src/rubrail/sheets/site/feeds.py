"""The list for programs: declared columns as CSV and JSON, new arrivals as Atom, the pages as a sitemap."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from decimal import Decimal
from typing import Any
from xml.etree import ElementTree as ET

from rubrail.sheets.cells import csv_file, said
from rubrail.sheets.site.frame import address_of
from rubrail.sheets.site.jsonld import plain
from rubrail.sheets.site.lists import ORDERS
from rubrail.sheets.site.shown import STANDING_WORDS, SiteUnit, SiteYard

SCHEMA = "rubrail/units/1"
ATOM, SITEMAP = "http://www.w3.org/2005/Atom", "http://www.sitemaps.org/schemas/sitemap/0.9"
NEWEST = 30
"""Arrivals in the Atom feed."""
MOST_ADDRESSES = 50_000
"""Addresses one sitemap may hold, by its protocol."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the feeds: its name with its unit, what it holds, and how it is read."""

    name: str
    says: str
    get: Callable[[SiteUnit, SiteYard], Any]


def _of(name: str) -> Callable[[SiteUnit, SiteYard], Any]:
    return lambda u, _: getattr(u, name) or None


def _number(name: str) -> Callable[[SiteUnit, SiteYard], Any]:
    return lambda u, _: None if (v := getattr(u, name)) is None else plain(v)


COLUMNS = (
    Column("stock_number", "the yard's own number, which never changes", _of("stock_number")),
    Column("title", "what it is, in plain words", _of("title")),
    Column("standing", "`in the yard`, `expected` or `held for a buyer`", lambda u, _: STANDING_WORDS[u.standing]),
    Column("condition", "`new` or `used`", _of("condition")),
    Column("year", "model year", _of("year")),
    Column("maker", "who built it", _of("maker")),
    Column("model", "the maker's model", _of("model")),
    Column("coupling", "`ball`, `gooseneck`, `kingpin` or `pintle`", _of("coupling")),
    Column("deck", "`deck-over` or `between-fenders`", _of("deck")),
    Column("axles", "number of axles", _of("axles")),
    Column("gvwr_lb", "gross vehicle weight rating on the certification label", _number("gvwr_lb")),
    Column(
        "carries_lb",
        "what the trailer alone carries, load at its best place, every rating kept; never the advertised number",
        _number("payload_lb"),
    ),
    Column("empty_lb", "empty weight", _number("empty_lb")),
    Column("deck_length_in", "deck, tail included", _number("deck_length_in")),
    Column("deck_width_in", "width of the deck", _number("deck_width_in")),
    Column("deck_height_in", "ground to the top of the level deck", _number("deck_height_in")),
    Column("price_usd", "asking price before tax; empty where it is to be asked for", _of("price_usd")),
    Column("price_day", "day somebody at the yard last said the price is right", _of("price_day")),
    Column("arrived", "day it came to the yard; empty unless the yard chose to tell it", _of("arrived")),
    Column("page", "address of its page", lambda u, yard: address_of(yard, u.path)),
    Column(
        "photo",
        "address of its first photo",
        lambda u, yard: address_of(yard, u.photos[0].path(u.photos[0].sizes()[-1][0])) if u.photos else None,
    ),
    Column("updated", "when what is shown of it last changed, UTC", lambda u, _: u.updated and _moment(u.updated)),
    Column("listed", "day the yard began to list it", _of("listed")),
)


def units_csv(units: Sequence[SiteUnit], *, yard: SiteYard) -> bytes:
    """Units as CSV in UTF-8, with commas; an unknown is an empty cell, and no cell begins a formula."""
    return csv_file([c.name for c in COLUMNS], ([c.get(u, yard) for c in COLUMNS] for u in units))


def units_json(units: Sequence[SiteUnit], *, yard: SiteYard) -> bytes:
    """Units as JSON: the same columns, an unknown as ``null``, amounts of money as text with two decimals."""
    rows = [{c.name: _json(c.get(u, yard)) for c in COLUMNS} for u in units]
    table = {"schema": SCHEMA, "yard": yard.name, "columns": {c.name: c.says for c in COLUMNS}, "units": rows}
    return (json.dumps(table, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode("utf-8")


def _json(value: Any) -> Any:
    return said(value) if isinstance(value, Decimal | date) else value


def documented() -> str:
    """The table of ``docs/site.md``."""
    lines = ["| column | what it holds |", "|---|---|"]
    return "\n".join(lines + [f"| `{c.name}` | {c.says} |" for c in COLUMNS])


def arrivals(units: Sequence[SiteUnit], *, yard: SiteYard) -> bytes:
    """The latest arrivals as an Atom feed (RFC 4287)."""
    newest = [u for u in ORDERS[0].of(units) if u.since is not None][:NEWEST]
    changed = [_changed(u) for u in newest]
    feed = ET.Element("feed", xmlns=ATOM)
    _sub(feed, "id", address_of(yard, "arrivals.atom"))
    _sub(feed, "title", f"New at {yard.name}" if yard.name else "New in the yard")
    _sub(feed, "updated", _moment(max(changed, default=datetime(2000, 1, 1, tzinfo=UTC))))
    ET.SubElement(feed, "link", rel="self", type="application/atom+xml", href=address_of(yard, "arrivals.atom"))
    ET.SubElement(feed, "link", rel="alternate", type="text/html", href=address_of(yard, "index.html"))
    _sub(ET.SubElement(feed, "author"), "name", yard.name or "the yard")
    for u, moment in zip(newest, changed, strict=True):
        entry = ET.SubElement(feed, "entry")
        _sub(entry, "id", address_of(yard, u.path))
        _sub(entry, "title", f"{u.title}, {u.stock_number}")
        _sub(entry, "updated", _moment(moment))
        _sub(entry, "published", _moment(_day(u.since)))
        ET.SubElement(entry, "link", rel="alternate", type="text/html", href=address_of(yard, u.path))
        _sub(entry, "summary", f"{STANDING_WORDS[u.standing].capitalize()}; {u.price_says}.")
    return _xml(feed)


def _changed(u: SiteUnit) -> datetime:
    return u.updated or _day(u.since)


def _day(day: date) -> datetime:
    return datetime.combine(day, time(), UTC)


def _moment(moment: datetime) -> str:
    return f"{moment.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}"


def sitemap(pages: Iterable[tuple[str, datetime | None]], *, yard: SiteYard) -> bytes:
    """Pages for search engines (sitemaps.org, 0.9): their files, and when each last changed where that is known."""
    urls = ET.Element("urlset", xmlns=SITEMAP)
    for path, moment in list(pages)[:MOST_ADDRESSES]:
        url = ET.SubElement(urls, "url")
        _sub(url, "loc", address_of(yard, path))
        if moment is not None:
            _sub(url, "lastmod", _moment(moment))
    return _xml(urls)


def robots(*, yard: SiteYard) -> bytes:
    """What search engines may read, and where the sitemap is; they look for it only at the root of a host."""
    return f"User-agent: *\nDisallow:\n\nSitemap: {address_of(yard, 'sitemap.xml')}\n".encode()


def _sub(parent: ET.Element, tag: str, text: str) -> None:
    # What XML cannot carry would make the whole file unreadable.
    ET.SubElement(parent, tag).text = re.sub("[^\t\n -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", "", text)


def _xml(root: ET.Element) -> bytes:
    ET.indent(root, " ")
    return ET.tostring(root, encoding="utf-8", xml_declaration=True) + b"\n"
