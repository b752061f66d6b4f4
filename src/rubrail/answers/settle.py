"""What to measure: inputs that are missing, and the one measurement that ends a doubt."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from rubrail.answers.report import Need
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import Check, raw_inputs
from rubrail.checks.tolerance import Nudge
from rubrail.things.columns import Array, Columns
from rubrail.things.names import COLUMNS

Asked = Callable[[str, int | None], Need]
"""Turns a raw column and a member of it into what to go and measure."""


def missing(check: Check, columns: Columns, *, evaluation: Evaluation | None = None) -> tuple[Nudge, ...]:
    """Raw inputs that keep a check of one rig from being known.

    An unknown input counts only where the answer stays unknown with every other unknown filled in.

    Parameters
    ----------
    columns : Columns
        One rig: every axis but the members' has length 1.
    evaluation : Evaluation, optional
        Of these columns, where several checks are asked about.
    """
    evaluation, unknown = evaluation or Evaluation(columns), []
    for name in raw_inputs(check.inputs):
        values = evaluation.value(name)
        if not COLUMNS[name].per:
            unknown += [Nudge(name, None)] if np.isnan(values).any() else []
            continue
        present = evaluation.value(f"{COLUMNS[name].per}_present") if _has_flag(name) else np.ones_like(values)
        unknown += [
            Nudge(name, m)
            for m in range(values.shape[0])
            if np.isnan(values[m]).any() and present[min(m, len(present) - 1)].max() > 0
        ]
    if len(unknown) < 2:
        return tuple(unknown)
    evaluation.check(check.id)
    return tuple(n for n in unknown if _still_unknown(check, evaluation, [u for u in unknown if u != n]))


def _has_flag(name: str) -> bool:
    return f"{COLUMNS[name].per}_present" in COLUMNS


def _still_unknown(check: Check, evaluation: Evaluation, filled: list[Nudge]) -> bool:
    changes: dict[str, Array] = {}
    for n in filled:
        values = changes.setdefault(n.name, np.array(evaluation.value(n.name), float))
        values[... if n.member is None else n.member] = 1.0
    demand, limit = Evaluation(evaluation.columns.with_values(changes), like=evaluation).check(check.id)
    with np.errstate(invalid="ignore"):
        return bool(np.isnan(limit - demand).any())


def settles(*, worst: float, harm: Array, nudges: tuple[Nudge, ...]) -> tuple[Nudge, ...]:
    """Inputs to measure for a line that depends, the best first.

    The first alone settles it where any one input can; otherwise they are taken, greatest harm first, until
    what is left of the others no longer breaks the limit.

    Parameters
    ----------
    worst : float
        Margin with every tolerance against the rig, below 0.
    harm : array
        What each input can take from the margin, shape ``(nudge,)``.
    """
    if np.isinf(harm).any():
        # The check applies only under a nudge: every input that can make it apply has to be sure.
        return tuple(n for n, h in zip(nudges, harm, strict=True) if np.isinf(h))
    order = np.argsort(-harm)
    taken: list[Nudge] = []
    left = worst
    for i in order:
        if left >= 0 or not harm[i] > 0:
            break
        taken.append(nudges[i])
        left += harm[i]
    return tuple(taken)
