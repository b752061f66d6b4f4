"""What is said at each station whatever is carried: worked out of the trailer by itself."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

import numpy as np

from rubrail.answers.report import Need
from rubrail.answers.walk_parts import Amount, Point
from rubrail.answers.walk_spec import OVER_BED
from rubrail.checks.engine import Evaluation
from rubrail.checks.verdict import CLEAR, NOT_KNOWN, OVER, WORDS, holds
from rubrail.mechanics.climb_ways import ramp_slope_rad
from rubrail.quantity.value import Value
from rubrail.rules.lamps import required_lamps
from rubrail.rules.lamps import wide as counts_as_wide
from rubrail.things.rig_loading import way_kind, way_ramp
from rubrail.things.trailer import Trailer

THOUSAND_LB = 1000.0
FOOT_IN = 12.0
NAN = math.nan


def alone_at(t: Trailer, e: Evaluation, key: str) -> tuple[Point, ...]:
    """Points of one station; ``e`` evaluates the trailer's own columns."""
    made = _POINTS.get(key)
    return tuple(made(t, e)) if made else ()


def held(demand: float, limit: float) -> str:
    """Verdict word of two stated numbers; not known where either is."""
    if math.isnan(demand + limit):
        return WORDS[NOT_KNOWN]
    return WORDS[CLEAR if holds(limit - demand, limit) else OVER]


def need(name: str, says: str) -> Need:
    """A field of the unit's file to go and find out."""
    return Need(name.rpartition(".")[2], name, says, NAN, 0.0, "")


def against(key: str, demand: float, limit: float, *needs: tuple[float, str, str], more: tuple = ()) -> Point:
    """A point that holds one number against another; ``needs`` are values, fields and words, asked where ``nan``."""
    return Point(
        key,
        verdict=held(demand, limit),
        amounts=(Amount("demand", demand, "lb"), Amount("limit", limit, "lb"), *more),
        needs=tuple(need(name, says) for value, name, says in needs if math.isnan(value)),
    )


def _of(value: Value | None) -> float:
    return NAN if value is None else float(value)


def _coupling(t: Trailer, e: Evaluation) -> Iterator[Point]:
    gvwr, rating = _of(t.ratings.gvwr_lb), _of(t.coupling.gross_rating_lb)
    yield against(
        "coupler-carries-label", gvwr, rating,
        (gvwr, "ratings.gvwr_lb", "gross vehicle weight rating"),
        (rating, "coupling.gross_rating_lb", "gross trailer weight the coupler is rated for"),
    )  # fmt: skip


def _chains(t: Trailer, e: Evaluation) -> Iterator[Point]:
    gvwr, strength = _of(t.ratings.gvwr_lb), _of(t.chains.strength_lb)
    count = NAN if t.chains.count is None else float(t.chains.count)
    if count == 0:
        return
    yield against(
        "chains-carry-label", gvwr, count * strength,
        (gvwr, "ratings.gvwr_lb", "gross vehicle weight rating"),
        (count, "chains.count", "how many safety chains"),
        (strength, "chains.strength_lb", "least breaking strength of one safety chain"),
    )  # fmt: skip


def _jack(t: Trailer, e: Evaluation) -> Iterator[Point]:
    load, most = _of(t.weights.empty_coupler_lb), jack_holds(t)
    yield against(
        "jack-holds", load, most,
        (load, "weights.empty_coupler_lb", "coupler load of the empty trailer"),
        (most, "jack.rating_lb", "lifting or holding rating of the jack"),
    )  # fmt: skip


def jack_holds(t: Trailer) -> float:
    """What the jacks hold together."""
    return _of(t.jack.rating_lb) * (t.jack.count or 1)


