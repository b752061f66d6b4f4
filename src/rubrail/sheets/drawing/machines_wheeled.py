"""Silhouettes of machines on wheels and drums, each from its own length, height and axles."""

from __future__ import annotations

from rubrail.sheets.drawing.cargo_outline import CargoOutline
from rubrail.sheets.drawing.figure import Disc, Figure, box, limb, line, shape
from rubrail.sheets.drawing.machine_parts import (
    bucket,
    equal_radius,
    frame_of,
    track,
    track_height,
    wheel,
)


def wheel_loader(o: CargoOutline) -> Figure:
    """Articulated loader on four equal wheels."""
    f = frame_of(o)
    r = equal_radius(f, 0.24)
    guessed = o.rests_on("contacts_in")
    rear = shape(
        (f.u(0.42), r * 0.9), (f.u(0.42), f.v(0.56)), (f.long - 3, f.v(0.54)), (f.long, f.v(0.46)), (f.long, r * 0.9),
        pen="cargo", round_in=2.5, role="body",
    )  # fmt: skip
    front = shape(
        (f.u(-0.08), r), (f.u(0.04), f.v(0.54)), (f.u(0.36), f.v(0.5)), (f.u(0.4), r * 0.9), pen="cargo", round_in=2
    )
    cab = shape(
        (f.u(0.4), f.v(0.45)),
        (f.u(0.44), f.high),
        (f.u(0.84), f.high),
        (f.u(0.9), f.v(0.5)),
        pen="cargo",
        round_in=2.5,
    )
    glass = shape(
        (f.u(0.46), f.v(0.58)),
        (f.u(0.49), f.v(0.94)),
        (f.u(0.79), f.v(0.94)),
        (f.u(0.83), f.v(0.58)),
        pen="cargo-part",
        round_in=2,
    )
    mouth = max(min(f.c1 - r * 0.7, 0.4 * f.high), 8)
    arm = limb(
        [(f.u(0.2), f.v(0.52)), (f.u(-0.2), f.v(0.46)), (mouth, f.v(0.13))], [6, 6.5, 5], pen="cargo", round_in=2
    )
    return (
        front,
        rear,
        cab,
        glass,
        *wheel(f.c1, r, dashed=guessed),
        *wheel(f.c2, r, dashed=guessed),
        bucket(0, mouth, f.v(0.28)),
        arm,
    )


def telehandler(o: CargoOutline) -> Figure:
    """Telescopic boom from low ahead to high behind."""
    f = frame_of(o)
    r = equal_radius(f, 0.22)
    guessed = o.rests_on("contacts_in")
    chassis = shape(
        (f.u(-0.16), r), (f.u(-0.12), f.v(0.40)), (f.u(0.9), f.v(0.46)), (f.long - 2, f.v(0.48)), (f.long,
        r * 0.95), (f.u(0.1), r * 0.8),
        pen="cargo", round_in=2.5, role="body",
    )  # fmt: skip
    cab = shape(
        (f.u(0.22), f.v(0.36)),
        (f.u(0.30), f.high),
        (f.u(0.62), f.high),
        (f.u(0.68), f.v(0.4)),
        pen="cargo",
        round_in=3,
    )
    glass = shape(
        (f.u(0.29), f.v(0.56)),
        (f.u(0.34), f.v(0.94)),
        (f.u(0.58), f.v(0.94)),
        (f.u(0.61), f.v(0.56)),
        pen="cargo-part",
        round_in=2,
    )
    mast = max(min(f.c1 - r - 2, 0.3 * f.long), 6)
    boom = limb(
        [(f.long - 7, f.v(0.78)), (f.u(0.0), f.v(0.46)), (mast + 4, f.v(0.30))], [8.5, 7.5, 6], pen="cargo", round_in=2
    )
    post = limb([(f.long - 9, f.v(0.46)), (f.long - 6, f.v(0.8))], [8, 6], pen="cargo")
    carriage = box(mast, 1, mast + 3, f.v(0.38), pen="cargo")
    fork = box(0, 0.8, mast, 2.8, pen="cargo-solid")
    return (
        chassis,
        post,
        cab,
        glass,
        *wheel(f.c1, r, dashed=guessed),
        *wheel(f.c2, r, dashed=guessed),
        boom,
        fork,
        carriage,
    )


