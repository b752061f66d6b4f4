"""Files the yard goes by: stored whole, read back equal, the ones in force on a day."""

from datetime import date

import pytest

from answers.yard import yard
from rubrail.desk.books import in_force, keep_book, kit_here, rates_on, thing_in
from rubrail.desk.hauls import stored
from rubrail.desk.models import Book

pytestmark = pytest.mark.django_db


def test_books_read_back_as_they_were_stored():
    things = [*yard().catalogs.values(), *yard().rates.values(), *yard().kits.values()]
    assert things
    for thing in things:
        book = keep_book(thing, by=None)
        assert stored(thing_in(book)) == book.spec
    assert kit_here() is not None
    keep_book(things[0], by=None)
    assert Book.objects.count() == len(things)


def test_rates_in_force_are_the_latest_that_have_begun():
    rates = next(iter(yard().rates.values()))
    keep_book(rates, by=None)
    later = rates.model_copy(update={"id": "later", "effective": date(2027, 1, 1)})
    keep_book(later, by=None)
    assert rates_on(date(2026, 6, 30)) is None
    assert rates_on(date(2026, 11, 25)).id == rates.id
    assert rates_on(date(2027, 3, 1)).id == "later"
    assert [b.ident for b in in_force("rates", on=date(2027, 3, 1))] == ["later", rates.id]
