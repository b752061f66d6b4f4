"""Drive every machine of a haul up a trailer: does it get there, what limits it, what to change."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rubrail.answers.climb_course import Course, Moment, course, drop, moments
from rubrail.answers.climb_judge import Judged, climb_lines, judge_climb
from rubrail.answers.climb_remedies import changes_for
from rubrail.answers.climb_setup import Climber, Day, climbers
from rubrail.answers.lines import needs_of
from rubrail.answers.place import best_place
from rubrail.answers.report import Line, Need, Remedy
from rubrail.answers.rig import Placement, Rigs, rigs
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.checks.verdict import CLEAR, DEPENDS, NOT_APPLICABLE, OVER, WORDS
from rubrail.things.haul import Haul
from rubrail.things.rig_loading import way_kind
from rubrail.things.trailer import Trailer


@dataclass(frozen=True, slots=True)
class MachineClimb:
    """One machine's climb.

    item, piece, title : which piece of the haul; facing : ``front-first`` forward, ``rear-first`` backing up
    verdict, governing, lines : as of a weighing
    moments : the critical ones in the order they come; course : every step, ``None`` where no way leads up or where
    it is not known
    drop_rad : how far it tips over the crest at once, 0 where it does not
    settle, unknown : what to measure; remedies : changes, each driven and judged again
    """

    item: int
    piece: str
    title: str
    facing: str
    verdict: str
    governing: Line | None
    lines: tuple[Line, ...]
    moments: tuple[Moment, ...]
    course: Course | None
    drop_rad: float
    settle: tuple[Need, ...]
    unknown: tuple[Need, ...]
    remedies: tuple[Remedy, ...]


@dataclass(frozen=True, slots=True)
class Climbing:
    """A haul driven up a trailer: the worst verdict of its machines, and each machine in the order it goes up.

    way : ``ramps``, ``tail``, ``tilt``, ``none``, or ``""`` where the file does not say
    verdict : *does not apply* where nothing drives
    """

    trailer: str
    trailer_title: str
    truck: str
    haul: str
    way: str
    day: Day
    placement: Placement
    verdict: str
    machines: tuple[MachineClimb, ...]


def climb_on(
    *,
    haul: Haul,
    trailer: Trailer,
    placement: Placement | None = None,
    day: Day | None = None,
    remedies: bool = True,
) -> Climbing:
    """Drive the machines of a haul up one trailer, each to its place.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    trailer : Trailer
    placement : Placement, optional
        Where each piece stands; the best place for the road where not given.
    day : Day, optional
        Surface, ground, hitched or not, stands; a dry, level day, hitched, stands down, where not given.
    remedies : bool
        Also look for changes that clear what is over.

    Raises
    ------
    ValueError
        If the placement has not one place for each piece.
    """
    one, day = rigs(haul=haul, trailers=(trailer,)), day or Day()
    placement = best_place(one)[0].placement if placement is None else placement
    return climbing(one, placement, day, remedies=remedies)


def climbing(one: Rigs, placement: Placement, day: Day, *, remedies: bool = True) -> Climbing:
    """The record of one rig whose places are known."""
    done = tuple(_machine(one, placement, c, day, remedies) for c in climbers(one, placement))
    worst = min((WORDS.index(m.verdict) for m in done), default=NOT_APPLICABLE)
    trailer = one.trailers[0]
    return Climbing(
        trailer.id, trailer.title or trailer.id, one.truck_title, one.haul.title or one.haul.id, way_kind(trailer),
        day, placement, WORDS[worst], done,
    )  # fmt: skip


def _machine(one: Rigs, placement: Placement, climber: Climber, day: Day, remedies: bool) -> MachineClimb:
    done = judge_climb(one, placement, climber, day)
    lines = climb_lines(one, placement, done, day)
    known = done.run is not None and _drivable(done)
    tipped = drop(done.run) if known else None
    governing = governing_line(done, lines)
    code = WORDS.index(done.verdict)
    return MachineClimb(
        item=climber.item,
        piece=climber.piece.id,
        title=climber.piece.title or climber.piece.id,
        facing=climber.facing,
        verdict=done.verdict,
        governing=governing,
        lines=lines,
        moments=moments(done) if known else (),
        course=course(done) if known else None,
        drop_rad=tipped[0] if tipped else 0.0,
        settle=_settle(lines, governing) if code == DEPENDS else (),
        unknown=needs_of(lines, "missing"),
        remedies=changes_for(one, placement, climber, day, done) if remedies and code in (OVER, DEPENDS) else (),
    )


def _drivable(done: Judged) -> bool:
    """Whether enough is known to draw the machine on its way."""
    c = done.run.climb
    return not any(np.isnan(v).any() for v in (c.pitch_rad, c.travel_in, c.pose.f_in, c.pose.z_in))


def governing_line(done: Judged, lines: tuple[Line, ...]) -> Line | None:
    """The line that decided; guidance only where nothing else did. Where all hold, the one with least to spare."""
    if done.verdict == WORDS[CLEAR]:
        tight = [x for x in lines if x.kind in VERDICT_KINDS and np.isfinite(x.share)]
        return min(tight, key=lambda x: x.share, default=None)
    index = int(done.judgement.governing[0, 0])
    if index < 0:
        return None
    row = done.judgement.rows.rows[index]
    return next((x for x in lines if x.check == row.check.id), None)


def _settle(lines: tuple[Line, ...], governing: Line | None) -> tuple[Need, ...]:
    """Measurements that end the doubt: what the governing line asks for first, then every other doubtful line."""
    doubtful = tuple(x for x in lines if x.verdict == WORDS[DEPENDS] and x.kind in VERDICT_KINDS)
    return needs_of((*((governing,) if governing else ()), *doubtful), "settle")
