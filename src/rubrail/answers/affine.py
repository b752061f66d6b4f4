"""Coefficients of one rig: every check as straight lines over the places of its pieces.

With them a page adds up, without asking, what every load, limit and verdict is while a piece is dragged along the
deck. They come from the checks, not from a second formula: each row is read at a reference placement and one step
further for each piece, and the lines are held against the checks at other placements. What is not straight is taken as
the least of straight parts where that proves true, and marked *asked* otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from rubrail.answers import affine_fit as fit
from rubrail.answers.lines import LOADS
from rubrail.answers.rig import Placement, Rigs, at_placement
from rubrail.checks.judge import Judgement, judge
from rubrail.checks.registry import QUANTITIES, of_case
from rubrail.checks.rows import Row
from rubrail.checks.tolerance import nudged
from rubrail.things.columns import Array, Columns

Plane = tuple[float, ...]
"""Value at the reference, then what an inch of each piece adds."""
Pair = tuple[Plane | None, Plane | None]


@dataclass(frozen=True, slots=True)
class Losses:
    """What tolerances take from a margin.

    fixed : taken wherever the pieces stand; even : planes whose size, up or down, is taken; odd : pairs of planes of
    which the greater is taken, never less than nothing.
    """

    fixed: float = 0.0
    even: tuple[Plane, ...] = ()
    odd: tuple[Pair, ...] = ()


@dataclass(frozen=True, slots=True)
class Steady:
    """A row that does not depend on place: its answer at the reference."""

    row: Row
    demand: float
    limit: float
    margin: float
    worst: float
    share: float
    code: int


@dataclass(frozen=True, slots=True)
class Straight:
    """A row whose demand and limit are planes. unknown : something it needs is not known; demand may still be."""

    row: Row
    demand: Plane
    limit: Plane
    losses: Losses
    unknown: bool


@dataclass(frozen=True, slots=True)
class Part:
    """One straight part of a row. after : the piece that must stand ahead for it to count; None for always.

    nudged : margin under each tolerance up and down, planes; None where the row then does not apply
    """

    after: int | None
    demand: Plane
    limit: Plane
    nudged: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class Least:
    """A row whose margin is the least of several straight parts. fixed : loss that is the same in all of them."""

    row: Row
    parts: tuple[Part, ...]
    fixed: float


@dataclass(frozen=True, slots=True)
class Asked:
    """A row that is not straight: its answer at the reference, good there only."""

    row: Row
    demand: float
    limit: float
    margin: float
    worst: float
    share: float
    code: int


AnyRow = Steady | Straight | Least | Asked


@dataclass(frozen=True, slots=True)
class LoadPlane:
    """One load of the rig: ``None`` for the member where it has none. Its spread is what ``losses`` add up to."""

    name: str
    member: int | None
    value: Plane
    losses: Losses


@dataclass(frozen=True, slots=True)
class Affine:
    """All rows of one rig over the places of its pieces.

    reference_in : front of each piece behind the coupling point where the planes have their values [in]
    """

    reference_in: tuple[float, ...]
    rows: tuple[AnyRow, ...]
    loads: tuple[LoadPlane, ...]
    judgement: Judgement


def affine(one: Rigs, placement: Placement) -> Affine:
    """Coefficients of one rig about a placement; they hold for every placement with the same facings.

    Parameters
    ----------
    one : Rigs
        Of one trailer.
    placement : Placement

    Raises
    ------
    ValueError
        If the placement has not one place for each piece.
    """
    columns = at_placement(one, placement)
    judgement = judge(columns)
    wide, nudges = nudged(columns)
    reference = np.array(placement.front_x_in, float)
    straight = [c for c in of_case("road") if c.affine or not fit.moves(c)]
    bent = [c for c in of_case("road") if not (c.affine or not fit.moves(c))]
    rows: dict[tuple[str, int | None], AnyRow] = {}
    for checks, sweep in ((straight, False), (bent, True)):
        places = fit.tried_places(reference, sweep=sweep)
        read = fit.readings(wide, places, checks)
        for index, row in enumerate(judgement.rows.rows):
            key = row.check.id, row.member
            if key in read:
                rows[key] = _row(row, index, judgement, wide, read[key], places, len(nudges))
    return Affine(
        reference_in=tuple(placement.front_x_in),
        rows=tuple(rows[r.check.id, r.member] for r in judgement.rows.rows),
        loads=tuple(_loads(wide, columns, reference, len(nudges))),
        judgement=judgement,
    )


def _row(
    row: Row, index: int, judgement: Judgement, columns: Columns, read: Array, places: Array, count: int
) -> AnyRow:
    reference = places[0]
    planes = fit.plane(read, places)
    if fit.agree(fit.told(planes, places, reference), read):
        if fit.still(planes).all() or np.isposinf(planes[1, :, 0]).all():
            return _as_answered(Steady, row, index, judgement)
        made = _straight(row, planes, count)
    else:
        made = _least(row, columns, reference, count)
        if made is not None and not _proven(made, read, places, count):
            made = None
    return _as_answered(Asked, row, index, judgement) if made is None else made


def _as_answered(kind: type, row: Row, index: int, judgement: Judgement) -> AnyRow:
    rows = judgement.rows
    values = (rows.demand, rows.limit, rows.margin, judgement.worst, rows.relative)
    return kind(row, *(float(v[index, 0, 0]) for v in values), int(judgement.codes[index, 0, 0]))


def _straight(row: Row, planes: Array, count: int) -> Straight | None:
    demand, limit = planes
    if np.isposinf(limit[0, 0]):
        return None
    with np.errstate(invalid="ignore"):
        margin = limit - demand
    unknown = bool(np.isnan(margin[:, 0]).any())
    losses = Losses() if unknown else losses_of(margin, count)
    return Straight(row, _plane(demand[0]), _plane(limit[0]), losses, unknown)


def losses_of(margin: Array, count: int) -> Losses:
    """What tolerances take from a margin, nudge by nudge.

    Parameters
    ----------
    margin : array
        Planes of the margin (or of a load) under each sample, shape ``(sample, 1 + item)``, as ``nudged`` orders them.
    count : int
        Number of nudges.
    """
    if len(margin) == 1:
        return Losses()
    with np.errstate(invalid="ignore"):
        loss = margin[0] - margin[1:]
    up, down = loss[:count], loss[count:]
    takes = np.where(np.isfinite(loss[:, 0]), loss[:, 0], 0.0)
    alone = fit.still(up) & fit.still(down)
    fixed = float(np.maximum(takes[:count], takes[count:]).clip(0.0)[alone].sum())
    even, odd = [], []
    for k in np.flatnonzero(~alone):
        if np.isfinite(up[k] + down[k]).all() and np.abs(up[k] + down[k]).max() <= 1e-9:
            even.append(_plane(up[k]))
        else:
            odd.append((_known(up[k]), _known(down[k])))
    return Losses(fixed, tuple(even), tuple(odd))


def _plane(values: Array) -> Plane:
    return tuple(float(v) for v in values)


def _least(row: Row, columns: Columns, reference: Array, count: int) -> Least | None:
    """The row as the least of straight parts: one for each piece that can stand ahead, or one for each piece alone."""
    pieces = range(len(reference))
    if row.check.per == "item":
        found = [
            (j, fit.pair_planes(columns, row.check, member=row.member, ahead=j, reference=reference))
            for j in pieces
            if j != row.member
        ]
    else:
        alone = [
            fit.piece_planes(columns, row.check, row_member=row.member, piece=i, reference=reference)
            for i in (None, *pieces)
        ]
        found = [(None, p) for p in alone]
    return _joined(row, [(after, p) for after, p in found if not np.isposinf(p[1, 0, 0])], count)


def _joined(row: Row, found: list[tuple[int | None, Array]], count: int) -> Least | None:
    if not found or any(np.isnan(p[..., 0]).any() for _, p in found):
        return None
    size = 1 + 2 * count
    margins = []
    for _, planes in found:
        demand, limit = planes
        margins.append(np.broadcast_to(limit - demand, (size, planes.shape[-1])))
    stacked = np.stack(margins)
    with np.errstate(invalid="ignore"):
        loss = stacked[:, :1] - stacked[:, 1:]
    same = np.all(fit.still(loss), axis=0) & np.all(np.abs(loss[..., 0] - loss[:1, :, 0]) <= 1e-9, axis=0)
    both = same[:count] & same[count:]
    fixed = float(np.maximum(loss[0, :count, 0], loss[0, count:, 0]).clip(0.0)[both].sum())
    kept = np.flatnonzero(~both)
    parts = []
    for (after, planes), margin in zip(found, margins, strict=True):
        pairs = tuple((_known(margin[1 + k]), _known(margin[1 + count + k])) for k in kept)
        parts.append(Part(after, _plane(planes[0, 0]), _plane(planes[1, 0]), pairs))
    return Least(row, tuple(parts), fixed)


def _known(plane: Array) -> Plane | None:
    return _plane(plane) if np.isfinite(plane[0]) else None


def _proven(made: Least, read: Array, places: Array, count: int) -> bool:
    """Whether the parts give what the check gave at every placement tried, tolerances included."""
    from rubrail.answers.affine_read import least_at, plain_row  # reads these records, so it stands above them

    plain = plain_row(made)
    demand, limit = np.broadcast_to(read, (2, len(places), 1 + 2 * count))
    with np.errstate(invalid="ignore"):
        margin = limit - demand
        loss = np.maximum(margin[:, :1] - margin[:, 1 : 1 + count], margin[:, :1] - margin[:, 1 + count :])
        worst = margin[:, 0] - np.maximum(loss, 0.0).sum(axis=1)
    # Every eighth of the sweep is enough to see a kink of a sum of a few lines.
    every = 1 + len(places[0]) + fit.TRIED
    for n in (*range(every), *range(every, len(places), 8)):
        place = places[n]
        offset = [float(v) for v in place - places[0]]
        told = least_at(plain, offset, [float(v) for v in place])
        wanted = (demand[n, 0], limit[n, 0], margin[n, 0], worst[n] if np.isfinite(margin[n, 0]) else margin[n, 0])
        if not fit.agree(np.array(told), np.array(wanted)):
            return False
    return True


def _loads(wide: Columns, columns: Columns, reference: Array, count: int) -> Iterator[LoadPlane]:
    places = fit.tried_places(reference, sweep=False)
    present = columns["axle_present"].reshape(-1)
    for name in LOADS:
        read = fit.quantity_readings(wide, places, name)
        planes = fit.plane(read, places)
        if not fit.agree(fit.told(planes, places, reference), read):
            raise ArithmeticError(f"{name} is not affine in the places of the cargo")
        for member, values in enumerate(planes):
            if QUANTITIES[name].per and not present[member] > 0:
                continue
            losses = Losses() if np.isnan(values[:, 0]).any() else losses_of(values, count)
            yield LoadPlane(name, member if QUANTITIES[name].per else None, _plane(values[0]), losses)
