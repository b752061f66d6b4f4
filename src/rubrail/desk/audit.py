"""Write the trail: who changed what, when, from what to what, as rows and as plain sentences."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.utils import timezone

from rubrail.desk.models import (
    Book,
    Change,
    Checklist,
    FollowUp,
    Haul,
    Machine,
    Order,
    Quote,
    Receipt,
    Ticket,
    Truck,
    Unit,
    User,
)
from rubrail.desk.permissions import permission

NOBODY = "rubrail itself"


class UnknownActionError(LookupError):
    """Code recorded an action that was never declared."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of thing the trail tells of: its stable name, the word people read, who may read of it."""

    name: str
    word: str
    permission: str


KINDS = {
    Unit: Kind("unit", "unit", "yard.see"),
    User: Kind("person", "person", "people.manage"),
    Truck: Kind("truck", "truck", "haul.see"),
    Machine: Kind("machine", "machine", "haul.see"),
    Haul: Kind("haul", "haul", "haul.see"),
    Book: Kind("book", "file", "yard.see"),
    Order: Kind("order", "order", "quote.see"),
    Quote: Kind("quote", "quote", "quote.see"),
    Receipt: Kind("receipt", "receipt", "yard.see"),
    Ticket: Kind("ticket", "scale ticket", "yard.see"),
    FollowUp: Kind("follow-up", "follow-up", "yard.see"),
    Checklist: Kind("check", "checklist", "yard.see"),
}
KIND_BY_NAME = {kind.name: kind for kind in KINDS.values()}

ACTIONS = {
    "added": "{who} added {kind} {name}.",
    "changed": "",  # written per field, by ``sentence``
    "loaded": "{who} loaded {kind} {name} from a file.",
    "sold": "{who} sold {kind} {name}{more}.",
    "sold for": "{who} sold {kind} {name} for {more}.",
    "held": "{who} held {kind} {name} for a buyer{more}.",
    "released": "{who} released {kind} {name}{more}.",
    "taken in": "{who} took {kind} {name} in{more}.",
    "brought back": "{who} brought {kind} {name} back{more}.",
    "retired": "{who} retired {kind} {name}{more}.",
    "photo added": "{who} added a photo to {kind} {name}.",
    "photo removed": "{who} removed a photo of {kind} {name}.",
    "photo moved": "{who} put the photos of {kind} {name} in another order.",
    "listed": "{who} put {kind} {name} on the public pages.",
    "unlisted": "{who} took {kind} {name} off the public pages.",
    "worded": "{who} changed the own words in the listing of {kind} {name}.",
    "price looked at": "{who} looked at the price of {kind} {name}: it is still right.",
    "kept": "{who} kept {kind} {name} for next time.",
    "put aside": "{who} put {kind} {name} aside.",
    "taken up": "{who} took {kind} {name} up again.",
    "offered": "{who} offered {kind} {name}{more}.",
    "accepted": "{who} accepted {kind} {name}{more}.",
    "delivered": "{who} delivered {kind} {name}{more}.",
    "lost": "{who} wrote {kind} {name} off as lost{more}.",
    "withdrawn": "{who} withdrew {kind} {name}{more}.",
    "link given": "{who} gave {kind} {name} a buyer's link.",
    "link revoked": "{who} revoked the buyer's link of {kind} {name}.",
    "sent": "{who} sent {kind} {name} to the maker.",
    "confirmed": "{who} noted that the maker confirmed {kind} {name}{more}.",
    "arrived": "{who} noted that {kind} {name} arrived.",
    "dropped": "{who} dropped {kind} {name}{more}.",
    "begun": "{who} began {kind} {name}{more}.",
    "excepted": "{who} accepted {kind} {name} with exceptions{more}.",
    "refused": "{who} refused {kind} {name}{more}.",
    "damage marked": "{who} marked damage on {kind} {name}: {more}.",
    "damage taken away": "{who} took a damage mark off {kind} {name}: {more}.",
    "applied": "{who} took the weights of {kind} {name} over{more}.",
    "planned": "{who} planned {kind} {name}{more}.",
    "done": "{who} noted {kind} {name} as done{more}.",
    "moved": "{who} moved {kind} {name}{more}.",
    "calendar given": "{who} made a calendar address for {name}.",
    "calendar ended": "{who} ended the calendar address of {name}.",
    "given up": "{who} gave {kind} {name} up.",
    "renewed": "{who} took the unit's figures of now into {kind} {name}.",
    "signed": "{who} signed {kind} {name}{more}.",
    "filed": "{who} wrote what {kind} {name} says{more}.",
    "closed": "{who} closed the account of {name}.",
    "opened": "{who} opened the account of {name} again.",
    "first password": "{who} gave {name} a new first password.",
    "own password": "{who} chose a new password.",
    "set up": "{who} set up this desk and became its owner.",
}
"""Actions by their stable names. The trail keeps the sentence as it was written, so wording may change here later."""


