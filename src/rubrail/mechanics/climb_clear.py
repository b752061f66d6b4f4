"""Room under a machine as it climbs: how far the way rises into it, in the middle and past either end.

The middle is measured square to the line under the wheels; the ends by the angle of the line that touches the last
wheel and the way, which is how approach and departure angles are stated.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.climb_path import Way
from rubrail.mechanics.climb_pose import Machine, Pose

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Room:
    """What the way asks for under a machine.

    crest_in
        How far the way rises above the line under the contacts, between them.
    nose_rad, tail_rad
        Slope that the leading and the trailing end meet, against the line under the contacts.
    nose_under_in, tail_under_in
        How far the way stands below that line under the very tip of either end; negative where above.
    """

    crest_in: Array
    nose_rad: Array
    tail_rad: Array
    nose_under_in: Array
    tail_under_in: Array


def room(way: Way, machine: Machine, pose: Pose) -> Room:
    """Room under a standing machine.

    Parameters
    ----------
    way, machine, pose
        As in ``climb_pose``.
    """
    span = machine.span_in
    crest = 0.0 * pose.pitch_rad
    corners = [pose.own(way.f_in[k], way.z_in[k]) for k in range(1, way.stretches)]
    for x, z in corners:
        crest = np.where((x > 0) & (x < span) & (z > crest), z, crest)
    nose, nose_under = _end(way, machine, pose, corners, lead=True)
    tail, tail_under = _end(way, machine, pose, corners, lead=False)
    return Room(crest, nose, tail, nose_under, tail_under)


def _end(way: Way, m: Machine, pose: Pose, corners: list[tuple[Array, Array]], *, lead: bool) -> tuple[Array, Array]:
    """Steepest slope met ahead of the leading, or behind the trailing contact, and the room under the tip."""
    at = m.span_in if lead else np.zeros_like(m.span_in)
    over = m.lead_over_in if lead else m.trail_over_in
    radius = m.radius_in[-1] if lead else m.radius_in[0]
    side = 1.0 if lead else -1.0
    tip = (at + side * over, _under(way, pose, at + side * over))
    worst = 0.0 * pose.pitch_rad + 0.0 * over
    for x, z in (*corners, tip):
        out, up = side * (x - at), z - radius
        apart = np.hypot(out, up)
        with np.errstate(invalid="ignore", divide="ignore"):
            slope = np.arctan2(up, out) + np.arcsin(np.minimum(radius / apart, 1.0))
        beyond = (out > 1e-9) & (out <= over + 1e-9) & (apart >= radius - 1e-9)
        worst = np.where(beyond & (slope > worst), slope, worst)
    # Where the wheel itself reaches farthest, it meets the way first.
    return np.where(over <= radius, 0.0 * worst, worst), -tip[1]


def _under(way: Way, pose: Pose, x_in: Array) -> Array:
    """Where the way runs below or above a place on the line under the contacts, square to that line."""
    z = 0.0 * pose.pitch_rad
    for k in range(way.stretches):
        at_x, at_z = pose.own(way.f_in[k], way.z_in[k])
        here = at_z + (x_in - at_x) * np.tan(way.slope_rad[k] - pose.pitch_rad)
        z = np.where(x_in >= at_x, here, z)
    return z


def tip_under_in(*, over_in: ArrayLike, radius_in: ArrayLike, angle_rad: ArrayLike) -> Array:
    """Height of the tip of an end above the line under the wheels, by its approach or departure angle.

    Parameters
    ----------
    over_in : array_like
        Contact to the tip. [in]
    radius_in : array_like
        Of that wheel. [in]
    angle_rad : array_like
        Approach or departure angle. [rad]

    References
    ----------
    CFR-49-523.2
    """
    angle, radius = np.asarray(angle_rad, float), np.asarray(radius_in, float)
    return np.maximum(np.asarray(over_in, float) * np.tan(angle) - radius * (1 / np.cos(angle) - 1), 0.0)
