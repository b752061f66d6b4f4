"""Cells of files for other programs: values as text, and text that no spreadsheet takes for a formula."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

BEGINS_A_FORMULA = re.compile(r"'*[=+\-@\t\r\n＝＋－＠]")


def guard(text: str) -> str:
    """A CSV text that no spreadsheet takes for a formula: an apostrophe before what would begin one."""
    return f"'{text}" if BEGINS_A_FORMULA.match(text) else text


def unguard(text: str) -> str:
    """The text that ``guard`` was given."""
    return text[1:] if text.startswith("'") and BEGINS_A_FORMULA.match(text) else text


def said(value: Any) -> str:
    """A value as text: amounts with two decimals, days as ``2026-11-25``, empty for none."""
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return f"{value:.2f}"
    return value.isoformat() if isinstance(value, date) else str(value)


def csv_file(heading: Iterable[str], rows: Iterable[Iterable[Any]]) -> bytes:
    """Rows as CSV in UTF-8, with commas; an unknown is an empty cell."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(heading)
    for row in rows:
        # Only text that people typed can begin a formula; a negative amount is an amount.
        writer.writerow([guard(v) if isinstance(v, str) else said(v) for v in row])
    return out.getvalue().encode("utf-8")
