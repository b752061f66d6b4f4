"""One cell of the list: what a stored value is written as, and what a written cell stands for."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Any

from rubrail.desk.lists.columns import ListColumn, measure_at
from rubrail.desk.models.stock import Status
from rubrail.quantity.basis import default_tolerance
from rubrail.quantity.money import UnreadableMoneyError, parse_money
from rubrail.quantity.parse import UNITS, UnreadableError, dimension_of, parse_quantity
from rubrail.quantity.show import convert

Cell = str | int | float | date | Decimal | None
"""A written cell: text, a number, a day, an amount, or nothing."""

UNKNOWN = ("not known", "unknown")
"""Words that take a value away; an empty cell leaves it."""
YES, NO = ("yes", "y", "true"), ("no", "n", "false")
NEAR = 1e-9
"""Share by which two numbers may differ and be the same: spreadsheets keep fifteen digits."""
DAY_ORDERS = {
    "year-month-day": (0, 1, 2),
    "month/day/year": (2, 0, 1),
    "day/month/year": (2, 1, 0),
}
DAY_EXAMPLES = {"year-month-day": "2026-03-14", "month/day/year": "3/14/2026", "day/month/year": "14/3/2026"}
ALSO = {
    "coupling.kind": {"bumper pull": "ball", "fifth wheel": "kingpin", "5th wheel": "kingpin", "lunette": "pintle"},
    "deck.kind": {"deck over": "deck-over", "deckover": "deck-over", "over axle": "deck-over"},
    "suspension.kind": {"torsion": "independent", "spring": "equalized", "leaf spring": "equalized"},
    "status": {"available": "in-stock", "in stock": "in-stock", "on order": "on-order"},
}
"""Other words of the trade for a choice."""
UNUSUAL = ("oz", "N", "kN", "yd", "rad")
"""Units nobody writes a trailer's list in."""
_NUMBER = re.compile(r"[+-]?(?:\d+(?:,\d{3})*(?:\.\d*)?|\.\d+)")
_DAY = re.compile(r"(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})")


class TakeAway:
    """The mark of a cell that says the value is not known."""


TAKE_AWAY = TakeAway()


@dataclass(frozen=True, slots=True)
class How:
    """How the numbers and days of a column are written: unit or order of the day, and the decimal sign."""

    unit: str = ""
    comma: bool = False


def cell_of(column: ListColumn, known: Mapping[str, Any], table: Mapping[str, Any]) -> Cell:
    """What a unit's cell holds.

    Parameters
    ----------
    column : ListColumn
    known : mapping
        The unit's values by path, as ``stock.leaves`` gives them.
    table : mapping
        The unit's table, for the number of members.
    """
    if column.kind == "members":
        return len(table.get(column.key.partition(":")[0], ())) or None
    if column.key == "stock_number":
        return table["id"]
    value = known.get(column.path)
    if value is None or value == "":
        return None
    if column.kind in ("measure", "basis"):
        return _number(value["value"]) if column.kind == "measure" else value["basis"]
    if column.kind == "spread":
        return _number(value["plus_minus"]) if own_spread(column.path, value) else None
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return _number(value)
    if isinstance(value, str):
        # A line ends in one way here; what a spreadsheet cannot hold at all is left out.
        lines = value.replace("\r\n", "\n").replace("\r", "\n")
        return "".join(c for c in lines if c >= " " or c in "\n\t")
    return value


def own_spread(path: str, value: Mapping[str, Any]) -> bool:
    """Whether a value has a tolerance of its own, another than its basis carries."""
    if value.get("plus_minus") is None:
        return False
    usual = default_tolerance(kind=measure_at(path).kind, basis=value["basis"], number=value["value"])
    # However small: where its basis carries none, any is its own.
    return not math.isclose(value["plus_minus"], usual, rel_tol=NEAR)


def same(a: float, b: float) -> bool:
    """Whether two numbers are the same but for what a spreadsheet rounds away."""
    return math.isclose(a, b, rel_tol=NEAR, abs_tol=NEAR)


def _number(number: float) -> int | float:
    return int(number) if number == int(number) and abs(number) < 1e15 else float(number)


def text_of(cell: Cell) -> str:
    """A cell as text: a decimal point, no thousands separators, days as year-month-day."""
    if cell is None:
        return ""
    if isinstance(cell, float):
        return format(Decimal(repr(cell)), "f")
    return f"{cell}"


@lru_cache(maxsize=50_000)
def read_plain(column: ListColumn, text: str, how: How) -> Any:
    """What the cell of a field without basis stands for, as the trailer file writes it.

    Text that fits no such value is given back as it is: the file's own door refuses it with the words it has.
    """
    if text.lower() in UNKNOWN:
        return TAKE_AWAY
    word = " ".join(re.sub(r"[-_\s]+", " ", text.lower()).split())
    if column.kind == "flag":
        return True if word in YES else False if word in NO else text
    if column.kind == "choice":
        return _choice(column, text, word)
    if column.kind in ("count", "members"):
        whole = re.fullmatch(r"(-?\d{1,6})(?:\.0*)?", text)
        return int(whole[1]) if whole else text
    if column.kind == "number":
        with suppress(ValueError):
            return float(pointed(text, how))
    if column.kind == "money":
        with suppress(UnreadableMoneyError):
            return parse_money(pointed(text, how))
    if column.kind == "day":
        return read_day(text, how.unit)
    return text


def _choice(column: ListColumn, text: str, word: str) -> Any:
    by_word = {re.sub(r"[-_\s]+", " ", str(c).lower()): c for c in column.choices}
    if column.key == "status":
        by_word |= {str(s.label).lower(): s.value for s in Status}
    by_word |= ALSO.get(column.path, {})
    return by_word.get(word, text)


def read_day(text: str, order: str) -> date | str:
    """The day a text states in an order of its parts; the text itself where it states none."""
    found = _DAY.fullmatch(text.removesuffix(" 00:00:00"))
    if found:
        # A day that begins with the year can only be read one way, whatever the column's order.
        order = DAY_ORDERS["year-month-day" if len(found[1]) == 4 else order or "year-month-day"]
        year, month, day = (found[1 + place] for place in order)
        with suppress(ValueError):
            if len(year) not in (2, 4):
                return text
            return date(int(year) + (2000 if len(year) == 2 else 0), int(month), int(day))
    return text


def pointed(text: str, how: How) -> str:
    """Digits with a decimal point, from what the file writes."""
    return text.replace(".", "").replace(",", ".") if how.comma else text


@lru_cache(maxsize=50_000)
def read_number(text: str, unit: str, how: How) -> float | str | None:
    """The number of a measured cell in the field's ``unit``; ``None`` takes it away, text is what cannot be read.

    A number alone is in the column's unit; one that states its own unit is taken at its word.
    """
    if text.lower() in UNKNOWN:
        return None
    clean = pointed(text, how).strip().replace("−", "-").replace("\u00a0", " ").replace("\u202f", " ")
    if _NUMBER.fullmatch(clean):
        number = float(clean.replace(",", ""))
        return convert(number, how.unit, unit) if how.unit and how.unit != unit else number
    try:
        return parse_quantity(clean, unit)
    except UnreadableError:
        return text


def units_for(column: ListColumn) -> tuple[str, ...]:
    """Units or day orders a file's column may be written in, the field's own first."""
    if column.kind == "day":
        return tuple(DAY_ORDERS)
    if column.kind not in ("measure", "spread") or not column.unit:
        return ()
    dimension = dimension_of(column.unit)
    return (column.unit, *(u for u, (d, _) in UNITS.items() if d == dimension and u not in (column.unit, *UNUSUAL)))
