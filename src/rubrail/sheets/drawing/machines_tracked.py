"""Silhouettes of tracked machines and loaders, each from its own length, height and contact."""

from __future__ import annotations

from rubrail.sheets.drawing.cargo_outline import CargoOutline
from rubrail.sheets.drawing.figure import Disc, Figure, box, limb, line, shape, turned_round
from rubrail.sheets.drawing.machine_parts import Frame, bucket, equal_radius, frame_of, track, track_height, wheel


def excavator(o: CargoOutline) -> Figure:
    """Boom folded over the longer overhang, bucket resting; house over the tracks; blade at the other end."""
    f = frame_of(o)
    over_rear = f.long - f.c2 > f.c1
    if over_rear:
        f = Frame(f.long, f.high, f.long - f.c2, f.long - f.c1)
    figure = _excavator(f, blade="blade" in o.title.lower(), guessed=o.rests_on("contacts_in"))
    return turned_round(figure, f.long) if over_rear else figure


def _excavator(f: Frame, *, blade: bool, guessed: bool) -> Figure:
    """Boom toward ``u = 0``."""
    ht = track_height(f)
    z0 = ht + 2
    front, rear = f.u(0.06), f.long
    free = f.long - f.c2 - ht / 2
    if blade and free > 4:
        rear = f.c2 + ht / 2 + 0.3 * free
    hl = rear - front
    hood = z0 + 0.42 * (f.high - z0)
    house = shape(
        (front, z0), (front, hood), (rear - 5, hood), (rear, hood - 0.3 * (hood - z0)), (rear, z0 + 2), (rear - 4, z0),
        pen="cargo", round_in=3, role="house",
    )  # fmt: skip
    cab_a, cab_b = front + 0.10 * hl, front + 0.56 * hl
    cab = shape((cab_a, z0), (cab_a + 0.05 * hl, f.high), (cab_b, f.high), (cab_b, z0), pen="cargo", round_in=3)
    glass = shape(
        (cab_a + 3, hood - 0.2 * (hood - z0)), (cab_a + 0.05 * hl + 2.5, f.high - 3.5), (cab_b - 3, f.high - 3.5),
        (cab_b - 3, hood - 0.2 * (hood - z0)), pen="cargo-part", round_in=2,
    )  # fmt: skip
    vents = tuple(line((rear - x, z0 + 5), (rear - x, hood - 4), pen="cargo-line") for x in (8, 11, 14))
    turntable = box(f.u(0.3), ht - 0.5, f.u(0.7), z0, pen="cargo")
    push: Figure = ()
    if blade and free > 4:
        push = (
            line((f.c2, ht * 0.5), (f.long - 2, ht * 0.4), pen="cargo-open"),
            box(f.long - 2.5, 0.8, f.long, ht * 0.95, pen="cargo", role="blade"),
        )
    return (*push, *track(f, ht, dashed=guessed), turntable, house, *vents, cab, glass, *_folded_boom(f, front, z0))


def _folded_boom(f: Frame, front: float, z0: float) -> Figure:
    reach = max(front, 10.0)
    thick = min(0.11 * f.high, 0.2 * reach + 2)
    pivot = (front + 3, z0 + 0.14 * (f.high - z0))
    elbow = (front - 0.36 * reach, f.high * 0.86)
    tip = (front - 0.90 * reach, f.high * 0.62)
    wrist = (front - 0.72 * reach, f.high * 0.20)
    boom = limb([pivot, elbow, tip], [thick * 0.9, thick * 1.15, thick * 0.75], pen="cargo", round_in=2)
    arm = limb([(tip[0] - 0.03 * reach, tip[1] + 0.09 * f.high), tip, wrist], [thick * 0.6, thick * 0.9, thick * 0.55],
               pen="cargo", round_in=1.5)  # fmt: skip
    ram = line((front + 1, z0 + 0.30 * (f.high - z0)), (front - 0.30 * reach, f.high * 0.74), pen="cargo-open")
    u, s = wrist[0], 0.26 * f.high
    spoon = shape(
        (u - 0.15 * s, wrist[1] + 2), (u + 0.15 * s, wrist[1] + 2), (u + 0.75 * s, wrist[1] - 0.25 * s),
        (u + 0.6 * s, 0.6), (u + 0.05 * s, 0.6), (u - 0.25 * s, wrist[1] - 0.5 * s),
        pen="cargo", round_in=2, role="bucket",
    )  # fmt: skip
    pins = tuple(Disc(*p, min(1.3, thick * 0.2), "cargo-part") for p in (pivot, tip, wrist))
    return (spoon, arm, ram, boom, *pins)


