"""Ordered against received, field by field: same or not, what rests on it, and what the difference costs in pounds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from rubrail.answers.envelope import fan_of, of_trailer_alone
from rubrail.answers.height import built_columns
from rubrail.answers.payload import alone_best, by_axles, by_label
from rubrail.answers.receive_names import group_of, label_of, pattern_of
from rubrail.answers.receive_pairs import EACH, Pair, member_text, pairs, put, text_of
from rubrail.answers.receive_report import (
    DIFFERS,
    NOT_KNOWN,
    NOT_ORDERED,
    SAME,
    PayloadChange,
    ReceivedField,
)
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.registry import CHECKS, raw_inputs
from rubrail.checks.rows import VERDICT_KINDS, Row, feels_cargo
from rubrail.quantity.value import Value
from rubrail.things.columns import Columns
from rubrail.things.names import CLIMB, COLUMNS, LOADING
from rubrail.things.trailer import Trailer

JUDGING = (*VERDICT_KINDS, "guidance")
HAIR = 1e-6
"""Two numbers without tolerance are the same within this share of them: what writing in other units rounds off."""
_TIED = {
    "anchor.#.wll_lb": "tiedown_anchor_wll_lb",
    "anchor.#.from_coupler_in": "tiedown_anchor_x_in",
    "anchor.#.y_in": "tiedown_anchor_y_in",
    "anchor.#.height_in": "tiedown_anchor_z_in",
    "anchor.#": "tiedown_anchor_wll_lb",
    "ramp.#": "ramp_count",
}
"""Fields that reach a check only through a plan of tie-downs or a climb."""
COSTS = ("label_lb", "axles_lb", "alone_lb")
"""What a difference does to the payload by label, by axles, and of the trailer alone."""
NOTHING = (math.nan,) * len(COSTS)
_REQUIRED = ("coupling.kind",)
"""Fields that cannot be emptied to see what moves."""


@dataclass(frozen=True)
class Compared:
    """The fields, what the unit carries either way, and the field that costs most."""

    fields: tuple[ReceivedField, ...]
    payload: tuple[PayloadChange, ...]
    costliest: str


def compare_fields(*, ordered: Trailer | None, received: Trailer) -> Compared:
    """Hold a unit as received against the same as ordered.

    Each difference is set back alone, and every payload is reckoned again: what is lost by it is what comes back.

    Parameters
    ----------
    ordered : Trailer or None
        As ordered; ``None`` where there is no order to compare.
    received : Trailer
        As read and measured on the unit.
    """
    rows = [r for pair in pairs(ordered, received) for r in _opened(pair, received)]
    told = [_verdict(row, received) for row in rows]
    variants = [_variant(row, received) for row in rows]
    units = [received, *variants] if ordered is None else [received, *variants, ordered]
    columns = built_columns(units)
    label, axles, alone = _payloads(columns)
    costs = tuple(way[0] - way for way in (label, axles, alone))
    fields = tuple(
        _field(row, verdict, received, columns, n, tuple(float(cost[n]) for cost in costs))
        for n, (row, verdict) in enumerate(zip(rows, told, strict=True), 1)
    )
    if ordered is None:
        before = (math.nan, math.nan, math.nan)
    else:
        before = (label[-1], axles[-1], alone[-1])
    return Compared(fields, _changes(before, (label[0], axles[0], alone[0])), _costliest(fields))


def _opened(row: Pair, received: Trailer) -> tuple[Pair, ...]:
    """A member of a list as one row where it is as ordered, else what of it is not."""
    unlike = tuple(p for p in row.inner if _verdict(p, received) in (DIFFERS, NOT_KNOWN))
    return unlike or (row,)


def _payloads(columns: Columns) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    fan = fan_of(columns, trailer_only=True)
    return by_label(columns), by_axles(columns, fan=fan), alone_best(columns, fan=fan)[0]


def _changes(before: Sequence[float], after: Sequence[float]) -> tuple[PayloadChange, ...]:
    titles = (
        ("label", "payload by label"),
        ("axles", "payload by axles, load at mid-deck"),
        ("alone", "payload of the trailer alone, at its best place"),
    )
    return tuple(
        PayloadChange(key, title, float(b), float(a), float(a) - float(b))
        for (key, title), b, a in zip(titles, before, after, strict=True)
    )


def _costliest(fields: Sequence[ReceivedField]) -> str:
    costs = {f.path: most_lost_lb(f) for f in fields}
    worst = min(costs, key=costs.__getitem__, default="")
    return worst if worst and costs[worst] < 0 else ""


def most_lost_lb(field: ReceivedField) -> float:
    """What one difference costs at the most, by whichever reckoning of the payload; negative, 0 for nothing. [lb]"""
    return min((c for c in (getattr(field, name) for name in COSTS) if c < 0), default=0.0)


def allowed(first: object, second: object, row: Pair) -> float:
    """How far two measured numbers may be apart and still be the same: both tolerances; a rating has none."""
    if not (isinstance(first, Value) and isinstance(second, Value)):
        return 0.0
    hair = HAIR * max(abs(first.number), abs(second.number))
    if row.measure is None or row.measure.rating:
        return hair
    return max(hair, first.plus_minus + second.plus_minus)


def _verdict(row: Pair, received: Trailer) -> str:
    if row.ordered is None:
        return NOT_ORDERED
    if row.whole and row.received is not None:
        return SAME
    if row.received is None:
        # A list nobody filled says nothing; one that was filled says what is not there.
        there = row.whole and bool(getattr(received, row.path.split(".", 1)[0]))
        return DIFFERS if there else NOT_KNOWN
    if isinstance(row.ordered, Value) and isinstance(row.received, Value):
        apart = abs(row.ordered.number - row.received.number)
        return SAME if apart <= allowed(row.ordered, row.received, row) else DIFFERS
    return SAME if _plain(row.ordered) == _plain(row.received) else DIFFERS


def _plain(value: object) -> object:
    """Words without their capitals and blanks; a VIN or a tire's size is the same in either."""
    return "".join(value.split()).casefold() if isinstance(value, str) else value


