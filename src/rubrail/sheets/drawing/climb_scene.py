"""A machine on its way up: the trailer ready to load, the way, and the machine standing at any step of its climb.

The machine is drawn once, in its own axes, and set down by one transform a step: a page that scrubs through a climb
only has to change that.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from rubrail.sheets.drawing.cargo_outline import cargo_outline
from rubrail.sheets.drawing.figure import Figure, Point, box, changed, extent, limb, moved, points_of, turned_round
from rubrail.sheets.drawing.figure import line as stroke
from rubrail.sheets.drawing.furniture import cg_mark
from rubrail.sheets.drawing.machines import cargo_side
from rubrail.sheets.drawing.outline import trailer_outline
from rubrail.sheets.drawing.placed import Placed, ride, standing
from rubrail.sheets.drawing.svg import Element, group, number
from rubrail.sheets.drawing.trailer_side import trailer_side
from rubrail.sheets.drawing.truck import truck_outline, truck_side
from rubrail.sheets.drawing.view import View

if TYPE_CHECKING:
    from rubrail.answers.climb_course import Course
    from rubrail.things.cargo import Cargo
    from rubrail.things.trailer import Trailer
    from rubrail.things.truck import Truck


MOST_LIFT_IN = 24.0
"""A boom far behind is not bent further than this to show that it is held up."""
TRACK_END_IN = 10.0
"""A track's own round end reaches about this far beyond its contact."""


