"""Keep the yard's listing text: one file a day it begins, changed with a trail, never over somebody else's."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from django.db import IntegrityError, transaction

from rubrail.desk.audit import Delta, record
from rubrail.desk.editing import StaleError, save_changes
from rubrail.desk.hauls import stored
from rubrail.desk.listings import wording_book
from rubrail.desk.models import Book, User
from rubrail.desk.models.books import Sort
from rubrail.things.folder import plain_listing
from rubrail.things.listing import ListingText

NONE_SEEN = "0:0"


class TakenDayError(ValueError):
    """Another wording begins on that day already."""


def mark_of(book: Book | None) -> str:
    """Which wording a person had before them, and its version."""
    return NONE_SEEN if book is None else f"{book.pk}:{book.version}"


def keep_wording(wording: ListingText, *, seen: str, today: date, by: User) -> Book:
    """Store a wording: the one in force changed where it begins the same day, else one more that begins later.

    Raises
    ------
    StaleError
        If the wording in force is no longer the one the person had.
    TakenDayError
        If another wording begins on its day already.
    """
    was = wording_book(today)
    if seen != mark_of(was):
        raise StaleError("the wording")
    if was is not None and was.effective == wording.effective:
        values = {"spec": {**stored(wording), "id": was.ident}, "title": was.title}
        save_changes(was, values=values, deltas=_deltas(was.spec, wording), by=by, seen_version=was.version)
        return was
    try:
        with transaction.atomic():
            book = Book.objects.create(
                sort=Sort.LISTING, ident=wording.id, title=wording.title or "", effective=wording.effective,
                spec=stored(wording), created_by=by,
            )  # fmt: skip
            record(by=by, action="added", thing=book)
    except IntegrityError:
        raise TakenDayError(str(wording.effective)) from None
    return book


def _deltas(old: dict, wording: ListingText) -> Iterator[Delta]:
    """What changes of the texts and days, each field in words."""
    before, after = _said(ListingText.model_validate(old)), _said(wording)
    for name in dict.fromkeys((*before, *after)):
        yield Delta(name, name.replace("_", " "), before.get(name, ""), after.get(name, ""), "yard.see")


def _said(wording: ListingText) -> dict[str, str]:
    days = {name: str(getattr(wording, name)) for name in ("stale_days", "ask_days", "headline_letters", "vin")}
    return {**dict(wording.texts()), **days}


def shipped() -> ListingText:
    """The plain wording that comes with the program."""
    return plain_listing()
