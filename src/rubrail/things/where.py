"""From a raw column back to the line of a file it came from: what *why* prints, and what to go and measure."""

from __future__ import annotations

from typing import NamedTuple

from rubrail.quantity.value import Value
from rubrail.things.cargo import Cargo
from rubrail.things.fill import Cell
from rubrail.things.haul import Haul
from rubrail.things.limits import Limits
from rubrail.things.names import AXLE, COLUMNS, GEAR, ITEM, TRAILER, TRUCK
from rubrail.things.part import Thing
from rubrail.things.rig_cargo import (
    center_of,
    contact_of,
    height_of,
    length_of,
    pieces_of,
    weight_of,
    width_of,
)
from rubrail.things.rig_haul import limit_cell, limit_name, own_cells
from rubrail.things.rig_trailer import AXLE_CELLS, TRAILER_CELLS
from rubrail.things.rig_truck import HITCH_CELLS, TRUCK_CELLS, has_hitch, hitch_for, tow_rating
from rubrail.things.trailer import Trailer


class Where(NamedTuple):
    """Where a raw input is written, and what stands there.

    path : line of the file (``axle[2].gawr_lb of trailer GN-2410``)
    value : a ``Value``; a plain number for a count, a flag or the code of a kind; ``None`` for not known
    """

    path: str
    value: Value | float | None


def where_is(name: str, haul: Haul, trailer: Trailer, member: int | None = None) -> Where:
    """Line of a file that a raw column of one rig was read from.

    Parameters
    ----------
    name : str
        A raw column (``things.names``).
    haul : Haul
        With its truck, cargo and limits resolved.
    trailer : Trailer
    member : int, optional
        Which axle, piece or gear, counted from 0; the first where not given.

    Raises
    ------
    KeyError
        If there is no such column.
    """
    column, n = COLUMNS[name], member or 0
    rest = column.path.partition(".")[2]
    if name in TRAILER or name in AXLE:
        return _trailer(name, rest, trailer, n)
    if name in TRUCK or name in GEAR:
        return _truck(name, rest, haul, trailer, n)
    if name in ITEM:
        return _item(name, haul, n)
    return _haul(name, rest, haul)


def _at(path: str, kind: str, thing: Thing, cell: Cell) -> Where:
    value = cell if isinstance(cell, Value) or cell is None else float(cell)
    return Where(f"{path} of {kind} {thing.id}", value)


def _trailer(name: str, rest: str, trailer: Trailer, n: int) -> Where:
    if name in TRAILER:
        if name == "tax_bed_center_x_in" and trailer.tax.bed_center_from_coupler_in is None:
            rest = "the middle of the deck, from deck.front_from_coupler_in, flat_length_in and tail_length_in"
        return _at(rest, "trailer", trailer, TRAILER_CELLS[name](trailer))
    if n >= len(trailer.axle):
        return Where(f"axle[{n + 1}], which trailer {trailer.id} does not have", None)
    axle = trailer.axle[n]
    if name == "axle_tire_max_load_lb" and axle.tires.count == 4:
        rest = rest.replace("max_load_lb", "max_load_dual_lb")
    return _at(rest.replace("axle", f"axle[{n + 1}]", 1), "trailer", trailer, AXLE_CELLS[name](axle))


def _truck(name: str, rest: str, haul: Haul, trailer: Trailer, n: int) -> Where:
    truck = haul.truck
    if name in TRUCK_CELLS:
        return _at(rest, "truck", truck, TRUCK_CELLS[name](truck))
    if name in GEAR:
        if n >= len(truck.gear):
            return Where(f"gear[{n + 1}], which truck {truck.id} does not have", None)
        gear = truck.gear[n]
        cell = gear.weight_lb if name == "gear_weight_lb" else gear.behind_front_axle_in
        return _at(rest.replace("gear", f"gear[{n + 1}]", 1), "truck", truck, cell)
    distributing = haul.weight_distribution and trailer.coupling.kind == "ball"
    if name == "truck_tow_rating_lb":
        field = "distributing_lb" if distributing else f"{trailer.coupling.kind}_lb"
        return _at(f"tow_ratings.{field}", "truck", truck, tow_rating(truck, trailer.coupling.kind, distributing))
    if name == "weight_distribution":
        return _at(rest, "haul", haul, float(distributing))
    if name == "front_restoration":
        return _at(rest, "haul", haul, haul.front_restoration if distributing else 0.0)
    hitch = hitch_for(truck, trailer.coupling)
    if hitch is None:
        there = has_hitch(truck, trailer.coupling) if name == "hitch_present" else None
        return _at(f"a [[hitch]] of kind {trailer.coupling.kind}", "truck", truck, there)
    index = f"hitch[{truck.hitch.index(hitch) + 1}]"
    if name == "hitch_present":
        return _at(index, "truck", truck, 1.0)
    return _at(rest.replace("hitch", index, 1), "truck", truck, HITCH_CELLS[name](hitch))


_PIECE = {
    "item_weight_lb": ("weight_lb", weight_of),
    "item_length_in": ("length_in", length_of),
    "item_width_in": ("width_in", width_of),
    "item_height_in": ("height_in", height_of),
    "item_cg_in": ("cg_from_front_in", center_of),
}


def _item(name: str, haul: Haul, n: int) -> Where:
    pieces = pieces_of(haul)
    if n >= len(pieces):
        return Where(f"cargo[{n + 1}], which haul {haul.id} does not have", None)
    piece = pieces[n]
    if name == "item_front_x_in":
        return Where(f"the placement of {piece.title or piece.id}", None)
    if name == "item_present":
        return _at("cargo", "haul", haul, 1.0)
    if name in _PIECE:
        field, read = _PIECE[name]
        from_pieces = piece.pieces is not None and getattr(piece, field) is None
        if from_pieces and field != "cg_from_front_in":
            field = f"pieces.{field}"
        return _at(field, "cargo", piece, read(piece))
    return _contact(name, piece)


def _contact(name: str, piece: Cargo) -> Where:
    """Contact as the piece faces front first; turned round, the same lines of the file count."""
    cells = contact_of(piece)
    contact = piece.contact
    if name == "item_contact_width_in":
        return _at("contact.outer_width_in" if contact else "width_in", "cargo", piece, cells[2])
    first = name == "item_contact_front_in"
    if contact is None:
        path = "contact" if piece.kind == "machine" else "length_in"
    elif contact.kind in ("wheels", "drums"):
        path = f"contact.axles_from_front_in[{1 if first else max(len(contact.axles_from_front_in), 1)}]"
    else:
        path = "contact.start_from_front_in" + ("" if first else " plus contact.length_in")
    return _at(path, "cargo", piece, cells[0 if first else 1])


def _haul(name: str, rest: str, haul: Haul) -> Where:
    if name.startswith("limit_") and isinstance(haul.limits, Limits):
        field = limit_name(name)
        path = f"no_limit ({field})" if field in haul.limits.no_limit else field
        return _at(path, "limits", haul.limits, limit_cell(haul.limits, field))
    return _at(rest, "haul", haul, own_cells(haul)[name])
