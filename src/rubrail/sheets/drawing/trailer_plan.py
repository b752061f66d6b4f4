"""The trailer from above, front to the left; ``z`` of a figure is here inches to the right seen from behind."""

from __future__ import annotations

import math

from rubrail.sheets.drawing.couplings import coupling_plan
from rubrail.sheets.drawing.figure import Disc, Figure, box, line, shape, stroked
from rubrail.sheets.drawing.outline import Axle, Ramp, TrailerOutline
from rubrail.sheets.drawing.trailer_side import crossmembers_x_in, lies_flat

_FENDER_CLEAR = 3.5
_OUTER_TIRE_INSET = 1.5
_DUAL_GAP = 3.5
_LEGAL_WIDTH = 102.0
_FREE_OVER_LOADED = 1.05


def trailer_plan(o: TrailerOutline, *, deployed: bool = False) -> Figure:
    """The whole trailer from above, lowest parts first.

    Parameters
    ----------
    o : TrailerOutline
        Its shape, inches.
    deployed : bool
        Ramps on the ground instead of as they travel.
    """
    if deployed:
        o = o.let_down()
    between = o.deck_kind == "between-fenders"
    parts: list = [*coupling_plan(o)]
    if between:
        parts += [*axle_tubes(o), *tires(o, pen="tire"), *fender_tops(o)]
    parts += deck_plan(o)
    if not between:
        parts += tires(o, pen="hidden")
    for ramp in o.ramps:
        parts += ramp_plan(o, ramp, deployed=deployed)
    parts += anchors_plan(o)
    if o.headboard_in:
        half = o.deck_width_in / 2
        parts.append(box(o.deck_front_x_in, -half, o.deck_front_x_in + 2, half, pen="shaded"))
    return tuple(parts)


def center_line(x1: float, x2: float) -> Figure:
    """Center line of the drawing, between two places."""
    return (line((x1, 0), (x2, 0), pen="center"),)


