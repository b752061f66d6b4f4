"""Columns of cargo: every order and facing the pieces can travel in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, product

import numpy as np

from rubrail.quantity.value import Value
from rubrail.things.cargo import Cargo
from rubrail.things.columns import Array, Columns
from rubrail.things.fill import Cell, fill, minus, plus, times
from rubrail.things.haul import Haul

DEFAULT_GAP_IN = 12.0
"""Least gap between two pieces where the haul states none: common practice, no source."""
MAX_ARRANGEMENTS = 2_000


@dataclass(frozen=True, slots=True)
class Arrangement:
    """An order of the pieces from the truck rearward, and which way each faces.

    order : indexes into ``pieces_of(haul)``, foremost first
    facing : ``front-first`` or ``rear-first``, in the haul's order of pieces
    """

    order: tuple[int, ...]
    facing: tuple[str, ...]


def pieces_of(haul: Haul) -> tuple[Cargo, ...]:
    """Every piece of the haul, one entry each, in the haul's order.

    Raises
    ------
    TypeError
        If the haul still names a piece by id.
    """
    pieces = tuple(load.piece for load in haul.cargo for _ in range(load.count))
    for piece in pieces:
        if isinstance(piece, str):
            raise TypeError(f"haul {haul.id} names {piece} by id; resolve it first")
    return pieces


def gap_in(haul: Haul) -> float:
    """Least gap between two pieces."""
    return DEFAULT_GAP_IN if haul.gap_in is None else haul.gap_in.number


def facings_of(haul: Haul) -> list[tuple[str, ...]]:
    """Ways each piece may face, in the haul's order of pieces; a piece that is the same both ways has one."""
    ways: list[tuple[str, ...]] = []
    for load in haul.cargo:
        piece: Cargo = load.piece
        if load.facing != "either":
            allowed = (load.facing,)
        elif not piece.either_way or all(_same(place_cells(piece, w), piece) for w in ("rear-first",)):
            allowed = ("front-first",)
        else:
            allowed = ("front-first", "rear-first")
        ways += [allowed] * load.count
    return ways


def _same(turned: dict[str, Cell], piece: Cargo) -> bool:
    """Whether a piece turned round has the same places as before."""
    ahead = place_cells(piece, "front-first")
    return all(
        a == b or (a is not None and b is not None and abs(float(a) - float(b)) < 1e-9)
        for a, b in ((ahead[n], turned[n]) for n in ahead)
    )


def arrangements(haul: Haul, *, most: int = MAX_ARRANGEMENTS) -> tuple[Arrangement, ...]:
    """Every order and facing of the pieces that differ from each other.

    Equal pieces facing the same way are not told apart. Where there are more than ``most``, only the first ``most``
    are given: those that keep to the haul's own order longest. ``arrangement_count`` says how many there are.

    Parameters
    ----------
    haul : Haul
        With its cargo resolved.
    most : int
        How many at most.
    """
    pieces = pieces_of(haul)
    ways = facings_of(haul)
    names = [piece.id for piece in pieces]

    def all_of_them() -> Iterator[Arrangement]:
        seen: set[tuple[str, ...]] = set()
        for facing in product(*ways):
            labels = [f"{n} {f}" for n, f in zip(names, facing, strict=True)]
            if tuple(sorted(labels)) in seen:
                continue
            seen.add(tuple(sorted(labels)))
            for order in _orders(labels):
                yield Arrangement(order, facing)

    return tuple(islice(all_of_them(), most))


def arrangement_count(haul: Haul, *, stop: int = 1_000_000) -> int:
    """How many arrangements there are, counted no further than ``stop``."""
    return len(arrangements(haul, most=stop))


