"""Greatest cargo weight against the place of its center of gravity.

Every margin is ``a + weight * (b + c x)`` for cargo whose center of gravity sits at x. The weight a limit allows is
``-a / (b + c x)``, so its *reciprocal* is a straight line in x, and the envelope is the upper edge of a fan of
straight lines: breakpoints are where two of them cross, and no search or step is needed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.height import built_columns
from rubrail.answers.rig import rigs
from rubrail.answers.shift import best_shift
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import of_case, raw_inputs
from rubrail.checks.rows import Row, feels_cargo, rows_of
from rubrail.things.columns import Array, Columns
from rubrail.things.haul import Haul
from rubrail.things.names import COLUMNS, HAUL, TRUCK
from rubrail.things.trailer import Trailer

REFERENCE_LB = 10_000.0
REFERENCE_IN = 100.0
LABEL = "trailer-gross"
"""The label is named as what governs where another limit allows exactly as much."""


@dataclass(frozen=True)
class Fan:
    """Margins of cargo as a point: ``at_empty + weight * (per_lb + per_lb_in * x)``, each ``(row, unit)``."""

    rows: tuple[Row, ...]
    at_empty: Array
    per_lb: Array
    per_lb_in: Array

    def reciprocal(self) -> tuple[Array, Array]:
        """1 / weight allowed as ``h + k x``; a row that never limits has -inf and 0, one already over has inf."""
        # Nothing left at no cargo is the same, to any weight a scale can show, as next to nothing left.
        left = np.where(self.at_empty == 0, 1e-9, self.at_empty)
        with np.errstate(divide="ignore", invalid="ignore"):
            h, k = -self.per_lb / left, -self.per_lb_in / left
        spent = (left < 0) & np.isfinite(left)
        counts = np.isfinite(h) & np.isfinite(k) & (left > 0)
        return np.where(spent, np.inf, np.where(counts, h, -np.inf)), np.where(counts, k, 0.0)

    @property
    def unknown(self) -> NDArray[np.bool_]:
        """Rows that may cut the weight further, nobody knows how much; shape ``(row, unit)``."""
        return np.isnan(self.at_empty + self.per_lb + self.per_lb_in)


def point_cargo(columns: Columns, *, weight_lb: Array, x_in: Array) -> Columns:
    """The rig with one piece of cargo that is a point: it fits any deck, and only its weight and place count.

    Parameters
    ----------
    weight_lb, x_in : array
        Shape ``(unit or 1, position)``. [lb], [in] from the coupling point
    """
    weight, x = np.broadcast_arrays(np.atleast_2d(weight_lb), np.atleast_2d(x_in))
    items = {n: np.zeros((1, 1, 1, 1)) for n, c in COLUMNS.items() if c.per == "item"}
    items["item_present"] = np.ones((1, 1, 1, 1))
    items["item_weight_lb"] = weight[None, :, :, None].astype(float)
    items["item_front_x_in"] = x[None, :, :, None].astype(float)
    return Columns(
        {**columns.values, **items},
        {n: a for n, a in columns.plus_minus.items() if n not in items},
        {n: a for n, a in columns.basis.items() if n not in items},
    )


def alone(columns: Columns) -> Columns:
    """The trailer standing level behind nothing in particular: what the truck would bring is left out."""
    kept = {n: a for n, a in columns.values.items() if n not in TRUCK and COLUMNS[n].per != "gear"}
    level = dict.fromkeys(("hitch_height_in", "coupler_height_min_in", "coupler_height_max_in"), np.zeros((1, 1, 1)))
    plain = dict.fromkeys(("weight_distribution", "front_restoration"), np.zeros((1, 1, 1)))
    return Columns(
        {**kept, **level, **plain},
        {n: a for n, a in columns.plus_minus.items() if n in kept and n not in level},
        {n: a for n, a in columns.basis.items() if n in kept},
    )


NEUTRAL = {"hitch_height_in", "weight_distribution", "front_restoration", "hitch_ahead_in", "truck_wheelbase_in"}


def of_trailer_alone(row: Row) -> bool:
    """Whether a check needs nothing of the truck, the haul or the state's limits."""
    return not set(raw_inputs(row.check.inputs)) & ((set(TRUCK) | set(HAUL)) - NEUTRAL)


