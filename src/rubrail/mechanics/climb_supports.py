"""What holds the trailer while a machine climbs it: coupler, axles, and what stands under its rear.

The frame is rigid and rests on springs that push and never pull: each axle (or, where an equalizer shares, the group
at its middle), a stand once the rear has sunk through the gap under it, in the end the ground under the rear edge.
The coupler hangs on the truck's springs until the truck's rear lifts off the ground, and then pulls no harder;
unhitched it only rests. Two equations, for sinking and pitch, settle it. Their pieces are straight, so Newton's method
ends after a few steps. Where two supports are all there are, the springs drop out of the answer. Loads lie ahead of
the rear edge: behind it nothing could hold them.

Sinking is measured from the empty trailer as it stands, downward positive; ``x`` is rearward of the coupling point.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.members import of_present, sum_of_present

Array = NDArray[np.float64]
FIRM_LB_PER_IN = 1e7
"""Spring rate of a stand on firm ground."""
PLAIN_STEPS, CAREFUL_STEPS = 8, 60
SINGULAR = 1e-12
SETTLED_IN, LEVER_IN = 1e-10, 100.0
"""A solution moves no more than so much, pitch counted at a lever of so much."""


@dataclass(frozen=True)
class Trailer:
    """A trailer as it stands, empty, without what is put on it.

    weight_lb, coupler_lb
        Empty weight and empty coupler load, on level ground.
    height_in
        Height its weight acts at; it counts on sloping ground only.
    axle_present, axle_x_in
        Axles in front of every other axis.
    axle_rate_lb_per_in
        Spring rate of one axle.
    independent
        1 where each axle has its own springs, 0 where an equalizer shares.
    """

    weight_lb: Array
    coupler_lb: Array
    height_in: Array
    axle_present: Array
    axle_x_in: Array
    axle_rate_lb_per_in: Array
    independent: Array


@dataclass(frozen=True)
class Holding:
    """What else holds it.

    hitched
        1 hitched to the truck, 0 resting at the coupling point.
    coupler_rate_lb_per_in
        How many pounds sink the coupling point an inch.
    lift_lb
        Coupler load (negative) that lifts the truck's rear off the ground; without a truck 0.
    stand_x_in, stand_gap_in
        Where a stand is, and how far above the ground it hangs; no stand is an infinite gap.
    rear_x_in, rear_height_in
        The rear edge, which the ground holds in the end, and its height.
    """

    hitched: Array
    coupler_rate_lb_per_in: Array
    lift_lb: Array
    stand_x_in: Array
    stand_gap_in: Array
    rear_x_in: Array
    rear_height_in: Array


@dataclass(frozen=True)
class Held:
    """Reactions at each step.

    coupler_lb, axle_lb, stand_lb, edge_lb
        On the coupler (negative where it pulls up), each axle (axles in front), the stand, and the rear edge where
        it has come down on the ground.
    coupler_rise_in
        How far the coupling point has risen.
    lifted
        1 where the truck's rear, or the unhitched nose, is off the ground.
    """

    coupler_lb: Array
    axle_lb: Array
    stand_lb: Array
    edge_lb: Array
    coupler_rise_in: Array
    lifted: NDArray[np.bool_]


@dataclass(frozen=True)
class _Spring:
    """A support: it pushes ``at_rest`` at rest, more by ``rate`` an inch of sinking, and never less than ``least``."""

    x: Array
    rate: Array
    at_rest: Array
    least: Array

    def push(self, sink: Array, pitch: Array) -> Array:
        return np.maximum(self.at_rest + self.rate * (sink + pitch * self.x), self.least)

    def gives(self, sink: Array, pitch: Array) -> Array:
        """Its rate where it still follows, 0 where it does not."""
        follows = self.at_rest + self.rate * (sink + pitch * self.x) > self.least
        return np.where(follows, self.rate, 0.0)


def empty_loads_lb(trailer: Trailer, *, ground_rad: ArrayLike) -> tuple[Array, Array, Array]:
    """Coupler load, axle group load and axle group place of the empty trailer on sloping ground.

    The trailer's own wheels are chocked and take what pulls it down the slope.

    Parameters
    ----------
    trailer : Trailer
    ground_rad : array_like
        Rise of the ground toward the truck. [rad]

    References
    ----------
    STATICS-LOADING
    """
    ground = np.asarray(ground_rad, float)
    count = sum_of_present(present=trailer.axle_present, value=1.0)
    x = sum_of_present(present=trailer.axle_present, value=trailer.axle_x_in) / count
    down = trailer.weight_lb * np.cos(ground)
    back = np.where(ground == 0, 0.0, trailer.weight_lb * np.sin(ground) * trailer.height_in)
    axles = (trailer.weight_lb - trailer.coupler_lb) * np.cos(ground) + back / x
    return down - axles, axles, x


def held(
    trailer: Trailer, holding: Holding, *, down_lb: ArrayLike, moment_lb_in: ArrayLike, ground_rad: ArrayLike = 0.0
) -> Held:
    """Reactions under a load.

    Parameters
    ----------
    trailer, holding
        What holds.
    down_lb : array_like
        Load on the frame, square to the ground. [lb]
    moment_lb_in : array_like
        Its moment about the coupling point on the ground, tail down positive: distance behind times load, and height
        times what pushes rearward. [lb in]
    ground_rad : array_like
        Rise of the ground toward the truck. [rad]

    References
    ----------
    STATICS-LOADING
    """
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        down, moment = np.asarray(down_lb, float), np.asarray(moment_lb_in, float)
        coupler, group, axles, stand, edge = _supports(trailer, holding, np.asarray(ground_rad, float))
        every = (coupler, group, *axles, stand, edge)
        sink, pitch = _settled(every, down + sum(s.at_rest for s in every[:-2]),
                               moment + sum(s.at_rest * s.x for s in every[:-2]))  # fmt: skip
        push = coupler.push(sink, pitch)
        floor = coupler.least + 0.0 * push
        shared = group.push(sink, pitch) / sum_of_present(present=trailer.axle_present, value=1.0)
        own = np.stack([a.push(sink, pitch) for a in axles])
        present = trailer.axle_present.reshape(len(own), *(1,) * (own.ndim - trailer.axle_present.ndim),
                                               *trailer.axle_present.shape[1:])  # fmt: skip
        return Held(
            push, of_present(present=present, value=shared + own), stand.push(sink, pitch),
            edge.push(sink, pitch), -sink, push <= floor,
        )  # fmt: skip


def _supports(
    t: Trailer, h: Holding, ground: Array
) -> tuple[_Spring, _Spring, tuple[_Spring, ...], _Spring, _Spring]:
    """Coupler, axle group, each axle, stand, rear edge; of group and axles, the one that does not apply is slack."""
    at_coupler, at_axles, middle = empty_loads_lb(t, ground_rad=ground)
    count = sum_of_present(present=t.axle_present, value=1.0)
    hitched = h.hitched > 0
    none = 0.0 * at_coupler
    coupler = _Spring(
        none, np.where(hitched, h.coupler_rate_lb_per_in, FIRM_LB_PER_IN + 0.0 * h.hitched), at_coupler,
        np.where(hitched, h.lift_lb, 0.0 * h.hitched),
    )  # fmt: skip
    shares = 1.0 - t.independent
    group = _Spring(middle, shares * count * t.axle_rate_lb_per_in, shares * at_axles, none)
    axles = []
    for present, x in zip(t.axle_present, t.axle_x_in, strict=True):
        alone = np.where(present > 0, t.independent, 0.0 * present)
        at = np.where(present > 0, x, 0.0)
        axles.append(_Spring(at, alone * t.axle_rate_lb_per_in, alone * at_axles / count, none))
    no_stand = np.isposinf(h.stand_gap_in)
    firm = np.where(no_stand, 0.0, FIRM_LB_PER_IN)
    stand = _Spring(np.where(no_stand, 0.0, h.stand_x_in), firm, -firm * np.where(no_stand, 0.0, h.stand_gap_in), none)
    edge = _Spring(h.rear_x_in, FIRM_LB_PER_IN + none, -FIRM_LB_PER_IN * h.rear_height_in, none)
    return coupler, group, tuple(axles), stand, edge


def _settled(springs: tuple[_Spring, ...], down: Array, moment: Array) -> tuple[Array, Array]:
    """Sinking at the coupling point and pitch, tail down, at which the springs push back just as much."""
    sink = 0.0 * (down + moment + sum(s.at_rest + s.x * s.rate for s in springs))
    pitch = np.array(sink)
    for _ in range(PLAIN_STEPS):
        by, turned = _newton(springs, down, moment, sink, pitch)
        sink, pitch = sink + by, pitch + turned
        moved = np.abs(by) + LEVER_IN * np.abs(turned) > SETTLED_IN
        if not moved.any():
            return sink, pitch
    # A few go back and forth between two straight pieces: those by the exact best step along the way.
    shape = np.shape(moved)
    sink, pitch = np.array(sink), np.array(pitch)
    rest = tuple(_Spring(*(np.broadcast_to(getattr(s, f.name), shape)[moved] for f in fields(s))) for s in springs)
    sink[moved], pitch[moved] = _carefully(
        rest, *(np.broadcast_to(v, shape)[moved] for v in (down, moment, sink, pitch))
    )
    return sink, pitch


def _newton(
    springs: tuple[_Spring, ...], down: Array, moment: Array, sink: Array, pitch: Array
) -> tuple[Array, Array]:
    """Change of sinking and pitch that would end it if the springs that follow now kept following."""
    short, turn = down, moment
    a, b, c = 0.0, 0.0, 0.0
    for s in springs:
        push, rate = s.push(sink, pitch), s.gives(sink, pitch)
        short, turn = short - push, turn - push * s.x
        a, b, c = a + rate, b + rate * s.x, c + rate * s.x**2
    # Pivoting about one support alone nothing resists: a trace of stiffness lets it fall until something does.
    loose = a * c - b * b <= SINGULAR * np.maximum(a * c, 1.0)
    a, c = np.where(loose, a + 1.0, a), np.where(loose, c + 1e4, c)
    whole = a * c - b * b
    return (short * c - turn * b) / whole, (turn * a - short * b) / whole


def _carefully(
    springs: tuple[_Spring, ...], down: Array, moment: Array, sink: Array, pitch: Array
) -> tuple[Array, Array]:
    """The same, each step as long as it still gains: the energy is convex, so this ends."""
    for _ in range(CAREFUL_STEPS):
        by, turned = _newton(springs, down, moment, sink, pitch)
        if not (np.abs(by) + LEVER_IN * np.abs(turned) > SETTLED_IN).any():
            break
        moves = [by + turned * s.x for s in springs]
        starts = [s.at_rest + s.rate * (sink + pitch * s.x) for s in springs]
        turns = [
            (s.least - at) / np.where(s.rate * m == 0, np.nan, s.rate * m)
            for s, m, at in zip(springs, moves, starts, strict=True)
        ]
        ends = np.sort([np.clip(np.nan_to_num(t, nan=1.0), 0.0, 1.0) for t in (*turns, np.ones_like(by))], axis=0)
        ends = np.concatenate([np.zeros_like(ends[:1]), ends])
        gain = -(down * by + moment * turned) + sum(
            np.maximum(at + s.rate * m * ends, s.least) * m for s, m, at in zip(springs, moves, starts, strict=True)
        )
        # The gain rises along the step in straight pieces: where it crosses nothing, or the whole step.
        last = np.maximum((gain <= 0).sum(axis=0) - 1, 0)[None]
        following = np.minimum(last + 1, len(ends) - 1)
        low, high, g0, g1 = (np.take_along_axis(v, k, 0)[0] for v in (ends, gain) for k in (last, following))
        part = np.where(g1 > g0, -g0 / np.where(g1 > g0, g1 - g0, 1.0), 1.0)
        step = np.where(g1 <= 0, high, low + np.clip(part, 0.0, 1.0) * (high - low))
        sink, pitch = sink + step * by, pitch + step * turned
    return sink, pitch