def deck_plan(o: TrailerOutline) -> Figure:
    """Outline of deck and tail, crossmembers under it."""
    half, front, rear, end = o.deck_width_in / 2, o.deck_front_x_in, o.flat_rear_x_in, o.deck_rear_x_in
    guessed = o.rests_on("deck_width_in", "flat_length_in", "deck_front_x_in")
    parts = [box(front, -half, rear, half, dashed=guessed, role="deck")]
    cross = o.rests_on("crossmember_spacing_in")
    parts += [
        line((x, -half), (x, half), pen="hidden", dashed=cross, role="crossmember") for x in crossmembers_x_in(o)
    ]
    if o.tail_length_in:
        tail_guessed = guessed or o.rests_on("tail_length_in")
        parts.append(box(rear, -half, end, half, pen="shaded", dashed=tail_guessed, role="tail"))
        cleats = max(int(o.tail_length_in // 12), 2)
        step = o.tail_length_in / cleats
        parts += [line((rear + step * i, -half), (rear + step * i, half), pen="detail") for i in range(1, cleats)]
    if o.tail_kind == "tilt" and 0 < o.tilt_length_in < o.flat_length_in - 6:
        parts.append(line((rear - o.tilt_length_in, -half), (rear - o.tilt_length_in, half), pen="open"))
    return tuple(parts)


def tire_rows_y_in(o: TrailerOutline, axle: Axle) -> tuple[float, ...]:
    """Middles of the tires of one side, outermost first, inches from the center line."""
    width = axle.tire_width_in
    if o.deck_kind == "between-fenders":
        room = (o.width_in - o.between_fenders_in) / 2
        outer = o.between_fenders_in / 2 + room / 2
        if not axle.dual:
            return (outer,)
        return (
            o.width_in / 2 - _OUTER_TIRE_INSET - width / 2,
            o.width_in / 2 - _OUTER_TIRE_INSET - 1.5 * width - _DUAL_GAP,
        )
    outer = min(o.width_in, _LEGAL_WIDTH) / 2 - _OUTER_TIRE_INSET - width / 2
    return (outer, outer - width - _DUAL_GAP) if axle.dual else (outer,)


def tires(o: TrailerOutline, *, pen: str) -> Figure:
    """Tires from above; under a deck they are drawn faint."""
    parts = []
    for axle in o.axles:
        half = axle.radius_in * _FREE_OVER_LOADED
        w = axle.tire_width_in / 2
        guessed = axle.x_assumed or axle.tire_assumed
        for y in tire_rows_y_in(o, axle):
            parts += [
                box(
                    axle.x_in - half,
                    s * y - w,
                    axle.x_in + half,
                    s * y + w,
                    pen=pen,
                    round_in=2.5,
                    dashed=guessed,
                    role="tire",
                )
                for s in (-1, 1)
            ]
    return tuple(parts)


def axle_tubes(o: TrailerOutline) -> Figure:
    """Axle center lines."""
    half = o.width_in / 2
    return tuple(line((a.x_in, -half), (a.x_in, half), pen="hidden") for a in o.axles)


def fender_tops(o: TrailerOutline) -> Figure:
    """Fenders from above, over the tires."""
    r = max(a.radius_in for a in o.axles)
    x1, x2 = o.axles[0].x_in - r - _FENDER_CLEAR, o.axles[-1].x_in + r + _FENDER_CLEAR
    inner, outer = o.between_fenders_in / 2, o.width_in / 2
    guessed = o.rests_on("between_fenders_in", "width_in") or any(a.x_assumed for a in o.axles)
    return stroked(
        tuple(box(x1, s * inner, x2, s * outer, pen="open", role="fender") for s in (-1, 1)), dashed=guessed
    )


def ramp_plan(o: TrailerOutline, ramp: Ramp, *, deployed: bool) -> Figure:
    """Ramps from above."""
    x = o.deck_rear_x_in
    rows = _ramp_rows(ramp)
    if deployed:
        reach = math.sqrt(max(ramp.length_in**2 - o.tail_height_in**2, 0.0))
        start, stop, pen = x, x + max(reach, ramp.thickness_in), "part"
    elif ramp.kind == "slide-in":
        start, stop, pen = o.flat_rear_x_in - ramp.length_in, o.flat_rear_x_in, "hidden"
    elif lies_flat(o, ramp):
        start, stop, pen = max(x - ramp.length_in, o.deck_front_x_in), x, "part"
    else:
        start, stop, pen = x, x + ramp.thickness_in, "part"
    parts = []
    for low, high in rows:
        parts.append(box(start, low, stop, high, pen=pen, role="ramp"))
        if pen == "part" and stop - start > 12:
            count = int((stop - start) // 9)
            step = (stop - start) / count
            parts += [line((start + step * i, low), (start + step * i, high), pen="detail") for i in range(1, count)]
    return stroked(tuple(parts), dashed=ramp.assumed)


def _ramp_rows(ramp: Ramp) -> list[tuple[float, float]]:
    if ramp.count == 1:
        return [(-ramp.width_in / 2, ramp.width_in / 2)]
    pairs = [(ramp.gap_in / 2, ramp.gap_in / 2 + ramp.width_in), (-ramp.gap_in / 2 - ramp.width_in, -ramp.gap_in / 2)]
    if ramp.count == 3:
        pairs.append((-ramp.width_in / 2, ramp.width_in / 2))
    return pairs


def anchors_plan(o: TrailerOutline) -> Figure:
    """Anchors as small marks where they are."""
    parts = []
    for a in o.anchors:
        if a.kind in ("D-ring", "chain-slot"):
            parts.append(Disc(a.x_in, a.y_in, 1.8, "hub", role="anchor"))
        else:
            inward = -1.6 if a.y_in > 0 else 1.6
            parts.append(
                shape((a.x_in - 2, a.y_in), (a.x_in + 2, a.y_in), (a.x_in + 2, a.y_in + inward), (a.x_in - 2,
                a.y_in + inward),
                      pen="part", role="anchor")
            )  # fmt: skip
    return tuple(parts)
