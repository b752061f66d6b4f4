"""Files at the door: read whatever honest programs write, refuse the rest in one sentence, never a traceback."""

from __future__ import annotations

import io
import zipfile
from datetime import date, datetime

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.worksheet.hyperlink import Hyperlink

from rubrail.desk.lists import reading, workbook
from rubrail.desk.lists.reading import UnreadableFileError, read_sheet

LIST = "Stock,Maker\nA-1,Größe & Söhne\n"


def read(data: bytes | str):
    return read_sheet(data.encode() if isinstance(data, str) else data, name="list")


def refused(data: bytes | str) -> str:
    with pytest.raises(UnreadableFileError) as told:
        read(data)
    said = str(told.value)
    assert said.startswith("'list' "), said
    assert said.endswith("."), said
    assert "\n" not in said, said
    return said


def book_of(*rows, **sheets) -> bytes:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    for name, more in sheets.items():
        sheet = book.create_sheet(name)
        for row in more:
            sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def repacked(data: bytes, **parts: bytes) -> bytes:
    """A workbook with some parts in place of its own; names with slashes come as ``xl__workbook_xml``."""
    named = {name.replace("__", "/").replace("_xml", ".xml"): part for name, part in parts.items()}
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.namelist():
            if part not in named:
                new.writestr(part, old.read(part))
        for part, content in named.items():
            new.writestr(part, content)
    return out.getvalue()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_encodings_and_separators(encoding: str, separator: str, ending: str):
    text = LIST.replace(",", separator).replace("\n", ending)
    sheet = read(text.encode(encoding))
    assert sheet.headings == ("Stock", "Maker")
    assert sheet.rows == ((2, ("A-1", "Größe & Söhne")),)
    assert sheet.kind == "csv"


def test_separator_is_the_one_that_cuts_evenly():
    sheet = read('Stock;Price;What\nA-1;1.234,50;"20 ft, tilt; black"\nA-2;9,5;x\n')
    assert sheet.rows[0][1] == ("A-1", "1.234,50", "20 ft, tilt; black")


def test_quoted_lines_and_doubled_quotation_marks():
    sheet = read('Stock,Notes\nA-1,"two\nlines and 8\'6"" tall"\nA-2,8\'6"\n')
    assert sheet.rows == ((2, ("A-1", "two\nlines and 8'6\" tall")), (3, ("A-2", "8'6\"")))


def test_a_title_above_the_headings_and_empty_rows_are_passed_over_and_rows_keep_their_numbers():
    sheet = read("Our yard\n\nStock,Maker\n,\nA-1,x\n\nA-2,y,\n")
    assert sheet.headings == ("Stock", "Maker")
    assert sheet.rows == ((5, ("A-1", "x")), (7, ("A-2", "y")))


def test_rows_longer_than_the_headings_get_columns_without_one():
    sheet = read("Stock,Maker\nA-1,x,more\n")
    assert sheet.headings == ("Stock", "Maker", "")
    assert sheet.rows[0][1] == ("A-1", "x", "more")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "is empty."),
        (b"  \n \n", "is empty."),
        (b"Stock\nA-1\n", "no row of headings"),
        (b"Stock,Maker\n", "no rows below"),
        (b"Stock,Maker\nA-1,x\0y\n", "neither a workbook nor readable text"),
        (b"Stock,Maker\nA-1,\x81\x8d\n", "neither a workbook nor readable text"),
        (b'Stock,Maker\nA-1,"never closed\nA-2,y\n', "quotation marks in row 2"),
        (b'Stock,Maker\nA-1,x\nA-2,"a"b\n', "quotation marks in row 3"),
        (b"Stock,Maker\nA-1," + b"x" * 200_000 + b"\n", "a cell in row 2 that is too long"),
        (b"Stock,Maker\nA-1" + b",1" * 700 + b"\n", "more than 600 columns"),
        (b"PK\x03\x04 and nothing more", "cannot be read as a workbook"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "of the old kind or one with a password"),
        (b"\x89PNG\r\n\x1a\n\0\0", "neither a workbook nor readable text"),
    ],
)
def test_what_is_no_list_is_refused(data: bytes, says: str):
    assert says in refused(data)


def test_too_many_rows_and_too_many_bytes(monkeypatch):
    monkeypatch.setattr(reading, "MOST_ROWS", 3)
    assert len(read("a,b\n" + "1,2\n" * 3).rows) == 3
    assert "more than 3 rows" in refused("a,b\n" + "1,2\n" * 4)
    monkeypatch.setattr(reading, "MOST_BYTES", 10)
    assert "at most" in refused("a,b\n1,2\n3,4\n")


def test_a_huge_cell_is_cut_so_that_its_own_field_can_refuse_it():
    sheet = read("Stock,Notes\nA-1," + "x" * 60_000 + "\n")
    assert len(sheet.rows[0][1][1]) == reading.LONGEST_CELL + 1


def test_workbook_kinds_become_text():
    rows = [["Stock", "Year", "Height", "Fitted", "Arrived", "At", "Small"]]
    rows.append(["A-1", 2026, 24.25, True, date(2026, 3, 2), datetime(2026, 3, 2, 14, 30), 1e-05])
    sheet = read(book_of(*rows))
    assert sheet.kind == "workbook"
    assert sheet.rows == ((2, ("A-1", "2026", "24.25", "yes", "2026-03-02", "2026-03-02 14:30:00", "0.00001")),)


def test_first_filled_sheet_is_read_and_the_others_are_named():
    sheet = read(book_of(Later=[["Stock", "Maker"], ["A-1", "x"]], Notes=[["by the way", "x"]]))
    assert sheet.note == "workbook, sheet 'Later'; 2 other sheets are not read"
    assert sheet.rows == ((2, ("A-1", "x")),)


