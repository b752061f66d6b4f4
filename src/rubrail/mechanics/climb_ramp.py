"""A ramp as a beam between its foot on the ground and its hinge on the trailer.

Loads square to it bend it; what runs along it goes into the hinge. The foot stands on the ground without holding
back, so that the hinge's share is never taken too small.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.climb_forces import Patches, Pressure
from rubrail.mechanics.climb_path import RAMP, Way

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Beam:
    """What all ramps together carry.

    load_lb
        True weight of the machine that stands on them.
    foot_lb
        Square to the ground at the foot, the machine's part alone.
    hinge_forward_lb, hinge_up_lb
        What the ramp puts on the hinge, the machine's part alone; it presses down where up is negative.
    moment_lb_in
        Greatest bending, the machine's part alone.
    """

    load_lb: Array
    foot_lb: Array
    hinge_forward_lb: Array
    hinge_up_lb: Array
    moment_lb_in: Array


def simple_beam_moment(*, load_lb: ArrayLike, at_in: ArrayLike, span_in: ArrayLike) -> Array:
    """Greatest bending of a beam on two supports under loads along the first axis, at one of the loads.

    Parameters
    ----------
    load_lb, at_in : array_like
        Loads square to the beam, and where they stand from one end. [lb], [in]
    span_in : array_like
        Between the supports. [in]

    References
    ----------
    BEAM-SIMPLE
    """
    load, at, span = np.asarray(load_lb, float), np.asarray(at_in, float), np.asarray(span_in, float)
    near = (load * (span - at)).sum(axis=0) / span
    worst = np.zeros(np.broadcast_shapes(near.shape, at.shape[1:]))
    for j in range(len(at)):
        before = (load * np.maximum(at[j] - at, 0.0)).sum(axis=0)
        worst = np.maximum(worst, np.where(load[j] != 0, near * at[j] - before, 0.0))
    return worst


def beam(
    way: Way,
    patches: Patches,
    *,
    ground_rad: ArrayLike,
    pressure: Pressure | None,
    track_at_in: ArrayLike = 0.0,
    hinge: int = 2,
) -> Beam:
    """What the ramps carry of a standing machine.

    Parameters
    ----------
    way : Way
    patches : Patches
        The machine's forces; of a track its two bearing ends first, then its flat parts.
    ground_rad : array_like
        Rise of the ground that all of it stands on. [rad]
    pressure : Pressure or None
        Of a flat track.
    track_at_in : array_like
        Where along the way the trailing end of that track lies. [in]
    hinge : int
        Which point of the way the ramp hangs on.
    """
    ground = np.asarray(ground_rad, float)
    on = patches.on(RAMP)
    forward, up = (np.where(on, v, 0.0) for v in (patches.forward_lb, patches.up_lb))
    load = (forward * np.sin(ground) + up * np.cos(ground)).sum(axis=0)
    span = way.at_in[hinge]
    # Moment about the hinge of what presses on the ramp, held by the foot's push square to the ground.
    moment = ((way.f_in[hinge] - patches.f_in) * up + (patches.z_in - way.z_in[hinge]) * forward).sum(axis=0)
    foot = moment / (way.f_in[hinge] - way.f_in[1])
    points = slice(None) if pressure is None else slice(0, 2)
    square, at = (np.where(on, v, 0.0)[points] for v in (patches.square_lb, patches.at_in))
    bend = simple_beam_moment(load_lb=square, at_in=at, span_in=span)
    if pressure is not None:
        near = foot * np.cos(way.slope_rad[1])
        bend = np.maximum(bend, _under_track(pressure, np.asarray(track_at_in, float), span, near))
    return Beam(load, foot, -forward.sum(axis=0), foot - up.sum(axis=0), bend)


def _under_track(p: Pressure, track_at: Array, span: Array, near: Array) -> Array:
    """Greatest bending under a flat track: where what stands before it has used up the foot's push."""
    low = np.clip(p.start_in + track_at, 0.0, span)
    high = np.clip(p.end_in + track_at, 0.0, span)
    rise = (p.at_end - p.at_start) / np.maximum(p.end_in - p.start_in, 1e-12)
    first = p.at_start + rise * (low - track_at - p.start_in)
    # near = first t + rise t^2 / 2, solved for t without cancellation.
    root = first + np.sqrt(np.maximum(first**2 + 2 * rise * near, 0.0))
    used_up = np.where(root > 0, 2 * near / np.where(root > 0, root, 1.0), 0.0)
    t = np.clip(used_up, 0.0, np.maximum(high - low, 0.0))
    bend = near * (low + t) - (first * t**2 / 2 + rise * t**3 / 6)
    return np.where((high > low) & (p.at_start + p.at_end > 0), bend, 0.0)
