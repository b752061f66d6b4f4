"""What a plan says to the person who will write it: counts in a sentence, faults by row, old and new by unit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from rubrail.desk.audit import Delta
from rubrail.desk.lists.plan import CHANGED, FAULTY, LEFT, NEW, Outcome, Plan
from rubrail.desk.stock import deltas_between, said

MOST_FAULTY, MOST_CHANGED, MOST_NEW = 200, 100, 100
MOST_FAULTS_OF_A_ROW = 12


@dataclass(frozen=True, slots=True)
class ChangedUnit:
    """A unit with everything that changes, in words."""

    outcome: Outcome
    deltas: Sequence[Delta]


def preview_of(plan: Plan) -> dict[str, Any]:
    """What the page shows of a plan."""
    faulty = [o for o in plan.outcomes if o.kind in (FAULTY, LEFT)]
    changed, new = plan.of(CHANGED), plan.of(NEW)
    shown = changed[:MOST_CHANGED]
    return {
        "counts": plan.counts,
        "says": says(plan),
        "stays": stays(plan.absent),
        "faulty": faulty[:MOST_FAULTY],
        "more_faulty": len(faulty) - len(faulty[:MOST_FAULTY]),
        "most_faults": MOST_FAULTS_OF_A_ROW,
        "changed": [
            ChangedUnit(o, [d for d in deltas_between(o.unit, said(o.trailer)) if d.old != d.new]) for o in shown
        ],
        "more_changed": len(changed) - len(shown),
        "new": new[:MOST_NEW],
        "more_new": len(new) - len(new[:MOST_NEW]),
    }


def says(plan: Plan) -> str:
    """The counts in one sentence."""
    counts = plan.counts
    parts = [
        _count(counts[NEW], "unit is new", "units are new"),
        _count(counts[CHANGED], "unit changes", "units change"),
        _count(counts["same"], "row says nothing new", "rows say nothing new"),
        _count(counts[FAULTY], "row has a fault", "rows have faults"),
        _count(counts[LEFT], "row is left out", "rows are left out"),
    ]
    return f"{', '.join(filter(None, parts))}."


def stays(absent: int) -> str:
    """What becomes of the units that the list does not have."""
    if not absent:
        return "Every unit of the yard is in the list."
    if absent == 1:
        return "One unit of the yard is not in the list; it stays as it is."
    return f"{absent:,} units of the yard are not in the list; they stay as they are."


def _count(number: int, one: str, many: str) -> str:
    return f"{number:,} {one if number == 1 else many}" if number else ""
