"""Drive a machine up: from columns of rig, way and machine to every step of its climb, and what the checks ask of it.

Steps lead; the columns' own axes ``(unit, position, sample)`` trail. All units of one run have the same kind of way.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rubrail.checks.engine import Evaluation
from rubrail.mechanics.climb import STEPS, Climb, Site, climb
from rubrail.mechanics.climb_hitch import coupler_rate_lb_per_in, lift_off_lb, truck_axles_lb
from rubrail.mechanics.climb_path import Way
from rubrail.mechanics.climb_pose import Machine
from rubrail.mechanics.climb_supports import Held, Holding, Trailer, held
from rubrail.mechanics.climb_ways import down_tail, over_ramps, up_tilt
from rubrail.mechanics.members import of_present
from rubrail.rules.loading import usual
from rubrail.things.columns import Array, Columns

COARSE = 40
"""Even steps of a climb that only says what a tolerance changes."""


@dataclass(frozen=True)
class Run:
    """One climb: geometry and forces of the machine, reactions of the rig, the truck's axles."""

    climb: Climb
    machine: Machine
    held: Held
    truck_front_lb: Array
    truck_rear_lb: Array
    truck_rear_alone_lb: Array
    lift_lb: Array
    drive_known: bool


def run(columns: Columns, *, kind: str, ground_rad: float, stands: bool, blocks: bool, steps: int = STEPS) -> Run:
    """Drive the machine of some columns up to its place.

    Parameters
    ----------
    columns : Columns
        As ``climb_setup.climb_columns`` lays them out.
    kind : str
        How one drives up: ``ramps``, ``tail`` or ``tilt``.
    ground_rad : float
        Rise of the ground toward the truck. [rad]
    stands, blocks : bool
        What stands under the rear.
    steps : int
        Even steps along the way.
    """
    value = Evaluation(columns).value
    machine, known = _machine(value)
    way, level = _way(value, kind)
    rolling = usual("rolling_tracks" if machine.tracked else "rolling_wheels")
    site = Site(way, level, np.asarray(float(ground_rad)), np.asarray(rolling))
    with np.errstate(invalid="ignore", divide="ignore"):
        driven = climb(site, machine, end_x_in=value("machine_end_x_in"), steps=steps)
        ahead = of_present(present=value("item_present"), value=value("item_weight_lb"))
        at = of_present(present=value("item_present"), value=value("item_x_in"))
        holding = _holding(value, stands=stands, blocks=blocks, kind=kind)
        reactions = held(
            _trailer(value), holding,
            down_lb=driven.frame_down_lb + ahead.sum(axis=0),
            moment_lb_in=driven.frame_moment_lb_in + (ahead * at).sum(axis=0), ground_rad=ground_rad,
        )  # fmt: skip
        loaded, alone = (
            truck_axles_lb(
                front_lb=value("truck_front_empty_lb"), rear_lb=value("truck_rear_empty_lb"), coupler_lb=load,
                hitch_ahead_in=value("hitch_ahead_in"), wheelbase_in=value("truck_wheelbase_in"),
                height_in=usual("truck_cg_height_in"), ground_rad=ground_rad,
            )
            for load in (reactions.coupler_lb, 0.0)
        )  # fmt: skip
    lift = np.where(value("climb_hitched") > 0, holding.lift_lb, np.nan)
    return Run(driven, machine, reactions, *loaded, alone[1], lift, known)


def _machine(value) -> tuple[Machine, bool]:
    """The machine, and whether it is known which axles drive."""
    at, radius, drive = (value(n) for n in ("contact_at_in", "contact_radius_in", "contact_driven"))
    # A machine of which not even the kind is known is laid out on wheels whose places are not known either.
    tracked = bool(np.nan_to_num(value("machine_tracked")).max() > 0)
    same = all(np.array_equal(radius[0], r, equal_nan=True) for r in radius[1:])
    radii = (radius[0],) * len(radius) if same else tuple(radius)
    known = not np.isnan(drive).any()
    driven = tuple(bool(d.max() > 0) for d in drive) if known else (True,) * len(drive)
    machine = Machine(
        value("machine_weight_lb"), value("machine_cg_in"), value("machine_cg_height_in"), tuple(at), radii, tracked,
        value("machine_lead_over_in"), value("machine_trail_over_in"), driven,
    )  # fmt: skip
    return machine, known


def _way(value, kind: str) -> tuple[Way, Way | None]:
    common = {"deck_height_in": value("deck_height_in"), "deck_front_x_in": value("deck_front_x_in")}
    # Not the checks' own end of the level deck: they take a tail within an inch of level as level.
    flat = value("deck_front_x_in") + value("deck_flat_length_in")
    rear = flat + value("tail_length_in")
    if kind == "tilt":
        tilts = value("tilt_length_in")
        return up_tilt(**common, rear_x_in=rear, tilt_length_in=tilts, tilt_angle_rad=value("tilt_angle_rad"))
    if kind == "tail":
        count, length = value("ramp_count"), value("ramp_length_in")
        return down_tail(
            **common, flat_rear_x_in=flat, tail_length_in=value("tail_length_in"),
            lowered_height_in=value("tail_lowered_height_in"), ramp_length_in=np.where(count == 0, np.inf, length),
        ), None  # fmt: skip
    hitched = value("climb_hitched") > 0
    raised, trim = (np.where(hitched, value(n), 0.0) for n in ("coupler_raise_in", "trim_rad"))
    return over_ramps(
        **common, flat_rear_x_in=flat, rear_x_in=rear, edge_height_in=common["deck_height_in"] - value("tail_drop_in"),
        ramp_length_in=value("ramp_length_in"), coupler_raise_in=raised, trim_rad=trim,
    ), None  # fmt: skip


