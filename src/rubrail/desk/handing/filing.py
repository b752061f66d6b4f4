"""What a finished list says, written into the file of its unit or of the kept truck by one button.

The trail of the unit or the truck keeps what stood there; an offer that is another one by now writes nothing.
"""

from __future__ import annotations

from django.core.files.base import ContentFile
from django.db import transaction
from django.db.models import Max

from rubrail.desk.audit import record
from rubrail.desk.handing.offers import OF_UNIT, Offer, offers_of
from rubrail.desk.kept import SORTS
from rubrail.desk.kept import change as change_kept
from rubrail.desk.models import Checklist, Photo, Unit, User
from rubrail.desk.models.stock import Purpose
from rubrail.desk.stock import change_unit


class FilingError(ValueError):
    """Nothing was written; the message is the sentence the person reads."""


def write(it: Checklist, of: str, *, mark: str, by: User) -> Offer:
    """Write what a list offers into the file of its unit, or of the kept truck.

    Parameters
    ----------
    it : Checklist
    of : str
    mark : str
        Of the offer the person had before them.
    by : User

    Raises
    ------
    FilingError
        If there is nothing to write any more, it is something else by now, or it cannot be true.
    StaleError
        If somebody saves the file at this moment.
    """
    with transaction.atomic():
        offer = next((o for o in offers_of(it, user=by) if o.of == of), None)
        if offer is None:
            raise FilingError("There is nothing to write: the file has it already.")
        if offer.mark != mark:
            raise FilingError("The file or the list was changed meanwhile; nothing was written. Look again.")
        if offer.faults:
            raise FilingError(" ".join(offer.faults))
        row, thing = offer.row, offer.thing
        if of == OF_UNIT:
            change_unit(row, thing, by=by, seen_version=row.version)
            for photo in offer.photos:
                _keep_label(row, photo, by=by)
        else:
            change_kept(SORTS["truck"], row, name=row.name, thing=thing, by=by, seen_version=row.version)
        record(by=by, action="filed", thing=it, more=f" into {of} {offer.name}")
    return offer


def _keep_label(unit: Unit, photo: Photo, *, by: User) -> None:
    """A copy for the unit: whoever takes it off the unit's page later leaves the list's own."""
    last = unit.photos.aggregate(last=Max("order"))["last"]
    copy = Photo(
        unit=unit, purpose=Purpose.LABEL, spot={"from": photo.pk}, says=photo.says, added_by=by,
        order=0 if last is None else last + 1, width=photo.width, height=photo.height,
    )  # fmt: skip
    for name in ("full", "small"):
        file = getattr(photo, name)
        with file.open("rb") as content:
            getattr(copy, name).save(file.name.rpartition("/")[2], ContentFile(content.read()), save=False)
    copy.save()
    record(by=by, action="photo added", thing=unit)