def _box(t: Trailer, e: Evaluation) -> Iterator[Point]:
    axle = axle_group_in(e)
    for item in t.equipment:
        weight = _of(item.weight_lb) * item.count
        share = weight * (1 - _of(item.from_coupler_in) / axle)
        yield Point(
            "equipment",
            about=item.says or item.tag.replace("-", " "),
            amounts=(Amount("weight", weight, "lb"), Amount("coupler", share, "lb")),
            needs=tuple(
                need(f"equipment.{name}", says)
                for value, name, says in (
                    (weight, "weight_lb", "its weight"),
                    (_of(item.from_coupler_in), "from_coupler_in", "its place behind the coupling"),
                )
                if math.isnan(value)
            ),
        )


def axle_group_in(e: Evaluation) -> float:
    """Coupling point to the middle of the axles. [in]"""
    return float(np.ravel(e.value("axle_group_x_in"))[0])


def _deck_front(t: Trailer, e: Evaluation) -> Iterator[Point]:
    axle = axle_group_in(e)
    yield Point(
        "foot-forward",
        amounts=(Amount("weight", THOUSAND_LB, "lb"), Amount("coupler", THOUSAND_LB * FOOT_IN / axle, "lb")),
        needs=(need("axle.from_coupler_in", "coupling point to the axles"),) if math.isnan(axle) else (),
    )


def _frame(t: Trailer, e: Evaluation) -> Iterator[Point]:
    f = t.frame
    height = float(np.ravel(e.value("deck_height_in"))[0])
    depth = _of(f.crossmember.depth_in)
    rise = depth if f.build == "stacked" else _of(f.crossmember_rise_in)
    # The same parts the other way: on the beams they raise the deck by their depth, through them with tops flush.
    other = height - rise + (0.0 if f.build == "stacked" else depth) if f.build else NAN
    long = (_of(t.deck.flat_length_in) + (_of(t.deck.tail_length_in) if t.deck.tail_length_in else 0.0)) / FOOT_IN
    yield Point(
        "build-choice",
        amounts=(
            Amount("height", height, "in"),
            Amount("other-way", other, "in"),
            Amount("empty-per-ft", _of(t.weights.empty_lb) / long if long else NAN, "lb"),
        ),
        words=(f.build or "",),
        needs=() if f.build else (need("frame.build", "crossmembers through the main beams, or on top of them"),),
    )


def _gear(t: Trailer, e: Evaluation) -> Iterator[Point]:
    axles = sum(_of(a.gawr_lb) for a in t.axle)
    gvwr = _of(t.ratings.gvwr_lb)
    yield Point(
        "axles-and-label",
        amounts=(
            Amount("axles", axles, "lb"),
            Amount("gvwr", gvwr, "lb"),
            Amount("share", gvwr - axles, "lb"),
            Amount("count", float(len(t.axle)), ""),
        ),
        needs=tuple(
            need(name, says)
            for value, name, says in (
                (axles, "axle.gawr_lb", "gross axle weight ratings"),
                (gvwr, "ratings.gvwr_lb", "gross vehicle weight rating"),
            )
            if math.isnan(value)
        ),
    )


def _tires(t: Trailer, e: Evaluation) -> Iterator[Point]:
    demand, limit = (np.reshape(v, (len(v), -1))[: len(t.axle), 0] for v in e.check("tires-carry-axle-rating"))
    spare = limit - demand
    worst = int(np.argmax(np.isnan(spare))) if np.isnan(spare).any() else int(np.argmin(spare / demand))
    yield Point(
        "tires-for-axle",
        about=f"axle {worst + 1}",
        verdict=held(float(demand[worst]), float(limit[worst])),
        amounts=(Amount("demand", float(demand[worst]), "lb"), Amount("limit", float(limit[worst]), "lb")),
        needs=(need("axle.tires", "load, pressure and count of the tires, and the axle's rating"),)
        if math.isnan(spare[worst])
        else (),
    )


