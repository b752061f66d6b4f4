"""What a standing machine presses where: the forces at the places that bear, and the grip they need.

The machine stands still, so three things hold it: its weight and what two bearing places give. Those push square to
the surface and, as wheels or tracks drive, along it. Where everything drives, all places use the same share of what
presses on them; where one axle drives, it alone does and the other resists rolling. That settles every force exactly.
A track that lies flat presses along its whole length, as a straight line does on even springs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.climb_path import Way
from rubrail.mechanics.climb_pose import Machine, Pose, Touch, axle_touches, weight_line_in

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Patches:
    """Forces on the machine, patch by patch along the first axis.

    square_lb, along_lb
        Square to the surface and forward along it.
    slope_rad
        Of that surface.
    f_in, z_in, at_in
        Where it acts, in the world and along the way.
    body
        Index into ``climb_path.BODIES``; -1 where the patch bears nothing.
    """

    square_lb: Array
    along_lb: Array
    slope_rad: Array
    f_in: Array
    z_in: Array
    at_in: Array
    body: NDArray[np.int64]

    @property
    def forward_lb(self) -> Array:
        """Forward part of each force on the machine."""
        return self.along_lb * np.cos(self.slope_rad) - self.square_lb * np.sin(self.slope_rad)

    @property
    def up_lb(self) -> Array:
        """Upward part of each force on the machine, square to the ground the trailer stands on."""
        return self.along_lb * np.sin(self.slope_rad) + self.square_lb * np.cos(self.slope_rad)

    def on(self, *bodies: int) -> NDArray[np.bool_]:
        """Which patches bear on these bodies."""
        return np.isin(self.body, bodies)


@dataclass(frozen=True)
class Pressure:
    """How a flat track presses: from ``start_in`` to ``end_in`` of its length, changing evenly.

    at_start, at_end
        Pounds an inch at either end; 0 where the track does not lie flat.
    """

    start_in: Array
    end_in: Array
    at_start: Array
    at_end: Array

    def between(self, low_in: ArrayLike, high_in: ArrayLike) -> tuple[Array, Array]:
        """Load on a part of the track, and its middle."""
        low = np.clip(low_in, self.start_in, self.end_in)
        high = np.clip(high_in, self.start_in, self.end_in)
        long = np.maximum(self.end_in - self.start_in, 1e-12)
        rise = (self.at_end - self.at_start) / long
        at_low, at_high = (self.at_start + rise * (x - self.start_in) for x in (low, high))
        wide = np.maximum(high - low, 0.0)
        load = wide * (at_low + at_high) / 2
        both = at_low + at_high
        middle = low + wide * np.where(both > 0, (at_low + 2 * at_high) / (3 * np.where(both > 0, both, 1.0)), 0.5)
        return load, middle


@dataclass(frozen=True)
class Hold:
    """How the machine is held.

    patches
        Every force.
    pressure
        Of a flat track; None for wheels.
    grip
        Friction the driven places need, as a share of what presses on them; rolling resistance counted in.
    uphill_lb
        What the foremost bearing place carries of the weight; not above 0 means that the machine tips back.
    axle_lb
        Square to the surface at each axle, trailing first; for a track, at its two bearing ends by the lever.
    """

    patches: Patches
    pressure: Pressure | None
    grip: Array
    uphill_lb: Array
    axle_lb: tuple[Array, ...]


def two_holds(
    *,
    weight_lb: ArrayLike,
    rear: tuple[ArrayLike, ArrayLike, ArrayLike],
    front: tuple[ArrayLike, ArrayLike, ArrayLike],
    rear_drives: ArrayLike,
    front_drives: ArrayLike,
    rolling: ArrayLike,
    ground_rad: ArrayLike = 0.0,
) -> tuple[Array, Array, Array, Array]:
    """Forces at two places that hold a weight still on their slopes.

    Parameters
    ----------
    weight_lb : array_like
        The weight. [lb]
    rear, front : tuple of array_like
        Each place: forward and up from the center of gravity, and the slope of its surface. [in], [in], [rad]
    rear_drives, front_drives : array_like of bool
        Which of them drives; where neither does, both are reckoned as driving.
    rolling : array_like
        Rolling resistance as a share of what presses.
    ground_rad : array_like
        Rise of the ground that all of it stands on. [rad]

    Returns
    -------
    rear_lb, front_lb : ndarray
        Square to each surface. [lb]
    rear_share, front_share : ndarray
        Forward along each surface, as a share of it.

    References
    ----------
    STATICS-CLIMB
    """
    ground, roll = np.asarray(ground_rad, float), np.asarray(rolling, float)

    def parts(place: tuple[ArrayLike, ArrayLike, ArrayLike]) -> tuple[Array, ...]:
        f, z, slope = (np.asarray(v, float) for v in place)
        cos, sin = np.cos(slope), np.sin(slope)
        # Along the true horizontal, along the true vertical, and the moment about the center of gravity: of a unit
        # square to the surface, then of a unit forward along it.
        square = (-np.sin(slope + ground), np.cos(slope + ground), f * cos + z * sin)
        along = (np.cos(slope + ground), np.sin(slope + ground), f * sin - z * cos)
        return (*square, *along)

    ra, rd, rm, rb, re, rn = parts(rear)
    fa, fd, fm, fb, fe, fn = parts(front)
    rear_drives, front_drives = np.asarray(rear_drives, bool), np.asarray(front_drives, bool)
    both = rear_drives == front_drives
    c0 = ra * fm - fa * rm
    c1 = ra * fn + rb * fm - fa * rn - fb * rm
    c2 = rb * fn - fb * rn
    root = c1 + np.copysign(np.sqrt(np.maximum(c1 * c1 - 4 * c0 * c2, 0.0)), c1)
    same = np.where(root == 0, 0.0, -2 * c0 / np.where(root == 0, 1.0, root))

    def alone(da: Array, dm: Array, db: Array, dn: Array, ja: Array, jm: Array, jb: Array, jn: Array) -> Array:
        """Share at the one that drives, the other resisting rolling."""
        a, m = ja - roll * jb, jm - roll * jn
        low = db * m - dn * a
        return -(da * m - dm * a) / np.where(low == 0, np.nan, low)

    rear_share = np.where(both, same, np.where(rear_drives, alone(ra, rm, rb, rn, fa, fm, fb, fn), -roll))
    front_share = np.where(both, same, np.where(front_drives, alone(fa, fm, fb, fn, ra, rm, rb, rn), -roll))
    rear_moment, front_moment = rm + rear_share * rn, fm + front_share * fn
    rear_up, front_up = rd + rear_share * re, fd + front_share * fe
    whole = front_moment * rear_up - rear_moment * front_up
    weight = np.asarray(weight_lb, float)
    return weight * front_moment / whole, -weight * rear_moment / whole, rear_share, front_share


def hold(way: Way, machine: Machine, pose: Pose, *, rolling: ArrayLike, ground_rad: ArrayLike = 0.0) -> Hold:
    """Every force on a standing machine.

    Parameters
    ----------
    way, machine, pose
        As in ``climb_pose``.
    rolling : array_like
        Rolling resistance as a share of what presses.
    ground_rad : array_like
        Rise toward the truck of the ground that all of it stands on. [rad]
    """
    ground = np.asarray(ground_rad, float)
    with np.errstate(invalid="ignore", divide="ignore"):
        return (_track if machine.tracked else _wheels)(way, machine, pose, np.asarray(rolling, float), ground)


def _held(m: Machine, pose: Pose, roll: Array, ground: Array, drives: tuple) -> tuple[Array, Array, Array, Array]:
    f, z = pose.world(m.cg_in, m.cg_height_in)
    ends = [(t.f_in - f, t.z_in - z, t.slope_rad) for t in (pose.rear, pose.front)]
    return two_holds(
        weight_lb=m.weight_lb, rear=ends[0], front=ends[1], rear_drives=drives[0], front_drives=drives[1],
        rolling=roll, ground_rad=ground,
    )  # fmt: skip


def _patches(touches: Sequence[Touch], square: Sequence[Array], share: Sequence[Array], way: Way) -> Patches:
    body = np.array(way.body)
    stacked = [np.stack(np.broadcast_arrays(*v)) for v in (
        square, [n * s for n, s in zip(square, share, strict=True)], [t.slope_rad for t in touches],
        [t.f_in for t in touches], [t.z_in for t in touches], [t.at_in for t in touches],
        [np.where(n > 0, body[t.stretch], -1) for t, n in zip(touches, square, strict=True)],
    )]  # fmt: skip
    return Patches(*stacked)


def _up_share(slope: Array, share: Array, ground: Array) -> Array:
    """Upward part of a force of 1 square to its surface and ``share`` along it."""
    return np.cos(slope + ground) + share * np.sin(slope + ground)


def _wheels(way: Way, m: Machine, pose: Pose, roll: Array, ground: Array) -> Hold:
    driven = np.array(m.driven, bool)
    any_drives = driven.any()
    drives = tuple(driven[t.axle] | (not any_drives) for t in (pose.rear, pose.front))
    rear, front, rear_share, front_share = _held(m, pose, roll, ground, drives)
    uphill = front * _up_share(pose.front.slope_rad, front_share, ground)
    n = len(m.contact_in)
    if n == 2:
        square, share, touches = [rear, front], [rear_share, front_share], [pose.rear, pose.front]
    else:
        touches = axle_touches(m, pose)
        square, share = [], []
        even = _even(m, pose, ground)
        for i in range(n):
            two = np.where(pose.rear.axle == i, rear, 0.0) + np.where(pose.front.axle == i, front, 0.0)
            square.append(np.where(even[i] >= 0, even[i], two))
            share.append(np.where(pose.rear.axle == i, rear_share, front_share))
    grip = np.maximum(np.where(drives[0], rear_share, -np.inf), np.where(drives[1], front_share, -np.inf)) + roll
    return Hold(_patches(touches, square, share, way), None, grip, uphill, tuple(square))


def _even(m: Machine, pose: Pose, ground: Array) -> list[Array]:
    """Loads of three or more axles that all stand on one slope, as on even springs; -1 where they do not."""
    slope = pose.pitch_rad + ground
    x = np.stack(np.broadcast_arrays(*m.contact_in)).astype(float)
    x = x.reshape(x.shape + (1,) * (slope.ndim - x.ndim + 1))
    middle = x.mean(axis=0)
    at = weight_line_in(cg_in=m.cg_in, cg_height_in=m.cg_height_in, slope_rad=slope)
    lean = (at - middle) / ((x - middle) ** 2).sum(axis=0)
    whole = m.weight_lb * np.cos(slope)
    loads = [whole * (1 / len(x) + (xi - middle) * lean) for xi in x]
    good = pose.flat & np.all([v >= 0 for v in loads], axis=0)
    return [np.where(good, v, -1.0) for v in loads]


def _track(way: Way, m: Machine, pose: Pose, roll: Array, ground: Array) -> Hold:
    rear, front, rear_share, front_share = _held(m, pose, roll, ground, (np.True_, np.True_))
    slope = pose.pitch_rad + ground
    at = weight_line_in(cg_in=m.cg_in, cg_height_in=m.cg_height_in, slope_rad=slope)
    a, b = pose.rear.x_in, pose.front.x_in
    whole = m.weight_lb * np.cos(slope)
    lever = (at - a) / (b - a)
    pressure = _pressed(a, b, at, np.where(pose.flat, whole, 0.0))
    flat_share = np.tan(slope)
    touches: list[Touch] = [pose.rear, pose.front]
    square = [np.where(pose.flat, 0.0, rear), np.where(pose.flat, 0.0, front)]
    share = [rear_share, front_share]
    for k in range(way.stretches):
        low, high = (a + way.at_in[j] - pose.rear.at_in for j in (k, k + 1))
        load, middle = pressure.between(low, high)
        f, z = pose.world(middle)
        index = np.full(f.shape, k)
        touches.append(Touch(middle, f, z, pose.pitch_rad, pose.rear.at_in + middle - a, index, index))
        square.append(load)
        share.append(flat_share)
    uphill = np.where(
        pose.flat, whole * lever / np.cos(slope), front * _up_share(pose.front.slope_rad, front_share, ground)
    )
    grip = np.where(pose.flat, flat_share, np.maximum(rear_share, front_share)) + roll
    ends = (np.where(pose.flat, whole * (1 - lever), rear), np.where(pose.flat, whole * lever, front))
    return Hold(_patches(touches, square, share, way), pressure, grip, uphill, ends)


def _pressed(a: Array, b: Array, at: Array, load: Array) -> Pressure:
    """Even springs under a straight line: a trapezoid, or a triangle where part of it would have to pull."""
    long = b - a
    off = at - (a + b) / 2
    part = np.clip(3 * (long / 2 - np.abs(off)), 1e-6, long)
    split = np.abs(off) > long / 6
    start = np.where(split & (off > 0), b - part, a)
    end = np.where(split & (off < 0), a + part, b)
    mean = load / np.where(split, part, long)
    lean = np.where(split, np.sign(off), 6 * off / long)
    return Pressure(start, end, mean * (1 - lean), mean * (1 + lean))
