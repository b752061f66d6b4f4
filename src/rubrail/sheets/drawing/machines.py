"""Every silhouette by name, and placing one on a deck."""

from __future__ import annotations

from collections.abc import Callable

from rubrail.sheets.drawing import machines_tracked as on_tracks
from rubrail.sheets.drawing import machines_tractor as tractors
from rubrail.sheets.drawing import machines_wheeled as on_wheels
from rubrail.sheets.drawing.cargo_outline import CargoOutline
from rubrail.sheets.drawing.figure import Disc, Figure, Point, Primitive, box, changed, extent, line, stroked

_FLAT = 16.0
"""A load lower than this is drawn as flat pieces lying on each other, not as a crate."""


def crate(o: CargoOutline) -> Figure:
    """A crate or fixed load on skids."""
    if o.height_in < _FLAT:
        sheets = max(round(o.height_in / 2), 1)
        thick = o.height_in / sheets
        return tuple(box(0, i * thick, o.length_in, (i + 1) * thick, pen="cargo", role="body") for i in range(sheets))
    n = max(int(o.length_in // 40), 1)
    step = o.length_in / n
    body = box(0, 3, o.length_in, o.height_in, pen="cargo", role="body")
    battens = tuple(line((step * i, 3), (step * i, o.height_in), pen="cargo-line") for i in range(1, n))
    braces = tuple(line((step * i, 3), (step * (i + 1), o.height_in), pen="cargo-line") for i in range(n))
    skids = tuple(box(u - 4, 0, u + 4, 3, pen="cargo") for u in (6.0, o.length_in / 2, o.length_in - 6))
    return (*skids, body, *battens, *braces)


def blocks(o: CargoOutline) -> Figure:
    """Equal pieces in rows and layers."""
    long, _, high = o.piece_in if o.piece_in[0] else (o.length_in, o.width_in, o.height_in)
    out: list[Primitive] = []
    for row, layer in _places(o):
        u, v = row * long, layer * high
        out.append(box(u + 0.4, v, u + long - 0.4, v + high, pen="cargo", round_in=2, role="piece"))
        out += [line((u + long * s, v), (u + long * s, v + high), pen="cargo-line") for s in (0.3, 0.7)]
    return tuple(out)


def round_bales(o: CargoOutline) -> Figure:
    """Round bales seen on their flat face, upper ones in the hollows."""
    long, _, high = o.piece_in if o.piece_in[0] else (o.length_in, o.width_in, o.height_in)
    r = min(long, high) / 2
    out: list[Primitive] = []
    for row, layer in _places(o):
        u, v = (row + 0.5) * long, r + layer * high
        if layer == o.layers:
            v = o.height_in - r
        out += [
            Disc(u, v, r, "cargo", role="piece"),
            Disc(u, v, r * 0.66, "cargo-thin"),
            Disc(u, v, r * 0.33, "cargo-thin"),
        ]
    return tuple(out)


def _places(o: CargoOutline) -> list[tuple[float, int]]:
    places = [(float(row), layer) for layer in range(o.layers) for row in range(o.rows)]
    top_rows = -(-o.on_top // max(o.abreast, 1))
    start = (o.rows - top_rows) / 2
    return places + [(start + i, o.layers) for i in range(top_rows)]


SILHOUETTES: dict[str, Callable[[CargoOutline], Figure]] = {
    "excavator": on_tracks.excavator,
    "skid-steer": on_tracks.skid_steer,
    "stand-on": on_tracks.stand_on,
    "dozer": on_tracks.dozer,
    "dumper": on_tracks.dumper,
    "tracked": on_tracks.tracked,
    "tractor": tractors.tractor,
    "backhoe": tractors.backhoe,
    "wheel-loader": on_wheels.wheel_loader,
    "telehandler": on_wheels.telehandler,
    "forklift": on_wheels.forklift,
    "scissor": on_wheels.scissor,
    "boom-lift": on_wheels.boom_lift,
    "roller": on_wheels.roller,
    "trencher": on_wheels.trencher,
    "vehicle": on_wheels.vehicle,
    "mower": tractors.mower,
    "wheeled": on_wheels.wheeled,
    "crate": crate,
    "blocks": blocks,
    "bales": blocks,
    "round-bales": round_bales,
}


def cargo_side(o: CargoOutline) -> Figure:
    """A piece from the side, its own front to the left at ``u = 0``, standing on ``z = 0``."""
    figure = SILHOUETTES[o.form](o)
    if o.form not in ("crate", "blocks", "bales", "round-bales"):
        figure = _to_size(figure, o)
    return stroked(figure, dashed=o.rests_on("length_in", "height_in"))


def _to_size(figure: Figure, o: CargoOutline) -> Figure:
    """Stretch what lies beyond the contacts, and the upper half, so that overall length and height are exact."""
    low, _, high, top = extent(figure)
    c1, c2, half = o.contact_front_in, o.contact_rear_in, o.height_in / 2
    ahead = _factor(c1, c1 - low)
    behind = _factor(o.length_in - c2, high - c2)
    above = _factor(half, top - half)

    def place(u: float, v: float) -> Point:
        if u < c1:
            u = c1 - (c1 - u) * ahead
        elif u > c2:
            u = c2 + (u - c2) * behind
        return u, half + (v - half) * above if v > half else v

    return changed(figure, place)


def _factor(wanted: float, drawn: float) -> float:
    return min(max(wanted / drawn, 0.6), 1.7) if drawn > 1 and wanted > 1 else 1.0
