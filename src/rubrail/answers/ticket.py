"""What a scale ticket says: every weight its readings give, which of them do not agree, and what may be taken over."""

from __future__ import annotations

import math
from dataclasses import replace
from statistics import NormalDist

import numpy as np

from rubrail.answers.ticket_layout import EMPTY, HITCH, Layout
from rubrail.answers.ticket_more import one_more
from rubrail.answers.ticket_report import Checked, Proposal, Rode, Stood, Ticketed, Weighed, Without
from rubrail.answers.ticket_values import (
    COVER,
    Found,
    Sum,
    center,
    found,
    stands_now,
    sums,
    vector_of,
    without_reading,
)
from rubrail.checks.verdict import WORDS, verdict_codes
from rubrail.mechanics.least_squares import Fit, chance_of_more
from rubrail.things.ticket import Ticket
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck

ALARM = 0.05
"""Chance that readings which are all sound have one named as off; shared out among the readings that are checked."""
MISFIT = 0.01
"""Below this chance the whole set does not agree, whichever reading it is."""

NAN = float("nan")


def read_ticket(ticket: Ticket, *, trailer: Trailer | None = None, truck: Truck | None = None) -> Ticketed:
    """Every value of a ticket with its uncertainty, and every reading against the others.

    Parameters
    ----------
    ticket : Ticket
    trailer : Trailer, optional
        Gives the axles' places, the ratings, and what the weights were before.
    truck : Truck, optional
        Gives wheelbase, hitch and ratings.
    """
    layout = Layout(ticket, trailer=trailer, truck=truck)
    shown = np.array([float(t.reading.shown_lb) for t in layout.taken])
    fit = layout.solve(shown)
    off = _off(fit, len(layout.taken))
    chance = float(chance_of_more(chi_square=fit.chi_square, freedom=fit.freedom))
    every = [(s, found(fit, vector_of(layout, s, fit))) for s in sums(layout)]
    values = [_weighed(layout, fit, s, f) for s, f in every]
    values += _centers(layout, fit)
    agrees = not off and not chance < MISFIT and not any(v.below_nothing for v in values)
    told = [(s, f) for s, f in every if f.told]
    return Ticketed(
        title=ticket.title or "",
        trailer=ticket.trailer or "",
        truck=ticket.truck or "",
        verdict=_verdict(agrees, [f.told for s, f in every if s.needed], {v.verdict for v in values}),
        readings=_readings(layout, fit, off),
        values=tuple(values),
        freedom=int(fit.freedom),
        chi_square=float(fit.chi_square),
        chance=chance,
        agrees=agrees,
        proposals=tuple(_proposals(values)) if agrees else (),
        without=_without(layout, shown, off, every),
        stood=_stood(layout),
        names=tuple(f"{s.of} {s.name} {s.load}".strip() for s, _ in told),
        correlations=_correlations(fit, [f for _, f in told]),
        hitch_by_geometry=any(f == HITCH for r in layout.rows for f, _, _ in r.products),
        bars_drawn=any(w.weight_distribution for w in ticket.weighing),
    )


def _verdict(agrees: bool, told: list[bool], held: set[str]) -> str:
    """The worst of it: readings that do not agree leave everything open; then the ratings, then what is not told."""
    if not agrees:
        return "depends"
    if "over" in held:
        return "over"
    if not told or not all(told) or "not known" in held:
        return "not known"
    return "depends" if "depends" in held else "clear"


def _off(fit: Fit, count: int) -> tuple[int, ...]:
    """Readings that stand out: the one farthest out, with those that the set cannot tell apart from it."""
    size = np.abs(fit.normalized[:count])
    checked = np.isfinite(size)
    if not checked.any():
        return ()
    most = np.nanmax(size)
    if most <= _alarm(fit, count):
        return ()
    return tuple(int(n) for n in np.flatnonzero(checked & (size >= most - 1e-6 * most)))


def _alarm(fit: Fit, count: int) -> float:
    """How far out, in its own standard deviations, hardly ever one of so many sound readings is."""
    checked = int(np.isfinite(fit.normalized[:count]).sum())
    return NormalDist().inv_cdf(1 - ALARM / (2 * checked))


def _stood(layout: Layout) -> tuple[Stood, ...]:
    """Each way the rig stood, with who was aboard and where their weight went."""
    found = []
    for number, w in enumerate(layout.ticket.weighing, 1):
        rode = []
        for thing in w.aboard:
            weight = NAN if thing.weight_lb is None else float(thing.weight_lb)
            front = layout.front_share(thing).value * weight
            rode.append(Rode(thing.says, weight, front, layout.seat_known(thing)))
        found.append(Stood(number, w.state, w.load or EMPTY, tuple(rode)))
    return tuple(found)


def _readings(layout: Layout, fit: Fit, off: tuple[int, ...]) -> tuple[Checked, ...]:
    own, shared = layout.doubts(np.array([float(t.reading.shown_lb) for t in layout.taken]))
    at = {(t.weighing, t.number): n for n, t in enumerate(layout.taken)}
    rows = []
    for i, w in enumerate(layout.ticket.weighing):
        for j, r in enumerate(w.reading):
            n = at.get((i, j))
            where = (i + 1, j + 1, w.state, w.load or EMPTY, tuple(r.on), r.side or "", r.scale or "")
            shown = float(r.shown_lb) if r.shown_lb is not None else NAN
            if n is None:
                word = "set aside" if r.set_aside else "not read yet"
                rows.append(Checked(*where, shown, NAN, NAN, NAN, 0.0, word, NAN, r.set_aside or ""))
                continue
            shift = float(fit.shift[n])
            rows.append(
                Checked(
                    *where, shown, shown - float(fit.residuals[n]), math.hypot(own[n], shared[n]),
                    float(fit.normalized[n]), float(fit.redundancy[n]), _word(fit, n, off, len(at)), shown - shift,
                )
            )  # fmt: skip
    return tuple(rows)


