"""Whether the units of a match can be loaded: many units at once, coarsely, without tolerances.

A match of a big yard must not drive every machine up every unit under every tolerance. What it needs is cheap: units
whose way up is of one kind share one run, some hundred steps long, at the stated values, and only units that carry the
haul on the road are asked. That misses doubts that only a tolerance makes: a unit a person opens is driven in full
(``climb.climbing``), and what that says counts. A unit that is over here is over there.

How the match joins: ``match_loaded.with_loading`` asks only units the road leaves standing, and takes the worse of the
two words; ``benchmarks/climb.py`` prints what a unit costs. For a unit not known the full climb names what to measure.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from rubrail.answers.climb_run import COARSE, outcomes, run
from rubrail.answers.climb_setup import Climber, Day, surface_grip
from rubrail.answers.rig import Placement, Rigs
from rubrail.checks.judge import Judgement, judged
from rubrail.checks.registry import of_case
from rubrail.checks.verdict import CLEAR, NOT_APPLICABLE, NOT_KNOWN, OVER, WORDS
from rubrail.things.columns import Columns
from rubrail.things.fill import join
from rubrail.things.names import CLIMBER, CONTACT
from rubrail.things.rig_loading import climber_columns, drives, loading_columns, way_kind
from rubrail.things.rigs import Arrangement, rig_columns

OF_RAMPS = {"ramp-pair", "ramp-each", "ramp-bending", "ramp-outside", "ramp-inside"}
Decided = tuple[int, str, float, float]
BLOCK = 60
"""Units driven together: more gain nothing and take memory."""


@dataclass(frozen=True, slots=True)
class Loads:
    """Whether one unit can be loaded.

    verdict : a verdict word, *does not apply* where nothing drives
    check : the check that decided, ``""`` where none is against it; item : which piece of the haul it is about
    demand, limit : of that check, in its unit
    """

    verdict: str
    check: str
    item: int
    demand: float = math.nan
    limit: float = math.nan

    @property
    def share(self) -> float:
        """What is left of the limit, as a share of it; ``nan`` where there is none."""
        return (self.limit - self.demand) / abs(self.limit) if self.limit else math.nan


def can_load(one: Rigs, placement: Placement, day: Day | None = None) -> Loads:
    """Whether the machines of one placed rig get up it, at the stated values.

    Parameters
    ----------
    one : Rigs
        Of one trailer.
    placement : Placement
    day : Day, optional
        A dry, level day, hitched, stands down, where not given.
    """
    return load_verdicts(one, [0], [placement], day)[0]


def load_verdicts(
    all_rigs: Rigs, units: Iterable[int], placements: Sequence[Placement], day: Day | None = None
) -> list[Loads]:
    """The same for many units of a yard, each with its own placement.

    Parameters
    ----------
    all_rigs : Rigs
    units : iterable of int
        Which of its trailers.
    placements : sequence of Placement
        One for each of ``units``.
    day : Day, optional
    """
    day = day or Day()
    wanted = list(units)
    worst = [Loads(WORDS[NOT_APPLICABLE], "", -1)] * len(wanted)
    moving = [i for i, piece in enumerate(all_rigs.pieces) if drives(piece)]
    groups: dict[tuple[str, tuple[str, ...], tuple[int, ...]], list[int]] = {}
    for n, (u, p) in enumerate(zip(wanted, placements, strict=True)):
        order = tuple(sorted(range(len(p.front_x_in)), key=lambda i: p.front_x_in[i]))
        groups.setdefault((way_kind(all_rigs.trailers[u]), p.facing, order), []).append(n)
    for (kind, facing, order), members in groups.items():
        for start in range(0, len(members), BLOCK):
            block = members[start : start + BLOCK]
            columns = _columns(all_rigs, [wanted[n] for n in block], [placements[n] for n in block], facing, order)
            for item in moving:
                ahead = order[: order.index(item)]
                climber = Climber(item, all_rigs.pieces[item], facing[item], 0.0, ahead)
                found = _driven(all_rigs, [wanted[n] for n in block], columns, climber, kind, day)
                for n, (code, *decided) in zip(block, found, strict=True):
                    if code < WORDS.index(worst[n].verdict):
                        check, demand, limit = decided
                        worst[n] = Loads(WORDS[code], check, item, demand, limit)
    return worst


def _columns(
    all_rigs: Rigs, units: list[int], placements: list[Placement], facing: tuple[str, ...], order: tuple[int, ...]
) -> Columns:
    trailers = [all_rigs.trailers[u] for u in units]
    front = np.array([p.front_x_in for p in placements], float).T.reshape(-1, len(units), 1, 1)
    return join(
        rig_columns(
            haul=all_rigs.haul, trailers=trailers, arranged=(Arrangement(order, facing),), placement=front,
            of_trailers=_of_trailers(all_rigs, units),
        ),
        loading_columns(trailers),
    )  # fmt: skip


def _of_trailers(all_rigs: Rigs, units: list[int]) -> Columns:
    """The trailers' own columns as the match holds them already, deck heights added up where nobody measured them."""
    from rubrail.things.names import AXLE, TRAILER

    part = all_rigs.columns.take(np.array(units))
    names = {**TRAILER, **AXLE}
    return Columns({n: v for n, v in part.values.items() if n in names}, {}, {})


