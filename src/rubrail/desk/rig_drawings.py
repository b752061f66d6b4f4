"""The rig of a bench drawn to scale for a desk, a phone and paper, and what a script needs to move its pieces."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from rubrail.answers.affine_band import Stretch
from rubrail.checks.verdict import CLEAR, DEPENDS
from rubrail.desk.rig_loads import Watched
from rubrail.desk.rig_reckon import Reckoned
from rubrail.sheets.drawing import LoadMark, Placed, Rig, rig_plan, rig_side
from rubrail.sheets.drawing.loads import PLACES
from rubrail.sheets.drawing.rig import Band

SIZES = {"wide": 1200.0, "narrow": 328.0, "paper": 700.0}
"""Widths it is shown at; letters keep their size."""


def rig_of(
    it: Reckoned, loads: Sequence[Watched], *, bands: dict[str, Band] | None = None, metric: bool = False
) -> Rig:
    """The rig settled for drawing."""
    pieces = zip(it.one.pieces, it.placement.front_x_in, it.placement.facing, strict=True)
    bands = bands or {}
    return Rig(
        trailer=it.one.trailers[0],
        truck=it.one.haul.truck,
        cargo=[Placed(piece, x, way == "rear-first") for piece, x, way in pieces],
        loads=[LoadMark(w.place, w.value_lb, w.limit_lb, w.word) for w in loads if w.place in PLACES],
        clear_band=bands.get("clear"),
        holds_band=bands.get("depends"),
        metric=metric,
    )


def drawn(rig: Rig, size: str) -> dict[str, SafeString]:
    """Side and plan at one of the sizes. On paper the places are dimensioned; on a page the form beside says them."""
    width, paper = SIZES[size], size == "paper"
    return {
        "side": mark_safe(rig_side(rig, width_px=width, dimensions=paper)),
        "plan": mark_safe(rig_plan(rig, width_px=width, dimensions=paper)),
    }


def bands_of(found: Sequence[Stretch] | None, placed: Placed) -> dict[str, Band]:
    """The stretches nearest a piece, as places of its center of gravity: where the rig is clear, where it depends.

    Parameters
    ----------
    found : sequence of Stretch or None
        Over fronts of the piece, as ``answers.affine_band`` gives them.
    placed : Placed
        The piece where it stands.
    """
    center = placed.cg_x_in - placed.front_x_in
    out = {}
    for name, least in (("clear", CLEAR), ("depends", DEPENDS)):
        joined: list[list[float]] = []
        for s in found or ():
            if s.code < least:
                continue
            if joined and abs(joined[-1][1] - s.low_in) < 1e-9:
                joined[-1][1] = s.high_in
            else:
                joined.append([s.low_in, s.high_in])
        if joined:
            x = placed.front_x_in
            low, high = min(joined, key=lambda b: max(b[0] - x, x - b[1], 0.0))
            out[name] = (low + center, high + center)
    return out


def geometry(rig: Rig) -> dict[str, Any]:
    """How the deck lies and how each piece stands on it, so that a script can set a piece down elsewhere.

    The deck's surface is level to ``flat_rear_in`` and falls by ``drop_in`` over ``tail_in``; ``ride`` turns the level
    trailer about the coupling: pitch, nose up, about a height, then a rise. Lengths in inches.
    """
    o, ride = rig.trailer, rig.ride
    return {
        "deck": {
            "front_in": round(o.deck_front_x_in, 3),
            "flat_rear_in": round(o.flat_rear_x_in, 3),
            "rear_in": round(o.deck_rear_x_in, 3),
            "tail_in": round(o.tail_length_in, 3),
            "drop_in": round(o.tail_drop_in, 3),
            "height_in": round(o.deck_height_in, 3),
            "width_in": round(o.deck_width_in, 3),
        },
        "ride": {"coupler_in": ride.coupler_in, "rise_in": ride.rise_in, "pitch_rad": ride.pitch_rad},
        "pieces": [
            {
                "length_in": round(p.outline.length_in, 3),
                "height_in": round(p.outline.height_in, 3),
                "width_in": round(p.outline.width_in, 3),
                "cg_in": round(p.cg_x_in - p.front_x_in, 3),
                "bears_in": [round(x - p.front_x_in, 3) for x in p.contacts_x_in],
                "weight_lb": p.outline.weight_lb,
            }
            for p in rig.cargo
        ],
    }
