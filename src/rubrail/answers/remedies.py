"""What to change: for what is over, the smallest single change that clears it, each tried by weighing again."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np

from rubrail.answers.placing import affine_rows
from rubrail.answers.report import Remedy
from rubrail.answers.shift import bounds
from rubrail.checks.judge import Judgement, judged_again
from rubrail.checks.registry import Check, raw_inputs
from rubrail.checks.rows import VERDICT_KINDS, Row, Rows, rows_of
from rubrail.checks.verdict import OVER, WORDS
from rubrail.things.columns import Array, Columns
from rubrail.things.names import COLUMNS, unit_of

STEP_LB = 10
"""Weights in a remedy are rounded to what a person can act on, always to the safe side."""


def remedies(columns: Columns, judgement: Judgement) -> tuple[Remedy, ...]:
    """Single changes that clear one or more of the limits that are over, those that clear most first.

    Parameters
    ----------
    columns : Columns
        One rig as placed: every axis but the members' has length 1.
    judgement : Judgement
        Of that rig, by every check of the road.
    """
    over = _over(judgement)
    if not over:
        return ()
    tried: dict[tuple, Remedy] = {}
    for kind, says, amount, unit, changes in _changes(columns, judgement, over):
        after = judged_again(judgement, changes)
        left = _over(after)
        cleared = tuple(dict.fromkeys(r.check.id for r in over if r not in left))
        fresh = [r for r in left if r not in over]
        if cleared and not fresh:
            remedy = Remedy(kind, says, amount, unit, cleared, WORDS[int(after.verdict[0, 0])])
            tried.setdefault((kind, says), remedy)
    return tuple(sorted(tried.values(), key=lambda r: (r.verdict == "over", -len(r.clears))))


def _over(judgement: Judgement) -> list[Row]:
    binding = judgement.rows.of_kind(*VERDICT_KINDS)
    return [r for i, r in enumerate(judgement.rows.rows) if binding[i] and judgement.codes[i, 0, 0] == OVER]


Change = tuple[str, str, float, str, Mapping[str, Array]]
"""Its kind, what it says, how much, in what unit, and the columns it changes."""


def _changes(columns: Columns, judgement: Judgement, over: list[Row]) -> Iterator[Change]:
    yield from _moves(columns, over)
    yield from _take_offs(columns, over)
    yield from _inflate(columns, over)
    yield from _distribute(columns)
    yield from _better_ratings(columns, judgement, over)


def _moves(columns: Columns, over: list[Row]) -> Iterator[Change]:
    """Slide the whole cargo: to where everything that depends on place holds, or one limit at a time."""
    if not (columns["item_present"] > 0).any():
        return
    rows, at_zero, slope = affine_rows(columns, offsets_in=columns["item_front_x_in"])
    fixed = (slope == 0) & ~np.isinf(at_zero)
    at_zero = np.where(fixed, np.inf, at_zero)
    fit = rows.of_kind("fit")
    must = rows.of_kind(*VERDICT_KINDS)
    wanted = [must, *(fit | np.array([r == o for r in rows.rows]) for o in over)]
    for keep in wanted:
        mask = keep[:, None, None]
        low, high = bounds(at_zero=np.where(mask, at_zero, np.inf), slope=np.where(mask, slope, 0.0))
        by = _whole_inches(float(low[0, 0]), float(high[0, 0]))
        if by:
            way = "rearward" if by > 0 else "forward"
            moved = {"item_front_x_in": columns["item_front_x_in"] + by}
            yield "move", f"move the load {abs(by):,.0f} in {way}", by, "in", moved


def _whole_inches(low: float, high: float) -> float:
    """The whole inch nearest to no move that lies between the bounds; the exact bound where none does; 0 for none."""
    if not low <= high or low <= 0 <= high:
        return 0.0
    edge = low if low > 0 else high
    whole = math.ceil(edge) if low > 0 else math.floor(edge)
    return float(whole) if low <= whole <= high else edge


def _take_offs(columns: Columns, over: list[Row]) -> Iterator[Change]:
    """Take weight off where the cargo stands, every piece by the same share."""
    weight = columns["item_weight_lb"]
    total = float(np.nansum(np.where(columns["item_present"] > 0, weight, 0.0)))
    if not total > 0 or np.isnan(weight[columns["item_present"] > 0]).any():
        return
    checks = _checks(over)
    whole = rows_of(columns, checks)
    full = _margins(whole)
    half = _margins(rows_of(columns.with_values({"item_weight_lb": weight * 0.5}), checks, like=whole))
    shares = []
    for row in over:
        gain = (half[row] - full[row]) * 2.0
        if row.check.affine and gain > 0:
            shares.append(min(-full[row] / gain, 1.0))
    for share in sorted({*shares, max(shares, default=0.0)}):
        pounds = min(math.ceil(share * total / STEP_LB) * STEP_LB, total)
        if 0 < pounds < total:
            lighter = {"item_weight_lb": weight * (1 - pounds / total)}
            yield "take-off", f"take {pounds:,.0f} lb off the load", pounds, "lb", lighter


def _checks(over: list[Row]) -> list[Check]:
    return list({r.check.id: r.check for r in over}.values())


def _margins(rows: Rows) -> dict[Row, float]:
    return {r: float(rows.margin[i, 0, 0]) for i, r in enumerate(rows.rows)}


def _inflate(columns: Columns, over: list[Row]) -> Iterator[Change]:
    """Air up, to the least whole pressure that does it and never above the sidewall's."""
    names = ("axle_tire_pressure_psi", "axle_tire_max_pressure_psi")
    if not any(n in names for r in over for n in _raw(r)) or any(n not in columns for n in names):
        return
    now, most = (columns[n] for n in names)
    top = float(np.nanmax(most)) if np.isfinite(most).any() else 0.0
    least = float(np.nanmin(now)) if np.isfinite(now).any() else top
    checks = _checks([r for r in over if set(names) & set(_raw(r))])
    rows = None
    for psi in range(math.floor(least) + 1, math.floor(top) + 1):
        aired = {names[0]: np.where(now < psi, np.minimum(psi, most), now)}
        rows = rows_of(columns.with_values(aired), checks, like=rows)
        if (rows.margin >= 0).all():
            yield "inflate", f"inflate the trailer's tires to {psi} psi", float(psi), "psi", aired
            return


