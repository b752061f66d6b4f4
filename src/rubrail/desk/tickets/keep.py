"""Scale tickets between database and engine: kept, corrected with a trail, answered, and taken over."""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from django.db import transaction

from rubrail.answers.ticket import read_ticket
from rubrail.answers.ticket_report import Proposal, Ticketed
from rubrail.desk import clock
from rubrail.desk.amounts import written
from rubrail.desk.audit import Delta, record
from rubrail.desk.editing import save_changes
from rubrail.desk.hauls import stored
from rubrail.desk.kept import SORTS, is_own
from rubrail.desk.kept import change as change_kept
from rubrail.desk.models import Haul, Truck, Unit, User
from rubrail.desk.models import Ticket as TicketRow
from rubrail.desk.spec_fields import SpecField, field_at
from rubrail.desk.stock import change_unit, is_value, leaves, put_together, readable, say_leaf
from rubrail.sheets.sentences_ticket import plate_words, state_words
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul as HaulThing
from rubrail.things.ticket import Ticket
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck as TruckThing
from rubrail.things.yard import Yard

NEEDS = "yard.see"
OF_TRAILER, OF_TRUCK = "trailer", "truck"
READINGS = "readings"
"""What waits where the readings do not agree: somebody has to look at them."""
TRUCK_NEEDS = "haul.edit"
"""Who takes a truck's weights over; a yard hand's ticket waits for them."""


def truck_table(row: TicketRow) -> Mapping[str, Any] | None:
    """The truck weighed, as its file has it: the kept one, else the haul's own."""
    if row.truck_id:
        return row.truck.spec
    return row.haul.spec.get("truck") if row.haul_id else None


def truck_thing(row: TicketRow) -> TruckThing | None:
    """The same as the engine takes it; nothing where there is none or it no longer reads."""
    table = truck_table(row)
    try:
        return read_thing(TruckThing, table) if table else None
    except Faults:
        return None


def ticket_thing(row: TicketRow) -> Ticket:
    """The ticket as the engine takes it.

    Raises
    ------
    Faults
        If what is stored no longer reads.
    """
    return read_thing(Ticket, row.spec, where=f"scale ticket {row.pk}")


def answer_of(row: TicketRow) -> Ticketed:
    """What a stored ticket says, of its unit and truck as they are now.

    Raises
    ------
    Faults
        If what is stored of it no longer reads.
    """
    return read_ticket(ticket_thing(row), trailer=readable(row.unit) if row.unit_id else None, truck=truck_thing(row))


def open_proposals(answer: Ticketed, of: str) -> tuple[Proposal, ...]:
    """Values of a thing that are not written there yet as they were weighed."""
    return tuple(
        p
        for p in answer.proposals
        if p.of == of
        and not (p.before_basis == "weighed" and p.number == p.before and p.plus_minus == p.before_plus_minus)
    )


def _told(row: TicketRow) -> dict[str, str]:
    """The columns that repeat what the answer says."""
    answer = answer_of(row)
    has = {OF_TRAILER: row.unit_id is not None, OF_TRUCK: truck_table(row) is not None}
    waits = [of for of in has if has[of] and open_proposals(answer, of)]
    return {"verdict": answer.verdict, "waits": ", ".join(waits) if answer.agrees else READINGS}


def add_ticket(
    ticket: Ticket, *, unit: Unit | None, truck: Truck | None, haul: Haul | None, day: date, where: str,
    by: User | None, key: uuid.UUID | None = None,
) -> TicketRow:  # fmt: skip
    """Keep a new ticket and say so in the trail."""
    row = TicketRow(
        unit=unit, truck=truck, haul=haul, day=day, where=where, spec=stored(ticket), created_by=by, key=key
    )
    for name, value in _told(row).items():
        setattr(row, name, value)
    with transaction.atomic():
        row.save()
        record(by=by, action="added", thing=row, more="")
    return row


