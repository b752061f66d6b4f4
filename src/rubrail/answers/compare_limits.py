"""Limits of units side by side: for each check the member of each unit that has least to spare."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rubrail.answers.lines import line_rank
from rubrail.answers.report import Line, Weighing
from rubrail.checks.rows import TOLD_KINDS, VERDICT_KINDS

AMPLE = 0.15
"""Share of a limit from which on nobody asks how much is left."""


@dataclass(frozen=True, slots=True)
class LimitRow:
    """One check on each of several units.

    lines : the line of each unit, None where the check does not apply to it; best : units that have most to spare of a
    rating or law, empty where all have the same or nothing can be said
    """

    check: str
    title: str
    kind: str
    unit: str
    lines: tuple[Line | None, ...]
    best: tuple[int, ...]

    @property
    def close(self) -> bool:
        """Whether any unit is not clear of it, or has little to spare."""
        return any(x is not None and (x.verdict != "clear" or x.share < AMPLE) for x in self.lines)


def limit_rows(weighings: Sequence[Weighing]) -> tuple[LimitRow, ...]:
    """Every rating, law, fit check and guidance that applies to any of the units, the tightest first."""
    rows = [_row(check, weighings) for check in _checks(weighings, (*VERDICT_KINDS, "guidance"))]
    return tuple(sorted(rows, key=lambda r: min(line_rank(x) for x in r.lines if x is not None)))


def told_rows(weighings: Sequence[Weighing]) -> tuple[LimitRow, ...]:
    """Duties and taxes of any of the units, those that apply first."""
    rows = [_row(check, weighings) for check in _checks(weighings, TOLD_KINDS)]
    return tuple(sorted(rows, key=lambda r: min(line_rank(x) for x in r.lines if x is not None)))


def _checks(weighings: Sequence[Weighing], kinds: Sequence[str]) -> list[str]:
    return list(dict.fromkeys(x.check for w in weighings for x in w.lines if x.kind in kinds))


def _row(check: str, weighings: Sequence[Weighing]) -> LimitRow:
    lines = []
    for w in weighings:
        same = [x for x in w.lines if x.check == check]
        lines.append(min(same, key=line_rank, default=None))
    known = next(x for x in lines if x is not None)
    return LimitRow(check, known.title, known.kind, known.unit, tuple(lines), _best(lines))


def _best(lines: Sequence[Line | None]) -> tuple[int, ...]:
    """Most to spare in the limit's unit. More is no better where a thing fits, nor past a line of advice or duty."""
    margins = [x.margin if x is not None and x.unit and x.kind in ("rating", "law") else math.nan for x in lines]
    margins = [m if math.isfinite(m) else math.nan for m in margins]
    known = [m for m in margins if not math.isnan(m)]
    if len(known) < 2 or max(known) == min(known):
        return ()
    return tuple(i for i, m in enumerate(margins) if m == max(known))
