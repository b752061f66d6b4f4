"""An envelope as a unit's page carries it: what its script reads, the table that says the same, the first reading."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from typing import Any

from rubrail.answers.envelope import Envelope, Segment
from rubrail.sheets.sentences_amounts import amount, feet
from rubrail.sheets.sentences_unit import place_words, stops
from rubrail.sheets.sentences_words import begin

NO_BREAK = "\u00a0"


@dataclass(frozen=True, slots=True)
class Stretch:
    """One row of the table: from where to where, from both ends one measures by, how much, and what governs."""

    from_deck: str
    from_coupling: str
    carries: str
    governs: str


def data_of(envelope: Envelope, *, metric: bool) -> str:
    """What the page's script needs to read any place exactly, as JSON: the same coefficients the engine has.

    Weight is ``1 / (h + k x)``, ``no limit`` where that is not above 0; ``h`` of ``null`` is a limit that is used up
    before any cargo.
    """
    return json.dumps(
        {
            "front": envelope.deck_front_x_in,
            "rear": envelope.deck_rear_x_in,
            "best": envelope.best_x_in,
            "metric": metric,
            "stretches": [_coefficients(s) for s in envelope.alone],
        },
        allow_nan=False,
    )


def _coefficients(s: Segment) -> dict[str, Any]:
    spent = not math.isfinite(s.inverse_at_zero)
    return {
        "from": s.from_x_in,
        "to": s.to_x_in,
        "h": None if spent else s.inverse_at_zero,
        "k": 0.0 if spent else s.inverse_per_in,
        "stops": stops(s),
    }


def rows_of(envelope: Envelope, *, metric: bool) -> list[Stretch]:
    """The stretches in words."""
    zero = envelope.deck_front_x_in

    def span(low: float, high: float) -> str:
        return " to ".join(feet(v, metric=metric).replace(" ", NO_BREAK) for v in (low, high))

    return [
        Stretch(
            span(s.from_x_in - zero, s.to_x_in - zero),
            span(s.from_x_in, s.to_x_in),
            _carries(s, metric),
            begin(stops(s)),
        )
        for s in envelope.alone
    ]


def _carries(s: Segment, metric: bool) -> str:
    low, high = (amount(w, "lb", metric=metric).replace(" ", NO_BREAK) for w in (s.from_weight_lb, s.to_weight_lb))
    if low == high:
        return high
    return f"{low}, {'rising' if s.to_weight_lb > s.from_weight_lb else 'falling'} to {high}"


@dataclass(frozen=True, slots=True)
class Reading:
    """What the reading line says of one place, in three parts: how much, balanced where, and what governs."""

    most: str
    place: str
    governs: str


def reading_at(envelope: Envelope, x_in: float, *, metric: bool) -> Reading:
    """The reading of one place; the page's script says the same of any other."""
    s = next(s for s in envelope.alone if s.from_x_in <= x_in <= s.to_x_in)
    weight = s.weight_lb(x_in) if math.isfinite(s.inverse_at_zero) else 0.0
    most = f"{amount(weight, 'lb', metric=metric)} at most" if math.isfinite(weight) else "no limit"
    where = place_words(x_in, envelope.deck_front_x_in, metric=metric)
    return Reading(begin(most), f"balanced {where}", stops(s))
