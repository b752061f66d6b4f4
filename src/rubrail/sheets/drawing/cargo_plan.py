"""Pieces of cargo from above: what bears on the deck where it bears, and the body over it."""

from __future__ import annotations

from rubrail.sheets.drawing.cargo_outline import CargoOutline
from rubrail.sheets.drawing.figure import Disc, Figure, box, limb, line, shape, stroked, turned_round
from rubrail.sheets.drawing.machine_parts import Frame, equal_radius, frame_of, has_loader, track_height

_LOADERS = {"skid-steer", "wheel-loader", "stand-on", "backhoe"}


def cargo_plan(o: CargoOutline) -> Figure:
    """A piece from above, its own front to the left at ``u = 0``, center line at ``z = 0``."""
    if o.form == "crate":
        return _guessed(o, _crate(o))
    if o.form in ("blocks", "bales", "round-bales"):
        return _guessed(o, _pieces(o))
    body = _excavator(o) if o.form == "excavator" else _body(o)
    return _guessed(o, (*contacts_plan(o), *body))


def _guessed(o: CargoOutline, figure: Figure) -> Figure:
    return stroked(figure, dashed=o.rests_on("length_in", "width_in"))


def contacts_plan(o: CargoOutline) -> Figure:
    """Tracks, wheels or drums as they stand."""
    f = frame_of(o)
    half, each = o.contact_width_in / 2, o.each_width_in
    guessed = o.rests_on("contacts_in", "contact_width_in")
    if o.stands_on == "drums":
        r = max(min(f.v(0.26), f.span * 0.42), 4.0)
        return tuple(
            box(u - r, -half, u + r, half, pen="cargo-wheel", round_in=1.5, dashed=guessed, role="contact")
            for u in o.contacts_in
        )
    each = min(each, half * 0.8)
    sides = ((half - each, half), (-half, each - half))
    if o.stands_on == "tracks":
        r = track_height(f) / 2
        return tuple(
            box(f.c1 - r, a, f.c2 + r, b, pen="cargo-wheel", round_in=2.5, dashed=guessed, role="contact")
            for a, b in sides
        )
    if o.stands_on == "flat":
        return tuple(box(f.c1, a, f.c2, b, pen="cargo-wheel", dashed=guessed, role="contact") for a, b in sides)
    out = []
    for i, u in enumerate(o.contacts_in):
        share = 0.28 if o.form in ("tractor", "backhoe") and i else 0.19
        r = equal_radius(f, share)
        out += [
            box(u - r, a, u + r, b, pen="cargo-wheel", round_in=2.5, dashed=guessed, role="contact") for a, b in sides
        ]
    return tuple(out)


def _body(o: CargoOutline) -> Figure:
    f = frame_of(o)
    inner = max(o.contact_width_in / 2 - min(o.each_width_in, o.contact_width_in * 0.4), o.contact_width_in * 0.16)
    half = inner + 1 if o.stands_on != "drums" else o.contact_width_in / 2 - 4
    if o.form in ("scissor", "vehicle"):
        half = o.width_in / 2 - 1
    wide = o.width_in / 2
    front, rear = max(f.u(-0.12), 0.0), o.length_in
    narrow = o.form in ("tractor", "backhoe", "trencher")
    if narrow:
        half = min(half, 15.0)
        rear = min(rear, f.c2 + 0.2 * f.span)
        front = 0.0 if not has_loader(o) else front
    if o.form in ("scissor", "vehicle", "wheeled", "tracked", "roller", "mower"):
        front = 0.0
    cab_half = half * 0.8 if o.form == "roller" else min(max(half, 0.62 * wide), 34.0)
    cab = (f.u(0.5), f.u(1.0)) if o.form in ("tractor", "backhoe", "dozer") else (f.u(0.2), f.u(0.82))
    parts = [shape((front, -half * 0.9), (front, half * 0.9), (front + 3, half), (rear, half), (rear, -half),
        (front + 3, -half),
                   pen="cargo", round_in=3, role="body")]  # fmt: skip
    if o.form == "scissor":
        parts.append(box(2.5, -half + 2.5, rear - 2.5, half - 2.5, pen="cargo-part"))
        return tuple(parts)
    parts.append(box(cab[0], -cab_half, min(cab[1], rear), cab_half, pen="cargo-part", round_in=3, role="cab"))
    if narrow and o.length_in - rear > 8:
        if o.form == "tractor":
            parts.append(box(rear + 4, -0.7 * wide, o.length_in, 0.7 * wide, pen="cargo", role="implement"))
        else:
            parts.append(limb([(rear - 2, 0), (o.length_in, 0)], [9, 6], pen="cargo"))
    if o.form == "forklift":
        mast = max(f.c1 - 12, 6)
        parts += [box(0, s * 0.5 * wide - 2, mast, s * 0.5 * wide + 2, pen="cargo") for s in (-1, 1)]
        parts.append(box(mast, -0.8 * wide, mast + 4, 0.8 * wide, pen="cargo"))
    elif o.form == "telehandler":
        mast = max(min(f.c1 - 16, 0.3 * o.length_in), 6)
        parts += [box(0, s * 0.42 * wide - 2, mast, s * 0.42 * wide + 2, pen="cargo") for s in (-1, 1)]
        parts.append(box(mast, -0.7 * wide, mast + 3, 0.7 * wide, pen="cargo"))
        parts.append(box(mast + 3, 2, rear - 4, 14, pen="cargo"))
    elif o.form == "boom-lift":
        basket = max(0.14 * o.length_in, 14)
        parts.append(limb([(rear - 8, 0), (basket, 0)], [8, 6], pen="cargo"))
        parts.append(box(0, -0.5 * wide, basket, 0.5 * wide, pen="cargo-part"))
    elif o.form in _LOADERS or (o.form == "tractor" and has_loader(o)):
        mouth = max(min(f.c1 * 0.62, 0.42 * o.height_in), 6.0)
        parts += [limb([(f.u(0.6), s * cab_half), (mouth, s * cab_half * 0.86)], [4, 4], pen="cargo") for s in (-1, 1)]
        parts.append(box(0, -wide, mouth, wide, pen="cargo", round_in=1.5, role="bucket"))
    elif o.form == "dozer":
        parts.append(box(2, -wide, 8, wide, pen="cargo", role="blade"))
    return tuple(parts)


