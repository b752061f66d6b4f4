"""A climb worked another way, to check the climb by: everything sampled densely, nothing solved in closed form.

A wheel's hub is the highest that any sample of the way lifts a disc to; the axle ahead is found by walking until it
is a wheelbase away; forces by searching the one share of grip that leaves no moment.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

STEP = 0.02


@dataclass(frozen=True)
class Dense:
    """What a sampled two-axle machine does with its rear hub at one forward place."""

    pitch: float
    crest: float
    nose: float
    rear_lb: float
    front_lb: float
    share: float
    rear_z: float


class Road:
    """A broken line sampled every fiftieth of an inch."""

    def __init__(self, f, z) -> None:
        self.f = np.arange(f[0] - 350.0, f[-1], STEP)
        self.z = np.interp(self.f, f, z)

    def hub(self, radius: float) -> np.ndarray:
        """Height of the hub of a wheel over each sample."""
        reach = int(radius / STEP)
        padded = np.concatenate([np.full(reach, self.z[0]), self.z, np.full(reach, self.z[-1])])
        best = np.full(len(self.f), -np.inf)
        for d in range(-reach, reach + 1):
            up = math.sqrt(max(radius**2 - (d * STEP) ** 2, 0.0))
            best = np.maximum(best, padded[reach + d : reach + d + len(self.f)] + up)
        return best

    def slope_under(self, f: float, z: float, radius: float) -> float:
        """Slope square to the line from the hub to the sample it touches."""
        near = np.abs(self.f - f) <= radius + STEP
        gap = np.hypot(self.f[near] - f, self.z[near] - z)
        touch = int(np.argmin(gap))
        return math.atan2(self.f[near][touch] - f, z - self.z[near][touch])


def two_axles(road: Road, hubs, at_f: float, *, wheelbase, radii, weight, cg, cg_height, lead_over) -> Dense:
    """A machine with its rear hub at ``at_f``; ``hubs`` are the road's hub heights for its two wheels."""
    rear_z = float(np.interp(at_f, road.f, hubs[0]))
    apart = math.hypot(wheelbase, radii[1] - radii[0])
    ahead = road.f > at_f
    gone = np.hypot(road.f[ahead] - at_f, hubs[1][ahead] - rear_z)
    i = int(np.argmax(gone >= apart))
    part = (apart - gone[i - 1]) / (gone[i] - gone[i - 1])
    front_f = road.f[ahead][i - 1] + part * STEP
    front_z = float(np.interp(front_f, road.f, hubs[1]))
    pitch = math.atan2(front_z - rear_z, front_f - at_f) - math.atan2(radii[1] - radii[0], wheelbase)
    cos, sin = math.cos(pitch), math.sin(pitch)

    def world(x: float, z: float) -> tuple[float, float]:
        z -= radii[0]
        return at_f + x * cos - z * sin, rear_z + x * sin + z * cos

    x = (road.f - at_f) * cos + (road.z - rear_z) * sin
    z = (road.z - rear_z) * cos - (road.f - at_f) * sin + radii[0]
    between = (x > 0) & (x < wheelbase)
    crest = float(np.max(z[between], initial=0.0))
    past = (x > wheelbase) & (x <= wheelbase + lead_over)
    nose = _tangent(x[past] - wheelbase, z[past], radii[1])
    forces = _forces(world(cg, cg_height), road, (at_f, rear_z, radii[0]), (front_f, front_z, radii[1]), weight)
    return Dense(pitch, crest, nose, *forces, rear_z)


def _tangent(out, up, radius: float) -> float:
    """Least slope of a line that touches a wheel from below and stays above every point."""
    low, high = 0.0, 1.5
    for _ in range(50):
        middle = (low + high) / 2
        line = out * math.tan(middle) - radius * (1 / math.cos(middle) - 1)
        clear = bool(np.all((up <= line + 1e-12) | (out <= radius * math.sin(middle))))
        low, high = (low, middle) if clear else (middle, high)
    return high


def _forces(center, road: Road, rear, front, weight: float) -> tuple[float, float, float]:
    """Pushes at two wheels that use the same share of them along the way."""
    places = []
    for f, z, radius in (rear, front):
        slope = road.slope_under(f, z, radius)
        places.append((f + radius * math.sin(slope), z - radius * math.cos(slope), slope))

    def pushes(share: float):
        rows = [[s * -math.sin(p[2]) + c * math.cos(p[2]) for p in places for s, c in ((1.0, share),)],
                [s * math.cos(p[2]) + c * math.sin(p[2]) for p in places for s, c in ((1.0, share),)]]  # fmt: skip
        moments = [(p[0] - center[0]) * u - (p[1] - center[1]) * h for p, h, u in zip(places, *rows, strict=True)]
        # Up and moment are solved for; what is left forward is what the share must make nothing.
        n = np.linalg.solve(np.array([rows[1], moments]), np.array([weight, 0.0]))
        return n, float(np.dot(rows[0], n))

    share = brentq(lambda t: pushes(t)[1], -0.9, 0.9, xtol=1e-13)
    rear_lb, front_lb = pushes(share)[0]
    return float(rear_lb), float(front_lb), share
