"""Two to six units on the same rows for one haul, each at its own best placement."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from rubrail.answers.payload import alone_best, by_label, with_truck_at, with_truck_best
from rubrail.answers.place import best_place
from rubrail.answers.report import Weighing
from rubrail.answers.rig import rigs
from rubrail.answers.weigh import weighing
from rubrail.checks.engine import Evaluation
from rubrail.checks.verdict import WORDS
from rubrail.things.columns import Columns
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer

LEAST, MOST = 2, 6


@dataclass(frozen=True, slots=True)
class Row:
    """One thing compared.

    values : a number or a word for each unit, ``nan`` for not known; better : ``more``, ``less`` or ``""``;
    best : the units that are best on it, empty where all are equal or nothing is better.
    """

    key: str
    title: str
    unit: str
    values: tuple[float | str, ...]
    better: str
    best: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Units side by side for one haul."""

    haul: str
    truck: str
    weighings: tuple[Weighing, ...]
    rows: tuple[Row, ...]


def compare(*, haul: Haul, trailers: Sequence[Trailer]) -> Comparison:
    """Weigh a haul on each trailer and set the numbers side by side.

    Raises
    ------
    ValueError
        If fewer than two or more than six trailers are given.
    """
    if not LEAST <= len(trailers) <= MOST:
        raise ValueError(f"compare takes {LEAST} to {MOST} trailers, got {len(trailers)}")
    weighings, evaluations = [], []
    for trailer in trailers:
        one = rigs(haul=haul, trailers=(trailer,))
        placed, columns, judgement = best_place(one)
        weighings.append(weighing(one, columns, placed.placement, judgement, remedies=False))
        evaluations.append(Evaluation(columns))
    rows = [_row(*spec, [read(w, e, t) for w, e, t in zip(weighings, evaluations, trailers, strict=True)])
            for *spec, read in ROWS]  # fmt: skip
    return Comparison(weighings[0].haul, weighings[0].truck, tuple(weighings), tuple(rows))


def _row(key: str, title: str, unit: str, better: str, values: list[float | str]) -> Row:
    numbers = np.array([_order(v) for v in values])
    best: tuple[int, ...] = ()
    if better and np.isfinite(numbers).any():
        target = np.nanmax(numbers) if better == "more" else np.nanmin(numbers)
        best = tuple(int(i) for i in np.flatnonzero(numbers == target))
    return Row(key, title, unit, tuple(values), better, best if len(best) < len(values) else ())


def _order(value: float | str) -> float:
    if isinstance(value, str):
        return float(WORDS.index(value)) if value in WORDS else np.nan
    return float(value)


Reader = Callable[[Weighing, Evaluation, Trailer], float | str]


def _quantity(name: str) -> Reader:
    def read(w: Weighing, e: Evaluation, t: Trailer) -> float:
        return float(np.ravel(e.value(name))[0])

    return read


def _demand(check: str) -> Reader:
    def read(w: Weighing, e: Evaluation, t: Trailer) -> float:
        return float(np.ravel(e.check(check)[0])[0])

    return read


def _least_of_axles(name: str) -> Reader:
    def read(w: Weighing, e: Evaluation, t: Trailer) -> float:
        present = np.ravel(e.value("axle_present")) > 0
        return float(np.ravel(e.value(name))[present].min()) if present.any() else np.nan

    return read


def _payload(of: Callable[[Columns], tuple]) -> Reader:
    def read(w: Weighing, e: Evaluation, t: Trailer) -> float:
        found = of(e.columns)
        return float((found[0] if isinstance(found, tuple) else found)[0])

    return read


def _here(w: Weighing, e: Evaluation, t: Trailer) -> float:
    """What the rig would carry with its cargo balanced where it is."""
    weight = sum(p.weight_lb for p in w.pieces)
    if not weight > 0:
        return np.nan
    x = sum(p.weight_lb * p.cg_x_in for p in w.pieces) / weight
    return float(with_truck_at(e.columns, np.array([x]))[0])


def _governing(w: Weighing, e: Evaluation, t: Trailer) -> str:
    return w.governing.title if w.governing else "none"


def _margin(w: Weighing, e: Evaluation, t: Trailer) -> float:
    return w.governing.share * 100 if w.governing else np.nan


def _share(w: Weighing, e: Evaluation, t: Trailer) -> float:
    return float(np.ravel(e.value("coupler_load_lb"))[0] / np.ravel(e.value("trailer_gross_lb"))[0] * 100)


def _price(w: Weighing, e: Evaluation, t: Trailer) -> float:
    return float(t.price_usd) if t.price_usd is not None else np.nan


def _price_per_lb(w: Weighing, e: Evaluation, t: Trailer) -> float:
    payload = _payload(with_truck_best)(w, e, t)
    return _price(w, e, t) / payload if payload > 0 else np.nan


ROWS: tuple[tuple, ...] = (
    ("verdict", "verdict", "", "more", lambda w, e, t: w.verdict),
    ("governing", "the limit that governs", "", "", _governing),
    ("margin", "margin on it", "%", "more", _margin),
    ("gvwr", "label GVWR", "lb", "", _quantity("trailer_gvwr_lb")),
    ("empty", "empty weight", "lb", "less", _quantity("trailer_empty_weight_lb")),
    ("payload-label", "payload by label", "lb", "more", _payload(by_label)),
    ("payload-alone", "payload of the trailer alone, best place", "lb", "more", _payload(alone_best)),
    ("payload-truck", "payload behind this truck, best place", "lb", "more", _payload(with_truck_best)),
    ("payload-here", "payload behind this truck, balanced where the cargo is", "lb", "more", _here),
    ("coupler", "coupler load", "lb", "", _quantity("coupler_load_lb")),
    ("share", "coupler load as a share of the loaded trailer", "%", "", _share),
    ("truck-rear", "truck rear axle load", "lb", "less", _quantity("truck_rear_load_lb")),
    ("gross", "loaded trailer", "lb", "less", _quantity("trailer_gross_lb")),
    ("reserve", "least tire reserve", "%", "more", _least_of_axles("tire_reserve_percent")),
    ("deck-height", "deck height", "in", "less", _quantity("deck_height_in")),
    ("deck-length", "level deck", "in", "more", _quantity("deck_flat_length_in")),
    ("deck-width", "deck width", "in", "more", _quantity("deck_width_in")),
    ("height", "overall height loaded", "in", "less", _quantity("overall_height_in")),
    ("tax-weight", "excise-tax weight by axle geometry", "lb", "less", _demand("excise-by-axles")),
    ("price", "price before tax", "USD", "less", _price),
    ("price-per-lb", "price for each pound it carries behind this truck", "USD", "less", _price_per_lb),
)
