"""Cells of things laid into columns: number, tolerance and basis side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from rubrail.quantity.value import Value
from rubrail.things.columns import Columns
from rubrail.things.names import CODES

Cell = Value | float | int | bool | None
"""One entry of a column: a value; a plain number without tolerance; ``None`` for not known."""


def fill(cells: Mapping[str, Sequence[Cell] | Sequence[Sequence[Cell]]], *, over: str = "unit") -> Columns:
    """Columns from cells.

    Parameters
    ----------
    cells : mapping
        Column name to its cells: one a unit (or a position), or a list of them for each member.
    over : str
        The axis the cells run along: ``unit`` or ``position``.
    """
    values, plus_minus, basis = {}, {}, {}
    for name, column in cells.items():
        per_member = bool(column) and isinstance(column[0], list | tuple)
        rows = column if per_member else [column]
        flat = [c for row in rows for c in row]
        shape = (len(rows), -1, 1, 1) if over == "unit" else (len(rows), 1, -1, 1)
        for target, made in (
            (values, np.array([_number(c) for c in flat], float)),
            (plus_minus, np.array([c.plus_minus if isinstance(c, Value) else 0.0 for c in flat], float)),
            (basis, np.array([c.basis if isinstance(c, Value) else "" for c in flat], object)),
        ):
            shaped = made.reshape(shape)
            target[name] = shaped if per_member else shaped[0]
    return Columns(values, plus_minus, basis)


def _number(cell: Cell) -> float:
    return np.nan if cell is None else float(cell)


def join(*parts: Columns) -> Columns:
    """One set of columns from several of different names."""
    values, plus_minus, basis = {}, {}, {}
    for part in parts:
        values.update(part.values)
        plus_minus.update(part.plus_minus)
        basis.update(part.basis)
    return Columns(values, plus_minus, basis)


def code(kind: str, word: str | None) -> float | None:
    """Number that stands for a word of ``CODES``; ``None`` for no word."""
    return None if word is None else float(CODES[kind].index(word))


def times(value: Value | None, factor: float) -> Value | None:
    """A value scaled; its tolerance with it."""
    return value and Value(value.number * factor, value.basis, value.plus_minus * abs(factor))


_WEAKEST = ("typical", "estimated", "maker", "measured", "weighed", "label")


def plus(*values: Value | None) -> Value | None:
    """Sum of values, not known if one is not: tolerances add, and the weakest basis counts."""
    known = [v for v in values if v is not None]
    if len(known) < len(values):
        return None
    basis = min((v.basis for v in known), key=_WEAKEST.index, default="label")
    return Value(sum(v.number for v in known), basis, sum(v.plus_minus for v in known))


def minus(a: Value | None, b: Value | None) -> Value | None:
    """Difference of two values; tolerances add."""
    return plus(a, times(b, -1.0))
