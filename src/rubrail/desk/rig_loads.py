"""The loads a salesperson watches, each where it acts and against the limit that stands closest to it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubrail.answers.report import Line
from rubrail.checks.verdict import NOT_APPLICABLE, WORDS
from rubrail.desk.rig_reckon import Reckoned
from rubrail.desk.rig_rows import lines_by_row

WATCHED = (
    ("coupler", "Coupler", "coupler_load_lb", ("coupler-vertical", "hitch-vertical")),
    ("axles", "Trailer axles", "axle_group_load_lb", ("axle-group",)),
    ("truck-front", "Truck front axle", "truck_front_load_lb", ("truck-front-axle", "truck-front-tires")),
    ("truck-rear", "Truck rear axle", "truck_rear_load_lb", ("truck-rear-axle", "truck-rear-tires")),
    ("trailer", "Trailer gross", "trailer_gross_lb", ("trailer-gross", "coupler-gross", "hitch-gross")),
    ("truck", "Truck gross", "truck_gross_lb", ("truck-gross",)),
    ("combination", "Truck and trailer", "combination_gross_lb", ("combination-gross", "registered-weight")),
)
"""Place, title, the load, and the checks that hold a limit against just that load."""
ALSO = {"coupler": ("coupler-lift",)}
"""Checks that no amount beside the load shows, but its mark does: a coupler that lifts is never shown as clear."""


@dataclass(frozen=True, slots=True)
class Watched:
    """One load. load : its place among the rig's loads; rows : of the checks that hold it; line : the closest of them;
    also : rows that its mark tells too.
    """

    place: str
    title: str
    load: int
    rows: tuple[int, ...]
    also: tuple[int, ...]
    value_lb: float
    line: Line | None
    word: str

    @property
    def limit_lb(self) -> float:
        """The closest limit; infinite where none applies."""
        return self.line.limit if self.line else math.inf

    @property
    def doubt_lb(self) -> float:
        """What tolerances take from its margin."""
        lost = self.line.margin - self.line.worst_margin if self.line else math.nan
        return lost if math.isfinite(lost) else 0.0


def watched(it: Reckoned) -> list[Watched]:
    """Every watched load of a rig."""
    lines = lines_by_row(it)
    codes = it.judgement.codes[:, 0, 0]
    out = []
    for place, title, name, checks in WATCHED:
        at = next((n for n, x in enumerate(it.weighing.loads) if x.name == name and not x.member), None)
        if at is None:
            continue
        rows = tuple(n for n, line in enumerate(lines) if line.check in checks)
        standing = [lines[n] for n in rows if codes[n] != NOT_APPLICABLE]
        line = min(standing, key=_rank, default=None)
        also = tuple(n for n, x in enumerate(lines) if x.check in ALSO.get(place, ()) and codes[n] != NOT_APPLICABLE)
        words = [x.verdict for x in ([line] if line else []) + [lines[n] for n in also]]
        word = min(words, key=WORDS.index, default="") if line else ""
        out.append(Watched(place, title, at, rows, also, it.weighing.loads[at].value, line, word))
    return out


def _rank(line: Line) -> tuple[int, float]:
    return WORDS.index(line.verdict), line.share if not math.isnan(line.share) else math.inf


__all__ = ["WATCHED", "Watched", "watched"]
