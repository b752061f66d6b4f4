"""Where the cargo of a haul should stand on one trailer, and what is in the way where it cannot stand anywhere."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rubrail.answers.band import Band, bands
from rubrail.answers.firm import settled_places
from rubrail.answers.placing import Places
from rubrail.answers.report import Piece
from rubrail.answers.rig import Placement, Rigs, rigs
from rubrail.checks.judge import Judgement
from rubrail.checks.rows import Row
from rubrail.things.columns import Columns
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer


@dataclass(frozen=True, slots=True)
class Place:
    """The best placement on one trailer.

    possible : every rating and law that depends on place, and the fit on the deck, hold there at the stated values.
    share : least relative margin among the limits that depend on place.
    held_by : the limits that keep the cargo from moving forward or rearward, by id and title.
    holds, clear : how far the whole row may slide from here with everything holding, at the stated values and with
    every tolerance against it; inches, rearward positive.
    """

    trailer: str
    placement: Placement
    pieces: tuple[Piece, ...]
    possible: bool
    share: float
    held_by: tuple[tuple[str, str], ...]
    holds: Band | None
    clear: Band | None


def place(*, haul: Haul, trailer: Trailer) -> Place:
    """Best placement of a haul on one trailer."""
    return best_place(rigs(haul=haul, trailers=(trailer,)))[0]


def best_place(one: Rigs) -> tuple[Place, Columns, Judgement]:
    """Best placement of a haul on one trailer, proven by construction (``answers.placing``).

    Parameters
    ----------
    one : Rigs
        Of one trailer.

    Returns
    -------
    Place, Columns, Judgement
        The answer, the rig's columns at that placement, and its judgement.
    """
    places, columns, judgement = settled_places(one.columns, offsets_in=one.offsets_in)
    arrangement = one.arrangements[int(places.arrangement[0])]
    front = columns["item_front_x_in"].reshape(-1)[: len(arrangement.facing)]
    placement = Placement(tuple(float(x) for x in front), arrangement.facing)
    holds, clear = bands(columns, judgement=judgement)
    share = float(places.share[0])
    answer = Place(
        trailer=one.trailers[0].id,
        placement=placement,
        pieces=pieces(one, columns, placement),
        possible=bool(places.possible[0]),
        share=share,
        held_by=tuple((r.check.id, r.check.title) for r in _held_by(places)),
        holds=holds,
        clear=clear,
    )
    return answer, columns, judgement


def _held_by(places: Places) -> list[Row]:
    index = dict.fromkeys((int(places.rising[0]), int(places.falling[0])))
    return [places.rows.rows[i] for i in index if i >= 0]


def pieces(one: Rigs, columns: Columns, placement: Placement) -> tuple[Piece, ...]:
    """Each piece as placed, from the coupling point and from the front edge of the deck."""

    def column(name: str) -> list[float]:
        return [float(v) for v in np.broadcast_to(columns[name], columns["item_weight_lb"].shape).reshape(-1)]

    deck = float(columns["deck_front_x_in"].reshape(-1)[0]) if "deck_front_x_in" in columns else float("nan")
    rows = zip(
        one.pieces, placement.facing, placement.front_x_in,
        column("item_weight_lb"), column("item_cg_in"), column("item_length_in"), strict=False,
    )  # fmt: skip
    return tuple(
        Piece(p.id, p.title or p.id, weight, facing, x, x + cg, x + length, x - deck, x + cg - deck)
        for p, facing, x, weight, cg, length in rows
    )
