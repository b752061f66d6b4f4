"""What nobody knows of a trailer, and which limits cannot be judged for want of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rubrail.answers.payload import alone_best
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.rows import VERDICT_KINDS, rows_of
from rubrail.things.columns import Array, Columns
from rubrail.things.names import AXLE, COLUMNS, GEAR, HAUL, ITEM, TRAILER, TRUCK

STAND_IN = 1.0
"""What every other unknown is filled with: only whether an answer comes out is asked, never which."""


@dataclass(frozen=True, slots=True)
class Blind:
    """A limit that cannot be judged: the check's id, title and kind."""

    check: str
    title: str
    kind: str


@dataclass(frozen=True, slots=True)
class Gap:
    """One unknown of a trailer that keeps something from being judged.

    name : raw column; says : what it is in words; members : the axles it is wanted of, counted from 0, empty for what
    comes once; limits : what cannot be judged without it, what enters the verdict first; payload : whether what the
    trailer carries alone cannot be said without it.
    """

    name: str
    says: str
    members: tuple[int, ...]
    limits: tuple[Blind, ...]
    payload: bool


def gaps_of(columns: Columns) -> tuple[Gap, ...]:
    """What keeps a trailer from being judged, what matters most first.

    The trailer is asked about once for each unknown, with that one withheld and all else filled in, behind a truck and
    under a load of which everything is known. What stays without an answer then is for want of that one alone.

    Parameters
    ----------
    columns : Columns
        One trailer: shapes ``(1, 1, 1)`` and ``(axle, 1, 1, 1)``.
    """
    wanted = _unknown(columns)
    if not wanted:
        return ()
    withheld = _withheld(columns, wanted)
    rows = rows_of(withheld)
    blind = np.broadcast_to(np.isnan(rows.margin[..., 0]), (len(rows.rows), len(wanted)))
    payload = np.broadcast_to(np.isnan(alone_best(withheld)[0]), (len(wanted),))
    found = []
    for i, (name, members) in enumerate(wanted.items()):
        checks = dict.fromkeys(rows.rows[r].check for r in np.flatnonzero(blind[:, i]))
        limits = sorted((Blind(c.id, c.title, c.kind) for c in checks), key=lambda b: b.kind not in VERDICT_KINDS)
        if limits or payload[i]:
            found.append(Gap(name, COLUMNS[name].says, members, tuple(limits), bool(payload[i])))
    return tuple(sorted(found, key=_rank))


def _rank(gap: Gap) -> tuple[bool, int, int]:
    deciding = sum(b.kind in VERDICT_KINDS for b in gap.limits)
    return not gap.payload, -deciding, -len(gap.limits)


def _unknown(columns: Columns) -> dict[str, tuple[int, ...]]:
    """Columns not known, each with the axles it is missing on."""
    present = columns["axle_present"][:, 0, 0, 0] > 0
    found: dict[str, tuple[int, ...]] = {}
    for name in TRAILER:
        if name not in columns or np.isnan(columns[name]).any():
            found[name] = ()
    for name in AXLE:
        values = columns[name][:, 0, 0, 0] if name in columns else np.full(len(present), np.nan)
        if members := tuple(int(m) for m in np.flatnonzero(np.isnan(values) & present)):
            found[name] = members
    return found


def _withheld(columns: Columns, wanted: dict[str, tuple[int, ...]]) -> Columns:
    """The rig once for each unknown along the unit axis, that one left out and everything else filled in."""
    units = len(wanted)
    values: dict[str, Array] = {}
    for name in (*TRAILER, *AXLE):
        axles = (columns["axle_present"].shape[0],) if name in AXLE else ()
        stated = columns.get(name)
        filled = np.full((*axles, 1, 1, 1), np.nan) if stated is None else np.asarray(stated, float)
        values[name] = np.where(np.isnan(filled), STAND_IN, filled)
    for i, (name, members) in enumerate(wanted.items()):
        spread = np.repeat(values[name], units, axis=-3)
        spread[(list(members), i) if members else i] = np.nan
        values[name] = spread
    for name in (*TRUCK, *GEAR, *ITEM, *HAUL):
        members = (1,) if name in GEAR or name in ITEM else ()
        values[name] = np.full((*members, 1, 1, 1), STAND_IN)
    return Columns(values)
