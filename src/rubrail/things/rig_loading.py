"""Columns of loading: how a trailer is driven onto, and the one machine that drives up."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from rubrail.quantity.value import Value
from rubrail.things.build import ACROSS, Ramp
from rubrail.things.cargo import Cargo
from rubrail.things.columns import Columns
from rubrail.things.fill import Cell, code, fill, minus, plus, times
from rubrail.things.rig_cargo import contact_of, length_of
from rubrail.things.trailer import Trailer

DRIVES = ("wheels", "tracks", "drums")
LOOSE = ("slide-in",)
TYPICAL_RADIUS = Value(14.0, "typical", 6.0)
"""Radius of a wheel that nobody measured: between a lift's and a tractor's. Common practice, no source."""


def drives(piece: Cargo) -> bool:
    """Whether a piece drives up by itself."""
    return piece.kind == "machine" and (piece.contact is None or piece.contact.kind in DRIVES)


def way_ramp(t: Trailer) -> Ramp | None:
    """The ramps that lead up: the longest set where there are several, for a machine is driven over one of them."""
    known = [r for r in t.ramp if r.length_in is not None]
    return max(known, key=lambda r: r.length_in.number) if known else (t.ramp[0] if t.ramp else None)


def way_kind(t: Trailer) -> str:
    """How one drives onto it: ``ramps``, ``tail``, ``tilt``, ``none``; ``""`` where the file does not say."""
    if t.deck.tail_kind == "tilt" or t.deck.tilt_length_in is not None:
        return "tilt"
    if t.deck.tail_kind == "lowering":
        return "tail"
    if way_ramp(t) is not None:
        return "ramps"
    return "none" if "ramp" in t.model_fields_set or t.deck.tail_kind is not None else ""


def in_radians(value: Value | None) -> Value | None:
    """Degrees of a file as radians."""
    return times(value, math.pi / 180)


def _ramp(read: Callable[[Ramp], Cell], without: Cell = 0.0) -> Callable[[Trailer], Cell]:
    def cell(t: Trailer) -> Cell:
        ramp = way_ramp(t)
        return without if ramp is None else read(ramp)

    return cell


def _stated(ramp: Ramp) -> bool:
    return ramp.section_modulus_in3 is not None and ramp.yield_psi is not None


LOADING_CELLS: dict[str, Callable[[Trailer], Cell]] = {
    "tail_kind": lambda t: code("tail_kind", t.deck.tail_kind),
    "tail_lowered_height_in": lambda t: t.deck.tail_lowered_height_in,
    "tilt_length_in": lambda t: t.deck.tilt_length_in,
    "tilt_angle_rad": lambda t: in_radians(t.deck.tilt_angle_deg),
    "ramp_count": _ramp(lambda r: float(r.count)),
    "ramp_length_in": _ramp(lambda r: r.length_in),
    "ramp_width_in": _ramp(lambda r: r.width_in),
    "ramp_gap_in": _ramp(lambda r: 0.0 if r.kind in ACROSS or r.count == 1 else r.inner_gap_in),
    "ramp_loose": _ramp(lambda r: float(r.kind in LOOSE)),
    # Two ramps rated each are a pair rated twice that, and the other way round; no other figure is made up.
    "ramp_rating_each_lb": _ramp(lambda r: r.rating_each_lb or times(r.rating_pair_lb, 0.5)),
    "ramp_rating_pair_lb": _ramp(lambda r: r.rating_pair_lb or times(r.rating_each_lb, 2)),
    "ramp_section_stated": _ramp(lambda r: float(_stated(r))),
    "ramp_section_modulus_in3": _ramp(lambda r: r.section_modulus_in3, None),
    "ramp_yield_psi": _ramp(lambda r: r.yield_psi, None),
    "stands_fitted": _ramp(lambda r: r.stands),
    "stand_gap_in": _ramp(lambda r: r.stand_gap_in),
    "jack_count": lambda t: t.jack.count if t.jack.count is not None else (1.0 if t.jack.rating_lb else None),
    "jack_rating_lb": lambda t: t.jack.rating_lb,
    "way_up": lambda t: {"": None, "none": 0.0}.get(way_kind(t), 1.0),
}
"""How each column of the way up is read."""


def loading_columns(trailers: Sequence[Trailer]) -> Columns:
    """Columns of how each of many trailers is driven onto, shapes ``(unit, 1, 1)``."""
    return fill({name: [read(t) for t in trailers] for name, read in LOADING_CELLS.items()})


def slope_of(piece: Cargo) -> Value | None:
    """Steepest slope a machine's manual allows, from degrees or from percent; the stricter where both stand."""
    ways = [in_radians(piece.climbs_deg)] if piece.climbs_deg else []
    if piece.climbs_percent:
        p = piece.climbs_percent
        ways.append(Value(math.atan(p.number / 100), p.basis, p.plus_minus / 100))
    return min(ways, key=lambda v: v.number) if ways else None