def _variant(row: Pair, received: Trailer) -> Trailer:
    """The unit with one field as ordered, or emptied where that says nothing new: what moves rests on it."""
    value = row.ordered if row.ordered != row.received else None
    if (value is None and row.path == "coupling.kind") or (len(received.axle) == 1 and row.path == "axle.0"):
        return received
    return put(received, row.path, value)


def _field(
    row: Pair, verdict: str, received: Trailer, columns: Columns, n: int, costs_lb: tuple[float, ...]
) -> ReceivedField:
    limits = _limits(row, columns, n)
    differs = verdict == DIFFERS
    first, second = row.ordered, row.received
    return ReceivedField(
        path=row.path,
        group=group_of(row.path),
        label=_label(row, received),
        unit=row.measure.unit if row.measure else "",
        ordered=text_of(first, row.measure),
        received="not there" if row.whole and differs and second is None else text_of(second, row.measure),
        ordered_value=first.number if isinstance(first, Value) else math.nan,
        received_value=second.number if isinstance(second, Value) else math.nan,
        allows=allowed(first, second, row),
        verdict=verdict,
        touches="payload" if limits & _payload_checks() else "limits" if limits else "",
        limits=tuple(c for c in CHECKS if c in limits),
        **dict(zip(COSTS, costs_lb if differs else NOTHING, strict=True)),
    )


def _label(row: Pair, received: Trailer) -> str:
    head, _, rest = row.path.partition(".")
    if row.whole:
        member = row.received or row.ordered
        if head == "equipment":
            return member.says or member.tag.replace("-", " ")
        return "place to tie to" if head == "anchor" else f"{head} {int(rest) + 1}"
    if head in ("anchor", "equipment"):
        member = getattr(received, head)[int(rest.split(".")[0])]
        return f"{label_of(row.path).removeprefix(f'{head} ')}, {member_text(member)}"
    return label_of(row.path) + (", each axle" if f"axle.{EACH}." in row.path else "")


def _limits(row: Pair, columns: Columns, n: int) -> set[str]:
    """Checks that rest on the field: on the column its path names, or on one that moved with it."""
    pattern = pattern_of(row.path)
    path = f"trailer.{pattern.replace('.#', '')}"
    names = {name for name, values in columns.values.items() if _moved(values, n)}
    names |= {c.name for c in COLUMNS.values() if c.path == path and (c.name not in columns or row.path in _REQUIRED)}
    if pattern in _TIED:
        names.add(_TIED[pattern])
    if names & LOADING.keys():
        names |= CLIMB.keys()
    return {check for check in CHECKS if names & _raw_of(check)}


def _moved(values: np.ndarray, n: int) -> bool:
    if values.shape[-3] == 1:
        return False
    return not np.array_equal(values[..., 0, :, :], values[..., n, :, :], equal_nan=True)


@cache
def _raw_of(check: str) -> frozenset[str]:
    c = CHECKS[check]
    return frozenset(raw_inputs(c.inputs)) if c.kind in JUDGING else frozenset()


@cache
def _payload_checks() -> frozenset[str]:
    """Ratings and laws of the trailer alone that feel the cargo's weight: what its payload rests on."""
    return frozenset(
        c.id
        for c in CHECKS.values()
        if c.case == "road" and c.kind in ("rating", "law") and feels_cargo(c) and of_trailer_alone(Row(c, None))
    )
