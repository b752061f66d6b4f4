"""The match as a person reads it: every unit of the yard, best first, with the limit that governs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.lines import line_rank, lines_of
from rubrail.answers.match import governing_share, match_columns, rank, unbeaten
from rubrail.answers.placing import at_arrangements, shifted
from rubrail.answers.report import Line
from rubrail.answers.rig import Placement, Rigs, rigs
from rubrail.checks.engine import Evaluation
from rubrail.checks.judge import Judgement, judge
from rubrail.checks.verdict import DEPENDS, NOT_KNOWN, WORDS
from rubrail.things.columns import Array, Columns
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
class Tally:
    """A match in short: how many units have each verdict, and the best of them."""

    haul: str
    truck: str
    counts: tuple[tuple[str, int], ...]
    best: Candidate | None

    @property
    def size(self) -> int:
        """How many units."""
        return sum(n for _, n in self.counts)

    def count(self, verdict: str) -> int:
        """How many units have this verdict."""
        return dict(self.counts).get(verdict, 0)


@dataclass(frozen=True, slots=True)
class Match:
    """A haul against a yard, best unit first."""

    haul: str
    truck: str
    candidates: tuple[Candidate, ...]

    def count(self, verdict: str) -> int:
        """How many units have this verdict."""
        return sum(c.verdict == verdict for c in self.candidates)

    @property
    def tally(self) -> Tally:
        """The match in short."""
        counts = tuple((v, self.count(v)) for v in dict.fromkeys(c.verdict for c in self.candidates))
        return Tally(self.haul, self.truck, counts, self.candidates[0] if self.candidates else None)


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
    found: list[Candidate] = []
    for block in match_columns(all_rigs.columns, offsets_in=all_rigs.offsets_in):
        found += _candidates(all_rigs, block.start, block.places.arrangement, block.columns, block.judgement)
    return Match(haul.title or haul.id, all_rigs.truck_title, ranked(found))


def ranked(found: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """Units best first, those that nothing beats marked."""
    price = np.array([float(c.price_usd) if c.price_usd is not None else np.nan for c in found])
    verdict = np.array([WORDS.index(c.verdict) for c in found], np.int8)
    share, empty, height = (
        np.array([getattr(c, name) for c in found], float) for name in ("share", "empty_weight_lb", "deck_height_in")
    )
    best = best_buys(verdict=verdict, price=price, share=share, empty_lb=empty, height_in=height)
    return tuple(replace(found[i], unbeaten=bool(best[i])) for i in rank(verdict, share, price))


def best_buys(
    *, verdict: NDArray[np.int8], price: Array, share: Array, empty_lb: Array, height_in: Array
) -> NDArray[np.bool_]:
    """Units that carry the haul and that none beats on price, margin, empty weight and deck height together.

    Parameters
    ----------
    verdict, price, share, empty_lb, height_in : array
        Shape ``(unit,)``; ``nan`` counts as worst.
    """
    return unbeaten(np.stack([price, -share, empty_lb, height_in], axis=1), verdict >= DEPENDS)


def candidates(all_rigs: Rigs, *, arrangement: NDArray[np.intp], shift_in: Array) -> tuple[Candidate, ...]:
    """Units whose place is known already, one a trailer; none is marked as unbeaten.

    Parameters
    ----------
    all_rigs : Rigs
        The haul on these trailers.
    arrangement : array of int
        Which of the arrangements, shape ``(unit,)``.
    shift_in : array
        Foremost point of the cargo behind the coupling point, shape ``(unit,)``. [in]
    """
    placed, offsets = at_arrangements(all_rigs.columns, arrangement[:, None], offsets_in=all_rigs.offsets_in)
    placed = shifted(placed, offsets_in=offsets, shift_in=shift_in[:, None])
    return tuple(_candidates(all_rigs, 0, arrangement, placed, judge(placed)))


def _candidates(
    all_rigs: Rigs, start: int, arrangement: NDArray[np.intp], columns: Columns, judgement: Judgement
) -> list[Candidate]:
    """Units from ``start`` on, as judged where they stand."""
    evaluation, share = Evaluation(columns), governing_share(judgement)

    def each(name: str) -> Array:
        return np.broadcast_to(evaluation.value(name)[:, 0, 0], len(arrangement))

    deck, empty, height, coupler = map(
        each, ("deck_front_x_in", "trailer_empty_weight_lb", "deck_height_in", "coupler_load_lb")
    )
    found = []
    for u, trailer in enumerate(all_rigs.trailers[start : start + len(arrangement)]):
        front = tuple(float(x) for x in columns["item_front_x_in"][:, u, 0, 0])
        governing, against = _deciding(all_rigs, start + u, columns, judgement, u)
        found.append(
            Candidate(
                trailer=trailer.id,
                title=trailer.title or trailer.id,
                verdict=WORDS[int(judgement.verdict[u, 0])],
                governing=governing,
                against=against,
                share=float(share[u]),
                placement=Placement(front, all_rigs.arrangements[int(arrangement[u])].facing),
                front_from_deck_in=min(front, default=float("nan")) - float(deck[u]),
                price_usd=trailer.price_usd,
                empty_weight_lb=float(empty[u]),
                deck_height_in=float(height[u]),
                coupler_load_lb=float(coupler[u]),
                unbeaten=False,
            )
        )
    return found


def _deciding(
    all_rigs: Rigs, i: int, columns: Columns, judgement: Judgement, u: int
) -> tuple[Line | None, tuple[Line, ...]]:
    """The line that governs a unit, and the guidance it goes against."""
    wanted = judgement.codes[:, u, 0] <= NOT_KNOWN
    wanted &= judgement.rows.of_kind("guidance")
    index = int(judgement.governing[u, 0])
    asked = all_rigs.asked(i)
    governing = lines_of(judgement, columns, unit=u, asked=asked, only=[index]) if index >= 0 else ()
    against = lines_of(judgement, columns, unit=u, asked=asked, only=np.flatnonzero(wanted))
    return (governing[0] if governing else None), tuple(sorted(against, key=line_rank))