def _raw(row: Row) -> tuple[str, ...]:
    return raw_inputs(row.check.inputs)


def _distribute(columns: Columns) -> Iterator[Change]:
    """Use the hitch as a weight-distributing one, where it is rated as one."""
    used, rated = columns.get("weight_distribution"), columns.get("hitch_wd_gross_rating_lb")
    if used is None or rated is None or used.max() > 0 or not (rated > 0).any():
        return
    for share in (0.5, 1.0):
        one = np.ones((1, 1, 1))
        changed = {"weight_distribution": one, "front_restoration": one * share}
        says = f"use a weight-distributing hitch that returns {share:.0%} of the lost front-axle load"
        yield "distribute", says, share, "", changed


def _better_ratings(columns: Columns, judgement: Judgement, over: list[Row]) -> Iterator[Change]:
    """What the part or the unit would have to be rated for. It takes another part or another unit, not a sticker."""
    for row in over:
        index = judgement.rows.rows.index(row)
        demand = float(judgement.rows.demand[index, 0, 0])
        if not np.isfinite(demand) or row.check.kind != "rating":
            continue
        for name in row.check.inputs:
            if name not in COLUMNS or unit_of(name) != "lb" or name not in columns:
                continue
            values = columns[name]
            count = _smallest_that_clears(columns, row, name, demand)
            if count is None:
                continue
            changed = {name: np.maximum(values, count)}
            yield "rating", f"{COLUMNS[name].says}: at least {count:,.0f} lb", count, "lb", changed


def _smallest_that_clears(columns: Columns, row: Row, name: str, demand: float) -> float | None:
    """Least value of one rating, in steps of 50 lb, at which the row holds; None where it never does."""

    stated = rows_of(columns, [row.check])

    def margin(value: float) -> float:
        changed = columns.with_values({name: np.maximum(columns[name], value)})
        rows = rows_of(changed, [row.check], like=stated)
        return float(rows.margin[rows.rows.index(row), 0, 0])

    low, high = 0, math.ceil(demand / 50)
    if not margin(high * 50.0) >= 0:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if margin(middle * 50.0) >= 0 else (middle, high)
    return high * 50.0
