"""A haul before it has a trailer: the truck and its cargo on the ground, to one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rubrail.sheets.drawing.cargo_outline import CargoOutline, cargo_outline
from rubrail.sheets.drawing.figure import Figure, extent, moved
from rubrail.sheets.drawing.furniture import ground, scale_bar
from rubrail.sheets.drawing.machines import cargo_side
from rubrail.sheets.drawing.rig_views import shortened
from rubrail.sheets.drawing.say import load
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.tokens import SMALL
from rubrail.sheets.drawing.trailer_views import ASSUMED_NOTE
from rubrail.sheets.drawing.truck import truck_outline, truck_side

if TYPE_CHECKING:
    from rubrail.things.cargo import Cargo
    from rubrail.things.truck import Truck

GAP_IN = 40.0
_PAD = 6.0
_LEAST_NAME_PX = 84.0


@dataclass(frozen=True, slots=True)
class _Standing:
    """A piece where it stands in the drawing: its first inch from the truck's front axle, and how many alike."""

    outline: CargoOutline
    figure: Figure
    at_in: float
    count: int


def haul_side(
    truck: Truck, cargo: Sequence[tuple[Cargo, int]], *, width_px: float = 960.0, metric: bool = False
) -> str:
    """SVG of a truck and what it is to carry, side by side on the ground.

    Parameters
    ----------
    truck : Truck
        Drawn with the first hitch it has.
    cargo : sequence of (Cargo, int)
        Each kind of piece once, and how many alike there are.
    width_px : float
        Width it is shown at; letters keep their size.
    metric : bool
        Kilograms and meters.
    """
    outline = truck_outline(truck, coupling=truck.hitch[0].kind if truck.hitch else "ball")
    figure = truck_side(outline)
    x1, _, end, _ = extent(figure)
    pieces, at = [], end + 1.5 * GAP_IN
    for piece, count in cargo:
        o = cargo_outline(piece)
        pieces.append(_Standing(o, moved(cargo_side(o), at), at, count))
        at += o.length_in + GAP_IN
    sheet = Sheet(width_px=width_px, x_min_in=x1, x_max_in=max(at - GAP_IN, end), left_px=_PAD, right_px=_PAD)
    ground(sheet)
    sheet.figure(figure, data_part="truck")
    for n, p in enumerate(pieces):
        sheet.figure(p.figure, data_part="cargo", data_item=str(n))
    y = _names(sheet, outline.title, (x1, end), pieces, metric=metric)
    left = scale_bar(sheet, y=y + 18, metric=metric)
    assumed = outline.assumed - {"tire", "hitch_height_in", "hitch_ahead_in"} or any(p.outline.assumed for p in pieces)
    sheet.caption([ASSUMED_NOTE] if assumed else [""], y=y + 4, right_px=left)
    said = "; ".join(_said(p, metric=metric) for p in pieces) or "nothing yet"
    return sheet.svg(title="Truck and cargo, side view to scale", desc=f"{outline.title}, to carry: {said}.")


def _said(p: _Standing, *, metric: bool) -> str:
    weight = load(p.outline.weight_lb, metric=metric) if p.outline.weight_lb is not None else "weight not known"
    many = f"{p.count} × " if p.count > 1 else ""
    return f"{many}{p.outline.title}, {weight}{' each' if p.count > 1 else ''}"


def _names(sheet: Sheet, truck: str, reach: tuple[float, float], pieces: list[_Standing], *, metric: bool) -> float:
    """Names under what stands there, as much of each as its own room allows; returns where the lettering ends."""
    line, right = SMALL * 1.3, sheet.board.right
    xs = [sheet.view.x(reach[0]), *(sheet.view.x(p.at_in) for p in pieces)]
    xs[-1] = max(min(xs[-1], right - _LEAST_NAME_PX), xs[0])
    rooms = [after - x - 8 for x, after in zip(xs, [*xs[1:], right + 8], strict=True)]
    sheet.letter(xs[0], line + 2, shortened(truck, rooms[0]), halo=False)
    if min(rooms[1:], default=right) < _LEAST_NAME_PX - 8:
        # Too close to be named where they stand: numbered there, named below.
        for n, p in enumerate(pieces, 1):
            middle = sheet.view.x(p.at_in + p.outline.length_in / 2)
            sheet.letter(middle, line + 2, str(n), color="accent", bold=True, anchor="middle", halo=False)
        for n, p in enumerate(pieces, 1):
            text = shortened(f"{n}  {_said(p, metric=metric)}", right - xs[0])
            sheet.letter(xs[0], (n + 1) * line + 6, text, color="accent", halo=False)
        return (len(pieces) + 1) * line + 6
    for p, x, room in zip(pieces, xs[1:], rooms[1:], strict=True):
        o = p.outline
        weight = load(o.weight_lb, metric=metric) if o.weight_lb is not None else "weight not known"
        rows = ((f"{p.count} × {o.title}" if p.count > 1 else o.title, False),)
        rows += ((weight + (" each" if p.count > 1 else ""), True),)
        for n, (text, bold) in enumerate(rows, 1):
            sheet.letter(x, n * line + 2, shortened(text, room), color="accent", bold=bold, halo=False)
    return 2 * line + 2
