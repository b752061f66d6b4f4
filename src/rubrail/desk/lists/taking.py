"""Take a list in: every unit of it or none, with the trail, unless something moved since somebody looked at it."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from rubrail.desk import clock, stock
from rubrail.desk.audit import Delta, record_all, record_all_changes
from rubrail.desk.collector import at_rest
from rubrail.desk.derived import COLUMNS, derived, is_fresh
from rubrail.desk.editing import StaleError
from rubrail.desk.lists.plan import CHANGED, FAULTY, NEW, Plan
from rubrail.desk.models import Incoming, Unit, User
from rubrail.desk.models.stock import Status
from rubrail.desk.price_days import note_prices
from rubrail.desk.standing import look_after

AT_ONCE = 200
WORKED_FROM = ("spec", "price_usd")
"""Columns of a unit that the engine works from."""


class FaultyError(ValueError):
    """Rows are at fault and not left out; nothing was written."""


class GoneError(LookupError):
    """The uploaded list is no longer there: taken in already, let go or expired; nothing was written."""


@dataclass(frozen=True, slots=True)
class Taken:
    """How many units a list added and changed, and how many it says are sold now."""

    new: int
    changed: int
    sold: int = 0

    @property
    def said(self) -> str:
        """In words."""
        new = f"{self.new:,} {'unit is' if self.new == 1 else 'units are'} new" if self.new else ""
        changed = f"{self.changed:,} {'unit is' if self.changed == 1 else 'units are'} changed" if self.changed else ""
        sold = f"{self.sold:,} of them sold" if self.sold else ""
        return ", ".join(filter(None, (new, changed, sold)))


def take_in(plan: Plan, *, incoming: Incoming, by: User) -> Taken:
    """Write what a plan says, all of it or nothing, and let the uploaded list go.

    Parameters
    ----------
    plan : Plan
        Worked out from what is stored now.
    incoming : Incoming
        Where it came from.
    by : User
        Who takes it in.

    Raises
    ------
    FaultyError
        If a row that is not left out is at fault.
    StaleError
        If a unit was added, changed or removed while the plan was being worked out.
    GoneError
        If the list was taken in or let go meanwhile.
    """
    if plan.of(FAULTY):
        raise FaultyError
    try:
        with at_rest():
            return _taken(plan, _ready(plan, by), incoming, by)
    except IntegrityError:
        # On a database that lets others write meanwhile, somebody may have taken a number after we looked.
        raise StaleError from None


def _taken(plan: Plan, ready: _Ready, incoming: Incoming, by: User) -> Taken:
    with transaction.atomic():
        if not Incoming.objects.select_for_update().filter(pk=incoming.pk).exists():
            raise GoneError
        _refuse_if_moved(plan)
        batch = uuid.uuid4()
        record_all(by=by, action="loaded", things=_add(ready.added), batch=batch)
        _change(ready.worked, worked=True)
        _change(ready.kept, worked=False)
        record_all_changes(by=by, changes=ready.changes, batch=batch)
        note_prices([u for u, deltas in ready.changes if any(d.field == "price_usd" for d in deltas)], by=by)
        # Whether buyers are owed calls on what a list says was sold, whenever that was, somebody is asked.
        look_after(ready.moved, day=clock.today(), by=by, plans=False)
        Incoming.objects.filter(pk=incoming.pk).delete()
    sold = [u for u in (*ready.added, *(u for u, _ in ready.moved)) if u.status == Status.SOLD]
    return Taken(len(ready.added), len(ready.changes), len(sold))


@dataclass(frozen=True, slots=True)
class _Ready:
    """Units as they will be stored, the changed ones with what changes, in words.

    Of a unit in ``kept`` everything the engine works from stays, and so does what it worked out; ``moved`` has those
    whose status changes, with the one before.
    """

    added: list[Unit]
    worked: list[Unit]
    kept: list[Unit]
    changes: list[tuple[Unit, list[Delta]]]
    moved: list[tuple[Unit, str]]


def _ready(plan: Plan, by: User) -> _Ready:
    """Everything that needs no lock; the engine's part takes longest."""
    new, changed = plan.of(NEW), plan.of(CHANGED)
    says = {o.number: stock.said(o.trailer) for o in changed}
    anew = [
        o for o in changed if not is_fresh(o.unit) or any(says[o.number][n] != getattr(o.unit, n) for n in WORKED_FROM)
    ]
    worked_out = derived([o.trailer for o in (*new, *anew)])
    added = [stock.said(o.trailer) | columns for o, columns in zip(new, worked_out, strict=False)]
    says |= {o.number: says[o.number] | columns for o, columns in zip(anew, worked_out[len(new) :], strict=True)}
    before = {o.unit.pk: o.unit.status for o in changed}
    changes = [(o.unit, _moved_on(o.unit, says[o.number])) for o in changed]
    worked = {o.unit.pk for o in anew}
    return _Ready(
        [Unit(created_by=by, **values) for values in added],
        [o.unit for o in anew],
        [o.unit for o in changed if o.unit.pk not in worked],
        changes,
        [(o.unit, before[o.unit.pk]) for o in changed if o.unit.status != before[o.unit.pk]],
    )


def _moved_on(unit: Unit, values: Mapping[str, Any]) -> list[Delta]:
    """Give a unit its new values; what changes by that, in words."""
    deltas = [d for d in stock.deltas_between(unit, values) if d.old != d.new]
    along = {} if values["status"] == unit.status else stock.moved()
    for name, value in {**values, **along}.items():
        setattr(unit, name, value)
    unit.version += 1
    return deltas


def _refuse_if_moved(plan: Plan) -> None:
    """Stop if any unit of the list has another version by now, or a new one's number is taken; holds the rows."""
    now = Unit.objects.select_for_update().order_by("pk").values_list("stock_number", "version")
    versions = {number.lower(): version for number, version in now}
    if any(versions.get(number) != version for number, version in plan.seen.items()):
        raise StaleError
    if any(outcome.stock_number.lower() in versions for outcome in plan.of(NEW)):
        raise StaleError


def _add(units: Sequence[Unit]) -> list[Unit]:
    return Unit.objects.bulk_create(units, batch_size=AT_ONCE)


def _change(units: Sequence[Unit], *, worked: bool) -> None:
    """Write changed units in few statements; they are there, so each insertion becomes a change.

    ``worked`` says whether what the engine worked out is written with them.
    """
    if not units:
        return
    left = ("id", "created", "created_by", *(() if worked else COLUMNS))
    names = [f.name for f in Unit._meta.concrete_fields if f.name not in left]
    if not worked:
        for unit in units:
            # Not read with the unit and not written either; the statement only wants to see something there.
            unit.packed = unit.thumbnail = None
    Unit.objects.bulk_create(
        units, batch_size=AT_ONCE, update_conflicts=True, unique_fields=["id"], update_fields=names
    )


def let_go_expired(now: datetime | None = None) -> int:
    """Remove uploaded lists that nobody took in within their time; how many."""
    late = Incoming.objects.filter(expires__lte=now or timezone.now())
    # Looking costs nothing; removing, even of nothing, takes the one lock of a small database.
    return late.delete()[0] if late.exists() else 0
