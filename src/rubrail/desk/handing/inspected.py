"""What the pre-delivery inspections of a unit come to for its hand-over."""

from __future__ import annotations

from datetime import date, datetime

from rubrail.answers.hand_over_report import Inspected
from rubrail.desk import clock
from rubrail.desk.models import Checklist, Unit
from rubrail.desk.models.checks import CheckState

INSPECTION = "inspection"


def inspected(unit: Unit) -> tuple[Inspected, Checklist | None]:
    """How its inspection stands, and the list that says so; one that was given up counts for nothing.

    What the latest signed one holds goes first, then one under way: it was begun for some reason.
    """
    rows = unit.checklists.filter(sort=INSPECTION).exclude(state=CheckState.DROPPED)
    found = list(rows.only("sort", "state", "finished", "released"))
    signed = max((it for it in found if it.finished), key=lambda it: (it.finished, it.pk), default=None)
    if signed is not None and signed.state == CheckState.HOLD:
        return Inspected("hold", _day(signed.finished)), signed
    under_way = next((it for it in found if it.state == CheckState.OPEN), None)
    if under_way is not None:
        return Inspected("under way"), under_way
    if signed is None:
        return Inspected("never"), None
    return Inspected("released", _day(signed.released or signed.finished)), signed


def _day(moment: datetime) -> date:
    return clock.local(moment).date()
