"""Photos in the sizes the public pages offer, made once and kept beside the others."""

from __future__ import annotations

import io
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from django.conf import settings

from rubrail.desk.models import Photo
from rubrail.sheets.site.shown import SitePhoto

QUALITY = 82


def public_photo(photo: SitePhoto, width_px: int, *, stored: Mapping[str, Photo]) -> bytes | None:
    """A photo in one of its sizes, as JPEG without metadata; nothing where its file is gone.

    Parameters
    ----------
    photo : SitePhoto
    width_px : int
        One of its own sizes. [px]
    stored : mapping
        Photos to show, by their names on the pages.
    """
    whole = stored[photo.name].full
    try:
        if width_px >= photo.width_px:
            with whole.open("rb") as file:
                return file.read()
        kept = _folder() / f"{photo.name}-{width_px}.jpg"
        if kept.is_file():
            return kept.read_bytes()
        with whole.open("rb") as file:
            data = _smaller(file.read(), dict(photo.sizes())[width_px], width_px)
    except FileNotFoundError:
        return None
    _keep(kept, data)
    return data


def _smaller(data: bytes, height_px: int, width_px: int) -> bytes:
    from PIL import Image

    out = io.BytesIO()
    with Image.open(io.BytesIO(data), formats=("JPEG",)) as image:
        # Read at no more than it takes: a quarter of the pixels is read in a quarter of the time.
        image.draft("RGB", (2 * width_px, 2 * height_px))
        fitted = image.convert("RGB").resize((width_px, height_px), Image.Resampling.LANCZOS)
    fitted.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return out.getvalue()


def _folder() -> Path:
    folder = Path(settings.STORAGES["default"]["OPTIONS"]["location"]) / "public"
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return folder


def _keep(path: Path, data: bytes) -> None:
    """At one stroke, so that nobody ever reads half a picture."""
    handle, part = tempfile.mkstemp(dir=path.parent)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
    os.replace(part, path)


def forget_unused(names: set[str]) -> int:
    """Drop sizes of photos that are not shown any more; how many files went."""
    gone = [p for p in _folder().glob("*.jpg") if p.stem.rpartition("-")[0] not in names]
    for path in gone:
        path.unlink(missing_ok=True)
    return len(gone)
