"""Dimension lines: extension lines, arrowheads, the figure in a gap of the line, lanes that never cross."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rubrail.sheets.drawing.lettering import ASCENT, DESCENT, text_width
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.tokens import SMALL

PITCH = 17.0
"""From one lane to the next, px."""
_ARROW = 6.0
_GAP = 3.0
_PAST = 3.0
_BESIDE = 5.0
_STUB = 12.0
_MIDDLE = (ASCENT - DESCENT * 0.35) / 2 * SMALL


@dataclass(frozen=True, slots=True)
class Span:
    """A length along the trailer.

    x1_in, x2_in
        Its ends, inches.
    text
        The figure.
    z1_in, z2_in
        Height at which the extension lines leave the object.
    assumed
        Whether the length is not known; then the line is dashed.
    """

    x1_in: float
    x2_in: float
    text: str
    z1_in: float = 0.0
    z2_in: float = 0.0
    assumed: bool = False
    name: str = ""


@dataclass(frozen=True, slots=True)
class Rise:
    """A height, or in a plan a width, dimensioned in a column beside the drawing."""

    z1_in: float
    z2_in: float
    text: str
    x_in: float
    assumed: bool = False
    name: str = ""


@dataclass(slots=True)
class _Laid:
    span: Span
    x1: float
    x2: float
    lane: int
    text_x: float
    anchor: str
    outside: bool


def spans(sheet: Sheet, items: Sequence[Span], *, y: float, below: bool = True) -> float:
    """Lay lengths in lanes below or above the drawing; returns where the last lane ends.

    Parameters
    ----------
    sheet : Sheet
        Drawn on.
    items : sequence of Span
        Nearest the drawing first.
    y : float
        px of the drawing's edge the lanes start from.
    below : bool
        Lanes go down the page, else up.
    """
    lanes: list[list[tuple[float, float]]] = []
    laid: list[_Laid] = []
    for item in items:
        if abs(item.x2_in - item.x1_in) * sheet.view.scale < 1.0:
            continue
        laid.append(_place(sheet, item, lanes))
    step = PITCH if below else -PITCH
    for entry in laid:
        _draw_line(sheet, entry, y + step * (entry.lane + 0.75))
    _extensions(sheet, laid, y, step)
    end = y + step * (len(lanes) + 0.25) if lanes else y
    sheet.reach(end)
    return end


def _place(sheet: Sheet, item: Span, lanes: list[list[tuple[float, float]]]) -> _Laid:
    x1, x2 = sorted((sheet.view.x(item.x1_in), sheet.view.x(item.x2_in)))
    wide = text_width(item.text, SMALL)
    board = sheet.board
    options: list[tuple[float, float, float, str, bool]] = []
    if wide + 6 + 2 * (_ARROW + 2) <= x2 - x1:
        options.append((x1, x2, (x1 + x2) / 2, "middle", False))
    else:
        out = _STUB if x2 - x1 < 2 * _ARROW + 4 else 0.0
        near_right, near_left = x2 + out + _BESIDE, x1 - out - _BESIDE
        if near_right + wide <= board.right:
            options.append((x1 - out, near_right + wide + _BESIDE, near_right, "start", out > 0))
        if near_left - wide >= board.left:
            options.append((near_left - wide - _BESIDE, x2 + out, near_left, "end", out > 0))
        if not options:
            options.append((board.left, board.right, board.clamped((x1 + x2) / 2, wide), "middle", False))
    for lane in range(len(lanes) + 1):
        if lane == len(lanes):
            lanes.append([])
        for a, b, text_x, anchor, outside in options:
            if all(b <= p + 0.6 or a >= q - 0.6 for p, q in lanes[lane]):
                lanes[lane].append((a, b))
                return _Laid(item, x1, x2, lane, text_x, anchor, outside)
    raise AssertionError("a fresh lane always has room")


def _draw_line(sheet: Sheet, entry: _Laid, y: float) -> None:
    x1, x2, item = entry.x1, entry.x2, entry.span
    dashed = item.assumed
    wide = text_width(item.text, SMALL)
    if entry.anchor == "middle" and x2 - x1 > wide + 8:
        a, b = entry.text_x - wide / 2 - 3, entry.text_x + wide / 2 + 3
        sheet.stroke(x1, y, a, y, dashed=dashed)
        sheet.stroke(b, y, x2, y, dashed=dashed)
    else:
        sheet.stroke(x1, y, x2, y, dashed=dashed)
    if entry.outside:
        sheet.stroke(x1 - _STUB, y, x1, y)
        sheet.stroke(x2, y, x2 + _STUB, y)
        sheet.head(x1, y, 1, 0)
        sheet.head(x2, y, -1, 0)
    else:
        sheet.head(x1, y, -1, 0)
        sheet.head(x2, y, 1, 0)
    color = "unknown" if item.assumed else "ink"
    sheet.letter(
        entry.text_x, y + _MIDDLE, item.text, anchor=entry.anchor, color=color, halo=True, data_dim=item.name or None
    )


def _extensions(sheet: Sheet, laid: Sequence[_Laid], y: float, step: float) -> None:
    """One extension line for each place, as long as its farthest lane asks, broken where a text lies."""
    reach: dict[float, tuple[float, float]] = {}
    sign = 1 if step > 0 else -1
    for entry in laid:
        end = y + step * (entry.lane + 0.75) + sign * _PAST
        pairs = ((entry.span.x1_in, entry.span.z1_in), (entry.span.x2_in, entry.span.z2_in))
        for x_in, z_in in pairs:
            x, start = round(sheet.view.x(x_in), 1), sheet.view.y(z_in) + sign * _GAP
            old = reach.get(x)
            if old:
                start = min(old[0], start) if sign > 0 else max(old[0], start)
                end_here = max(old[1], end) if sign > 0 else min(old[1], end)
            else:
                end_here = end
            reach[x] = (start, end_here)
    for x, (start, end) in sorted(reach.items()):
        for a, b in sheet.board.gaps(x, min(start, end), max(start, end)):
            sheet.stroke(x, a, x, b, pen="extension")


def column_width(items: Sequence[Rise]) -> float:
    """Room that upright dimensions side by side need, px."""
    return sum(text_width(r.text, SMALL) + 9 for r in items)


def rises(sheet: Sheet, items: Sequence[Rise], *, right: bool) -> None:
    """Heights in columns outside the drawing, nearest first; the figure stands in a gap of its line, upright.

    Parameters
    ----------
    sheet : Sheet
        Drawn on.
    items : sequence of Rise
        Nearest the drawing first.
    right : bool
        Beside the right end, else the left.
    """
    sign = 1 if right else -1
    edge = sheet.inner_right if right else sheet.inner_left
    drawn: list[tuple[Rise, float]] = []
    for item in items:
        wide = text_width(item.text, SMALL)
        x = edge + sign * (wide / 2 + 6)
        edge += sign * (wide + 9)
        _draw_rise(sheet, item, x)
        drawn.append((item, x))
    for item, x in drawn:
        for z in (item.z1_in, item.z2_in):
            if z == 0.0:
                continue
            y = sheet.view.y(z)
            start, end = sheet.view.x(item.x_in) + sign * _GAP, x + sign * _PAST
            for a, b in _across_gaps(sheet, y, min(start, end), max(start, end)):
                sheet.stroke(a, y, b, y, pen="extension")


def _draw_rise(sheet: Sheet, item: Rise, x: float) -> None:
    low, high = sheet.view.y(min(item.z1_in, item.z2_in)), sheet.view.y(max(item.z1_in, item.z2_in))
    long = low - high
    color = "unknown" if item.assumed else "ink"
    tall = SMALL * (ASCENT + DESCENT)
    name = item.name or None
    if long >= tall + 2 * _ARROW + 4:
        middle = (low + high) / 2
        sheet.letter(x, middle + _MIDDLE, item.text, anchor="middle", color=color, data_dim=name)
        sheet.stroke(x, high, x, middle - tall / 2 - 1, dashed=item.assumed)
        sheet.stroke(x, middle + tall / 2 + 1, x, low, dashed=item.assumed)
        sheet.head(x, high, 0, -1)
        sheet.head(x, low, 0, 1)
        return
    # Too short for the figure: arrows point in from outside and the figure stands above them.
    sheet.stroke(x, high - _STUB, x, low, dashed=item.assumed)
    sheet.head(x, high, 0, 1, size=5)
    if long >= 8:
        sheet.head(x, low, 0, 1, size=5)
    sheet.letter(x, high - _STUB - 3, item.text, anchor="middle", color=color, data_dim=name)


def _across_gaps(sheet: Sheet, y: float, x1: float, x2: float) -> list[tuple[float, float]]:
    stretches = [(x1, x2)]
    for box in sheet.board.taken:
        if not box.y1 - 1 < y < box.y2 + 1:
            continue
        stretches = [
            (p, q) for a, b in stretches for p, q in ((a, min(b, box.x1 - 2)), (max(a, box.x2 + 2), b)) if q - p > 0.5
        ]
    return stretches