def _tail(t: Trailer, e: Evaluation) -> Iterator[Point]:
    d = t.deck
    if way_kind(t) == "tilt":
        angle = math.radians(_of(d.tilt_angle_deg))
        yield _slope("tail-angle", angle, "deck.tilt_angle_deg", "angle of the deck when tilted", words=("tilt",))
        return
    length = _of(d.tail_length_in)
    lowering = d.tail_kind == "lowering"
    height = float(np.ravel(e.value("deck_height_in"))[0])
    drop = height - _of(d.tail_lowered_height_in) if lowering else _of(d.tail_drop_in)
    angle = math.atan(drop / length) if length else 0.0
    field = "deck.tail_lowered_height_in" if lowering else "deck.tail_drop_in"
    words = ("lowering",) if lowering else ()
    yield _slope("tail-angle", angle, field, "how far the tail falls to its rear edge", words=words)


def _slope(key: str, angle: float, field: str, says: str, *amounts: Amount, words: tuple[str, ...] = ()) -> Point:
    return Point(
        key,
        amounts=(Amount("angle", angle, "rad"), *amounts),
        words=words,
        needs=(need(field, says),) if math.isnan(angle) else (),
    )


def _ramps(t: Trailer, e: Evaluation) -> Iterator[Point]:
    ramp = way_ramp(t)
    if ramp is None:
        yield Point("no-ramps", words=(way_kind(t),), needs=() if way_kind(t) else (need("ramp", "its ramps"),))
        return
    edge = float(np.ravel(e.value("deck_height_in"))[0])
    if t.deck.tail_kind == "fixed":
        edge -= _of(t.deck.tail_drop_in)
    length = _of(ramp.length_in)
    angle = float(ramp_slope_rad(height_in=edge, length_in=length))
    field = ("ramp.length_in", "length of the ramps") if math.isnan(length) else ("deck.height_in", "deck height")
    lengths = (Amount("edge", edge, "in"), Amount("length", length, "in"))
    yield _slope("ramp-angle", angle, *field, *lengths, words=(ramp.kind,))


def _lights(t: Trailer, e: Evaluation) -> Iterator[Point]:
    gvwr, empty = _of(t.ratings.gvwr_lb), _of(t.weights.empty_lb)
    yield Point(
        "payload-by-label",
        amounts=(Amount("gvwr", gvwr, "lb"), Amount("empty", empty, "lb"), Amount("payload", gvwr - empty, "lb")),
        needs=tuple(
            need(name, says)
            for value, name, says in (
                (gvwr, "ratings.gvwr_lb", "gross vehicle weight rating"),
                (empty, "weights.empty_lb", "empty weight"),
            )
            if math.isnan(value)
        ),
    )
    width, length = _of(t.size.width_in), _of(t.size.rear_from_coupler_in) - min(_of(t.size.front_from_coupler_in), 0)
    lamps = required_lamps(width_in=width, length_in=length, gvwr_lb=gvwr, built_year=float(t.year) if t.year else NAN)
    yield Point(
        "lamps-required",
        amounts=(
            Amount("sure", float(sum(x.sure for x in lamps)), ""),
            Amount("maybe", float(sum(not x.sure for x in lamps)), ""),
            Amount("width", width, "in"),
            Amount("gvwr", gvwr, "lb"),
            Amount("wide", float(counts_as_wide(width_in=width)), ""),
        ),
        words=tuple(dict.fromkeys(x.item for x in lamps if x.sure)),
        needs=(need("size.width_in", "overall width"),) if math.isnan(width) else (),
    )


def over_bed(t: Trailer) -> bool:
    """Whether it couples over the truck's bed."""
    return t.coupling.kind in OVER_BED


_POINTS: dict[str, Callable[[Trailer, Evaluation], Iterator[Point]]] = {
    "coupling": _coupling, "chains": _chains, "jack": _jack, "box": _box, "deck-front": _deck_front,
    "frame": _frame, "running-gear": _gear, "tires": _tires, "tail": _tail, "ramps": _ramps,
    "lights": _lights,
}  # fmt: skip
