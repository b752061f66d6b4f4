"""Silhouettes of tractors, backhoe-loaders and mowers: small wheels ahead, large behind."""

from __future__ import annotations

from rubrail.sheets.drawing.cargo_outline import CargoOutline
from rubrail.sheets.drawing.figure import Disc, Figure, arc, box, limb, line, shape
from rubrail.sheets.drawing.machine_parts import Frame, bucket, frame_of, has_loader, wheel


def _tractor_wheels(f: Frame, high: float) -> tuple[float, float]:
    rear = max(min(0.29 * high, f.span * 0.42, max(f.long - f.c2, 5.0) + 2), 6.0)
    front = max(min(0.185 * high, f.span - rear - 4, f.c1 + 2), 4.0)
    return front, rear


_HOE_FOLDED = 105.0
"""A hoe reaching farther than this behind the rear axle is let down; folded up it stays nearer, inches."""


def tractor(o: CargoOutline, *, cab_share: float = 1.0, implement: bool = True) -> Figure:
    """Farm or utility tractor; a loader ahead and an implement behind where its length has room for them."""
    f = frame_of(o)
    guessed = o.rests_on("contacts_in")
    high = f.high * cab_share
    r1, r2 = _tractor_wheels(f, high)
    nose = max(f.c1 - 0.24 * f.span, 0.0) if has_loader(o) else 0.0
    hood_low, hood_high = max(r1 * 1.15, 0.26 * high), 0.56 * high
    back = f.c2 + min(r2 * 0.55, f.long - f.c2)
    hood = shape(
        (nose, hood_low + 2), (nose + 1, hood_high - 5), (nose + 6, hood_high - 1), (f.u(0.55), hood_high),
        (f.u(0.55), hood_low),
        (nose + 4, hood_low), pen="cargo", round_in=3, role="hood",
    )  # fmt: skip
    belly = box(f.u(0.4), r1 * 0.95, f.c2 + 4, hood_low + 4, pen="cargo")
    cab = shape(
        (f.u(0.54), hood_low), (f.u(0.58), high - 3), (back, high - 3), (back - 2, hood_low), pen="cargo", round_in=2
    )
    glass = shape(
        (f.u(0.6), hood_high - 4), (f.u(0.63), high - 6), (back - 3, high - 6), (back - 4, hood_high - 4),
        pen="cargo-part",
        round_in=2,
    )  # fmt: skip
    roof = box(f.u(0.54), high - 4, back + 4, high, pen="cargo", round_in=1.5)
    stack = box(f.u(0.24), hood_high - 1, f.u(0.24) + 2.6, hood_high + 0.2 * high, pen="cargo")
    fender = limb(arc(f.c2, r2, r2 + 2.2, 70, 165), [2.4] * 11, pen="cargo")
    out: list = [stack, belly, hood, cab, glass, roof]
    if implement and f.long - f.c2 - r2 > 14:
        u = f.c2 + r2 + 3
        out += [
            line((f.c2, r2 * 0.9), (u + 2, r2 * 0.5), pen="cargo-open"),
            shape(
                (u, 4), (u, r2 * 0.75), (f.long - 3, r2 * 0.55), (f.long, 4), pen="cargo", round_in=2, role="implement"
            ),
        ]
    out += [*wheel(f.c1, r1, dashed=guessed), *wheel(f.c2, r2, dashed=guessed), fender]
    if has_loader(o):
        mouth = max(min(f.c1 - r1 - 4, 0.3 * high), 8)
        post = limb([(f.u(0.34), hood_low - 2), (f.u(0.38), hood_high + 3)], [4, 4], pen="cargo")
        arm = limb([(f.u(0.38), hood_high + 2), (max(nose - 4, mouth + 5), hood_low + 5), (mouth,
            0.12 * high)], [4, 4.6, 3.6],
                   pen="cargo", round_in=2)  # fmt: skip
        out += [post, bucket(0, mouth, 0.25 * high), arm]
    return tuple(out)


def backhoe(o: CargoOutline) -> Figure:
    """Loader ahead, hoe behind: folded up and then the highest point, or let down and then the rearmost."""
    f = frame_of(o)
    let_down = f.long - f.c2 > _HOE_FOLDED
    share = 1.0 if let_down else 0.82
    body = tractor(o, cab_share=share, implement=False)
    r2 = _tractor_wheels(f, f.high * share)[1]
    start = min(f.c2 + r2 * 0.8, f.long - 12)
    room = f.long - start
    foot = (start + 0.12 * room, f.v(0.26))
    if let_down:
        top, tip, low = (
            (start + 0.50 * room, f.v(0.74)),
            (start + 0.90 * room, f.v(0.44)),
            (start + 0.80 * room, f.v(0.17)),
        )
    else:
        top, tip, low = (
            (start + 0.42 * room, f.v(0.95)),
            (start + 0.84 * room, f.v(0.60)),
            (start + 0.76 * room, f.v(0.26)),
        )
    boom = limb([foot, top], [8, 5.5], pen="cargo")
    arm = limb([(top[0] - 3, top[1] + 3), tip, low], [5, 6, 4], pen="cargo", round_in=2)
    u, v = low
    deep = min(14.0, v - 0.6)
    spoon = shape((u - 4, v + 3), (u + 5, v + 2), (u + 7, v - deep * 0.5), (u - 1, v - deep), (u - 8,
        v - deep * 0.6), pen="cargo",
                  round_in=2, role="bucket")  # fmt: skip
    leg = limb([(start, f.v(0.25)), (start + 4, f.v(0.08))], [5, 5], pen="cargo")
    return (*body, leg, spoon, arm, boom, Disc(*foot, 1.5, "cargo-part"), Disc(*top, 1.4, "cargo-part"))


def mower(o: CargoOutline) -> Figure:
    """A mower or sprayer: small wheels ahead, large behind, seat between."""
    f = frame_of(o)
    r2 = max(min(f.v(0.27), f.span * 0.4, f.long - f.c2 + 2), 4)
    r1 = max(min(f.v(0.17), f.span - r2 - 3, f.c1 + 1), 3)
    guessed = o.rests_on("contacts_in")
    body = shape(
        (0, r1 * 0.8), (2, f.v(0.34)), (f.u(0.4), f.v(0.36)), (f.u(0.62), f.v(0.5)), (f.long - 2, f.v(0.48)),
        (f.long, r2 * 0.9), pen="cargo",
        round_in=3, role="body",
    )  # fmt: skip
    bow = line(
        (f.u(0.86), f.v(0.48)),
        (f.u(0.84), f.high - 1),
        (f.u(1.0), f.high - 1),
        (f.u(1.02), f.v(0.48)),
        pen="cargo-open",
        round_in=1.5,
    )
    seat = line((f.u(0.78), f.v(0.72)), (f.u(0.74), f.v(0.54)), (f.u(0.52), f.v(0.52)), pen="cargo-open")
    return (bow, seat, body, *wheel(f.c1, r1, dashed=guessed), *wheel(f.c2, r2, dashed=guessed))
