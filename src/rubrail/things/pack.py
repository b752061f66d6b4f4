"""One trailer's columns as a short row of bytes, so that a big yard is matched without reading its files again.

Every row has the same length whatever the trailer: the columns of ``names.TRAILER``, then those of ``names.AXLE`` for
as many axles as a file may list, each as a number, its tolerance and its basis. A row begins with the mark of its
layout; a row of another layout is refused, never misread.
"""

from __future__ import annotations

import zlib
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from rubrail.quantity.basis import BASES, TOLERANCES
from rubrail.things.columns import Columns
from rubrail.things.names import AXLE, CODES, TRAILER

VERSION = 1
"""Counts what the layout's mark cannot see: how the columns are worked out from a file."""
MOST_AXLES = 6
WORDS = ("", *BASES)
"""Bases by the number a row stores them under."""
_CELLS = len(TRAILER) + MOST_AXLES * len(AXLE)
LAYOUT = zlib.crc32(
    repr((VERSION, [*TRAILER], [*AXLE], MOST_AXLES, WORDS, sorted(CODES.items()), sorted(TOLERANCES.items()))).encode()
)
"""Mark of the layout: another one as soon as a column, a code, a basis or a default tolerance changes."""
ROW = np.dtype([("layout", "<u4"), ("value", "<f8", _CELLS), ("plus_minus", "<f8", _CELLS), ("basis", "u1", _CELLS)])


class PackError(ValueError):
    """Bytes that are no row of this layout."""


def pack_rows(columns: Columns) -> list[bytes]:
    """Rows of trailers, one each.

    Parameters
    ----------
    columns : Columns
        Of trailers alone: every name of ``names.TRAILER`` and ``names.AXLE``, shapes ``(unit, 1, 1)`` and
        ``(axle, unit, 1, 1)``.

    Raises
    ------
    PackError
        If a column is missing, or there are more axles than a row holds.
    """
    missing = [n for n in (*TRAILER, *AXLE) if n not in columns]
    if missing:
        raise PackError(f"columns of trailers need {', '.join(missing)}")
    units, axles = columns.units, columns["axle_present"].shape[0]
    if axles > MOST_AXLES:
        raise PackError(f"a row holds {MOST_AXLES} axles, not {axles}")
    rows = np.zeros(units, ROW)
    rows["layout"] = LAYOUT
    number = {word: i for i, word in enumerate(WORDS)}
    for start, name, member in _places(axles):
        for field, part, none in (
            ("value", columns.values, np.nan),
            ("plus_minus", columns.plus_minus, 0.0),
            ("basis", columns.basis, ""),
        ):
            cells = part.get(name, np.full((axles, units, 1, 1) if name in AXLE else (units, 1, 1), none))
            flat = np.broadcast_to(cells[member] if name in AXLE else cells, (units, 1, 1))[:, 0, 0]
            rows[field][:, start] = [number[word] for word in flat] if field == "basis" else flat
    return [row.tobytes() for row in rows]


def unknown_row() -> bytes:
    """The row of a trailer of which nothing is known but that it has an axle."""
    row = np.zeros(1, ROW)
    row["layout"] = LAYOUT
    row["value"][:] = np.nan
    axles = len(TRAILER) + MOST_AXLES * np.arange(len(AXLE))
    for start in axles:
        row["value"][:, start + 1 : start + MOST_AXLES] = 0.0
    row["value"][:, axles[[*AXLE].index("axle_present")]] = 1.0
    return row.tobytes()


def unpack_rows(rows: Sequence[bytes]) -> Columns:
    """Columns of trailers from their rows, exactly as they were packed; one a unit.

    Axes per axle are as long as the most axles any of these trailers has.

    Raises
    ------
    PackError
        If a row is not of this layout.
    """
    if any(len(row) != ROW.itemsize for row in rows):
        raise PackError("a row has another length than this layout's")
    table = np.frombuffer(b"".join(rows), ROW)
    if (table["layout"] != LAYOUT).any():
        raise PackError("a row is of another layout")
    present = table["value"][:, len(TRAILER) : len(TRAILER) + MOST_AXLES] > 0
    axles = int(present.sum(axis=1).max(initial=1))
    words = np.array(WORDS, object)
    return Columns(
        _shaped(table["value"], axles), _shaped(table["plus_minus"], axles), _shaped(words[table["basis"]], axles)
    )


def _places(axles: int) -> list[tuple[int, str, int]]:
    """Cell, name and member of everything a trailer of so many axles has."""
    own = [(i, name, 0) for i, name in enumerate(TRAILER)]
    first = [(len(TRAILER) + n * MOST_AXLES, name) for n, name in enumerate(AXLE)]
    return own + [(start + member, name, member) for start, name in first for member in range(axles)]


def _shaped(cells: NDArray, axles: int) -> dict[str, NDArray]:
    by_name = np.ascontiguousarray(cells.T)
    shaped = {name: by_name[i].reshape(-1, 1, 1) for i, name in enumerate(TRAILER)}
    for n, name in enumerate(AXLE):
        start = len(TRAILER) + n * MOST_AXLES
        shaped[name] = by_name[start : start + axles].reshape(axles, -1, 1, 1)
    return shaped