def fan_of(columns: Columns, *, trailer_only: bool, kinds: Sequence[str] = ("rating", "law")) -> Fan:
    """Read the affine coefficients of every limit from three evaluations of the checks themselves.

    Parameters
    ----------
    columns : Columns
        Many units; whatever cargo they hold is replaced by a point.
    trailer_only : bool
        Leave out every check that needs the truck.
    """
    base = alone(columns) if trailer_only else columns
    weight = np.array([[0.0, REFERENCE_LB, REFERENCE_LB]])
    place = np.array([[0.0, 0.0, REFERENCE_IN]])
    wanted = [
        c
        for c in of_case("road")
        if c.affine and feels_cargo(c) and c.kind in kinds and (not trailer_only or of_trailer_alone(Row(c, None)))
    ]
    rows = rows_of(point_cargo(base, weight_lb=weight, x_in=place), wanted)
    margin = np.broadcast_to(rows.margin, (len(rows.rows), columns.units, 3))
    with np.errstate(invalid="ignore"):
        at_empty = margin[..., 0]
        per_lb = (margin[..., 1] - at_empty) / REFERENCE_LB
        per_lb_in = (margin[..., 2] - margin[..., 1]) / REFERENCE_LB / REFERENCE_IN
    # A check that does not apply bounds nothing, whatever the cargo.
    silent = np.isposinf(at_empty)
    per_lb, per_lb_in = np.where(silent, 0.0, per_lb), np.where(silent, 0.0, per_lb_in)
    # Rounding noise of a cancelled slope would otherwise become a far-away breakpoint.
    per_lb_in = np.where(np.abs(per_lb_in) < 1e-12, 0.0, per_lb_in)
    return Fan(rows.rows, at_empty, per_lb, per_lb_in)


def greatest_at(fan: Fan, x_in: Array) -> tuple[Array, Array]:
    """Greatest weight at given places, and the row that governs.

    Parameters
    ----------
    x_in : array
        Shape ``(unit or 1, position)``. [in]

    Returns
    -------
    weight_lb, row : array
        Shape ``(unit, position)``; weight 0 where a limit is gone before any cargo, ``inf`` where none bounds.
    """
    h, k = fan.reciprocal()
    inverse = h[:, :, None] + k[:, :, None] * np.atleast_2d(x_in)[None]
    row = inverse.argmax(axis=0)
    top = np.take_along_axis(inverse, row[None], 0)[0]
    with np.errstate(divide="ignore"):
        return np.where(top > 0, 1.0 / top, np.inf), row


