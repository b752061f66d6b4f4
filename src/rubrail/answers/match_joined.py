"""A match as it is meant: a unit carries the haul on the road, the machines get up it, and it can hold them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.board import Match
from rubrail.answers.can_secure import can_secure, joined
from rubrail.answers.can_secure_anchors import anchors_of_yard
from rubrail.answers.climb_match import load_verdicts
from rubrail.answers.match_loaded import loading_line, with_loading
from rubrail.answers.match_secured import securing_line, with_securing
from rubrail.answers.report import Weighing
from rubrail.answers.rig import Placement, Rigs, rigs
from rubrail.answers.roster import roster
from rubrail.checks.verdict import OVER, WORDS
from rubrail.things.columns import Columns
from rubrail.things.haul import Haul
from rubrail.things.kit import Kit
from rubrail.things.trailer import Trailer


def joined_match(found: Match, *, haul: Haul, trailers: Sequence[Trailer], kit: Kit | None) -> Match:
    """The match with loading and, where the yard has a kit, securing in every verdict, in its new order.

    Parameters
    ----------
    found : Match
        Of this haul on these trailers, on the road.
    haul, trailers
    kit : Kit or None
        The gear there is; without one nothing is said of tying down.
    """
    found = with_loading(found, haul=haul, trailers=trailers)
    return found if kit is None else with_securing(found, haul=haul, trailers=trailers, kit=kit)


@dataclass(frozen=True, slots=True)
class Joined:
    """What is left of one unit's verdict, and the relative margin of what lowered it; as it was where nothing did."""

    verdict: str
    share: float
    lowered: bool


def joined_verdicts(
    every: Rigs, *, verdicts: Sequence[str], shares: Sequence[float], placements: Sequence[Placement], kit: Kit | None
) -> list[Joined]:
    """The same for many units whose verdict on the road is known, without a line of words.

    Parameters
    ----------
    every : Rigs
        The haul on units that are not over on the road.
    verdicts, shares, placements : sequence
        One a unit.
    kit : Kit or None
    """
    loads = load_verdicts(every, range(len(every.trailers)), placements)
    out = []
    for verdict, share, load in zip(verdicts, shares, loads, strict=True):
        worse = min(verdict, load.verdict, key=WORDS.index)
        if worse == verdict or not load.check:
            out.append(Joined(verdict, share, False))
            continue
        out.append(Joined(worse, load.share, True))
    if kit is None:
        return out
    standing = [i for i, j in enumerate(out) if j.verdict != "over"]
    trailers = [every.trailers[i] for i in standing]
    able = can_secure(
        haul=every.haul,
        trailers=trailers,
        placements=[placements[i] for i in standing],
        kit=kit,
        anchors=anchors_of_yard(trailers) if trailers else None,
    )
    for i, a in zip(standing, able, strict=True):
        worse = joined(out[i].verdict, a)
        if worse != out[i].verdict:
            out[i] = Joined(worse, float("nan"), True)
    return out


def joined_words(*, haul: Haul, trailers: Sequence[Trailer], of_trailers: Columns, kit: Kit | None) -> tuple[str, ...]:
    """Verdict of each unit at its own best place: road, loading and securing together, as a match has it.

    Parameters
    ----------
    haul : Haul
        With its cargo resolved.
    trailers : sequence of Trailer
    of_trailers : Columns
        ``answers.height.built_columns(trailers)`` made before.
    kit : Kit or None
    """
    rows = roster(haul=haul, of_trailers=of_trailers)
    words = [WORDS[int(v)] for v in rows["verdict"]]
    standing = np.flatnonzero(rows["verdict"] != OVER)
    if not standing.size or not haul.cargo:
        return tuple(words)
    every = rigs(haul=haul, trailers=tuple(trailers[i] for i in standing))
    found = joined_verdicts(
        every,
        verdicts=[words[i] for i in standing],
        shares=[float(rows["share"][i]) for i in standing],
        placements=[placement_of(every, rows[i]) for i in standing],
        kit=kit,
    )
    for i, one in zip(standing, found, strict=True):
        words[i] = one.verdict
    return tuple(words)


def placement_of(every: Rigs, row: np.void) -> Placement:
    """Where the pieces stand on a unit, from its row of a roster (``answers.roster.ROW``)."""
    a = int(row["arrangement"])
    front: NDArray[np.float64] = every.offsets_in[:, 0, a, 0] + float(row["shift_in"])
    return Placement(tuple(float(x) for x in front), every.arrangements[a].facing)


def joined_weighing(one: Rigs, weighed: Weighing, placement: Placement, *, kit: Kit | None) -> Weighing:
    """One rig's weighing with what driving up and tying down say against it, as lines of its own.

    Both are asked whatever the road says, so that all that fails is told at once; the verdict is the worst of the
    three words, and the line that brought it down governs.

    Parameters
    ----------
    one : Rigs
        Of one trailer.
    weighed : Weighing
        Of it on the road, so placed.
    placement : Placement
    kit : Kit or None
        The gear there is; without one nothing is said of tying down.
    """
    if not one.haul.cargo:
        return weighed
    found = []
    loads = load_verdicts(one, [0], [placement])[0]
    if loads.check:
        found.append((loads.verdict, loading_line(loads, [p.title or p.id for p in one.pieces])))
    if kit is not None:
        able = can_secure(haul=one.haul, trailers=one.trailers, placements=[placement], kit=kit)[0]
        if able.verdict != "clear":
            found.append((able.verdict, securing_line(able)))
    if not found:
        return weighed
    lines = (*weighed.lines, *(line for _, line in found))
    verdict, line = min(found, key=lambda told: WORDS.index(told[0]))
    if WORDS.index(verdict) >= WORDS.index(weighed.verdict):
        return replace(weighed, lines=lines)
    return replace(weighed, verdict=verdict, governing=line, lines=lines)
