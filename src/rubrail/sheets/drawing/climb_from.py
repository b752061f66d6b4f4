"""From a climb's answer to its drawings: scene, strip and plots."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rubrail.sheets.drawing.climb_plot import Panel, Track, climb_plot
from rubrail.sheets.drawing.climb_scene import Scene
from rubrail.sheets.drawing.climb_strip import Frame, climb_strip
from rubrail.sheets.drawing.placed import Placed
from rubrail.sheets.sentences_climb import moment_figure
from rubrail.things.rig_cargo import pieces_of
from rubrail.things.rig_loading import way_ramp

if TYPE_CHECKING:
    from rubrail.answers.climb import Climbing, MachineClimb
    from rubrail.things.haul import Haul
    from rubrail.things.trailer import Trailer


def scene_of(a: Climbing, m: MachineClimb, *, haul: Haul, trailer: Trailer) -> Scene:
    """What is drawn of one machine's climb.

    Parameters
    ----------
    a : Climbing
    m : MachineClimb
        One of its machines, its course known.
    haul : Haul
    trailer : Trailer
    """
    assert m.course is not None
    pieces, places = pieces_of(haul), a.placement
    front = places.front_x_in[m.item]
    ahead = tuple(
        Placed(p, x, w == "rear-first")
        for i, (p, x, w) in enumerate(zip(pieces, places.front_x_in, places.facing, strict=True))
        if i != m.item and x < front
    )
    ramp = way_ramp(trailer)
    down = a.day.stands and ramp is not None and bool(ramp.stands)
    gap = ramp.stand_gap_in.number if down and ramp is not None and ramp.stand_gap_in is not None else 2.0
    return Scene(
        trailer=trailer, truck=haul.truck if a.day.hitched else None, piece=pieces[m.item],
        rear_first=m.facing == "rear-first", course=m.course, ahead=ahead,
        stand_gap_in=(0.0 if a.day.blocks else gap) if down else None,
    )  # fmt: skip


def frames_of(m: MachineClimb, *, metric: bool = False) -> list[Frame]:
    """The critical moments of one machine as frames."""
    return [Frame(x.step, x.says, *moment_figure(m, x, metric=metric)) for x in m.moments]


def strip_of(
    a: Climbing, m: MachineClimb, *, haul: Haul, trailer: Trailer, width_px: float = 960.0, metric: bool = False
) -> str:
    """The picture strip of one machine's climb."""
    scene = scene_of(a, m, haul=haul, trailer=trailer)
    return climb_strip(scene, frames_of(m, metric=metric), width_px=width_px, metric=metric)


def plot_of(m: MachineClimb, *, width_px: float = 960.0, metric: bool = False) -> str:
    """Coupler load and room under the machine, along one climb.

    Parameters
    ----------
    m : MachineClimb
        Its course known.
    width_px, metric
        As everywhere. The load at which the truck's rear lifts is drawn where the curve comes near it.
    """
    c = m.course
    assert c is not None
    least = min((v for v in c.coupler_lb if math.isfinite(v)), default=0.0)
    near = c.lift_lb if math.isfinite(c.lift_lb) and least < 0.6 * c.lift_lb else None
    coupler = Panel("coupler load", "lb", (Track("coupler load", c.coupler_lb),), near, "truck's rear lifts")
    tracks = [
        Track(name, [min(v, ROOMY_IN) if math.isfinite(v) else v for v in values], pen)
        for name, values, pen in (
            ("belly", c.belly_in, "envelope"), ("nose", c.nose_in, "cargo-open"), ("tail", c.tail_in, "load"),
        )
        if any(math.isfinite(v) for v in values)
    ]  # fmt: skip
    room = Panel("room under the machine", "in", tuple(tracks))
    moments = [(n, x.s_in) for n, x in enumerate(m.moments, 1)]
    panels = [coupler, room] if tracks else [coupler]
    return climb_plot(c.s_in, panels, moments=moments, width_px=width_px, metric=metric,
                      title=f"{m.title}: coupler load and room along the climb")  # fmt: skip


ROOMY_IN = 24.0
"""Room beyond this is not told apart: nothing is near."""
