"""Keep the pictures people send, of a unit or of the record of something done to it; each once, however often sent."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.db.models import Max

from rubrail.desk.audit import kind_of, record
from rubrail.desk.models import Photo, Unit, User
from rubrail.desk.models.stock import Purpose
from rubrail.desk.uploads import Picture, UploadError, read_picture

MOST_AT_ONCE = 20
MOST_OF_ONE = 60
"""Photos of one unit, and of one record, that are kept."""


@dataclass(frozen=True, slots=True)
class Sent:
    """What became of files sent at once: those kept, and a sentence for each that was not."""

    kept: tuple[Photo, ...]
    faults: tuple[str, ...]


def photos_about(thing: Any) -> Any:
    """Photos taken for a stored record, in their order."""
    return Photo.objects.filter(about_kind=kind_of(thing).name, about=thing.pk)


def read_ahead(files: Sequence[UploadedFile]) -> None:
    """Read pictures before a transaction begins; ``keep_photos`` takes what was read.

    Reading one takes long, and nobody else writes while a transaction is open in SQLite.
    """
    for file in files[:MOST_AT_ONCE]:
        file.as_read = _read(file)


def _read(file: UploadedFile) -> Picture | UploadError:
    """What a file shows, or why it is not taken."""
    try:
        return read_picture(file, name=file.name or "the file", size=file.size or 0)
    except UploadError as fault:
        return fault


def keep_photos(
    files: Sequence[UploadedFile],
    *,
    unit: Unit | None,
    by: User,
    purpose: Purpose = Purpose.SHOW,
    about: Any = None,
    says: str = "",
    spot: Mapping[str, Any] | None = None,
    key: uuid.UUID | None = None,
) -> Sent:
    """Read, check and keep pictures; each that cannot be kept is told, and the others stay.

    Parameters
    ----------
    files : sequence of UploadedFile
        As they came.
    unit : Unit or None
        The unit they show; none where ``about`` concerns none.
    by : User
        Who sent them.
    purpose : Purpose
        What they are for; photos to show may leave the yard.
    about : stored record, optional
        What they were taken for, of a kind the trail knows.
    says : str
        What they show.
    spot : mapping, optional
        Place on the drawing they mark.
    key : UUID, optional
        Chosen by the phone for one picture; a picture of that key is kept once.
    """
    if key is not None and (there := Photo.objects.filter(key=key).first()):
        return Sent((there,), ())
    there = photos_about(about).count() if about is not None else unit.photos.filter(purpose=purpose).count()
    room = max(min(MOST_AT_ONCE, MOST_OF_ONE - there), 0)
    kept, faults = [], []
    for file in files[:room]:
        picture = getattr(file, "as_read", None) or _read(file)
        if isinstance(picture, UploadError):
            faults.append(str(picture))
        else:
            photo = Photo(
                unit=unit,
                purpose=purpose,
                about_kind=kind_of(about).name if about is not None else "",
                about=about.pk if about is not None else None,
                says=says[:200],
                spot=dict(spot or {}),
                key=key,
                added_by=by,
            )
            kept.append(_store(photo, picture, thing=about if about is not None else unit, by=by))
    if len(files) > room:
        faults.append(f"At most {MOST_AT_ONCE} photos at once and {MOST_OF_ONE} of one kind are kept.")
    return Sent(tuple(kept), tuple(faults))


def _store(photo: Photo, picture: Picture, *, thing: Any, by: User) -> Photo:
    name = uuid.uuid4().hex
    with transaction.atomic():
        if photo.unit is not None:
            last = photo.unit.photos.aggregate(last=Max("order"))["last"]
            photo.order = 0 if last is None else last + 1
        photo.width, photo.height = picture.size
        photo.full.save(f"{name}.jpg", picture.full, save=False)
        photo.small.save(f"{name}-small.jpg", picture.small, save=False)
        photo.save()
        record(by=by, action="photo added", thing=thing)
    return photo