def test_hidden_sheets_are_not_read():
    book = openpyxl.Workbook()
    book.active.append(["Secret", "x"])
    book.active.sheet_state = "hidden"
    book.create_sheet("Shown").append(["Stock", "Maker"])
    book["Shown"].append(["A-1", "y"])
    out = io.BytesIO()
    book.save(out)
    assert read(out.getvalue()).headings == ("Stock", "Maker")


def test_of_formulas_the_last_value_is_read_and_none_is_worked_out():
    data = book_of(["Stock", "Weight"], ["A-1", "=1000+2000"])
    assert read(data).rows == ((2, ("A-1", "")),), "nobody worked it out yet"
    sheet = zipfile.ZipFile(io.BytesIO(data)).read("xl/worksheets/sheet1.xml")
    worked = sheet.replace(b"<f>1000+2000</f><v></v>", b"<f>1000+2000</f><v>3000</v>")
    worked = worked.replace(b"<f>1000+2000</f><v />", b"<f>1000+2000</f><v>3000</v>")
    assert worked != sheet
    assert read(repacked(data, xl__worksheets__sheet1_xml=worked)).rows == ((2, ("A-1", "3000")),)


def test_links_to_other_files_are_not_followed():
    book = openpyxl.Workbook()
    book.active.append(["Stock", "Maker"])
    book.active.append(["A-1", "x"])
    book.active["A2"].hyperlink = Hyperlink(ref="A2", target="file:///etc/passwd")
    out = io.BytesIO()
    book.save(out)
    assert read(out.getvalue()).rows == ((2, ("A-1", "x")),)


def test_a_workbook_that_unpacks_to_too_much(monkeypatch):
    data = repacked(book_of(["Stock", "Maker"], ["A-1", "x"]), xl__more_xml=b"<a>" + b"0" * 3_000_000 + b"</a>")
    assert len(data) < 20_000
    monkeypatch.setattr(workbook, "MOST_UNPACKED_BYTES", 1_000_000)
    assert "unpacks to more than 1 MB" in refused(data)


def test_a_workbook_whose_parts_lie_about_their_size():
    data = bytearray(
        repacked(book_of(["Stock", "Maker"], ["A-1", "x"]), xl__styles_xml=b"<a>" + b"0" * 90_000 + b"</a>")
    )
    # both places where the size before packing is written: 90,007 bytes
    lied = bytes(data).replace((90_007).to_bytes(4, "little"), (7).to_bytes(4, "little"))
    assert lied != bytes(data)
    assert "cannot be read as a workbook" in refused(lied)


GROWING = (
    b'<?xml version="1.0"?><!DOCTYPE w [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>'
    b"<workbook>&b;</workbook>"
)
OUTSIDE = b'<?xml version="1.0"?><!DOCTYPE w [<!ENTITY a SYSTEM "file:///etc/passwd">]><workbook>&a;</workbook>'


@pytest.mark.parametrize("part", [GROWING, OUTSIDE, b"<!-- " + b"x" * 9_000 + b" -->" + OUTSIDE.partition(b"?>")[2]])
@pytest.mark.parametrize("name", ["xl__workbook_xml", "xl__sharedStrings_xml", "xl__worksheets__sheet1_xml"])
def test_a_workbook_that_declares_entities(part: bytes, name: str):
    data = repacked(book_of(["Stock", "Maker"], ["A-1", "x"]), **{name: part})
    assert "declares entities" in refused(data)


def test_a_sheet_that_claims_to_be_vast():
    data = book_of(["Stock", "Maker"], ["A-1", "x"])
    sheet = zipfile.ZipFile(io.BytesIO(data)).read("xl/worksheets/sheet1.xml")
    vast = sheet.replace(b'<dimension ref="A1:B2"', b'<dimension ref="A1:XFD1048576"')
    assert vast != sheet
    assert read(repacked(data, xl__worksheets__sheet1_xml=vast)).rows == ((2, ("A-1", "x")),)


def test_a_cell_far_to_the_right_is_too_many_columns():
    book = openpyxl.Workbook()
    book.active.append(["Stock", "Maker"])
    book.active["XFD2"] = "x"
    book.active["A2"] = "A-1"
    out = io.BytesIO()
    book.save(out)
    # What stands right of the last column that is read is not looked at.
    assert read(out.getvalue()).rows == ((2, ("A-1", "")),)


def test_a_packed_file_that_is_no_workbook():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("list.csv", LIST)
    assert "no workbook" in refused(out.getvalue())


def read_or_refused(data: bytes) -> bool:
    """Whether a file is a list with as many cells in every row as it has columns, or refused in a sentence."""
    try:
        sheet = read(data)
    except UnreadableFileError as told:
        return str(told).startswith("'list' ") and str(told).endswith(".")
    return all(len(cells) == len(sheet.headings) for _, cells in sheet.rows)


@given(st.binary(max_size=200))
@settings(max_examples=150, deadline=None)
def test_anything_else_is_read_or_refused(data: bytes):
    assert read_or_refused(data)


WHOLE = book_of(["Stock", "Maker"], ["A-1", "x"], ["A-2", 5.5])


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_a_damaged_workbook_is_read_or_refused(data):
    whole = bytearray(WHOLE)
    for _ in range(data.draw(st.integers(1, 12))):
        whole[data.draw(st.integers(0, len(whole) - 1))] = data.draw(st.integers(0, 255))
    assert read_or_refused(bytes(whole))
