"""Checklists: begun from a unit, given up, brought up to the unit's new figures, finished."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from rubrail.answers.checklist import checklist
from rubrail.answers.checklist_judge import result
from rubrail.answers.checklist_parts import Entry, Line, Result, line_of
from rubrail.desk import clock
from rubrail.desk.as_printed import as_printed
from rubrail.desk.audit import record
from rubrail.desk.books import in_force, thing_in
from rubrail.desk.models import CheckEntry, Checklist, Photo, Unit, User
from rubrail.desk.models.books import Sort
from rubrail.desk.models.checks import CheckState
from rubrail.desk.photographs import photos_about
from rubrail.desk.signatures import Signature
from rubrail.desk.stock import readable
from rubrail.sheets.sentences_checklist import MARK_WORDS, judged_sentence, line_words, result_sentence
from rubrail.things.checks import Checks
from rubrail.things.faults import Faults
from rubrail.things.trailer import Trailer

SORTS = {"inspection": "Pre-delivery inspection", "round": "Yard round", "handover": "Hand-over"}
"""Sorts of list by their stored word."""
FINISHED = (CheckState.RELEASE, CheckState.HOLD, CheckState.RELEASED)


class UnreadableUnitError(ValueError):
    """What is stored of the unit no longer reads, so no list can be computed from it."""


def own_checks() -> list[Checks]:
    """The yard's own lines that hold today; a file that no longer reads is passed over."""
    found = []
    for book in in_force(Sort.CHECKS, on=clock.today()):
        try:
            found.append(thing_in(book))
        except Faults:
            continue
    return found


def trailer_read(trailer: Trailer | None) -> Trailer:
    """The trailer of a unit, where what is stored of it reads.

    Raises
    ------
    UnreadableUnitError
        If it does not.
    """
    if trailer is None:
        raise UnreadableUnitError("What is stored of this unit no longer reads. Correct the unit first.")
    return trailer


def lines_for(unit: Unit, *, sort: str) -> tuple[Line, ...]:
    """Lines of a list as the unit stands now.

    Raises
    ------
    UnreadableUnitError
        If what is stored of the unit no longer reads.
    """
    # Its color is a line of the list, and the list goes to the buyer.
    trailer = as_printed(unit, trailer_read(readable(unit))).trailer
    return checklist(trailer, sort=sort, own=own_checks())


def begin(unit: Unit, *, sort: str, by: User) -> Checklist:
    """A list begun, its lines frozen as the unit stands; the one under way where there is one of that sort.

    Raises
    ------
    UnreadableUnitError
        If what is stored of the unit no longer reads.
    """
    with transaction.atomic():
        # Two who begin at once wait here for each other.
        Unit.objects.select_for_update().get(pk=unit.pk)
        there = unit.checklists.filter(sort=sort, state=CheckState.OPEN).first()
        if there is not None:
            return there
        lines = [line.table() for line in lines_for(unit, sort=sort)]
        about = {"unit": {"stock_number": unit.stock_number, "says": unit.says, "vin": unit.vin}}
        made = Checklist.objects.create(unit=unit, sort=sort, lines=lines, about=about, created_by=by)
        record(by=by, action="begun", thing=made)
    return made


def drop(it: Checklist, *, by: User) -> bool:
    """Give up a list under way; what was entered stays stored. False where it was finished meanwhile."""
    with transaction.atomic():
        mine = Checklist.objects.filter(pk=it.pk, state=CheckState.OPEN)
        if not mine.update(state=CheckState.DROPPED, version=it.version + 1, updated=timezone.now()):
            return False
        record(by=by, action="given up", thing=it)
    return True


def renew(it: Checklist, *, by: User) -> bool:
    """Take the unit's figures of now into a list under way; entries stay at the lines that are still there."""
    lines = [line.table() for line in lines_for(it.unit, sort=it.sort)]
    with transaction.atomic():
        mine = Checklist.objects.filter(pk=it.pk, state=CheckState.OPEN)
        if not mine.update(lines=lines, version=it.version + 1, updated=timezone.now()):
            return False
        record(by=by, action="renewed", thing=it)
    return True


