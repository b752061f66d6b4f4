"""The lengths a turn needs, taken from a rig's columns, and the parts of it that may touch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, fields, replace

import numpy as np

from rubrail.checks.engine import Evaluation
from rubrail.mechanics.articulation import crest_angle_rad, touch_angle_rad
from rubrail.mechanics.turning_rig import Body, TurningRig, least_radius_in
from rubrail.rules.tables import figure
from rubrail.things.columns import Columns

BALL, GOOSENECK, KINGPIN, PINTLE = range(4)


@dataclass(frozen=True, slots=True)
class Lengths:
    """Every length a turn or a fold asks of a rig, under the name of its column or quantity [in]."""

    truck_wheelbase_in: float
    hitch_ahead_in: float
    truck_front_overhang_in: float
    bed_end_behind_axle_in: float
    truck_width_in: float
    turning_circle_in: float
    axle_group_x_in: float
    deck_front_x_in: float
    trailer_front_x_in: float
    trailer_rear_x_in: float
    trailer_width_in: float
    hitch_to_cab_in: float
    bed_rail_height_in: float
    neck_over_bed_in: float
    coupling_kind: float


TURN = (
    "truck_wheelbase_in",
    "hitch_ahead_in",
    "truck_front_overhang_in",
    "bed_end_behind_axle_in",
    "truck_width_in",
    "axle_group_x_in",
    "deck_front_x_in",
    "trailer_rear_x_in",
    "trailer_width_in",
)
"""What no turn can be driven without."""
LONGER = ("truck_wheelbase_in", "axle_group_x_in", "trailer_rear_x_in", "trailer_width_in", "truck_width_in")
"""Lengths that take room when they are greater than stated."""
RAW = {"axle_group_x_in": "axle_x_in", "neck_over_bed_in": "neck_underside_height_in"}
"""Quantities, and the raw column to go and measure for them."""


@dataclass(frozen=True, slots=True)
class TurnInputs:
    """Lengths as stated and with every tolerance against the rig; cargo counts with the body it reaches beyond."""

    stated: Lengths
    against: Lengths

    @classmethod
    def of(cls, columns: Columns) -> TurnInputs:
        """From the columns of one placed rig."""
        quantities = Evaluation(columns)

        def value(name: str) -> float:
            return float(np.max(quantities.value(name)[..., 0, 0]))

        stated = Lengths(**{f.name: value(f.name) for f in fields(Lengths)})
        present = np.asarray(columns["item_present"])[:, 0, 0] > 0
        if present.any():
            rear = float(np.max(quantities.value("item_rear_x_in")[present, 0, 0]))
            stated = replace(
                stated,
                trailer_rear_x_in=max(stated.trailer_rear_x_in, rear),
                trailer_width_in=max(stated.trailer_width_in, value("cargo_width_in")),
            )
        off = {n: getattr(stated, n) + _tolerance(columns, RAW.get(n, n)) for n in LONGER}
        return cls(stated, replace(stated, **off))

    @property
    def missing_for_turn(self) -> tuple[str, ...]:
        """Raw columns without which no turn can be driven."""
        return self.missing(*TURN)

    def missing(self, *names: str) -> tuple[str, ...]:
        """Those of the named lengths that are not known, as raw columns."""
        return tuple(RAW.get(n, n) for n in names if math.isnan(getattr(self.stated, n)))


def _tolerance(columns: Columns, name: str) -> float:
    spread = columns.plus_minus.get(name)
    return 0.0 if spread is None else float(np.nanmax(spread, initial=0.0))


def turning_rig(lengths: Lengths) -> TurningRig:
    """What mechanics needs of the rig. The neck or tongue ahead of the deck is narrow and sweeps nothing more."""
    return TurningRig(
        wheelbase_in=lengths.truck_wheelbase_in,
        hitch_ahead_in=lengths.hitch_ahead_in,
        axle_in=lengths.axle_group_x_in,
        truck=Body(
            -lengths.truck_front_overhang_in,
            lengths.truck_wheelbase_in + lengths.bed_end_behind_axle_in,
            lengths.truck_width_in,
        ),
        trailer=Body(lengths.deck_front_x_in, lengths.trailer_rear_x_in, lengths.trailer_width_in),
    )


def least_radius(lengths: Lengths, *, against: bool = False) -> float:
    """Least radius of the front axle's center: from the truck's turning circle, else from the usual steering angle.

    ``against`` takes the usual spread of turning circles against the rig where the truck's own is not known.
    """
    base = lengths.truck_wheelbase_in
    if math.isnan(lengths.turning_circle_in):
        usual = float(least_radius_in(wheelbase_in=base, steer_rad=math.radians(figure("turning", "steer_deg"))))
        return usual * (1 + figure("turning", "steer_share")) if against else usual
    # Curb to curb is the outer front tire's circle, about half the truck's width outside the axle's center.
    outer = lengths.turning_circle_in / 2
    rear = math.sqrt(max(outer**2 - base**2, 0.0)) - lengths.truck_width_in / 2
    return math.hypot(max(rear, 0.0), base)


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two parts and the angle at which they meet; ``nan`` where not known.

    folds : seen from above; from the side otherwise
    """

    name: str
    angle_rad: float
    folds: bool
    missing: tuple[str, ...]


def touches(inputs: TurnInputs) -> Iterator[Meeting]:
    """What may touch on this kind of coupling, each with its angle."""
    x = inputs.stated
    if math.isnan(x.coupling_kind):
        yield Meeting("truck and trailer", math.nan, True, ("coupling_kind",))
        return
    neck = x.coupling_kind in (GOOSENECK, KINGPIN)
    half = x.trailer_width_in / 2
    if neck:
        missing = inputs.missing("hitch_to_cab_in", "trailer_front_x_in", "trailer_width_in", "truck_width_in")
        cab = Body(-x.hitch_to_cab_in - 48.0, -x.hitch_to_cab_in, x.truck_width_in)
        # The neck's head is taken as wide as the trailer: a narrower one folds further.
        head = Body(x.trailer_front_x_in, max(x.deck_front_x_in, x.trailer_front_x_in + 1.0), 2 * half)
        yield _fold("neck and cab", cab, head, missing)
        missing = inputs.missing("neck_over_bed_in", "bed_rail_height_in", "bed_end_behind_axle_in", "hitch_ahead_in")
        reach = x.bed_end_behind_axle_in + x.hitch_ahead_in
        room = x.neck_over_bed_in - x.bed_rail_height_in
        angle = float(crest_angle_rad(clearance_in=room, reach_in=reach)) if not missing else math.nan
        yield Meeting("neck and bed rail over a crest", angle, False, missing)
        return
    missing = inputs.missing("bed_end_behind_axle_in", "hitch_ahead_in", "truck_width_in", "deck_front_x_in")
    behind = x.bed_end_behind_axle_in + x.hitch_ahead_in
    yield _fold(
        "bumper and deck",
        Body(behind - 60.0, behind, x.truck_width_in),
        Body(x.deck_front_x_in, x.trailer_rear_x_in, 2 * half),
        missing or inputs.missing("trailer_rear_x_in", "trailer_width_in"),
    )


def _fold(name: str, towing: Body, towed: Body, missing: tuple[str, ...]) -> Meeting:
    if missing:
        return Meeting(name, math.nan, True, missing)
    return Meeting(name, touch_angle_rad(towing=towing.corners(), towed=towed.corners()), True, ())
