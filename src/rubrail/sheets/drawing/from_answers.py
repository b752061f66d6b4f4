"""From answers to drawings: the rig a weighing is about, and the curve of an envelope."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from rubrail.sheets.drawing.envelope_data import Curve
from rubrail.sheets.drawing.loads import LoadMark
from rubrail.sheets.drawing.placed import Placed
from rubrail.sheets.sentences_unit import stretch_name

if TYPE_CHECKING:
    from rubrail.answers.envelope import Segment
    from rubrail.answers.report import Line, Weighing
    from rubrail.things.cargo import Cargo

# Place of a load -> the quantity lettered there, and the checks that hold a limit against it.
_AT: dict[str, tuple[str, tuple[str, ...]]] = {
    "truck-front": ("truck_front_load_lb", ("truck-front-axle", "truck-front-tires")),
    "truck-rear": ("truck_rear_load_lb", ("truck-rear-axle", "truck-rear-tires")),
    "coupler": ("coupler_load_lb", ("coupler-vertical", "hitch-vertical")),
    "axles": ("axle_group_load_lb", ("axle-group",)),
}
# Checks that no amount lettered there shows, but the mark does: a coupler that lifts is never marked as clear.
_ALSO: dict[str, tuple[str, ...]] = {"coupler": ("coupler-lift",)}
_WORST_FIRST = ("over", "not known", "depends", "clear")
_STEPS = 24


def load_marks(weighing: Weighing) -> list[LoadMark]:
    """The loads of a weighing where they act, each against the limit that stands closest to it.

    Parameters
    ----------
    weighing : Weighing
        One rig weighed.
    """
    values = {load.name: load.value for load in weighing.loads if not load.member}
    governing = weighing.governing.check if weighing.governing else ""
    marks = []
    for place, (quantity, checks) in _AT.items():
        if quantity not in values:
            continue
        lines = [x for x in weighing.lines if x.check in checks and x.verdict in _WORST_FIRST]
        line = min(lines, key=_rank, default=None)
        also = [x.verdict for x in weighing.lines if x.check in _ALSO.get(place, ()) and x.verdict in _WORST_FIRST]
        marks.append(
            LoadMark(
                place,
                values[quantity],
                math.inf if line is None else line.limit,
                "" if line is None else min((line.verdict, *also), key=_WORST_FIRST.index),
                governs=governing in checks,
                plus_minus_lb=0.0
                if line is None or math.isnan(line.worst_margin)
                else line.margin - line.worst_margin,
            )
        )
    return marks


def _rank(line: Line) -> tuple[int, float]:
    share = line.share if not math.isnan(line.share) else math.inf
    return _WORST_FIRST.index(line.verdict), share


def placed_pieces(weighing: Weighing, cargo: Sequence[Cargo]) -> list[Placed]:
    """Pieces of a weighing where they stand.

    Parameters
    ----------
    weighing : Weighing
    cargo : sequence of Cargo
        The haul's pieces; each piece of the weighing is found among them by its id.
    """
    by_id = {c.id: c for c in cargo}
    return [Placed(by_id[p.id], p.front_x_in, p.facing == "rear-first") for p in weighing.pieces]


def curve_of(segments: Sequence[Segment], *, least_lb: float = 0.0) -> Curve:
    """An envelope's stretches as points close enough to draw; their ends are exact.

    Parameters
    ----------
    segments : sequence of Segment
        In order, joined end to end.
    least_lb : float
        Weights below this are drawn at it.
    """
    x: list[float] = []
    weight: list[float] = []
    governing: list[str] = []
    for segment in segments:
        for k in range(_STEPS + 1):
            at = segment.from_x_in + (segment.to_x_in - segment.from_x_in) * k / _STEPS
            value = segment.weight_lb(at) if math.isfinite(segment.inverse_at_zero) else 0.0
            x.append(at)
            weight.append(max(value, least_lb))
            governing.append(stretch_name(segment))
    return Curve(x, weight, governing)