def forklift(o: CargoOutline) -> Figure:
    """Mast ahead, forks to the front, counterweight behind."""
    f = frame_of(o)
    r1 = max(min(f.v(0.15), f.span / 2 - 2, f.c1 + 1), 3)
    r2 = r1 * 0.82
    guessed = o.rests_on("contacts_in")
    mast = max(f.c1 - r1 - 6, 6)
    body = shape(
        (f.c1 - 2, r1 * 0.8), (f.c1 - 2, f.v(0.36)), (f.u(0.35), f.v(0.36)), (f.u(0.5), f.v(0.48)),
        (f.long - 4, f.v(0.48)),
        (f.long, f.v(0.36)), (f.long, r2), (f.long - 5, r2 * 0.7), pen="cargo", round_in=2.5, role="body",
    )  # fmt: skip
    guard = line(
        (f.c1 + 2, f.v(0.36)),
        (f.c1 + 6, f.v(0.97)),
        (f.long - 9, f.v(0.97)),
        (f.long - 5, f.v(0.48)),
        pen="cargo-open",
        round_in=3,
    )
    seat = line((f.u(0.55), f.v(0.62)), (f.u(0.52), f.v(0.52)), (f.u(0.3), f.v(0.5)), pen="cargo-open")
    channel = box(mast, 1.5, mast + 5, f.high, pen="cargo", role="mast")
    inner = line((mast + 2.5, 3), (mast + 2.5, f.high - 2), pen="cargo-line")
    fork = shape((0, 1), (mast - 2, 3), (mast - 2, f.v(0.26)), (mast, f.v(0.26)), (mast, 1), pen="cargo-solid")
    return (
        guard,
        seat,
        body,
        *wheel(f.c1, r1, dashed=guessed),
        *wheel(f.c2, r2, dashed=guessed),
        channel,
        inner,
        fork,
    )


def scissor(o: CargoOutline) -> Figure:
    """Scissor lift, lowered."""
    f = frame_of(o)
    rough = f.high > 84 and f.long > 100
    r = equal_radius(f, 0.15 if rough else 0.075)
    guessed = o.rests_on("contacts_in")
    low, chassis_top = r * 0.7, max(r * 1.5, f.v(0.17))
    floor = max(chassis_top + 0.2 * f.high, f.v(0.46))
    chassis = box(1.5, low, f.long - 1.5, chassis_top, pen="cargo", round_in=1.5, role="body")
    levels = 3
    step = (floor - chassis_top - 1) / levels
    a, b = 0.12 * f.long, 0.88 * f.long
    stack = []
    for i in range(levels):
        z = chassis_top + step * i
        stack += [line((a, z), (b, z + step), pen="cargo-open"), line((a, z + step), (b, z), pen="cargo-open")]
    platform = box(0, floor, f.long, floor + max(2.5, f.v(0.04)), pen="cargo")
    posts = [line((u * f.long, floor), (u * f.long, f.high), pen="cargo-line") for u in (0.02, 0.25, 0.5, 0.75, 0.98)]
    rails = [
        line((0.02 * f.long, z), (0.98 * f.long, z), pen="cargo-open")
        for z in (f.high - 0.6, floor + 0.55 * (f.high - floor))
    ]
    return (
        *stack,
        chassis,
        *posts,
        *rails,
        platform,
        *wheel(f.c1, r, dashed=guessed),
        *wheel(f.c2, r, dashed=guessed),
    )


def boom_lift(o: CargoOutline) -> Figure:
    """Boom lift, boom along its back and basket ahead."""
    f = frame_of(o)
    r = equal_radius(f, 0.2)
    guessed = o.rests_on("contacts_in")
    chassis = box(f.u(-0.12), r * 0.7, f.u(1.12), r * 1.7, pen="cargo", round_in=2, role="body")
    turret = shape(
        (f.u(0.3), r * 1.7),
        (f.u(0.3), f.v(0.62)),
        (f.long - 3, f.v(0.66)),
        (f.long, f.v(0.5)),
        (f.u(1.1), r * 1.75),
        pen="cargo",
        round_in=3,
    )
    boom = limb(
        [(f.long - 8, f.v(0.80)), (f.u(0.1), f.v(0.78)), (max(0.16 * f.long, 20), f.v(0.62))],
        [7, 6, 5],
        pen="cargo",
        round_in=2,
    )
    post = limb([(f.long - 14, f.v(0.58)), (f.long - 8, f.v(0.80))], [10, 7], pen="cargo")
    wide = max(0.14 * f.long, 14)
    floor = f.v(0.34)
    hang = limb([(max(0.16 * f.long, 20), f.v(0.62)), (wide - 1, f.v(0.56))], [4, 3], pen="cargo")
    basket = (
        box(0, floor, wide, floor + 2, pen="cargo"),
        *(line((u, floor), (u, f.high), pen="cargo-open") for u in (0.8, wide - 0.8)),
        *(line((0.8, z), (wide - 0.8, z), pen="cargo-open") for z in (f.high - 0.6, (floor + f.high) / 2)),
    )
    return (
        turret,
        chassis,
        *wheel(f.c1, r, dashed=guessed),
        *wheel(f.c2, r, dashed=guessed),
        post,
        boom,
        hang,
        *basket,
    )


