"""The rig as placed, small: for lists and for units side by side, all to one scale."""

from __future__ import annotations

from collections.abc import Sequence

from rubrail.sheets.drawing.figure import Figure, extent
from rubrail.sheets.drawing.furniture import ground
from rubrail.sheets.drawing.rig import Rig
from rubrail.sheets.drawing.rig_views import rig_described
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.trailer_side import trailer_side

_PAD = 2.0


def common_reach(rigs: Sequence[Rig]) -> tuple[float, float]:
    """Length and height that hold each of several rigs, for drawings to one scale. [in]"""
    reaches = [_extent(_figures(r)) for r in rigs]
    return max(x2 - x1 for x1, x2, _ in reaches), max(z for _, _, z in reaches)


def _figures(rig: Rig) -> list[tuple[str, Figure]]:
    """Each part of the rig under its name, back to front."""
    trailer = trailer_side(rig.trailer, plain=True, sprung=rig.ride)
    return [("truck", rig.truck_figure), ("trailer", trailer), *(("cargo", f) for f in rig.cargo_figures)]


def _extent(figures: Sequence[tuple[str, Figure]]) -> tuple[float, float, float]:
    """Foremost and rearmost point, and the highest."""
    x1, _, x2, z2 = extent(tuple(p for _, figure in figures for p in figure))
    return x1, x2, z2


def rig_small(rig: Rig, *, width_px: float, longest_in: float, highest_in: float, weight: float = 0.8) -> str:
    """SVG of the rig from its left side, without dimensions; its truck begins at the left edge.

    Parameters
    ----------
    rig : Rig
        What is drawn.
    width_px : float
        Width it is shown at.
    longest_in, highest_in : float
        What fills the frame; a longer rig is drawn smaller, a higher one makes the frame higher.
    weight : float
        Factor on line weights.
    """
    figures = _figures(rig)
    x1, x2, top = _extent(figures)
    room = width_px - 2 * _PAD
    scale = room / max(longest_in, x2 - x1)
    sheet = Sheet(
        width_px=width_px, x_min_in=x1, x_max_in=x1 + room / scale, left_px=_PAD, right_px=_PAD, weight=weight
    )
    ground(sheet)
    for name, figure in figures:
        if figure:
            sheet.figure(figure, data_part=name)
    sheet.top, sheet.bottom = -max(highest_in, top) * sheet.view.scale - 3, 2.0
    behind = f" behind {rig.truck.title}" if rig.truck else ""
    return sheet.svg(title=f"{rig.trailer.title}{behind}, side view", desc=rig_described(rig), data_view="rig-small")
