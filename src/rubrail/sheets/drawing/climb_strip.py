"""The critical moments of a climb as a strip of small pictures, all to one scale, and the whole rig at one step."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rubrail.sheets.drawing.climb_scene import Scene
from rubrail.sheets.drawing.figure import extent
from rubrail.sheets.drawing.furniture import ground, scale_bar
from rubrail.sheets.drawing.lettering import letters
from rubrail.sheets.drawing.marks import verdict_shape
from rubrail.sheets.drawing.sheet import Sheet, wrapped
from rubrail.sheets.drawing.svg import Element, document, element, group, number
from rubrail.sheets.drawing.tokens import SMALL, TEXT, pen_attributes
from rubrail.sheets.drawing.view import View

GAP = 18.0
FRAME_LEAST_PX = 250.0
"""A frame narrower than this shows nothing; the strip then has fewer columns."""
ROOM_IN = 44.0
"""Way shown on either side of the machine."""


@dataclass(frozen=True, slots=True)
class Frame:
    """One picture: at which step, what happens, and how it stands.

    says : what happens; number_says : the figure beside the mark, ``""`` for none; verdict : its word.
    """

    step: int
    says: str
    number_says: str
    verdict: str


def climb_strip(scene: Scene, frames: Sequence[Frame], *, width_px: float = 960.0, metric: bool = False) -> str:
    """SVG of the critical moments, numbered in the order they come.

    Parameters
    ----------
    scene : Scene
    frames : sequence of Frame
    width_px : float
        Width it is shown at; letters keep their size.
    metric : bool
        Only the scale bar is lettered by it; the frames carry their own words.
    """
    columns = max(1, min(3, len(frames), int((width_px + GAP) // (FRAME_LEAST_PX + GAP))))
    wide = (width_px - GAP * (columns - 1)) / columns
    spans = [extent(scene.machine_at(f.step)) for f in frames]
    reach = max(x2 - x1 for x1, _, x2, _ in spans) + 2 * ROOM_IN
    view = View(wide / reach, 0.85)
    top_in = max(z2 for _, _, _, z2 in spans) + 6.0
    high, below = top_in * view.scale, 6.0
    words = [_caption(f, wide) for f in frames]
    tall = high + below + 8 + max(len(w) for w in words) * SMALL * 1.3 + TEXT * 1.6
    parts: list[Element] = []
    for i, (frame, span, rows) in enumerate(zip(frames, spans, words, strict=True)):
        left, top = (i % columns) * (wide + GAP), (i // columns) * (tall + GAP)
        parts.append(_picture(scene, frame, span, view, left, top, wide, high, below, i + 1))
        parts += _letters(frame, rows, left, top + high + below + 4, i + 1)
    rows_count = -(-len(frames) // columns)
    desc = "; ".join(f"{i + 1}: {f.says}{', ' + f.number_says if f.number_says else ''}" for i, f in enumerate(frames))
    return document(
        *parts, left=-1.0, top=-1.0, width=width_px + 2, height=rows_count * tall + (rows_count - 1) * GAP + 2,
        title=f"{scene.machine.title} going up: critical moments, to scale", desc=desc, class_="rd",
        data_view="climb-strip", data_scale=f"{view.scale:.6g}", data_metric=metric or None,
    )  # fmt: skip


def _picture(
    scene: Scene, frame: Frame, span: tuple, view: View, left: float, top: float, wide: float, high: float,
    below: float, n: int,
) -> Element:  # fmt: skip
    """One frame, cut to its window: a nested drawing clips what lies outside."""
    middle = (span[0] + span[2]) / 2 * view.scale
    x0 = middle - wide / 2
    line = element("line", x1=x0, y1=0.0, x2=x0 + wide, y2=0.0, **pen_attributes("ground", weight=0.8))
    drawn = group(
        line, view.draw(scene.truck_figure(), data_part="truck"),
        view.draw(scene.trailer_at(frame.step), data_part="trailer"), scene.climber(frame.step, view),
    )  # fmt: skip
    return element(
        "svg", drawn, x=left, y=top, width=wide, height=high + below,
        viewBox=f"{number(x0)} {number(-high)} {number(wide)} {number(high + below)}",
        data_step=frame.step, data_frame=n,
    )  # fmt: skip


def _caption(frame: Frame, wide: float) -> list[str]:
    return wrapped([frame.says[:1].upper() + frame.says[1:]], wide - 22)


def _letters(frame: Frame, rows: list[str], left: float, y: float, n: int) -> list[Element]:
    """Number, verdict and figure, then what happens."""
    y += TEXT
    out = [letters(left, y, str(n), size=TEXT, bold=True, color="ink")]
    x = left + 20
    if frame.verdict:
        out.append(verdict_shape(frame.verdict, x + 5, y - TEXT * 0.34, radius=4.6))
        x += 15
    said = frame.number_says or frame.verdict
    if said:
        out.append(letters(x, y, said, size=TEXT, bold=True, color="ink"))
    for i, row in enumerate(rows):
        out.append(letters(left + 20, y + (i + 1) * SMALL * 1.35, row, size=SMALL, color="steel"))
    return out


def climb_view(scene: Scene, *, step: int = 0, width_px: float = 960.0, metric: bool = False) -> str:
    """SVG of the whole rig with the machine at one step, with what a page needs to move it along.

    The drawing's root carries ``data-s``, ``data-x``, ``data-z`` and ``data-pitch`` (one number a step), the machine's
    group ``data-part="climber"`` its transform; two groups ``data-deck`` hold a tilting deck tilted and level.

    Parameters
    ----------
    scene : Scene
    step : int
        Where it is drawn.
    width_px : float
        Width it is shown at.
    metric : bool
        Meters on the scale bar.
    """
    x1, x2, top = scene.spread()
    sheet = Sheet(width_px=width_px, x_min_in=x1, x_max_in=x2, left_px=6, right_px=6)
    ground(sheet)
    if scene.truck is not None:
        sheet.figure(scene.truck_figure(), data_part="truck")
    last = len(scene.course.s_in) - 1
    if scene.tilts and scene.course.level_from is not None:
        now = scene.level_at(step)
        for state, at, shown in (("tilted", 0, not now), ("level", last, now)):
            drawn = sheet.view.draw(scene.trailer_at(at), data_part="trailer")
            sheet.add(group(drawn, data_deck=state, visibility=None if shown else "hidden"), layer="figure")
    else:
        sheet.figure(scene.trailer_at(step), data_part="trailer")
    sheet.reach(sheet.view.y(top) - 4)
    sheet.add(scene.climber(step, sheet.view), layer="figure")
    bar = scale_bar(sheet, y=20, metric=metric)
    sheet.caption([f"{scene.machine.title}, {'backing up' if scene.rear_first else 'driving up forward'}"], y=4,
                  right_px=bar)  # fmt: skip
    c = scene.course
    return sheet.svg(
        title=f"{scene.machine.title} on its way up, to scale", desc=_described(scene, step), data_view="climb",
        data_step=str(step), data_s=_row(c.s_in, 2), data_x=_row(c.x_in, 2), data_z=_row(c.z_in, 2),
        data_pitch=_row(c.pitch_rad, 5),
        data_level_from=None if c.level_from is None else str(c.level_from),
    )  # fmt: skip


def _row(values: Sequence[float], places: int) -> str:
    return " ".join(f"{v:.{places}f}" for v in values)


def _described(scene: Scene, step: int) -> str:
    c = scene.course
    return (
        f"{c.s_in[step]:.0f} in of {c.s_in[-1]:.0f} in up; nose {math.degrees(c.pitch_rad[step]):.1f}° up;"
        f" coupler load {c.coupler_lb[step]:,.0f} lb."
    )
