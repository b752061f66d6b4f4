"""Turn a rig through the corner of two lanes, and say how far it may fold before truck and trailer touch."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from rubrail.answers.lines import lines_of
from rubrail.answers.place import best_place
from rubrail.answers.report import Line, Need
from rubrail.answers.rig import Placement, Rigs, at_placement, rigs
from rubrail.answers.turn_rig import Lengths, TurnInputs, least_radius, touches, turning_rig
from rubrail.checks.judge import judge
from rubrail.checks.verdict import CLEAR, DEPENDS, NOT_KNOWN, OVER, WORDS
from rubrail.mechanics.turning_fit import Corner, Fit, best_fit
from rubrail.mechanics.turning_rig import Course, TurningRig, course
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer

RADII = 9
WIDEST = 3.0
"""Radii tried, from the truck's least to so many times it."""
STEP_IN = 18.0
SIZES = ("overall-width", "overall-height", "combination-length", "trailer-length", "rear-overhang")


@dataclass(frozen=True, slots=True)
class Touch:
    """Two parts that meet when the rig folds, or pitches, so far. ``inf`` angle: never.

    here_deg : how far it folds in this turn, ``nan`` where that is not asked
    """

    name: str
    angle_deg: float
    here_deg: float
    missing: tuple[Need, ...]


@dataclass(frozen=True, slots=True)
class Turn:
    """One rig in one corner.

    spare_in, worst_spare_in : room to the nearest edge at the place where it has most, and with every tolerance
    against it; negative where it does not fit. exit_needed_in : width of the lane out at which it just fits, ``inf``
    where no width is enough.
    radius_in : radius of the front axle's center that fits best; least_radius_in : the truck's least.
    inside_in : how far inside the front axle's path the trailer's axles run; swept_in : widest band it sweeps.
    sizes : width, height, length and overhang as loaded, against the road's limits.
    """

    trailer: str
    trailer_title: str
    truck: str
    haul: str
    verdict: str
    corner: Corner
    spare_in: float
    worst_spare_in: float
    exit_needed_in: float
    radius_in: float
    least_radius_in: float
    radius_known: bool
    inside_in: float
    swept_in: float
    fold_deg: float
    touches: tuple[Touch, ...]
    sizes: tuple[Line, ...]
    missing: tuple[Need, ...]


@dataclass(frozen=True, slots=True)
class Driven:
    """What a drawing of a turn needs: the rig, its course on an arc, and where the corner stands in it."""

    rig: TurningRig
    radius_in: float
    course: Course
    fit: Fit


def turn(
    *, haul: Haul, trailer: Trailer, corner: Corner, placement: Placement | None = None
) -> tuple[Turn, Driven | None]:
    """Turn a haul on a trailer through a corner.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    trailer : Trailer
    corner : Corner
        The lanes, as the yard or the buyer measured them.
    placement : Placement, optional
        Where each piece stands; the best place where not given.

    Returns
    -------
    Turn, and what a drawing needs; ``None`` for that where a length is not known.
    """
    one = rigs(haul=haul, trailers=(trailer,))
    if placement is None:
        _, columns, judgement = best_place(one)
    else:
        columns = at_placement(one, placement)
        judgement = judge(columns)
    inputs = TurnInputs.of(columns)
    lines = lines_of(judgement, columns, unit=0, asked=one.asked(0))
    sizes = tuple(x for x in lines if x.check in SIZES)
    missing = _needs(one, inputs.missing_for_turn)
    stated, against = inputs.stated, inputs.against
    driven = worst = None
    if not missing:
        driven = _drive(stated, corner, least_radius(stated))
        worst = _drive(against, corner, least_radius(against, against=True))
    fold = float(np.degrees(driven.course.articulation_rad.max())) if driven else math.nan
    found = tuple(
        Touch(t.name, math.degrees(t.angle_rad), fold if t.folds else math.nan, _needs(one, t.missing))
        for t in touches(inputs)
    )
    spare = driven.fit.spare_in if driven else math.nan
    worst_spare = worst.fit.spare_in if worst else math.nan
    result = Turn(
        trailer=trailer.id,
        trailer_title=trailer.title or trailer.id,
        truck=one.truck_title,
        haul=haul.title or haul.id,
        verdict=WORDS[_verdict(spare, worst_spare, found)],
        corner=corner,
        spare_in=spare,
        worst_spare_in=worst_spare,
        exit_needed_in=_exit_needed(driven, corner) if driven else math.nan,
        radius_in=driven.radius_in if driven else math.nan,
        least_radius_in=least_radius(stated),
        radius_known=not math.isnan(stated.turning_circle_in),
        inside_in=_inside(driven) if driven else math.nan,
        swept_in=_swept(driven, corner) if driven else math.nan,
        fold_deg=fold,
        touches=found,
        sizes=sizes,
        missing=missing,
    )
    return result, driven


