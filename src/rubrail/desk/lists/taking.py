"""Take a list in: every unit of it or none, with the trail, unless something moved since somebody looked at it."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import IntegrityError, transaction
from django.utils import timezone

from rubrail.desk.audit import Delta, record_all, record_all_changes
from rubrail.desk.editing import StaleError
from rubrail.desk.lists.plan import CHANGED, FAULTY, NEW, Outcome, Plan
from rubrail.desk.models import Incoming, Unit, User
from rubrail.desk.stock import deltas_between, take_all_apart

AT_ONCE = 200
KEPT_AS_THEY_ARE = ("id", "created", "created_by")


class FaultyError(ValueError):
    """Rows are at fault and not left out; nothing was written."""


class GoneError(LookupError):
    """The uploaded list is no longer there: taken in already, let go or expired; nothing was written."""


@dataclass(frozen=True, slots=True)
class Taken:
    """How many units a list added and changed."""

    new: int
    changed: int


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
    new, changed = plan.of(NEW), plan.of(CHANGED)
    # The engine's part takes longest and needs no lock, so it comes before the transaction.
    columns = take_all_apart([o.trailer for o in (*new, *changed)])
    added = [Unit(created_by=by, **c) for c in columns[: len(new)]]
    deltas = [
        [d for d in deltas_between(o.unit, c) if d.old != d.new]
        for o, c in zip(changed, columns[len(new) :], strict=True)
    ]
    for outcome, values in zip(changed, columns[len(new) :], strict=True):
        for name, value in values.items():
            setattr(outcome.unit, name, value)
        outcome.unit.version += 1
    try:
        return _written(incoming, plan, new, added, changed, deltas, by)
    except IntegrityError:
        # On a database that lets others write meanwhile, somebody may have taken a number after we looked.
        raise StaleError from None


def _written(
    incoming: Incoming,
    plan: Plan,
    new: Sequence[Outcome],
    added: Sequence[Unit],
    changed: Sequence[Outcome],
    deltas: Sequence[Sequence[Delta]],
    by: User,
) -> Taken:
    with transaction.atomic():
        if not Incoming.objects.select_for_update().filter(pk=incoming.pk).exists():
            raise GoneError
        _refuse_if_moved(plan, new)
        batch = uuid.uuid4()
        added = Unit.objects.bulk_create(added, batch_size=AT_ONCE)
        _write([o.unit for o in changed])
        record_all(by=by, action="loaded", things=added, batch=batch)
        told = [(o.unit, d) for o, d in zip(changed, deltas, strict=True)]
        record_all_changes(by=by, changes=told, batch=batch)
        Incoming.objects.filter(pk=incoming.pk).delete()
    return Taken(len(added), len(changed))


def _refuse_if_moved(plan: Plan, new: Sequence[Outcome]) -> None:
    """Stop if any unit of the list has another version by now, or a new one's number is taken; holds the rows."""
    now = Unit.objects.select_for_update().order_by("pk").values_list("stock_number", "version")
    versions = {number.lower(): version for number, version in now}
    if any(versions.get(number) != version for number, version in plan.seen.items()):
        raise StaleError
    if any(outcome.stock_number.lower() in versions for outcome in new):
        raise StaleError


def _write(units: Sequence[Unit]) -> None:
    """Write changed units in few statements; they are there, so each insertion becomes a change."""
    if not units:
        return
    names = [f.name for f in Unit._meta.concrete_fields if f.name not in KEPT_AS_THEY_ARE]
    Unit.objects.bulk_create(
        units, batch_size=AT_ONCE, update_conflicts=True, unique_fields=["id"], update_fields=names
    )


def let_go_expired(now: datetime | None = None) -> int:
    """Remove uploaded lists that nobody took in within their time; how many."""
    return Incoming.objects.filter(expires__lte=now or timezone.now()).delete()[0]
