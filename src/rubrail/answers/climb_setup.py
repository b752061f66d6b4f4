"""A machine about to climb: what the yard says of the day, and the columns that describe rig, way and machine."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from rubrail.answers.rig import Placement, Rigs, at_placement
from rubrail.rules import loading
from rubrail.things.cargo import Cargo
from rubrail.things.columns import Array, Columns
from rubrail.things.fill import join
from rubrail.things.rig_cargo import place_cells
from rubrail.things.rig_loading import climber_columns, drives, loading_columns, way_kind, way_ramp
from rubrail.things.trailer import Trailer

STEEPEST_GROUND_DEG = 15.0


@dataclass(frozen=True, slots=True)
class Day:
    """How and where the machine is loaded.

    surface
        ``dry`` or ``wet``.
    ground_deg
        Rise of the ground toward the truck; 0 is level.
    hitched
        Whether the trailer is on the truck.
    stands
        Whether its stands are let down, where it has any.
    blocks
        Whether blocks fill whatever room is left under its rear, stands or none.
    chocked
        Whether its wheels are chocked.
    """

    surface: str = "dry"
    ground_deg: float = 0.0
    hitched: bool = True
    stands: bool = True
    blocks: bool = False
    chocked: bool = True

    def __post_init__(self) -> None:
        if self.surface not in loading.SURFACES:
            raise ValueError(f'surface must be one of {", ".join(loading.SURFACES)}, got "{self.surface}"')
        if not abs(self.ground_deg) <= STEEPEST_GROUND_DEG:
            most = f"{STEEPEST_GROUND_DEG:g}"
            raise ValueError(f"ground must be -{most} to {most} degrees, got {self.ground_deg:g}")

    @property
    def ground_rad(self) -> float:
        """The ground's rise in radians."""
        return math.radians(self.ground_deg)


@dataclass(frozen=True, slots=True)
class Climber:
    """One machine of a haul that drives up.

    item : its number in the haul's order of pieces; ahead : numbers of the pieces that stand ahead of it already.
    """

    item: int
    piece: Cargo
    facing: str
    front_x_in: float
    ahead: tuple[int, ...]


def climbers(one: Rigs, placement: Placement) -> tuple[Climber, ...]:
    """Every machine that drives up, in the order it goes up: the foremost first.

    Pieces that do not drive and stand ahead of it are on the deck already; what stands behind it is not yet.
    """
    order = sorted(range(len(one.pieces)), key=lambda i: placement.front_x_in[i])
    return tuple(
        Climber(i, one.pieces[i], placement.facing[i], placement.front_x_in[i], tuple(order[:n]))
        for n, i in enumerate(order)
        if drives(one.pieces[i])
    )


def turned(placement: Placement, climber: Climber) -> tuple[Placement, Climber] | None:
    """The machine the other way round, its center of gravity over the same place; nothing where it may not be."""
    piece = climber.piece
    other = "rear-first" if climber.facing == "front-first" else "front-first"
    now, then = (place_cells(piece, f)["item_cg_in"] for f in (climber.facing, other))
    if not piece.either_way or now is None or then is None:
        return None
    front = climber.front_x_in + float(now) - float(then)
    fronts, facings = list(placement.front_x_in), list(placement.facing)
    fronts[climber.item], facings[climber.item] = front, other
    return Placement(tuple(fronts), tuple(facings)), replace(climber, facing=other, front_x_in=front)


def driven(one: Rigs, placement: Placement, facing: str) -> Placement:
    """The placement with every machine that drives facing one way, each over the same place.

    Parameters
    ----------
    one : Rigs
    placement : Placement
    facing : str
        ``front-first`` or ``rear-first``.

    Raises
    ------
    ValueError
        If a machine may not face that way.
    """
    for c in climbers(one, placement):
        if c.facing == facing:
            continue
        found = turned(placement, c)
        if found is None:
            raise ValueError(f"{c.piece.title or c.piece.id} may not face {facing}")
        placement = found[0]
    return placement


def climb_columns(
    one: Rigs, placement: Placement, climber: Climber, day: Day, *, laid: Columns | None = None
) -> Columns:
    """Columns of one rig and one machine climbing it.

    Parameters
    ----------
    one : Rigs
        Of one trailer.
    placement : Placement
    climber : Climber
        One of ``climbers(one, placement)``.
    day : Day
    laid : Columns, optional
        Columns of the same places on another day, to save laying them out again.
    """
    joined = laid_out(one, placement, climber) if laid is None else laid
    grips = [surface_grip(t, climber.piece, day.surface) for t in one.trailers]
    return joined.with_values(
        {
            "climb_hitched": _one(day.hitched),
            "climb_chocked": _one(day.chocked),
            "surface_grip": np.array(grips).reshape(-1, 1, 1),
        }
    )


def laid_out(one: Rigs, placement: Placement, climber: Climber) -> Columns:
    """Rig, way and machine, whatever the day; only the pieces ahead of the machine are there."""
    machine = climber_columns(climber.piece, climber.facing, front_x_in=climber.front_x_in)
    joined = join(at_placement(one, placement), loading_columns(one.trailers), machine)
    ahead = np.zeros((len(joined["item_present"]), 1, 1, 1))
    ahead[list(climber.ahead)] = 1.0
    return joined.with_values({"item_present": joined["item_present"] * ahead})


def _one(value: float) -> Array:
    return np.full((1, 1, 1), float(value))


def surface_grip(trailer: Trailer, piece: Cargo, surface: str) -> float:
    """Friction between what a machine runs on and the way up: the least of ramp and deck where they differ."""
    contact = piece.contact
    on = None if contact is None else loading.bears(contact=contact.kind, surface=contact.surface)
    return loading.grip(bears_on=on, run_on=run_on(trailer), surface=surface)


DECKS = {
    "pine": "wood", "oak": "wood", "apitong": "wood", "rubber-infused plank": "rubber", "steel tread plate": "steel",
    "aluminum": "steel", "mesh": "bars", "open": "bars",
}  # fmt: skip


def run_on(trailer: Trailer) -> str | None:
    """What the steep part of the way is laid with: the ramps, or the deck that tilts or lowers."""
    if way_kind(trailer) == "ramps":
        ramp = way_ramp(trailer)
        return None if ramp is None or ramp.surface is None else loading.RUN_ON[ramp.surface]
    return DECKS.get(trailer.frame.deck_material or "")
