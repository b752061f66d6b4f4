"""Read the first filled sheet of a workbook as rows of text, whatever the workbook may have been made for."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any
from xml.parsers import expat

MOST_PARTS = 2_000
MOST_UNPACKED_BYTES = 200 * 1024 * 1024
MOST_SHEETS = 100
MOST_SCANNED_ROWS = 1_048_576
"""Rows a sheet has at most, filled or not."""
BROKEN = "cannot be read as a workbook; open it in the spreadsheet it is from and save it anew."


class WorkbookError(ValueError):
    """The workbook is not taken; words that follow the file's name."""


class _RootReachedError(Exception):
    """The part of a document where it may declare things of its own is over."""


def rows_of_workbook(data: bytes, *, most_columns: int) -> tuple[str, Iterator[list[str]]]:
    """How the workbook was read, in words, and the rows of its first filled sheet.

    Formulas give the value they last had; links to other files are not followed.

    Parameters
    ----------
    data : bytes
        The whole file.
    most_columns : int
        Cells right of these are not read.

    Raises
    ------
    WorkbookError
        If it unpacks to too much, declares entities, or is no workbook; while the rows are read, too.
    """
    _check_parts(data)
    from openpyxl import load_workbook

    try:
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
        sheets = [s for s in book.worksheets[:MOST_SHEETS] if s.sheet_state == "visible"]
        sheet = next((s for s in sheets if any(any(row) for row in _texts(s, most_columns))), None)
    except WorkbookError:
        raise
    except Exception:  # openpyxl raises whatever the broken part happens to cause
        raise WorkbookError(BROKEN) from None
    if sheet is None:
        raise WorkbookError("has no sheet with anything in it.")
    others = len(book.worksheets) - 1
    left = f"; {others} other {'sheet is' if others == 1 else 'sheets are'} not read" if others else ""
    return f"workbook, sheet {sheet.title[:40]!r}{left}", _texts(sheet, most_columns)


def _check_parts(data: bytes) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            parts = packed.infolist()
            if len(parts) > MOST_PARTS or sum(p.file_size for p in parts) > MOST_UNPACKED_BYTES:
                raise WorkbookError(
                    f"unpacks to more than {MOST_UNPACKED_BYTES / 1e6:.0f} MB; save only the list, as CSV."
                )
            if "[Content_Types].xml" not in packed.namelist():
                raise WorkbookError("is packed, and no workbook; save it as .xlsx or as CSV.")
            for part in parts:
                if part.filename.lower().endswith((".xml", ".rels", ".vml")):
                    with packed.open(part) as file:
                        _refuse_declarations(file)
    except WorkbookError:
        raise
    except Exception:  # unpacking raises whatever the damage happens to cause
        raise WorkbookError(BROKEN) from None


def _refuse_declarations(file: Any) -> None:
    """Read an XML part up to its root: one that declares a document type may hold entities that grow without end."""
    parser = expat.ParserCreate()

    def refuse(*_: Any) -> None:
        raise WorkbookError("declares entities, which no workbook needs; it is not taken.")

    def stop(*_: Any) -> None:
        raise _RootReachedError

    parser.StartDoctypeDeclHandler = refuse
    parser.StartElementHandler = stop
    try:
        while piece := file.read(4096):
            parser.Parse(piece)
    except _RootReachedError:
        return


def _texts(sheet: Any, most_columns: int) -> Iterator[list[str]]:
    # What a sheet says of its own size may be wrong or made up.
    sheet.reset_dimensions()
    try:
        for number, row in enumerate(sheet.iter_rows(values_only=True, max_col=most_columns)):
            if number >= MOST_SCANNED_ROWS:
                return
            yield [_text(value) for value in row]
    except WorkbookError:
        raise
    except Exception:  # as above: rows are read as they are asked for
        raise WorkbookError(BROKEN) from None


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return format(Decimal(repr(value)), "f").removesuffix(".0")
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ")
    if isinstance(value, date):
        return value.isoformat()
    return str(value)
