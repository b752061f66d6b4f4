"""Write the list to a file: CSV that a desk's spreadsheet opens right, or a workbook."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from rubrail.desk.lists.cells import Cell, cell_of, text_of
from rubrail.desk.lists.columns import LISTS, LOT, ListColumn, columns_for
from rubrail.desk.models import Unit
from rubrail.desk.permissions import role_may
from rubrail.desk.stock import leaves, put_together
from rubrail.sheets.cells import BEGINS_A_FORMULA, guard

ALWAYS = ("coupling.kind", "ratings.gvwr_lb", "weights.empty_lb", "axle:count", "deck.flat_length_in", "deck.width_in")
"""Columns that are there even where no unit fills them, besides those of the lot."""
BYTE_ORDER_MARK = "\ufeff"
WIDEST = 36


def list_of(
    units: Iterable[Unit], *, role: str, every_column: bool = False
) -> tuple[list[ListColumn], list[list[Cell]]]:
    """Columns and rows of units.

    Parameters
    ----------
    units : iterable of Unit
    role : str
        Whose export it is: cost is there only for those who may see it.
    every_column : bool
        Columns that no unit fills as well.
    """
    tables = [put_together(unit, with_cost=role_may(role, "money.see")) for unit in units]
    known = [dict(leaves(table)) for table in tables]
    counts = {name: max((len(t.get(name, ())) for t in tables), default=0) for name in LISTS}
    counts = {name: max(n, 2) if every_column else n for name, n in counts.items()}
    lot = {c.key for c in LOT}
    columns, filled = [], []
    for column in columns_for(counts):
        if not all(role_may(role, name) for name in column.reads):
            continue
        cells = [cell_of(column, values, table) for values, table in zip(known, tables, strict=True)]
        if every_column or column.key in lot or column.key in ALWAYS or any(c is not None for c in cells):
            columns.append(column)
            filled.append(cells)
    return columns, [list(row) for row in zip(*filled, strict=True)]


def csv_of(columns: Sequence[ListColumn], rows: Iterable[Sequence[Cell]], *, marked: bool) -> bytes:
    """The list as CSV in UTF-8, with commas.

    Parameters
    ----------
    marked : bool
        Begin with the byte order mark by which desk spreadsheets tell UTF-8.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow([c.heading for c in columns])
    for row in rows:
        writer.writerow([guard(c) if isinstance(c, str) else text_of(c) for c in row])
    return ((BYTE_ORDER_MARK if marked else "") + out.getvalue()).encode("utf-8")


def workbook_of(columns: Sequence[ListColumn], rows: Iterable[Sequence[Cell]]) -> bytes:
    """The list as a workbook with one sheet: numbers as numbers, days as days, text as nothing but text."""
    from openpyxl import Workbook
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    book = Workbook(write_only=True)
    sheet = book.create_sheet("Yard")
    sheet.freeze_panes = "B2"
    for number, column in enumerate(columns, 1):
        sheet.column_dimensions[get_column_letter(number)].width = min(max(len(column.heading) + 2, 11), WIDEST)
    head = []
    for column in columns:
        cell = WriteOnlyCell(sheet, column.heading)
        cell.font, cell.alignment = Font(bold=True), Alignment(wrap_text=True, vertical="top")
        head.append(cell)
    sheet.append(head)
    for row in rows:
        sheet.append([_text(sheet, WriteOnlyCell, c) if isinstance(c, str) else c for c in row])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _text(sheet: object, kind: type, text: str) -> object:
    if not BEGINS_A_FORMULA.match(text):
        return text
    # Said to be text both now and when somebody edits the cell later.
    cell = kind(sheet, text)
    cell.data_type, cell.quotePrefix = "s", True
    return cell