def _excavator(o: CargoOutline) -> Figure:
    f = frame_of(o)
    over_rear = f.long - f.c2 > f.c1
    if over_rear:
        f = Frame(f.long, f.high, f.long - f.c2, f.long - f.c1)
    wide = o.width_in / 2
    ht = track_height(f)
    free = f.long - f.c2 - ht / 2
    blade = "blade" in o.title.lower() and free > 4
    front, rear = f.u(0.06), f.c2 + ht / 2 + 0.3 * free if blade else f.long
    house = shape((front, -wide * 0.9), (front, wide * 0.9), (rear - 8, wide * 0.92), (rear, wide * 0.5),
        (rear, -wide * 0.5), (rear - 8, -wide * 0.92),
                  pen="cargo", round_in=6, role="house")  # fmt: skip
    cab = box(
        front + 2, -wide * 0.88, front + 0.55 * (rear - front), -wide * 0.16, pen="cargo-part", round_in=3, role="cab"
    )
    thick = max(wide * 0.22, 4)
    boom = limb([(front + 4, 0), (0.05 * front, 0)], [thick * 1.3, thick], pen="cargo")
    spoon = box(0.12 * front, -wide * 0.34, 0.12 * front + 14, wide * 0.34, pen="cargo", round_in=1.5, role="bucket")
    push = (box(f.long - 3, -wide, f.long, wide, pen="cargo", role="blade"),) if blade else ()
    figure = (*push, house, cab, spoon, boom, Disc(f.u(0.5), 0, 1.2, "cargo-solid"))
    return turned_round(figure, f.long) if over_rear else figure


def _crate(o: CargoOutline) -> Figure:
    half = o.width_in / 2
    return (
        box(0, -half, o.length_in, half, pen="cargo", role="body"),
        line((0, -half), (o.length_in, half), pen="cargo-line"),
        line((0, half), (o.length_in, -half), pen="cargo-line"),
    )


def _pieces(o: CargoOutline) -> Figure:
    long, wide, _ = o.piece_in if o.piece_in[0] else (o.length_in, o.width_in, o.height_in)
    out: list = []
    for row in range(o.rows):
        for n in range(o.abreast):
            u, y = row * long, (n - o.abreast / 2) * wide
            out.append(box(u + 0.4, y + 0.4, u + long - 0.4, y + wide - 0.4, pen="cargo", round_in=2, role="piece"))
            if o.form == "round-bales":
                out += [
                    line((u + long * s, y + 0.4), (u + long * s, y + wide - 0.4), pen="cargo-line")
                    for s in (0.25, 0.5, 0.75)
                ]
            else:
                out += [
                    line((u + long * s, y + 0.4), (u + long * s, y + wide - 0.4), pen="cargo-line") for s in (0.3, 0.7)
                ]
    return tuple(out)
