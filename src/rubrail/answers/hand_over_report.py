"""What a hand-over's weighing comes to: plain frozen records."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rubrail.answers.report import Line, Weighing
from rubrail.answers.turn import Touch

Way = str
"""``better``, ``same``, ``worse`` or ``not promised``."""


@dataclass(frozen=True, slots=True)
class Inspected:
    """How the pre-delivery inspection of a unit stands.

    state : ``released``, ``hold``, ``under way`` or ``never``; on : the day it was signed or released
    """

    state: str
    on: date | None = None

    @property
    def holds(self) -> bool:
        """Whether it must not go without a decision: one never made is not known, and no pass."""
        return self.state != "released"


@dataclass(frozen=True, slots=True)
class Put:
    """A value that was read or measured and is put on the rig in place of what the file says.

    before, now : numbers in ``unit``, ``nan`` where none is known; words where it has no number
    basis : what it is now; was : basis of what the file says, ``""`` where it says nothing
    """

    name: str
    says: str
    unit: str
    before: float
    now: float
    before_says: str
    now_says: str
    basis: str
    was: str


@dataclass(frozen=True, slots=True)
class Changed:
    """One limit that stands otherwise than it was promised.

    before : as promised, or nothing where it did not apply; now : with what was measured
    """

    before: Line | None
    now: Line
    way: Way


@dataclass(frozen=True, slots=True)
class HandOver:
    """A rig weighed again with what was read and measured on it.

    verdict : the worst of the weighing and of what was measured hitched
    governing : the limit that decides it; lines : those measured hitched, level and room over the bed rail
    promised : the weighing it was promised by, nothing where there was none
    way : better, the same or worse than promised; held : whether it must not go without somebody's decision
    touches : what may meet, each with its angle; here_deg 0 where it folds, ``nan`` where the slope changes
    against : faults of what was measured, where it cannot be true of this rig: then nothing is weighed
    """

    verdict: str
    held: bool
    way: Way
    governing: Line | None
    weighing: Weighing | None
    promised: Weighing | None
    lines: tuple[Line, ...]
    put: tuple[Put, ...]
    changed: tuple[Changed, ...]
    touches: tuple[Touch, ...]
    against: tuple[str, ...] = ()
