"""Figures: what is drawn, in inches, before any scale is chosen.

A figure is a tuple of primitives in world coordinates: ``x`` inches rearward, ``z`` inches up (in a plan, ``z`` is
inches to the right seen from behind). It can be moved, turned round and tilted as one, measured, then drawn.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """A polyline; ``round_in`` rounds its inner corners, ``dashed`` says a dimension in it was assumed."""

    points: tuple[Point, ...]
    pen: str = "outline"
    closed: bool = False
    round_in: float = 0.0
    dashed: bool = False
    role: str = ""


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle."""

    x: float
    z: float
    radius: float
    pen: str = "outline"
    dashed: bool = False
    role: str = ""


Primitive: TypeAlias = Line | Disc
Figure: TypeAlias = tuple[Primitive, ...]


def line(*points: Point, pen: str = "open", round_in: float = 0.0, dashed: bool = False, role: str = "") -> Line:
    """An open polyline through points."""
    return Line(tuple(points), pen, False, round_in, dashed, role)


def shape(*points: Point, pen: str = "outline", round_in: float = 0.0, dashed: bool = False, role: str = "") -> Line:
    """A closed polygon."""
    return Line(tuple(points), pen, True, round_in, dashed, role)


def box(
    x1: float,
    z1: float,
    x2: float,
    z2: float,
    *,
    pen: str = "outline",
    round_in: float = 0.0,
    dashed: bool = False,
    role: str = "",
) -> Line:
    """An upright rectangle between two corners."""
    return shape((x1, z1), (x2, z1), (x2, z2), (x1, z2), pen=pen, round_in=round_in, dashed=dashed, role=role)


def limb(
    points: Sequence[Point], widths: Sequence[float], *, pen: str = "outline", round_in: float = 0.0, role: str = ""
) -> Line:
    """A tapering bar along a polyline, as a boom, an arm or a beam.

    Parameters
    ----------
    points : sequence of (x, z)
        Middle line, at least two points.
    widths : sequence of float
        Full width at each point, in inches.
    """
    left: list[Point] = []
    right: list[Point] = []
    for i, ((x, z), width) in enumerate(zip(points, widths, strict=True)):
        before = _unit(points[i - 1], points[i]) if i else _unit(points[0], points[1])
        after = _unit(points[i], points[i + 1]) if i + 1 < len(points) else before
        nx, nz = -(before[1] + after[1]) / 2, (before[0] + after[0]) / 2
        # A mitre: the normal of the bisector, lengthened so that both sides keep their width.
        stretch = width / 2 / max(nx * nx + nz * nz, 0.3)
        left.append((x + nx * stretch, z + nz * stretch))
        right.append((x - nx * stretch, z - nz * stretch))
    return Line((*left, *reversed(right)), pen, True, round_in, role=role)


def arc(
    u: float, v: float, radius: float, start_deg: float, stop_deg: float, steps: int = 10
) -> list[tuple[float, float]]:
    """Points along an arc, degrees counterclockwise from rearward."""
    out = []
    for i in range(steps + 1):
        a = math.radians(start_deg + (stop_deg - start_deg) * i / steps)
        out.append((u + radius * math.cos(a), v + radius * math.sin(a)))
    return out


def _unit(a: Point, b: Point) -> Point:
    dx, dz = b[0] - a[0], b[1] - a[1]
    size = math.hypot(dx, dz) or 1.0
    return dx / size, dz / size


def changed(figure: Iterable[Primitive], place: Callable[[float, float], Point]) -> Figure:
    """The figure with every point put through a mapping that keeps lengths."""
    out: list[Primitive] = []
    for p in figure:
        if isinstance(p, Disc):
            x, z = place(p.x, p.z)
            out.append(replace(p, x=x, z=z))
        else:
            out.append(replace(p, points=tuple(place(*q) for q in p.points)))
    return tuple(out)


def moved(figure: Iterable[Primitive], dx: float, dz: float = 0.0) -> Figure:
    """Shifted by inches."""
    return changed(figure, lambda x, z: (x + dx, z + dz))


def turned_round(figure: Iterable[Primitive], length_in: float) -> Figure:
    """Front to back within its own length."""
    return changed(figure, lambda x, z: (length_in - x, z))


def tilted(figure: Iterable[Primitive], angle_rad: float, about: Point) -> Figure:
    """Turned about a point; a positive angle lifts what lies rearward of it."""
    c, s = math.cos(angle_rad), math.sin(angle_rad)
    ax, az = about
    return changed(figure, lambda x, z: (ax + (x - ax) * c - (z - az) * s, az + (x - ax) * s + (z - az) * c))


def stroked(figure: Iterable[Primitive], *, dashed: bool) -> Figure:
    """With every outline dashed, where a dimension they all rest on was assumed."""
    return tuple(replace(p, dashed=True) for p in figure) if dashed else tuple(figure)


def points_of(primitive: Primitive) -> tuple[Point, ...]:
    """Corners of a primitive, or of the square around a circle."""
    if isinstance(primitive, Line):
        return primitive.points
    x, z, r = primitive.x, primitive.z, primitive.radius
    return ((x - r, z - r), (x + r, z + r))


def extent(figure: Iterable[Primitive]) -> tuple[float, float, float, float]:
    """``(x_min, z_min, x_max, z_max)`` in inches; zeros for an empty figure."""
    points = [q for p in figure for q in points_of(p)]
    if not points:
        return 0.0, 0.0, 0.0, 0.0
    xs, zs = zip(*points, strict=True)
    return min(xs), min(zs), max(xs), max(zs)


def skyline(figure: Iterable[Primitive], x1: float, x2: float) -> float:
    """Greatest height of the figure anywhere between two places; 0 where nothing stands."""
    top = 0.0
    for p in figure:
        if isinstance(p, Disc):
            if p.x + p.radius >= x1 and p.x - p.radius <= x2:
                top = max(top, p.z + p.radius)
            continue
        ring = (*p.points, p.points[0]) if p.closed else p.points
        for (ax, az), (bx, bz) in pairwise(ring):
            # Most lines lie lower than what was found, so that is asked first.
            if (az > top or bz > top) and (ax >= x1 or bx >= x1) and (ax <= x2 or bx <= x2):
                top = max(top, _highest(ax, az, bx, bz, x1, x2))
    return top


def _highest(ax: float, az: float, bx: float, bz: float, x1: float, x2: float) -> float:
    if abs(bx - ax) < 1e-9:
        return max(az, bz)
    at = [az + (bz - az) * (min(max(x, min(ax, bx)), max(ax, bx)) - ax) / (bx - ax) for x in (x1, x2)]
    inside = [z for x, z in ((ax, az), (bx, bz)) if x1 <= x <= x2]
    return max(at + inside)