def _trailer(value) -> Trailer:
    gawr = value("axle_gawr_lb")
    rating = of_present(present=value("axle_present"), value=gawr).max(axis=0)
    by_rating = np.where(np.isnan(rating), usual("trailer_axle_rate"), rating / usual("trailer_settle_in"))
    rate = value("suspension_rate_lb_per_in")
    return Trailer(
        value("trailer_empty_weight_lb"), value("trailer_empty_coupler_lb"),
        np.asarray(usual("trailer_cg_height_in")), value("axle_present"), value("axle_x_in"),
        np.where(np.isnan(rate), by_rating, rate), value("suspension_kind"),
    )  # fmt: skip


def _holding(value, *, stands: bool, blocks: bool, kind: str) -> Holding:
    hitched = value("climb_hitched")
    settle = usual("truck_settle_in")
    front, rear = (value(n) / settle for n in ("truck_front_gawr_lb", "truck_rear_gawr_lb"))
    front, rear = (np.where(np.isnan(r), usual("trailer_axle_rate"), r) for r in (front, rear))
    ahead, base = value("hitch_ahead_in"), value("truck_wheelbase_in")
    rate = coupler_rate_lb_per_in(front_rate=front, rear_rate=rear, hitch_ahead_in=ahead, wheelbase_in=base)
    lift = lift_off_lb(rear_lb=value("truck_rear_empty_lb"), hitch_ahead_in=ahead, wheelbase_in=base)
    fitted = value("stands_fitted") if stands else 0.0 * value("stands_fitted")
    gap = np.where(np.isnan(fitted), np.nan, np.where(fitted > 0, value("stand_gap_in"), np.inf))
    gap = np.zeros_like(gap) if blocks else gap
    edge = value("tail_lowered_height_in") if kind == "tail" else value("deck_height_in") - value("tail_drop_in")
    return Holding(hitched, rate, lift, value("deck_rear_x_in"), gap, value("deck_rear_x_in"), edge)


OUTCOMES = (
    "climb_slope_rad", "climb_crest_in", "climb_nose_rad", "climb_tail_rad", "climb_grip", "climb_uphill_lb",
    "climb_ramp_lb", "climb_ramp_moment_lb_in", "climb_coupler_least_lb", "climb_coupler_most_lb",
    "climb_truck_rear_alone_lb", "climb_truck_rear_lb", "climb_lifted", "climb_axle_lb",
)  # fmt: skip
LEAST = {"climb_uphill_lb", "climb_coupler_least_lb", "climb_truck_rear_lb"}
"""Outcomes whose worst is the least over the climb; of the others it is the greatest."""


def courses(r: Run) -> dict[str, Array]:
    """Each outcome along the climb, steps first; the trailer's axles behind them."""
    c, h = r.climb, r.held
    grip = c.hold.grip if r.drive_known else c.hold.grip * np.nan
    return {
        "climb_slope_rad": c.slope_rad, "climb_crest_in": c.room.crest_in, "climb_nose_rad": c.room.nose_rad,
        "climb_tail_rad": c.room.tail_rad, "climb_grip": grip, "climb_uphill_lb": c.hold.uphill_lb,
        "climb_ramp_lb": c.beam.load_lb, "climb_ramp_moment_lb_in": c.beam.moment_lb_in,
        "climb_coupler_least_lb": h.coupler_lb, "climb_coupler_most_lb": h.coupler_lb,
        "climb_truck_rear_alone_lb": r.truck_rear_alone_lb + 0.0 * h.coupler_lb,
        "climb_truck_rear_lb": r.truck_rear_lb, "climb_lifted": h.lifted + 0.0 * h.coupler_lb,
        "climb_axle_lb": np.moveaxis(h.axle_lb, 0, 1),
    }  # fmt: skip


def outcomes(r: Run) -> dict[str, Array]:
    """What the checks ask: the worst of each over the climb, as columns; ``climb_axle_lb`` axles first."""
    return {name: worst(name, along) for name, along in courses(r).items()}


def worst(name: str, along: Array) -> Array:
    """The worst of one outcome over its steps."""
    return along.min(axis=0) if name in LEAST else along.max(axis=0)


def worst_step(name: str, along: Array) -> int:
    """At which step one rig's outcome is worst; the first where it stays so, 0 where it is not known."""
    flat = along.reshape(len(along), -1)
    one = flat.min(axis=1) if name in LEAST else flat.max(axis=1)
    if np.isnan(one).any():
        return 0
    best = one.min() if name in LEAST else one.max()
    near = one <= best + 1e-9 * max(abs(best), 1) if name in LEAST else one >= best - 1e-9 * max(abs(best), 1)
    return int(np.argmax(near))
