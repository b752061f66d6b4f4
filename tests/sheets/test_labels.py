"""Labels: every unit on one, set large, its code read back module by module and leading to its page."""

from __future__ import annotations

import re

import pytest

from answers.yard import yard
from rubrail.sheets.paper.labels import CARRIES, GOVERNS, SIZES, LabelFacts, label_sheet, labels_of
from rubrail.sheets.paper.press import press, qr
from rubrail.sheets.sentences_amounts import amount
from sheets.papers import needs_poppler, outside, told, type_of, words
from support.qr_reading import modules, read_qr

ADDRESS = "https://yard.example/"
STOCKS = ("SH-191", "SH-172", "SH-212", "SH-101", "SH-141", "SH-103", "SH-194", "SH-203", "SH-213", "SH-133")
ODD = (
    LabelFacts("A-VERY-LONG.STOCK_NUMBER-THAT-GOES-ON-1234567890-ABCDEFGHIJKLMN", "w " * 99, None, None, ADDRESS),
    LabelFacts("B", "", 22_500.0, 15_380.0),
    LabelFacts('#x *y* $z$ <a> "q"', "_x_ @y \\ [z]", 1.0, 1.0, ADDRESS),
)


def units():
    return labels_of([yard().trailers[s] for s in STOCKS], address=ADDRESS)


def rows(sheet):
    return [row for block in sheet.blocks if block.kind == "labels" for row in block.rows]


@pytest.mark.parametrize("size", SIZES)
def test_every_code_leads_to_its_units_page(size):
    found = rows(label_sheet(units(), size=size))
    assert [r.number for r in found] == list(STOCKS)
    for row in found:
        assert read_qr(row.code) == f"{ADDRESS}trailer/{row.number}.html"


@pytest.mark.parametrize("letters", range(1, 120, 7))
def test_the_reader_reads_codes_of_every_size(letters):
    address = ADDRESS + "aB-9"[letters % 4] * letters
    assert read_qr(qr(address)) == address


def test_the_reader_notices_one_wrong_module():
    svg = qr(f"{ADDRESS}trailer/SH-191.html")
    size = len(modules(svg))
    # One stroke of the last row, one module shorter.
    broken = re.sub(r"h(\d+)(?=\"/>)", lambda m: f"h{int(m[1]) - 1}", svg)
    assert broken != svg
    assert len(modules(broken)) == size
    with pytest.raises(AssertionError, match="not where it belongs"):
        read_qr(broken)


@pytest.mark.parametrize("metric", [False, True])
def test_labels_say_what_the_engine_says(metric):
    for facts, row in zip(units(), rows(label_sheet(units(), metric=metric)), strict=True):
        trailer = yard().trailers[facts.stock_number]
        figures = dict(row.figures)
        assert figures["Label GVWR"] == amount(float(trailer.ratings.gvwr_lb), "lb", metric=metric)
        carries = "not known" if facts.payload_lb is None else amount(facts.payload_lb, "lb", metric=metric)
        assert figures[CARRIES] == carries
        assert GOVERNS in row.foot
    assert [u.payload_lb for u in units() if u.stock_number == "SH-172"] == [None], "an unknown is on one of them"


@needs_poppler
@pytest.mark.parametrize("on", ["letter", "a4"])
@pytest.mark.parametrize("size", SIZES)
def test_they_are_set_on_both_papers(size, on):
    pdf = press(label_sheet([*units(), *ODD], size=size, yard="Sedge Hollow", date="Nov 28, 2026"), on=on)
    pages, _ = words(pdf)
    across, down = SIZES[size]
    assert len(pages) == -(-(len(STOCKS) + len(ODD)) // (across * down))
    assert outside(pdf) == []
    assert all(n.startswith("SourceSansPro") for n in type_of(pdf))
    text = told(pdf)
    for stock in STOCKS:
        assert stock in text
    assert "not known" in text
    assert '#x *y* $z$ <a> "q"' in text
    assert "15,380 lb" in text


@needs_poppler
def test_the_number_is_the_largest_on_a_label():
    _, found = words(press(label_sheet(units()[:1], size="weather", yard="Sedge Hollow")))
    height = {w.text: w.y2 - w.y1 for w in found}
    assert height["SH-191"] == max(height.values()) > 80


def test_no_labels_and_no_such_size():
    assert rows(label_sheet([])) == []
    assert press(label_sheet([]))[:5] == b"%PDF-"
    with pytest.raises(ValueError, match="one of labels, weather"):
        label_sheet([], size="poster")


def test_without_an_address_a_label_has_no_code():
    (row,) = rows(label_sheet(labels_of([yard().trailers["SH-191"]])))
    assert (row.code, row.code_says) == ("", "")