def greatest_anywhere(fan: Fan, *, low_in: Array, high_in: Array) -> tuple[Array, Array]:
    """Best place for the greatest weight between two places, exactly.

    Returns
    -------
    x_in, weight_lb : array
        Shape ``(unit,)``.
    """
    h, k = fan.reciprocal()
    spent = np.isposinf(h).any(axis=0)
    finite = np.isfinite(h)
    x, value, *_ = best_shift(
        at_zero=np.where(finite, -h, np.inf), slope=np.where(finite, -k, 0.0), low=low_in, high=high_in
    )
    with np.errstate(divide="ignore", invalid="ignore"):
        weight = np.where(value < 0, -1.0 / value, np.inf)
    return x, np.where(spent, 0.0, weight)


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of places where one limit governs: ``weight = 1 / (inverse_at_zero + inverse_per_in * x)``.

    member : which axle, ``None`` for a limit of the whole trailer and for axles that allow exactly alike;
    also : titles of other limits of the whole trailer that allow exactly as much all along it.
    """

    from_x_in: float
    to_x_in: float
    check: str
    title: str
    member: int | None
    from_weight_lb: float
    to_weight_lb: float
    inverse_at_zero: float
    inverse_per_in: float
    also: tuple[str, ...] = ()

    def weight_lb(self, x_in: float) -> float:
        """Greatest weight at a place of this stretch."""
        inverse = self.inverse_at_zero + self.inverse_per_in * x_in
        return 1.0 / inverse if inverse > 0 else float("inf")


def segments(fan: Fan, *, unit: int, low_in: float, high_in: float) -> tuple[Segment, ...]:
    """The envelope of one unit between two places, with exact breakpoints."""
    h, k = (a[:, unit] for a in fan.reciprocal())
    out: list[Segment] = []
    x = low_in
    current = _steepest_at(fan, h, k, x)
    while x < high_in:
        with np.errstate(divide="ignore", invalid="ignore"):
            cross = np.where(k > k[current], (h[current] - h) / (k - k[current]), np.inf)
        cross = np.where(np.isfinite(h) & (cross > x - 1e-9), np.maximum(cross, x), np.inf)
        if np.isposinf(h[current]):
            cross[:] = np.inf
        nearest = cross.min()
        end = min(float(nearest), high_in)
        if end > x:
            out.append(_segment(fan, current, h, k, x, end))
        if nearest >= high_in:
            break
        x = end
        tied = np.flatnonzero(cross <= nearest + 1e-9)
        current = _steepest(fan, k, tied)
    return tuple(out)


def _steepest_at(fan: Fan, h: Array, k: Array, x: float) -> int:
    """Row that governs just behind x: the greatest reciprocal, and of equals the one that rises fastest."""
    value = h + k * x
    tied = np.flatnonzero(np.isposinf(value) if np.isposinf(value.max()) else value >= value.max() - 1e-15)
    return _steepest(fan, k, tied)


def _steepest(fan: Fan, k: Array, tied: NDArray[np.intp]) -> int:
    steepest = tied[k[tied] == k[tied].max()]
    return int(next((i for i in steepest if fan.rows[i].check.id == LABEL), steepest[0]))


def _segment(fan: Fan, row: int, h: Array, k: Array, low: float, high: float) -> Segment:
    zero, slope = float(h[row]), float(k[row])

    def weight(x: float) -> float:
        inverse = zero + slope * x
        return (1.0 / inverse if inverse > 0 else float("inf")) if np.isfinite(inverse) else 0.0

    r = fan.rows[row]
    same = np.isclose(h, zero, rtol=1e-9, atol=0) & np.isclose(k, slope, rtol=1e-9, atol=1e-18)
    others = [fan.rows[i] for i in np.flatnonzero(same) if i != row]
    alike = sum(o.check == r.check for o in others)
    known = sum(o.check == r.check and bool(np.isfinite(h[i])) for i, o in enumerate(fan.rows))
    member = None if alike and alike + 1 == known else r.member
    also = tuple(o.check.title for o in others if o.member is None)
    return Segment(low, high, r.check.id, r.check.title, member, weight(low), weight(high), zero, slope, also)


@dataclass(frozen=True, slots=True)
class Envelope:
    """Greatest cargo weight against the place of its center of gravity, for one unit.

    alone, behind : stretches for the trailer alone, and behind the haul's truck; ``None`` where no haul is given.
    best_x_in, best_lb : the best place and its weight, on the widest answer given.
    unknown : titles of limits that are not known and could cut it further; never empty means never final.
    deck_front_x_in, deck_rear_x_in : the level deck, which the stretches run over.
    """

    trailer: str
    alone: tuple[Segment, ...]
    behind: tuple[Segment, ...] | None
    best_x_in: float
    best_lb: float
    unknown: tuple[str, ...]
    deck_front_x_in: float
    deck_rear_x_in: float


def envelope_of(columns: Columns, *, trailer: str, with_truck: bool, fan: Fan | None = None) -> Envelope:
    """The envelope of one rig over the level deck.

    Parameters
    ----------
    columns : Columns
        One unit; its cargo does not matter.
    trailer : str
        What to call it.
    with_truck : bool
        Whether the columns hold a truck.
    fan : Fan, optional
        ``fan_of(columns, trailer_only=True)`` read before.

    Raises
    ------
    ValueError
        If the place of the deck is not known.
    """
    evaluation = Evaluation(alone(columns))
    low, high = (float(evaluation.value(n)[0, 0, 0]) for n in ("deck_front_x_in", "deck_flat_rear_x_in"))
    if not low < high:
        raise ValueError(f"deck of trailer {trailer} must have a known place and length, got {low} to {high} in")
    fans = [fan_of(columns, trailer_only=True) if fan is None else fan]
    fans += [fan_of(columns, trailer_only=False)] if with_truck else []
    parts = [segments(fan, unit=0, low_in=low, high_in=high) for fan in fans]
    x, best = greatest_anywhere(fans[-1], low_in=np.array([low]), high_in=np.array([high]))
    blind = fans[-1].unknown[:, 0]
    unknown = dict.fromkeys(r.check.title for r, b in zip(fans[-1].rows, blind, strict=True) if b)
    return Envelope(
        trailer, parts[0], parts[1] if with_truck else None, float(x[0]), float(best[0]), tuple(unknown), low, high
    )


def envelope(*, trailer: Trailer, haul: Haul | None = None) -> Envelope:
    """Greatest cargo weight against place, the trailer alone and, with a haul, behind its truck.

    Raises
    ------
    ValueError
        If the place of the deck is not known.
    """
    if haul is None:
        return envelope_of(built_columns([trailer]), trailer=trailer.id, with_truck=False)
    return envelope_of(rigs(haul=haul, trailers=(trailer,)).columns, trailer=trailer.id, with_truck=True)
