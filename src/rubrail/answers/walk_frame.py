"""What one crossmember carries of each machine of a haul: statics alone, for nobody states what one may carry."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from rubrail.answers.report import Need
from rubrail.answers.rig import Rigs
from rubrail.answers.walk_parts import Amount, Point
from rubrail.mechanics.crossmembers import (
    bearing_shares,
    heaviest_under_axles_lb,
    heaviest_under_track_lb,
    members_under,
)
from rubrail.quantity.value import Value
from rubrail.things.cargo import Cargo
from rubrail.things.rig_cargo import center_of, contact_of, weight_of
from rubrail.things.trailer import Trailer

SPACING = Need("crossmember_spacing_in", "frame.crossmember_spacing_in", "crossmembers, on center", math.nan, 0.0, "")


def member_loads(one: Rigs) -> Iterator[Point]:
    """A point for each different piece of the haul: the most that one crossmember carries of it."""
    seen: set[str] = set()
    for n, piece in enumerate(one.pieces):
        if piece.id not in seen:
            first = () if seen else ("first",)
            seen.add(piece.id)
            yield _member_load(one, n, piece, one.trailers[0], first)


def _member_load(one: Rigs, n: int, piece: Cargo, trailer: Trailer, first: tuple[str, ...]) -> Point:
    spacing = _number(trailer.frame.crossmember_spacing_in)
    begins, ends, _ = contact_of(piece)
    start, stop = _number(begins), _number(ends)
    weight, center = _number(weight_of(piece)), _number(center_of(piece))
    wheels = piece.contact is not None and piece.contact.kind in ("wheels", "drums")
    length = stop - start
    heaviest = math.nan
    if wheels and len(piece.contact.axles_from_front_in) > 1:
        at = np.array([_number(a) for a in piece.contact.axles_from_front_in])
        axles = weight * bearing_shares(at_in=at, cg_in=center)
        if (axles >= 0).all():
            heaviest = float(heaviest_under_axles_lb(axle_lb=axles, at_in=at, spacing_in=spacing))
    elif not wheels:
        heaviest = heaviest_under_track_lb(
            weight_lb=weight, length_in=length, cg_in=center - start, spacing_in=spacing
        )
    even = weight / float(members_under(length_in=length, spacing_in=spacing)) if not wheels else math.nan
    return Point(
        "member-load",
        about=piece.title or piece.id,
        amounts=(
            Amount("heaviest", heaviest, "lb"),
            Amount("even", even, "lb"),
            Amount("members", math.nan if wheels else length / spacing, ""),
            Amount("spacing", spacing, "in"),
            Amount("weight", weight, "lb"),
        ),
        words=(
            "wheels" if wheels else "tracks" if piece.contact and piece.contact.kind == "tracks" else "flat",
            *first,
        ),
        needs=() if not math.isnan(heaviest) else tuple(_needs(one, n, spacing)),
    )


def _needs(one: Rigs, n: int, spacing: float) -> Iterator[Need]:
    if math.isnan(spacing):
        yield SPACING
    ask = one.asked(0)
    for name in ("item_weight_lb", "item_cg_in", "item_contact_front_in", "item_contact_rear_in"):
        need = ask(name, n)
        if math.isnan(need.value):
            yield need


def _number(value: object) -> float:
    return math.nan if value is None else float(value) if isinstance(value, Value | float | int) else math.nan
