"""Units put on the public pages, and what somebody from anywhere is answered."""

from __future__ import annotations

import io
import uuid
from datetime import date

import html5lib
from django.core.files.base import ContentFile
from django.test import Client
from PIL import Image

from desk.rig_pages import store_unit
from rubrail.desk import clock
from rubrail.desk.models import Listing, Photo, Unit
from rubrail.desk.models.stock import Purpose
from sheets.site.sites import text_of

HERE = "http://testserver/public/"


def show(*stock: str, checked: date | None = None) -> list[Unit]:
    """Units of the invented yard, put on the public pages with a price looked at today."""
    units = [store_unit(s) for s in stock]
    for unit in units:
        Listing.objects.create(unit=unit, shown=True, price_checked=checked or clock.today())
    return units


def with_photo(
    unit: Unit, *, purpose: str = Purpose.SHOW, size: tuple[int, int] = (1600, 1200), name: str = ""
) -> Photo:
    """A unit's photo."""
    out = io.BytesIO()
    Image.linear_gradient("L").convert("RGB").resize(size).save(out, "JPEG")
    photo = Photo(unit=unit, purpose=purpose, width=size[0], height=size[1], says=f"{purpose} of it")
    stem = uuid.uuid4().hex
    photo.full.save(f"{stem}.jpg", ContentFile(out.getvalue()), save=False)
    photo.small.save(f"{stem}-small.jpg", ContentFile(out.getvalue()), save=True)
    return photo


def get(path: str = "", **headers: str):
    """What somebody from anywhere is answered."""
    return Client().get(f"/public/{path}", headers=headers)


def text_of_page(answer) -> str:
    """All the words of a page of the desk."""
    return text_of(html5lib.parse(answer.content.decode()))
