"""What a ticket's page shows: readings that stand out, values where they act, what may be taken over."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from rubrail.answers.ticket_report import Checked, Ticketed, Weighed
from rubrail.desk.models import Ticket as TicketRow
from rubrail.desk.rig_drawings import SIZES
from rubrail.desk.stock import readable
from rubrail.desk.tickets.keep import OF_TRAILER, OF_TRUCK, open_proposals, truck_table, truck_thing
from rubrail.sheets.drawing import LoadMark, Rig, rig_side
from rubrail.sheets.drawing.plates import plate_picture
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_ticket import (
    ABOARD,
    agreement_sentence,
    causes,
    change_words,
    needs_told,
    notes,
    plate_words,
    reading_sentence,
    spread,
    state_words,
    stood_words,
    ticket_sentence,
    value_words,
    without_words,
)
from rubrail.sheets.sentences_words import begin

FIELD_WORDS = {
    "weights.empty_lb": "empty weight",
    "weights.empty_coupler_lb": "empty coupler load",
    "weights.front_axle_lb": "front axle",
    "weights.rear_axle_lb": "rear axle",
}


@dataclass(frozen=True, slots=True)
class Said:
    """One value in words."""

    what: str
    value: str
    was: str
    was_basis: str
    limit: str
    limit_says: str
    verdict: str


def page_of(row: TicketRow, answer: Ticketed, *, metric: bool) -> dict[str, Any]:
    """The parts of a ticket's page that the answer says."""
    told = [_said(v, metric=metric) for v in answer.values if v.told]
    return {
        "answer": answer,
        "sentence": ticket_sentence(answer, metric=metric),
        "off": [_off(r, metric=metric) for r in answer.readings if r.word in ("off", "one of these is off")],
        "without": [(begin(without_words(w)), spread(w.number, w.plus_minus, "lb", metric=metric))
                    for w in answer.without],
        "drawings": drawings(row, answer, metric=metric),
        "values": told,
        "needs": needs_told(answer),
        "readings": _readings(row, answer, metric=metric),
        "aboard": ABOARD if any(stood.aboard for stood in answer.stood) else "",
        "agreement": agreement_sentence(answer),
        "notes": list(notes(answer)),
        "over_unit": proposed(answer, OF_TRAILER, metric=metric) if row.unit_id else [],
        "over_truck": proposed(answer, OF_TRUCK, metric=metric) if truck_table(row) else [],
        "taken": [_taken(row, of, metric=metric) for of in (OF_TRAILER, OF_TRUCK) if of in row.applied],
    }  # fmt: skip


def proposed(answer: Ticketed, of: str, *, metric: bool) -> list[tuple[str, str, str]]:
    """Values to be taken over: which, how it differs from what stands there, and what it is."""
    return [
        (
            begin(FIELD_WORDS[p.field]),
            change_words(p, metric=metric),
            spread(p.number, p.plus_minus, "lb", metric=metric),
        )
        for p in open_proposals(answer, of)
    ]


def _said(v: Weighed, *, metric: bool) -> Said:
    return Said(
        begin(value_words(v)),
        spread(v.number, v.plus_minus, v.unit, metric=metric),
        "" if math.isnan(v.before) else amount(v.before, v.unit, metric=metric),
        v.before_basis,
        "" if math.isnan(v.limit) else amount(v.limit, v.unit, metric=metric),
        v.limit_says,
        v.verdict,
    )


def _off(r: Checked, *, metric: bool) -> dict[str, Any]:
    return {
        "weighing": r.weighing,
        "reading": r.reading,
        "what": begin(plate_words(r.on, r.side)),
        "state": state_words(r.state, r.load),
        "shown": amount(r.shown_lb, "lb", metric=metric),
        "would": amount(r.would_be_lb, "lb", metric=metric),
        "causes": causes(r),
        "picture": mark_safe(plate_picture(r.state, r.on)),
    }


def _readings(row: TicketRow, answer: Ticketed, *, metric: bool) -> list[dict[str, Any]]:
    """Readings under the way the rig stood, in the ticket's order."""
    groups: list[dict[str, Any]] = []
    axles = row.unit.axle_count or 2 if row.unit_id else 2
    for r in answer.readings:
        if not groups or groups[-1]["n"] != r.weighing:
            says = begin(stood_words(answer.stood[r.weighing - 1], metric=metric))
            groups.append({"n": r.weighing, "says": says, "rows": []})
        groups[-1]["rows"].append(
            {
                "number": r.reading,
                "what": begin(plate_words(r.on, r.side)),
                "shown": "" if math.isnan(r.shown_lb) else amount(r.shown_lb, "lb", metric=metric),
                "fits": "" if math.isnan(r.fitted_lb) else amount(r.fitted_lb, "lb", metric=metric),
                "says": reading_sentence(r, metric=metric),
                "off": r.word in ("off", "one of these is off"),
                "aside": r.word == "set aside",
                "picture": mark_safe(plate_picture(r.state, r.on, axles=axles)),
            }
        )
    return groups


def _taken(row: TicketRow, of: str, *, metric: bool) -> dict[str, Any]:
    kept = row.applied[of]
    fields = [
        (
            begin(FIELD_WORDS[f["field"]]),
            spread(f["number"], f["plus_minus"], "lb", metric=metric),
            "" if f["before"] is None else amount(f["before"], "lb", metric=metric),
            f["before_basis"],
        )
        for f in kept["fields"]
    ]
    return {"of": of, "at": kept["at"], "by": kept["by"], "fields": fields}


def drawings(row: TicketRow, answer: Ticketed, *, metric: bool) -> list[dict[str, Any]]:
    """The rig with the weighed loads where they act: empty, and with each load; without a unit there is none."""
    trailer = readable(row.unit) if row.unit_id else None
    if trailer is None:
        return []
    truck = truck_thing(row)
    found = []
    for load in dict.fromkeys(v.load for v in answer.values if v.of in ("trailer", "rig")):
        marks = list(_marks(answer, load))
        if not marks:
            continue
        hitched = any(m.place == "truck-front" for m in marks)
        rig = Rig(trailer=trailer, truck=truck if hitched else None, loads=marks, metric=metric)
        sizes: dict[str, SafeString] = {
            name: mark_safe(rig_side(rig, width_px=width, dimensions=False)) for name, width in SIZES.items()
        }
        found.append({"says": f"With {load}" if load else "Empty", **sizes})
    return found


def _marks(answer: Ticketed, load: str) -> Iterable[LoadMark]:
    """Loads that the readings tell, each where it acts."""
    of = "rig" if load else "trailer"
    places = {
        ("rig", "front axle hitched"): "truck-front",
        ("rig", "rear axle hitched"): "truck-rear",
        (of, "coupler"): "coupler",
        (of, "axles"): "axles",
    }
    for v in answer.values:
        place = places.get((v.of, v.name))
        if place and v.load == load and v.told:
            limit = math.inf if math.isnan(v.limit) else v.limit
            yield LoadMark(place, v.number, limit, v.verdict, plus_minus_lb=v.plus_minus)
