"""Take a unit's numbers apart: what the advertised one is made of, which part is weakest, and the three payloads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rubrail.answers.envelope import Fan, fan_of, greatest_at
from rubrail.answers.height import built_columns
from rubrail.answers.payload import alone_best, by_axles, by_label, deck_span, running_gear, with_truck_best
from rubrail.answers.rig import rigs
from rubrail.checks.engine import Evaluation
from rubrail.things.columns import Columns
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer


@dataclass(frozen=True, slots=True)
class Term:
    """One part of a sum: what it is, and its pounds, negative where they are taken away; ``nan`` is not known."""

    title: str
    value_lb: float


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of a unit.

    group : ``advertised``, ``running gear``, ``coupling``, ``tax`` or ``payload``; value in pounds, ``nan`` where
    not known; how : how it is made up, in words and numbers; rule : what kind of number it is and whose;
    governs : it is the least of its group, or the one the verdict follows; terms : what it is the sum of, empty where
    it is no sum.
    """

    name: str
    group: str
    title: str
    value_lb: float
    how: str
    rule: str
    governs: bool = False
    terms: tuple[Term, ...] = ()


@dataclass(frozen=True, slots=True)
class Decoding:
    """A unit's numbers taken apart; ``truck`` names what the last payload is behind, ``""`` for none."""

    trailer: str
    title: str
    truck: str
    figures: tuple[Figure, ...]


def decode(*, trailer: Trailer, haul: Haul | None = None) -> Decoding:
    """Take a unit's numbers apart, with a haul also behind its truck."""
    if haul is None:
        columns, truck = built_columns([trailer]), ""
    else:
        one = rigs(haul=haul, trailers=(trailer,))
        columns, truck = one.columns, one.truck_title
    return Decoding(trailer.id, trailer.title or trailer.id, truck, figures(columns, with_truck=haul is not None))


def lb(value: float) -> str:
    """Pounds in a sentence."""
    return "not known" if np.isnan(value) else "no limit" if np.isinf(value) else f"{value:,.0f} lb"


def figures(columns: Columns, *, with_truck: bool, fan: Fan | None = None) -> tuple[Figure, ...]:
    """Every number of one unit, each with how it is made up.

    Parameters
    ----------
    columns : Columns
        One unit; with a truck's columns where ``with_truck``.
    with_truck : bool
        Add the payload behind that truck.
    fan : Fan, optional
        ``fan_of(columns, trailer_only=True)`` read before.
    """
    e = Evaluation(columns)
    fan = fan_of(columns, trailer_only=True) if fan is None else fan

    def one(name: str) -> float:
        return float(e.value(name).reshape(-1)[0])

    advertised, label, empty = one("trailer_advertised_lb"), one("trailer_gvwr_lb"), one("trailer_empty_weight_lb")
    gear = _running_gear(e)
    axles = gear[0].value_lb
    share = advertised - axles
    numbers = [
        Figure(
            "advertised", "advertised", "advertised number", advertised,
            f"{lb(axles)} of axle ratings and {lb(share)} counted for the coupler's share ({share / advertised:.0%})"
            if share > 0 else f"within the axle ratings of {lb(axles)}" if share <= 0 else "not stated",
            "the maker's advertising; no rating",
            terms=(*gear[0].terms, Term("counted for the coupler's share", share)) if share > 0 else (),
        ),
        Figure(
            "label", "advertised", "label GVWR", label,
            "read off the certification label", "rating; it governs what the loaded trailer may weigh", governs=True,
        ),
        *gear,
        *_coupling(one),
        *_tax(e, one),
        *_payloads(columns, fan, label, empty, with_truck=with_truck),
    ]  # fmt: skip
    return tuple(numbers)


