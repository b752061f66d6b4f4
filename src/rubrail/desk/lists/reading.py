"""Read a list somebody uploads, CSV or workbook, into rows of text; what is wrong with the file is one sentence."""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from rubrail.desk.lists.workbook import rows_of_workbook
from rubrail.sheets.cells import unguard

MOST_BYTES = 24 * 1024 * 1024
MOST_ROWS = 20_000
MOST_COLUMNS = 600
LONGEST_CELL = 5_000
SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright bars"}
MARKS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))
ZIP_MARK = b"PK\x03\x04"
OLD_WORKBOOK_MARK = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
ENCODING_WORDS = {"utf-8": "UTF-8", "utf-8-sig": "UTF-8", "utf-16": "UTF-16", "cp1252": "Windows-1252"}
SNIFFED_LINES = 30


class UnreadableFileError(ValueError):
    """The file cannot be read as a list; the message is a sentence for the person who sent it."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A list as it came.

    Parameters
    ----------
    kind : str
        ``csv`` or ``workbook``.
    note : str
        How it was read, in words.
    headings : tuple of str
        One a column, ``""`` where there is none.
    rows : tuple of (int, tuple of str)
        The number a spreadsheet gives the row, and its cells, one a column; empty rows are left out.
    """

    kind: str
    note: str
    headings: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]


def read_sheet(data: bytes, *, name: str) -> Sheet:
    """The list a file holds.

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        What it was called, for sentences only: what it is, is told by its content.

    Raises
    ------
    UnreadableFileError
        If it is too large, none of the accepted kinds, broken, or holds nothing.
    """
    shown = f"{name[:60]!r}"
    if len(data) > MOST_BYTES:
        raise UnreadableFileError(f"{shown} has {len(data) / 1e6:.0f} MB; at most {MOST_BYTES / 1e6:.0f} MB is taken.")
    if not data.strip():
        raise UnreadableFileError(f"{shown} is empty.")
    if data.startswith(OLD_WORKBOOK_MARK):
        raise UnreadableFileError(
            f"{shown} is a workbook of the old kind or one with a password; save it as .xlsx without one, or as CSV."
        )
    try:
        if data.startswith(ZIP_MARK):
            note, rows = rows_of_workbook(data, most_columns=MOST_COLUMNS + 1)
            return _sheet("workbook", note, rows)
        note, rows = _rows_of_csv(data)
        return _sheet("csv", note, rows)
    except UnreadableFileError as fault:
        raise UnreadableFileError(f"{shown} {fault}") from None
    except ValueError as fault:
        raise UnreadableFileError(f"{shown} {fault}") from fault


def _sheet(kind: str, note: str, rows: Iterable[Sequence[str]]) -> Sheet:
    filled = _filled(rows)
    # A title above the list stands in one cell; headings are at least two.
    headings = next((cells for _, cells in filled if sum(map(bool, cells)) > 1), None)
    if headings is None:
        raise UnreadableFileError("has no row of headings: a stock number and at least one column more are needed.")
    taken: list[tuple[int, tuple[str, ...]]] = []
    for number, cells in filled:
        if len(taken) == MOST_ROWS:
            raise UnreadableFileError(f"has more than {MOST_ROWS:,} rows; split it.")
        taken.append((number, cells))
    if not taken:
        raise UnreadableFileError("has headings and no rows below them.")
    width = max(len(headings), *(len(cells) for _, cells in taken))
    padded = tuple((n, cells + ("",) * (width - len(cells))) for n, cells in taken)
    return Sheet(kind, note, headings + ("",) * (width - len(headings)), padded)


def _filled(rows: Iterable[Sequence[str]]) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Rows with something in them, by their number, without what is empty at their end."""
    for number, row in enumerate(rows, 1):
        cells = [c.strip()[: LONGEST_CELL + 1] for c in row]
        while cells and not cells[-1]:
            cells.pop()
        if len(cells) > MOST_COLUMNS:
            raise UnreadableFileError(f"has more than {MOST_COLUMNS} columns; leave some out.")
        if cells:
            yield number, tuple(cells)


def _rows_of_csv(data: bytes) -> tuple[str, Iterator[list[str]]]:
    text, encoding = _decoded(data)
    separator = separator_of(text)
    note = f"CSV in {ENCODING_WORDS[encoding]}, with {SEPARATORS[separator]} between the columns"
    return note, _records(text, separator)


def _decoded(data: bytes) -> tuple[str, str]:
    marked = next((encoding for mark, encoding in MARKS if data.startswith(mark)), None)
    for encoding in (marked,) if marked else ("utf-8", "cp1252"):
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" in text:
            break
        return text, encoding
    raise UnreadableFileError("is neither a workbook nor readable text; save it as .xlsx, or as CSV in UTF-8.")


def separator_of(text: str) -> str:
    """What stands between the columns: the mark that cuts the first lines into the most columns of one count."""
    lines = text.splitlines()[:SNIFFED_LINES]

    def worth(separator: str) -> tuple[int, int]:
        try:
            counts = [len(row) for row in csv.reader(lines, delimiter=separator) if any(row)]
        except csv.Error:
            return (0, 0)
        usual = max(set(counts), key=counts.count, default=1)
        return (counts.count(usual), usual) if usual > 1 else (0, 0)

    return max(SEPARATORS, key=worth)


def _records(text: str, separator: str) -> Iterator[list[str]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    number = 1
    try:
        for row in reader:
            yield [unguard(cell) for cell in row]
            number += 1
    except csv.Error as fault:
        if "limit" in str(fault):
            raise UnreadableFileError(f"has a cell in row {number} that is too long to be one.") from None
        raise UnreadableFileError(
            f"has quotation marks in row {number} that open and do not close rightly; "
            "a mark within a quoted cell is written twice."
        ) from None
