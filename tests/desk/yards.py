"""Trailers as random as their file allows, and the lists made of them."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from rubrail.desk.lists.columns import SECTIONS, measure_at
from rubrail.desk.models import Unit
from rubrail.desk.spec_fields import SpecField
from rubrail.desk.stock import path_of_fault, take_apart
from rubrail.quantity.basis import BASES
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.trailer import Trailer

# No control characters: no spreadsheet holds them. Edges without spaces: a cell's are not told from its text.
LETTERS = st.characters(exclude_categories=("Cs", "Cc", "Co", "Cn", "Zl", "Zp"))
TEXT = st.text(LETTERS, min_size=1, max_size=24).map(str.strip).filter(bool)
TRICKY = st.sampled_from(
    ["=1+1", "+1 555 0100", "-", "@home", "'=x", "''", "'", '8\'6"', "a;b,c|d", "two\nlines", "#12", "1,200", "007",
     "Yes", "=HYPERLINK(1)", "ä ö ß €", "＝1"]
)  # fmt: skip
WORDS = {
    "axle.#.tires.speed_symbol": st.sampled_from("LMN"),
    "equipment.#.tag": st.from_regex(r"[a-z0-9][a-z0-9-]{0,12}", fullmatch=True),
}
COUNTS = {
    "year": (1950, 2100),
    "ramp.#.count": (1, 8),
    "chains.count": (0, 4),
    "jack.count": (1, 4),
    "equipment.#.count": (1, 100),
}


@st.composite
def measured(draw: st.DrawFn, spec: SpecField) -> Any:
    measure = measure_at(spec.path)
    number = draw(
        st.one_of(
            st.floats(measure.low, measure.high, allow_nan=False),
            st.integers(int(measure.low) + 1, int(measure.high)).map(float),
        )
    )
    value: dict[str, Any] = {"value": number, "basis": draw(st.sampled_from(BASES))}
    if not measure.rating and value["basis"] != "label" and draw(st.booleans()):
        value["plus_minus"] = draw(st.floats(0, 50, allow_nan=False))
    return value


def value_of(spec: SpecField) -> st.SearchStrategy[Any]:
    pattern = spec.path
    if pattern in WORDS:
        return WORDS[pattern]
    if pattern in COUNTS:
        return st.integers(*COUNTS[pattern])
    if spec.kind == "measure":
        return measured(spec)
    if spec.kind == "choice":
        return st.sampled_from(spec.choices)
    if spec.kind == "flag":
        return st.booleans()
    if pattern.endswith("_in3"):
        return st.floats(0.01, 900)
    return TRICKY | TEXT if pattern != "vin" else TEXT.map(lambda t: t[:20].strip() or "1")


def put(table: dict[str, Any], path: str, value: Any) -> None:
    *parents, last = path.split(".")
    for step in parents:
        table = table.setdefault(step, {})
    table[last] = value


@st.composite
def tables(draw: st.DrawFn) -> dict[str, Any]:
    """A trailer's table; what contradicts itself is dropped again."""
    table: dict[str, Any] = {"id": "X-1"}
    if draw(st.booleans()):
        table |= {"status": draw(st.sampled_from(["in-stock", "held", "sold"]))}
        table |= {
            "price_usd": draw(st.decimals(0, 99_999, places=2)),
            "cost_usd": draw(st.decimals(0, 99_999, places=2)),
        }
        table |= {"arrived": draw(st.dates(min_value=date(1990, 1, 1)))}
        table |= {"color": draw(TRICKY | TEXT), "location": draw(TRICKY | TEXT)}
    for section in SECTIONS:
        if not section.many:
            for spec in section.fields:
                if spec.required or draw(st.integers(0, 3)) == 0:
                    put(table, spec.path, draw(value_of(spec)))
            continue
        members = []
        for _ in range(draw(st.integers(section.least, max(section.least, 2)))):
            member: dict[str, Any] = {}
            for spec in section.fields:
                if spec.required or draw(st.integers(0, 3)) == 0:
                    put(member, spec.path.split(".#.")[1], draw(value_of(spec)))
            members.append(member)
        if members:
            table[section.name] = members
    return table


@st.composite
def trailers(draw: st.DrawFn) -> Trailer:
    table = draw(tables())
    for _ in range(6):
        try:
            return read_thing(Trailer, table)
        except Faults as told:
            for fault in told.faults:
                drop(table, path_of_fault(fault.field))
    assume(False)
    raise AssertionError


def drop(table: Any, path: str) -> None:
    *parents, last = path.split(".")
    for step in parents:
        table = table[int(step)] if isinstance(table, list) else table.get(step, {})
    table.pop(last, None)


def unit_of(trailer: Trailer, stock_number: str) -> Unit:
    """The unit as the database gives it back; not stored."""
    columns = take_apart(trailer)
    columns["spec"] = json.loads(json.dumps(columns["spec"]))
    return Unit(**{**columns, "stock_number": stock_number})

