"""How a machine stands at each step of a climb: pitch, and the two places that hold it.

A machine is rigid. On wheels every axle it has rides the way, or hangs above it where others lift it. A track is a
straight line of given length lying on the way: flat on a stretch, bridging a hollow on its two ends, or teetering on
a crest until the center of gravity has passed it, when it tips onto what comes next. Both are one rule: from the
rearmost place that bears, the machine is let down ahead until something holds it; if its weight then lies ahead of
what holds it, it tips about that.

The machine's own axes: ``X`` forward along the line under its wheels or tracks, ``Z`` square to it. The climb is
labeled by where the trailing contact is, or would be had nothing lifted it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.climb_path import Center, CenterLine, Way

Array = NDArray[np.float64]
SAME_RAD = 1e-9
"""Angles closer than this are one: the machine lies flat on what it touches."""


@dataclass(frozen=True)
class Machine:
    """A machine as it drives up, its leading end first.

    weight_lb, cg_in, cg_height_in
        Weight; center of gravity forward of the trailing contact, and above the line under the contacts.
    contact_in
        Trailing contact first, forward of it: each axle's place, or 0 and the length of a track.
    radius_in
        Of the wheels of each axle; zeros for a track.
    tracked
        Whether the contacts are the ends of a track.
    lead_over_in, trail_over_in
        How far it reaches ahead of its leading and behind its trailing contact.
    driven
        Which axles drive, trailing first; of a track all.
    """

    weight_lb: Array
    cg_in: Array
    cg_height_in: Array
    contact_in: tuple[Array, ...]
    radius_in: tuple[Array, ...]
    tracked: bool
    lead_over_in: Array
    trail_over_in: Array
    driven: tuple[bool, ...]

    @property
    def span_in(self) -> Array:
        """Trailing to leading contact."""
        return self.contact_in[-1]


@dataclass(frozen=True)
class Touch:
    """One place that bears: where it is in the machine (``x_in``), in the world and on the way.

    slope_rad
        Of the surface there; where an edge holds a flat track, of the track.
    axle
        Which axle it is, trailing first; 0 and 1 for the rear and front bearing of a track.
    """

    x_in: Array
    f_in: Array
    z_in: Array
    slope_rad: Array
    at_in: Array
    stretch: NDArray[np.int64]
    axle: NDArray[np.int64]


@dataclass(frozen=True)
class Pose:
    """A machine standing.

    pitch_rad
        Nose up, from the ground the trailer stands on.
    f_in, z_in
        Its own origin: the point of the base line under the trailing contact.
    rear, front
        The rearmost place that bears, and the foremost of those that hold it there.
    flat
        Whether it lies along the way from ``rear`` to ``front``.
    axles
        Center of each axle had it been let down, trailing first; empty for a track.
    """

    pitch_rad: Array
    f_in: Array
    z_in: Array
    rear: Touch
    front: Touch
    flat: NDArray[np.bool_]
    axles: tuple[Center, ...] = ()

    def world(self, x_in: ArrayLike, z_in: ArrayLike = 0.0) -> tuple[Array, Array]:
        """A point of the machine in the world."""
        cos, sin = np.cos(self.pitch_rad), np.sin(self.pitch_rad)
        x, z = np.asarray(x_in, float), np.asarray(z_in, float)
        return self.f_in + x * cos - z * sin, self.z_in + x * sin + z * cos

    def own(self, f_in: ArrayLike, z_in: ArrayLike) -> tuple[Array, Array]:
        """A point of the world in the machine."""
        cos, sin = np.cos(self.pitch_rad), np.sin(self.pitch_rad)
        df, dz = np.asarray(f_in, float) - self.f_in, np.asarray(z_in, float) - self.z_in
        return df * cos + dz * sin, dz * cos - df * sin


def weight_line_in(*, cg_in: ArrayLike, cg_height_in: ArrayLike, slope_rad: ArrayLike) -> Array:
    """Where the line of the weight meets the base line, forward of the trailing contact.

    Parameters
    ----------
    cg_in, cg_height_in : array_like
        Center of gravity forward of the trailing contact, and above the base line. [in]
    slope_rad : array_like
        Pitch against the true horizontal. [rad]

    References
    ----------
    STATICS-CLIMB
    """
    return np.asarray(cg_in, float) - np.asarray(cg_height_in, float) * np.tan(slope_rad)


def stand(way: Way, machine: Machine, place_in: ArrayLike, *, ground_rad: ArrayLike = 0.0) -> Pose:
    """How the machine stands with its trailing contact at places along the way.

    Parameters
    ----------
    way : Way
    machine : Machine
    place_in : array_like
        Along the line of the trailing contact's center, 0 at the foot for a point. [in]
    ground_rad : array_like
        Rise toward the truck of the ground that all of it stands on. [rad]
    """
    place, ground = np.asarray(place_in, float), np.asarray(ground_rad, float)
    with np.errstate(invalid="ignore", divide="ignore"):
        return (_on_track if machine.tracked else _on_wheels)(way, machine, place, ground)


def _tips(
    pose_f: Array, pose_z: Array, pitch: Array, m: Machine, hold_f: Array, hold_z: Array, ground: Array
) -> NDArray[np.bool_]:
    """Whether the weight lies ahead of what holds the machine in front."""
    cos, sin = np.cos(pitch), np.sin(pitch)
    f = pose_f + m.cg_in * cos - m.cg_height_in * sin
    z = pose_z + m.cg_in * sin + m.cg_height_in * cos
    return (f - hold_f) * np.cos(ground) - (z - hold_z) * np.sin(ground) > 1e-9


def _origin(f: Array, z: Array, pitch: Array, x: Array, height: Array) -> tuple[Array, Array]:
    cos, sin = np.cos(pitch), np.sin(pitch)
    return f - x * cos + height * sin, z - x * sin - height * cos


def _pick(where: NDArray[np.bool_], new: Touch, old: Touch) -> Touch:
    return Touch(*(np.where(where, getattr(new, f.name), getattr(old, f.name)) for f in fields(Touch)))


# -- wheels ------------------------------------------------------------------------------------------------------


def _axle_touch(c: Center, x: Array, axle: int) -> Touch:
    shape = c.f.shape
    return Touch(x + np.zeros(shape), c.touch_f, c.touch_z, c.slope, c.at, c.stretch, np.full(shape, axle))


def _on_wheels(way: Way, m: Machine, place: Array, ground: Array) -> Pose:
    lines: list[CenterLine] = []
    for r in m.radius_in:
        same = next((k for k in lines if k.radius is r), None)
        lines.append(same or CenterLine(way, r))
    n = len(lines)
    rear_center = lines[0].at(place)
    rear = _axle_touch(rear_center, m.contact_in[0], 0)
    hub_f, hub_z = rear_center.f, rear_center.z
    hub_x, hub_r = m.contact_in[0] + 0.0 * hub_f, m.radius_in[0] + 0.0 * hub_f
    for level in range(max(n - 1, 1)):
        let_down: list[tuple[Array, Center]] = []
        for i in range(1, n):
            run, rise = m.contact_in[i] - hub_x, m.radius_in[i] - hub_r
            c = lines[i].ahead(hub_f, hub_z, np.hypot(run, rise))
            angle = np.arctan2(c.z - hub_z, c.f - hub_f) - np.arctan2(rise, run)
            let_down.append((np.where(run > 0, angle, -np.inf), c))
        pitch = np.maximum.reduce([a for a, _ in let_down])
        front, front_center = None, None
        for i, (angle, c) in enumerate(let_down, 1):
            holds = angle >= pitch - SAME_RAD
            touch = _axle_touch(c, m.contact_in[i], i)
            front = touch if front is None else _pick(holds, touch, front)
            front_center = (c.f, c.z) if front_center is None else tuple(
                np.where(holds, new, old) for new, old in zip((c.f, c.z), front_center, strict=True)
            )  # fmt: skip
        own_f, own_z = _origin(hub_f, hub_z, pitch, hub_x, hub_r)
        if n == 2 or level == n - 2:
            break
        tips = (front.axle < n - 1) & _tips(own_f, own_z, pitch, m, front.f_in, front.z_in, ground)
        if not tips.any():
            break
        rear = _pick(tips, front, rear)
        hub_f, hub_z = (np.where(tips, a, b) for a, b in zip(front_center, (hub_f, hub_z), strict=True))
        hub_x = np.where(tips, front.x_in, hub_x)
        hub_r = np.where(tips, np.choose(front.axle, [r + 0.0 * hub_r for r in m.radius_in]), hub_r)
    angles = [a for a, _ in let_down]
    flat = np.minimum.reduce([np.where(np.isinf(a), pitch, a) for a in angles]) >= pitch - SAME_RAD
    return Pose(pitch, own_f, own_z, rear, front, flat, (rear_center, *(c for _, c in let_down)))


# -- tracks ------------------------------------------------------------------------------------------------------


def _on_track(way: Way, m: Machine, place: Array, ground: Array) -> Pose:
    line = CenterLine(way, 0.0)
    c = line.at(place)
    zero = np.zeros(np.broadcast_shapes(c.f.shape, np.shape(m.span_in), np.shape(m.cg_in), ground.shape))
    no_axle = zero.astype(int)
    rear = Touch(zero, c.f + zero, c.z + zero, c.slope + zero, c.at + zero, c.stretch + no_axle, no_axle)
    for _ in range(way.stretches - 1):
        pitch, front = _let_down(way, line, rear, m.span_in - rear.x_in)
        own_f, own_z = _origin(rear.f_in, rear.z_in, pitch, rear.x_in, zero)
        at_end = front.x_in >= m.span_in - 1e-9
        tips = ~at_end & _tips(own_f, own_z, pitch, m, front.f_in, front.z_in, ground)
        if not tips.any():
            break
        rear = _pick(tips, front, rear)
    else:
        pitch, front = _let_down(way, line, rear, m.span_in - rear.x_in)
        own_f, own_z = _origin(rear.f_in, rear.z_in, pitch, rear.x_in, zero)
    slopes = np.choose(rear.stretch, [s + zero for s in way.slope_rad])
    flat = np.abs(slopes - pitch) <= SAME_RAD
    edge = ~flat
    # An edge of the way against the flat of the track pushes square to the track.
    rear = _pick(edge & (rear.x_in > 0), _leaning(rear, pitch), rear)
    front = _pick(edge & (front.x_in < m.span_in - 1e-9), _leaning(front, pitch), front)
    return Pose(pitch, own_f, own_z, rear, front, flat)


def _leaning(touch: Touch, pitch: Array) -> Touch:
    return Touch(touch.x_in, touch.f_in, touch.z_in, pitch, touch.at_in, touch.stretch, touch.axle)


def _let_down(way: Way, line: CenterLine, rear: Touch, reach: Array) -> tuple[Array, Touch]:
    """Pitch of a track held at ``rear``, ``reach`` long from there, and the foremost point that then holds it."""
    end = line.ahead(rear.f_in, rear.z_in, reach)
    pitch = np.arctan2(end.z - rear.z_in, end.f - rear.f_in)
    corners = []
    for k in range(1, way.stretches):
        df, dz = way.f_in[k] - rear.f_in, way.z_in[k] - rear.z_in
        apart = np.hypot(df, dz)
        angle = np.where((df > 1e-9) & (apart <= reach), np.arctan2(dz, df), -np.inf)
        corners.append((k, angle, apart))
    end_angle = pitch
    for _, angle, _ in corners:
        pitch = np.maximum(pitch, angle)
    # The foremost of those that hold it: the end, else the farthest corner.
    at_end = end_angle >= pitch - SAME_RAD
    apart = np.broadcast_to(reach, pitch.shape).copy()
    f, z, at, stretch, slope = end.f.copy(), end.z.copy(), end.at.copy(), end.stretch.copy(), end.slope.copy()
    for k, angle, to_corner in corners:
        holds = ~at_end & (angle >= pitch - SAME_RAD)
        if holds.any():
            for target, value in (
                (apart, to_corner), (f, way.f_in[k]), (z, way.z_in[k]), (at, way.at_in[k]), (stretch, k),
                (slope, way.slope_rad[k]),
            ):  # fmt: skip
                np.copyto(target, value, where=holds)
    return pitch, Touch(rear.x_in + apart, f, z, slope, at, stretch, np.ones(f.shape, int))


def axle_touches(machine: Machine, pose: Pose) -> Sequence[Touch]:
    """Every axle where it would touch, trailing first."""
    return [_axle_touch(c, x, i) for i, (c, x) in enumerate(zip(pose.axles, machine.contact_in, strict=True))]