def add_tickets(yard: Yard, *, by: User | None) -> None:
    """Keep the tickets of a yard folder, each with its unit and truck as stored; one that has neither is left."""
    for ticket in yard.tickets.values():
        unit = Unit.objects.filter(stock_number=ticket.trailer).first() if ticket.trailer else None
        truck = Truck.objects.filter(spec__id=ticket.truck).first() if ticket.truck else None
        if unit or truck:
            where = ticket.scale[0].says or ""
            day = ticket.day or clock.today()
            add_ticket(ticket, unit=unit, truck=truck, haul=None, day=day, where=where[:120], by=by)


def change_ticket(
    row: TicketRow, ticket: Ticket, *, day: date, where: str, by: User | None, seen_version: int
) -> list[Delta]:
    """Keep a ticket corrected; each difference goes into the trail, which keeps what stood there.

    Raises
    ------
    StaleError
        If somebody else saved it since ``seen_version``; nothing is written then.
    """
    spec = stored(ticket)
    deltas = [
        Delta("day", "day", f"{row.day}", f"{day}", NEEDS),
        Delta("where", "place", row.where, where, NEEDS),
        *_deltas(row.spec, spec),
    ]
    deltas = [d for d in deltas if d.old != d.new]
    values = {"spec": spec, "day": day, "where": where}
    again = TicketRow(unit=row.unit, truck=row.truck, haul=row.haul, **values)
    values |= _told(again)
    values = {k: v for k, v in values.items() if getattr(row, k) != v}
    save_changes(row, values=values, deltas=deltas, by=by, seen_version=seen_version)
    return deltas


def _deltas(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Delta]:
    before, after = dict(leaves(old)), dict(leaves(new))
    for path in dict.fromkeys((*before, *after)):
        if before.get(path) != after.get(path) and path not in ("id", "schema", "day"):
            field = field_at(Ticket, path)
            label = _label(path, new if path in after else old) or (field.label if field else path)
            yield Delta(path, label, _said(field, before.get(path)), _said(field, after.get(path)), NEEDS)


def _said(field: SpecField | None, value: Any) -> str:
    """A value of a ticket in words; what a scale showed has no basis to tell."""
    if is_value(value) and not value.get("plus_minus"):
        return written(value["value"], field.unit if field else "lb")
    return say_leaf(field, value)


def _label(path: str, spec: Mapping[str, Any]) -> str:
    """What a path of a ticket is in words: ``reading of the truck's rear axle (truck alone)``."""
    found = re.fullmatch(r"weighing\.(\d+)\.reading\.(\d+)\.(\w+)", path)
    if not found:
        return ""
    weighing = spec["weighing"][int(found[1])]
    reading = weighing["reading"][int(found[2])]
    words = {"shown_lb": "reading of", "set_aside": "reason for setting aside"}.get(found[3], f"{found[3]} of")
    place = state_words(weighing["state"], weighing.get("load", ""))
    return f"{words} {plate_words(reading['on'], reading.get('side', ''))} ({place})"


def set_aside(row: TicketRow, *, weighing: int, reading: int, why: str, by: User | None, seen_version: int) -> None:
    """Let one reading no longer count, for a reason; or count again, for none.

    Raises
    ------
    StaleError, LookupError
        If somebody else saved the ticket meanwhile; if it has no such reading.
    """
    if min(weighing, reading) < 1:
        raise LookupError(f"weighing {weighing}, reading {reading}")
    table = stored(ticket_thing(row))
    of = table["weighing"][weighing - 1]["reading"][reading - 1]
    if why:
        of["set_aside"] = why
    else:
        of.pop("set_aside", None)
    change_ticket(row, read_thing(Ticket, table), day=row.day, where=row.where, by=by, seen_version=seen_version)


def trailer_with(row: TicketRow, proposals: tuple[Proposal, ...]) -> Trailer:
    """The unit's trailer with the values written in, its cost too.

    Raises
    ------
    Faults
        If a value contradicts what else is stored, or that no longer reads.
    """
    table = put_together(row.unit, with_cost=True)
    table["weights"] = {**table.get("weights", {}), **_values(proposals)}
    return read_thing(Trailer, table, where=f"unit {row.unit}")


