"""The trailer with the stations of a walk pinned to it: where one stands, and where each thing is looked for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rubrail.sheets.drawing.figure import extent
from rubrail.sheets.drawing.furniture import ground
from rubrail.sheets.drawing.lettering import letters
from rubrail.sheets.drawing.outline import TrailerOutline, trailer_outline
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.svg import element, group
from rubrail.sheets.drawing.tokens import SMALL, pen_attributes
from rubrail.sheets.drawing.trailer_side import trailer_side

if TYPE_CHECKING:
    from rubrail.things.trailer import Trailer

RADIUS_PX, APART_PX, ABOVE_PX = 9.0, 22.0, 16.0
MOST_HIGH_PX = 150.0
"""A short trailer is drawn no higher than this: the strip stays on the screen while one reads."""


@dataclass(frozen=True, slots=True)
class Pin:
    """One station: its key, number and name, and the place it points at, ``nan`` where that is not known. [in]"""

    key: str
    number: int
    title: str
    x_in: float
    z_in: float


def walk_strip(trailer: Trailer | TrailerOutline, pins: Sequence[Pin], *, width_px: float = 700.0) -> str:
    """SVG of the trailer from its left side, numbered pins above it, each with a line to its place.

    Parameters
    ----------
    trailer : Trailer or TrailerOutline
        What is drawn.
    pins : sequence of Pin
        In the order of the walk.
    width_px : float
        Width it is shown at.
    """
    o = trailer if isinstance(trailer, TrailerOutline) else trailer_outline(trailer)
    figure = trailer_side(o, parked=True)
    x1, _, x2, z2 = extent(figure)
    # Wide enough for every pin, and no higher than a strip may be.
    span = max(x2 - x1, z2 * (width_px - 2 * APART_PX) / MOST_HIGH_PX)
    sheet = Sheet(
        width_px=width_px, x_min_in=x1, x_max_in=x1 + span, left_px=RADIUS_PX + 4, right_px=RADIUS_PX + 4, weight=0.9
    )
    ground(sheet)
    sheet.figure(figure, data_part="trailer")
    row = sheet.view.y(z2) - ABOVE_PX
    first, last = sheet.left + RADIUS_PX + 2, sheet.right - RADIUS_PX - 2
    wanted = [sheet.view.x(p.x_in) if math.isfinite(p.x_in) else math.nan for p in pins]
    for pin, x, at in zip(pins, spread(wanted, first=first, last=last, apart=APART_PX), wanted, strict=True):
        _pin(sheet, pin, x, row, at, o)
    sheet.reach(row - RADIUS_PX - 2)
    return sheet.svg(title=f"{o.title}: the stations of the walk", desc=_said(pins), data_view="walk")


def _pin(sheet: Sheet, pin: Pin, x: float, y: float, at: float, o: TrailerOutline) -> None:
    parts = []
    if not math.isnan(at):
        z = pin.z_in if math.isfinite(pin.z_in) else o.deck_height_in
        end = sheet.view.y(z)
        line = pen_attributes("dimension")
        parts += [
            element("line", x1=x, y1=y + RADIUS_PX, x2=at, y2=end, data_part="leader", **line),
            element("circle", cx=at, cy=end, r=2.0, **pen_attributes("solid")),
        ]
    parts += [
        element("circle", cx=x, cy=y, r=RADIUS_PX, data_part="pin", **pen_attributes("part")),
        letters(x, y + 3.8, str(pin.number), size=SMALL, anchor="middle", bold=True, halo=False),
    ]
    sheet.add(group(*parts, data_station=pin.key), layer="marks")


def spread(wanted: Sequence[float], *, first: float, last: float, apart: float) -> list[float]:
    """Places in order, as near to those wanted as keeps them apart and between first and last; ``nan`` goes between.

    Parameters
    ----------
    wanted : sequence of float
    first, last : float
        Where they may stand; closer together than ``apart`` where there is not room enough.
    apart : float
    """
    n = len(wanted)
    apart = min(apart, (last - first) / max(n - 1, 1))
    out: list[float] = []
    for i, want in enumerate(wanted):
        least = out[-1] + apart if out else first
        out.append(least if math.isnan(want) else min(max(want, least), last - (n - 1 - i) * apart))
    # Those pushed rearward go back as far as the ones behind them let them.
    for i in range(n - 2, -1, -1):
        want = wanted[i]
        low = first + i * apart
        if not math.isnan(want) and out[i] > want:
            before = out[i - 1] + apart if i else low
            out[i] = max(want, before, low)
    return out


def _said(pins: Sequence[Pin]) -> str:
    return "; ".join(f"{p.number} {p.title}" for p in pins) + "."
