"""Units that buyers read of under another title, because their own makes a claim that is refused."""

from __future__ import annotations

from django.urls import reverse

from rubrail.desk.listings import terms_on
from rubrail.desk.public.typed import LeftOut, offered, words_left_out
from rubrail.desk.today.rows import Asked, Row, at_most, many
from rubrail.sheets.sentences_amounts import listed


def titles(asked: Asked) -> list[Row]:
    """A row each, in the order of their numbers."""
    found = words_left_out(terms_on(asked.today)) if offered().exists() else {}

    def rest(count: int) -> Row:
        says = f"Buyers do not read some words of {many(count, 'more unit')}: a claim in them is refused."
        return Row("words-more", says, f"{reverse('listings')}?which=work", "See them")

    return at_most([_row(stock_number, out) for stock_number, out in found.items()], rest=rest)


def _row(stock_number: str, out: LeftOut) -> Row:
    words = listed(sorted(out.facts))
    which = "it" if len(out.facts) == 1 else "them"
    says = f"Buyers do not read the {words} of {stock_number}: a claim in {which} is refused."
    note = f"They read “{out.title}” instead." if out.title else ""
    return Row(f"words-{stock_number}", says, reverse("listing", args=[stock_number]), "Mend it", note=note)
