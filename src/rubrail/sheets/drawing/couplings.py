"""Tongues, necks and coupling heads, from the side and from above."""

from __future__ import annotations

from rubrail.sheets.drawing.figure import Disc, Figure, box, limb, line, shape, stroked
from rubrail.sheets.drawing.outline import TrailerOutline

_NECK_DEPTH = 11.0
_UPRIGHT = 11.0
_TONGUE_DEPTH = {"ball": 6.0, "pintle": 8.0}
_JACK_FOOT = 9.0


def coupling_side(o: TrailerOutline) -> Figure:
    """Everything ahead of the deck, from the side."""
    if o.over_bed:
        return _neck_side(o)
    return _tongue_side(o)


def jack_side(o: TrailerOutline, *, parked: bool) -> Figure:
    """The jack: on its foot in the yard, wound up on the road."""
    if o.over_bed:
        x = o.deck_front_x_in - _UPRIGHT - 4
        low, high = o.beam_bottom_in + 2, min(o.neck_underside_in - 6, o.beam_bottom_in + 34)
    else:
        x = max(o.deck_front_x_in * 0.42, 16.0)
        low, high = tongue_range(o)
        low, high = low - 1, high + 15
    foot = 0.0 if parked else min(_JACK_FOOT, low - 3)
    leg = box(x - 0.9, foot + 0.8, x + 0.9, low, pen="part")
    plate = box(x - 3.5, foot, x + 3.5, foot + 0.9, pen="part")
    tube = box(x - 1.5, low, x + 1.5, high, pen="part")
    crank = line((x + 1.5, high - 2.5), (x + 5, high - 2.5), (x + 5, high - 5), pen="detail")
    return (leg, plate, tube, crank)


def tongue_range(o: TrailerOutline) -> tuple[float, float]:
    """Underside and top of the tongue, inches above ground."""
    depth = min(_TONGUE_DEPTH.get(o.coupling, 6.0), max(o.beam_depth_in, 4.0))
    return o.beam_bottom_in, o.beam_bottom_in + depth


def _tongue_side(o: TrailerOutline) -> Figure:
    low, high = tongue_range(o)
    z, front = o.coupler_height_in, o.deck_front_x_in
    guessed = o.rests_on("deck_front_x_in", "deck_height_in", "beam_depth_in")
    out: list = [shape((13, low), (13, high), (front + 8, high), (front + 8, low), dashed=guessed, role="tongue")]
    if not low <= z <= high:
        # The head hangs below, or stands above, the tongue on an upright channel.
        out.append(box(10, min(z - 3, low), 14, max(z + 3, high), dashed=o.rests_on("coupler_height_in")))
    head = _ball_head(z) if o.coupling == "ball" else _eye_side(z)
    return (*out, *stroked(head, dashed=o.rests_on("coupler_height_in")))


def _ball_head(z: float) -> Figure:
    body = shape(
        (-2.7, z - 0.9), (-2.7, z + 1.7), (0.6, z + 2.9), (6, z + 2.9), (13, z + 2.2), (13, z - 1.8), (3.2, z - 1.2),
        (2.6, z - 0.2), (-1.6, z - 0.9),
        pen="shaded", round_in=0.9, role="coupler",
    )  # fmt: skip
    latch = line((2.2, z + 2.9), (4.4, z + 5.0), (9.5, z + 4.6), pen="open")
    return (body, latch)


def _eye_side(z: float) -> Figure:
    """The eye lies flat, so from the side it is a bar; its hole shows as two thin edges."""
    ring = box(-2.9, z - 0.85, 2.9, z + 0.85, pen="shaded", round_in=0.8, role="coupler")
    hole = (
        line((-1.4, z - 0.85), (-1.4, z + 0.85), pen="detail"),
        line((1.4, z - 0.85), (1.4, z + 0.85), pen="detail"),
    )
    shank = box(2.9, z - 1.1, 11, z + 1.1, pen="shaded")
    plate = box(10.6, z - 3.2, 13, z + 3.2, pen="shaded")
    return (ring, *hole, shank, plate)