def _needs(one: Rigs, names: tuple[str, ...]) -> tuple[Need, ...]:
    ask = one.asked(0)
    return tuple(ask(name, None) for name in names)


def _verdict(spare: float, worst: float, found: tuple[Touch, ...]) -> int:
    """The corner and what touches in it: the worse of the two, an unknown never a pass."""
    if spare < 0 or any(t.angle_deg < t.here_deg for t in found):
        return OVER
    asked = [t for t in found if t.missing and not math.isnan(t.here_deg)]
    if math.isnan(spare) or asked:
        return NOT_KNOWN
    return CLEAR if worst >= 0 else DEPENDS


def _drive(lengths: Lengths, corner: Corner, least_in: float) -> Driven:
    """The turn that keeps furthest from every edge: the least radius the truck can steer, or a wider one."""
    rig = turning_rig(lengths)
    radii = np.geomspace(least_in, WIDEST * least_in, RADII)
    best = max((_tried(rig, corner, r) for r in radii), key=lambda d: d.fit.spare_in)
    index = int(np.argmin(np.abs(radii - best.radius_in)))
    around = np.linspace(radii[max(index - 1, 0)], radii[min(index + 1, RADII - 1)], 5)
    return max((best, *(_tried(rig, corner, r) for r in around)), key=lambda d: d.fit.spare_in)


def _tried(rig: TurningRig, corner: Corner, radius_in: float) -> Driven:
    driven = course(rig=rig, radius_in=float(radius_in), angle_rad=corner.angle_rad, step_in=STEP_IN)
    return Driven(rig, float(radius_in), driven, _fit(rig, driven, corner))


def _fit(rig: TurningRig, driven: Course, corner: Corner) -> Fit:
    return best_fit(driven.swept(rig), corner=corner, inner_side=driven.swept_inside(rig))


def _inside(driven: Driven) -> float:
    """Greatest distance from the front axle's path to the nearest place of the trailer's axles."""
    front = driven.course.front
    # The axles start a rig's length behind the front axle: they need the way it came by.
    came = front[0] - np.arange(STEP_IN, driven.rig.wheelbase_in + 2 * driven.rig.axle_in, STEP_IN)
    axle, front = driven.course.axle(driven.rig), np.concatenate([came, front])
    return float(np.abs(axle[:, None] - front[None, :]).min(axis=1).max())


def _swept(driven: Driven, corner: Corner) -> float:
    """Width of the band along the line that halves the corner, from its outermost place to its innermost."""
    course, rig = driven.course, driven.rig
    swept = np.concatenate([course.swept(rig), course.swept_inside(rig)])
    radius, half = driven.radius_in, corner.angle_rad / 2
    from_center = (swept - 1j * radius) * complex(math.cos(half), -math.sin(half))
    near = from_center[(np.abs(from_center.real) < STEP_IN) & (from_center.imag < radius)]
    return float(-near.imag.min() + near.imag.max())


def _exit_needed(driven: Driven, corner: Corner) -> float:
    """Width of the lane out at which this turn just fits; ``inf`` where the lane in is itself too narrow."""

    def spare(width: float) -> float:
        return _fit(driven.rig, driven.course, replace(corner, exit_in=width)).spare_in

    low, high = 0.0, 1200.0
    if spare(high) < 0:
        return math.inf
    while high - low > 0.5:
        middle = (low + high) / 2
        low, high = (low, middle) if spare(middle) >= 0 else (middle, high)
    return high
