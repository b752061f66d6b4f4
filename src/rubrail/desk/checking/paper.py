"""A checklist as paper: as it was entered and signed, or empty to be filled by hand."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from rubrail.answers.checklist_judge import judge
from rubrail.desk import clock
from rubrail.desk.as_printed import title_printed
from rubrail.desk.checking.entries import entry_words
from rubrail.desk.checking.lists import entries_for, latest, lines_for, lines_of, photos_of, result_of
from rubrail.desk.models import CheckEntry, Checklist, Unit, User
from rubrail.desk.models.checks import CheckState
from rubrail.desk.sales.quotes import said_date
from rubrail.sheets.paper.blocks import Paper
from rubrail.sheets.paper.checklist import ChecklistFacts, Signed, checklist_paper
from rubrail.sheets.paper.made import Stamp
from rubrail.sheets.sentences_checklist import line_words, result_sentence

NOT_SIGNED = "Not signed yet. "


def paper_of(it: Checklist, *, stamp: Stamp, user: User) -> Paper:
    """The paper of a list as it stands; of a signed one the result as signed, and later looks beneath."""
    lines, entered, photos = lines_of(it), *_when_signed(it)
    metric, today = user.measures == "metric", clock.today()
    entries = entries_for(lines, entered, photos)
    open_ = it.state == CheckState.OPEN
    found = {}
    for line in lines:
        entry, pictures = entered.get(line.key), photos.get(line.key, ())
        said = [entry_words(line, entry.value, metric=metric)] if entry else []
        if pictures:
            said.append("1 photo" if len(pictures) == 1 else f"{len(pictures)} photos")
        if said:
            found[line.key] = ("; ".join(filter(None, said)), _by(entry, pictures))
    unit = it.about.get("unit", {})
    says = NOT_SIGNED + result_sentence(result_of(it), sort=it.sort) if open_ else it.result.get("says", "")
    if it.state == CheckState.RELEASED:
        says = f"Released after another look, {moment_words(it.released)}. As signed: {says}"
    facts = ChecklistFacts(
        lines=lines,
        unit=unit.get("stock_number", str(it.unit)),
        title=unit.get("says", str(it.unit)),
        sort=it.sort,
        found=found,
        judged={line.key: judge(line, entries.get(line.key), on=today) for line in lines},
        says=says,
        outcome="hold" if open_ else it.state if it.state != CheckState.DROPPED else "open",
        facts=_head(it, unit),
        signatures=[
            Signed(s["name"], s["role"], moment_words(datetime.fromisoformat(s["at"])), s["strokes"])
            for s in it.signatures
        ],
        later=_later(it, metric=metric),
        yard=stamp.yard,
        date=stamp.date,
        link=stamp.link,
    )
    return checklist_paper(facts, metric=metric)


def blank_paper(unit: Unit, *, sort: str, stamp: Stamp, user: User) -> Paper:
    """An empty list of a unit as it stands now.

    Raises
    ------
    UnreadableUnitError
        If what is stored of the unit no longer reads.
    """
    facts = ChecklistFacts(
        lines=lines_for(unit, sort=sort),
        unit=unit.stock_number,
        title=title_printed(unit),
        sort=sort,
        facts=(("Stock number", unit.stock_number), ("VIN", unit.vin or "")),
        yard=stamp.yard,
        date=stamp.date,
        link=stamp.link,
    )
    return checklist_paper(facts, metric=user.measures == "metric")


def _when_signed(it: Checklist) -> tuple[dict[str, CheckEntry], dict[str, Any]]:
    """Entries and photos by line: all of a list under way, of a signed one those it was signed with."""
    if not it.finished:
        return latest(it), photos_of(it)
    entries = it.entries.filter(at__lte=it.finished).select_related("by").order_by("pk")
    photos = {key: [p for p in held if p.added <= it.finished] for key, held in photos_of(it).items()}
    return {e.line: e for e in entries}, {key: held for key, held in photos.items() if held}


def _head(it: Checklist, unit: dict[str, Any]) -> list[tuple[str, str]]:
    begun = moment_words(it.created) + (f", {it.created_by.name}" if it.created_by else "")
    rows = [("Stock number", unit.get("stock_number", "")), ("VIN", unit.get("vin") or "not known"), ("Begun", begun)]
    if it.finished:
        rows.append(("Signed", moment_words(it.finished) + (f", {it.finished_by.name}" if it.finished_by else "")))
    if it.released:
        rows.append(("Released", moment_words(it.released)))
    return rows


def _later(it: Checklist, *, metric: bool) -> list[str]:
    """What was entered after the list was signed."""
    if not it.finished:
        return []
    by_key = {line.key: line for line in lines_of(it)}
    rows = it.entries.filter(at__gt=it.finished).select_related("by").order_by("pk")
    return [
        f"{line_words(by_key[e.line]).title}: {entry_words(by_key[e.line], e.value, metric=metric)};"
        f" {e.by.name}, {moment_words(e.at)}."
        for e in rows
        if e.line in by_key
    ]


def _by(entry: CheckEntry | None, pictures: Any) -> str:
    if entry is not None:
        return f"{entry.by.name}, {moment_words(entry.seen_at or entry.at)}"
    first = pictures[0]
    return f"{first.added_by.name if first.added_by else ''}, {moment_words(first.added)}".removeprefix(", ")


def moment_words(moment: datetime) -> str:
    """A moment as paper says it: the day, and the time by the yard's clock."""
    at = clock.local(moment)
    return f"{said_date(at.date())}, {at.hour % 12 or 12}:{at:%M} {'am' if at.hour < 12 else 'pm'}"
