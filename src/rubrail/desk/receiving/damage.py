"""Damage marked on the drawing: where it is, in inches and as a station, and what it is, in words."""

from __future__ import annotations

import math
import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from django.db import IntegrityError, transaction
from django.utils.safestring import SafeString, mark_safe

from rubrail.desk.audit import record
from rubrail.desk.drawings import PAPER_PX, WIDE_PX
from rubrail.desk.models import DamageMark, Photo, Receipt, User
from rubrail.desk.photographs import photos_about
from rubrail.desk.receiving.begin import ReceiptError, demand_open
from rubrail.quantity.show import show_feet
from rubrail.sheets.drawing.marked import Spot, marked_plan, marked_side
from rubrail.sheets.drawing.outline import TrailerOutline, trailer_outline
from rubrail.things.trailer import Trailer

STATIONS = (
    ("coupler", "coupler"),
    ("tongue", "tongue or neck"),
    ("jack", "jack"),
    ("deck-front", "deck, front"),
    ("deck-middle", "deck, middle"),
    ("deck-rear", "deck, rear"),
    ("axles", "axles, wheels, fenders"),
    ("underneath", "underneath"),
    ("tail", "tail"),
    ("ramps", "ramps"),
    ("lamps", "lamps, plug and wiring"),
    ("finish", "paint and finish"),
    ("other", "somewhere else"),
)
STATION_WORDS = dict(STATIONS)
VIEWS = {"side": ("x_in", "z_in"), "plan": ("x_in", "y_in")}
"""Views of the drawing, and the two places a spot on each has."""
FAR_IN = 1_200.0
MOST = 40
WIDTHS = {"wide": WIDE_PX, "narrow": 336.0, "paper": PAPER_PX}


def spot_of(data: Mapping[str, str]) -> dict[str, Any]:
    """The spot a form names: ``view``, ``at-x`` and ``at-up`` in inches; empty where it names none that can be.

    What cannot be on a trailer is dropped, not refused: the station and the words hold without it.
    """
    view = data.get("view", "")
    if view not in VIEWS:
        return {}
    numbers = []
    for name in ("at-x", "at-up"):
        try:
            number = float(data.get(name, ""))
        except ValueError:
            return {}
        if not math.isfinite(number) or abs(number) > FAR_IN:
            return {}
        numbers.append(round(number, 1))
    return {"view": view, **dict(zip(VIEWS[view], numbers, strict=True))}


def station_at(spot: Mapping[str, Any], outline: TrailerOutline) -> str:
    """The station a spot lies at, by where it is along the trailer and how high."""
    x = spot["x_in"]
    if x < outline.deck_front_x_in:
        return "coupler" if x < 0.25 * max(outline.deck_front_x_in, 1.0) else "tongue"
    if x > outline.deck_rear_x_in - 2:
        return "ramps" if outline.ramps else "tail"
    if outline.tail_length_in and x > outline.flat_rear_x_in:
        return "tail"
    near = [a for a in outline.axles if abs(a.x_in - x) <= a.radius_in * 1.3]
    if near and spot["view"] == "side" and spot["z_in"] <= 2.3 * max(a.radius_in for a in near):
        return "axles"
    if near and spot["view"] == "plan" and abs(spot["y_in"]) > outline.deck_width_in / 2:
        return "axles"
    third = (x - outline.deck_front_x_in) / max(outline.flat_length_in, 1.0)
    return "deck-front" if third < 1 / 3 else "deck-middle" if third < 2 / 3 else "deck-rear"


def add_damage(
    receipt: Receipt,
    *,
    station: str,
    spot: Mapping[str, Any],
    words: str,
    key: uuid.UUID | None,
    trailer: Trailer | None,
    by: User,
) -> DamageMark:
    """Mark a damage; the same key again gives the mark that is there.

    Raises
    ------
    ReceiptError
        If the receipt is closed, nothing is said, or it is not said where.
    """
    demand_open(receipt)
    if key is not None and (there := DamageMark.objects.filter(key=key, receipt=receipt).first()):
        return there
    words = words.strip()[:300]
    if not station and spot and trailer is not None:
        station = station_at(spot, trailer_outline(trailer))
    faults = []
    if station not in STATION_WORDS:
        faults.append("Where: touch the drawing, or choose a station.")
    if not words:
        faults.append("What it is: say it in a few words, such as: side rail bent in, 4 in long.")
    if receipt.damages.count() >= MOST:
        faults.append(f"At most {MOST} damages of one unit are kept; say the rest in words of one of them.")
    if faults:
        raise ReceiptError(" ".join(faults))
    more = {} if key is None else {"key": key}
    try:
        with transaction.atomic():
            mark = DamageMark.objects.create(
                receipt=receipt, station=station, spot=dict(spot), words=words, created_by=by, **more
            )
            record(by=by, action="damage marked", thing=receipt, more=said_mark(mark))
    except IntegrityError:
        there = DamageMark.objects.filter(key=key, receipt=receipt).first()
        if there is None:
            raise ReceiptError("That entry was kept for another receipt already.") from None
        return there
    return mark


def take_away(mark: DamageMark, *, by: User) -> None:
    """Take a mark off again, with its photos; the trail keeps what it said.

    Raises
    ------
    ReceiptError
        If the receipt is closed.
    """
    demand_open(mark.receipt)
    with transaction.atomic():
        record(by=by, action="damage taken away", thing=mark.receipt, more=said_mark(mark))
        for photo in photos_of(mark):
            photo.delete()
        mark.delete()


def photos_of(mark: DamageMark) -> list[Photo]:
    """Photos taken of one damage."""
    return [p for p in photos_about(mark.receipt) if p.spot.get("damage") == str(mark.key)]


def said_mark(mark: DamageMark) -> str:
    """Where and what, in one phrase."""
    return f"{STATION_WORDS[mark.station]}, {mark.words.rstrip('.')}"


def said_place(mark: DamageMark, *, metric: bool = False) -> str:
    """Where a mark is, in words and, where it was touched, in feet and inches behind the coupling."""
    station = STATION_WORDS[mark.station]
    if not mark.spot:
        return station
    x = mark.spot["x_in"]
    where = f"{show_feet(abs(x), metric=metric)} {'ahead of' if x < 0 else 'behind'} the coupling"
    if mark.spot["view"] == "side":
        return f"{station}; {where}, {show_feet(max(mark.spot['z_in'], 0.0), metric=metric)} up"
    across = mark.spot["y_in"]
    side = "right" if across > 0 else "left"
    return f"{station}; {where}, {show_feet(abs(across), metric=metric)} {side} of center"


def spots_of(marks: Sequence[DamageMark]) -> list[Spot]:
    """The marks that were put on the drawing, numbered as they are listed."""
    return [
        Spot(n, m.spot["view"], m.spot["x_in"], m.spot.get("z_in", m.spot.get("y_in", 0.0)), m.words)
        for n, m in enumerate(marks, 1)
        if m.spot
    ]


def drawings(
    trailer: Trailer, marks: Sequence[DamageMark], *, metric: bool = False
) -> dict[str, dict[str, SafeString]]:
    """Side and plan with the marks on them, each for a wide page, a narrow one and paper."""
    outline, spots = trailer_outline(trailer), spots_of(marks)
    return {
        "side": {
            n: mark_safe(marked_side(outline, spots=spots, width_px=w, metric=metric)) for n, w in WIDTHS.items()
        },
        "plan": {
            n: mark_safe(marked_plan(outline, spots=spots, width_px=w, metric=metric)) for n, w in WIDTHS.items()
        },
    }
