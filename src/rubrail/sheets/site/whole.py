"""A whole site as files by their path, each made only when somebody asks for it."""

from __future__ import annotations

import mimetypes
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from rubrail.sheets.site import feeds
from rubrail.sheets.site.lists import list_html, list_pages
from rubrail.sheets.site.look import CSS_PATH, stylesheet
from rubrail.sheets.site.shown import SiteDetail, SitePhoto, SiteUnit, SiteYard, mark_of
from rubrail.sheets.site.unit import unit_html
from rubrail.sheets.site.words import missing_html, numbers_html

TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".csv": "text/csv; charset=utf-8",
    ".json": "application/json",
    ".atom": "application/atom+xml",
    ".xml": "application/xml",
    ".svg": "image/svg+xml",
    ".jpg": "image/jpeg",
    ".txt": "text/plain; charset=utf-8",
}
DRAWINGS = ("small", "side", "side-narrow", "plan", "plan-narrow", "carries", "carries-narrow")
"""Drawings of a unit; the first is that of the lists."""


@dataclass(frozen=True, slots=True)
class SiteFile:
    """One file: where it is, a mark of everything it is made from, and how it is made; ``None`` where there is none.

    Whether a unit has a drawing of what it carries is known only once it is drawn.
    """

    path: str
    rests_on: str
    make: Callable[[], bytes | None]


@dataclass(frozen=True, slots=True)
class Makers:
    """Where a site gets what is dear to make: a unit's detail, and a photo of a width as JPEG. [px]"""

    detail: Callable[[SiteUnit], SiteDetail]
    photo: Callable[[SitePhoto, int], bytes]


def site_files(units: Sequence[SiteUnit], *, yard: SiteYard, makers: Makers, version: str) -> Iterator[SiteFile]:
    """Every file of a site.

    Parameters
    ----------
    units : sequence of SiteUnit
        Those shown, each once.
    yard : SiteYard
    makers : Makers
    version : str
        Mark of the program that makes the files; another one makes them all again.
    """
    frame = mark_of([version, yard.name, yard.address, *yard.contact, CSS_PATH])
    yield SiteFile(CSS_PATH, frame, stylesheet)
    yield SiteFile("numbers.html", frame, partial(numbers_html, yard=yard))
    yield SiteFile("404.html", frame, partial(missing_html, yard=yard))
    yield SiteFile("robots.txt", frame, partial(feeds.robots, yard=yard))
    yield from _lists(units, yard, frame)
    for u in units:
        yield from _unit(u, yard, makers, frame)
    for photo in {p.name: p for u in units for p in u.photos}.values():
        for width, _ in photo.sizes():
            yield SiteFile(photo.path(width), photo.name, partial(makers.photo, photo, width))


def _lists(units: Sequence[SiteUnit], yard: SiteYard, frame: str) -> Iterator[SiteFile]:
    pages = list(list_pages(units))
    shared = mark_of([frame, sorted({u.deck for u in units}), sorted({u.coupling for u in units})])
    for it in pages:
        rests_on = mark_of([shared, it.path, it.count, *(u.rests_on for u in it.units)])
        yield SiteFile(it.path, rests_on, partial(list_html, it, units=units, yard=yard))
    everything = mark_of([frame, *(u.rests_on for u in units)])
    rows = sorted(units, key=lambda u: u.stock_number)
    yield SiteFile("units.csv", everything, partial(feeds.units_csv, rows, yard=yard))
    yield SiteFile("units.json", everything, partial(feeds.units_json, rows, yard=yard))
    yield SiteFile("arrivals.atom", everything, partial(feeds.arrivals, rows, yard=yard))
    listed = [("index.html", None), ("numbers.html", None)]
    listed += [(it.path, None) for it in pages if it.path != "index.html"]
    listed += [(u.path, u.updated) for u in rows]
    yield SiteFile("sitemap.xml", everything, partial(feeds.sitemap, listed, yard=yard))


def _unit(u: SiteUnit, yard: SiteYard, makers: Makers, frame: str) -> Iterator[SiteFile]:
    rests_on = mark_of([frame, u.rests_on])
    yield SiteFile(u.path, rests_on, lambda: unit_html(u, makers.detail(u), yard=yard))
    for name in DRAWINGS:
        yield SiteFile(f"drawing/{u.file}-{name}.svg", rests_on, partial(_drawing, u, name, makers))
    yield SiteFile(f"code/{u.file}.svg", mark_of([frame, u.path]), partial(_code, u, yard))


def _drawing(u: SiteUnit, name: str, makers: Makers) -> bytes | None:
    svg = u.thumbnail if name == "small" else makers.detail(u).drawings.get(name, "")
    return svg.encode() or None


def _code(u: SiteUnit, yard: SiteYard) -> bytes:
    from rubrail.sheets.paper.press import qr
    from rubrail.sheets.site.frame import address_of

    return qr(address_of(yard, u.path)).encode()


def type_of(path: str) -> str:
    """What kind of file it is, as a server says it."""
    ending = path[path.rfind(".") :] if "." in path else ""
    return TYPES.get(ending) or mimetypes.guess_type(path)[0] or "application/octet-stream"
