"""One row against the unit it is of: what it says, what of that is new, and the trailer it makes of the unit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any, NamedTuple

from pydantic_core import PydanticCustomError

from rubrail.desk.lists.cells import DAY_EXAMPLES, TAKE_AWAY, UNKNOWN, How, read_number, read_plain, same
from rubrail.desk.lists.choices import Choices
from rubrail.desk.lists.columns import EVERY, KEY, LISTS, ListColumn, by_key, measure_at
from rubrail.desk.lists.faults import fault_at, fault_of_row, told
from rubrail.desk.stock import is_value, leaves
from rubrail.quantity.basis import BASES
from rubrail.quantity.value import Value
from rubrail.things.door import read_thing
from rubrail.things.faults import NOTHING, Fault, Faults
from rubrail.things.trailer import Trailer

SPREADSHEET_FAULTS = ("#REF!", "#N/A", "#NAME?", "#VALUE!", "#DIV/0!", "#NULL!", "#NUM!")
"""What a spreadsheet writes where a formula has no result."""
MOST_KEPT = 100_000
"""Answers kept of one list, so that one of nothing but different numbers takes no more memory."""


class Entry(NamedTuple):
    """A column of the file that is taken: where it stands, what it is called there, what it is, how it is written."""

    place: int
    heading: str
    column: ListColumn
    how: How
    group: str
    member: int
    every: bool = False


class Layout:
    """Which of our columns stand where in the file.

    Parameters
    ----------
    headings : sequence of str
        One a column of the file.
    choices : Choices
        What each is taken for.
    """

    def __init__(self, headings: Sequence[str], choices: Choices) -> None:
        self.headings, self.choices = headings, choices
        self.entries = [self._entry(place, by_key()[one.key]) for place, one in enumerate(choices.columns) if one.key]
        self.key = next(e for e in self.entries if e.column.key == KEY)
        self.measured: dict[tuple[Any, ...], Value | None] = {}
        """What a measured cell with what stands beside it makes of a stored value, each worked out once."""

    def _entry(self, place: int, column: ListColumn) -> Entry:
        group, _, rest = column.key.partition(".")
        number = rest.partition(".")[0]
        how = self.choices.how(place)
        heading = self.headings[place] or f"column {place + 1}"
        if group not in LISTS or not number.isdigit():
            return Entry(place, heading, column, how, "", -1, column.for_every)
        return Entry(place, heading, column, how, group, int(number))


@dataclass(slots=True)
class Row:
    """A row being read: what its filled cells say by column key, and what comes of it."""

    number: int
    stock_number: str
    stored: Mapping[str, Any]
    given: dict[str, tuple[str, Entry]] = field(default_factory=dict)
    sets: dict[str, Any] = field(default_factory=dict)
    takes: set[str] = field(default_factory=set)
    sizes: dict[str, int] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    @property
    def changed(self) -> bool:
        """Whether it says anything that is not stored."""
        return bool(self.sets or self.takes or self.sizes)

    def said(self, key: str) -> tuple[str, Entry]:
        """A cell as a fault shows it: a number alone with the unit of its column."""
        text, entry = self.given[key]
        alone = entry.how.unit and entry.column.unit and text.replace(",", "").replace(".", "").isdecimal()
        return (f"{text} {entry.how.unit}" if alone else text), entry

    def refuse(self, key: str, accepted: str, *, remedy: str = "", lead: str = "must be") -> None:
        """Note a fault of a cell."""
        text, entry = self.said(key)
        column = by_key()[key]
        self.faults.append(fault_at(self.number, column, entry.heading, text, accepted, remedy=remedy, lead=lead))


def read_row(number: int, cells: Sequence[str], *, layout: Layout, stored: Mapping[str, Any] | None) -> Row:
    """What a row says of a unit.

    Parameters
    ----------
    number : int
        As the spreadsheet counts it.
    cells : sequence of str
    layout : Layout
    stored : mapping or None
        The unit's table as ``stock.put_together`` gives it, cost included; ``None`` for a new unit.
    """
    stock_number = cells[layout.key.place]
    row = Row(number, str(stored["id"]) if stored else stock_number, stored or {"id": stock_number})
    _fill(row, cells, layout)
    known, columns, beside = dict(leaves(row.stored)), by_key(), []
    for key in list(row.given):
        column = columns[key]
        kind = column.kind
        if kind == "measure":
            _measure_once(row, column, known.get(key), layout)
        elif kind in ("basis", "spread"):
            beside.append(column.path)
        elif kind != "members" and key != KEY:
            _plain(row, column, known.get(key))
    for path in dict.fromkeys(beside):
        if path not in row.given:
            _measure_once(row, columns[path], known.get(path), layout)
    return row


def _fill(row: Row, cells: Sequence[str], layout: Layout) -> None:
    """Filled cells by key; what is said of every axle is said of each, unless a column of its own says otherwise."""
    every: list[tuple[str, Entry]] = []
    spoken: dict[str, int] = {}
    for entry in layout.entries:
        text = cells[entry[0]]
        if not text:
            continue
        key = entry.column.key
        if text.startswith("#") and text.upper() in SPREADSHEET_FAULTS:
            row.given[key] = (text, entry)
            row.refuse(key, "a value", remedy="the spreadsheet found no result there")
            del row.given[key]
        elif entry.every:
            every.append((text, entry))
        else:
            row.given[key] = (text, entry)
            if entry.group:
                spoken[entry.group] = max(spoken.get(entry.group, 0), entry.member + 1)
    for name in LISTS:
        _resize(row, name, spoken.get(name, 0))
    axles = row.sizes.get("axle", len(row.stored.get("axle", ())))
    for text, entry in every:
        for number in range(axles):
            row.given.setdefault(entry.column.key.replace(EVERY, str(number), 1), (text, entry))


def _resize(row: Row, name: str, spoken: int) -> None:
    """How many members of a list the unit will have: as its own column says, else as many as are spoken of."""
    section, key = LISTS[name], f"{name}:count"
    had = len(row.stored.get(name, ()))
    wanted = max(had, spoken)
    if key in row.given:
        column = by_key()[key]
        count = read_plain(column, row.given[key][0], row.given[key][1].how)
        if count is TAKE_AWAY:
            pass
        elif not isinstance(count, int) or not section.least <= count <= section.most:
            row.refuse(key, column.accepted)
        else:
            wanted = count
            members = row.given.items() if spoken > count else ()
            for late in [k for k, (_, entry) in members if entry.group == name and entry.member >= count]:
                row.refuse(late, f"left out, because {column.words} is {count}")
                del row.given[late]
    if wanted != had:
        row.sizes[name] = wanted


def _plain(row: Row, column: ListColumn, old: Any) -> None:
    text, entry = row.given[column.key]
    if isinstance(old, str) and (old == text or _same_text(old, text)):
        return
    new = read_plain(column, text, entry.how)
    if new is TAKE_AWAY:
        if column.key == "status":
            new = text
        else:
            if old is not None:
                row.takes.add(column.key)
            return
    if isinstance(old, float) and isinstance(new, float) and same(old, new):
        return
    if column.kind == "day" and isinstance(new, str):
        order = entry.how.unit or "year-month-day"
        row.refuse(column.key, f"a day written {order}, such as {DAY_EXAMPLES[order]}")
        return
    if new != old or type(new) is not type(old):
        row.sets[column.key] = new


def _same_text(old: str, text: str) -> bool:
    kept = "".join(c for c in old.replace("\r\n", "\n").replace("\r", "\n") if c >= " " or c in "\n\t")
    return kept.strip() == text.replace("\r\n", "\n").replace("\r", "\n").strip()


def _measure_once(row: Row, column: ListColumn, old: Mapping[str, Any] | None, layout: Layout) -> None:
    """``_measure``, whose answer is the same wherever the same cells meet the same stored value."""
    path, given = column.key, row.given
    cell, basis, spread = given.get(path), given.get(f"{path}:basis"), given.get(f"{path}:spread")
    asked = (
        path,
        (cell[0], cell[1].place) if cell else None,
        basis[0] if basis else None,
        (spread[0], spread[1].place) if spread else None,
        (old["value"], old["basis"], old.get("plus_minus")) if old else None,
    )
    if asked in layout.measured:
        known = layout.measured[asked]
        if known is not None:
            row.sets[path] = known
        return
    faults = len(row.faults)
    _measure(row, column, old, layout.choices)
    if len(row.faults) > faults or path in row.takes:
        return
    new = row.sets.get(path)
    if new is not None:
        try:
            row.sets[path] = new = measure_at(path).read(new)
        except PydanticCustomError:
            return  # the trailer's own door says it, with the row's other faults
    if len(layout.measured) < MOST_KEPT:
        layout.measured[asked] = new


def _measure(row: Row, column: ListColumn, old: Mapping[str, Any] | None, choices: Choices) -> None:
    """A measured value with what stands beside it; what is not said stays, and so does the basis of a like number."""
    path = column.key
    number = old["value"] if old else None
    like = True
    if path in row.given:
        text, entry = row.given[path]
        read = read_number(text, column.unit, entry.how)
        if read is None:
            if old is not None:
                row.takes.add(path)
            return
        like = old is not None and isinstance(read, float) and same(read, old["value"])
        number = number if like else read
    if number is None:
        return  # where a number is from says nothing while there is none
    basis = _basis(row, path)
    if basis is None:
        rating = measure_at(path).kind == "rating"
        basis = old["basis"] if old and like else choices.ratings if rating else choices.measured
    spread = _spread(row, column, basis)
    kept = old.get("plus_minus") if old and like and basis == old["basis"] else None
    if old and like and basis == old["basis"] and (spread is None or (kept is not None and same(spread, kept))):
        return
    value: dict[str, Any] = {"value": number, "basis": basis}
    row.sets[path] = value if spread is None else {**value, "plus_minus": spread}


def _basis(row: Row, path: str) -> str | None:
    key = f"{path}:basis"
    if key not in row.given:
        return None
    word = row.given[key][0].lower()
    if word in BASES:
        return word
    if word not in UNKNOWN:
        row.refuse(key, f"one of {', '.join(BASES)}")
    return None


def _spread(row: Row, column: ListColumn, basis: str) -> float | None:
    key = f"{column.key}:spread"
    if key not in row.given:
        return None
    read = read_number(row.given[key][0], column.unit, row.given[key][1].how)
    if isinstance(read, str) or (read is not None and read < 0):
        row.refuse(key, f"0 {column.unit} or more")
        return None
    if read and basis == "label":
        row.refuse(key, f"left out, for the basis of {column.words} is the label")
        return None
    return None if basis == "label" else read


def trailer_of_row(row: Row) -> Trailer | None:
    """The trailer a row makes of its unit; ``None`` with every fault in ``row.faults``."""
    table = _copied(row.stored)
    for name, size in row.sizes.items():
        members = list(table.get(name, ()))[:size]
        table[name] = members + [{} for _ in range(size - len(members))]
    for path, value in row.sets.items():
        _put(table, path, value)
    for path in row.takes:
        _drop(table, path)
    table = {name: value for name, value in table.items() if value != [] or name == "axle"}
    table.setdefault("coupling", {})
    if not table.get("axle") and "axle:count" in row.given:
        table["axle"] = [{}]
    elif not table.get("axle"):
        row.faults.append(
            fault_of_row(
                row.number,
                row.stock_number,
                by_key()["axle:count"].words,
                NOTHING,
                by_key()["axle:count"].accepted,
                lead="must be given:",
            )
        )
        table["axle"] = [{}]
    try:
        trailer = read_thing(Trailer, table)
    except Faults as found:
        given = {key: (said[0], said[1].heading) for key in row.given if (said := row.said(key))}
        row.faults += [told(f, number=row.number, stock_number=row.stock_number, given=given) for f in found.faults]
        return None
    return None if row.faults else trailer


def _copied(value: Any) -> Any:
    if isinstance(value, Mapping):
        # A measured value is replaced whole, and never written into.
        return value if is_value(value) else {name: _copied(part) for name, part in value.items()}
    return [_copied(part) for part in value] if isinstance(value, list) else value


def _put(table: dict[str, Any], path: str, value: Any) -> None:
    here: Any = table
    parents, last = _steps(path)
    for step in parents:
        here = here[step] if isinstance(step, int) else here.setdefault(step, {})
    here[last] = value


def _drop(table: dict[str, Any], path: str) -> None:
    here: Any = table
    parents, last = _steps(path)
    for step in parents:
        here = here[step] if isinstance(step, int) else here.get(step, {})
    here.pop(last, None)


@cache
def _steps(path: str) -> tuple[tuple[str | int, ...], str]:
    """The way down to a value: names of tables and numbers of members, and the value's own name."""
    *parents, last = path.split(".")
    return tuple(int(step) if step.isdigit() else step for step in parents), last
