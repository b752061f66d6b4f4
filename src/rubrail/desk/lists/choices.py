"""What a person says of an uploaded list: what each column means, in which unit, and what its numbers rest on."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rubrail.desk.lists.cells import DAY_ORDERS, How, read_day, units_for
from rubrail.desk.lists.columns import KEY, ListColumn, by_key, plain
from rubrail.desk.lists.guess import Guess, guess
from rubrail.desk.models import HeadingsRead
from rubrail.desk.permissions import role_may
from rubrail.quantity.basis import BASES

MEASURED_FIRST, RATINGS_FIRST = "estimated", "label"
"""Proposed where nobody has said yet: what a plain number of a trailer file rests on, too."""
REMEMBERED = 200
"""Lists with other headings that are kept in mind."""
LOOKED_AT = 20


@dataclass(frozen=True, slots=True)
class Choices:
    """All a person chose.

    Parameters
    ----------
    columns : tuple of Guess
        One a column of the file.
    measured, ratings : str
        Basis of new numbers that state none: of what is measured, and of ratings.
    comma : bool
        Whether the file writes a decimal comma.
    """

    columns: tuple[Guess, ...]
    measured: str = MEASURED_FIRST
    ratings: str = RATINGS_FIRST
    comma: bool = False

    def stored(self) -> dict[str, Any]:
        """As JSON keeps it."""
        columns = [[c.key, c.unit] for c in self.columns]
        return {"columns": columns, "measured": self.measured, "ratings": self.ratings, "comma": self.comma}

    @classmethod
    def read(cls, stored: Mapping[str, Any]) -> Choices:
        """From what JSON kept."""
        columns = tuple(Guess(*pair) for pair in stored.get("columns", ()))
        rest = {name: stored[name] for name in ("measured", "ratings", "comma") if name in stored}
        return cls(columns, **rest)

    def how(self, place: int) -> How:
        """How the cells of a column are written."""
        return How(self.columns[place].unit, self.comma)


def allowed_for(role: str) -> dict[str, ListColumn]:
    """Columns that somebody of this role may write by an import."""
    return {key: c for key, c in by_key().items() if all(role_may(role, name) for name in (*c.reads, *c.writes))}


def first_choices(headings: Sequence[str], samples: Sequence[Sequence[str]], *, role: str, csv: bool) -> Choices:
    """What a list's columns mean before anybody was asked: as last time, else by their headings.

    Parameters
    ----------
    headings : sequence of str
    samples : sequence of rows
        The first rows, to tell a decimal comma and the order of days.
    role : str
        Whose import it is.
    csv : bool
        Whether it is text: a workbook's numbers have no decimal sign of their own.
    """
    allowed = allowed_for(role)
    before = HeadingsRead.objects.filter(mark=mark_of(headings)).first()
    if before:
        known = Choices.read(before.choices)
        return Choices(_only(known.columns, allowed), known.measured, known.ratings, known.comma and csv)
    found = guess(headings, allowed=allowed)
    earlier = _earlier()
    for place, heading in enumerate(headings):
        told = earlier.get(plain(heading))
        if told and told.key in allowed and told.key not in {g.key for n, g in enumerate(found) if n != place}:
            found[place] = told
    for place, one in enumerate(found):
        if one.key and not one.unit and allowed[one.key].kind == "day":
            found[place] = Guess(one.key, _order([row[place] for row in samples]))
    return Choices(tuple(found), comma=csv and _commas(samples))


def _only(columns: Sequence[Guess], allowed: Mapping[str, ListColumn]) -> tuple[Guess, ...]:
    return tuple(c if c.key in allowed else Guess() for c in columns)


def _earlier() -> dict[str, Guess]:
    """What single headings meant in the latest lists."""
    found: dict[str, Guess] = {}
    for read in HeadingsRead.objects.order_by("-updated", "-pk")[:LOOKED_AT]:
        for heading, (key, unit) in zip(read.headings, read.choices.get("columns", ()), strict=False):
            if key and heading:
                found.setdefault(plain(heading), Guess(key, unit))
    return found


def _order(cells: Sequence[str]) -> str:
    """Order of the parts of days: the one that reads the most of them, the month before the day where both do."""
    texts = [c for c in cells if c and not c[:4].isdigit()]
    read = {order: sum(not isinstance(read_day(c, order), str) for c in texts) for order in DAY_ORDERS}
    best = max(("month/day/year", "day/month/year", "year-month-day"), key=lambda order: read[order])
    return best if read[best] else ""


def _commas(samples: Sequence[Sequence[str]]) -> bool:
    """Whether numbers look as if a comma began their decimals."""
    cells = [c.strip() for row in samples for c in row]
    commas = sum(
        1 for c in cells if c.count(",") == 1 and _digits(c.replace(",", "")) and len(c.split(",")[1]) in (1, 2)
    )
    points = sum(
        1 for c in cells if c.count(".") == 1 and _digits(c.replace(".", "")) and len(c.split(".")[1]) in (1, 2)
    )
    return commas > points


def _digits(text: str) -> bool:
    return text.isascii() and text.isdigit()


def mark_of(headings: Sequence[str]) -> str:
    """Mark of a row of headings, whatever their capitals and spaces."""
    same = [" ".join(h.lower().split()) for h in headings]
    return hashlib.sha256(json.dumps(same).encode()).hexdigest()


def remember(headings: Sequence[str], choices: Choices) -> None:
    """Keep in mind what these headings meant; the oldest others are let go."""
    kept = {"headings": list(headings), "choices": choices.stored()}
    HeadingsRead.objects.update_or_create(mark=mark_of(headings), defaults=kept)
    old = HeadingsRead.objects.order_by("-updated", "-pk").values_list("pk", flat=True)[REMEMBERED : REMEMBERED + 100]
    HeadingsRead.objects.filter(pk__in=list(old)).delete()


def faults_in(choices: Choices, headings: Sequence[str], *, allowed: Mapping[str, ListColumn]) -> dict[int, str]:
    """What cannot be chosen, one sentence a column; ``-1`` for what concerns no single column."""
    faults: dict[int, str] = {}
    first: dict[str, int] = {}
    for place, one in enumerate(choices.columns):
        if not one.key:
            continue
        column = allowed.get(one.key)
        if column is None:
            faults[place] = "Your role does not write this column; leave it out."
        elif one.key in first:
            other = headings[first[one.key]] or f"column {first[one.key] + 1}"
            faults[place] = f'{column.heading} is taken from "{other}" already; leave one of the two out.'
        elif one.unit and one.unit not in units_for(column):
            these = ", ".join(units_for(column)) or "none, for it has no unit"
            faults[place] = f"The unit of {column.words} must be one of {these}, not {one.unit}."
        first.setdefault(one.key, place)
    if KEY not in first:
        faults[-1] = "One column must be the stock number: it tells which unit a row is."
    for name in ("measured", "ratings"):
        if getattr(choices, name) not in BASES:
            faults[-1] = f"What the numbers rest on must be one of {', '.join(BASES)}."
    return faults