class Scene:
    """Everything of one climb that is drawn.

    Parameters
    ----------
    trailer : Trailer
    truck : Truck or None
        None where the trailer stands by itself.
    piece : Cargo
        The machine that climbs.
    rear_first : bool
        It backs up.
    course : Course
    ahead : list of Placed
        Pieces on the deck already.
    stand_gap_in : float or None
        Room under a stand that is let down; None where none is.
    """

    def __init__(
        self,
        *,
        trailer: Trailer,
        truck: Truck | None,
        piece: Cargo,
        rear_first: bool,
        course: Course,
        ahead: tuple[Placed, ...] = (),
        stand_gap_in: float | None = None,
    ) -> None:
        level = trailer_outline(trailer)
        shape = truck_outline(truck, coupling=level.coupling) if truck is not None else None
        height = None if shape is None or shape.rests_on("hitch_height_in") else shape.hitch_height_in
        self.outline, self.ride = ride(level, hitch_height_in=height)
        self.truck = shape
        self.course, self.ahead, self.stand_gap_in = course, ahead, stand_gap_in
        self.machine = cargo_outline(piece)
        self.rear_first = rear_first
        self.clearance = piece.clearance
        radii = piece.contact.wheel_radius_in if piece.contact is not None else ()
        self.radius_in = tuple(0.0 if r is None else r.number for r in radii)
        contacts = self.machine.contacts_in
        # From the end that leads to the trailing contact, as it drives up.
        self.trailing_in = self.machine.length_in - contacts[0] if rear_first else contacts[-1]

    @cached_property
    def own_machine(self) -> Figure:
        """The machine in its own axes: its leading end at 0, standing on 0."""
        figure = self._carried(cargo_side(self.machine))
        return turned_round(figure, self.machine.length_in) if self.rear_first else figure

    def _carried(self, figure: Figure) -> Figure:
        """With bucket, forks or hitch held clear of the way where the stated angles say that they are."""
        o, c = self.machine, self.clearance
        first, last = o.contact_front_in, o.contact_rear_in
        radii = self.radius_in or (0.0, 0.0)

        def line(angle: float, out: float, radius: float) -> float:
            return max(out * math.tan(angle) - radius * (1 / math.cos(angle) - 1), 0.0)

        steepest = max((v for v in self.course.slope_rad if math.isfinite(v)), default=0.0) + math.radians(1.0)
        both = ((c.approach_deg, first, -1.0, radii[0]), (c.departure_deg, last, 1.0, radii[-1]))
        ends = []
        for angle, at, way, radius in both:
            if angle is None:
                continue
            rad = min(math.radians(angle.number), steepest)
            start = max(0.75 * radius, TRACK_END_IN)
            short = [
                (line(rad, out, radius) - v, out - start)
                for p in figure
                for u, v in points_of(p)
                if (out := way * (u - at)) > start + 2.0
            ]
            lift = min(max((s for s, _ in short), default=0.0), MOST_LIFT_IN)
            if lift > 0:
                ends.append((at, way, start, min(max(s / out for s, out in short), 2.0), lift))

        def place(u: float, v: float) -> Point:
            for at, way, start, rise, lift in ends:
                v += min(max(way * (u - at) - start, 0.0) * rise, lift)
            return u, v

        return changed(figure, place) if ends else figure

    def machine_at(self, step: int) -> Figure:
        """The machine as it stands at a step."""
        c = self.course
        x0, z0, pitch = c.x_in[step], c.z_in[step], c.pitch_rad[step]
        cos, sin, ut = math.cos(pitch), math.sin(pitch), self.trailing_in
        return changed(
            self.own_machine, lambda u, v: (x0 + (u - ut) * cos + v * sin, z0 + (ut - u) * sin + v * cos)
        )

    def transform(self, step: int, view: View) -> str:
        """The same as an SVG transform of the machine drawn in its own axes, in px."""
        c, s = self.course, view.scale
        cos, sin = math.cos(c.pitch_rad[step]), math.sin(c.pitch_rad[step])
        e = s * (c.x_in[step] - self.trailing_in * cos)
        f = -s * (c.z_in[step] + self.trailing_in * sin)
        return f"matrix({cos:.5f} {sin:.5f} {-sin:.5f} {cos:.5f} {e:.2f} {f:.2f})"

    @property
    def tilts(self) -> bool:
        """Whether the deck tilts."""
        return self.outline.tail_kind == "tilt" and bool(self.outline.tilt_length_in)

    def level_at(self, step: int) -> bool:
        """Whether a tilting deck has come level at a step."""
        return self.course.level_from is not None and step >= self.course.level_from

    def trailer_at(self, step: int) -> Figure:
        """The trailer, its way up and what stands on it already."""
        o = self.outline
        down = not (self.tilts and self.level_at(step))
        bare = replace(o, ramps=())
        body = trailer_side(bare, deployed=down, parked=self.truck is None, sprung=self.ride)
        cargo = tuple(p for placed in self.ahead for p in self.ride(standing(placed, o)))
        return (*body, *self.way(), *self.stands(), *cargo)

    def way(self) -> Figure:
        """Ramps down on the ground, or the plate that carries a tail's slope on."""
        c, o = self.course, self.outline
        if self.tilts:
            return ()
        if c.way_body[0] == "ramp":
            thick = o.ramps[0].thickness_in if o.ramps else 3.0
            (x1, z1), (x2, z2) = ((c.way_x_in[k], c.way_z_in[k]) for k in (0, 1))
            points = [(x2, z2 - thick / 2), (x1, z1 + thick * 0.3)]
            ramp = limb(points, [thick, thick * 0.6], role="ramp")
            return (ramp, stroke((x2, z2), (x1, z1), pen="deck", role="way"))
        return (stroke((c.way_x_in[0], c.way_z_in[0]), (c.way_x_in[1], c.way_z_in[1]), pen="deck", role="way"),)

    def stands(self) -> Figure:
        """Stands let down under the rear."""
        if self.stand_gap_in is None:
            return ()
        o, gap = self.outline, self.stand_gap_in
        x = o.deck_rear_x_in - 4.0
        top = o.tail_height_in - 3.0
        foot = min(max(gap, 0.0), top - 2.0)
        leg = box(x - 1.5, foot + 1.0, x + 1.5, top, pen="part", role="stand")
        return (leg, box(x - 4.0, foot, x + 4.0, foot + 1.2, pen="solid", role="stand"))

    def truck_figure(self) -> Figure:
        """The truck where it stands."""
        return moved(truck_side(self.truck), -self.truck.hitch_x_in) if self.truck is not None else ()

    def climber(self, step: int, view: View, **attributes: str) -> Element:
        """The machine as one group that a page can set down at any step."""
        o = self.machine
        cg = o.length_in - o.cg_in if self.rear_first else o.cg_in
        drawn = [view.primitive(p) for p in self.own_machine]
        mark = cg_mark(view.x(cg), view.y(o.cg_height_in), radius=4.0, assumed=o.rests_on("cg_height_in", "cg_in"))
        return group(
            group(*drawn, mark, data_part="climber", transform=self.transform(step, view)),
            data_trailing_in=number(self.trailing_in), **attributes,
        )  # fmt: skip

    def spread(self) -> tuple[float, float, float]:
        """Front and rear end of everything, and its greatest height, over the whole climb."""
        steps = {0, len(self.course.s_in) - 1, max(range(len(self.course.z_in)), key=self.course.z_in.__getitem__)}
        figures = [p for k in steps for p in self.machine_at(k)]
        x1, _, x2, top = extent((*figures, *self.trailer_at(0), *self.truck_figure()))
        return x1, x2, top
