"""Cargo where it stands on the deck, and the trailer as it rides behind this truck."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from rubrail.sheets.drawing.cargo_outline import CargoOutline, cargo_outline
from rubrail.sheets.drawing.cargo_plan import cargo_plan
from rubrail.sheets.drawing.figure import Figure, Point, changed, moved, tilted, turned_round
from rubrail.sheets.drawing.machines import cargo_side
from rubrail.sheets.drawing.outline import TrailerOutline

if TYPE_CHECKING:
    from rubrail.things.cargo import Cargo


@dataclass(frozen=True)
class Placed:
    """A piece of cargo on the deck.

    piece
        The piece as its file describes it.
    front_x_in
        Coupling point to its foremost point as placed.
    rear_first
        Its rear toward the truck.
    """

    piece: Cargo | CargoOutline
    front_x_in: float
    rear_first: bool = False

    @cached_property
    def outline(self) -> CargoOutline:
        """Its shape."""
        return self.piece if isinstance(self.piece, CargoOutline) else cargo_outline(self.piece)

    def x_in(self, from_front_in: float) -> float:
        """Coupling point to a place on the piece given from the piece's own front."""
        o = self.outline
        return self.front_x_in + (o.length_in - from_front_in if self.rear_first else from_front_in)

    @property
    def rear_x_in(self) -> float:
        """Its rearmost point as placed."""
        return self.front_x_in + self.outline.length_in

    @property
    def cg_x_in(self) -> float:
        """Its center of gravity."""
        return self.x_in(self.outline.cg_in)

    @property
    def contacts_x_in(self) -> tuple[float, float]:
        """First and last place it bears on, front first."""
        o = self.outline
        a, b = self.x_in(o.contact_front_in), self.x_in(o.contact_rear_in)
        return min(a, b), max(a, b)


@dataclass(frozen=True, slots=True)
class Ride:
    """How the trailer's sprung part stands: the coupling point lifted, the rest turned about it.

    A pitch is nose up, radians.
    """

    coupler_in: float
    rise_in: float
    pitch_rad: float

    def __call__(self, figure: Figure) -> Figure:
        """The figure as it rides."""
        if not self.rise_in and not self.pitch_rad:
            return tuple(figure)
        return moved(tilted(figure, -self.pitch_rad, (0.0, self.coupler_in)), 0.0, self.rise_in)

    def point(self, x: float, z: float) -> Point:
        """A point as it rides."""
        c, s = math.cos(-self.pitch_rad), math.sin(-self.pitch_rad)
        dz = z - self.coupler_in
        return x * c - dz * s, self.coupler_in + x * s + dz * c + self.rise_in


def ride(
    o: TrailerOutline, *, hitch_height_in: float | None, pitch_rad: float | None = None
) -> tuple[TrailerOutline, Ride]:
    """The trailer set on a hitch: its coupler at the setting that comes nearest level, then pitched as it must be.

    Parameters
    ----------
    o : TrailerOutline
        The trailer, level.
    hitch_height_in : float or None
        Height of the hitch; None where not known, then the trailer is drawn level.
    pitch_rad : float or None
        Pitch computed elsewhere, nose up; None derives it from the heights.
    """
    if hitch_height_in is None:
        return o, Ride(o.coupler_height_in, 0.0, 0.0)
    if pitch_rad is None or math.isnan(pitch_rad):
        setting = min(max(hitch_height_in, o.coupler_min_in), o.coupler_max_in)
        pitch_rad = math.asin(max(min((hitch_height_in - setting) / o.axle_group_x_in, 0.5), -0.5))
    else:
        setting = hitch_height_in - math.sin(pitch_rad) * o.axle_group_x_in
    rise = hitch_height_in - setting
    return replace(o, coupler_height_in=setting), Ride(setting, rise, pitch_rad)


def standing(placed: Placed, o: TrailerOutline) -> Figure:
    """A piece from the side where it stands, level trailer: on the deck, or sloping where it stands on the tail."""
    piece = placed.outline
    figure = cargo_side(piece)
    if placed.rear_first:
        figure = turned_round(figure, piece.length_in)
    front, rear = placed.contacts_x_in
    base, slope = seat(o, front=front, rear=rear, cg=placed.cg_x_in)
    at_front = front - placed.front_x_in
    return moved(tilted(figure, slope, (at_front, 0.0)), placed.front_x_in, base)


def seat(o: TrailerOutline, *, front: float, rear: float, cg: float) -> tuple[float, float]:
    """Height of the deck under the first contact, and the slope a rigid piece stands at, rear up.

    Over the break between deck and tail it stays level while its center of gravity is ahead of the break.
    """
    base = o.deck_z_in(front)
    edge = o.flat_rear_x_in
    if not o.tail_length_in or rear <= edge or (front < edge and cg <= edge):
        return base, 0.0
    return base, math.atan2(o.deck_z_in(rear) - base, max(rear - front, 1.0))


def footprint(placed: Placed) -> Figure:
    """A piece from above where it stands."""
    piece = placed.outline
    figure = cargo_plan(piece)
    if placed.rear_first:
        # Turned round on the deck: front to back and side to side.
        figure = changed(figure, lambda u, y: (piece.length_in - u, -y))
    return moved(figure, placed.front_x_in)


def combined_cg_x_in(pieces: list[Placed]) -> float | None:
    """Center of gravity of all pieces together; None where one's weight is not known or there is none."""
    weights = [p.outline.weight_lb for p in pieces]
    if not pieces or any(w is None for w in weights):
        return None
    total = sum(w for w in weights if w is not None)
    return sum(p.cg_x_in * (w or 0.0) for p, w in zip(pieces, weights, strict=True)) / total if total else None
