"""The truck from its left side and from above: a plain outline around the numbers that matter.

Wheelbase, overhang, hitch, rail and cab are to scale; the form between them is generic.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from rubrail.sheets.drawing.figure import Disc, Figure, Line, Point, arc, box, line, shape, stroked
from rubrail.sheets.drawing.tires import tire_size

if TYPE_CHECKING:
    from rubrail.things.truck import Truck

_BED_BELOW_RAIL = 20.0
_RECEIVER_BEHIND_BODY = 6.0
_BODY_HALF = 40.0
"""Half width of the cab where dual wheels make the fenders the widest part; drawing only."""


@dataclass(frozen=True)
class TruckOutline:
    """A truck's shape in inches; ``x`` rearward of its front axle.

    body
        ``pickup`` with a bed and rails, ``flat`` for a chassis with a flat deck, ``dump`` for one with a dump box.
    """

    title: str
    body: str
    wheelbase_in: float
    front_overhang_in: float
    width_in: float
    height_in: float
    rail_in: float
    cab_rear_x_in: float
    rear_x_in: float
    tire_radius_in: float
    tire_width_in: float
    rear_axles: int
    dual: bool
    hitch_kind: str
    hitch_x_in: float
    hitch_height_in: float
    ball_size_in: float
    hitch_there: bool
    assumed: frozenset[str] = field(default_factory=frozenset)

    def rests_on(self, *names: str) -> bool:
        """Whether any of the named numbers was assumed."""
        return not self.assumed.isdisjoint(names)

    @property
    def front_x_in(self) -> float:
        """Front bumper."""
        return -self.front_overhang_in

    @property
    def rear_axles_x_in(self) -> tuple[float, ...]:
        """Rear axles; the wheelbase ends at the middle of a tandem."""
        if self.rear_axles == 1:
            return (self.wheelbase_in,)
        return (self.wheelbase_in - 26, self.wheelbase_in + 26)


_HITCH_HEIGHT = {"ball": 20.0, "pintle": 28.0, "gooseneck": 42.0, "kingpin": 48.0}
_HITCH_AHEAD = {"ball": -54.0, "pintle": -56.0, "gooseneck": 2.0, "kingpin": 2.0}


def truck_outline(truck: Truck, *, coupling: str) -> TruckOutline:
    """Settle a truck's shape for drawing.

    Parameters
    ----------
    truck : Truck
        As read from its file.
    coupling : str
        Kind of hitch used: ``ball``, ``gooseneck``, ``kingpin`` or ``pintle``.
    """
    assumed: set[str] = set()

    def settle(name: str, value: Any, default: float) -> float:
        if value is None:
            assumed.add(name)
            return default
        return float(value)

    size = truck.size
    hitch = next((h for h in truck.hitch if h.kind == coupling), None)
    body = _body(truck)
    wheelbase = settle("wheelbase_in", size.wheelbase_in, 170.0)
    ahead = settle("hitch_ahead_in", hitch.ahead_of_rear_axle_in if hitch else None, _HITCH_AHEAD[coupling])
    rail = settle("rail_in", size.bed_rail_height_in, 58.0 if body == "pickup" else 40.0)
    tire = tire_size(truck.tires.size)
    behind = min((_ahead(h) for h in truck.hitch if h.kind in ("ball", "pintle")), default=_HITCH_AHEAD["ball"])
    bed_end = settle(
        "rear_x_in", size.bed_end_behind_rear_axle_in, -behind - (_RECEIVER_BEHIND_BODY if body == "pickup" else 3.0)
    )
    hitch_to_cab = size.hitch_to_cab_in
    over_bed = next((h for h in truck.hitch if h.kind in ("gooseneck", "kingpin")), None)
    bed_point = _ahead(over_bed) if over_bed else 2.0
    cab = settle(
        "cab_rear_x_in",
        None if hitch_to_cab is None else wheelbase - bed_point - float(hitch_to_cab),
        wheelbase - 44.0 if body == "pickup" else min(wheelbase - 36.0, 106.0),
    )
    if coupling not in ("gooseneck", "kingpin"):
        # Only over the bed does the place of the cab's rear wall bear on anything; else it is form.
        assumed.discard("cab_rear_x_in")
    return TruckOutline(
        title=truck.title or truck.id,
        body=body,
        wheelbase_in=wheelbase,
        front_overhang_in=settle("front_overhang_in", size.front_overhang_in, 38.0),
        width_in=settle("width_in", size.width_in, 80.0 if body == "pickup" else 96.0),
        height_in=settle("height_in", size.height_in, 78.0 if body == "pickup" else 88.0),
        rail_in=rail,
        cab_rear_x_in=min(cab, wheelbase - 8),
        rear_x_in=wheelbase + bed_end,
        tire_radius_in=tire.loaded_radius_in if tire else (15.6 if body == "pickup" else 17.5),
        tire_width_in=tire.width_in if tire else 10.0,
        rear_axles=2 if truck.tires.rear_count == 8 else 1,
        dual=truck.tires.rear_count in (4, 8),
        hitch_kind=coupling,
        hitch_x_in=wheelbase - ahead,
        hitch_height_in=settle("hitch_height_in", hitch.height_in if hitch else None, _HITCH_HEIGHT[coupling]),
        ball_size_in=float((hitch and hitch.ball_size_in) or 2.3125),
        hitch_there=hitch is not None,
        assumed=frozenset(assumed | (set() if tire else {"tire"})),
    )


def _ahead(hitch: Any) -> float:
    return _HITCH_AHEAD[hitch.kind] if hitch.ahead_of_rear_axle_in is None else float(hitch.ahead_of_rear_axle_in)


def _body(truck: Truck) -> str:
    words = f"{truck.title or ''} {truck.model or ''}".lower()
    if "dump" in words:
        return "dump"
    if any(w in words for w in ("chassis", "flatbed", "flat bed", "flat deck", "medium", "tractor")):
        return "flat"
    rail = truck.size.bed_rail_height_in
    return "flat" if rail is not None and float(rail) < 48 else "pickup"


def truck_side(t: TruckOutline) -> Figure:
    """From the left, front to the left."""
    form = _pickup_side(t) if t.body == "pickup" else _flat_side(t)
    return (*form, *_wheels(t), *hitch_side(t))


def _front_end(t: TruckOutline, sill: float, back: float) -> tuple[list[Point], Figure]:
    """Silhouette of bumper, hood and cab, then its windows; the cab ends at ``back``."""
    x0, roof = t.front_x_in, t.height_in
    hood = min(0.68 * roof, roof - 20)
    cowl = x0 + min(0.30 * (back - x0) + 16, 62)
    top_front = cowl + (roof - hood) * 0.75
    points = [
        (x0, sill), (x0, sill + 10), (x0 + 3, hood - 8), (x0 + 6, hood - 3), (cowl, hood),
        (top_front, roof), (back - 4, roof), (back, hood),
    ]  # fmt: skip
    belt = hood + 1
    glass_top = roof - 3.5
    split = top_front + (back - top_front) * 0.52
    windows = (
        shape((cowl + 6, belt), (top_front + 3, glass_top), (split - 2, glass_top), (split - 2, belt),
        pen="glass", round_in=1.5),
        shape((split + 2, belt), (split + 2, glass_top), (back - 6, glass_top), (back - 5, belt), pen="glass",
        round_in=1.5),
    )  # fmt: skip
    doors = (
        line((cowl + 4, sill + 3), (cowl + 4, hood), pen="detail"),
        line((split, sill + 3), (split, belt), pen="detail"),
        line((back - 5, sill + 3), (back - 5, belt), pen="detail"),
        line((x0 + 1, sill + 10), (x0 + 9, sill + 10), (x0 + 9, hood - 7), pen="detail"),
    )
    return points, (*windows, *doors)


def _pickup_side(t: TruckOutline) -> Figure:
    sill = max(t.tire_radius_in * 1.15, 16)
    back, end, rail = t.cab_rear_x_in, t.rear_x_in, t.rail_in
    points, glazing = _front_end(t, sill, back)
    guessed = t.rests_on("wheelbase_in", "front_overhang_in", "height_in", "cab_rear_x_in")
    cab = shape(*points, (back, sill), pen="truck", round_in=3.0, dashed=guessed, role="cab")
    bed = shape(
        (back + 1.5, sill), (back + 1.5, rail), (end, rail), (end, sill + 8), (end - 3, sill + 2),
        pen="truck", round_in=1.0, dashed=t.rests_on("rail_in", "rear_x_in", "cab_rear_x_in"), role="bed",
    )  # fmt: skip
    bumper = box(end - 2, sill + 2, end + 4, sill + 9, pen="part", round_in=1.0)
    arches = tuple(_arch(x, t.tire_radius_in, sill) for x in (0.0, *t.rear_axles_x_in))
    return (bumper, bed, cab, *glazing, *arches)


def _flat_side(t: TruckOutline) -> Figure:
    sill = max(t.tire_radius_in * 1.2, 20)
    back, end = t.cab_rear_x_in, t.rear_x_in
    deck = t.rail_in if t.rail_in < 52 else 40.0
    points, glazing = _front_end(t, sill, back)
    cab = shape(*points, (back, sill), pen="truck", round_in=3.0, role="cab",
                dashed=t.rests_on("wheelbase_in", "front_overhang_in", "height_in", "cab_rear_x_in"))  # fmt: skip
    guessed = t.rests_on("rail_in", "rear_x_in")
    frame = box(back - 20, deck - 14, end, deck - 5, pen="part")
    platform = box(back + 3, deck - 5, end + 2, deck, pen="truck", dashed=guessed, role="bed")
    if t.body == "dump":
        top = deck + 42
        upper: Figure = (
            shape((back + 3, deck), (back + 3, top), (end + 4, top - 4), (end, deck), pen="truck", dashed=guessed),
            *(line((x, deck), (x, top - 3), pen="detail") for x in _between(back + 3, end, 4)),
            line((back + 3, top), (back - 24, top + 1), (back - 24, top + 4), pen="detail"),
        )
    else:
        upper = (box(back + 3, deck, back + 6, min(t.height_in, deck + 42), pen="truck"),)
    return (frame, cab, *glazing, platform, *upper, _arch(0.0, t.tire_radius_in, sill))


def _between(a: float, b: float, fields: int) -> list[float]:
    return [a + (b - a) * i / fields for i in range(1, fields)]


def _arch(x: float, r: float, sill: float) -> Line:
    """The dark of the wheel opening, above the sill only."""
    radius = r * 1.16
    start = math.degrees(math.asin(max(min((sill - r) / radius, 1.0), -1.0)))
    return shape(*arc(x, r, radius, start, 180 - start), pen="glass")


def _wheels(t: TruckOutline) -> Figure:
    r = t.tire_radius_in
    out: list = []
    for i, x in enumerate((0.0, *t.rear_axles_x_in)):
        rim = r * 0.58
        guessed = t.rests_on("tire") or (i > 0 and t.rests_on("wheelbase_in"))
        out += [Disc(x, r, r, "tire", dashed=guessed, role="truck-wheel"), Disc(x, r, rim, "hub")]
        if i and t.dual:
            out += [Disc(x, r, rim * 0.74, "glass", role="dual"), Disc(x, r, rim * 0.36, "hub")]
        else:
            out.append(Disc(x, r, rim * 0.36, "part"))
        out.append(Disc(x, r, 0.9, "solid"))
    return tuple(out)


def hitch_side(t: TruckOutline) -> Figure:
    """What the trailer couples to."""
    x, z, r = t.hitch_x_in, t.hitch_height_in, t.ball_size_in / 2
    guessed = t.rests_on("hitch_ahead_in", "hitch_height_in")
    if t.hitch_kind == "gooseneck":
        bed = _bed_floor(t)
        return stroked((box(x - 1, bed, x + 1, z, pen="part"), Disc(x, z, r, "solid", role="ball")), dashed=guessed)
    if t.hitch_kind == "kingpin":
        plate = shape((x - 18, z - 3), (x - 18, z), (x + 18, z), (x + 22, z - 3), pen="shaded", role="plate")
        legs = (
            box(x - 12, _bed_floor(t), x - 8, z - 3, pen="part"),
            box(x + 8, _bed_floor(t), x + 12, z - 3, pen="part"),
        )
        return stroked((*legs, plate), dashed=guessed)
    start = min(t.rear_x_in - 8, x - 8)
    bar_z = max(min(t.tire_radius_in + 4, z + 4), z - 6)
    bar = shape((start, bar_z - 1.2), (start, bar_z + 1.2), (x - 7, bar_z + 1.2), (x - 7, bar_z - 1.2), pen="part")
    drop = box(x - 8, min(bar_z, z) - 2, x - 5.5, max(bar_z, z) + 1.5, pen="part")
    if t.hitch_kind == "pintle":
        hook = shape((x - 6, z - 2.6), (x + 1.6, z - 2.6), (x + 1.2, z + 2.6), (x - 0.6, z + 2.6), (x - 1.2, z - 0.9),
                     (x - 6, z - 0.9), pen="shaded", role="hook")  # fmt: skip
        return stroked((bar, drop, hook), dashed=guessed)
    shank = (
        box(x - 8, z - r - 1.8, x + 1.8, z - r - 0.6, pen="part"),
        box(x - 0.6, z - r - 0.6, x + 0.6, z, pen="part"),
    )
    return stroked((bar, drop, *shank, Disc(x, z, r, "solid", role="ball")), dashed=guessed)


def _bed_floor(t: TruckOutline) -> float:
    floor = t.rail_in - _BED_BELOW_RAIL if t.body == "pickup" else t.rail_in
    return min(floor, t.hitch_height_in - 2)


def truck_plan(t: TruckOutline) -> Figure:
    """From above, front to the left."""
    wide = t.width_in / 2
    half = _body_half(t)
    x0, back, end = t.front_x_in, t.cab_rear_x_in, t.rear_x_in
    guessed = t.rests_on("wheelbase_in", "front_overhang_in", "width_in")
    cowl = x0 + min(0.30 * (back - x0) + 16, 62)
    glass = 0.78 * half
    parts: list = []
    body = shape((x0, -half * 0.82), (x0, half * 0.82), (x0 + 8, half), (back, half), (back, -half), (x0 + 8, -half),
                 pen="truck", round_in=6, dashed=guessed, role="cab")  # fmt: skip
    windshield = shape(
        (cowl, -glass), (cowl, glass), (cowl + 17, glass * 0.92), (cowl + 17, -glass * 0.92), pen="glass", round_in=2
    )
    rear_glass = shape(
        (back - 7, -glass * 0.86), (back - 7, glass * 0.86), (back - 3, glass), (back - 3, -glass), pen="glass"
    )
    parts += [body, windshield, rear_glass]
    bed_guessed = t.rests_on("rear_x_in", "cab_rear_x_in", "width_in")
    if t.body == "pickup":
        bed = box(back + 1.5, -half, end, half, pen="truck", round_in=2, dashed=bed_guessed, role="bed")
        floor = box(back + 5, -half + 7, end - 3, half - 7, pen="glass")
        parts += [bed, floor]
        if t.dual:
            r = t.tire_radius_in
            flare = max(wide, half + 4)
            parts += [
                shape(
                    (x - r - 6, s * half),
                    (x - r, s * flare),
                    (x + r, s * flare),
                    (x + r + 6, s * half),
                    pen="truck",
                    round_in=3,
                )
                for x in t.rear_axles_x_in
                for s in (-1, 1)
            ]
    else:
        parts.append(box(back + 3, -half, end + 2, half, pen="truck", dashed=bed_guessed, role="bed"))
    return (*parts, *_tires_plan(t), *_hitch_plan(t))


def _body_half(t: TruckOutline) -> float:
    """Half width of the body without the fenders over dual wheels."""
    wide = t.width_in / 2
    return min(wide, _BODY_HALF) if t.body == "pickup" and t.dual else wide


def _tires_plan(t: TruckOutline) -> Figure:
    half_width, r, w = t.width_in / 2, t.tire_radius_in, t.tire_width_in
    out = []
    for i, x in enumerate((0.0, *t.rear_axles_x_in)):
        rows: Sequence[float] = [_body_half(t) - w / 2 - 1]
        if i and t.dual:
            rows = [half_width - w / 2 - 1, half_width - 1.5 * w - 4.5]
        out += [
            box(x - r, s * y - w / 2, x + r, s * y + w / 2, pen="hidden", round_in=2.5, role="truck-tire")
            for y in rows
            for s in (-1, 1)
        ]
    return tuple(out)


def _hitch_plan(t: TruckOutline) -> Figure:
    x = t.hitch_x_in
    if t.hitch_kind == "gooseneck":
        return (Disc(x, 0, t.ball_size_in / 2, "solid"),)
    if t.hitch_kind == "kingpin":
        return (
            shape(
                (x - 18, -14),
                (x - 18, 14),
                (x + 20, 18),
                (x + 20, 4),
                (x + 2, 2),
                (x + 2, -2),
                (x + 20, -4),
                (x + 20, -18),
                pen="shaded",
            ),
        )
    return (box(t.rear_x_in - 4, -1.3, x - 2, 1.3, pen="part"), Disc(x, 0, t.ball_size_in / 2, "solid"))
