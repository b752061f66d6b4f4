"""A match as it is meant: a unit carries the haul on the road, the machines get up it, and it can hold them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rubrail.answers.board import Match
from rubrail.answers.can_secure import can_secure, joined
from rubrail.answers.can_secure_anchors import anchors_of_yard
from rubrail.answers.climb_match import load_verdicts
from rubrail.answers.match_loaded import with_loading
from rubrail.answers.match_secured import with_securing
from rubrail.answers.rig import Placement, Rigs
from rubrail.checks.verdict import WORDS
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
