"""The whole course of one climb as plain numbers: for a page to scrub, for plots, for the terminal."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from rubrail.answers.climb_judge import Judged
from rubrail.answers.climb_run import Run, courses, worst_step
from rubrail.mechanics.climb_clear import tip_under_in
from rubrail.mechanics.climb_path import BODIES
from rubrail.things.columns import Array

STEEP_DROP_RAD = math.radians(1.0)
NEAR_SHARE = 0.025
"""Moments nearer than this share of the way are told as one."""


@dataclass(frozen=True, slots=True)
class Course:
    """One climb, step by step; every list as long as ``s_in``.

    s_in : how far it has come; x_in, z_in, pitch_rad : its own origin, the point of its base line under the trailing
    contact, behind the coupling point and above the ground, and its pitch, nose up.
    belly_in, nose_in, tail_in : room under belly and ends, ``nan`` where the clearance is not known.
    grip : friction needed; uphill_lb : on its uphill end; ramp_lb : on the ramps; coupler_lb, truck_front_lb,
    truck_rear_lb, stand_lb, edge_lb : on coupler, truck, stands, and the rear edge come down; axle_lb : one list each.
    lift_lb : coupler load that lifts the truck's rear, ``nan`` unhitched.
    way_x_in, way_z_in, way_body : the way itself, foot first; level_x_in, level_z_in : of a tilting deck once level,
    and from which step that is.
    """

    s_in: tuple[float, ...]
    x_in: tuple[float, ...]
    z_in: tuple[float, ...]
    pitch_rad: tuple[float, ...]
    slope_rad: tuple[float, ...]
    belly_in: tuple[float, ...]
    nose_in: tuple[float, ...]
    tail_in: tuple[float, ...]
    grip: tuple[float, ...]
    uphill_lb: tuple[float, ...]
    ramp_lb: tuple[float, ...]
    coupler_lb: tuple[float, ...]
    truck_front_lb: tuple[float, ...]
    truck_rear_lb: tuple[float, ...]
    stand_lb: tuple[float, ...]
    edge_lb: tuple[float, ...]
    axle_lb: tuple[tuple[float, ...], ...]
    coupler_rise_in: tuple[float, ...]
    lift_lb: float
    way_x_in: tuple[float, ...]
    way_z_in: tuple[float, ...]
    way_body: tuple[str, ...]
    level_from: int | None


@dataclass(frozen=True, slots=True)
class Moment:
    """One critical moment: at which step, how far it has come, what it is, and the checks it is worst for."""

    step: int
    s_in: float
    says: str
    checks: tuple[str, ...]


def _list(values: Array) -> tuple[float, ...]:
    return tuple(float(v) for v in np.asarray(values, float).reshape(len(values), -1)[:, 0])


def course(done: Judged) -> Course:
    """Numbers of one climb.

    Parameters
    ----------
    done : Judged
        With a run.
    """
    r = done.run
    assert r is not None
    c, h, m = r.climb, r.held, r.machine
    first = {n: float(np.ravel(done.columns[n])[0]) for n in _LIMITS}
    level = int(np.argmax(c.level_again[..., 0, 0, 0])) if c.level_again.any() else None
    nose = _tip(m.lead_over_in, m.radius_in[-1], first["machine_lead_angle_rad"]) + c.room.nose_under_in
    tail = _tip(m.trail_over_in, m.radius_in[0], first["machine_trail_angle_rad"]) + c.room.tail_under_in
    grip = c.hold.grip if r.drive_known else c.hold.grip * np.nan
    points = range(1, len(c.way.f_in))
    axles = np.moveaxis(np.asarray(h.axle_lb), 0, 1)
    return Course(
        s_in=_list(c.travel_in), x_in=_list(-c.pose.f_in), z_in=_list(c.pose.z_in), pitch_rad=_list(c.pose.pitch_rad),
        slope_rad=_list(c.slope_rad), belly_in=_list(first["machine_belly_in"] - c.room.crest_in),
        nose_in=_list(nose), tail_in=_list(tail), grip=_list(grip), uphill_lb=_list(c.hold.uphill_lb),
        ramp_lb=_list(c.beam.load_lb), coupler_lb=_list(h.coupler_lb), truck_front_lb=_list(r.truck_front_lb),
        truck_rear_lb=_list(r.truck_rear_lb), stand_lb=_list(h.stand_lb), edge_lb=_list(h.edge_lb),
        axle_lb=tuple(_list(axles[:, k]) for k in range(axles.shape[1])), coupler_rise_in=_list(h.coupler_rise_in),
        lift_lb=float(np.ravel(r.lift_lb)[0]),
        way_x_in=tuple(float(-np.ravel(c.way.f_in[k])[0]) for k in points),
        way_z_in=tuple(float(np.ravel(c.way.z_in[k])[0]) for k in points),
        way_body=tuple(BODIES[b] for b in c.way.body[1:]), level_from=level,
    )  # fmt: skip


_LIMITS = ("machine_belly_in", "machine_lead_angle_rad", "machine_trail_angle_rad")


def _tip(over: Array, radius: Array, angle_rad: float) -> Array:
    """Height of the tip of an end; where it does not reach beyond its wheel, that of the wheel's middle."""
    under = tip_under_in(over_in=over, radius_in=radius, angle_rad=angle_rad)
    return np.where(np.asarray(over) <= radius, np.maximum(radius, 0.0) + 0.0 * under, under)


