"""The trailer from its left side, front to the left, in inches."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from rubrail.sheets.drawing.couplings import coupling_side, jack_side
from rubrail.sheets.drawing.figure import Disc, Figure, Line, Point, box, limb, line, shape, stroked, tilted
from rubrail.sheets.drawing.outline import Axle, Ramp, TrailerOutline

_TAIL_END_DEPTH = 4.5
_FENDER_GAP, _FENDER_BAND = 2.6, 1.7


def trailer_side(
    o: TrailerOutline,
    *,
    deployed: bool = False,
    parked: bool = False,
    plain: bool = False,
    sprung: Callable[[Figure], Figure] = tuple,
) -> Figure:
    """The whole trailer, back to front.

    Parameters
    ----------
    o : TrailerOutline
        Its shape, inches.
    deployed : bool
        Ramps down instead of as they travel.
    parked : bool
        Standing on its jack.
    plain : bool
        Without crossmembers, anchors and other small parts, for thumbnails.
    sprung : callable
        Put over all that is not a wheel, for a trailer that does not ride level.
    """
    if deployed:
        o = o.let_down()
    behind = [*coupling_side(o), *main_beam(o), *equalizers(o)]
    upper = [*jack_side(o, parked=parked)]
    if deployed and o.tail_kind == "tilt" and o.tilt_length_in:
        upper += tilted_deck(o, plain=plain)
    else:
        upper += whole_deck(o, plain=plain)
    if o.headboard_in:
        upper.append(
            box(o.deck_front_x_in, o.deck_height_in, o.deck_front_x_in + 2, o.deck_height_in + o.headboard_in)
        )
    for ramp in o.ramps:
        upper += ramp_side(o, ramp, deployed=deployed)
    if o.deck_kind == "between-fenders":
        return (*sprung((*behind, *upper)), *wheels(o), *sprung(fenders(o)))
    return (*sprung(tuple(behind)), *wheels(o), *sprung(tuple(upper)))


def whole_deck(o: TrailerOutline, *, plain: bool) -> Figure:
    """Deck, anchors and the surface the cargo stands on."""
    marks = () if plain else anchors(o)
    return (*deck(o, plain=plain), *marks, deck_surface(o))


def tilted_deck(o: TrailerOutline, *, plain: bool) -> Figure:
    """The rear part of the deck tilted until its rear edge rests on the ground, the front part level."""
    break_x = o.flat_rear_x_in - o.tilt_length_in
    sine = math.sin(o.tilt_rad)
    pivot = (o.flat_rear_x_in - o.deck_height_in / sine, o.deck_height_in)
    down = stroked(
        tilted(_tilting_part(o, break_x, plain=plain), -o.tilt_rad, pivot),
        dashed=o.rests_on("tilt_rad", "deck_height_in"),
    )
    frame_high = o.beam_bottom_in + min(o.beam_depth_in * 0.5, 4.0)
    frame = box(o.deck_front_x_in, o.beam_bottom_in, o.axles[-1].x_in, frame_high, role="frame")
    if break_x <= o.deck_front_x_in + 6:
        return (frame, *down)
    front = replace(o, flat_length_in=break_x - o.deck_front_x_in, tail_kind="none", anchors=())
    return (frame, *whole_deck(front, plain=plain), *down)


def _tilting_part(o: TrailerOutline, start: float, *, plain: bool) -> Figure:
    """The tilting deck as it lies level, cut to an edge at its rear so that it meets the ground."""
    top, end = o.deck_height_in, o.flat_rear_x_in
    depth = o.deck_thickness_in + o.crossmember_depth_in
    edge = min(depth / math.sin(o.tilt_rad), end - start)
    body = shape((start, top), (end, top), (end - edge, top - depth), (start, top - depth), role="tilt-deck")
    floor = top - o.deck_thickness_in
    ticks = (
        []
        if plain
        else [
            line((x, top - depth), (x, floor), pen="detail", role="crossmember")
            for x in crossmembers_x_in(o)
            if start < x < end - edge
        ]
    )
    return (body, *ticks, line((start, top), (end, top), pen="deck", role="deck"))


def rail_depth_in(o: TrailerOutline) -> float:
    """Depth of the deck's edge: deck material and crossmembers, or the frame itself between fenders."""
    if o.deck_kind == "between-fenders":
        return o.beam_top_in + o.beam_depth_in
    return o.deck_thickness_in + o.crossmember_depth_in + 0.5


