"""A match that also asks whether each unit can be tied down on: one that cannot hold what it carries is not clear."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from rubrail.answers.board import Candidate, Match, ranked
from rubrail.answers.can_secure import Able, can_secure, joined
from rubrail.answers.can_secure_anchors import anchors_of_yard
from rubrail.answers.report import Line
from rubrail.things.haul import Haul
from rubrail.things.kit import Kit
from rubrail.things.trailer import Trailer

CHECK = "can-secure"
"""Id of its line; no check of the registry: it is asked of a yard, and a plan has its own."""
ASK = "read the limits on anchors, chains and binders, and see where the machine may be tied"


def with_securing(found: Match, *, haul: Haul, trailers: Sequence[Trailer], kit: Kit) -> Match:
    """The match with each unit's verdict lowered to what tying down leaves of it, in its new order.

    Units that are over on the road already are not asked about.

    Parameters
    ----------
    found : Match
        Of this haul on these trailers.
    haul : Haul
        With its cargo resolved.
    trailers : sequence of Trailer
    kit : Kit
        The gear there is.
    """
    by_id = {t.id: t for t in trailers}
    standing = [c for c in found.candidates if c.verdict != "over"]
    units = [by_id[c.trailer] for c in standing]
    able = can_secure(
        haul=haul, trailers=units, placements=[c.placement for c in standing], kit=kit, anchors=anchors_of_yard(units)
    )
    lowered = {c.trailer: _lowered(c, a) for c, a in zip(standing, able, strict=True)}
    return replace(found, candidates=ranked([lowered.get(c.trailer, c) for c in found.candidates]))


def _lowered(c: Candidate, able: Able) -> Candidate:
    verdict = joined(c.verdict, able)
    if verdict == c.verdict:
        return c
    return replace(c, verdict=verdict, governing=securing_line(able), share=math.nan)


def securing_line(able: Able) -> Line:
    """What tying down is not clear of, as a line among the others."""
    unknown = able.verdict == "not known"
    return Line(
        check=CHECK, title=f"tying it down: {able.says}", kind="law", group="securing", member="",
        verdict=able.verdict, demand=1.0, limit=math.nan if unknown else 0.0,
        margin=math.nan if unknown else -1.0, worst_margin=math.nan, share=math.nan, unit="",
        says="It carries the haul, and the gear and anchors there are do not hold it by law.", ask=ASK,
    )  # fmt: skip
