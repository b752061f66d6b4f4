"""Columns of trailers: one entry a unit, axles in front."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rubrail.quantity.value import Value
from rubrail.things.columns import Columns
from rubrail.things.fill import Cell, code, fill, plus, times
from rubrail.things.trailer import Axle, Trailer


def tail_length(t: Trailer) -> Cell:
    """Length of the tail; 0 where the deck has none or tilts as a whole."""
    return 0.0 if t.deck.tail_kind in ("none", "tilt") else t.deck.tail_length_in


def tail_drop(t: Trailer) -> Cell:
    """Fall of the tail; 0 where there is none."""
    length = tail_length(t)
    return 0.0 if length is not None and float(length) == 0 else t.deck.tail_drop_in


def bed_center(t: Trailer) -> Value | None:
    """Center of the load-carrying bed; the middle of the deck, tail included, where the file states none."""
    if t.tax.bed_center_from_coupler_in is not None:
        return t.tax.bed_center_from_coupler_in
    tail = tail_length(t)
    tail = tail if isinstance(tail, Value) or tail is None else Value(float(tail))
    return plus(t.deck.front_from_coupler_in, times(plus(t.deck.flat_length_in, tail), 0.5))


def suspension(t: Trailer) -> float | None:
    """Code of the suspension; an only axle shares with nobody, whatever it hangs on."""
    return 0.0 if t.suspension.kind is None and len(t.axle) == 1 else code("suspension_kind", t.suspension.kind)


TRAILER_CELLS: dict[str, Callable[[Trailer], Cell]] = {
    "coupling_kind": lambda t: code("coupling_kind", t.coupling.kind),
    "coupler_ball_size_in": lambda t: t.coupling.ball_size_in,
    "coupler_gross_rating_lb": lambda t: t.coupling.gross_rating_lb,
    "coupler_vertical_rating_lb": lambda t: t.coupling.vertical_rating_lb,
    "coupler_height_in": lambda t: t.coupling.height_in,
    # A coupler whose range is not stated stays at its stated height.
    "coupler_height_min_in": lambda t: t.coupling.height_min_in or t.coupling.height_in,
    "coupler_height_max_in": lambda t: t.coupling.height_max_in or t.coupling.height_in,
    "neck_underside_height_in": lambda t: t.coupling.neck_underside_height_in,
    "neck_swing_in": lambda t: t.coupling.neck_swing_in,
    "trailer_gvwr_lb": lambda t: t.ratings.gvwr_lb,
    "trailer_advertised_lb": lambda t: t.ratings.advertised_lb,
    "trailer_empty_weight_lb": lambda t: t.weights.empty_lb,
    "trailer_empty_coupler_lb": lambda t: t.weights.empty_coupler_lb,
    "suspension_kind": suspension,
    "suspension_rate_lb_per_in": lambda t: t.suspension.rate_lb_per_in,
    "deck_kind": lambda t: code("deck_kind", t.deck.kind),
    "deck_front_x_in": lambda t: t.deck.front_from_coupler_in,
    "deck_flat_length_in": lambda t: t.deck.flat_length_in,
    "tail_length_in": tail_length,
    "tail_drop_in": tail_drop,
    "deck_width_in": lambda t: t.deck.width_in,
    "between_fenders_in": lambda t: t.deck.between_fenders_in,
    "deck_height_in": lambda t: t.deck.height_in,
    "trailer_width_in": lambda t: t.size.width_in,
    "trailer_rear_x_in": lambda t: t.size.rear_from_coupler_in,
    "trailer_front_x_in": lambda t: t.size.front_from_coupler_in,
    "chain_count": lambda t: t.chains.count,
    "chain_strength_lb": lambda t: t.chains.strength_lb,
    "breakaway_fitted": lambda t: t.breakaway,
    "trailer_plug": lambda t: code("plug_kind", t.plug),
    "built_year": lambda t: t.year,
    "lamps_complete": lambda t: t.lamps_complete,
    "tax_bed_center_x_in": bed_center,
    "price_usd": lambda t: None if t.price_usd is None else float(t.price_usd),
}
"""How each trailer column is read. Price as a plain number serves comparison only; money itself stays ``Decimal``."""


def tire_load(a: Axle) -> Value | None:
    """Load of one tire as mounted: the dual figure on duals, the single one on singles."""
    return {2: a.tires.max_load_lb, 4: a.tires.max_load_dual_lb}.get(a.tires.count or 0)


AXLE_CELLS: dict[str, Callable[[Axle], Cell]] = {
    "axle_present": lambda a: 1.0,
    "axle_x_in": lambda a: a.from_coupler_in,
    "axle_gawr_lb": lambda a: a.gawr_lb,
    "axle_braked": lambda a: None if a.brakes is None else a.brakes != "none",
    "axle_brake_kind": lambda a: code("brake_kind", a.brakes),
    "axle_tire_count": lambda a: a.tires.count,
    "axle_tire_max_load_lb": tire_load,
    "axle_tire_max_pressure_psi": lambda a: a.tires.max_pressure_psi,
    "axle_tire_pressure_psi": lambda a: a.tires.pressure_psi,
    "axle_tire_family": lambda a: code("tire_family", a.tires.family),
    "axle_wheel_rating_lb": lambda a: a.wheel_rating_lb,
}


def trailer_columns(trailers: Sequence[Trailer]) -> Columns:
    """Columns of a yard's trailers.

    Parameters
    ----------
    trailers : sequence of Trailer
        One a unit; columns per axle are as long as the most axles any has, and absent axles are all 0.

    Returns
    -------
    Columns
        Shapes ``(unit, 1, 1)`` and ``(axle, unit, 1, 1)``.
    """
    cells: dict[str, Sequence] = {name: [read(t) for t in trailers] for name, read in TRAILER_CELLS.items()}
    most = max((len(t.axle) for t in trailers), default=1)
    for name, read in AXLE_CELLS.items():
        cells[name] = [[read(t.axle[n]) if n < len(t.axle) else 0.0 for t in trailers] for n in range(most)]
    return fill(cells)