@dataclass(frozen=True, slots=True)
class Delta:
    """One field that changes, in words. ``old`` or ``new`` empty means not known or not set."""

    field: str
    label: str
    old: str
    new: str
    permission: str


def kind_of(thing: Any) -> Kind:
    """The kind of a stored thing."""
    # The person signed in comes wrapped, and only its __class__ tells what it is.
    return KINDS[thing.__class__]


def sentence(*, who: str, delta: Delta, kind: Kind, name: str) -> str:
    """One change of one field, as a person would say it."""
    of = f"{name}" if kind.name == "person" else f"{kind.word} {name}"
    if not delta.old:
        return f"{who} set the {delta.label} of {of} to {delta.new}; it was not known."
    if not delta.new:
        return f"{who} took away the {delta.label} of {of}; it was {delta.old}."
    return f"{who} changed the {delta.label} of {of} from {delta.old} to {delta.new}."


def record(
    *, by: User | None, action: str, thing: Any, needs: str | None = None, more: str = "", **change: str
) -> Change:
    """Add one row for an action on a thing.

    Parameters
    ----------
    by : User or None
        Who did it; nobody signed in stands for the desk itself.
    action : str
        A name of ``ACTIONS``.
    thing : Unit, User, Truck, Machine or Haul
        What it was done to, already stored.
    needs : str, optional
        Permission one must have to read of it; the kind's own by default.
    more : str
        What the action's sentence adds in its place for it.
    change
        ``field``, ``old`` and ``new``, where the action changes a field.

    Raises
    ------
    UnknownActionError
        If the action is not declared.
    """
    row = _action(by=by, action=action, thing=thing, needs=needs, more=more, **change)
    row.save()
    return row


def record_all(
    *, by: User | None, action: str, things: Iterable[Any], batch: uuid.UUID | None = None
) -> Sequence[Change]:
    """Add one row for an action on each of many things, all under one batch.

    Raises
    ------
    UnknownActionError
        If the action is not declared.
    """
    batch = batch or uuid.uuid4()
    return Change.objects.bulk_create(
        [_action(by=by, action=action, thing=t, batch=batch) for t in things], batch_size=500
    )


def _action(
    *, by: User | None, action: str, thing: Any, needs: str | None = None, more: str = "", **columns: Any
) -> Change:
    if not ACTIONS.get(action):
        raise UnknownActionError(f"{action!r} is no action of the trail; it has {', '.join(ACTIONS)}.")
    kind = kind_of(thing)
    said = ACTIONS[action].format(who=_who(by), kind=kind.word, name=thing, more=more)
    return _row(by=by, thing=thing, action=action, permission=needs or kind.permission, sentence=said, **columns)


def record_changes(*, by: User | None, thing: Any, deltas: Iterable[Delta]) -> Sequence[Change]:
    """Add one row for each field that changed, all under one batch.

    Parameters
    ----------
    by, thing
        As for ``record``.
    deltas : iterable of Delta
        What changed; fields whose words are the same are left out.
    """
    return record_all_changes(by=by, changes=[(thing, deltas)])


def record_all_changes(
    *, by: User | None, changes: Iterable[tuple[Any, Iterable[Delta]]], batch: uuid.UUID | None = None
) -> Sequence[Change]:
    """Add one row for each field that changed of each of many things, all under one batch."""
    batch = batch or uuid.uuid4()
    rows = [
        _changed(by=by, thing=thing, delta=delta, batch=batch)
        for thing, deltas in changes
        for delta in deltas
        if delta.old != delta.new
    ]
    with transaction.atomic():
        return Change.objects.bulk_create(rows, batch_size=500)


def _changed(*, by: User | None, thing: Any, delta: Delta, batch: uuid.UUID) -> Change:
    permission(delta.permission)
    said = sentence(who=_who(by), delta=delta, kind=kind_of(thing), name=str(thing))
    return _row(
        by=by,
        thing=thing,
        action="changed",
        permission=delta.permission,
        sentence=said,
        batch=batch,
        field=delta.field,
        old=delta.old,
        new=delta.new,
    )


def _who(by: User | None) -> str:
    return by.name if by else NOBODY


def _row(*, by: User | None, thing: Any, batch: uuid.UUID | None = None, **fields: Any) -> Change:
    return Change(
        at=timezone.now(),
        who=by,
        who_name=_who(by),
        kind=kind_of(thing).name,
        thing=thing.pk,
        thing_name=str(thing)[:120],
        batch=batch or uuid.uuid4(),
        **fields,
    )
