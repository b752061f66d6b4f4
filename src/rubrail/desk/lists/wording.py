"""The page that asks what each column means: what it offers, what it shows, what came back from it."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rubrail.desk.lists.cells import DAY_ORDERS, units_for
from rubrail.desk.lists.choices import Choices
from rubrail.desk.lists.columns import ListColumn, by_key, by_words, columns_for, named, plain
from rubrail.desk.lists.guess import Guess
from rubrail.desk.models import Incoming

OFFERED = {"axle": 6, "ramp": 2, "anchor": 6, "equipment": 4}
"""Members of each list that the page proposes; others may be written by hand."""
SAMPLES = 2
LONGEST_SAMPLE = 40
LONGEST_FIELD = 120


@dataclass(frozen=True, slots=True)
class Offer:
    """A column of ours to choose: its name, what it is, and the units its numbers may be in, the own one first."""

    name: str
    says: str
    units: str


@dataclass(frozen=True, slots=True)
class Shown:
    """A column of the file as the page shows it."""

    place: int
    heading: str
    samples: tuple[str, ...]
    name: str
    unit: str
    own_unit: str
    fault: str


def name_of(column: ListColumn) -> str:
    """A column's name without its unit."""
    return column.words[:1].upper() + column.words[1:]


def offered(allowed: Mapping[str, ListColumn]) -> list[Offer]:
    """Columns the page proposes to somebody, in the order of the list."""
    return [
        Offer(name_of(c), c.says, " ".join(units_for(c))) for c in columns_for(OFFERED, every=True) if c.key in allowed
    ]


def units_offered() -> list[str]:
    """Every unit and day order that a column may be written in."""
    found = dict.fromkeys(unit for column in columns_for({}) for unit in units_for(column))
    found |= dict.fromkeys(DAY_ORDERS)
    return list(found)


def columns_shown(
    incoming: Incoming, choices: Choices, *, sent: Mapping[int, str], faults: Mapping[int, str]
) -> list[Shown]:
    """The file's columns with two of their values, what each is taken for, and what is wrong with that.

    Parameters
    ----------
    sent : mapping
        Names as somebody wrote them, where they mean nothing here.
    """
    rows = [cells for _, cells in incoming.rows]
    shown = []
    for place, (heading, one) in enumerate(zip(incoming.headings, choices.columns, strict=True)):
        column = by_key().get(one.key)
        own = units_for(column)[:1] if column else ()
        name = sent.get(place, name_of(column) if column else "")
        samples = _samples(rows, place)
        if not samples and not heading:
            continue
        shown.append(Shown(place, heading, samples, name, one.unit, own[0] if own else "", faults.get(place, "")))
    return shown


def _samples(rows: Sequence[Sequence[str]], place: int) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for cells in rows:
        if cells[place]:
            found.setdefault(cells[place][:LONGEST_SAMPLE])
        if len(found) == SAMPLES:
            break
    return tuple(found)


def choices_sent(data: Mapping[str, str], *, count: int, csv: bool) -> tuple[Choices, dict[int, str], dict[int, str]]:
    """What the page sent: the choices, names that mean nothing here as they were written, and a sentence for each.

    Parameters
    ----------
    data : mapping
        Fields of the form: ``column-0``, ``unit-0`` and so on, ``measured``, ``ratings``, ``comma``.
    count : int
        Columns of the file.
    csv : bool
        Whether the file is text, which may write decimal commas.
    """
    columns, sent, faults = [], {}, {}
    for place in range(count):
        text = data.get(f"column-{place}", "").strip()[:LONGEST_FIELD]
        column = named(text)
        if text and column is None:
            sent[place] = text
            near = difflib.get_close_matches(plain(text), by_words(), 1, 0.5)
            hint = f"did you mean {name_of(by_words()[near[0]])}?" if near else "choose one of the list."
            faults[place] = f'"{text}" is no column of ours; {hint}'
        columns.append(_guess(column, data.get(f"unit-{place}", "").strip()[:20]))
    choices = Choices(
        tuple(columns),
        measured=data.get("measured", ""),
        ratings=data.get("ratings", ""),
        comma=csv and data.get("comma") == "yes",
    )
    return choices, sent, faults


def _guess(column: ListColumn | None, unit: str) -> Guess:
    if column is None:
        return Guess()
    units = units_for(column)
    # A unit left over from another choice says nothing of a column without units; its own is the same as none.
    return Guess(column.key, unit if units and unit != units[0] else "")
