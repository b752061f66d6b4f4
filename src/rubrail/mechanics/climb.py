"""A machine climbing onto a trailer, step by step, standing still at each: geometry, forces, and what holds the rig.

Steps lead every array; whatever the inputs vary over (samples, units) trails. Steps lie evenly along the way, and one
just before and one just after each place where something changes at once: a wheel at a corner, a track that tips.
The trailer stands as it stands: what springs give under the machine is not taken off the way.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.climb_clear import Room, room
from rubrail.mechanics.climb_forces import Hold, hold
from rubrail.mechanics.climb_path import DECK, RAMP, TAIL, CenterLine, Way
from rubrail.mechanics.climb_pose import Machine, Pose, stand, weight_line_in
from rubrail.mechanics.climb_ramp import Beam, beam

Array = NDArray[np.float64]
STEPS = 320
"""Even steps along the way: about an inch and a half each."""
BESIDE_IN = 1e-4
"""How far before and after a corner its two steps lie."""
RUN_UP_IN = 12.0
"""Level ground before anything of the machine reaches over the foot."""


@dataclass(frozen=True)
class Site:
    """Where it climbs.

    way
        The way up; of a deck that tilts, tilted.
    level
        The same deck level again; None where nothing tilts.
    ground_rad
        Rise toward the truck of the ground that machine and rig stand on.
    rolling
        Rolling resistance as a share of what presses.
    """

    way: Way
    level: Way | None
    ground_rad: Array
    rolling: Array


@dataclass(frozen=True)
class Climb:
    """Every step of a climb.

    place_in
        Label of each step: where the trailing contact is along its way, or would be.
    travel_in
        How far the machine has come since the first step.
    pose, hold, room, beam
        How it stands, what holds it, the room under it, what the ramps carry.
    slope_rad
        Steepest true slope that any part of it stands on.
    pitch_rad
        True pitch, nose up.
    frame_down_lb, frame_moment_lb_in
        What it puts on the trailer's frame, square to the ground; and its moment about the coupling point on the
        ground, tail down.
    level_again
        Of a deck that tilts: whether it has come level.
    """

    place_in: Array
    travel_in: Array
    way: Way
    pose: Pose
    hold: Hold
    room: Room
    beam: Beam
    slope_rad: Array
    pitch_rad: Array
    frame_down_lb: Array
    frame_moment_lb_in: Array
    level_again: NDArray[np.bool_]


def climb(site: Site, machine: Machine, *, end_x_in: ArrayLike, steps: int = STEPS) -> Climb:
    """Drive a machine up to its place.

    Parameters
    ----------
    site : Site
    machine : Machine
    end_x_in : array_like
        Coupling point to its trailing contact at its place. [in]
    steps : int
        Even steps along the way.
    """
    with np.errstate(invalid="ignore", divide="ignore"):
        end = np.asarray(end_x_in, float)
        if site.level is None:
            last = _line(site.way, machine).place_at(-end)
            place = _places(site, machine, last, steps)
            return _driven(site, site.way, machine, place)
        return _up_a_tilt(site, machine, end, steps)


def _line(way: Way, machine: Machine) -> CenterLine:
    return CenterLine(way, machine.radius_in[0])


def _up_a_tilt(site: Site, machine: Machine, end: Array, steps: int) -> Climb:
    assert site.level is not None
    # Cutting the corner at the foot shortens a wheel's way; level again, it must not jump.
    shift = 2 * machine.radius_in[0] * np.tan(site.way.slope_rad[1] / 2)
    last = _line(site.level, machine).place_at(-end) - shift
    place = _places(site, machine, last, steps)
    tilted = _driven(site, site.way, machine, place)
    # The deck falls level once what stands on it presses its rear edge up, and stays.
    level = np.logical_or.accumulate(tilted.beam.foot_lb < -1e-6, axis=0)
    if not level.any():
        return tilted
    flat = _driven(site, site.level, machine, place + shift)
    return replace(_merged(level, flat, tilted), place_in=place, travel_in=tilted.travel_in, level_again=level)


def _merged(where: NDArray[np.bool_], new: object, old: object) -> object:
    """One record taken from another step by step; arrays with a member axis in front keep it."""
    if isinstance(old, np.ndarray):
        a, b = np.broadcast_arrays(new, old)
        return np.where(where, a, b)
    if isinstance(old, tuple):
        return tuple(_merged(where, a, b) for a, b in zip(new, old, strict=True))
    if isinstance(old, Way):
        return old
    if hasattr(old, "__dataclass_fields__"):
        return replace(old, **{n: _merged(where, getattr(new, n), getattr(old, n)) for n in old.__dataclass_fields__})
    return old


def _driven(site: Site, way: Way, machine: Machine, place: Array) -> Climb:
    ground = site.ground_rad
    pose = stand(way, machine, place, ground_rad=ground)
    held = hold(way, machine, pose, rolling=site.rolling, ground_rad=ground)
    ramps = beam(
        way, held.patches, ground_rad=ground, pressure=held.pressure, track_at_in=pose.rear.at_in - pose.rear.x_in
    )
    frame = held.patches.on(TAIL, DECK)
    up, forward = (np.where(frame, v, 0.0) for v in (held.patches.up_lb, held.patches.forward_lb))
    down = up.sum(axis=0) - ramps.hinge_up_lb
    moment = (forward * held.patches.z_in - up * held.patches.f_in).sum(axis=0)
    moment = moment + ramps.hinge_up_lb * way.f_in[2] - ramps.hinge_forward_lb * way.z_in[2]
    # What stands where is asked by comparing, and nothing compares with what is not known: it is put back here.
    unknown = 0.0 * (pose.f_in + pose.z_in + pose.pitch_rad + held.uphill_lb + held.patches.at_in[:2].sum(axis=0))
    unknown = unknown + 0.0 * sum(a + 0.0 * b for a, b in zip(way.at_in, way.slope_rad, strict=False))
    ramps = Beam(*(getattr(ramps, f.name) + unknown for f in fields(Beam)))
    bears = held.patches.body >= 0
    slope = np.where(bears, held.patches.slope_rad, -np.inf).max(axis=0)
    slope = np.where(np.isinf(slope), pose.pitch_rad, slope)
    under = room(way, machine, pose)
    return Climb(
        place_in=place, travel_in=place - place[:1], way=way, pose=pose, hold=held,
        room=Room(*(getattr(under, f.name) + unknown for f in fields(Room))), beam=ramps,
        slope_rad=slope + ground + unknown, pitch_rad=pose.pitch_rad + ground + unknown,
        frame_down_lb=down + unknown, frame_moment_lb_in=moment + unknown,
        level_again=np.zeros(pose.pitch_rad.shape, bool),
    )  # fmt: skip


def _places(site: Site, machine: Machine, last: Array, steps: int) -> Array:
    """Labels of the steps: even ones, and two beside each place where something changes at once."""
    first = -(machine.span_in + machine.lead_over_in + RUN_UP_IN) + 0.0 * last
    even = np.linspace(0.0, 1.0, steps + 1).reshape((-1,) + (1,) * np.ndim(first))
    places = [first + (last - first) * even]
    for event in _events(site.way, machine, site.ground_rad):
        at = event + 0.0 * first
        both = np.stack([at - BESIDE_IN, at + BESIDE_IN])
        places.append(np.where(np.isnan(both), first, np.clip(both, first, last)))
    return np.sort(np.concatenate(places), axis=0)


def _events(way: Way, machine: Machine, ground: Array) -> Iterator[Array]:
    if machine.tracked:
        yield from _track_events(way, machine)
    else:
        yield from _wheel_events(way, machine)
    yield from tipping_places(way, machine, ground)


def _wheel_events(way: Way, machine: Machine) -> Iterator[Array]:
    rear = _line(way, machine)
    yield from (start for start, _, _ in rear.starts())
    for x, r in zip(machine.contact_in[1:], machine.radius_in[1:], strict=True):
        apart = np.hypot(x - machine.contact_in[0], r - machine.radius_in[0])
        for _, f, z in CenterLine(way, r).starts():
            yield rear.behind(f, z, apart).place


def _track_events(way: Way, machine: Machine) -> Iterator[Array]:
    line = CenterLine(way, 0.0)
    for k in range(1, way.stretches):
        yield way.at_in[k]
        yield line.behind(way.f_in[k], way.z_in[k], machine.span_in).place
        for j in range(1, k):
            apart = np.hypot(way.f_in[k] - way.f_in[j], way.z_in[k] - way.z_in[j])
            yield line.behind(way.f_in[j], way.z_in[j], np.maximum(machine.span_in - apart, 0.0)).place


def tipping_places(way: Way, machine: Machine, ground_rad: ArrayLike) -> list[Array]:
    """Labels at which a track tips over a crest, or a tilting deck falls level, if it comes to that.

    Parameters
    ----------
    way, machine
        As in ``climb_pose``.
    ground_rad : array_like
        Rise of the ground that all of it stands on. [rad]
    """
    ground = np.asarray(ground_rad, float)
    found: list[Array] = []
    if way.body[1:] == (RAMP, RAMP):
        slope = way.slope_rad[1]
        at = weight_line_in(cg_in=machine.cg_in, cg_height_in=machine.cg_height_in, slope_rad=slope + ground)
        return [way.at_in[2] - at - 2 * machine.radius_in[0] * np.tan(slope / 2)]
    if not machine.tracked:
        return found
    line = CenterLine(way, 0.0)
    for k in range(2, way.stretches):
        for i in range(k):
            found.append(_tips_at(way, machine, i, k, ground))
        at = weight_line_in(
            cg_in=machine.cg_in, cg_height_in=machine.cg_height_in, slope_rad=way.slope_rad[k - 1] + ground
        )
        back = np.maximum(at - way.length_in(k - 1), 0.0)
        found.append(line.behind(way.f_in[k - 1], way.z_in[k - 1], back).place)
    return found


def _tips_at(way: Way, m: Machine, i: int, k: int, ground: Array) -> Array:
    """Label at which a track with its end on stretch ``i`` has its weight over corner ``k``."""
    slope = way.slope_rad[i]
    cos, sin = np.cos(slope), np.sin(slope)
    df, dz = way.f_in[k] - way.f_in[i], way.z_in[k] - way.z_in[i]
    along, off = df * cos + dz * sin, dz * cos - df * sin
    least = np.abs(off) * (1 + 1e-9) + 1e-9
    apart = np.maximum(m.cg_in + 0.0 * off, least)
    for _ in range(12):
        lean = np.arcsin(np.clip(off / apart, -1.0, 1.0)) + slope + ground
        over = m.cg_in - m.cg_height_in * np.tan(lean) - apart
        rate = m.cg_height_in / np.cos(lean) ** 2 * off / (apart * np.sqrt(np.maximum(apart**2 - off**2, 1e-12))) - 1.0
        apart = np.maximum(apart - over / np.where(rate == 0, -1.0, rate), least)
    return way.at_in[i] + along - np.sqrt(np.maximum(apart**2 - off**2, 0.0))
