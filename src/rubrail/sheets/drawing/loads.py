"""Loads where they act: arrows under the axles and at the coupler, each with its value, its limit and its verdict."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rubrail.sheets.drawing.lettering import Box, text_width
from rubrail.sheets.drawing.marks import bar_elements, verdict_shape
from rubrail.sheets.drawing.say import NOT_KNOWN, load
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.svg import group
from rubrail.sheets.drawing.tokens import SMALL, TEXT, VERDICT_COLORS

PLACES = ("truck-front", "truck-rear", "coupler", "axles")
_NAMES = {"truck-front": "front axle", "truck-rear": "rear axle", "coupler": "coupler", "axles": "trailer axles"}
_ARROW = 20.0
_ROW = 13.0
_BAR_WIDE, _BAR_HIGH = 56.0, 4.0
_MARK = 4.6


@dataclass(frozen=True, slots=True)
class LoadMark:
    """One load and what it is held against.

    place
        One of ``PLACES``.
    value_lb, limit_lb
        Pounds; nan where not known; no limit is inf.
    verdict
        Verdict word, or ``""`` to show none.
    governs
        Whether this is the limit that governs the rig; lettered larger.
    plus_minus_lb
        Tolerance of the margin.
    """

    place: str
    value_lb: float
    limit_lb: float = math.inf
    verdict: str = ""
    governs: bool = False
    plus_minus_lb: float = 0.0

    def __post_init__(self) -> None:
        if self.place not in PLACES:
            raise ValueError(f"place must be one of {', '.join(PLACES)}, got {self.place!r}")


def axle_load(sheet: Sheet, mark: LoadMark, xs_in: Sequence[float], *, metric: bool) -> float:
    """A load under one axle or an equalized group; returns where its lettering ends, px."""
    view = sheet.view
    xs = [view.x(x) for x in xs_in]
    middle = sum(xs) / len(xs)
    for x in xs:
        sheet.stroke(x, _ARROW, x, 8, pen="load")
        sheet.head(x, 3, 0, -1, size=7, pen="load-head")
    if len(xs) > 1:
        sheet.stroke(xs[0], _ARROW, xs[-1], _ARROW, pen="load")
    block = _Block(mark, metric=metric)
    x = sheet.board.clamped(middle, block.width)
    rows = [_ARROW + 3 + shift for shift in (i * (block.height / 2 + 2) for i in range(10))]
    boxes = [Box(x - block.width / 2, y, x + block.width / 2, y + block.height) for y in rows]
    chosen = sheet.board.first_free(boxes)
    y = rows[chosen if chosen is not None else 0]
    if chosen:
        sheet.stroke(middle, _ARROW, middle, y - 1, pen="extension")
    return block.draw(sheet, x, y)


def coupler_load(sheet: Sheet, mark: LoadMark, *, top_in: float, clear_y: float, metric: bool) -> float:
    """The load on the hitch, from above; returns the top of its lettering, px.

    Parameters
    ----------
    top_in : float
        Height of what stands over the coupling point, where the arrow ends.
    clear_y : float
        px above which nothing stands beside the coupling point.
    """
    block = _Block(mark, metric=metric, upward=True)
    up = mark.value_lb < 0
    tip = sheet.view.y(top_in) - 2
    tail = min(clear_y - 4, tip - 16)
    sheet.head(0, tail if up else tip, 0, -1 if up else 1, size=7, pen="load-head")
    start = tip - (0 if up else 6)
    x = sheet.board.clamped(0.0, block.width)
    y = tail - 3 - block.height
    step = 6.0
    while not sheet.board.free(Box(x - block.width / 2, y, x + block.width / 2, y + block.height)) and y > tail - 160:
        y -= step
    # Broken where it would run through a name.
    for a, b in sheet.board.gaps(0.0, min(y + block.height + 2, tail), start):
        sheet.stroke(0, a, 0, b, pen="load")
    sheet.board.take(Box(x - block.width / 2, y, x + block.width / 2, y + block.height))
    block.draw(sheet, x, y)
    return y


class _Block:
    """Value, bar, limit and name under each other."""

    def __init__(self, mark: LoadMark, *, metric: bool, upward: bool = False) -> None:
        self.mark = mark
        self.size = TEXT + 2 if mark.governs else TEXT
        self.value = load(mark.value_lb, metric=metric)
        self.limit = ""
        if math.isnan(mark.limit_lb):
            self.limit = f"limit {NOT_KNOWN}"
        elif math.isfinite(mark.limit_lb):
            self.limit = f"of {load(mark.limit_lb, metric=metric)}"
        self.name = _NAMES[mark.place] + (", governs" if mark.governs else "")
        self.has_bar = self.limit != ""
        self.value_width = text_width(self.value, self.size, bold=True) + (2 * _MARK + 5 if mark.verdict else 0)
        self.width = max(
            self.value_width, text_width(self.limit, SMALL), text_width(self.name, SMALL, bold=mark.governs),
            _BAR_WIDE if self.has_bar else 0,
        )  # fmt: skip
        self.height = self.size + (8 if self.has_bar else 0) + _ROW * ((1 if self.limit else 0) + 1)

    def draw(self, sheet: Sheet, x: float, y: float) -> float:
        """Letter it with its upper edge at ``y``; returns its lower edge."""
        mark = self.mark
        # The block's room is taken already; its own texts must not push each other.
        taken = list(sheet.board.taken)
        color = VERDICT_COLORS.get(mark.verdict, "ink")
        baseline = y + self.size * 0.78
        left = x - self.value_width / 2
        if mark.verdict:
            sheet.add(
                verdict_shape(mark.verdict, left + _MARK, baseline - self.size * 0.34, radius=_MARK), layer="letters"
            )
            left += 2 * _MARK + 5
        sheet.letter(
            left, baseline, self.value, size=self.size, bold=True, color=color if mark.governs else "ink",
            data_load=mark.place, data_value_lb=_data(mark.value_lb),
        )  # fmt: skip
        at = baseline + 5
        if self.has_bar:
            bar = bar_elements(
                x - _BAR_WIDE / 2,
                at,
                width=_BAR_WIDE,
                height=_BAR_HIGH,
                demand=mark.value_lb,
                limit=mark.limit_lb,
                verdict=mark.verdict,
                plus_minus=0.0,
            )
            sheet.add(group(*bar, data_bar=mark.place), layer="letters")
            at += _BAR_HIGH + 2
        for text, bold in ((self.limit, False), (self.name, mark.governs)):
            if text:
                at += _ROW - 2
                sheet.letter(x, at, text, anchor="middle", bold=bold, color="ink" if bold else "steel")
        sheet.board.taken = taken
        sheet.reach(y - 2, at + 4)
        return at + 4


def _data(value: float) -> str | None:
    return None if math.isnan(value) else f"{value:.0f}"