def skid_steer(o: CargoOutline) -> Figure:
    """Loader with lift arms beside the cab, on wheels or tracks."""
    f = frame_of(o)
    guessed = o.rests_on("contacts_in")
    on_tracks = o.stands_on == "tracks"
    ht = track_height(f)
    r = equal_radius(f, 0.19)
    base = (ht * 0.75) if on_tracks else r * 0.9
    rear = f.long
    body = shape(
        (f.u(-0.06), base), (f.u(-0.1), f.v(0.34)), (f.u(0.12), f.v(0.42)), (f.u(0.7), f.v(0.6)), (rear - 2, f.v(0.6)),
        (rear, f.v(0.5)), (rear, base + 2), (rear - 3, base),
        pen="cargo", round_in=2.5, role="body",
    )  # fmt: skip
    cab = shape(
        (f.u(0.02), f.v(0.38)),
        (f.u(0.1), f.high),
        (f.u(0.86), f.high),
        (f.u(0.9), f.v(0.5)),
        pen="cargo",
        round_in=2.5,
    )
    glass = shape(
        (f.u(0.16), f.v(0.52)), (f.u(0.2), f.v(0.93)), (f.u(0.74), f.v(0.93)), (f.u(0.76), f.v(0.58)),
        pen="cargo-part",
        round_in=2,
    )  # fmt: skip
    pivot = (min(rear - 5, f.u(1.16)), f.v(0.74))
    knee = (f.u(-0.14), f.v(0.50))
    mouth = max(min(f.c1 * 0.62, 0.42 * f.high), 6.0)
    pin = (mouth + 1, f.v(0.15))
    post = limb([(f.u(1.0), f.v(0.5)), pivot], [6, 5], pen="cargo")
    arm = limb([pivot, knee, pin], [6.5, 7, 5], pen="cargo", round_in=2)
    spoon = bucket(0, mouth, f.v(0.24))
    ground = (
        track(f, ht, dashed=guessed)
        if on_tracks
        else (*wheel(f.c1, r, dashed=guessed), *wheel(f.c2, r, dashed=guessed))
    )
    return (
        body,
        cab,
        glass,
        *ground,
        post,
        spoon,
        arm,
        Disc(*pivot, 1.3, "cargo-part"),
        Disc(*pin, 1.2, "cargo-part"),
    )


def stand_on(o: CargoOutline) -> Figure:
    """Small loader ridden from a platform behind."""
    f = frame_of(o)
    ht = track_height(f)
    body = shape(
        (f.u(-0.1), ht * 0.7), (f.u(-0.05), f.v(0.7)), (f.u(0.75), f.v(0.82)), (f.u(1.1), f.v(0.7)), (f.u(1.1),
        ht * 0.7),
        pen="cargo", round_in=2.5, role="body",
    )  # fmt: skip
    tower = line((f.u(0.95), f.v(0.75)), (f.u(1.12), f.high), (f.u(0.8), f.high), pen="cargo-open")
    step = box(f.u(1.12), ht * 0.35, f.long, ht * 0.35 + 2, pen="cargo")
    mouth = max(min(f.c1 * 0.6, 0.45 * f.high), 6.0)
    arm = limb(
        [(f.u(0.8), f.v(0.78)), (f.u(-0.15), f.v(0.6)), (mouth + 1, f.v(0.2))], [4.5, 5, 4], pen="cargo", round_in=1.5
    )
    return (body, tower, step, *track(f, ht, dashed=o.rests_on("contacts_in")), bucket(0, mouth, f.v(0.28)), arm)