def _word(fit: Fit, n: int, off: tuple[int, ...], count: int) -> str:
    if n in off:
        return "off" if len(off) == 1 else "one of these is off"
    size = abs(fit.normalized[n])
    if not np.isfinite(size):
        return "nothing checks it"
    # The one that is off pulls its neighbors away too: what they are worth is seen without it.
    pulled = off and size > _alarm(fit, count)
    return "waits" if pulled else "agrees"


def _weighed(layout: Layout, fit: Fit, value: Sum, got: Found) -> Weighed:
    before = stands_now(layout, value)
    limit, says = _limit(layout, value)
    verdict = ""
    if got.told and not math.isnan(limit):
        margin = limit - got.number
        verdict = WORDS[int(verdict_codes(margin=margin, worst_margin=margin - COVER * got.doubt, limit=limit).min())]
    elif got.told and says and value.load:
        # An empty rig is weighed for its weights; a loaded one against ratings, and one that is missing is no pass.
        verdict = "not known"
    one, two = one_more(layout, fit, vector_of(layout, value, fit)) if value.needed and not got.told else ((), ())
    weighed = Weighed(
        value.name, value.of, value.load, "lb", got.number, got.doubt, COVER * got.doubt, got.told, value.field,
        float(before) if before else NAN, before.plus_minus if before else NAN, before.basis if before else "",
        limit, says, verdict, one, two,
    )  # fmt: skip
    return replace(weighed, verdict="not known") if verdict and weighed.below_nothing else weighed


def _limit(layout: Layout, value: Sum) -> tuple[float, str]:
    """A rating that a value is held against and what it is: ``nan`` where the file has none, "" where none applies."""
    trailer, truck = layout.trailer, layout.truck
    found = None
    if value.of == "rig" and trailer:
        if value.name == "whole":
            found = (trailer.ratings.gvwr_lb, "the trailer's GVWR")
        elif value.name == "coupler":
            found = (trailer.coupling.vertical_rating_lb, "the coupler's rating")
        elif value.name in ("axles", "trailer axles hitched, bars drawn up"):
            ratings = [a.gawr_lb for a in trailer.axle]
            return NAN if None in ratings else sum(float(r) for r in ratings), "the axles' ratings"
        elif value.name.startswith("axle ") and int(value.name[5:]) <= len(trailer.axle):
            found = (trailer.axle[int(value.name[5:]) - 1].gawr_lb, "its rating")
    if value.of == "rig" and truck:
        r = truck.ratings
        of_truck = {
            "front axle": (r.front_gawr_lb, "the truck's front axle rating"),
            "rear axle": (r.rear_gawr_lb, "the truck's rear axle rating"),
            "truck": (r.gvwr_lb, "the truck's GVWR"),
            "rig": (r.gcwr_lb, "the truck's combination rating"),
        }
        found = of_truck.get(value.name.partition(" hitched")[0], found)
    if found is None:
        return NAN, ""
    return NAN if found[0] is None else float(found[0]), found[1]


def _centers(layout: Layout, fit: Fit) -> list[Weighed]:
    rows = []
    for load in layout.loads:
        if load == EMPTY and not any(w.state != "truck" for w in layout.ticket.weighing):
            continue
        got = center(layout, fit, load)
        of = "cargo" if load else "trailer"
        if got is None:
            missing = ("axle.from_coupler_in",)
            rows.append(Weighed("center", of, load, "in", NAN, NAN, NAN, False, missing=missing))
        else:
            rows.append(Weighed("center", of, load, "in", got.number, got.doubt, COVER * got.doubt, got.told))
    return rows


def _proposals(values: list[Weighed]) -> list[Proposal]:
    """Told values that have a place in the thing's file: whole pounds, their tolerance rounded up."""
    return [
        Proposal(
            v.of, v.field, float(round(v.number)), float(math.ceil(v.plus_minus)), v.before, v.before_plus_minus,
            v.before_basis,
        )
        for v in values
        if v.field and v.told
    ]  # fmt: skip


def _without(layout: Layout, shown: np.ndarray, off: tuple[int, ...], every: list) -> tuple[Without, ...]:
    """Values were the reading that stands out not counted; nothing where several might be it."""
    if len(off) != 1:
        return ()
    less = without_reading(layout, off[0])
    fit = less.solve(np.delete(shown, off[0]))
    rows = []
    for value, got in every:
        again = found(fit, vector_of(less, value, fit))
        if got.told and (value.field or value.needed):
            rows.append(Without(f"{value.of} {value.name}", value.load, again.number, COVER * again.doubt))
    return tuple(rows)


def _correlations(fit: Fit, told: list[Found]) -> tuple[tuple[float, ...], ...]:
    if not told:
        return ()
    along = np.array([f.along for f in told])
    both = along @ fit.covariance @ along.T
    size = np.sqrt(np.maximum(np.diag(both), 1e-300))
    return tuple(tuple(float(c) for c in row) for row in both / size[:, None] / size[None, :])