def _running_gear(e: Evaluation) -> list[Figure]:
    present = e.value("axle_present").reshape(e.value("axle_present").shape[0], -1)[:, 0] > 0

    def each(name: str) -> list[float]:
        values = e.value(name)
        values = np.broadcast_to(values, (len(present), *values.shape[1:]))
        return [float(v) for v in values.reshape(len(present), -1)[present, 0]]

    tires_each = [c * load for c, load in zip(each("axle_tire_count"), each("axle_tire_load_lb"), strict=True)]
    wheels_each = [c * w for c, w in zip(each("axle_tire_count"), each("axle_wheel_rating_lb"), strict=True)]
    parts = [
        ("axles", "axle ratings (GAWR) added up", each("axle_gawr_lb"), "rating of each axle on the label"),
        ("tires", "tires, at the pressure they are run at", tires_each, "sidewall load at that pressure"),
        ("wheels", "wheels", wheels_each, "rating stamped on each wheel"),
    ]
    known = [sum(v) for _, _, v, _ in parts if not np.isnan(sum(v))]
    least = min(known, default=np.nan)
    return [
        Figure(
            name, "running gear", title, sum(v), " + ".join(lb(p) for p in v), rule, governs=sum(v) == least,
            terms=tuple(Term(f"{name.removesuffix('s')} {n}" if name == "axles" else f"{name} of axle {n}", p)
                        for n, p in enumerate(v, 1)),
        )
        for name, title, v, rule in parts
    ]  # fmt: skip


def _coupling(one) -> list[Figure]:
    gross, vertical = one("coupler_gross_rating_lb"), one("coupler_vertical_rating_lb")
    return [
        Figure("coupler", "coupling", "coupler, loaded trailer", gross, "stamped on the coupler", "rating"),
        Figure("coupler-load", "coupling", "coupler, load on it", vertical, "stamped on the coupler", "rating"),
    ]


def _tax(e: Evaluation, one) -> list[Figure]:
    by_rating, by_geometry = one("trailer_gvwr_lb"), float(e.check("excise-by-axles")[0].reshape(-1)[0])
    bed, axle = one("tax_bed_center_x_in"), one("axle_group_x_in")
    how = (
        f"axle ratings x {axle:,.4g} in to the axles / {bed:,.4g} in to the center of the bed"
        if not np.isnan(bed + axle)
        else "needs the distances from coupling to axles and to the center of the bed"
    )
    return [
        Figure("tax-rating", "tax", "excise-tax weight by rating", by_rating, "the label GVWR", "tax"),
        Figure("tax-geometry", "tax", "excise-tax weight by axle geometry", by_geometry, how, "tax"),
    ]


def _axle_terms(columns: Columns, fan: Fan, middle_lb: float) -> tuple[Term, ...]:
    """Payload by axles as a sum, where the axle ratings together are what stops it; else nothing to add up."""
    gear = running_gear(fan)
    _, middle, _ = deck_span(columns)
    row = int(greatest_at(gear, middle[:, None])[1][0, 0])
    if np.isnan(middle_lb) or gear.rows[row].check.id != "axle-group":
        return ()
    rating = float(np.nansum(columns["axle_gawr_lb"]))
    left = float(gear.at_empty[row, 0])
    return (
        Term("axle ratings", rating),
        Term("the empty trailer's weight on its axles", left - rating),
        Term("the coupler's share of a load at mid-deck", middle_lb - left),
    )


def _payloads(columns: Columns, fan: Fan, label: float, empty: float, *, with_truck: bool) -> list[Figure]:
    labelled = float(by_label(columns)[0])
    middle = float(by_axles(columns, fan=fan)[0])
    honest, honest_x = (float(a[0]) for a in alone_best(columns, fan=fan))
    out = [
        Figure(
            "payload-label", "payload", "payload by label", labelled, f"{lb(label)} - {lb(empty)} empty",
            "follows the certification label", governs=True,
            terms=(Term("label GVWR", label), Term("empty weight", -empty)),
        ),
        Figure(
            "payload-axles", "payload", "payload by axles", middle,
            "with the load's center of gravity at mid-deck; more farther forward, less farther back",
            "follows axles, tires and wheels, the coupler carrying its real share; local law may look at this one",
            terms=_axle_terms(columns, fan, middle),
        ),
        Figure(
            "payload-alone", "payload", "payload of the trailer alone", honest,
            f"least over all its own ratings, at its best place {honest_x:,.0f} in behind the coupling"
            if not np.isnan(honest) else "a rating of its own, or the place of its deck, is not known",
            "what the trailer carries whatever pulls it",
        ),
    ]  # fmt: skip
    if with_truck:
        behind, x = (float(a[0]) for a in with_truck_best(columns))
        out.append(
            Figure(
                "payload-truck", "payload", "payload behind this truck", behind,
                f"least over every rating and law of the rig, at its best place {x:,.0f} in behind the coupling",
                "what this truck and this trailer carry together", governs=True,
            )
        )  # fmt: skip
    return out