def _driven(
    all_rigs: Rigs, units: list[int], columns: Columns, climber: Climber, kind: str, day: Day
) -> list[Decided]:
    """Verdict code of each unit, and the check that decided with its demand and limit."""
    if kind in ("", "none"):
        code, limit = (NOT_KNOWN, math.nan) if kind == "" else (OVER, 0.0)
        return [(code, "way-up", 1.0, limit)] * len(units)
    machine = climber_columns(climber.piece, climber.facing, front_x_in=0.0)
    ahead = np.zeros((len(columns["item_present"]), 1, 1, 1))
    ahead[list(climber.ahead)] = 1.0
    trailers = [all_rigs.trailers[u] for u in units]
    grips = np.array([surface_grip(t, climber.piece, day.surface) for t in trailers]).reshape(-1, 1, 1)
    one = np.ones((1, 1, 1))
    columns = columns.with_values({n: machine[n] for n in (*CLIMBER, *CONTACT)}).with_values({
        "item_present": columns["item_present"] * ahead,
        "machine_end_x_in": machine["machine_end_x_in"] + columns["item_front_x_in"][climber.item],
        "climb_hitched": one * day.hitched, "climb_chocked": one * day.chocked, "surface_grip": grips,
    })  # fmt: skip
    driven = run(columns, kind=kind, ground_rad=day.ground_rad, stands=day.stands, blocks=day.blocks, steps=COARSE)
    columns = columns.with_values(outcomes(driven))
    silent = OF_RAMPS if kind == "tilt" else set()
    checks = [c for c in of_case("loading") if c.id not in silent]
    return _decided(judged(columns, (), checks=checks), len(units))


def _decided(judgement: Judgement, count: int) -> list[Decided]:
    """The worst of each unit over its rows; guidance caps it, as everywhere."""
    verdict = np.broadcast_to(judgement.verdict[:, 0], count)
    governing = np.broadcast_to(judgement.governing[:, 0], count)
    rows = judgement.rows
    demand, limit = (np.broadcast_to(v[:, :, 0], (len(v), count)) for v in (rows.demand, rows.limit))
    out: list[Decided] = []
    for u, (code, row) in enumerate(zip(verdict, governing, strict=True)):
        if code == CLEAR or row < 0:
            out.append((int(code), "", math.nan, math.nan))
            continue
        check = rows.rows[int(row)].check.id
        out.append((int(code), check, float(demand[row, u]), float(limit[row, u])))
    return out


