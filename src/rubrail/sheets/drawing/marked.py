"""The trailer with numbered places on it: where a person at the truck put a finger on the drawing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rubrail.sheets.drawing.figure import extent
from rubrail.sheets.drawing.furniture import ground
from rubrail.sheets.drawing.outline import TrailerOutline, trailer_outline
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.svg import element, group
from rubrail.sheets.drawing.tokens import SMALL, pen_attributes
from rubrail.sheets.drawing.trailer_plan import center_line, trailer_plan
from rubrail.sheets.drawing.trailer_side import trailer_side
from rubrail.sheets.drawing.trailer_views import describe

if TYPE_CHECKING:
    from rubrail.things.trailer import Trailer

_PAD = 14.0
_ROUND = 8.5


@dataclass(frozen=True, slots=True)
class Spot:
    """A numbered place.

    x_in : behind the coupling point; up_in : above the ground in a side view, right of the center line in a plan
    """

    number: int
    view: str
    x_in: float
    up_in: float
    says: str = ""


def marked_side(
    trailer: Trailer | TrailerOutline, *, spots: Sequence[Spot] = (), width_px: float = 960.0, metric: bool = False
) -> str:
    """SVG of the trailer from its left side with the spots of that view on it.

    Parameters
    ----------
    trailer : Trailer or TrailerOutline
    spots : sequence of Spot
        Those of another view are passed over.
    width_px : float
        Width of the drawing.
    metric : bool
        Whether it is told in metric to those who hear it.
    """
    o = trailer if isinstance(trailer, TrailerOutline) else trailer_outline(trailer)
    figure = trailer_side(o, parked=True)
    sheet = _sheet(o, width_px)
    ground(sheet)
    sheet.figure(figure, data_part="trailer")
    return _finished(sheet, o, [s for s in spots if s.view == "side"], "side", "from its left side", metric)


def marked_plan(
    trailer: Trailer | TrailerOutline, *, spots: Sequence[Spot] = (), width_px: float = 960.0, metric: bool = False
) -> str:
    """SVG of the trailer from above with the spots of that view on it, to the scale of ``marked_side``.

    Parameters
    ----------
    trailer : Trailer or TrailerOutline
    spots, width_px, metric
        As for ``marked_side``.
    """
    o = trailer if isinstance(trailer, TrailerOutline) else trailer_outline(trailer)
    figure = trailer_plan(o)
    x1, _, x2, _ = extent(figure)
    sheet = _sheet(o, width_px)
    sheet.figure(figure, data_part="trailer")
    sheet.figure(center_line(x1 - 4, x2 + 4), layer="lines")
    return _finished(sheet, o, [s for s in spots if s.view == "plan"], "plan", "from above", metric)


def _sheet(o: TrailerOutline, width_px: float) -> Sheet:
    x1, _, x2, _ = extent(trailer_side(o, parked=True))
    return Sheet(width_px=width_px, x_min_in=x1, x_max_in=x2, left_px=_PAD, right_px=_PAD)


def _finished(sheet: Sheet, o: TrailerOutline, spots: list[Spot], view: str, seen: str, metric: bool) -> str:
    for spot in spots:
        x, y = sheet.view.x(spot.x_in), sheet.view.y(spot.up_in)
        ring = element("circle", cx=x, cy=y, r=_ROUND, **pen_attributes("spot"))
        sheet.add(group(ring, data_part="spot", data_spot=str(spot.number)), layer="marks")
        sheet.reach(y - _ROUND - 1, y + _ROUND + 1)
        sheet.letter(x, y + SMALL * 0.36, str(spot.number), anchor="middle", bold=True, color="over", halo=False)
    told = "; ".join(f"{s.number}: {s.says}" for s in spots)
    desc = describe(o, metric=metric) + (f" Marked: {told}." if told else "")
    return sheet.svg(title=f"{o.title}: {seen}, to scale", desc=desc, data_view=view)
