"""The values a ticket is weighed for, each as a combination of its unknowns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from rubrail.answers.ticket_layout import EMPTY, Layout, Row, axle, coupler
from rubrail.mechanics.least_squares import Fit, doubt
from rubrail.quantity.value import Value
from rubrail.things.columns import Array

COVER = 1.959963984540054
"""Half of a 95 % interval in standard uncertainties: errors of known size, many of them, by the normal law."""


@dataclass(frozen=True, slots=True)
class Sum:
    """A value that is a sum of unknowns.

    name, of, load, field : as the answer has them; factors : factor of each unknown; products : a known number times
    an unknown; needed : the ticket is weighed for it, so that what would tell it is worth saying.
    """

    name: str
    of: str
    load: str
    factors: Mapping[str, float]
    field: str = ""
    products: tuple[tuple[str, str, float], ...] = ()
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Found:
    """A value with its standard uncertainty, and the direction its error takes among the unknowns."""

    number: float
    doubt: float
    along: Array = field(repr=False)
    told: bool = True


def sums(layout: Layout) -> Iterator[Sum]:
    """Every sum worth telling: the truck, the empty trailer, each load, and the rig as hitched."""
    states = layout.ticket.weighing
    n = range(1, layout.axles + 1)
    if layout.ticket.truck or any(w.state == "truck" for w in states):
        yield Sum("front axle", "truck", EMPTY, {"steer": 1}, "weights.front_axle_lb", needed=True)
        yield Sum("rear axle", "truck", EMPTY, {"drive": 1}, "weights.rear_axle_lb", needed=True)
        yield Sum("whole", "truck", EMPTY, {"steer": 1, "drive": 1})
    if layout.ticket.trailer or any(w.state != "truck" for w in states):
        group = {axle(k, EMPTY): 1.0 for k in n}
        yield Sum("whole", "trailer", EMPTY, {coupler(EMPTY): 1, **group}, "weights.empty_lb", needed=True)
        yield Sum("coupler", "trailer", EMPTY, {coupler(EMPTY): 1}, "weights.empty_coupler_lb", needed=True)
        yield from _axles(layout, "trailer", EMPTY)
    for load in layout.loads[1:]:
        group = {axle(k, load): 1.0 for k in n}
        empty = {coupler(EMPTY): -1.0, **{axle(k, EMPTY): -1.0 for k in n}}
        yield Sum("whole", "rig", load, {coupler(load): 1, **group})
        yield Sum("coupler", "rig", load, {coupler(load): 1}, needed=True)
        yield from _axles(layout, "rig", load)
        yield Sum("cargo", "cargo", load, {coupler(load): 1, **group, **empty}, needed=True)
    yield from _hitched(layout)
    yield from {(s.name, s.load): s for s in sides(layout)}.values()


def _axles(layout: Layout, of: str, load: str) -> Iterator[Sum]:
    n = range(1, layout.axles + 1)
    yield Sum("axles", of, load, {axle(k, load): 1.0 for k in n})
    on = [part for w in layout.ticket.weighing for r in w.reading for part in r.on]
    if layout.axles > 1 and any(part.startswith("axle ") for part in on):
        for k in n:
            yield Sum(f"axle {k}", of, load, {axle(k, load): 1})


def _hitched(layout: Layout) -> Iterator[Sum]:
    """Truck and rig as they were weighed hitched, with whoever was aboard; the trailer's axles with bars drawn up."""
    on_truck = {"steer", "drive", "truck", "rig"}
    hitched = [w for w in layout.ticket.weighing if w.state == "hitched"]
    weighed = [w for w in hitched if any(on_truck & set(r.on) for r in w.reading)]
    first = {(w.load or EMPTY, w.weight_distribution): w for w in reversed(weighed)}
    for load, bars in dict.fromkeys((w.load or EMPTY, w.weight_distribution) for w in weighed):
        words = ", bars drawn up" if bars else ""
        for name, part in (("front axle", "steer"), ("rear axle", "drive"), ("truck", "truck"), ("rig", "rig")):
            row = layout.row(first[load, bars], (part,))
            yield Sum(f"{name} hitched{words}", "rig", load, row.unknowns, "", row.products)
    # Drawn-up bars send part of the coupler load to the trailer's axles: what stands on them then is more.
    drawn = {w.load or EMPTY: w for w in reversed(hitched) if w.weight_distribution}
    for load, w in drawn.items():
        yield Sum("trailer axles hitched, bars drawn up", "rig", load, layout.row(w, ("axles",)).unknowns)


