"""Straight lines through a check: its value at one placement and what an inch of each piece changes.

A *plane* is that value and those slopes, ``(at the reference, per inch of piece 1, per inch of piece 2, ...)``. Planes
are taken from the checks themselves, one step a piece, and are believed only where the checks agree with them at
other placements too.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import Check, raw_inputs
from rubrail.checks.rows import rows_of
from rubrail.things.columns import Array, Columns

STEP_IN = 64.0
SPREAD_IN = 420.0
TRIED = 6
SWEEP_IN = np.arange(-840.0, 841.0, 8.0)
"""Shifts of the whole cargo over which a check that is not declared affine is read, so that no kink goes unseen."""
FAR_IN = (2_000.0, 2_000.0 + STEP_IN)
"""Where a single piece stands when only its own line is wanted."""


def moves(check: Check) -> bool:
    """Whether a check can depend on where the cargo stands."""
    return "item_front_x_in" in raw_inputs(check.inputs)


def tried_places(reference: Array, *, sweep: bool) -> Array:
    """Placements to read: the reference, one step a piece, and further ones to prove the lines with.

    Parameters
    ----------
    reference : array
        Front of each piece, shape ``(item,)``. [in]
    sweep : bool
        Also shift the whole cargo over a long stretch.

    Returns
    -------
    array
        Shape ``(place, item)``.
    """
    count = len(reference)
    steps = reference + STEP_IN * np.eye(count)
    # Fixed numbers, so that the same rig always gives the same coefficients.
    spread = np.random.default_rng(20).uniform(-SPREAD_IN, SPREAD_IN, (TRIED if count else 0, count))
    parts = [reference[None, :], steps, reference + spread]
    if sweep:
        parts.append(reference + SWEEP_IN[:, None])
    return np.concatenate(parts)


def standing(columns: Columns, places: Array) -> Columns:
    """Columns with the pieces at each of many placements along the position axis."""
    if not places.shape[1]:
        return columns
    return columns.with_values({"item_front_x_in": places.T[:, None, :, None]})


def readings(columns: Columns, places: Array, checks: Iterable[Check]) -> dict[tuple[str, int | None], Array]:
    """Demand and limit of every row at every placement, shape ``(2, place, sample)``."""
    rows = rows_of(standing(columns, places), checks)
    out = {}
    for row, demand, limit in zip(rows.rows, rows.demands, rows.limits, strict=True):
        demand, limit = np.broadcast_arrays(demand, limit)
        both = np.stack([demand[0], limit[0]])
        out[row.check.id, row.member] = np.broadcast_to(both, (2, len(places), both.shape[2]))
    return out


def quantity_readings(columns: Columns, places: Array, name: str) -> Array:
    """A quantity at every placement, shape ``(member, place, sample)``; one member where it has none."""
    value = Evaluation(standing(columns, places)).value(name)
    value = value[None] if value.ndim == 3 else value
    return np.broadcast_to(value[:, 0], (len(value), len(places), value.shape[3]))


def plane(values: Array, places: Array) -> Array:
    """Planes through readings at a reference and one step a piece.

    Parameters
    ----------
    values : array
        Shape ``(..., place, sample)``; the reference first, then a step for each piece.
    places : array
        Shape ``(place, item)``. [in]

    Returns
    -------
    array
        Shape ``(..., sample, 1 + item)``; ``nan`` and ``inf`` stay, without a slope.
    """
    count = places.shape[1]
    at = values[..., 0, :]
    steps = np.diagonal(places[1 : 1 + count] - places[0])
    with np.errstate(invalid="ignore"):
        slopes = (values[..., 1 : 1 + count, :] - at[..., None, :]) / steps[:, None]
    slopes = np.where(np.isfinite(slopes) & (np.abs(slopes) > 1e-10), slopes, 0.0)
    return np.concatenate([at[..., None], np.swapaxes(slopes, -1, -2)], axis=-1)


def told(planes: Array, places: Array, reference: Array) -> Array:
    """What planes say at placements, shape ``(..., place, sample)``."""
    offset = places - reference
    slopes = np.swapaxes(planes[..., 1:], -1, -2)
    with np.errstate(invalid="ignore"):
        return planes[..., None, :, 0] + (offset[:, :, None] * slopes[..., None, :, :]).sum(axis=-2)


def agree(said: Array, read: Array) -> bool:
    """Whether what planes say is what was read, unknowns and infinities included."""
    said, read = np.broadcast_arrays(said, read)
    odd = ~(np.isfinite(said) & np.isfinite(read))
    if not np.array_equal(said[odd], read[odd], equal_nan=True):
        return False
    return bool(np.all(np.abs(said[~odd] - read[~odd]) <= 1e-7 * np.maximum(1.0, np.abs(read[~odd]))))


def rebased(planes: Array, base: Array, reference: Array) -> Array:
    """The same planes about another reference."""
    out = planes.copy()
    out[..., 0] = out[..., 0] + planes[..., 1:] @ (reference - base)
    return out


def only(columns: Columns, present: Iterable[int]) -> Columns:
    """Columns with only some pieces there."""
    there = np.zeros_like(columns["item_present"])
    for i in present:
        there[i] = columns["item_present"][i]
    return columns.with_values({"item_present": there})


def pair_planes(columns: Columns, check: Check, *, member: int, ahead: int, reference: Array) -> Array:
    """Demand and limit of one piece's row with only the piece ahead of it there, shape ``(2, sample, 1 + item)``."""
    base = np.zeros(len(reference))
    base[member] = FAR_IN[0]
    places = np.concatenate([base[None, :], base + STEP_IN * np.eye(len(reference))])
    read = readings(only(columns, {member, ahead}), places, [check])[check.id, member]
    return rebased(plane(read, places), base, reference)


def piece_planes(
    columns: Columns, check: Check, *, row_member: int | None, piece: int | None, reference: Array
) -> Array:
    """Demand and limit of a row with a single piece far to the rear, or with none, shape ``(2, sample, 1 + item)``."""
    base = np.full(len(reference), FAR_IN[0])
    places = np.concatenate([base[None, :], base + STEP_IN * np.eye(len(reference))])
    there = () if piece is None else (piece,)
    read = readings(only(columns, there), places, [check])[check.id, row_member]
    return rebased(plane(read, places), base, reference)


def still(planes: Array) -> NDArray[np.bool_]:
    """Which planes have no slope, shape of the planes less the last axis."""
    return ~np.any(planes[..., 1:] != 0, axis=-1)