def _orders(labels: Sequence[str]) -> Iterator[tuple[int, ...]]:
    """Orders of the indexes in which equal labels are not told apart."""
    waiting: dict[str, list[int]] = {}
    for index, label in enumerate(labels):
        waiting.setdefault(label, []).append(index)

    def go(taken: dict[str, int], order: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        if len(order) == len(labels):
            yield order
        for label, indexes in waiting.items():
            n = taken.get(label, 0)
            if n < len(indexes):
                yield from go({**taken, label: n + 1}, (*order, indexes[n]))

    return go({}, ())


def weight_of(piece: Cargo) -> Value | None:
    """Weight of a piece; of a block, of all its pieces."""
    if piece.pieces and piece.weight_lb is None:
        return times(piece.pieces.weight_lb, piece.pieces.count)
    return piece.weight_lb


def length_of(piece: Cargo) -> Value | None:
    """Length of a piece; of a block, of all its rows."""
    if piece.pieces and piece.length_in is None:
        return times(piece.pieces.length_in, piece.pieces.rows)
    return piece.length_in


def width_of(piece: Cargo) -> Value | None:
    """Width of a piece; of a block, of all abreast."""
    if piece.pieces and piece.width_in is None:
        return times(piece.pieces.width_in, piece.pieces.abreast)
    return piece.width_in


def height_of(piece: Cargo) -> Value | None:
    """Height of a piece; of a block, its layers, with a whole piece more where further pieces lie on top."""
    if piece.pieces and piece.height_in is None:
        return times(piece.pieces.height_in, piece.pieces.layers + (piece.pieces.on_top > 0))
    return piece.height_in


def center_of(piece: Cargo) -> Value | None:
    """Center of gravity behind the front; of a uniform block, its middle."""
    if piece.cg_from_front_in is None and piece.kind == "bulk":
        return times(length_of(piece), 0.5)
    return piece.cg_from_front_in


def contact_of(piece: Cargo) -> tuple[Cell, Cell, Cell]:
    """Where contact begins and ends behind the front, and its width; a crate or block bears over its length."""
    length, contact = length_of(piece), piece.contact
    if contact is None:
        return (None, None, None) if piece.kind == "machine" else (0.0, length, width_of(piece))
    if contact.kind in ("wheels", "drums"):
        axles = contact.axles_from_front_in
        ends = (axles[0], axles[-1]) if axles else (None, None)
    else:
        ends = (contact.start_from_front_in, plus(contact.start_from_front_in, contact.length_in))
    return (*ends, contact.outer_width_in)


def place_cells(piece: Cargo, facing: str) -> dict[str, Cell]:
    """Cells that depend on facing: places behind the foremost point as the piece stands.

    Turned round, a place is the length less the place, and its tolerance theirs together.
    """
    begins, ends, _ = contact_of(piece)
    center, length = center_of(piece), length_of(piece)
    if facing == "rear-first":
        if piece.cg_from_front_in is not None or piece.kind != "bulk":
            center = minus(length, center)
        begins, ends = _turned(length, ends), _turned(length, begins)
    return {"item_cg_in": center, "item_contact_front_in": begins, "item_contact_rear_in": ends}


def _turned(length: Value | None, place: Cell) -> Cell:
    if place is length:
        return None if length is None else 0.0
    return minus(length, place if place is None or isinstance(place, Value) else Value(float(place)))


def item_columns(haul: Haul, arranged: Sequence[Arrangement]) -> Columns:
    """Columns of the haul's cargo, arrangements along the position axis.

    Members are in the haul's order of pieces, whatever the arrangement. A haul without cargo has one member that is
    not present. ``item_front_x_in`` is not among them: it is the placement.

    Parameters
    ----------
    haul : Haul
        With its cargo resolved.
    arranged : sequence of Arrangement

    Returns
    -------
    Columns
        Shapes ``(item, 1, position, 1)``; those that do not depend on facing have one position.
    """
    pieces = pieces_of(haul)
    fixed: dict[str, Sequence] = {
        "item_present": [[1.0] for _ in pieces],
        "item_weight_lb": [[weight_of(p)] for p in pieces],
        "item_length_in": [[length_of(p)] for p in pieces],
        "item_width_in": [[width_of(p)] for p in pieces],
        "item_contact_width_in": [[contact_of(p)[2]] for p in pieces],
        "item_height_in": [[height_of(p)] for p in pieces],
    }
    turning: dict[str, list] = {n: [] for n in ("item_cg_in", "item_contact_front_in", "item_contact_rear_in")}
    for index, piece in enumerate(pieces):
        ways = {w: place_cells(piece, w) for w in {a.facing[index] for a in arranged}}
        for name, rows in turning.items():
            rows.append([ways[a.facing[index]][name] for a in arranged])
    if not pieces:
        return fill({name: [[0.0]] for name in (*fixed, *turning)}, over="position")
    both = {**fixed, **turning}
    return fill(both, over="position")


def offsets_in(haul: Haul, arranged: Sequence[Arrangement]) -> Array:
    """Foremost point of each piece behind that of the foremost, the pieces standing at the least gap.

    Returns
    -------
    array
        Shape ``(item, 1, position, 1)``; ``nan`` behind a piece whose length is not known. [in]
    """
    pieces = pieces_of(haul)
    gap = gap_in(haul)
    lengths = [np.nan if (v := length_of(p)) is None else v.number for p in pieces]
    offsets = np.zeros((max(len(pieces), 1), 1, max(len(arranged), 1), 1))
    for n, arrangement in enumerate(arranged):
        at = 0.0
        for index in arrangement.order:
            offsets[index, 0, n, 0] = at
            at += lengths[index] + gap
    return offsets
