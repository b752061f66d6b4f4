"""A match that also asks whether the machines get up each unit: one that cannot be loaded is not clear."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from rubrail.answers.board import Candidate, Match, ranked
from rubrail.answers.climb import climbing
from rubrail.answers.climb_match import Loads, load_verdicts
from rubrail.answers.climb_setup import Day
from rubrail.answers.report import Line
from rubrail.answers.rig import rigs
from rubrail.checks.registry import CHECKS
from rubrail.checks.verdict import WORDS
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer

GONE = ("tips-back",)
"""Checks past whose limit nothing stands any more: how far past is no number of anything."""
TOLD = 24
"""Of so many units not known it is told what to measure; each takes a climb of its own."""


def with_loading(found: Match, *, haul: Haul, trailers: Sequence[Trailer], day: Day | None = None) -> Match:
    """The match with each unit's verdict lowered to what driving up leaves of it, in its new order.

    Units that are over already are not asked about; the others are driven up at the stated values, many at once.
    What only a tolerance makes doubtful is told where one unit is opened (``answers.climb``).

    Parameters
    ----------
    found : Match
        Of this haul on these trailers.
    haul : Haul
        With its cargo resolved.
    trailers : sequence of Trailer
    day : Day, optional
        A dry, level day, hitched, stands down, where not given.
    """
    by_id = {t.id: t for t in trailers}
    standing = [c for c in found.candidates if c.verdict != "over"]
    if not standing:
        return found
    every = rigs(haul=haul, trailers=tuple(by_id[c.trailer] for c in standing))
    loads = load_verdicts(every, range(len(standing)), [c.placement for c in standing], day)
    titles = [p.title or p.id for p in every.pieces]
    lowered = {c.trailer: _lowered(c, one, titles) for c, one in zip(standing, loads, strict=True)}
    dark = [c for c, one in zip(standing, loads, strict=True) if one.verdict == "not known" and one.check]
    for c in dark[:TOLD]:
        lowered[c.trailer] = _with_missing(lowered[c.trailer], haul, by_id[c.trailer], day or Day())
    return replace(found, candidates=ranked([lowered.get(c.trailer, c) for c in found.candidates]))


def _with_missing(c: Candidate, haul: Haul, trailer: Trailer, day: Day) -> Candidate:
    """A unit not known, with the lines of the files to fill in: it takes driving it in full."""
    full = climbing(rigs(haul=haul, trailers=(trailer,)), c.placement, day, remedies=False)
    unknown = tuple({n.where: n for m in full.machines for n in m.unknown}.values())
    return replace(c, governing=replace(c.governing, missing=unknown)) if c.governing and unknown else c


def _lowered(c: Candidate, loads: Loads, titles: Sequence[str]) -> Candidate:
    verdict = min(c.verdict, loads.verdict, key=WORDS.index)
    if verdict == c.verdict or not loads.check:
        return c
    line = loading_line(loads, titles)
    return replace(c, verdict=verdict, governing=line, share=line.share)


def loading_line(loads: Loads, titles: Sequence[str]) -> Line:
    """What decided on driving up, as a line among the others.

    Parameters
    ----------
    loads : Loads
        With a check that decided.
    titles : sequence of str
        Of the haul's pieces, in its order.
    """
    check = CHECKS[loads.check]
    margin = math.nan if loads.check in GONE and loads.verdict == "over" else loads.limit - loads.demand
    whose = f" ({titles[loads.item]})" if len(titles) > 1 else ""
    return Line(
        check=check.id, title=f"driving up: {check.title}{whose}", kind=check.kind, group=check.group, member="",
        verdict=loads.verdict if check.kind != "guidance" or loads.verdict == "not known" else "over",
        demand=loads.demand, limit=loads.limit, margin=margin, worst_margin=math.nan,
        share=loads.share, unit=check.unit, says=check.says,
        ask=check.settle,
    )  # fmt: skip
