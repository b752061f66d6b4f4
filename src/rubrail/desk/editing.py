"""Change stored things without overwriting each other: every save says which version it saw."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.db import models, transaction
from django.utils import timezone

from rubrail.desk.audit import Delta, record_changes
from rubrail.desk.models import User


class StaleError(Exception):
    """Somebody else saved the thing since this person opened it; nothing was written."""


def save_changes(
    thing: models.Model, *, values: Mapping[str, Any], deltas: Iterable[Delta], by: User | None, seen_version: int
) -> None:
    """Write ``values`` to a stored thing and the trail, together or not at all.

    Parameters
    ----------
    thing : model instance
        Updated in place as well.
    values : mapping
        Column to new value; nothing is written where it is empty.
    deltas : iterable of Delta
        The same changes in words.
    by : User or None
        Who changes it.
    seen_version : int
        Version the person had before them.

    Raises
    ------
    StaleError
        If the stored version is another one.
    """
    if not values:
        return
    changes = dict(values)
    if any(f.name == "updated" for f in thing._meta.fields):
        changes["updated"] = timezone.now()
    with transaction.atomic():
        mine = type(thing)._default_manager.filter(pk=thing.pk, version=seen_version)
        if not mine.update(version=seen_version + 1, **changes):
            raise StaleError(str(thing))
        for name, value in changes.items():
            setattr(thing, name, value)
        thing.version = seen_version + 1
        record_changes(by=by, thing=thing, deltas=deltas)


def version_in(data: Mapping[str, Any], name: str = "seen") -> int:
    """A version that a form carries; 0, which no thing has, for anything else."""
    text = data.get(name, "")
    return int(text) if isinstance(text, str) and text.isdecimal() and len(text) < 10 else 0


@dataclass(frozen=True, slots=True)
class Meanwhile:
    """A field that somebody else changed while this person had the form open.

    ``seen`` is what the form showed when it was opened, ``theirs`` what is stored now, ``mine`` what was sent.
    """

    name: str
    seen: Any
    theirs: Any
    mine: Any

    @property
    def both(self) -> bool:
        """Whether this person changed it too, to something else."""
        return self.mine not in (self.seen, self.theirs)


def merge(
    *, seen: Mapping[str, Any], theirs: Mapping[str, Any], mine: Mapping[str, Any]
) -> tuple[dict[str, Any], list[Meanwhile]]:
    """What the form should show now, and every field somebody else changed meanwhile.

    Nobody's work is lost: a field only they changed takes their value, a field this person changed keeps this
    person's, with theirs beside it to choose.

    Parameters
    ----------
    seen, theirs, mine : mapping
        Field to value, as the form writes it: when opened, as stored now, as sent.
    """
    merged = dict(mine)
    changed = []
    for name in [*theirs, *(n for n in seen if n not in theirs)]:
        was, now, sent = seen.get(name, ""), theirs.get(name, ""), mine.get(name, "")
        if was == now:
            continue
        changed.append(Meanwhile(name, was, now, sent))
        if sent == was:
            merged[name] = now
    return merged, changed
