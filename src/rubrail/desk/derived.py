"""What the engine works out of a unit and the yard's list repeats: honest payload, complete or not, packed columns,
and the small drawing.

Worked out for many units in one go, and again for all of them once the engine is another one: each unit carries the
mark of the engine that wrote these columns, and a unit with another mark counts as having none.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable, Iterable, Sequence
from functools import cache
from importlib.resources import files
from typing import Any

from django.db import transaction

from rubrail.answers.height import built_columns
from rubrail.answers.payload import alone_best, unknown_alone
from rubrail.checks import all as _every_check  # noqa: F401  fills the registry
from rubrail.desk.models import Unit
from rubrail.desk.thumbnails import drawn, pressed
from rubrail.things import pack
from rubrail.things.columns import Columns
from rubrail.things.trailer import Trailer

PARTS = ("quantity", "things", "mechanics", "rules", "checks", "answers", "sheets/drawing")
COLUMNS = ("payload_lb", "complete", "packed", "thumbnail", "derived_by")
"""Columns of a unit that the engine writes."""
AT_ONCE = 500
"""Units read into memory together."""


@cache
def mark() -> str:
    """Mark of the engine as it is installed: of every line of its code and every figure of its tables, the drawing
    of trailers included.
    """
    seen = hashlib.sha256(str(pack.LAYOUT).encode())
    for part in PARTS:
        todo = [files("rubrail").joinpath(*part.split("/"))]
        while todo:
            for entry in sorted(todo.pop().iterdir(), key=lambda e: e.name):
                if entry.is_dir():
                    todo.append(entry)
                elif entry.name.endswith((".py", ".toml")):
                    seen.update(entry.name.encode())
                    seen.update(entry.read_bytes())
    return seen.hexdigest()[:16]


def derived(trailers: Sequence[Trailer]) -> list[dict[str, Any]]:
    """The engine's columns of units, one mapping each, all worked out together.

    A payload that a missing rating may cut is not known: ``None``, never the greater number.
    """
    if not trailers:
        return []
    columns = built_columns(trailers)
    best_lb, _ = alone_best(columns)
    _, unknown = unknown_alone(columns)
    complete = ~unknown.any(axis=0)
    return [
        {
            "payload_lb": float(lb) if math.isfinite(lb) else None,
            "complete": bool(whole) and math.isfinite(lb),
            "packed": row,
            "thumbnail": pressed(drawn(trailer)),
            "derived_by": mark(),
        }
        for trailer, lb, whole, row in zip(trailers, best_lb, complete, pack.pack_rows(columns), strict=True)
    ]


NOTHING = {"payload_lb": None, "complete": False, "packed": None, "thumbnail": None}
"""Of a unit whose content no longer reads."""


def is_fresh(unit: Unit) -> bool:
    """Whether this engine worked out what is stored with a unit."""
    return unit.derived_by == mark()


def columns_of(units: Iterable[Unit]) -> Columns:
    """The engine's columns of units, one a unit in their order, equal to ``built_columns`` of their trailers.

    Read from their packed rows; a unit whose row is of another engine is read from its file's content. One whose
    content no longer reads has nothing known.

    Raises
    ------
    ValueError
        If there are no units.
    """
    units = list(units)
    if not units:
        raise ValueError("columns need at least one unit")
    rows = {u.pk: bytes(u.packed) for u in units if u.packed is not None and is_fresh(u)}
    stale = [u for u in units if u.pk not in rows]
    for start in range(0, len(stale), AT_ONCE):
        part = stale[start : start + AT_ONCE]
        rows |= {u.pk: row["packed"] for u, row in zip(part, _again(part), strict=True)}
    return pack.unpack_rows([rows[u.pk] or pack.unknown_row() for u in units])


def refill(*, say: Callable[[str], None] = lambda line: None) -> int:
    """Work out again what another engine worked out; the number of units.

    Nobody changed these units, so neither their version nor the trail moves. One that somebody saves meanwhile is
    left to that person's save.
    """
    stale = Unit.objects.exclude(derived_by=mark()).order_by("pk")
    count = stale.count()
    if count:
        say(f"Working out the payload of {count:,} {'unit' if count == 1 else 'units'}.")
    last, done = 0, 0
    while part := list(stale.filter(pk__gt=last)[:AT_ONCE]):
        last = part[-1].pk
        with transaction.atomic():
            for unit, row in zip(part, _again(part), strict=True):
                done += Unit.objects.filter(pk=unit.pk, version=unit.version).update(**row)
    return done


def _again(units: Sequence[Unit]) -> list[dict[str, Any]]:
    """The engine's columns of stored units, from what is stored of them."""
    from rubrail.desk.stock import readable

    trailers = [readable(unit) for unit in units]
    rows = iter(derived([t for t in trailers if t is not None]))
    return [{**NOTHING, "derived_by": mark()} if t is None else next(rows) for t in trailers]
