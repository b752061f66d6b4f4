"""Plots along a climb: the coupler's load, and the room under the machine, over how far it has come.

One axis of travel under both, the critical moments as numbered lines, and the numbers themselves on each curve for a
page that reads them under the thumb.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rubrail.sheets.drawing.envelope_data import round_step
from rubrail.sheets.drawing.lettering import letters, text_width
from rubrail.sheets.drawing.say import load, rise
from rubrail.sheets.drawing.svg import Element, document, element, group, number
from rubrail.sheets.drawing.tokens import NARROW_PX, ON_PAPER, SMALL, pen_attributes
from rubrail.sheets.sentences_amounts import amount

_LB_PER_KG = 1 / 0.45359237


@dataclass(frozen=True, slots=True)
class Track:
    """One curve: its name in a word, its values one a step, and the pen it is drawn with."""

    name: str
    values: Sequence[float]
    pen: str = "envelope"


@dataclass(frozen=True, slots=True)
class Panel:
    """Curves of one unit over the climb.

    title : what is plotted; unit : ``lb`` or ``in``; tracks : the curves; floor : a value below which something
    fails, ``None`` for none, and what it is.
    """

    title: str
    unit: str
    tracks: tuple[Track, ...]
    floor: float | None = None
    floor_says: str = ""


def climb_plot(
    s_in: Sequence[float],
    panels: Sequence[Panel],
    *,
    moments: Sequence[tuple[int, float]] = (),
    width_px: float = 960.0,
    height_px: float = 130.0,
    metric: bool = False,
    title: str = "Loads and room along the climb",
) -> str:
    """SVG of the panels under each other.

    Parameters
    ----------
    s_in : sequence of float
        How far the machine has come, one number a step. [in]
    panels : sequence of Panel
    moments : sequence of (number, s_in)
        Critical moments by the numbers of the strip.
    width_px, height_px : float
        Of the drawing; of one panel.
    metric : bool
        Kilograms and millimeters.
    """
    left = 64.0 if width_px < NARROW_PX else 76.0
    wide = width_px - left - 14.0
    per_in = wide / max(s_in[-1], 1.0)
    parts: list[Element] = []
    y = 0.0
    for panel in panels:
        parts += _panel(panel, s_in, moments, left, y, wide, height_px, per_in, metric)
        y += height_px + 40.0
    parts += _axis(s_in[-1], left, y - 40.0, per_in, metric, wide)
    bottom = y - 4.0
    parts.append(
        element("line", x1=left, y1=14.0, x2=left, y2=y - 40.0, data_part="cursor", visibility="hidden",
                **pen_attributes("open"))
    )  # fmt: skip
    desc = "; ".join(_said(p, metric) for p in panels)
    return document(
        *parts, left=0.0, top=-4.0, width=width_px, height=bottom + 8, title=title, desc=desc, class_="rd",
        data_view="climb-plot", data_left=left, data_per_in=f"{per_in:.6g}",
        data_s=" ".join(f"{s:.2f}" for s in s_in),
    )  # fmt: skip


def _panel(
    panel: Panel, s: Sequence[float], moments: Sequence[tuple[int, float]], left: float, top: float, wide: float,
    high: float, per_in: float, metric: bool,
) -> list[Element]:  # fmt: skip
    values = [v for t in panel.tracks for v in t.values if math.isfinite(v)]
    extra = [] if panel.floor is None else [panel.floor]
    low, most = min([0.0, *values, *extra]), max([0.0, *values, *extra])
    factor = _LB_PER_KG if metric and panel.unit == "lb" else 1.0
    step = round_step(max(most - low, 1e-6) / factor / 4) * factor
    low, most = math.floor(low / step) * step, math.ceil(most / step + 1e-9) * step
    base, room = top + 22.0, high - 22.0

    def y(v: float) -> float:
        return base + room * (most - v) / (most - low)

    out: list[Element] = [letters(0.0, top + 8.0, panel.title, size=SMALL, bold=True, color="ink")]
    out += _key(panel, top, left + wide)
    n = round((most - low) / step)
    for i in range(n + 1):
        v = low + i * step
        pen = "detail" if abs(v) < step * 1e-6 else "grid"
        out.append(element("line", x1=left, y1=y(v), x2=left + wide, y2=y(v), **pen_attributes(pen)))
        out.append(letters(left - 6, y(v) + SMALL * 0.35, _value(v, panel.unit, metric), size=SMALL, anchor="end",
                           color="steel"))  # fmt: skip
    if panel.floor is not None and panel.floor < 0:
        out.append(element("line", x1=left, y1=y(panel.floor), x2=left + wide, y2=y(panel.floor),
                           **pen_attributes("over", dashed=True)))  # fmt: skip
        out.append(letters(left + 4, y(panel.floor) - 4, panel.floor_says, size=SMALL, color="over"))  # fmt: skip
    if low < 0:
        wash = {"class_": "rd-f-depends-tint", "fill": ON_PAPER["depends-tint"], "fill_opacity": 0.45}
        out.insert(1, element("rect", x=left, y=y(0.0), width=wide, height=y(low) - y(0.0), **wash))
    for k, at in moments:
        x = left + at * per_in
        out.append(element("line", x1=x, y1=base, x2=x, y2=base + room, **pen_attributes("center")))
        near = x > left + wide - 14
        out.append(letters(x - 3 if near else x + 3, base + 9, str(k), size=SMALL, bold=True, color="steel",
                           anchor="end" if near else "start"))  # fmt: skip
    for track in panel.tracks:
        out.append(_curve(track, s, left, per_in, y, panel.unit))
    return [group(*out, data_panel=panel.title)]


def _key(panel: Panel, top: float, right: float) -> list[Element]:
    """Which pen draws what, beside the title, or closer together where there is no room."""
    if len(panel.tracks) < 2:
        return []
    at = text_width(panel.title, SMALL, bold=True) + 14
    long = sum(text_width(t.name, SMALL) for t in panel.tracks)
    stroke, gap = (16.0, 14.0) if at + long + 36 * len(panel.tracks) <= right else (8.0, 6.0)
    out: list[Element] = []
    for t in panel.tracks:
        out.append(element("line", x1=at, y1=top + 4.5, x2=at + stroke, y2=top + 4.5, **pen_attributes(t.pen)))
        out.append(letters(at + stroke + 3, top + 8.0, t.name, size=SMALL, color="steel"))
        at += stroke + 3 + text_width(t.name, SMALL) + gap
    return out


def _curve(track: Track, s: Sequence[float], left: float, per_in: float, y, unit: str) -> Element:
    """One curve; broken where its value is not known."""
    d, pen_down = "", False
    for at, v in zip(s, track.values, strict=True):
        if not math.isfinite(v):
            pen_down = False
            continue
        d += f"{'L' if pen_down else 'M'}{number(left + at * per_in)} {number(y(v))}"
        pen_down = True
    values = " ".join("" if not math.isfinite(v) else f"{v:.2f}" if unit == "in" else f"{v:.0f}" for v in track.values)
    return element("path", d=d or "M0 0", data_curve=track.name, data_unit=unit, data_values=values,
                   **{**pen_attributes(track.pen), "fill": "none"})  # fmt: skip


def _axis(end_in: float, left: float, y: float, per_in: float, metric: bool, wide: float) -> list[Element]:
    unit = 1 / 0.0254 if metric else 12.0
    least = end_in / unit / max(wide / 90, 3)
    step = next((s for s in (0.5, 1, 2, 5, 10, 20) if s >= least), 50)
    out: list[Element] = []
    for i in range(int(end_in / unit / step) + 1):
        x = left + i * step * unit * per_in
        out.append(element("line", x1=x, y1=y, x2=x, y2=y + 5, **pen_attributes("detail")))
        text = f"{i * step:g} m" if metric else f"{i * step:g} ft"
        out.append(letters(x, y + 17, text, size=SMALL, anchor="middle", color="steel"))
    out.append(letters(left, y + 31, "how far the machine has come", size=SMALL, color="steel"))
    return out


def _value(v: float, unit: str, metric: bool) -> str:
    return load(round(v, 6), metric=metric) if unit == "lb" else rise(round(v, 6), metric=metric)


def _said(panel: Panel, metric: bool) -> str:
    parts = []
    for t in panel.tracks:
        known = [v for v in t.values if math.isfinite(v)]
        if known:
            parts.append(
                f"{t.name} {amount(min(known), panel.unit, metric=metric)} to"
                f" {amount(max(known), panel.unit, metric=metric)}"
            )
    return f"{panel.title}: {', '.join(parts) or 'not known'}"