def _as_value(cell: Cell) -> Value | None:
    return cell if isinstance(cell, Value) or cell is None else Value(float(cell))


def climber_cells(piece: Cargo, facing: str) -> dict[str, Cell]:
    """Cells of the machine that climbs, measured from its trailing contact as it drives up.

    Its tolerances are those of the lines of the file: a place measured from another place carries both.

    Parameters
    ----------
    piece : Cargo
        A machine.
    facing : str
        ``front-first`` drives up forward, ``rear-first`` backs up.
    """
    begins, ends, over_width = contact_of(piece)
    length, center, contact = length_of(piece), piece.cg_from_front_in, piece.contact
    front, rear = _as_value(begins), _as_value(ends)
    forward = facing == "front-first"
    clearance = piece.clearance
    lead, trail = clearance.approach_deg, clearance.departure_deg
    tracked = None if contact is None else float(contact.kind == "tracks")
    each = None if contact is None else contact.each_width_in
    # A drum bears across its whole width: it falls between ramps only where it is narrower than their gap.
    drums = contact is not None and contact.kind == "drums"
    across = _as_value(over_width) if drums else minus(_as_value(over_width), each)
    return {
        "machine_weight_lb": piece.weight_lb,
        "machine_cg_in": minus(rear, center) if forward else minus(center, front),
        "machine_cg_height_in": piece.cg_height_in,
        "machine_lead_over_in": front if forward else minus(length, rear),
        "machine_trail_over_in": minus(length, rear) if forward else front,
        "machine_tracked": tracked,
        "machine_belly_in": clearance.belly_in,
        "machine_lead_angle_rad": in_radians(lead if forward else trail),
        "machine_trail_angle_rad": in_radians(trail if forward else lead),
        "machine_slope_rad": slope_of(piece),
        "machine_gauge_in": times(across, 0.5),
    }


def contact_cells(piece: Cargo, facing: str) -> list[dict[str, Cell]]:
    """Cells of each contact of the machine that climbs, the trailing one first."""
    contact, forward = piece.contact, facing == "front-first"
    if contact is None:
        return [_contact(0.0, 0.0, None), _contact(None, 0.0, None)]
    if contact.kind == "tracks":
        return [_contact(0.0, 0.0, 1.0), _contact(contact.length_in, 0.0, 1.0)]
    places = contact.axles_from_front_in
    if len(places) < 2:
        return [_contact(0.0, TYPICAL_RADIUS, None), _contact(None, TYPICAL_RADIUS, None)]
    radii = contact.wheel_radius_in or (None,) * len(places)
    last = len(places) - 1
    drive = {None: None, "all": lambda n: 1.0, "front": lambda n: float(n == 0), "rear": lambda n: float(n == last)}
    driven = drive[contact.drive]
    order = range(last, -1, -1) if forward else range(last + 1)
    trailing = places[last] if forward else places[0]
    return [
        _contact(
            0.0 if n == order[0] else (minus(trailing, places[n]) if forward else minus(places[n], trailing)),
            radii[n] or TYPICAL_RADIUS,
            None if driven is None else driven(n),
        )
        for n in order
    ]


def _contact(at: Cell, radius: Cell, driven: Cell) -> dict[str, Cell]:
    return {"contact_present": 1.0, "contact_at_in": at, "contact_radius_in": radius, "contact_driven": driven}


def climber_columns(piece: Cargo, facing: str, *, front_x_in: float) -> Columns:
    """Columns of the machine that climbs, placed with its foremost point at a place.

    Parameters
    ----------
    piece : Cargo
        A machine.
    facing : str
        ``front-first`` or ``rear-first``.
    front_x_in : float
        Coupling point to its foremost point at its place. [in]
    """
    cells = {name: [cell] for name, cell in climber_cells(piece, facing).items()}
    front, rear = (_as_value(c) for c in contact_of(piece)[:2])
    trailing = rear if facing == "front-first" else minus(length_of(piece), front)
    cells["machine_end_x_in"] = [plus(Value(front_x_in), trailing)]
    contacts = contact_cells(piece, facing)
    cells |= {name: [[c[name]] for c in contacts] for name in contacts[0]}
    return fill(cells)
