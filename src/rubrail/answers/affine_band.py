"""Where one piece may stand while the others stay: stretches of the deck, each with the verdict of the whole rig.

Every row is straight between a few *knots*: where a tolerance changes sides, where another part becomes the least,
where two pieces change order. So the places where a row begins or ceases to hold are found exactly, and between two of
them the verdict is one word. Works on what a page carries, like ``affine_read``; the bench's script is this once more.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations, pairwise
from typing import Any, NamedTuple

import numpy as np

from rubrail.answers.affine_read import least_at, lost, value
from rubrail.checks.verdict import CLEAR, DEPENDS, NOT_APPLICABLE, NOT_KNOWN, OVER

Line = tuple[float, float]
"""Value at no offset of the piece, and what an inch of it adds."""
APART_IN = 1e-6
"""Ends closer together than this are one."""


class Stretch(NamedTuple):
    """From and to, as fronts of the piece behind the coupling point, and the rig's verdict code between them."""

    low_in: float
    high_in: float
    code: int


def stretches(
    data: dict[str, Any], front_x_in: list[float], piece: int, *, low_in: float, high_in: float
) -> list[Stretch] | None:
    """Verdict of the rig with one piece at every place, the others where they are.

    Parameters
    ----------
    data : dict
        As ``affine_read.plain`` gives it.
    front_x_in : list of float
        Front of each piece behind the coupling point. [in]
    piece : int
        Which one moves.
    low_in, high_in : float
        Between which fronts of it. [in]

    Returns
    -------
    list of Stretch or None
        Joined end to end, neighbors of different verdict; None where a row is not straight and has to be asked for.
    """
    moving = [r for r in data["rows"] if r["form"] != "steady"]
    if any(r["form"] == "asked" for r in moving):
        return None
    others = [x for i, x in enumerate(front_x_in) if i != piece and low_in < x < high_in]
    ends = sorted({low_in, high_in, *others})
    cuts = set(ends)
    for a, b in pairwise(ends):
        at = _Along(data, front_x_in, piece, (a + b) / 2)
        for row in moving:
            cuts.update(t for t in at.changes(row, a, b) if a < t < b)
    kept = _apart(sorted(cuts))
    out: list[Stretch] = []
    for (a, b), code in zip(pairwise(kept), _verdicts(data, front_x_in, piece, kept), strict=True):
        if out and out[-1].code == code:
            out[-1] = Stretch(out[-1].low_in, b, code)
        else:
            out.append(Stretch(a, b, code))
    return out


def _verdicts(data: dict[str, Any], front: list[float], piece: int, ends: list[float]) -> list[int]:
    """Verdict between each end and the next, all of them at once; rows that do not move are told once."""
    at = np.array([(a + b) / 2 for a, b in pairwise(ends)])
    along = _Along(data, front, piece, math.nan)
    must, advised = np.full(at.shape, CLEAR), np.full(at.shape, NOT_APPLICABLE)
    for row in data["rows"]:
        code = row["code"] if row["form"] == "steady" else along.codes(row, at)
        if row["binds"]:
            must = np.minimum(must, code)
        elif row["kind"] == "guidance":
            advised = np.minimum(advised, code)
    return np.where(advised > NOT_KNOWN, must, np.minimum(must, DEPENDS)).tolist()


def _apart(ends: list[float]) -> list[float]:
    kept = ends[:1]
    for t in ends[1:]:
        if t - kept[-1] > APART_IN:
            kept.append(t)
    return kept


