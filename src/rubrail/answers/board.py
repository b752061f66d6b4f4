"""The match as a person reads it: every unit of the yard, best first, with the limit that governs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from rubrail.answers.lines import line_rank, lines_of
from rubrail.answers.match import Block, governing_share, match_columns, rank, unbeaten
from rubrail.answers.report import Line
from rubrail.answers.rig import Placement, Rigs, rigs
from rubrail.checks.verdict import DEPENDS, NOT_KNOWN, WORDS
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer


@dataclass(frozen=True, slots=True)
class Candidate:
    """One unit for one haul, at its own best placement.

    governing : the limit that decided; share : its relative margin; against : guidance it goes against, or that is
    not known; unbeaten : no other unit that carries it is at least as good on
    price, margin, empty weight and deck height and better on one.
    """

    trailer: str
    title: str
    verdict: str
    governing: Line | None
    against: tuple[Line, ...]
    share: float
    placement: Placement
    front_from_deck_in: float
    price_usd: Decimal | None
    empty_weight_lb: float
    deck_height_in: float
    coupler_load_lb: float
    unbeaten: bool


@dataclass(frozen=True, slots=True)
class Match:
    """A haul against a yard, best unit first."""

    haul: str
    truck: str
    candidates: tuple[Candidate, ...]

    def count(self, verdict: str) -> int:
        """How many units have this verdict."""
        return sum(c.verdict == verdict for c in self.candidates)


def match(*, haul: Haul, trailers: Sequence[Trailer]) -> Match:
    """Weigh a haul on every trailer of a yard, each at its own best placement.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    trailers : sequence of Trailer
    """
    if not trailers:
        return Match(haul.title or haul.id, "", ())
    all_rigs = rigs(haul=haul, trailers=tuple(trailers))
    found: list[tuple[int, Block, int]] = []
    shares, verdicts = [], []
    for block in match_columns(all_rigs.columns, offsets_in=all_rigs.offsets_in):
        verdicts.append(block.judgement.verdict[:, 0])
        shares.append(governing_share(block.judgement))
        found += [(block.start + u, block, u) for u in range(len(verdicts[-1]))]
    verdict, share = np.concatenate(verdicts), np.concatenate(shares)
    price = np.array([float(t.price_usd) if t.price_usd is not None else np.nan for t in trailers])
    empty, height = (
        np.broadcast_to(all_rigs.columns[n][:, 0, 0], len(trailers))
        for n in ("trailer_empty_weight_lb", "deck_height_in")
    )
    best = unbeaten(np.stack([price, -share, empty, height], axis=1), verdict >= DEPENDS)
    candidates = [_candidate(all_rigs, i, block, u, float(share[i]), bool(best[i])) for i, block, u in found]
    order = rank(verdict, share, price)
    return Match(haul.title or haul.id, all_rigs.truck_title, tuple(candidates[i] for i in order))


def _candidate(all_rigs: Rigs, i: int, block: Block, u: int, share: float, best: bool) -> Candidate:
    trailer = all_rigs.trailers[i]
    front = tuple(float(x) for x in block.columns["item_front_x_in"][:, u, 0, 0])
    facing = all_rigs.arrangements[int(block.places.arrangement[u])].facing
    governing, against = _deciding(all_rigs, i, block, u)

    def one(name: str) -> float:
        values = block.evaluation.value(name)
        return float(values[min(u, len(values) - 1), 0, 0])

    return Candidate(
        trailer.id,
        trailer.title or trailer.id,
        WORDS[int(block.judgement.verdict[u, 0])],
        governing,
        against,
        share,
        Placement(front, facing),
        min(front, default=float("nan")) - one("deck_front_x_in"),
        trailer.price_usd,
        one("trailer_empty_weight_lb"),
        one("deck_height_in"),
        one("coupler_load_lb"),
        best,
    )


def _deciding(all_rigs: Rigs, i: int, block: Block, u: int) -> tuple[Line | None, tuple[Line, ...]]:
    """The line that governs a unit, and the guidance it goes against."""
    judgement = block.judgement
    wanted = judgement.codes[:, u, 0] <= NOT_KNOWN
    wanted &= judgement.rows.of_kind("guidance")
    index = int(judgement.governing[u, 0])
    asked = all_rigs.asked(i)
    governing = lines_of(judgement, block.columns, unit=u, asked=asked, only=[index]) if index >= 0 else ()
    against = lines_of(judgement, block.columns, unit=u, asked=asked, only=np.flatnonzero(wanted))
    return (governing[0] if governing else None), tuple(sorted(against, key=line_rank))
