"""Columns of the truck, with the hitch that fits each trailer's kind of coupling."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rubrail.quantity.value import Value
from rubrail.things.columns import Columns
from rubrail.things.fill import Cell, code, fill, join
from rubrail.things.trailer import Coupling
from rubrail.things.truck import Hitch, Truck

TRUCK_CELLS: dict[str, Callable[[Truck], Cell]] = {
    "truck_gvwr_lb": lambda t: t.ratings.gvwr_lb,
    "truck_gcwr_lb": lambda t: t.ratings.gcwr_lb,
    "truck_label_gcwr_lb": lambda t: t.ratings.label_gcwr_lb,
    "truck_front_gawr_lb": lambda t: t.ratings.front_gawr_lb,
    "truck_rear_gawr_lb": lambda t: t.ratings.rear_gawr_lb,
    "truck_front_axle_lb": lambda t: t.weights.front_axle_lb,
    "truck_rear_axle_lb": lambda t: t.weights.rear_axle_lb,
    "truck_wheelbase_in": lambda t: t.size.wheelbase_in,
    "turning_circle_in": lambda t: t.size.turning_circle_in,
    "truck_front_overhang_in": lambda t: t.size.front_overhang_in,
    "truck_width_in": lambda t: t.size.width_in,
    "truck_front_tire_load_lb": lambda t: t.tires.front_each_lb,
    "truck_rear_tire_load_lb": lambda t: t.tires.rear_each_lb,
    "truck_rear_tire_count": lambda t: t.tires.rear_count,
    "truck_registered_lb": lambda t: t.registered_lb,
    "bed_rail_height_in": lambda t: t.size.bed_rail_height_in,
    "bed_end_behind_axle_in": lambda t: t.size.bed_end_behind_rear_axle_in,
    "hitch_to_cab_in": lambda t: t.size.hitch_to_cab_in,
    "brake_controller_fitted": lambda t: t.brake_controller,
    "truck_plug": lambda t: code("plug_kind", t.plug),
}

HITCH_CELLS: dict[str, Callable[[Hitch], Cell]] = {
    "hitch_ahead_in": lambda h: h.ahead_of_rear_axle_in,
    "hitch_height_in": lambda h: h.height_in,
    "hitch_ball_size_in": lambda h: h.ball_size_in,
    "hitch_gross_rating_lb": lambda h: h.gross_rating_lb,
    "hitch_vertical_rating_lb": lambda h: h.vertical_rating_lb,
    "hitch_wd_gross_rating_lb": lambda h: h.distributing_gross_rating_lb,
    "hitch_wd_vertical_rating_lb": lambda h: h.distributing_vertical_rating_lb,
}

OF_HITCH = (*HITCH_CELLS, "hitch_present", "truck_tow_rating_lb", "weight_distribution", "front_restoration")
"""Columns of the truck that depend on how the trailer couples."""


def hitch_for(truck: Truck, coupling: Coupling) -> Hitch | None:
    """The truck's hitch for a coupling: of its kind, and of its ball size where there is one."""
    of_kind = [h for h in truck.hitch if h.kind == coupling.kind]
    size = coupling.ball_size_in
    same = [h for h in of_kind if size and h.ball_size_in and h.ball_size_in.number == size.number]
    return (same or of_kind or [None])[0]


def has_hitch(truck: Truck, coupling: Coupling) -> float | None:
    """1 or 0; not known where the file says nothing of hitches."""
    if hitch_for(truck, coupling):
        return 1.0
    return 0.0 if "hitch" in truck.model_fields_set else None


def tow_rating(truck: Truck, kind: str, distributing: bool) -> Value | None:
    """The maker's trailer rating for a kind of hitch."""
    rated = truck.tow_ratings
    if kind == "ball":
        return rated.distributing_lb if distributing else rated.ball_lb
    return {"gooseneck": rated.gooseneck_lb, "kingpin": rated.kingpin_lb, "pintle": rated.pintle_lb}[kind]


def truck_columns(
    truck: Truck,
    couplings: Sequence[Coupling],
    *,
    weight_distribution: bool = False,
    front_restoration: Value | None = None,
) -> Columns:
    """Columns of one truck before trailers of these couplings.

    Parameters
    ----------
    truck : Truck
    couplings : sequence of Coupling
        One a unit.
    weight_distribution : bool
        A weight-distributing hitch is used; it is, only where the trailer has a ball coupler.
    front_restoration : Value, optional
        Share of the lost front-axle load it returns.

    Returns
    -------
    Columns
        The truck's own columns have one unit, those of the hitch one a coupling; gear is ``(gear, 1, 1, 1)``.
    """
    known: dict[tuple[str, float], Hitch | None] = {}
    hitches = []
    for c in couplings:
        key = (c.kind, c.ball_size_in.number if c.ball_size_in else 0.0)
        if key not in known:
            known[key] = hitch_for(truck, c)
        hitches.append(known[key])
    per_unit: dict[str, Sequence] = {
        name: [read(h) if h else None for h in hitches] for name, read in HITCH_CELLS.items()
    }
    distributing = [weight_distribution and c.kind == "ball" for c in couplings]
    per_unit["hitch_present"] = [1.0 if h else has_hitch(truck, c) for h, c in zip(hitches, couplings, strict=True)]
    per_unit["truck_tow_rating_lb"] = [
        tow_rating(truck, c.kind, d) for c, d in zip(couplings, distributing, strict=True)
    ]
    per_unit["weight_distribution"] = distributing
    per_unit["front_restoration"] = [front_restoration if d else 0.0 for d in distributing]
    own = {name: [read(truck)] for name, read in TRUCK_CELLS.items()}
    gear = {
        "gear_weight_lb": [[g.weight_lb] for g in truck.gear] or [[0.0]],
        "gear_x_in": [[g.behind_front_axle_in] for g in truck.gear] or [[0.0]],
    }
    return join(fill(own), fill(gear), fill(per_unit))
