"""A whole site as files by their path, each made only when somebody asks for it."""

from __future__ import annotations

import hashlib
import mimetypes
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial
from importlib.resources import files

from rubrail.sheets.site import feeds
from rubrail.sheets.site.frame import address_of
from rubrail.sheets.site.lists import list_html, list_pages
from rubrail.sheets.site.look import CSS_PATH, ICON_PATH, icon, stylesheet
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
PARTS = ("quantity", "things", "mechanics", "rules", "checks", "answers", "sheets")


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
    """Where a site gets what is dear to make.

    detail : a unit's detail; small : its drawing for lists, as SVG; photo : a photo of a width, as JPEG. [px]
    """

    detail: Callable[[SiteUnit], SiteDetail]
    small: Callable[[SiteUnit], str]
    photo: Callable[[SitePhoto, int], bytes]


def site_files(units: Sequence[SiteUnit], *, yard: SiteYard, makers: Makers) -> Iterator[SiteFile]:
    """Every file of a site.

    Parameters
    ----------
    units : sequence of SiteUnit
        Those shown, each once.
    yard : SiteYard
    makers : Makers
    """
    yield from fixed_files(yard)
    yield from list_files(units, yard)
    for u in units:
        yield from unit_files(u, yard, makers)


def fixed_files(yard: SiteYard) -> Iterator[SiteFile]:
    """Files that are the same whatever units there are."""
    frame = _frame(yard)
    yield SiteFile(CSS_PATH, CSS_PATH, stylesheet)
    yield SiteFile(ICON_PATH, frame, icon)
    yield SiteFile("numbers.html", frame, partial(numbers_html, yard=yard))
    yield SiteFile("404.html", frame, partial(missing_html, yard=yard))
    yield SiteFile("robots.txt", frame, partial(feeds.robots, yard=yard))


def list_files(units: Sequence[SiteUnit], yard: SiteYard) -> Iterator[SiteFile]:
    """Pages of the list, feeds and the sitemap."""
    pages, frame = list(list_pages(units)), _frame(yard)
    shared = mark_of([frame, sorted({u.deck for u in units}), sorted({u.coupling for u in units})])
    for it in pages:
        rests_on = mark_of([shared, it.path, it.pages, it.count, *(u.rests_on for u in it.units)])
        yield SiteFile(it.path, rests_on, partial(list_html, it, units=units, yard=yard))
    rows = sorted(units, key=lambda u: u.stock_number)
    everything = mark_of([frame, *(u.rests_on for u in rows)])
    yield SiteFile("units.csv", everything, partial(feeds.units_csv, rows, yard=yard))
    yield SiteFile("units.json", everything, partial(feeds.units_json, rows, yard=yard))
    yield SiteFile("arrivals.atom", everything, partial(feeds.arrivals, rows, yard=yard))
    listed = [("index.html", None), ("numbers.html", None)]
    listed += [(it.path, None) for it in pages if it.path != "index.html"]
    listed += [(u.path, u.updated) for u in rows]
    yield SiteFile("sitemap.xml", everything, partial(feeds.sitemap, listed, yard=yard))


def unit_files(u: SiteUnit, yard: SiteYard, makers: Makers) -> Iterator[SiteFile]:
    """Files of one unit: its page, its drawings, the code of its address, its photos."""
    frame = _frame(yard)
    rests_on = mark_of([frame, u.rests_on])
    yield SiteFile(u.path, rests_on, lambda: unit_html(u, makers.detail(u), yard=yard))
    for name in DRAWINGS:
        yield SiteFile(f"drawing/{u.file}-{name}.svg", mark_of([rests_on, name]), partial(_drawing, u, name, makers))
    yield SiteFile(f"code/{u.file}.svg", mark_of([frame, u.path]), partial(_code, u, yard))
    for photo in u.photos:
        for width, _ in photo.sizes():
            # A photo never changes under its name.
            yield SiteFile(photo.path(width), photo.path(width), partial(makers.photo, photo, width))


def _frame(yard: SiteYard) -> str:
    """Mark of what every page has: the program that makes it, and whose it is."""
    return mark_of([version(), yard.name, yard.address, *yard.contact])


def _drawing(u: SiteUnit, name: str, makers: Makers) -> bytes | None:
    svg = makers.small(u) if name == DRAWINGS[0] else makers.detail(u).drawings.get(name, "")
    return svg.encode() or None


def _code(u: SiteUnit, yard: SiteYard) -> bytes:
    from rubrail.sheets.paper.press import qr

    return qr(address_of(yard, u.path)).encode()


@cache
def version() -> str:
    """Mark of the program as it is installed: of every line and figure that what is shown can rest on."""
    seen = hashlib.sha256()
    for part in PARTS:
        todo = [files("rubrail").joinpath(part)]
        while todo:
            for entry in sorted(todo.pop().iterdir(), key=lambda e: e.name):
                if entry.is_dir():
                    todo.append(entry)
                elif entry.name.endswith((".py", ".toml", ".css")):
                    seen.update(entry.name.encode())
                    seen.update(entry.read_bytes())
    return seen.hexdigest()[:16]


def type_of(path: str) -> str:
    """What kind of file it is, as a server says it."""
    ending = path[path.rfind(".") :] if "." in path else ""
    return TYPES.get(ending) or mimetypes.guess_type(path)[0] or "application/octet-stream"