def drop(r: Run) -> tuple[float, int] | None:
    """How far a machine tips over at once, nose down, and after which step; nothing where it does not."""
    pitch = r.climb.pitch_rad.reshape(len(r.climb.pitch_rad), -1)[:, 0]
    travel = r.climb.travel_in.reshape(len(pitch), -1)[:, 0]
    at_once = np.where(np.diff(travel) < 0.01, -np.diff(pitch), 0.0)
    if np.isnan(at_once).any() or at_once.max() < STEEP_DROP_RAD:
        return None
    step = int(at_once.argmax())
    return float(at_once[step]), step


_MOMENTS = (
    ("climb_nose_rad", "leading end meets the ramp", ("nose-clearance",)),
    ("climb_tail_rad", "trailing end nearest the ground", ("tail-clearance",)),
    ("climb_uphill_lb", "lightest at the uphill end", ("tips-back", "uphill-light")),
    ("climb_grip", "needs most grip", ("climb-grip",)),
    ("climb_ramp_lb", "most weight on the ramps", ("ramp-pair", "ramp-each")),
    ("climb_ramp_moment_lb_in", "ramps bend most", ("ramp-bending",)),
    ("climb_crest_in", "belly nearest the crest", ("belly-clearance",)),
    ("climb_coupler_least_lb", "least load on the coupler", ("coupler-uplift", "rig-lifts", "truck-rear-light")),
    ("climb_axle_lb", "most load on the trailer's axles", ("axle-while-loading",)),
    ("climb_coupler_most_lb", "most load on the nose", ("jack-load",)),
)
TOLD_ONLY_IF_ASKED = {"jack-load", "ramp-bending", "axle-while-loading"}


def moments(done: Judged) -> tuple[Moment, ...]:
    """The moments that decide, in the order they come; those close together as one, and the place at the end.

    Parameters
    ----------
    done : Judged
        With a run whose course is known.
    """
    r = done.run
    assert r is not None
    travel = _list(r.climb.travel_in)
    along = courses(r)
    asked = {row.check.id for row in done.judgement.rows.rows}
    failing = {
        row.check.id for i, row in enumerate(done.judgement.rows.rows) if done.judgement.codes[i, 0, 0] < _CLEAR
    }
    found: list[tuple[int, str, tuple[str, ...]]] = []
    for name, says, checks in _MOMENTS:
        mine = tuple(c for c in checks if c in asked)
        if not mine or (set(mine) <= TOLD_ONLY_IF_ASKED and not set(mine) & failing):
            continue
        if name in ("climb_nose_rad", "climb_tail_rad", "climb_crest_in") and not along[name].max() > 1e-6:
            continue
        if not np.isnan(along[name]).any():
            found.append((worst_step(name, along[name]), says, mine))
    tipped = drop(r)
    if tipped:
        level = bool(r.climb.level_again.any())
        found.append((tipped[1] + 1, "the deck comes level" if level else "tips over the crest", ()))
    found.append((len(travel) - 1, "at its place", ()))
    return _merged(sorted(found, key=lambda f: travel[f[0]]), travel, failing)


_CLEAR = 3


def _merged(found: list, travel: tuple[float, ...], failing: set[str]) -> tuple[Moment, ...]:
    out: list[Moment] = []
    near = NEAR_SHARE * travel[-1]
    for step, says, checks in found:
        last = out[-1] if out else None
        if last is not None and travel[step] - last.s_in <= near:
            # Told as one, at the step of whichever fails.
            worse = bool(set(checks) & failing) and not set(last.checks) & failing
            at = step if worse or not last.checks else last.step
            words = last.says if says in last.says else f"{last.says}; {says}"
            out[-1] = Moment(at, travel[at], words, (*last.checks, *checks))
        else:
            out.append(Moment(step, travel[step], says, checks))
    return tuple(out)