def main_beam(o: TrailerOutline) -> Figure:
    """Main beams of a deck-over frame, tapering into the tail."""
    if o.deck_kind == "between-fenders":
        return ()
    low, high = o.beam_bottom_in, o.deck_height_in - o.beam_top_in
    front, rear, end = o.deck_front_x_in, o.flat_rear_x_in, o.deck_rear_x_in
    guessed = o.rests_on("beam_depth_in", "deck_height_in", "flat_length_in", "tail_length_in")
    # Along the tail the beam is cut away to what carries its end.
    foot = (
        [(rear, low), (end, max(o.tail_height_in - _TAIL_END_DEPTH - 1, 4.0))] if o.tail_length_in else [(rear, low)]
    )
    top_end = (end, o.tail_height_in - o.beam_top_in) if o.tail_length_in else (rear, high)
    outline = shape((front, low), (front, high), (rear, high), top_end, *reversed(foot), dashed=guessed, role="beam")
    inset = 0.8
    flanges = (
        line((front, high - inset), (rear, high - inset), pen="detail"),
        line((front, low + inset), (rear, low + inset), pen="detail"),
    )
    return (outline, *flanges)


def deck(o: TrailerOutline, *, plain: bool = False) -> Figure:
    """Edge of the deck with the crossmembers' ends at their spacing, and the tail."""
    top, depth = o.deck_height_in, rail_depth_in(o)
    front, rear, end = o.deck_front_x_in, o.flat_rear_x_in, o.deck_rear_x_in
    guessed = o.rests_on("deck_height_in", "flat_length_in", "deck_front_x_in")
    parts = [box(front, top - depth, rear, top, dashed=guessed, role="deck-edge")]
    if o.tail_length_in:
        tail_guessed = guessed or o.rests_on("tail_length_in", "tail_drop_in")
        foot = o.tail_height_in - min(depth, _TAIL_END_DEPTH)
        parts.append(
            shape(
                (rear, top),
                (end, o.tail_height_in),
                (end, foot),
                (rear, top - depth),
                dashed=tail_guessed,
                role="tail",
            )
        )
    if o.tail_kind == "tilt" and o.tilt_length_in:
        x = rear - o.tilt_length_in
        if x > front + 6:
            parts.append(line((x, top - depth), (x, top), pen="open"))
        parts.append(Disc(o.axle_group_x_in - 8, top - depth, 1.6, "hub"))
    if plain:
        return tuple(parts)
    floor = top - o.deck_thickness_in
    parts.append(line((front, floor), (rear, floor), pen="detail"))
    dashed = o.rests_on("crossmember_spacing_in")
    low = max(floor - o.crossmember_depth_in, top - depth)
    parts += [
        line((x, low), (x, floor), pen="detail", dashed=dashed, role="crossmember") for x in crossmembers_x_in(o)
    ]
    return tuple(parts)


def crossmembers_x_in(o: TrailerOutline) -> list[float]:
    """Where the crossmembers of the level deck lie, front one a spacing behind the deck's front."""
    step = o.crossmember_spacing_in
    return [o.deck_front_x_in + step * i for i in range(1, math.ceil(o.flat_length_in / step - 1e-9))]


def deck_surface(o: TrailerOutline) -> Line:
    """The line the cargo stands on."""
    points = [(o.deck_front_x_in, o.deck_height_in), (o.flat_rear_x_in, o.deck_height_in)]
    if o.tail_length_in:
        points.append((o.deck_rear_x_in, o.tail_height_in))
    guessed = o.rests_on("deck_height_in", "flat_length_in", "deck_front_x_in", "tail_length_in")
    return line(*points, pen="deck", dashed=guessed, role="deck")


def wheels(o: TrailerOutline) -> Figure:
    """Wheels on the ground at their loaded radius."""
    return tuple(p for axle in o.axles for p in wheel(axle))


def wheel(axle: Axle) -> Figure:
    """One wheel; a dual's outer rim is dished, so it shows a second, shaded ring."""
    x, r, rim = axle.x_in, axle.radius_in, axle.rim_radius_in * 0.94
    guessed = axle.x_assumed or axle.tire_assumed
    parts = [Disc(x, r, r, "tire", dashed=guessed, role="wheel"), Disc(x, r, rim, "hub")]
    if axle.dual:
        parts += [Disc(x, r, rim * 0.74, "glass", role="dual"), Disc(x, r, rim * 0.36, "hub")]
    else:
        parts.append(Disc(x, r, rim * 0.36, "part"))
    parts.append(Disc(x, r, 0.9, "solid"))
    return tuple(parts)


