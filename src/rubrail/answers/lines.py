"""From a judgement of one rig to the lines a person reads."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache, cached_property
from itertools import count

import numpy as np

from rubrail.answers.report import Line, Load, Need
from rubrail.answers.settle import Asked, missing, settles
from rubrail.checks.axle_groups import MEMBER_NAMES
from rubrail.checks.engine import Evaluation
from rubrail.checks.judge import Judgement
from rubrail.checks.registry import QUANTITIES, Check
from rubrail.checks.rows import TOLD_KINDS, VERDICT_KINDS
from rubrail.checks.tolerance import Nudge, harms, nudged
from rubrail.checks.verdict import DEPENDS, DUTY_WORDS, NOT_APPLICABLE, NOT_KNOWN, WORDS
from rubrail.things.columns import Columns
from rubrail.things.names import unit_of

LOADS = (
    "coupler_load_lb",
    "axle_group_load_lb",
    "axle_load_lb",
    "trailer_gross_lb",
    "truck_front_load_lb",
    "truck_rear_load_lb",
    "truck_gross_lb",
    "combination_gross_lb",
)
"""Loads every answer about a rig shows."""


def member_name(per: str, member: int | None) -> str:
    """What one member of a check is called: ``axle 2``, ``piece 1``, ``truck rear to trailer axle 1``."""
    if member is None:
        return ""
    if per in MEMBER_NAMES:
        return MEMBER_NAMES[per](member)
    words = {"axle": "axle", "item": "piece", "gear": "gear"}
    return f"{words.get(per, per)} {member + 1}"


def member_of(per: str, name: str) -> int | None:
    """Which member is called by this name; nothing for an empty one."""
    return next(m for m in count() if member_name(per, m) == name) if name else None


def lines_of(
    judgement: Judgement, columns: Columns, *, unit: int, asked: Asked, only: Iterable[int] | None = None
) -> tuple[Line, ...]:
    """Every check of one unit that applies, worst first; of members that do not apply none is listed.

    Parameters
    ----------
    judgement : Judgement
        Position axis of length 1.
    columns : Columns
        As judged.
    unit : int
        Which unit of the judgement.
    asked : callable
        Turns a raw column and member into a ``Need``.
    only : iterable of int, optional
        Row indices to list; all by default.
    """
    wanted = range(len(judgement.rows.rows)) if only is None else only
    unknown = cache(_Missing(columns, unit))
    lines = [
        _line(judgement, i, unit, asked, unknown) for i in wanted if judgement.codes[i, unit, 0] != NOT_APPLICABLE
    ]
    return tuple(sorted(lines, key=line_rank))


def line_rank(line: Line) -> tuple:
    """Sort key: what enters the verdict first, then the worst verdict, then the least margin to spare."""
    share = 0.0 if np.isnan(line.share) else line.share
    words = DUTY_WORDS if line.kind in TOLD_KINDS else WORDS
    return (line.kind not in VERDICT_KINDS, line.kind != "guidance", words.index(line.verdict), share)


class _Missing:
    """What keeps each check of one unit from being known."""

    def __init__(self, columns: Columns, unit: int) -> None:
        self.columns, self.unit = columns, unit

    @cached_property
    def evaluation(self) -> Evaluation:
        return Evaluation(self.columns.take(slice(self.unit, self.unit + 1)))

    def __call__(self, check: Check) -> tuple[Nudge, ...]:
        return missing(check, self.evaluation.columns, evaluation=self.evaluation)


def _line(judgement: Judgement, row: int, unit: int, asked: Asked, of: Callable[[Check], tuple[Nudge, ...]]) -> Line:
    rows, r = judgement.rows, judgement.rows.rows[row]
    code, worst = int(judgement.codes[row, unit, 0]), float(judgement.worst[row, unit, 0])
    settle: tuple[Nudge, ...] = ()
    if code == DEPENDS and judgement.nudges:
        margin = rows.sampled_margin(row)
        harm = harms(margin[min(unit, len(margin) - 1), 0], len(judgement.nudges))
        settle = settles(worst=worst, harm=harm, nudges=judgement.nudges)
    unknown = of(r.check) if code == NOT_KNOWN else ()
    return Line(
        check=r.check.id,
        title=r.check.title,
        kind=r.check.kind,
        group=r.check.group,
        member=member_name(r.check.per, r.member),
        verdict=(DUTY_WORDS if r.check.kind in TOLD_KINDS else WORDS)[code],
        demand=float(rows.demand[row, unit, 0]),
        limit=float(rows.limit[row, unit, 0]),
        margin=float(rows.margin[row, unit, 0]),
        worst_margin=worst,
        share=float(rows.relative[row, unit, 0]),
        unit=r.check.unit,
        says=r.check.says,
        ask=r.check.settle,
        missing=tuple(asked(n.name, n.member) for n in unknown),
        settle=tuple(asked(n.name, n.member) for n in settle),
    )


def loads_of(columns: Columns, *, judgement: Judgement | None = None) -> tuple[Load, ...]:
    """The loads of one rig, each with its least and most over all tolerances.

    Parameters
    ----------
    columns : Columns
        One rig, sample axis of length 1.
    judgement : Judgement, optional
        Of this rig, tolerances and all, where it is at hand.
    """
    if judgement is None:
        wide, nudges = nudged(columns)
        evaluation = Evaluation(wide)
    else:
        nudges, evaluation = judgement.nudges, judgement.rows.evaluation
    present = columns["axle_present"].reshape(-1)
    out: list[Load] = []
    for name in LOADS:
        value, q = evaluation.value(name), QUANTITIES[name]
        for member in range(value.shape[0]) if q.per else (None,):
            if member is not None and not present[member] > 0:
                continue
            samples = np.ravel(value if member is None else value[member])
            samples = np.broadcast_to(samples, (1 + 2 * len(nudges),)) if samples.size == 1 else samples
            base = float(samples[0])
            spread = float(harms(samples, len(nudges)).sum()) if nudges else 0.0
            out.append(
                Load(name, q.title, member_name(q.per, member), base, base - spread, base + spread, unit_of(name))
            )
    return tuple(out)


def needs_of(lines: tuple[Line, ...], attribute: str) -> tuple[Need, ...]:
    """The inputs that ``lines`` ask for under ``attribute``, each once, the most wanted first."""
    seen: dict[tuple[str, str], Need] = {}
    for line in lines:
        if line.kind in VERDICT_KINDS or line.kind == "guidance":
            for need in getattr(line, attribute):
                seen.setdefault((need.name, need.where), need)
    return tuple(seen.values())