def sides(layout: Layout) -> Iterator[Sum]:
    """Left and right wheels of what was weighed one side at a time."""
    for taken in layout.taken:
        if taken.reading.side and len(taken.reading.on) == 1 and "|" not in taken.reading.on[0]:
            load = taken.state.load or EMPTY
            for word in ("left", "right"):
                row = layout.row(taken.state, taken.reading.on, word)
                name = f"{taken.reading.on[0]}, {word} wheels, {taken.state.state}"
                yield Sum(name, "side", load, row.unknowns, "", row.products)


def vector_of(layout: Layout, value: Sum, fit: Fit) -> Array:
    """A sum as the fit takes it; nothing of it where no reading has one of its unknowns, which then is not told."""
    if not set(value.factors) <= set(layout.index):
        return np.zeros(len(layout.names))
    return layout.row_vector(Row(value.factors, value.products), fit.values)


def found(fit: Fit, along: Array) -> Found:
    """A combination's value with its standard uncertainty."""
    if not np.any(along) or not bool(fit.tells(along)):
        return Found(float("nan"), float("nan"), along, told=False)
    return Found(float(along @ fit.values), float(doubt(covariance=fit.covariance, combination=along)), along)


def center(layout: Layout, fit: Fit, load: str) -> Found | None:
    """Center of gravity behind the coupling, of the empty trailer or of a load's cargo; None where a place is missing.

    The places are those of the axles: each its own where each was weighed, else their middle.
    """
    middle = layout.axle_place()
    if middle is None:
        return None
    n = range(1, layout.axles + 1)
    places = [float(a.from_coupler_in) for a in layout.trailer.axle]
    spread = [a.from_coupler_in.plus_minus / 3**0.5 for a in layout.trailer.axle]

    def parts(of: str, sign: float) -> tuple[Array, Array, Array]:
        whole = layout.vector({coupler(of): sign, **{axle(k, of): sign for k in n}})
        each = layout.vector({axle(k, of): sign * places[k - 1] for k in n})
        same = layout.vector({axle(k, of): sign * middle.value for k in n})
        return whole, each, same

    whole, each, same = parts(load, 1.0)
    if load != EMPTY:
        whole, each, same = (a + b for a, b in zip((whole, each, same), parts(EMPTY, -1.0), strict=True))
    apart = bool(fit.tells(each))
    moment = each if apart else same
    if not (bool(fit.tells(moment)) and bool(fit.tells(whole))):
        return Found(float("nan"), float("nan"), whole, told=False)
    weight = float(whole @ fit.values)
    if weight <= 0:
        return Found(float("nan"), float("nan"), whole, told=False)
    at = float(moment @ fit.values) / weight
    along = (moment - at * whole) / weight
    on = [
        float(layout.vector({axle(k, load): 1.0}) @ fit.values)
        - (float(layout.vector({axle(k, EMPTY): 1.0}) @ fit.values) if load != EMPTY else 0.0)
        for k in n
    ]
    if apart:
        more = float(np.hypot.reduce([w / weight * s for w, s in zip(on, spread, strict=True)]))
    else:
        more = abs(sum(on)) / weight * middle.doubt
    spread_of_it = float(doubt(covariance=fit.covariance, combination=along))
    return Found(at, float(np.hypot(spread_of_it, more)), along)


def stands_now(layout: Layout, value: Sum) -> Value | None:
    """What the trailer's or truck's file says of a value."""
    thing = {"truck": layout.truck, "trailer": layout.trailer}.get(value.of)
    if thing is None or not value.field:
        return None
    return getattr(thing.weights, value.field.split(".")[1])


def without_reading(layout: Layout, n: int) -> Layout:
    """The same layout with one of its readings left out; the unknowns stay."""
    less = object.__new__(Layout)
    less.__dict__.update(layout.__dict__)
    less.taken = layout.taken[:n] + layout.taken[n + 1 :]
    less.rows = layout.rows[:n] + layout.rows[n + 1 :]
    return less
