"""Turning at a walk: how what is towed cuts inside the path of what tows it.

Plan view, seen from above: places are complex numbers ``ahead + 1j * right`` in inches, headings are unit complex
numbers, and a right turn is a positive angle. Tires roll without slipping sideways, so an axle follows a tractrix.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Places = NDArray[np.complex128]
STRAIGHT_STEPS = 3
"""Straights are driven in steps so many times those of an arc: ``follow`` is exact on them."""


def turn_path(
    *, radius_in: ArrayLike, angle_rad: float, before_in: float, after_in: float, step_in: float = 6.0
) -> Places:
    """Straight, an arc to the right, straight on: places of the steering axle's center.

    Parameters
    ----------
    radius_in : array_like
        Radius of the arc, shape ``(turn,)`` or a scalar.
    angle_rad : float
        How far it turns.
    before_in, after_in : float
        Length of the straights; the arc begins at 0.
    step_in : float
        About the distance between places on the arc, wider on the straights; as many places for every radius.

    Returns
    -------
    array of complex, shape ``(place, *turn)``
    """
    radius = np.asarray(radius_in, float)
    count = max(2, round(float(np.max(radius)) * angle_rad / step_in))
    turned = np.exp(1j * np.linspace(0.0, angle_rad, count + 1)).reshape(-1, *(1,) * radius.ndim)
    arc = radius * (1j - 1j * turned)
    straight = STRAIGHT_STEPS * step_in
    lead_in = np.linspace(-before_in, 0.0, max(2, round(before_in / straight)), endpoint=False)
    lead_out = np.linspace(0.0, after_in, max(2, round(after_in / straight)) + 1)[1:]
    shape = (-1, *(1,) * radius.ndim)
    return np.concatenate(
        [
            np.broadcast_to(lead_in.reshape(shape), (len(lead_in), *radius.shape)).astype(complex),
            arc,
            arc[-1] + lead_out.reshape(shape) * turned[-1],
        ]
    )


def follow(lead: Places, *, length_in: ArrayLike, heading: complex = 1.0) -> Places:
    """Headings of a body whose front point is led along ``lead`` while its axle rolls freely.

    On each straight piece of the way the angle between body and way shrinks as ``tan(a / 2) ~ exp(-s / length)``,
    which is exact: the pieces may be long where the way is straight, and an arc converges with the square of the step.

    Parameters
    ----------
    lead : array of complex, shape ``(place, *turn)``
        Where the body's front point goes [in].
    length_in : array_like
        From that point to the axle; broadcasts over ``turn``.
    heading : complex
        Where the body points at the first place.

    Returns
    -------
    array of complex, shape as ``lead``
        Unit headings; the axle is at ``lead - length_in * heading``.
    """
    steps = np.diff(lead, axis=0)
    far = np.abs(steps)
    way = np.where(far > 0, steps / np.where(far > 0, far, 1.0), 1.0)
    shrink = np.exp(-far / np.asarray(length_in, float))
    out = np.empty(lead.shape, complex)
    out[0] = heading
    for n in range(len(steps)):
        half = np.angle(out[n] * np.conj(way[n])) / 2.0
        kept = np.exp(2j * np.arctan(np.tan(half) * shrink[n]))
        out[n + 1] = np.where(far[n] > 0, way[n] * kept, out[n])
    return out


def steady_inside_in(*, radius_in: ArrayLike, lengths_in: ArrayLike, hitches_in: ArrayLike = ()) -> NDArray:
    """How far inside the steering axle's circle the last axle runs once a steady turn has settled.

    ``R - sqrt(R^2 - sum(L^2) + sum(h^2))``: the sum-of-squares rule of OFFTRACKING-STEADY.

    Parameters
    ----------
    radius_in : array_like
        Radius of the steering axle's center, any shape.
    lengths_in : array_like
        Wheelbase, then each length from hitch to axle, first axis the bodies.
    hitches_in : array_like
        Each distance from an axle to the hitch it carries, ahead or behind.

    Returns
    -------
    array
        ``nan`` where no steady turn exists: the trailer would pivot past the truck.
    """
    radius = np.asarray(radius_in, float)
    inner = radius**2 - np.sum(np.square(lengths_in), axis=0) + np.sum(np.square(hitches_in), axis=0)
    return radius - np.sqrt(np.where(inner >= 0, inner, np.nan))


def inside_radius_in(
    *,
    radius_in: float,
    lengths_in: ArrayLike,
    hitches_in: ArrayLike = (),
    width_in: float,
    angle_rad: float = np.pi,
    step_in: float = 6.0,
) -> float:
    """Least distance of the last axle's inner end from the center of a turn, as design vehicles state it.

    Parameters
    ----------
    radius_in : float
        Of the steering axle's center.
    lengths_in, hitches_in : sequence of float
        Wheelbase and each length from hitch to axle; each hitch's place ahead of the axle before it.
    width_in : float
        Across the last axle.
    angle_rad : float
    step_in : float
    """
    lengths = [float(x) for x in np.atleast_1d(lengths_in)]
    hitches = [float(x) for x in np.atleast_1d(hitches_in)] or [0.0] * (len(lengths) - 1)
    whole = sum(lengths) + sum(abs(h) for h in hitches)
    lead = turn_path(radius_in=radius_in, angle_rad=angle_rad, before_in=whole, after_in=3 * whole, step_in=step_in)
    axle = lead
    for length, ahead in zip(lengths, [*hitches, 0.0], strict=True):
        heading = follow(lead, length_in=length)
        axle = lead - length * heading
        lead = axle + ahead * heading
    return float(np.abs(axle - 1j * radius_in).min() - width_in / 2)