def truck_with(table: Mapping[str, Any], proposals: tuple[Proposal, ...]) -> TruckThing:
    """A truck with the values written in.

    Raises
    ------
    Faults
        As for ``trailer_with``.
    """
    return read_thing(TruckThing, {**table, "weights": {**table.get("weights", {}), **_values(proposals)}})


def _values(proposals: tuple[Proposal, ...]) -> dict[str, Any]:
    return {
        p.field.partition(".")[2]: {"value": p.number, "basis": "weighed", "plus_minus": p.plus_minus}
        for p in proposals
    }


def apply_to_unit(row: TicketRow, *, by: User, seen_version: int, seen_unit: int) -> tuple[Proposal, ...]:
    """Write the trailer's weights into the unit as weighed; its ratings stay as they are.

    Parameters
    ----------
    row : Ticket
    by : User
    seen_version, seen_unit : int
        Versions of the ticket and of the unit the person had before them.

    Raises
    ------
    StaleError
        If somebody else saved the ticket or the unit meanwhile.
    Faults
        If a value contradicts what else is stored.
    """
    proposals = open_proposals(answer_of(row), OF_TRAILER)
    trailer = trailer_with(row, proposals)
    with transaction.atomic():
        change_unit(row.unit, trailer, by=by, seen_version=seen_unit)
        _applied(row, OF_TRAILER, proposals, by=by, seen_version=seen_version, more=f" into unit {row.unit}")
    return proposals


def apply_to_truck(
    row: TicketRow, *, hauls: tuple[Haul, ...], by: User, seen_version: int, seen_truck: int
) -> tuple[Proposal, ...]:
    """Write the truck's axle weights into the kept truck and into the hauls chosen, which have copies of their own.

    Parameters
    ----------
    row : Ticket
    hauls : tuple of Haul
    by : User
    seen_version, seen_truck : int
        Versions of the ticket and of the kept truck the person had before them.

    Raises
    ------
    StaleError, Faults
        As for ``apply_to_unit``.
    """
    from rubrail.desk.hauls import change_haul

    proposals = open_proposals(answer_of(row), OF_TRUCK)
    with transaction.atomic():
        if row.truck_id:
            thing = truck_with(row.truck.spec, proposals)
            it = row.truck
            change_kept(SORTS["truck"], it, name=it.name, thing=thing, by=by, seen_version=seen_truck)
        for haul in hauls:
            table = {**haul.spec, "truck": stored(truck_with(haul.spec["truck"], proposals))}
            thing = read_thing(HaulThing, table, where=str(haul))
            change_haul(haul, thing, buyer=haul.buyer, title=haul.title, by=by, seen_version=haul.version)
            if row.haul_id == haul.pk:
                row.haul = haul
        name = row.truck.name if row.truck_id else str(truck_table(row).get("title") or "the truck")
        _applied(row, OF_TRUCK, proposals, by=by, seen_version=seen_version, more=f" into {name}")
    return proposals


def _applied(
    row: TicketRow, of: str, proposals: tuple[Proposal, ...], *, by: User, seen_version: int, more: str
) -> None:
    kept = {
        "at": clock.today().isoformat(),
        "by": by.name,
        "fields": [
            {
                "field": p.field,
                "number": p.number,
                "plus_minus": p.plus_minus,
                "before": None if p.before != p.before else p.before,
                "before_basis": p.before_basis,
            }
            for p in proposals
        ],
    }
    values = {"applied": {**row.applied, of: kept}, "waits": _told(row)["waits"]}
    save_changes(row, values=values, deltas=(), by=by, seen_version=seen_version)
    record(by=by, action="applied", thing=row, more=more)


def hauls_with(row: TicketRow) -> list[Haul]:
    """Open hauls whose truck is the one weighed: the ticket's own, and those that began from the kept truck."""
    found = {row.haul_id: row.haul} if row.haul_id and not row.haul.closed else {}
    ident = str((truck_table(row) or {}).get("id", ""))
    # Many hauls begin from one class: its id says nothing of whose truck it is.
    if row.truck_id and is_own(SORTS["truck"], ident):
        for haul in Haul.objects.filter(closed=False, spec__truck__id=ident)[:40]:
            found.setdefault(haul.pk, haul)
    return list(found.values())
