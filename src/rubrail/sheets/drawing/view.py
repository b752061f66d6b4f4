"""From inches to px: one scale for both directions, origin at the coupling point on the ground."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from rubrail.sheets.drawing.figure import Disc, Figure, Line, Point
from rubrail.sheets.drawing.svg import Element, element, group, number
from rubrail.sheets.drawing.tokens import pen_attributes


@dataclass(frozen=True, slots=True)
class View:
    """A scale.

    scale
        px an inch, the same along and across.
    weight
        Factor on line weights.
    """

    scale: float
    weight: float = 1.0

    def x(self, x_in: float) -> float:
        """Place across the page, px."""
        return x_in * self.scale

    def y(self, z_in: float) -> float:
        """Place down the page, px; up is negative."""
        return -z_in * self.scale

    def draw(self, figure: Figure, **attributes: str | float | None) -> Element:
        """The figure as one group."""
        return group(*(self.primitive(p) for p in figure), **attributes)

    def primitive(self, p: Line | Disc) -> Element:
        """One primitive; its role becomes ``data-part``."""
        look = pen_attributes(p.pen, dashed=p.dashed, weight=self.weight)
        role = p.role or None
        if isinstance(p, Disc):
            return element("circle", cx=self.x(p.x), cy=self.y(p.z), r=p.radius * self.scale, data_part=role, **look)
        points = [(self.x(x), self.y(z)) for x, z in p.points]
        if len(points) == 2 and not p.closed:
            (x1, y1), (x2, y2) = points
            return element("line", x1=x1, y1=y1, x2=x2, y2=y2, data_part=role, **look)
        return element("path", d=path(points, closed=p.closed, radius=p.round_in * self.scale), data_part=role, **look)


def path(points: Iterable[Point], *, closed: bool, radius: float = 0.0) -> str:
    """Path data through px points, corners rounded by at most ``radius`` px."""
    corners = list(points)
    n = len(corners)
    parts: list[str] = []
    for i, corner in enumerate(corners):
        ends = not closed and i in (0, n - 1)
        before, after = corners[i - 1], corners[(i + 1) % n]
        reach = 0.0 if ends or not radius else min(radius, _gap(before, corner) / 2, _gap(corner, after) / 2)
        command = "L" if parts else "M"
        if reach < 0.05:
            parts.append(f"{command}{_at(corner)}")
            continue
        start, stop = _toward(corner, before, reach), _toward(corner, after, reach)
        parts.append(f"{command}{_at(start)}Q{_at(corner)} {_at(stop)}")
    return "".join(parts) + ("Z" if closed else "")


def _at(p: Point) -> str:
    return f"{number(p[0])} {number(p[1])}"


def _gap(a: Point, b: Point) -> float:
    return math.hypot(a[0] - b[0], a[1] - b[1])


def _toward(a: Point, b: Point, reach: float) -> Point:
    gap = _gap(a, b)
    return a[0] + (b[0] - a[0]) * reach / gap, a[1] + (b[1] - a[1]) * reach / gap
