"""What every drawing to scale carries: ground line, scale bar, center of gravity mark."""

from __future__ import annotations

from rubrail.sheets.drawing.lettering import text_width
from rubrail.sheets.drawing.say import run
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.svg import Element, element, group, number
from rubrail.sheets.drawing.tokens import SMALL, pen_attributes

_BAR_STEPS_IN = (12.0, 24.0, 60.0, 120.0, 240.0)
_BAR_STEPS_METRIC_IN = tuple(m / 0.0254 for m in (0.25, 0.5, 1.0, 2.0, 5.0))


def ground(sheet: Sheet) -> None:
    """The ground, from edge to edge."""
    sheet.stroke(sheet.left, 0.0, sheet.right, 0.0, pen="ground", layer="ground", data_part="ground")
    sheet.reach(2.0)


def scale_bar(sheet: Sheet, *, y: float, metric: bool) -> float:
    """A bar of two fields at the right edge; returns its left end, px."""
    steps = _BAR_STEPS_METRIC_IN if metric else _BAR_STEPS_IN
    target = min(0.16 * sheet.width, 90.0)
    step = min(steps, key=lambda s: abs(2 * s * sheet.view.scale - target))
    wide = step * sheet.view.scale
    full = _bar_text(2 * step, metric=metric)
    x2 = sheet.board.right - text_width(full, SMALL) - 5
    x1 = x2 - 2 * wide
    for i, pen in enumerate(("solid", "outline")):
        sheet.add(
            element(
                "rect",
                x=x1 + i * wide,
                y=y - 6,
                width=wide,
                height=4,
                data_part="scale-bar",
                **pen_attributes(pen, weight=0.6),
            ),
            layer="lines",
        )
    sheet.letter(x2 + 5, y, full, color="steel", halo=False)
    sheet.letter(x1 - 4, y, "0", color="steel", halo=False, anchor="end")
    return x1 - 14


def _bar_text(length_in: float, *, metric: bool) -> str:
    return run(length_in, metric=True) if metric else f"{length_in / 12:g} ft"


def cg_mark(
    x: float, y: float, *, radius: float = 5.5, assumed: bool = False, color: str = "accent", item: int | None = None
) -> Element:
    """Center of gravity: a circle with two opposite quarters filled, drawn in px.

    Parameters
    ----------
    x, y : float
        Its place, px.
    assumed : bool
        Whether its place or height is not known; then the circle is dashed.
    item : int or None
        Which piece it belongs to.
    """
    pen = "cargo-part" if color == "accent" else "outline"
    solid = "cargo-solid" if color == "accent" else "solid"
    r = number(radius)
    quarters = (
        f"M{number(x)} {number(y)}L{number(x + radius)} {number(y)}A{r} {r} 0 0 0 {number(x)} {number(y - radius)}Z"
        f"M{number(x)} {number(y)}L{number(x - radius)} {number(y)}A{r} {r} 0 0 0 {number(x)} {number(y + radius)}Z"
    )
    return group(
        element("circle", cx=x, cy=y, r=radius, **pen_attributes(pen, dashed=assumed)),
        element("path", d=quarters, **pen_attributes(solid)),
        data_part="cg",
        data_item=None if item is None else str(item),
    )
