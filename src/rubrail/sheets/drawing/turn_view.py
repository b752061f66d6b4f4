"""A rig through the corner of two lanes, from above: the way in comes up the page, the way out leaves to the right."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from rubrail.sheets.drawing.figure import Figure, Point, changed, moved, shape
from rubrail.sheets.drawing.furniture import scale_bar
from rubrail.sheets.drawing.placed import footprint
from rubrail.sheets.drawing.rig import Rig
from rubrail.sheets.drawing.say import run
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.tokens import SMALL, TEXT
from rubrail.sheets.drawing.trailer_plan import trailer_plan
from rubrail.sheets.drawing.truck import truck_plan

if TYPE_CHECKING:
    from rubrail.answers.turn import Driven
    from rubrail.mechanics.turning_fit import Corner

_PAD_IN = 24.0
_LEADER_IN = 60.0


def turn_view(rig: Rig, *, driven: Driven, corner: Corner, width_px: float = 640.0) -> str:
    """SVG of a turn, to scale.

    Parameters
    ----------
    rig : Rig
        Its outlines are drawn where the course has them.
    driven : Driven
        The course, and where the corner stands in it.
    corner : Corner
    width_px : float
    """
    way = driven.course
    reach = driven.rig.trailer.rear_in + 0.4 * driven.rig.wheelbase_in
    apex = driven.fit.apex
    out = cmath.exp(1j * corner.angle_rad)
    low = complex(apex.real - 1.0 * reach, 0)
    outer = [low, apex + 1.0 * reach * out, apex - 1j * corner.entry_in, apex - corner.exit_right * corner.exit_in]
    outline = [*outer, low - 1j * corner.entry_in + 1j * apex.imag, apex + 1.0 * reach * out - _across(corner)]
    right = [p.imag for p in outline]
    sheet = Sheet(
        width_px=width_px,
        x_min_in=min(right) - _PAD_IN,
        x_max_in=max(right) + _PAD_IN,
        left_px=4.0,
        right_px=4.0,
        weight=0.9,
    )
    edges = _edges(corner=corner, apex=apex, reach=reach)
    lanes = shape(*(_page(p) for edge in edges for p in edge), pen="road")
    sheet.figure((lanes,), layer="ground", data_part="road")
    _swept(sheet, driven, low=low.real, apex=apex, out=out, reach=reach)
    for edge in edges:
        points = [(sheet.view.x(x), sheet.view.y(z)) for x, z in map(_page, edge)]
        for (x1, y1), (x2, y2) in pairwise(points):
            sheet.stroke(x1, y1, x2, y2, pen="detail", layer="ground")
    folded = int(np.argmax(way.articulation_rad))
    for name, figure in _rig_at(rig, driven, folded):
        sheet.figure(figure, data_part=name)
    _widths(sheet, corner=corner, apex=apex, metric=rig.metric, reach=reach)
    _tightest(sheet, driven, corner, metric=rig.metric)
    y = max(sheet.bottom, sheet.view.y(low.real)) + SMALL * 1.6
    sheet.reach(y)
    scale_bar(sheet, y=y, metric=rig.metric)
    turn = math.degrees(corner.angle_rad)
    return sheet.svg(
        title=f"Turning {turn:.0f} degrees, to scale",
        desc=(
            f"Front axle on a radius of {run(driven.radius_in, metric=rig.metric)}; "
            f"room to the nearest edge {run(driven.fit.spare_in, metric=rig.metric)}."
        ),
        data_view="turn",
    )


def _across(corner: Corner) -> complex:
    return corner.exit_right * corner.exit_in


def _page(p: complex) -> Point:
    """Ahead is up the page, right is right."""
    return p.imag, p.real


def _curb_center(corner: Corner, apex: complex) -> complex:
    """Center of the rounding, the radius right of both inner edges."""
    return apex - corner.curb_in * math.tan(corner.angle_rad / 2) + 1j * corner.curb_in


def _edges(*, corner: Corner, apex: complex, reach: float) -> tuple[list[complex], list[complex]]:
    """The inner edges with the curb rounded, and the outer ones back again."""
    out = cmath.exp(1j * corner.angle_rad)
    away = 0.95 * reach
    center = _curb_center(corner, apex)
    arc = [center - 1j * corner.curb_in * cmath.exp(1j * corner.angle_rad * t) for t in np.linspace(0, 1, 25)]
    inner = [apex - away, *(arc if corner.curb_in else [apex]), apex + away * out]
    outer = [inner[-1] - _across(corner), apex + complex(*_outer_point(corner)), inner[0] - 1j * corner.entry_in]
    return inner, outer


def _outer_point(corner: Corner) -> tuple[float, float]:
    """Where the outer edges meet, from where the inner ones do."""
    p = corner.apex_at(right_in=-corner.entry_in, exit_right_in=-corner.exit_in)
    return p.real, p.imag


def _swept(sheet: Sheet, driven: Driven, *, low: float, apex: complex, out: complex, reach: float) -> None:
    """Everything both bodies pass over: hulls from each place to the next, laid over each other in one plain tint."""
    way, rig = driven.course, driven.rig
    bodies = (way.truck_points(rig.truck.corners()), way.trailer_points(rig.trailer.corners()))
    figures = []
    for body in bodies:
        inside = (body.real.min(axis=0) > low) & (((body - apex) * out.conjugate()).real.max(axis=0) < 0.93 * reach)
        for n in np.flatnonzero(inside[:-1] & inside[1:]):
            both = hull([_page(p) for p in (*body[:, n], *body[:, n + 1])])
            figures.append(shape(*both, pen="swept"))
    sheet.figure(tuple(figures), layer="ground", data_part="swept")


def hull(points: list[Point]) -> list[Point]:
    """Convex hull of a few points, in turn."""
    ordered = sorted(set(points))

    def side(row: list[Point]) -> list[Point]:
        kept: list[Point] = []
        for p in row:
            while len(kept) > 1 and _turns(kept[-2], kept[-1], p) <= 0:
                kept.pop()
            kept.append(p)
        return kept[:-1]

    return side(ordered) + side(ordered[::-1])


def _turns(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _rig_at(rig: Rig, driven: Driven, at: int) -> list[tuple[str, Figure]]:
    """Trailer, cargo and truck where the course has them at one place."""
    way = driven.course

    def laid(place: complex, heading: complex, figure: Figure) -> Figure:
        return changed(figure, lambda x, right: _page(place + heading * complex(-x, right)))

    hitch, trailer_heading = way.hitch[at], way.trailer_heading[at]
    parts = [("trailer", laid(hitch, trailer_heading, trailer_plan(rig.trailer)))]
    if rig.truck is not None:
        truck = ("truck", laid(way.front[at], way.truck_heading[at], moved(truck_plan(rig.truck), 0.0)))
        parts = [truck, *parts] if rig.trailer.over_bed else [*parts, truck]
    parts += [("cargo", laid(hitch, trailer_heading, footprint(p))) for p in rig.cargo]
    return parts


def _widths(sheet: Sheet, *, corner: Corner, apex: complex, metric: bool, reach: float) -> None:
    """How wide the lanes are, lettered across them near their ends."""
    out = cmath.exp(1j * corner.angle_rad)
    for edge, across, width in (
        (apex - 0.86 * reach, -1j, corner.entry_in),
        (apex + 0.86 * reach * out, -corner.exit_right, corner.exit_in),
    ):
        (x1, z1), (x2, z2) = _page(edge), _page(edge + across * width)
        ax, ay, bx, by = sheet.view.x(x1), sheet.view.y(z1), sheet.view.x(x2), sheet.view.y(z2)
        sheet.stroke(ax, ay, bx, by, pen="dimension")
        size = math.hypot(bx - ax, by - ay) or 1.0
        dx, dy = (bx - ax) / size, (by - ay) / size
        sheet.head(ax, ay, -dx, -dy)
        sheet.head(bx, by, dx, dy)
        sheet.letter((ax + bx) / 2, (ay + by) / 2 + SMALL * 0.35, run(width, metric=metric), anchor="middle")


def _tightest(sheet: Sheet, driven: Driven, corner: Corner, *, metric: bool) -> None:
    """The room there is, lettered inside the curb, with a head at the place that comes nearest to it."""
    from rubrail.mechanics.turning_fit import curb_distance_in

    apex, spare = driven.fit.apex, driven.fit.spare_in
    inside = driven.course.swept_inside(driven.rig)
    nearest = inside[int(np.argmin(curb_distance_in(inside, apex=apex, corner=corner)))]
    into = _curb_center(corner, apex) - nearest if corner.curb_in else 1j + corner.exit_right
    label = nearest + into / abs(into) * _LEADER_IN
    text = f"{run(abs(spare), metric=metric)} {'to spare' if spare >= 0 else 'too tight'}"
    (x, z), (lx, lz) = _page(nearest), _page(label)
    px, py, tx, ty = sheet.view.x(x), sheet.view.y(z), sheet.view.x(lx), sheet.view.y(lz)
    size = math.hypot(px - tx, py - ty) or 1.0
    dx, dy = (px - tx) / size, (py - ty) / size
    sheet.stroke(tx, ty, px - dx * 6, py - dy * 6, pen="dimension")
    sheet.head(px, py, dx, dy, size=9)
    color = "clear" if spare >= 0 else "over"
    sheet.letter(tx + 3, ty + TEXT * 0.9, text, size=TEXT, bold=True, color=color)
