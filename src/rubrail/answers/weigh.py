"""Weigh one rig: every check, the limit that governs, what would settle a doubt, and what to change."""

from __future__ import annotations

from rubrail.answers.lines import lines_of, loads_of, member_name, needs_of
from rubrail.answers.place import best_place, pieces
from rubrail.answers.remedies import remedies as single_changes
from rubrail.answers.report import Line, Need, Weighing
from rubrail.answers.rig import Placement, Rigs, at_placement, rigs
from rubrail.checks.judge import Judgement, judge
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.checks.verdict import DEPENDS, OVER, WORDS
from rubrail.things.columns import Columns
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer


def weigh(*, haul: Haul, trailer: Trailer, placement: Placement | None = None, remedies: bool = True) -> Weighing:
    """Weigh a haul on one trailer.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    trailer : Trailer
    placement : Placement, optional
        Where each piece stands; the best place where not given.
    remedies : bool
        Also look for single changes that clear what is over.

    Raises
    ------
    ValueError
        If the placement has not one place for each piece.
    """
    one = rigs(haul=haul, trailers=(trailer,))
    if placement is None:
        best, columns, judgement = best_place(one)
        placement = best.placement
    else:
        columns = at_placement(one, placement)
        judgement = judge(columns)
    return weighing(one, columns, placement, judgement, remedies=remedies)


def weighing(
    one: Rigs, columns: Columns, placement: Placement, judgement: Judgement, *, remedies: bool = True
) -> Weighing:
    """The record of one rig that has been judged."""
    lines = lines_of(judgement, columns, unit=0, asked=one.asked(0))
    verdict = int(judgement.verdict[0, 0])
    governing = _governing(judgement, lines)
    return Weighing(
        trailer=one.trailers[0].id,
        trailer_title=one.trailers[0].title or one.trailers[0].id,
        truck=one.truck_title,
        haul=one.haul.title or one.haul.id,
        verdict=WORDS[verdict],
        governing=governing,
        lines=lines,
        loads=loads_of(columns, judgement=judgement),
        pieces=pieces(one, columns, placement),
        settle=_settle(lines, governing) if verdict == DEPENDS else (),
        unknown=needs_of(lines, "missing"),
        remedies=single_changes(columns, judgement) if remedies and verdict == OVER else (),
    )


def _settle(lines: tuple[Line, ...], governing: Line | None) -> tuple[Need, ...]:
    """Measurements that end the doubt: what the governing line asks for first, then every other doubtful line."""
    doubtful = tuple(x for x in lines if x.verdict == WORDS[DEPENDS] and x.kind in VERDICT_KINDS)
    first = (governing,) if governing else ()
    return needs_of((*first, *doubtful), "settle")


def _governing(judgement: Judgement, lines: tuple[Line, ...]) -> Line | None:
    """The line of the row that governs."""
    index = int(judgement.governing[0, 0])
    if index < 0:
        return None
    row = judgement.rows.rows[index]
    same = [x for x in lines if x.check == row.check.id]
    if row.member is None:
        return same[0]
    return next((x for x in same if x.member == member_name(row.check.per, row.member)), same[0])
