"""A checklist's page: its stations, each line with what was entered, how it stands and what may be done there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from rubrail.answers.checklist_judge import judge, result
from rubrail.answers.checklist_parts import STATIONS, Judged, Line, Result, by_station
from rubrail.desk import clock
from rubrail.desk.checking.entries import entry_words, field_unit, reading_words, written_number
from rubrail.desk.checking.lists import (
    SORTS,
    UnreadableUnitError,
    entries_for,
    latest,
    lines_for,
    lines_of,
    photos_of,
)
from rubrail.desk.models import CheckEntry, Checklist, Photo, User
from rubrail.desk.models.checks import CheckState
from rubrail.desk.typed import METRIC, US
from rubrail.sheets.sentences_checklist import (
    MARK_WORDS,
    LineWords,
    judged_sentence,
    line_words,
    result_sentence,
    short_words,
)

MARKS = {"ok": "clear", "not ok": "over", "not known": "unknown", "not here": "clear", "open": "unknown"}
"""Shape and color of how a line stands."""
UNIT_WORDS = {"code": "week, year", "32nds": "/32 in"}


@dataclass(frozen=True, slots=True)
class Field:
    """A number to enter: its place, the field's name, what is in it, its unit."""

    place: str
    name: str
    value: str
    unit: str


@dataclass(frozen=True, slots=True)
class Row:
    """A line as the page shows it."""

    line: Line
    words: LineWords
    judged: Judged
    why: str
    short: str
    """What of the unit's own figures contradicts it, where ``why`` does not say so."""
    fields: tuple[Field, ...]
    picks: tuple[str, ...]
    pick: str
    text: str
    turn: int
    said: str
    reading: str
    history: tuple[CheckEntry, ...]
    told: tuple[tuple[str, CheckEntry], ...]
    photos: tuple[Photo, ...]
    open: bool
    again: bool

    @property
    def done(self) -> bool:
        """Whether it is in order, or the unit may be without it: then it takes less room."""
        return self.judged.mark in ("ok", "not here")

    @property
    def answer(self) -> str:
        """The word of the latest entry."""
        return self.history[0].value.get("answer", "") if self.history else ""

    @property
    def mark(self) -> str:
        """Shape and color."""
        return MARKS[self.judged.mark]

    @property
    def word(self) -> str:
        """How it stands, in words."""
        return MARK_WORDS[self.judged.mark]


