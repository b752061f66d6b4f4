"""Take a list in: every unit of it or none, with the trail, unless something moved since somebody looked at it."""

from __future__ import annotations

import uuid
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import IntegrityError, transaction
from django.utils import timezone

from rubrail.desk import stock
from rubrail.desk.audit import Delta, record_all, record_all_changes
from rubrail.desk.editing import StaleError
from rubrail.desk.lists.plan import CHANGED, FAULTY, NEW, Plan
from rubrail.desk.models import Incoming, Unit, User
from rubrail.desk.stock import deltas_between, moved, take_all_apart

AT_ONCE = 200


class FaultyError(ValueError):
    """Rows are at fault and not left out; nothing was written."""


class GoneError(LookupError):
    """The uploaded list is no longer there: taken in already, let go or expired; nothing was written."""


@dataclass(frozen=True, slots=True)
class Taken:
    """How many units a list added and changed."""

    new: int
    changed: int

    @property
    def said(self) -> str:
        """In words."""
        new = f"{self.new:,} {'unit is' if self.new == 1 else 'units are'} new" if self.new else ""
        changed = f"{self.changed:,} {'unit is' if self.changed == 1 else 'units are'} changed" if self.changed else ""
        return ", ".join(filter(None, (new, changed)))


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
    ready = _ready(plan, by)
    try:
        with transaction.atomic():
            if not Incoming.objects.select_for_update().filter(pk=incoming.pk).exists():
                raise GoneError
            _refuse_if_moved(plan)
            batch = uuid.uuid4()
            record_all(by=by, action="loaded", things=_add(ready.added), batch=batch)
            _change([unit for unit, _ in ready.changed], ready.columns)
            record_all_changes(by=by, changes=ready.changed, batch=batch)
            Incoming.objects.filter(pk=incoming.pk).delete()
    except IntegrityError:
        # On a database that lets others write meanwhile, somebody may have taken a number after we looked.
        raise StaleError from None
    return Taken(len(ready.added), len(ready.changed))


@dataclass(frozen=True, slots=True)
class _Ready:
    """Units as they will be stored, the changed ones with what changes, and the columns that are written."""

    added: list[Unit]
    changed: list[tuple[Unit, list[Delta]]]
    columns: Collection[str]


def _ready(plan: Plan, by: User) -> _Ready:
    """Everything that needs no lock; the engine's part takes longest."""
    new, changed = plan.of(NEW), plan.of(CHANGED)
    columns = take_all_apart([o.trailer for o in (*new, *changed)])
    added = [Unit(created_by=by, **values) for values in columns[: len(new)]]
    told = []
    for outcome, values in zip(changed, columns[len(new) :], strict=True):
        unit = outcome.unit
        told.append((unit, [d for d in deltas_between(unit, values) if d.old != d.new]))
        if unit.status != values["status"]:
            values |= moved()
        along = {} if values["status"] == unit.status else stock.moved()
        for name, value in {**values, **along}.items():
            setattr(unit, name, value)
        unit.version += 1
    return _Ready(added, told, {**columns[0], **stock.moved()}.keys() if columns else ())


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


def _change(units: Sequence[Unit], columns: Collection[str]) -> None:
    """Write changed units in few statements; they are there, so each insertion becomes a change."""
    if units:
        fields = list(dict.fromkeys((*columns, *moved(), "version", "updated")))
        Unit.objects.bulk_create(
            units, batch_size=AT_ONCE, update_conflicts=True, unique_fields=["id"], update_fields=fields
        )


def let_go_expired(now: datetime | None = None) -> int:
    """Remove uploaded lists that nobody took in within their time; how many."""
    return Incoming.objects.filter(expires__lte=now or timezone.now()).delete()[0]
