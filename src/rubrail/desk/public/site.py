"""The site as the desk has it: found file by file for those who ask, or whole for a folder."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import partial

from django.conf import settings
from django.db.models import QuerySet
from django.http import HttpRequest
from django.urls import reverse

from rubrail.desk.listings import Terms, offer_of, terms_on
from rubrail.desk.models import Photo, Unit
from rubrail.desk.models.stock import Purpose
from rubrail.desk.public.photos import forget_unused, public_photo
from rubrail.desk.public.units import shown, site_photo, site_units
from rubrail.desk.shelf import Shelf
from rubrail.desk.stock import trailer_of
from rubrail.desk.thumbnails import unpressed
from rubrail.sheets.site.made import read_build, site_detail, small_drawing
from rubrail.sheets.site.shown import SiteDetail, SiteUnit, SiteYard, stock_number_of
from rubrail.sheets.site.whole import DRAWINGS, Makers, SiteFile, fixed_files, list_files, site_files, unit_files

UNIT_FILE = re.compile(r"(?:trailer/(?P<page>[^/]+)\.html|code/(?P<code>[^/]+)\.svg|drawing/(?P<drawing>[^/]+)\.svg)")
PHOTO_FILE = re.compile(r"photo/(?P<name>[0-9A-Za-z_]+)-\d+\.jpg")
OWN_NAME = re.compile(r"[0-9a-f]{32}")
"""A name as photos of the desk get it."""
FIRST_DAY = (1980, 1, 1, 0, 0, 0)
"""The day of every file in an archive, so that the same pages are the same archive."""
_details: Shelf[SiteDetail] = Shelf(64)


@dataclass(frozen=True, slots=True)
class Site:
    """The public pages on a day.

    yard : whose, and where they are found; terms : the yard's wording, its rates, the makers it knows, the day
    """

    yard: SiteYard
    terms: Terms

    def units(self) -> list[SiteUnit]:
        """Every unit that is shown."""
        return site_units(shown(), terms=self.terms)

    def files(self) -> Iterator[SiteFile]:
        """Every file; sizes of photos that are not shown any more are dropped on the way."""
        stored = list(shown())
        units = site_units(stored, terms=self.terms)
        forget_unused({photo.name for u in units for photo in u.photos})
        return site_files(units, yard=self.yard, makers=self._makers(stored))

    def find(self, path: str) -> SiteFile | None:
        """The file of that path; nothing where there is none. Only what it needs is read."""
        if "/" in path:
            among = self._of_unit(path)
        else:
            among = {f.path: f for f in fixed_files(self.yard)}
            if path not in among:
                among = {f.path: f for f in list_files(self.units(), self.yard)}
        return among.get(path)

    def _of_unit(self, path: str) -> dict[str, SiteFile]:
        found = None
        if photo := PHOTO_FILE.fullmatch(path):
            found = _showing(photo["name"]).first()
        elif named := unit_named(path):
            found = shown().filter(stock_number=named).first()
        if found is None:
            return {}
        (unit,) = site_units([found], terms=self.terms)
        return {f.path: f for f in unit_files(unit, self.yard, self._makers([found]))}

    def _makers(self, units: Iterable[Unit]) -> Makers:
        photos = {site_photo(p).name: p for u in units for p in u.to_show}
        return Makers(detail=self._detail, small=_small, photo=partial(public_photo, stored=photos))

    def _detail(self, u: SiteUnit) -> SiteDetail:
        key = (u.rests_on, self.yard.name)
        detail = _details.get(key)
        if detail is None:
            detail = self._reckoned(u)
            _details.put(key, detail)
        return detail

    def _reckoned(self, u: SiteUnit) -> SiteDetail:
        unit = Unit.objects.select_related("listing").get(stock_number=u.stock_number)
        trailer = trailer_of(unit)
        reading = read_build(trailer)
        offer = offer_of(unit, self.terms, trailer=trailer, reading=reading)
        # A text that makes a claim the yard must not make goes out nowhere; the facts stand by themselves.
        text = None if offer.refused else offer.text
        return site_detail(trailer, title=u.title, reading=reading, facts=offer.facts, listing=text)


def _small(u: SiteUnit) -> str:
    unit = Unit.objects.get(stock_number=u.stock_number)
    # The drawing kept with the unit names it by its own title.
    kept = unit.thumbnail and unit.title == u.title
    return unpressed(unit.thumbnail) if kept else small_drawing(trailer_of(unit), title=u.title)


def unit_named(path: str) -> str:
    """Stock number in the path of a unit's file; ``""`` where the path is none of a unit's."""
    found = UNIT_FILE.fullmatch(path)
    if found is None:
        return ""
    name = found["page"] or found["code"] or ""
    if found["drawing"]:
        name = next((found["drawing"].removesuffix(f"-{d}") for d in sorted(DRAWINGS, key=len, reverse=True)
                     if found["drawing"].endswith(f"-{d}")), "")  # fmt: skip
    return stock_number_of(name)


def is_photo_gone(path: str) -> bool:
    """Whether a path is a photo's that is not shown.

    Names of photos cannot be guessed and never come again: one that is not shown now was shown once, or never was.
    Nothing is told of which.
    """
    photo = PHOTO_FILE.fullmatch(path)
    return photo is not None and OWN_NAME.fullmatch(photo["name"]) is not None and not _showing(photo["name"]).exists()


def _showing(name: str) -> QuerySet[Unit]:
    """The unit on whose page a photo of that name is shown."""
    to_show = Photo.objects.filter(purpose=Purpose.SHOW, full__endswith=f"/{name}.jpg")
    return shown().filter(photos__in=to_show)


def site_on(today: date, *, address: str) -> Site:
    """The public pages of this desk.

    Parameters
    ----------
    today : date
    address : str
        Where they are found.
    """
    yard = SiteYard(settings.RUBRAIL_YARD_NAME, address, tuple(settings.RUBRAIL_CONTACT))
    return Site(yard, terms_on(today))


def address_here(request: HttpRequest) -> str:
    """Where the public pages are found: as the options say, else at this desk."""
    return settings.RUBRAIL_PUBLIC_ADDRESS or request.build_absolute_uri(reverse("public"))


class _Sent:
    """What an archive writes to and cannot go back in: its bytes, taken away as they come."""

    def __init__(self) -> None:
        self._pieces: list[bytes] = []

    def write(self, data: bytes) -> int:
        self._pieces.append(bytes(data))
        return len(data)

    def flush(self) -> None:
        """There is nothing to wait for."""

    def taken(self) -> bytes:
        pieces, self._pieces = self._pieces, []
        return b"".join(pieces)


def archive(site: Site) -> Iterator[bytes]:
    """Every file in one ZIP archive, piece by piece as they are made; the same pages are the same archive."""
    out = _Sent()
    with zipfile.ZipFile(out, "w") as packed:
        for file in site.files():
            data = file.make()
            if data is not None:
                # A photo does not get smaller.
                how = zipfile.ZIP_STORED if file.path.endswith(".jpg") else zipfile.ZIP_DEFLATED
                packed.writestr(zipfile.ZipInfo(file.path, FIRST_DAY), data, how)
                yield out.taken()
    yield out.taken()
