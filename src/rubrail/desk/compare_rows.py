"""A comparison as the page shows it: sections of rows, each cell in words, what is the same for all put aside."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from rubrail.answers.compare import Comparison, Row
from rubrail.answers.compare_limits import LimitRow, limit_rows, told_rows
from rubrail.answers.report import Line
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.desk.models import Unit
from rubrail.quantity.money import show_money
from rubrail.sheets.sentences_amounts import MINUS, amount
from rubrail.sheets.sentences_lines import spare, yes_or_no
from rubrail.sheets.sentences_words import KIND_HEADS, begin, limit_name

NOT_KNOWN = "not known"
SECTIONS = (
    ("What it carries", ("payload-label", "payload-alone", "payload-truck", "payload-here")),
    ("Price", ("price", "price-per-lb")),
    ("The trailer", ("empty", "gvwr", "deck-height", "deck-length", "deck-width")),
    ("The rig, loaded", ("gross", "coupler", "share", "truck-rear", "reserve", "height")),
)
"""Headings, and the rows of the comparison under them, after what decides."""
TAX_ROW = "tax-weight"


@dataclass(frozen=True, slots=True)
class Cell:
    """What one unit shows on a row.

    verdict : a verdict word whose shape stands before the text, ``""`` for none; more : small words after it
    """

    text: str
    verdict: str = ""
    best: bool = False
    more: str = ""


@dataclass(frozen=True, slots=True)
class ShownRow:
    """One thing compared, a cell a unit."""

    title: str
    cells: tuple[Cell, ...]

    @property
    def same(self) -> bool:
        """Whether all units show the same."""
        return len({(c.text, c.verdict, c.more) for c in self.cells}) == 1


@dataclass(frozen=True, slots=True)
class Section:
    """Rows under a heading."""

    title: str
    rows: tuple[ShownRow, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """A whole comparison.

    sections : what decides, then rows on which units differ; same : rows on which they do not;
    ample : limits with plenty left
    """

    sections: tuple[Section, ...]
    same: tuple[ShownRow, ...]
    ample: tuple[ShownRow, ...]


def shown(comparison: Comparison, units: Sequence[Unit], *, metric: bool, money: bool) -> Shown:
    """A comparison in words.

    Parameters
    ----------
    comparison : Comparison
    units : sequence of Unit
        The same units, in the same order.
    metric : bool
        Kilograms and meters.
    money : bool
        Whether cost and what is left at the price are shown.
    """
    by_key = {r.key: r for r in comparison.rows}
    sections = []
    for title, keys in SECTIONS:
        rows = [_plain(by_key[key], metric=metric) for key in keys]
        if title == "Price" and money:
            rows += _of_money(units)
        sections.append(Section(title, tuple(rows)))
    limits = limit_rows(comparison.weighings)
    for kind in (*VERDICT_KINDS, "guidance"):
        close = [_limit(r, metric=metric) for r in limits if r.close and r.kind == kind]
        sections.append(Section(f"{KIND_HEADS[kind]}: what is left", tuple(close)))
    told = [_told(r, metric=metric) for r in told_rows(comparison.weighings)]
    sections.append(Section("Duties and tax", (*told, _plain(by_key[TAX_ROW], metric=metric))))
    differ = [Section(s.title, tuple(r for r in s.rows if not r.same)) for s in sections]
    decides = Section("What decides", (_deciding(comparison, metric=metric), _plain(by_key["margin"], metric=metric)))
    ample = tuple(_limit(r, metric=metric) for r in limits if not r.close)
    return Shown(
        (decides, *(s for s in differ if s.rows)),
        tuple(r for s in sections for r in s.rows if r.same),
        ample,
    )


def _deciding(comparison: Comparison, *, metric: bool) -> ShownRow:
    """The limit that governs each unit, and what it leaves."""
    cells = []
    for w in comparison.weighings:
        line = w.governing
        if line is None:
            cells.append(Cell("no limit near"))
            continue
        name = begin(limit_name(line.title, line.member))
        cells.append(Cell(name, more=spare(line, metric=metric)))
    return ShownRow("The limit that governs", tuple(cells))


def _plain(row: Row, *, metric: bool) -> ShownRow:
    cells = []
    for i, value in enumerate(row.values):
        text = _worded(value, row.unit, metric=metric)
        # Nothing is best among what does not hold.
        best = i in row.best and not (row.key == "margin" and value < 0)
        cells.append(Cell(text, NOT_KNOWN if text == NOT_KNOWN else "", best))
    return ShownRow(begin(row.title), tuple(cells))


def _worded(value: float | str, unit: str, *, metric: bool) -> str:
    if isinstance(value, str):
        return value
    return "–" if math.isinf(value) else amount(value, unit, metric=metric)


def _of_money(units: Sequence[Unit]) -> list[ShownRow]:
    rows = (("Cost", [u.cost_usd for u in units]), ("Margin at this price", [u.margin_usd for u in units]))
    return [ShownRow(t, tuple(_dollars(v) for v in vs)) for t, vs in rows]


def _dollars(value: Decimal | None) -> Cell:
    return Cell(NOT_KNOWN, NOT_KNOWN) if value is None else Cell(show_money(value))


def _limit(row: LimitRow, *, metric: bool) -> ShownRow:
    cells = tuple(_left(line, best=i in row.best, metric=metric) for i, line in enumerate(row.lines))
    return ShownRow(begin(row.title), cells)


def _left(line: Line | None, *, best: bool, metric: bool) -> Cell:
    """What is left of one limit on one unit."""
    if line is None:
        return Cell("does not apply")
    if line.verdict == NOT_KNOWN:
        return Cell(NOT_KNOWN, NOT_KNOWN)
    if yes_or_no(line) or not math.isfinite(line.margin):
        return Cell({"clear": "holds", "over": "does not hold"}.get(line.verdict, line.verdict), line.verdict)
    past = line.margin < 0 and line.verdict == "over"
    text = amount(abs(line.margin) if past else max(line.margin, 0.0), line.unit, metric=metric)
    return Cell(f"{MINUS if past else ''}{text}", line.verdict, best, line.member)


def _told(row: LimitRow, *, metric: bool) -> ShownRow:
    cells = []
    for line in row.lines:
        reached = line is not None and line.verdict in ("applies", "may apply")
        if not reached or yes_or_no(line) or not math.isfinite(line.margin):
            cells.append(Cell(line.verdict if line else "does not apply"))
            continue
        away = amount(abs(line.margin), line.unit, metric=metric)
        way = "below the line" if line.margin > 0 else "past the line"
        cells.append(Cell(line.verdict, more=f"{away} {way}" if line.margin else "at the line"))
    return ShownRow(begin(row.title), tuple(cells))