@dataclass(frozen=True, slots=True)
class Station:
    """A station with its lines, how many were looked at, and how many are not in order."""

    key: str
    title: str
    rows: tuple[Row, ...]
    open: bool = False

    @property
    def done(self) -> int:
        """Lines looked at."""
        return sum(r.judged.mark != "open" for r in self.rows)

    @property
    def bad(self) -> int:
        """Lines not in order, or not known."""
        return sum(r.judged.mark in ("not ok", "not known") for r in self.rows)

    @property
    def mark(self) -> str:
        """Shape and color."""
        return "over" if self.bad else "clear" if self.done == len(self.rows) else "unknown"


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the page shows."""

    it: Checklist
    title: str
    told: Result
    says: str
    stations: tuple[Station, ...]
    changed: bool
    next: Row | None
    """The line to look at next, where one is left."""
    every: bool
    """Whether every station is shown open."""

    @property
    def mark(self) -> str:
        """Shape and color of the list."""
        return {CheckState.OPEN: "unknown", CheckState.DROPPED: "unknown", CheckState.HOLD: "over"}.get(
            self.it.state, "clear"
        )

    @property
    def rows(self) -> list[Row]:
        """Every line, in order."""
        return [row for station in self.stations for row in station.rows]

    @property
    def bad(self) -> list[Row]:
        """Lines not in order or not known."""
        return [row for row in self.rows if row.judged.mark in ("not ok", "not known")]

    @property
    def signed_bad(self) -> list[dict[str, Any]]:
        """Lines that were looked at and not in order when the list was signed."""
        return [r for r in self._signed if r["mark"] != "open"]

    @property
    def signed_open(self) -> list[dict[str, Any]]:
        """Lines that nobody had looked at when it was signed."""
        return [r for r in self._signed if r["mark"] == "open"]

    @property
    def _signed(self) -> list[dict[str, Any]]:
        return [*self.it.result.get("reasons", ()), *self.it.result.get("remarks", ())]

    @property
    def left(self) -> int:
        """Lines nobody looked at."""
        return self.told.of - self.told.done


def sheet_of(it: Checklist, *, user: User, at: str = "", every: bool = False) -> Sheet:
    """The page of a list, for somebody.

    Parameters
    ----------
    it : Checklist
    user : User
    at : str
        Key of the line somebody comes from: its station is open, and the next line is the first left behind it.
    every : bool
        Open every station, not only where the walk goes on.
    """
    lines, photos = lines_of(it), photos_of(it)
    history = _history(it)
    entered = {key: rows[-1] for key, rows in history.items()}
    today, metric = clock.today(), user.measures == "metric"
    told = result(lines, entries_for(lines, entered, photos), on=today)
    is_open = it.state == CheckState.OPEN
    may = user.may("unit.edit") and it.state != CheckState.DROPPED
    later = may and not is_open and it.sort != "handover"
    again = {r.line.key for r in (*told.reasons, *told.remarks)} if later else set()
    rows = {
        line.key: _row(
            line, history.get(line.key, ()), photos.get(line.key, ()), today=today, metric=metric,
            is_open=may and is_open, again=line.key in again,
        )
        for line in lines
    }  # fmt: skip
    following = _next(list(rows.values()), at) if is_open else None
    wanted = {at, following.line.key if following else ""}
    stations = tuple(
        Station(key, STATIONS[key], held, open=every or not wanted.isdisjoint(r.line.key for r in held))
        for key, of in by_station(lines).items() if (held := tuple(rows[line.key] for line in of))
    )  # fmt: skip
    return Sheet(
        it,
        SORTS[it.sort],
        told,
        result_sentence(told, sort=it.sort),
        stations,
        changed=is_open and _changed(it),
        next=following,
        every=every,
    )


def _next(rows: Sequence[Row], at: str) -> Row | None:
    """The first line nobody looked at behind another; before it, where none is left behind."""
    here = next((n for n, row in enumerate(rows) if row.line.key == at), -1)
    return next((row for row in (*rows[here + 1 :], *rows[: here + 1]) if row.judged.mark == "open"), None)


def row_of(it: Checklist, key: str, *, user: User) -> tuple[Row, Sheet]:
    """One line and the page it stands on."""
    sheet = sheet_of(it, user=user, at=key)
    return next(row for row in sheet.rows if row.line.key == key), sheet


def _history(it: Checklist) -> dict[str, list[CheckEntry]]:
    found: dict[str, list[CheckEntry]] = {}
    for entry in it.entries.select_related("by").order_by("pk"):
        found.setdefault(entry.line, []).append(entry)
    return found


def _row(
    line: Line,
    history: Sequence[CheckEntry],
    photos: Sequence[Photo],
    *,
    today: date,
    metric: bool,
    is_open: bool,
    again: bool,
) -> Row:
    last = history[-1] if history else None
    entered = entries_for([line], {line.key: last} if last else {}, {line.key: photos} if photos else {})
    judged = judge(line, entered.get(line.key), on=today)
    value: Mapping[str, Any] = last.value if last else {}
    measures = METRIC if metric else US
    word = UNIT_WORDS.get(line.unit) or field_unit(line.unit, measures)
    return Row(
        line=line,
        words=line_words(line, metric=metric),
        judged=judged,
        why=judged_sentence(line, judged, metric=metric) if judged.why != "said" else "",
        short=short_words(line, metric=metric) if judged.why != "short" else "",
        fields=tuple(
            Field(
                f"or {place}" if n == 0 and line.facts.get("picks") else place,
                f"number-{n}",
                # A number that a name stands for is not typed beside it.
                ""
                if number is None or (n == 0 and value.get("pick"))
                else written_number(number, line.unit, measures),
                word,
            )
            for n, (place, number) in enumerate(zip(line.places, _numbers(line, value), strict=True))
        ),
        picks=tuple(name.removeprefix("type ") for name, _ in line.facts.get("picks", ())),
        pick=str(value.get("pick", "")).removeprefix("type "),
        text=str(value.get("text", "")),
        turn=last.turn if last else 0,
        said=entry_words(line, value, metric=metric),
        reading=reading_words(line, value, metric=metric),
        history=tuple(reversed(history)),
        told=tuple((entry_words(line, e.value, metric=metric), e) for e in reversed(history)),
        photos=tuple(photos),
        open=is_open,
        again=again,
    )


def _numbers(line: Line, value: Mapping[str, Any]) -> list[float | None]:
    numbers = list(value.get("numbers", ()))
    return [*numbers, *[None] * len(line.places)][: len(line.places)]


def _changed(it: Checklist) -> bool:
    """Whether the unit's figures give other lines now than when the list was begun."""
    if it.sort == "handover":
        return False
    try:
        return [line.table() for line in lines_for(it.unit, sort=it.sort)] != [line.table() for line in lines_of(it)]
    except UnreadableUnitError:
        return False


def counts_of(lists: Sequence[Checklist]) -> dict[int, int]:
    """How many lines of each list somebody entered, by its number; one look-up for all."""
    seen: dict[int, set[str]] = {it.pk: set() for it in lists}
    for pk, line in CheckEntry.objects.filter(checklist__in=lists).values_list("checklist_id", "line"):
        seen[pk].add(line)
    return {pk: len(keys) for pk, keys in seen.items()}


__all__ = ["SORTS", "Row", "Sheet", "Station", "counts_of", "latest", "row_of", "sheet_of"]