def equalizers(o: TrailerOutline) -> Figure:
    """Rockers between sprung axles; independent axles have none."""
    if not o.equalized:
        return ()
    parts = []
    for a, b in zip(o.axles, o.axles[1:], strict=False):
        x, top = (a.x_in + b.x_in) / 2, o.beam_bottom_in
        drop = min(5.0, max(top - a.radius_in, 1.5))
        parts.append(shape((x - 1.5, top), (x + 1.5, top), (x + 5, top - drop), (x - 5, top - drop), pen="part"))
    return tuple(parts)


def fenders(o: TrailerOutline) -> Figure:
    """One fender over the axles, drawn as a band so that the wheels stay in sight."""
    if o.deck_kind != "between-fenders":
        return ()
    first, last = o.axles[0], o.axles[-1]
    r = max(a.radius_in for a in o.axles)
    top, foot = 2 * r + _FENDER_GAP + _FENDER_BAND / 2, r * 1.15
    out = r + _FENDER_GAP + _FENDER_BAND / 2
    x1, x2 = first.x_in, last.x_in
    points: list[Point] = [
        (x1 - out, foot), (x1 - out * 0.82, r + out * 0.62), (x1 - out * 0.42, top),
        (x2 + out * 0.42, top), (x2 + out * 0.82, r + out * 0.62), (x2 + out, foot),
    ]  # fmt: skip
    guessed = any(a.x_assumed for a in o.axles)
    return stroked((limb(points, [_FENDER_BAND] * len(points)),), dashed=guessed)


def anchors(o: TrailerOutline) -> Figure:
    """Anchors of the near side, as small marks on the deck's edge."""
    parts = []
    for a in o.anchors:
        if a.y_in > 0:
            continue
        z = o.deck_z_in(a.x_in)
        if a.kind in ("D-ring", "chain-slot"):
            parts.append(Disc(a.x_in, z - rail_depth_in(o) * 0.5, 1.5, "hub", role="anchor"))
        elif a.kind == "rail-loop":
            parts.append(
                line((a.x_in - 2, z), (a.x_in - 1.4, z + 2), (a.x_in + 1.4, z + 2), (a.x_in + 2, z), role="anchor")
            )
        else:
            parts.append(box(a.x_in - 1.7, z - rail_depth_in(o), a.x_in + 1.7, z, pen="part", role="anchor"))
    return tuple(parts)


def ramp_side(o: TrailerOutline, ramp: Ramp, *, deployed: bool) -> Figure:
    """A ramp as it travels, or down on the ground."""
    x, z, length, thick = o.deck_rear_x_in, o.tail_height_in, ramp.length_in, ramp.thickness_in
    dashed = ramp.assumed
    if deployed:
        reach = math.sqrt(max(length * length - z * z, 0.0))
        return stroked(
            (limb([(x, z - thick / 2), (x + reach, thick * 0.3)], [thick, thick * 0.6], role="ramp"),), dashed=dashed
        )
    if ramp.kind == "slide-in":
        low = max(o.deck_height_in - rail_depth_in(o) - thick, 6.0)
        return (box(o.flat_rear_x_in - length, low, o.flat_rear_x_in, low + thick, pen="hidden", role="ramp"),)
    if lies_flat(o, ramp):
        points = [(q, o.deck_z_in(q) + thick / 2) for q in _along_tail(o, x - length, x)]
        return stroked((limb(points, [thick] * len(points), pen="part", role="ramp"),), dashed=dashed)
    tall = length / 2 if ramp.kind == "bi-fold" else length
    thick = thick * 2 if ramp.kind == "bi-fold" else thick
    lean = 0.07 * tall
    up = limb([(x + thick / 2, z - 1), (x + thick / 2 - lean, z - 1 + tall)], [thick, thick], pen="part", role="ramp")
    rungs = tuple(
        line((x - lean * s, z - 1 + tall * s), (x + thick - lean * s, z - 1 + tall * s), pen="detail")
        for s in (0.2, 0.4, 0.6, 0.8)
    )
    return stroked((up, *rungs), dashed=dashed)


def lies_flat(o: TrailerOutline, ramp: Ramp) -> bool:
    """Whether the ramp travels folded onto the tail rather than standing."""
    return ramp.kind == "flip-over" or (ramp.kind == "full-width" and o.tail_length_in >= 0.75 * ramp.length_in)


def _along_tail(o: TrailerOutline, start: float, end: float) -> list[float]:
    edge = o.flat_rear_x_in
    return [start, edge, end] if o.tail_length_in and start < edge - 1 < end else [max(start, o.deck_front_x_in), end]
