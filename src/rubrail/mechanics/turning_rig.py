"""A truck and its trailer through a turn: where every part of both bodies goes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.turning import Places, follow, turn_path

SIDE_STEP_IN = 18.0
"""Between points of a body's outline; a curb's corner between two of them cuts in by less than a tenth of an inch."""


@dataclass(frozen=True, slots=True)
class Body:
    """A rectangle seen from above: from ``front_in`` to ``rear_in`` behind its reference point, ``width_in`` wide."""

    front_in: float
    rear_in: float
    width_in: float

    def outline(self) -> Places:
        """Points around the sides: ``-behind + 1j * right``."""
        count = max(2, int(np.ceil((self.rear_in - self.front_in) / SIDE_STEP_IN)) + 1)
        behind = np.linspace(self.front_in, self.rear_in, count)
        side = -behind + 0.5j * self.width_in
        return np.concatenate([side, np.conj(side)[::-1]])

    def right_side(self) -> Places:
        """Points along the side that is inside in a right turn."""
        outline = self.outline()
        return outline[: len(outline) // 2]

    def corners(self) -> Places:
        """The four corners, in turn."""
        front, rear, half = -self.front_in, -self.rear_in, 0.5j * self.width_in
        return np.array([front - half, front + half, rear + half, rear - half])


@dataclass(frozen=True, slots=True)
class TurningRig:
    """What a turn asks of a rig [in].

    wheelbase_in : front to rear axle of the truck
    hitch_ahead_in : coupling point ahead of the rear axle, negative behind it
    axle_in : coupling point to the middle of the trailer's axles
    truck : counted from the front axle; trailer : counted from the coupling point, cargo included
    """

    wheelbase_in: float
    hitch_ahead_in: float
    axle_in: float
    truck: Body
    trailer: Body


@dataclass(frozen=True, slots=True)
class Course:
    """A rig along its way, shapes ``(place, *turn)``."""

    front: Places
    truck_heading: Places
    hitch: Places
    trailer_heading: Places

    @property
    def articulation_rad(self) -> NDArray:
        """Angle of the trailer to the truck; positive in a right turn."""
        return np.angle(self.truck_heading * np.conj(self.trailer_heading))

    def axle(self, rig: TurningRig) -> Places:
        """Middle of the trailer's axles."""
        return self.hitch - rig.axle_in * self.trailer_heading

    def truck_points(self, points: Places) -> Places:
        """Points of the truck on the ground, shape ``(point, place, *turn)``."""
        return _laid(self.front, self.truck_heading, points)

    def trailer_points(self, points: Places) -> Places:
        """Points of the trailer on the ground, shape ``(point, place, *turn)``."""
        return _laid(self.hitch, self.trailer_heading, points)

    def swept(self, rig: TurningRig) -> Places:
        """Where the corners of both bodies go: what is furthest out, shape ``(point, *turn)``."""
        return self._both(rig.truck.corners(), rig.trailer.corners())

    def swept_inside(self, rig: TurningRig) -> Places:
        """What the sides that are inside in a right turn pass over, shape ``(point, *turn)``."""
        return self._both(rig.truck.right_side(), rig.trailer.right_side())

    def _both(self, truck: Places, trailer: Places) -> Places:
        both = np.concatenate([self.truck_points(truck), self.trailer_points(trailer)], axis=0)
        return both.reshape(-1, *self.front.shape[1:])


def _laid(at: Places, heading: Places, points: Places) -> Places:
    return at + heading * points.reshape(-1, *(1,) * at.ndim)


def course(*, rig: TurningRig, radius_in: ArrayLike, angle_rad: float, step_in: float = 6.0) -> Course:
    """Drive a rig, straight at first, through a turn to the right and out until it is nearly straight again.

    Parameters
    ----------
    rig : TurningRig
    radius_in : array_like
        Radii of the steering axle's center, shape ``(turn,)`` or a scalar.
    angle_rad : float
    step_in : float
        Distance between places.
    """
    whole = rig.wheelbase_in + abs(rig.hitch_ahead_in) + max(rig.axle_in, rig.trailer.rear_in)
    path = turn_path(
        radius_in=radius_in, angle_rad=angle_rad, before_in=1.2 * whole, after_in=3.5 * whole, step_in=step_in
    )
    truck = follow(path, length_in=rig.wheelbase_in)
    hitch = path - (rig.wheelbase_in - rig.hitch_ahead_in) * truck
    return Course(path, truck, hitch, follow(hitch, length_in=rig.axle_in))


def least_radius_in(*, wheelbase_in: ArrayLike, steer_rad: ArrayLike) -> NDArray:
    """Radius of the front axle's center at full lock: wheelbase over the sine of the steering angle."""
    return np.asarray(wheelbase_in, float) / np.sin(steer_rad)
