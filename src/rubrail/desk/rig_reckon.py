"""One rig as its page shows it: where the pieces stand, what the engine says of that, and the best place beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rubrail.answers.height import built_columns
from rubrail.answers.place import Place, best_place
from rubrail.answers.report import Weighing
from rubrail.answers.rig import Placement, Rigs, at_placement, rigs
from rubrail.answers.weigh import weighing
from rubrail.checks.judge import Judgement, judge
from rubrail.desk.rig_stands import Stand, carrying, rest_of_them
from rubrail.things.columns import Columns
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer

SOLVED_AT_ONCE = 200
"""Arrangements up to which a page brings its best place along; beyond that it is solved when asked for."""


@dataclass(frozen=True)
class Reckoned:
    """A rig with its pieces placed. best : the best place of these pieces, None where it was not solved."""

    one: Rigs
    stands: tuple[Stand, ...]
    placement: Placement
    columns: Columns
    judgement: Judgement
    weighing: Weighing
    best: Place | None

    @property
    def at_best(self) -> bool:
        """Whether the pieces stand at their best place."""
        best = self.best and self.best.placement
        return (
            bool(best)
            and best.facing == self.placement.facing
            and all(abs(a - b) < 0.01 for a, b in zip(best.front_x_in, self.placement.front_x_in, strict=True))
        )


def deck_front_in(trailer: Trailer) -> float | None:
    """Front of the deck behind the coupling point; None where it is not known. [in]"""
    columns = built_columns((trailer,))
    if "deck_front_x_in" not in columns:
        return None
    found = float(columns["deck_front_x_in"].reshape(-1)[0])
    return None if np.isnan(found) else found


def reckon(
    *, haul: Haul, trailer: Trailer, stands: Sequence[Stand], remedies: bool = False, solve: bool = True
) -> Reckoned:
    """Weigh a rig with its pieces where they stand; those that stand nowhere yet go to the best place, all together.

    Parameters
    ----------
    remedies : bool
        Also look for single changes that clear what is over.
    solve : bool
        Also find the best place, where that is quick.
    """
    one = rigs(haul=carrying(haul, stands), trailers=(trailer,))
    stands = rest_of_them(haul, stands)
    free = any(s.front_x_in is None for s in stands)
    best = best_place(one)[0] if free or (solve and len(one.arrangements) <= SOLVED_AT_ONCE) else None
    if free:
        where = zip(stands, best.placement.front_x_in, best.placement.facing, strict=True)
        stands = [replace(s, front_x_in=x, facing=way) for s, x, way in where]
    # What the address can hold: a thousandth of an inch. Behind a piece of unknown length nobody knows the place.
    start = deck_front_in(trailer) or 0.0
    stands = [replace(s, front_x_in=round(s.front_x_in, 3) if np.isfinite(s.front_x_in) else start) for s in stands]
    placement = Placement(tuple(s.front_x_in for s in stands), tuple(s.facing for s in stands))
    columns = at_placement(one, placement)
    judgement = judge(columns)
    weighed = weighing(one, columns, placement, judgement, remedies=remedies)
    return Reckoned(one, tuple(stands), placement, columns, judgement, weighed, best)
