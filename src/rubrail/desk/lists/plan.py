"""What taking a list in would do: each row new, changing a unit, saying nothing new, at fault, or left out."""

from __future__ import annotations

import hashlib
import json
from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from rubrail.desk.collector import at_rest
from rubrail.desk.lists.faults import fault_at, sentence
from rubrail.desk.lists.row import Layout, read_row, trailer_of_row
from rubrail.desk.models import Quote, Unit
from rubrail.desk.standing import taken_from
from rubrail.desk.stock import put_together
from rubrail.things.faults import NOTHING, Fault
from rubrail.things.trailer import Trailer

NEW, CHANGED, SAME, FAULTY, LEFT = "new", "changed", "same", "faulty", "left"


@dataclass(frozen=True, slots=True)
class Outcome:
    """What comes of one row.

    Parameters
    ----------
    number : int
        As the spreadsheet counts it.
    stock_number : str
        The unit's own where there is one, else as the row writes it.
    kind : str
        ``new``, ``changed``, ``same``, ``faulty`` or ``left``.
    unit : Unit or None
        The stored unit.
    trailer : Trailer or None
        What it becomes, where it is new or changed.
    faults : tuple of Fault
    """

    number: int
    stock_number: str
    kind: str
    unit: Unit | None = None
    trailer: Trailer | None = None
    faults: tuple[Fault, ...] = ()

    @property
    def sentences(self) -> list[str]:
        """Its faults as a page shows them."""
        return [sentence(f) for f in self.faults]


@dataclass(frozen=True, slots=True)
class Plan:
    """What comes of all rows.

    Parameters
    ----------
    outcomes : tuple of Outcome
    absent : int
        Units of the yard that no row is of; they stay as they are.
    seen : mapping
        Version of each unit a row is of, by its stock number in small letters.
    mark : str
        Of the choices and all versions: another mark means that something moved.
    """

    outcomes: tuple[Outcome, ...]
    absent: int
    seen: Mapping[str, int]
    mark: str

    def of(self, kind: str) -> list[Outcome]:
        """Rows of one kind."""
        return [o for o in self.outcomes if o.kind == kind]

    @property
    def counts(self) -> dict[str, int]:
        """How many rows of each kind."""
        counts = dict.fromkeys((NEW, CHANGED, SAME, FAULTY, LEFT), 0)
        for outcome in self.outcomes:
            counts[outcome.kind] += 1
        return counts

    @property
    def writes(self) -> int:
        """Units that would be written."""
        return sum(o.kind in (NEW, CHANGED) for o in self.outcomes)


def stored_units() -> dict[str, Unit]:
    """Every unit of the yard by its stock number in small letters, read at once."""
    # What the engine packs of a unit is large, and nothing here looks at it.
    units = Unit.objects.defer("packed", "thumbnail").order_by("pk")
    with at_rest():
        return {unit.stock_number.lower(): unit for unit in units}


def plan_of(
    rows: Sequence[tuple[int, Sequence[str]]],
    *,
    layout: Layout,
    units: Mapping[str, Unit],
    promised: Mapping[int, Quote] = MappingProxyType({}),
    left: Collection[int] = (),
) -> Plan:
    """Work out what comes of every row. Nothing is written.

    Parameters
    ----------
    rows : sequence of (int, cells)
    layout : Layout
        With choices that ``choices.faults_in`` has nothing against.
    units : mapping
        As ``stored_units`` gives them.
    promised : mapping
        Accepted quotes by the key of their unit, as ``standing.promises`` gives them.
    left : collection of int
        Rows somebody left out.
    """
    place = layout.key.place
    by_stock: dict[str, list[int]] = defaultdict(list)
    for number, cells in rows:
        if number not in left and cells[place]:
            by_stock[cells[place].lower()].append(number)
    outcomes, seen = [], {}
    with at_rest():
        for number, cells in rows:
            unit = units.get(cells[place].lower())
            if unit:
                seen[unit.stock_number.lower()] = unit.version
            if number in left:
                outcomes.append(Outcome(number, cells[place], LEFT, unit))
            else:
                quote = promised.get(unit.pk) if unit else None
                outcomes.append(_outcome(number, cells, layout, unit, by_stock[cells[place].lower()], quote))
    said = json.dumps([layout.choices.stored(), sorted(seen.items())])
    return Plan(tuple(outcomes), len(units) - len(seen), seen, hashlib.sha256(said.encode()).hexdigest())


def _outcome(
    number: int,
    cells: Sequence[str],
    layout: Layout,
    unit: Unit | None,
    alike: Sequence[int],
    quote: Quote | None,
) -> Outcome:
    column, heading, text = layout.key.column, layout.key.heading, cells[layout.key.place]
    if not text:
        accepted = "it tells which unit the row is of"
        fault = fault_at(number, column, heading, NOTHING, accepted, lead="must be given:")
        return Outcome(number, "", FAULTY, faults=(fault,))
    stored = put_together(unit, with_cost=True) if unit else None
    row = read_row(number, cells, layout=layout, stored=stored)
    if len(alike) > 1:
        others = [str(n) for n in alike if n != number]
        accepted = f"in one row only, and row {', '.join(others[:5])} has it too"
        row.faults.append(fault_at(number, column, heading, text, accepted))
    if unit and (fault := taken_from(quote, before=unit.status, to=row.sets.get("status", unit.status))):
        row.refuse("status", f"left as it is: {unit} is {fault}")
    if unit and not row.changed and not row.faults:
        return Outcome(number, unit.stock_number, SAME, unit)
    trailer = trailer_of_row(row)
    if trailer is None:
        return Outcome(number, row.stock_number, FAULTY, unit, faults=tuple(row.faults))
    return Outcome(number, row.stock_number, CHANGED if unit else NEW, unit, trailer)


def moved(before: Mapping[str, Any], plan: Plan) -> list[str]:
    """Stock numbers whose unit was added, changed or removed since somebody looked."""
    now = plan.seen
    return sorted(name for name in {*before, *now} if before.get(name) != now.get(name))
