"""Judge many rigs at once: a verdict for every row, one for the rig, and the limit that governs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.checks.registry import Check
from rubrail.checks.rows import VERDICT_KINDS, Rows, feels_cargo, rows_of
from rubrail.checks.tolerance import Nudge, nudged, nudged_again, worst_margin
from rubrail.checks.verdict import CLEAR, DEPENDS, NOT_APPLICABLE, NOT_KNOWN, OVER, verdict_codes
from rubrail.things.columns import Array, Columns


@dataclass(frozen=True)
class Judgement:
    """Verdicts of many rigs; arrays over ``(row, unit, position)`` or ``(unit, position)``.

    rows
        Every check, member by member.
    nudges
        The uncertain inputs, as the sample axis orders them.
    worst
        Margin with every tolerance against the rig.
    codes
        Verdict code of each row.
    verdict
        Verdict code of each rig.
    governing
        Row index of the limit that governs each rig, -1 where no row applies.
    """

    rows: Rows
    nudges: tuple[Nudge, ...]
    worst: Array
    codes: NDArray[np.int8]
    verdict: NDArray[np.int8]
    governing: NDArray[np.intp]


def judge(columns: Columns, *, tolerances: bool = True, checks: Iterable[Check] | None = None) -> Judgement:
    """Evaluate every check over columns and say what each rig's verdict is.

    A rig's verdict is the worst over ratings, law and fit. Guidance that fails at the stated values, or is not
    known, caps it at ``depends``: such a rig holds every rating and law, and somebody has to decide. Duties and tax
    never enter.

    Parameters
    ----------
    columns : Columns
        With a sample axis of length 1.
    tolerances : bool
        False takes every value as exact.
    checks : iterable of Check, optional
        Which; every check of the road by default.
    """
    return judged(*(nudged(columns) if tolerances else (columns, ())), checks=checks)


def judged_again(judgement: Judgement, changes: Mapping[str, Array]) -> Judgement:
    """The same rigs with some stated values replaced: what does not rest on them is not computed again.

    Parameters
    ----------
    judgement : Judgement
        By every check of the road.
    changes : mapping
        Column name to its stated values, sample axis of length 1; tolerances stay as they are.
    """
    rows, nudges = judgement.rows, judgement.nudges
    return judged(nudged_again(rows.evaluation.columns, nudges, changes), nudges, like=rows)


def judged(
    columns: Columns, nudges: tuple[Nudge, ...], *, checks: Iterable[Check] | None = None, like: Rows | None = None
) -> Judgement:
    """The same over columns that have their samples already.

    Parameters
    ----------
    columns : Columns
        Sample axis as ``tolerance.nudged`` orders it.
    nudges : tuple of Nudge
    checks : iterable of Check, optional
        Which; every check of the road by default.
    like : Rows, optional
        As in ``rows_of``.
    """
    rows = rows_of(columns, checks, like=like)
    worst = worst_margin(rows, len(nudges))
    codes = verdict_codes(margin=rows.margin, worst_margin=worst, limit=rows.limit)
    # A check that applies under a nudge only is judged by what the nudge leaves.
    quiet = codes == NOT_APPLICABLE
    codes[quiet & (worst < 0)] = DEPENDS
    binding = rows.of_kind(*VERDICT_KINDS)
    advice = rows.of_kind("guidance")
    must = np.minimum(codes[binding].min(axis=0, initial=NOT_APPLICABLE), CLEAR)
    advised = codes[advice].min(axis=0, initial=NOT_APPLICABLE) > NOT_KNOWN
    verdict = np.where(advised, must, np.minimum(must, DEPENDS)).astype(np.int8)
    return Judgement(rows, nudges, worst, codes, verdict, _governing(rows, codes, binding, advice, verdict))


def _governing(rows: Rows, codes: Array, binding: Array, advice: Array, verdict: Array) -> NDArray[np.intp]:
    """The row that decided: worst verdict first, then the least relative margin; guidance only where it decided.

    Among limits that hold, only ratings and laws that feel the cargo's weight compete: a deck built to the full legal
    width has nothing to spare and nothing to say.
    """
    relative = rows.relative
    candidate = binding[:, None, None] & (codes < NOT_APPLICABLE)
    by_advice = (verdict == DEPENDS) & ~np.any(candidate & (codes <= DEPENDS), axis=0)
    candidate = np.where(by_advice, advice[:, None, None] & (codes <= NOT_KNOWN), candidate)
    loaded = np.array([feels_cargo(r.check) for r in rows.rows], bool)[:, None, None]
    share = np.where(loaded | (codes != CLEAR), np.where(np.isnan(relative), 0.0, relative), np.inf)
    # Squeezed into (-0.5, 0.5), the share never outranks the verdict code.
    rank = np.where(candidate, codes + 0.49 * np.tanh(share), np.inf)
    return np.where(np.isfinite(rank.min(axis=0)), rank.argmin(axis=0), -1)


__all__ = ["CLEAR", "DEPENDS", "NOT_APPLICABLE", "NOT_KNOWN", "OVER", "Judgement", "judge"]
