"""Verdicts as shape and word, and how much of a limit is used as a bar."""

from __future__ import annotations

import math

from rubrail.sheets.drawing.lettering import Box, letters, text_width
from rubrail.sheets.drawing.say import load
from rubrail.sheets.drawing.svg import Element, document, element, group, number
from rubrail.sheets.drawing.tokens import ON_PAPER, TEXT, VERDICT_COLORS, pen_attributes

_SAYS = {
    "clear": "holds even with every tolerance against it",
    "depends": "holds at the stated values, fails inside their tolerance",
    "over": "fails at the stated values",
    "not known": "a number it needs is missing",
    "does not apply": "does not concern this rig",
}


def verdict_shape(verdict: str, x: float, y: float, *, radius: float = 5.0) -> Element:
    """The shape of a verdict alone: filled disc, half disc, crossed square, open ring, or a dash.

    Parameters
    ----------
    verdict : str
        One of the verdict words.
    x, y : float
        Its middle, px.
    """
    color = VERDICT_COLORS.get(verdict, "unknown")
    stroke = {"stroke": ON_PAPER[color], "stroke_width": radius * 0.3, "fill": "none"}
    filled = {"fill": ON_PAPER[color]}
    outlined = {"class_": f"rd-s-{color}", **stroke}
    solid = {"class_": f"rd-f-{color}", **filled}
    n, r = number, radius
    if verdict == "clear":
        parts = [element("circle", cx=x, cy=y, r=r, **solid)]
    elif verdict == "depends":
        half = f"M{n(x)} {n(y - r * 0.85)}A{n(r * 0.85)} {n(r * 0.85)} 0 0 0 {n(x)} {n(y + r * 0.85)}Z"
        parts = [element("circle", cx=x, cy=y, r=r * 0.85, **outlined), element("path", d=half, **solid)]
    elif verdict == "over":
        s = r * 0.85
        cross = f"M{n(x - s)} {n(y - s)}L{n(x + s)} {n(y + s)}M{n(x - s)} {n(y + s)}L{n(x + s)} {n(y - s)}"
        parts = [
            element("rect", x=x - s, y=y - s, width=2 * s, height=2 * s, **outlined),
            element("path", d=cross, **outlined),
        ]
    elif verdict == "not known":
        parts = [element("circle", cx=x, cy=y, r=r * 0.85, **outlined)]
    else:
        parts = [element("line", x1=x - r * 0.8, y1=y, x2=x + r * 0.8, y2=y, **outlined)]
    return group(*parts, class_="rd-verdict", data_verdict=verdict)


def verdict_mark(verdict: str, *, size: float = TEXT) -> str:
    """SVG of a verdict: its shape and its word, never color alone.

    Parameters
    ----------
    verdict : str
        ``clear``, ``depends``, ``over``, ``not known`` or ``does not apply``.
    size : float
        Text size, px.

    Raises
    ------
    ValueError
        If the word is none of these.
    """
    if verdict not in _SAYS:
        raise ValueError(f"verdict must be one of {', '.join(_SAYS)}, got {verdict!r}")
    radius = size * 0.42
    color = VERDICT_COLORS.get(verdict, "unknown")
    start = 2 * radius + 7
    return document(
        verdict_shape(verdict, radius + 1, -size * 0.34, radius=radius),
        letters(start, 0, verdict, size=size, bold=True, color=color, halo=False),
        left=0,
        top=-size,
        width=start + text_width(verdict, size, bold=True) + 2,
        height=size * 1.4,
        title=verdict,
        desc=_SAYS[verdict],
        class_="rd rd-mark",
    )


def bar_elements(
    x: float,
    y: float,
    *,
    width: float,
    height: float,
    demand: float,
    limit: float,
    verdict: str,
    plus_minus: float = 0.0,
) -> list[Element]:
    """The bar itself: limit at four fifths of its length, what is used filled up to it, what is over beyond it.

    Parameters
    ----------
    x, y : float
        Its upper left corner, px.
    demand, limit : float
        Same unit; nan where not known, inf where there is no limit.
    plus_minus : float
        Tolerance of the margin, drawn as a whisker about the demand.
    """
    at_limit = x + width * LIMIT_AT
    known = math.isfinite(demand) and math.isfinite(limit) and limit > 0
    track = pen_attributes("grid", dashed=not known)
    parts = [element("rect", x=x, y=y, width=width, height=height, data_part="bar", **track)]
    if not known:
        return parts
    per = (at_limit - x) / limit

    def at(value: float) -> float:
        return min(max(x + value * per, x), x + width)

    color = VERDICT_COLORS.get(verdict, "steel")
    used = at(demand)
    parts.append(
        element(
            "rect",
            x=x,
            y=y,
            width=used - x,
            height=height,
            class_=f"rd-f-{color}",
            fill=ON_PAPER[color],
            data_part="used",
        )
    )
    if plus_minus > 0:
        low, high, middle = at(demand - plus_minus), at(demand + plus_minus), y + height / 2
        line = pen_attributes("open", weight=0.8)
        parts.append(element("line", x1=low, y1=middle, x2=high, y2=middle, data_part="tolerance", **line))
        parts += [element("line", x1=e, y1=y + 1, x2=e, y2=y + height - 1, **line) for e in (low, high)]
    tick = pen_attributes("open", weight=1.2)
    parts.append(element("line", x1=at_limit, y1=y - 2, x2=at_limit, y2=y + height + 2, data_part="limit", **tick))
    return parts


LIMIT_AT = 0.8
"""Where along a bar the limit stands, the same on every bar so that bars under each other compare."""


def margin_bar(
    *,
    demand: float,
    limit: float,
    verdict: str,
    title: str,
    plus_minus: float = 0.0,
    width_px: float = 220.0,
    height_px: float = 14.0,
    metric: bool = False,
) -> str:
    """SVG bar of one demand against its limit.

    Parameters
    ----------
    demand, limit : float
        Pounds; nan where not known.
    verdict : str
        Verdict word; sets the color.
    title : str
        What is measured against what.
    plus_minus : float
        Tolerance of the margin, pounds.
    width_px, height_px : float
        Size of the drawing.
    """
    bar = height_px * 0.5
    if math.isnan(demand) or math.isnan(limit):
        desc = f"{verdict}: " + ("what it carries is not known" if math.isnan(demand) else "its limit is not known")
    else:
        left = limit - demand
        spare = f"{load(left, metric=metric)} to spare" if left >= 0 else f"{load(-left, metric=metric)} over"
        desc = f"{verdict}: {load(demand, metric=metric)} of {load(limit, metric=metric)}, {spare}"
    return document(
        *bar_elements(
            1, (height_px - bar) / 2, width=width_px - 2, height=bar, demand=demand, limit=limit, verdict=verdict,
            plus_minus=plus_minus,
        ),
        left=0, top=0, width=width_px, height=height_px, title=title, desc=desc, class_="rd rd-bar",
    )  # fmt: skip


def shape_box(x: float, y: float, radius: float) -> Box:
    """Room a verdict's shape takes."""
    return Box(x - radius, y - radius, x + radius, y + radius)