def _neck_side(o: TrailerOutline) -> Figure:
    under, front, rear = o.neck_underside_in, o.front_x_in, o.deck_front_x_in
    top = under + _NECK_DEPTH
    toe = rear - _UPRIGHT
    low = o.beam_bottom_in
    gusset = min(16.0, (under - o.deck_height_in) * 0.5)
    guessed = o.rests_on("neck_underside_in", "deck_front_x_in", "front_x_in", "deck_height_in")
    neck = shape(
        (front, under), (front, top), (rear, top), (rear, low), (toe, low), (toe, under - gusset),
        (toe - gusset, under),
        dashed=guessed, role="neck",
    )  # fmt: skip
    flanges = (
        line((front + 1, top - 0.9), (rear - 0.9, top - 0.9), (rear - 0.9, low + 0.9), pen="detail"),
        line((front + 1, under + 0.9), (toe - gusset * 0.7, under + 0.9), pen="detail"),
    )
    head = _ball_tube(o) if o.coupling == "gooseneck" else _king_pin(o)
    return (neck, *flanges, *stroked(head, dashed=o.rests_on("coupler_height_in")))


def _ball_tube(o: TrailerOutline) -> Figure:
    z, under = o.coupler_height_in, o.neck_underside_in
    collar = box(-3.1, under - 2.4, 3.1, under, pen="shaded")
    tube = box(-2.1, z + 2, 2.1, under - 2.4, pen="shaded")
    socket = shape(
        (-3.1, z - 1.4), (-3.1, z + 2.4), (-2.1, z + 3.6), (2.1, z + 3.6), (3.1, z + 2.4), (3.1, z - 1.4),
        pen="shaded", role="coupler",
    )  # fmt: skip
    return (tube, collar, socket)


def _king_pin(o: TrailerOutline) -> Figure:
    z = o.coupler_height_in
    radius = o.ball_size_in / 2
    plate = box(-18, z, 18, z + 1.2, pen="shaded", role="coupler")
    web = shape(
        (-16, z + 1.2), (-12, o.neck_underside_in + 3), (12, o.neck_underside_in + 3), (16, z + 1.2), pen="shaded"
    )
    pin = box(-radius, z - 3, radius, z, pen="solid")
    return (web, plate, pin) if o.neck_underside_in > z + 2 else (plate, pin)


def coupling_plan(o: TrailerOutline) -> Figure:
    """Everything ahead of the deck, from above."""
    front = o.deck_front_x_in
    guessed = o.rests_on("deck_front_x_in")
    if o.over_bed:
        y, nose = 17.0, o.front_x_in
        rails = tuple(box(nose + 4, s * y - 2.5, front, s * y + 2.5, dashed=guessed, role="neck") for s in (-1, 1))
        cross = (box(nose, -y - 2.5, nose + 5, y + 2.5), box(front - 6, -y - 2.5, front, y + 2.5))
        head = box(-4, -y + 2.5, 4, y - 2.5, pen="part")
        eye = (Disc(0, 0, 3.1, "shaded", role="coupler"), Disc(0, 0, o.ball_size_in / 2, "part"))
        return (*rails, *cross, head, *eye)
    spread = min(o.deck_width_in * 0.34, 30.0)
    rails = tuple(limb([(front + 2, s * spread), (14, s * 2.6)], [4, 4], pen="outline") for s in (-1, 1))
    rails = stroked(rails, dashed=guessed)
    if o.coupling == "pintle":
        eye = (
            box(2.6, -1.2, 13, 1.2, pen="shaded"),
            Disc(0, 0, 2.9, "shaded", role="coupler"),
            Disc(0, 0, 1.5, "part"),
        )
        return (*rails, box(10.5, -6, 14, 6, pen="shaded"), *eye)
    head = shape((-2.7, -1.6), (-2.7, 1.6), (3, 2.4), (16, 2.4), (16, -2.4), (3, -2.4), pen="shaded", round_in=1.2,
                 role="coupler")  # fmt: skip
    return (*rails, head)