def dozer(o: CargoOutline) -> Figure:
    """Crawler with a blade ahead."""
    f = frame_of(o)
    ht = max(min(0.36 * f.span, 0.36 * f.high), 8)
    body = shape(
        (f.u(-0.04), ht * 0.8), (f.u(-0.04), f.v(0.60)), (f.u(0.5), f.v(0.66)), (f.u(0.5), ht * 0.8),
        pen="cargo", round_in=2, role="body",
    )  # fmt: skip
    cab = shape(
        (f.u(0.46), ht * 0.8),
        (f.u(0.5), f.high),
        (f.u(0.98), f.high),
        (f.u(1.02), ht * 0.8),
        pen="cargo",
        round_in=2.5,
    )
    glass = shape(
        (f.u(0.54), f.v(0.62)),
        (f.u(0.57), f.v(0.93)),
        (f.u(0.91), f.v(0.93)),
        (f.u(0.94), f.v(0.62)),
        pen="cargo-part",
        round_in=2,
    )
    stack = box(f.u(0.24), f.v(0.64), f.u(0.24) + 3, f.v(0.84), pen="cargo")
    blade_u = max(f.c1 - ht / 2 - 6, 4)
    blade = shape((0, 0.6), (blade_u * 0.55, f.v(0.2)), (1, f.v(0.42)), (blade_u * 0.6, f.v(0.42)), (blade_u,
        f.v(0.2)), (blade_u * 0.7, 0.6),
                  pen="cargo", round_in=1.5, role="blade")  # fmt: skip
    push = limb([(f.u(0.35), ht * 0.5), (blade_u * 0.8, ht * 0.35)], [4, 4], pen="cargo")
    tail: Figure = ()
    if f.long - f.c2 - ht / 2 > 14:
        tail = (limb([(f.c2 + ht / 2 - 2, ht), (f.long - 3, ht * 1.1), (f.long - 2, 3)], [4, 4, 2.5], pen="cargo"),)
    return (*tail, body, stack, cab, glass, *track(f, ht, dashed=o.rests_on("contacts_in")), push, blade)


def dumper(o: CargoOutline) -> Figure:
    """Tracked dumper: tub ahead, engine and stand behind."""
    f = frame_of(o)
    ht = track_height(f)
    tub = shape(
        (f.u(-0.05), ht + 3),
        (2, f.v(0.5)),
        (0, f.v(0.82)),
        (f.u(0.62), f.v(0.82)),
        (f.u(0.66), ht + 3),
        pen="cargo",
        round_in=2,
        role="body",
    )
    engine = box(f.u(0.7), ht, min(f.u(1.2), f.long - 4), f.v(0.72), pen="cargo", round_in=2)
    handle = line((f.u(1.0), f.v(0.72)), (f.long - 2, f.high - 0.8), (f.long - 8, f.high - 0.8), pen="cargo-open")
    step = box(f.u(1.1), ht * 0.4, f.long, ht * 0.4 + 2, pen="cargo")
    return (step, engine, handle, tub, *track(f, ht, dashed=o.rests_on("contacts_in")))


def tracked(o: CargoOutline) -> Figure:
    """Any other machine on tracks: a plain body the size it says."""
    f = frame_of(o)
    ht = track_height(f)
    body = shape(
        (2, ht * 0.9), (0, ht * 1.3), (0, f.v(0.6)), (0.12 * f.long, f.v(0.75)), (0.5 * f.long, f.v(0.75)),
        (0.53 * f.long, f.high),
        (0.86 * f.long, f.high), (0.9 * f.long, f.v(0.72)), (f.long, f.v(0.68)), (f.long, ht * 0.9),
        pen="cargo", round_in=3, role="body",
    )  # fmt: skip
    return (body, *track(f, ht, dashed=o.rests_on("contacts_in")))
