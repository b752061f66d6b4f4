"""The way a machine drives: a broken line of ground, ramp, tail and deck, and the line a wheel's center follows.

Everything here is in *forward* inches: ``f`` grows toward the truck, ``z`` up from the ground the trailer stands on.
Arrays broadcast: the steps of a climb lead, whatever the line varies over (samples, units) trails.

A wheel's center runs along straight pieces set off by its radius, and around an arc at each crest; at a hollow it
cuts the corner, touching both slopes at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
FAR_IN = 2_000.0
"""How far the ground reaches behind the foot."""


@dataclass(frozen=True)
class Way:
    """A broken line, from the ground behind to the front of the deck.

    f_in, z_in
        Its points; the second is the foot, where the ground ends. [in]
    slope_rad
        Rise of each stretch between two points. [rad]
    at_in
        Distance of each point along the line, 0 at the foot. [in]
    body
        What each stretch belongs to: an index into ``BODIES``.
    """

    f_in: tuple[Array, ...]
    z_in: tuple[Array, ...]
    slope_rad: tuple[Array, ...]
    at_in: tuple[Array, ...]
    body: tuple[int, ...]

    @property
    def stretches(self) -> int:
        """How many stretches it has."""
        return len(self.slope_rad)

    def length_in(self, k: int) -> Array:
        """Length of a stretch."""
        return self.at_in[k + 1] - self.at_in[k]

    def height_in(self, f_in: ArrayLike) -> Array:
        """Height of the line at a forward place."""
        f = np.asarray(f_in, float)
        z = self.z_in[0] + (f - self.f_in[0]) * np.tan(self.slope_rad[0])
        for k in range(1, self.stretches):
            z = np.where(f >= self.f_in[k], self.z_in[k] + (f - self.f_in[k]) * np.tan(self.slope_rad[k]), z)
        return z


BODIES = ("ground", "ramp", "tail", "deck")
GROUND, RAMP, TAIL, DECK = range(4)


def way(*, f_in: Sequence[ArrayLike], z_in: Sequence[ArrayLike], body: Sequence[int]) -> Way:
    """A broken line through points, the ground behind its first one put before it.

    Parameters
    ----------
    f_in, z_in : sequence of array_like
        The foot, then each further point; forward places must not fall. [in]
    body : sequence of int
        What each stretch between them belongs to.
    """
    foot_f, foot_z = np.asarray(f_in[0], float), np.asarray(z_in[0], float)
    f = (foot_f - FAR_IN, *(np.asarray(v, float) for v in f_in))
    z = (foot_z, *(np.asarray(v, float) for v in z_in))
    slopes, at = [], [0.0 * foot_f - FAR_IN]
    for a, b, c, d in zip(f, f[1:], z, z[1:], strict=False):
        slopes.append(np.arctan2(d - c, b - a))
        at.append(at[-1] + np.hypot(b - a, d - c))
    at[1] = 0.0 * foot_f
    return Way(f, z, tuple(slopes), tuple(at), (GROUND, *body))


@dataclass(frozen=True)
class Piece:
    """One piece of a wheel center's line: a straight one on a stretch, or an arc about a crest.

    start : where it begins along the center's line; stretch : index of the stretch, of an arc the one ahead of it;
    f, z : of a straight piece its first point, of an arc the crest; slope : of a straight piece, of an arc at its
    beginning; end_slope : of an arc at its end; at : place along the way below the first point.
    """

    arc: bool
    stretch: int
    start: Array
    length: Array
    f: Array
    z: Array
    slope: Array
    end_slope: Array
    at: Array


@dataclass(frozen=True)
class Center:
    """Where a wheel's center is, and what the wheel touches there.

    place : along the center's own line; f, z : the center; slope : of what it touches; touch_f, touch_z : the point;
    at : that point along the way; stretch : which stretch it is on. Arrays of one shape.
    """

    place: Array
    f: Array
    z: Array
    slope: Array
    touch_f: Array
    touch_z: Array
    at: Array
    stretch: NDArray[np.int64]


class CenterLine:
    """The line that the center of a wheel of one radius follows over a way.

    Parameters
    ----------
    way : Way
    radius_in : array_like
        Of the wheel; 0 for a point. [in]
    """

    def __init__(self, way: Way, radius_in: ArrayLike) -> None:
        self.way = way
        self.radius = np.asarray(radius_in, float)
        self.pieces = self._pieces()

    def _pieces(self) -> tuple[Piece, ...]:
        w, r = self.way, self.radius
        out: list[Piece] = []
        start = w.at_in[0] + 0.0 * r
        round_ = bool(np.any(r != 0))
        for k in range(w.stretches):
            slope = w.slope_rad[k]
            turn_in = slope - w.slope_rad[k - 1] if k else 0.0 * slope
            turn_out = w.slope_rad[k + 1] - slope if k + 1 < w.stretches else 0.0 * slope
            if k and round_:
                swept = r * np.maximum(-turn_in, 0.0)
                point = (w.f_in[k], w.z_in[k])
                out.append(Piece(True, k, start, swept, *point, w.slope_rad[k - 1], slope, w.at_in[k]))
                start = start + swept
            cut_in = r * np.tan(np.maximum(turn_in, 0.0) / 2)
            cut_out = r * np.tan(np.maximum(turn_out, 0.0) / 2)
            length = np.maximum(w.length_in(k) - cut_in - cut_out, 0.0)
            cos, sin = np.cos(slope), np.sin(slope)
            f = w.f_in[k] + cut_in * cos - r * sin
            z = w.z_in[k] + cut_in * sin + r * cos
            out.append(Piece(False, k, start, length, f, z, slope, slope, w.at_in[k] + cut_in))
            start = start + length
        return tuple(out)

    def starts(self) -> list[tuple[Array, Array, Array]]:
        """Beginning of each piece but the first: its place along the line, and the center there."""
        out = []
        for p in self.pieces[1:]:
            f, z = self._on(p, np.zeros_like(p.start))[:2]
            out.append((p.start, f, z))
        return out

    def _on(self, p: Piece, t: Array) -> tuple[Array, Array, Array]:
        """Center and slope at a distance into a piece."""
        if not p.arc:
            return p.f + t * np.cos(p.slope), p.z + t * np.sin(p.slope), p.slope + 0.0 * t
        r = self.radius
        slope = p.slope - np.where(r > 0, t / np.where(r > 0, r, 1.0), 0.0)
        return p.f - r * np.sin(slope), p.z + r * np.cos(slope), slope

    def _center(self, index: NDArray[np.int64], into: list[Array], like: Array) -> Center:
        """The centers at given distances into the pieces chosen; ``nan`` where any of the way is not known."""
        zero = 0.0 * (like + self.pieces[-1].start)
        place, f, z, slope, at = (np.array(zero) for _ in range(5))
        stretch = np.zeros(zero.shape, np.int64)
        for j, p in enumerate(self.pieces):
            here = np.broadcast_to(index == j, zero.shape)
            if not here.any():
                continue
            cf, cz, cs = self._on(p, into[j])
            along = p.at if p.arc else p.at + into[j]
            for target, value in ((place, p.start + into[j]), (f, cf), (z, cz), (slope, cs), (at, along)):
                np.copyto(target, zero + value, where=here)
            stretch[here] = p.stretch
        r = self.radius
        return Center(place, f, z, slope, f + r * np.sin(slope), z - r * np.cos(slope), at, stretch)

    def at(self, place_in: ArrayLike) -> Center:
        """The center at a place along its line."""
        place = np.asarray(place_in, float)
        index = np.zeros(np.broadcast_shapes(place.shape, self.pieces[0].start.shape), np.int64)
        into = [place - p.start for p in self.pieces]
        for j in range(1, len(self.pieces)):
            index = np.where(into[j] >= 0, j, index)
        return self._center(index, into, place)

    def place_at(self, f_in: ArrayLike) -> Array:
        """Place along the line at which the center is at a forward place."""
        f = np.asarray(f_in, float)
        out = f - self.pieces[0].f + self.pieces[0].start
        for p in self.pieces[1:]:
            begins = self._on(p, np.zeros_like(p.start))[0]
            if p.arc:
                with np.errstate(invalid="ignore", divide="ignore"):
                    slope = np.arcsin(np.clip((p.f - f) / self.radius, -1.0, 1.0))
                into = np.clip(np.nan_to_num(self.radius * (p.slope - slope)), 0.0, p.length)
            else:
                into = (f - p.f) / np.cos(p.slope)
            out = np.where(f >= begins, p.start + into, out)
        return out + 0.0 * self.pieces[-1].start

    def ahead(self, f_in: Array, z_in: Array, apart_in: ArrayLike) -> Center:
        """The center ahead of a point, a given straight distance from it."""
        return self._apart(f_in, z_in, np.asarray(apart_in, float), 1.0)

    def behind(self, f_in: Array, z_in: Array, apart_in: ArrayLike) -> Center:
        """The center behind a point, a given straight distance from it."""
        return self._apart(f_in, z_in, np.asarray(apart_in, float), -1.0)

    def _apart(self, f_in: Array, z_in: Array, apart: Array, side: float) -> Center:
        like = f_in + apart + self.pieces[0].start
        index = np.zeros(like.shape, np.int64)
        into = [self._into(self.pieces[0], f_in, z_in, apart, side, last=False)]
        for j, p in enumerate(self.pieces[1:], 1):
            start_f, start_z = self._on(p, np.zeros_like(p.start))[:2]
            gone = np.hypot(start_f - f_in, start_z - z_in)
            ahead = start_f >= f_in
            # Ahead of the point distance grows along the line, behind it shrinks: the last beginning passed counts.
            passed = ~ahead | (gone <= apart) if side > 0 else ~ahead & (gone >= apart)
            index = np.where(passed, j, index)
            into.append(self._into(p, f_in, z_in, apart, side, last=j == len(self.pieces) - 1))
        return self._center(index, into, like)

    def _into(self, p: Piece, f: Array, z: Array, apart: Array, side: float, *, last: bool) -> Array:
        """Distance into a piece at which its point lies ``apart`` from (f, z)."""
        if not p.arc:
            cos, sin = np.cos(p.slope), np.sin(p.slope)
            along = (f - p.f) * cos + (z - p.z) * sin
            off = (z - p.z) * cos - (f - p.f) * sin
            t = along + side * np.sqrt(np.maximum(apart**2 - off**2, 0.0))
            return np.maximum(t, 0.0) if last else np.clip(t, 0.0, p.length)
        r = self.radius
        over_f, over_z = p.f - f, p.z - z
        reach = np.hypot(over_f, over_z)
        with np.errstate(invalid="ignore", divide="ignore"):
            share = (apart**2 - reach**2 - r**2) / (2 * r * reach)
        slope = side * np.arccos(np.clip(np.nan_to_num(share), -1.0, 1.0)) - np.arctan2(over_f, over_z)
        return np.clip(r * (p.slope - slope), 0.0, p.length)
