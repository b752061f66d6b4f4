"""A rig settled for drawing: truck, trailer and cargo in one system of places."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from rubrail.sheets.drawing.dims import Rise
from rubrail.sheets.drawing.figure import Figure, Point, moved, points_of
from rubrail.sheets.drawing.loads import LoadMark
from rubrail.sheets.drawing.outline import TrailerOutline, trailer_outline
from rubrail.sheets.drawing.placed import Placed, ride, standing
from rubrail.sheets.drawing.say import rise, run
from rubrail.sheets.drawing.trailer_side import trailer_side
from rubrail.sheets.drawing.truck import TruckOutline, truck_outline, truck_side

if TYPE_CHECKING:
    from rubrail.things.trailer import Trailer
    from rubrail.things.truck import Truck

Band = tuple[float, float]
"""From and to, inches rearward of the coupling point."""


class Rig:
    """Truck, trailer and cargo settled for drawing; its figures are made once, however many views there are.

    Parameters
    ----------
    trailer : Trailer or TrailerOutline
    truck : Truck, TruckOutline or None
        None draws the loaded trailer alone.
    cargo : sequence of Placed
    loads : sequence of LoadMark
    clear_band : (from, to) or None
        Places of the cargo's center of gravity that hold every limit whatever the tolerances, inches rearward of the
        coupling point.
    holds_band : (from, to) or None
        Places that hold every limit at the stated values.
    pitch_rad : float or None
        Nose-up pitch of the trailer; None derives it from hitch and coupler heights.
    metric : bool
        Meters, centimeters and kilograms.
    """

    def __init__(
        self,
        *,
        trailer: Trailer | TrailerOutline,
        truck: Truck | TruckOutline | None = None,
        cargo: Sequence[Placed] = (),
        loads: Sequence[LoadMark] = (),
        clear_band: Band | None = None,
        holds_band: Band | None = None,
        pitch_rad: float | None = None,
        metric: bool = False,
    ) -> None:
        level = trailer if isinstance(trailer, TrailerOutline) else trailer_outline(trailer)
        if truck is not None and not isinstance(truck, TruckOutline):
            truck = truck_outline(truck, coupling=level.coupling)
        self.truck = truck
        height = None if truck is None or truck.rests_on("hitch_height_in") else truck.hitch_height_in
        if level.rests_on("coupler_height_in"):
            height = None
        self.trailer, self.ride = ride(level, hitch_height_in=height, pitch_rad=pitch_rad)
        self.cargo, self.loads, self.metric = list(cargo), list(loads), metric
        self.bands: list[tuple[str, Band]] = [
            (name, band) for name, band in (("depends", holds_band), ("clear", clear_band)) if band is not None
        ]

    @property
    def truck_x_in(self) -> float:
        """Coupling point to the truck's front axle; negative, as it lies ahead."""
        return -self.truck.hitch_x_in if self.truck else 0.0

    @cached_property
    def truck_figure(self) -> Figure:
        """The truck where it stands; its hitch meets the coupling point even where a height is not known."""
        if self.truck is None:
            return ()
        return moved(truck_side(self.truck), self.truck_x_in)

    @cached_property
    def trailer_figure(self) -> Figure:
        """The trailer as it rides."""
        return trailer_side(self.trailer, sprung=self.ride)

    @cached_property
    def cargo_figures(self) -> list[Figure]:
        """Each piece where it stands."""
        return [self.ride(standing(p, self.trailer)) for p in self.cargo]

    def axles_x_in(self, place: str) -> list[float]:
        """Axles a load mark stands under."""
        if place == "axles":
            return [a.x_in for a in self.trailer.axles]
        if self.truck is None:
            return []
        axles = (0.0,) if place == "truck-front" else self.truck.rear_axles_x_in
        return [self.truck_x_in + x for x in axles]

    @property
    def assumed(self) -> bool:
        """Whether anything drawn had to be assumed."""
        trailer = bool(self.trailer.assumed - {"frame_build", "front_x_in"})
        truck = bool(self.truck and self.truck.assumed - {"rear_x_in"})
        return trailer or truck or any(p.outline.assumed for p in self.cargo)

    @cached_property
    def heights(self) -> list[Rise]:
        """Heights at the right end: deck, then the highest point."""
        o = self.trailer
        out = []
        if not o.rests_on("deck_height_in"):
            out.append(
                Rise(
                    0,
                    o.deck_height_in,
                    rise(o.deck_height_in, metric=self.metric),
                    o.flat_rear_x_in,
                    name="deck-height",
                )
            )
        if self.cargo:
            tops = [(*_highest(f), p) for f, p in zip(self.cargo_figures, self.cargo, strict=True)]
            top, at, piece = max(tops, key=lambda t: t[:2])
            if not piece.outline.rests_on("height_in") and not o.rests_on("deck_height_in"):
                out.append(Rise(0, top, run(top, metric=self.metric), at, name="overall-height"))
        return out


def _highest(figure: Figure) -> Point:
    """Greatest height of a figure, and the rearmost place it is reached at."""
    points = [(z, x) for p in figure for x, z in points_of(p)]
    top = max(z for z, _ in points)
    return top, max(x for z, x in points if z > top - 1.0)