def lines_of(it: Checklist) -> list[Line]:
    """Its lines, as they were frozen."""
    return [line_of(table) for table in it.lines]


def latest(it: Checklist) -> dict[str, CheckEntry]:
    """The entry that counts of each line."""
    return {entry.line: entry for entry in it.entries.select_related("by").order_by("pk")}


def photos_of(it: Checklist) -> dict[str, list[Photo]]:
    """Photos of each line, in their order."""
    found: dict[str, list[Photo]] = {}
    for photo in photos_about(it).select_related("added_by"):
        found.setdefault(str(photo.spot.get("line", "")), []).append(photo)
    return found


def entry_of(value: Mapping[str, Any], *, photos: int = 0) -> Entry:
    """What is stored of an entry, as the engine judges it."""
    return Entry(value.get("answer", ""), tuple(value.get("numbers", ())), str(value.get("text", "")), photos=photos)


def entries_for(
    lines: Sequence[Line], entered: Mapping[str, CheckEntry], photos: Mapping[str, Sequence[Any]]
) -> dict[str, Entry]:
    """What was entered at each line; a photo alone is an entry too."""
    return {
        line.key: entry_of(
            entered[line.key].value if line.key in entered else {}, photos=len(photos.get(line.key, ()))
        )
        for line in lines
        if line.key in entered or line.key in photos
    }


def result_of(it: Checklist) -> Result:
    """What a list comes to with what was entered until now."""
    lines = lines_of(it)
    return result(lines, entries_for(lines, latest(it), photos_of(it)), on=clock.today())


def result_table(told: Result, *, sort: str) -> dict[str, Any]:
    """A result as a finished list keeps it: in words, as it was signed."""
    rows = {
        name: [
            {
                "line": r.line.key,
                "title": line_words(r.line).title,
                "mark": r.judged.mark,
                "word": MARK_WORDS[r.judged.mark],
                "says": judged_sentence(r.line, r.judged),
            }
            for r in found
        ]
        for name, found in (("reasons", told.reasons), ("remarks", told.remarks))
    }
    return {
        "outcome": told.outcome,
        "says": result_sentence(told, sort=sort),
        "done": told.done,
        "of": told.of,
        **rows,
    }


def finish(it: Checklist, *, signature: Signature, by: User) -> Checklist:
    """Sign a list: what it comes to is frozen, release or hold. One that is finished already stays as it is."""
    with transaction.atomic():
        it = Checklist.objects.select_for_update().select_related("unit").get(pk=it.pk)
        if it.state != CheckState.OPEN:
            return it
        now = timezone.now()
        told = result_of(it)
        it.state = CheckState.RELEASE if told.outcome == "release" else CheckState.HOLD
        it.result = result_table(told, sort=it.sort)
        it.signatures = [signature.stored(at=now, role="looked at by", by=by.name)]
        it.finished, it.finished_by, it.version = now, by, it.version + 1
        it.save()
        record(by=by, action="signed", thing=it, more=f": {it.get_state_display()}")
    return it


def look_again(it: Checklist, *, by: User, now: datetime | None = None) -> bool:
    """After a later look: a held list whose every holding line is in order now is released. Whether it was."""
    if it.state != CheckState.HOLD or result_of(it).outcome != "release":
        return False
    changed = Checklist.objects.filter(pk=it.pk, state=CheckState.HOLD).update(
        state=CheckState.RELEASED, released=now or timezone.now(), updated=timezone.now()
    )
    if changed:
        it.refresh_from_db()
        record(by=by, action="released", thing=it, more=" after another look")
    return bool(changed)


def to_put_right(it: Checklist) -> set[str]:
    """Keys of the lines of a finished list that may still be looked at again: those not in order now."""
    told = result_of(it)
    return {r.line.key for r in (*told.reasons, *told.remarks)}
