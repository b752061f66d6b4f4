"""The units of one page of a match, in words and drawn: made from their entries for the few that are looked at."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from django.utils.safestring import SafeString, mark_safe

from rubrail.answers.board import Candidate, Match, Tally, candidates
from rubrail.answers.match_joined import joined_match
from rubrail.answers.rig import Placement, rigs
from rubrail.checks.verdict import DEPENDS, WORDS
from rubrail.desk.board import STATUSES, Entries, Standing
from rubrail.desk.books import thing_in
from rubrail.desk.models import Book, Unit
from rubrail.desk.models.stock import Status
from rubrail.desk.shelf import Shelf
from rubrail.desk.stock import readable
from rubrail.quantity.money import show_money
from rubrail.sheets.drawing import Placed, Rig
from rubrail.sheets.drawing.cargo_outline import CargoOutline, cargo_outline
from rubrail.sheets.drawing.rig_small import rig_small
from rubrail.sheets.sentences_words import begin
from rubrail.sheets.sentences_yard import candidate_reason
from rubrail.things.haul import Haul as HaulThing
from rubrail.things.rigs import pieces_of
from rubrail.things.trailer import Trailer

WIDTH_PX, LONGEST_IN = 232.0, 700.0
"""All drawings of a board share one scale; only a rig beyond 58 ft 4 in is drawn smaller than the others."""
UNREAD = "What is stored of it no longer reads: open it and save it again"

DEAR = ("spec", "packed", "thumbnail")
"""Columns that are read only of units to be looked at anew."""


@dataclass(frozen=True, slots=True)
class Look:
    """What looking at a unit showed; it rests on the haul, the engine and the unit's version alone.

    reads : whether what is stored of the unit still reads
    """

    candidate: Candidate
    drawing: str
    reads: bool


_looks: Shelf[Look] = Shelf(2048)


@dataclass(frozen=True, slots=True)
class BoardRow:
    """One unit as the page shows it; its numbers are those of ``candidate``.

    reason : what decides, in one line
    """

    unit: Unit
    candidate: Candidate
    reason: str
    unbeaten: bool
    drawing: SafeString


def look_at(thing: HaulThing, now: Standing, page: Entries, *, metric: bool) -> tuple[Tally, str, list[BoardRow]]:
    """A whole match in short, what the lot says of its first unit, and the units of one page of it.

    Parameters
    ----------
    thing : things.haul.Haul
        The haul.
    now : Standing
        The whole match.
    page : array of ENTRY
        What the page shows, in its order.
    metric : bool
        Kilograms and meters.
    """
    entries, free = now.entries, _first_free(now.entries)
    looked = {int(e["unit"]): e for e in (*entries[:1], *free, *page)}
    units, looks = _look(thing, looked, now)
    counts = tuple((word, int((entries["verdict"] == code).sum())) for code, word in enumerate(WORDS))
    best = looks.get(int(entries["unit"][0])) if len(entries) else None
    tally = Tally(
        haul=thing.title or thing.id,
        truck=thing.truck.title or thing.truck.id,
        counts=tuple(c for c in counts if c[1]),
        best=best and best.candidate,
    )
    rows = []
    for number in (int(n) for n in page["unit"] if int(n) in looks):
        look = looks[number]
        reason = begin(candidate_reason(look.candidate, metric=metric)) if look.reads else UNREAD
        unbeaten = bool(looked[number]["unbeaten"])
        rows.append(BoardRow(units[number], look.candidate, reason, unbeaten, mark_safe(look.drawing)))
    first, other = (units.get(int(e["unit"][0])) if len(e) else None for e in (entries, free))
    return tally, _note(first, other, carries=len(entries) > 0 and entries["verdict"][0] >= DEPENDS), rows


def _first_free(entries: Entries) -> Entries:
    """The best unit that carries it, stands in the yard and is held for nobody."""
    here = entries["status"] == STATUSES.index(Status.HERE)
    return entries[here & (entries["verdict"] >= DEPENDS)][:1]


def _note(first: Unit | None, free: Unit | None, *, carries: bool) -> str:
    """What to say where the first unit to offer is not there to be sold; ``""`` where it is, or nothing carries it."""
    if first is None or not carries or first.status == Status.HERE:
        return ""
    stands = f"{first.stock_number} is {first.get_status_display()}"
    if free is None:
        return f"{stands}, and nothing else that carries it is free in the yard."
    price = f", {show_money(free.price_usd)}" if free.price_usd is not None else ""
    return f"{stands}; the first that is free in the yard: {free.stock_number}{price}."


def _look(thing: HaulThing, entries: dict[int, np.void], now: Standing) -> tuple[dict[int, Unit], dict[int, Look]]:
    """Units and what looking at them shows; those nobody looked at since they changed are judged at their places."""
    kept = {n: _looks.get((now.mark, n, int(e["version"]))) for n, e in entries.items()}
    anew = [n for n, look in kept.items() if look is None]
    found = Unit.objects.all() if anew else Unit.objects.defer(*DEAR)
    # A unit deleted since the match was read is left out.
    units = found.in_bulk(list(entries))
    trailers = {n: readable(units[n]) for n in anew if n in units}
    candidates = _candidates(thing, {n: t for n, t in trailers.items() if t}, entries, now.kit)
    outlines = [cargo_outline(p) for p in pieces_of(thing)]
    for n, trailer in trailers.items():
        if trailer:
            look = Look(candidates[n], _drawn(thing, trailer, candidates[n], outlines), True)
        else:
            look = Look(_unread(units[n], entries[n]), "", False)
        kept[n] = look
        _looks.put((now.mark, n, units[n].version), look)
    return units, {n: look for n, look in kept.items() if look and n in units}


def _candidates(
    thing: HaulThing, trailers: dict[int, Trailer], entries: dict[int, np.void], book: Book | None
) -> dict[int, Candidate]:
    """Units at their places, by number."""
    if not trailers:
        return {}
    laid = rigs(haul=thing, trailers=tuple(trailers.values()))
    arrangement = np.array([entries[n]["arrangement"] for n in trailers], np.intp)
    shift = np.array([entries[n]["shift_in"] for n in trailers], float)
    found = candidates(laid, arrangement=arrangement, shift_in=shift)
    # The page's own units are told why loading or securing lowered them; the match itself knows only that it did.
    on_road = Match(thing.title or thing.id, "", found)
    kit = book and thing_in(book)
    joined = joined_match(on_road, haul=thing, trailers=tuple(trailers.values()), kit=kit)
    by_trailer = {c.trailer: c for c in joined.candidates}
    return {n: by_trailer[t.id] for n, t in trailers.items()}


def _unread(unit: Unit, entry: np.void) -> Candidate:
    """A unit whose content no longer reads: nothing about it is known."""
    nothing = math.nan
    return Candidate(
        trailer=unit.stock_number,
        title=unit.says,
        verdict=WORDS[entry["verdict"]],
        governing=None,
        against=(),
        share=nothing,
        placement=Placement((), ()),
        front_from_deck_in=nothing,
        price_usd=unit.price_usd,
        empty_weight_lb=nothing,
        deck_height_in=nothing,
        coupler_load_lb=nothing,
        unbeaten=False,
    )


def _drawn(thing: HaulThing, trailer: Trailer, candidate: Candidate, outlines: Sequence[CargoOutline]) -> str:
    """The rig as placed."""
    at = candidate.placement
    cargo = [
        Placed(outline, x, way == "rear-first")
        for outline, x, way in zip(outlines, at.front_x_in, at.facing, strict=True)
    ]
    rig = Rig(trailer=trailer, truck=thing.truck, cargo=cargo)
    return rig_small(rig, width_px=WIDTH_PX, longest_in=LONGEST_IN, highest_in=0.0)
