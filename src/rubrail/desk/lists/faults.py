"""Faults of a list in the words of the file it came in: row, heading, what is there, what is accepted."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from rubrail.desk.lists.columns import LISTS, ListColumn, by_key
from rubrail.desk.stock import path_of_fault
from rubrail.things.faults import NOTHING, Fault

PATH = re.compile(r"\b[a-z_]+(?:\[\d+\])?(?:\.[a-z_]+\d?(?:\[\d+\])?)+")
NEEDED = {"id": "stock_number", "axle": "axle:count"}
"""Columns that stand for what the trailer file has under another name."""


def fault_at(
    number: int,
    column: ListColumn,
    heading: str,
    value: Any,
    accepted: str,
    *,
    remedy: str = "",
    lead: str = "must be",
) -> Fault:
    """A fault of one cell."""
    return Fault(column.words, value, accepted, f'row {number}, column "{heading[:60]}"', remedy, lead)


def fault_of_row(
    number: int, stock_number: str, words: str, value: Any, accepted: str, lead: str = "must be"
) -> Fault:
    """A fault of a row that no one of its cells has."""
    return Fault(words, value, accepted, f"row {number} ({stock_number[:64]})", lead=lead)


def told(fault: Fault, *, number: int, stock_number: str, given: Mapping[str, tuple[str, str]]) -> Fault:
    """A fault of the trailer file's door as a fault of the row.

    Parameters
    ----------
    fault : Fault
    number : int
        The row.
    stock_number : str
    given : mapping
        What the row says by column key: the cell's text and its heading.
    """
    path = path_of_fault(fault.field)
    column = by_key().get(NEEDED.get(path, path))
    words = column.words if column else said(fault.field)
    accepted = said(fault.accepted)
    if column and column.kind in ("flag", "number") and accepted in ("true or false", "a number"):
        accepted = "yes or no" if column.kind == "flag" else "a number more than 0"
    if path == "year":
        accepted = accepted.replace(",", "")
    text, heading = given.get(column.key, ("", "")) if column else ("", "")
    if heading:
        value = NOTHING if fault.value is NOTHING and not text else text
        return Fault(words, value, accepted, f'row {number}, column "{heading[:60]}"', fault.remedy, fault.lead)
    return Fault(words, fault.value, accepted, f"row {number} ({stock_number[:64]})", fault.remedy, fault.lead)


def said(text: str) -> str:
    """A text with the trailer file's dotted names in the words of the list."""

    def words(match: re.Match[str]) -> str:
        column = by_key().get(path_of_fault(match[0]))
        return column.words if column else match[0]

    named = PATH.sub(words, text)
    return LISTS[named].title.lower() if named in LISTS else named


def sentence(fault: Fault) -> str:
    """A fault as a page shows it."""
    said = fault.sentence
    return said[:1].upper() + said[1:]