def roller(o: CargoOutline) -> Figure:
    """Tandem roller on its drums."""
    f = frame_of(o)
    r = max(min(f.v(0.26), f.span * 0.42, f.c1, f.long - f.c2), 4.0)
    guessed = o.rests_on("contacts_in")
    drums = tuple(
        p
        for u in (f.c1, f.c2)
        for p in (
            Disc(u, r, r, "cargo-wheel", dashed=guessed, role="cargo-wheel"),
            Disc(u, r, r * 0.86, "cargo-part"),
            Disc(u, r, r * 0.24, "cargo"),
        )
    )
    yokes = tuple(limb([(u, r), (u, 2 * r + 3)], [r * 0.5, r * 0.7], pen="cargo") for u in (f.c1, f.c2))
    body = shape(
        (max(f.c1 - r * 0.5, 0), 2 * r + 1.5), (max(f.c1 - r * 0.45, 1), f.v(0.64)), (f.u(0.4), f.v(0.66)),
        (f.u(0.45), f.v(0.56)),
        (min(f.c2 + r * 0.5, f.long), f.v(0.56)), (min(f.c2 + r * 0.5, f.long), 2 * r + 1.5), pen="cargo",
        round_in=2.5, role="body",
    )  # fmt: skip
    middle = box(f.u(0.36), r * 0.9, f.u(0.64), 2 * r + 2.5, pen="cargo")
    bow = line((f.u(0.62), f.v(0.56)), (f.u(0.66), f.high - 2), pen="cargo-open")
    roof = box(f.u(0.2), f.high - 3, f.u(0.95), f.high, pen="cargo", round_in=1.2)
    second = line((f.u(0.9), f.v(0.56)), (f.u(0.86), f.high - 2), pen="cargo-open")
    return (middle, *drums, *yokes, body, bow, second, roof)


def trencher(o: CargoOutline) -> Figure:
    """Ride-on trencher, boom raised behind and blade ahead."""
    f = frame_of(o)
    r = equal_radius(f, 0.2)
    guessed = o.rests_on("contacts_in")
    body = shape(
        (f.u(-0.1), r),
        (f.u(-0.1), f.v(0.5)),
        (f.u(0.55), f.v(0.54)),
        (f.u(1.1), f.v(0.46)),
        (f.u(1.12), r),
        pen="cargo",
        round_in=3,
        role="body",
    )
    bow = line(
        (f.u(0.5), f.v(0.5)),
        (f.u(0.54), f.high - 1),
        (f.u(0.95), f.high - 1),
        (f.u(0.98), f.v(0.48)),
        pen="cargo-open",
        round_in=2,
    )
    boom = limb([(f.u(1.0), f.v(0.30)), (f.long - 4, f.v(0.62))], [9, 7], pen="cargo")
    blade = limb([(4, 2), (1.5, f.v(0.24))], [2.5, 2.5], pen="cargo")
    push = limb([(f.u(0.0), r), (4, f.v(0.12))], [3, 3], pen="cargo")
    if o.stands_on == "tracks":
        ground = track(f, track_height(f), dashed=guessed)
    else:
        ground = (*wheel(f.c1, r, dashed=guessed), *wheel(f.c2, r, dashed=guessed))
    return (push, blade, boom, body, bow, *ground)


def vehicle(o: CargoOutline) -> Figure:
    """A road or yard vehicle."""
    f = frame_of(o)
    r = equal_radius(f, 0.2)
    guessed = o.rests_on("contacts_in")
    body = shape(
        (0, r * 0.8), (1, f.v(0.44)), (0.05 * f.long, f.v(0.54)), (0.26 * f.long, f.v(0.60)), (0.40 * f.long,
        f.high), (0.68 * f.long, f.high),
        (0.78 * f.long, f.v(0.62)), (f.long - 2, f.v(0.58)), (f.long, r * 0.8), pen="cargo", round_in=4, role="body",
    )  # fmt: skip
    glass = shape(
        (0.34 * f.long, f.v(0.64)),
        (0.43 * f.long, f.v(0.92)),
        (0.65 * f.long, f.v(0.92)),
        (0.72 * f.long, f.v(0.64)),
        pen="cargo-part",
        round_in=2,
    )
    return (body, glass, *wheel(f.c1, r, dashed=guessed), *wheel(f.c2, r, dashed=guessed))


def wheeled(o: CargoOutline) -> Figure:
    """Any other machine on wheels: a plain body the size it says."""
    f = frame_of(o)
    r = equal_radius(f, 0.2)
    guessed = o.rests_on("contacts_in")
    body = shape(
        (0, r * 0.9), (0, f.v(0.5)), (0.14 * f.long, f.v(0.62)), (0.5 * f.long, f.v(0.62)), (0.53 * f.long,
        f.high), (0.84 * f.long, f.high),
        (0.88 * f.long, f.v(0.6)), (f.long, f.v(0.56)), (f.long, r * 0.9), pen="cargo", round_in=3, role="body",
    )  # fmt: skip
    wheels = tuple(p for u in o.contacts_in for p in wheel(u, r, dashed=guessed))
    return (body, *wheels)