class _Along:
    """Rows as functions of one piece's front. inside : a place between the same neighbors, which settles the order."""

    def __init__(self, data: dict[str, Any], front: list[float], piece: int, inside: float) -> None:
        self.piece, self.tolerance = piece, data["tolerance"]
        self.order = [*front[:piece], inside, *front[piece + 1 :]]
        self.offset = [x - r for x, r in zip(front, data["reference"], strict=True)]
        self.reference = data["reference"][piece]

    def offsets(self, t: float) -> list[float]:
        return [*self.offset[: self.piece], t - self.reference, *self.offset[self.piece + 1 :]]

    def line(self, plane: list[float | None] | None) -> Line | None:
        if plane is None or plane[0] is None:
            return None
        slope = plane[1 + self.piece]
        return value(plane, self.offsets(0.0)), 0.0 if slope is None else slope

    def changes(self, row: dict[str, Any], a: float, b: float) -> Iterator[float]:
        """Places between a and b where a row's margin, or its worst margin, crosses zero; and its knots."""
        knots = sorted({a, b, *(t for t in self.knots(row) if a < t < b)})
        yield from knots[1:-1]
        values = [self.told(row, t) for t in knots]
        for (s, u), (t, v) in pairwise(zip(knots, values, strict=True)):
            for one, other in zip(u, v, strict=True):
                if math.isfinite(one) and math.isfinite(other) and (one < 0) != (other < 0):
                    yield s + (t - s) * one / (one - other)

    def told(self, row: dict[str, Any], t: float) -> tuple[float, float]:
        """Margin and worst margin, with what counts as rounding added."""
        offset = self.offsets(t)
        if row["form"] == "least":
            _, limit, margin, worst = least_at(row, offset, self.order)
        else:
            demand, limit = value(row["demand"], offset), value(row["limit"], offset)
            margin = limit - demand
            worst = math.nan if row["unknown"] else margin - lost(row["losses"], offset)
        slack = self.tolerance * max(1.0, abs(limit)) if math.isfinite(limit) else 0.0
        return margin + slack, worst + slack

    def codes(self, row: dict[str, Any], t: np.ndarray) -> np.ndarray:
        """Verdict of a row at many places at once, by the arithmetic of ``affine_read.row_at``."""
        if row["form"] == "least":
            limit, margin, worst = self.least(row, t)
        else:
            limit = self.at(row["limit"], t)
            margin = limit - self.at(row["demand"], t)
            worst = np.full(t.shape, math.nan) if row["unknown"] else margin - self.lost(row["losses"], t)
        bound = np.isfinite(limit)
        slack = self.tolerance * np.maximum(1.0, np.abs(np.where(bound, limit, 0.0)))
        cases = [limit == math.inf, np.isnan(margin) | np.isnan(worst), margin < -slack, worst >= -slack]
        return np.select(cases, [NOT_APPLICABLE, NOT_KNOWN, OVER, CLEAR], DEPENDS)

    def at(self, plane: list[float | None] | None, t: np.ndarray) -> np.ndarray:
        """A plane at many places; ``nan`` where it is not known."""
        line = self.line(plane)
        return np.full(t.shape, math.nan) if line is None else line[0] + line[1] * t

    def lost(self, losses: dict[str, Any], t: np.ndarray) -> np.ndarray:
        """What tolerances take together."""
        total = np.full(t.shape, losses["fixed"])
        for plane in losses["even"]:
            total = total + np.abs(self.at(plane, t))
        for up, down in losses["odd"]:
            most = np.maximum(*(np.zeros(t.shape) if p is None else self.at(p, t) for p in (up, down)))
            total = total + np.maximum(most, 0.0)
        return total

    def least(self, row: dict[str, Any], t: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Limit, margin and worst margin of a row that is the least of parts; all open where no part counts."""
        parts = [(p, self.counts(p, row["member"], t)) for p in row["parts"]]
        limit, margin = np.full(t.shape, math.inf), np.full(t.shape, math.inf)
        for part, counts in parts:
            of = self.at(part["limit"], t)
            spare = of - self.at(part["demand"], t)
            nearer = counts & ((limit == math.inf) | (spare < margin))
            limit, margin = np.where(nearer, of, limit), np.where(nearer, spare, margin)
        worst = margin - row["fixed"]
        bound = np.isfinite(margin)
        for k in range(len(row["parts"][0]["nudged"]) if parts else 0):
            loss = np.zeros(t.shape)
            for side in (0, 1):
                nudged = np.full(t.shape, math.inf)
                for part, counts in parts:
                    if (plane := part["nudged"][k][side]) is not None:
                        nudged = np.where(counts, np.fmin(nudged, self.at(plane, t)), nudged)
                loss = np.maximum(loss, np.where(bound, margin, 0.0) - nudged)
            worst = worst - loss
        return limit, margin, worst

    def counts(self, part: dict[str, Any], member: int | None, t: np.ndarray) -> np.ndarray:
        """Where a part counts: where the piece it comes after stands ahead."""
        ahead = part["after"]
        if ahead is None:
            return np.full(t.shape, True)
        one, other = (t if i == self.piece else np.full(t.shape, self.order[i]) for i in (ahead, member))
        return (one < other) | ((one == other) & (ahead < member))

    def knots(self, row: dict[str, Any]) -> Iterator[float]:
        if row["form"] == "straight":
            for plane in row["losses"]["even"]:
                yield from _roots([self.line(plane), (0.0, 0.0)])
            for up, down in row["losses"]["odd"]:
                yield from _roots([self.line(up), self.line(down), (0.0, 0.0)])
            return
        margins = [_less(self.line(p["limit"]), self.line(p["demand"])) for p in row["parts"]]
        yield from _roots(margins)
        for k in range(len(row["parts"][0]["nudged"]) if row["parts"] else 0):
            nudged = [self.line(p["nudged"][k][side]) for p in row["parts"] for side in (0, 1)]
            yield from _roots([*margins, *nudged])


def _less(one: Line | None, other: Line | None) -> Line | None:
    return None if one is None or other is None else (one[0] - other[0], one[1] - other[1])


def _roots(lines: list[Line | None]) -> Iterator[float]:
    """Where any two of the lines meet."""
    for one, other in combinations([x for x in lines if x is not None], 2):
        slope = other[1] - one[1]
        if slope != 0:
            yield (one[0] - other[0]) / slope
