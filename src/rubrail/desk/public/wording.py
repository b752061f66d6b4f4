"""How the yard words its listings on a day: its own file, or the plain one that ships with the program."""

from __future__ import annotations

from datetime import date
from functools import cache
from importlib.resources import files

from rubrail.desk.books import in_force
from rubrail.desk.models.books import Sort
from rubrail.things.door import read_thing
from rubrail.things.listing import ListingText


def wording_on(day: date) -> ListingText:
    """The yard's listing text on a day.

    Raises
    ------
    Faults
        If what is stored no longer reads.
    """
    book = in_force(Sort.LISTING, on=day).first()
    return _plain() if book is None else read_thing(ListingText, book.spec, where=str(book))


@cache
def _plain() -> ListingText:
    import tomllib

    text = files("rubrail.things").joinpath("data", "listing-plain.toml").read_text("utf-8")
    return read_thing(ListingText, tomllib.loads(text), where="the plain listing text")
