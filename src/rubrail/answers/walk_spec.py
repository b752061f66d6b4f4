"""What a unit's file says at each station of a walk, and where on the unit that station is."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from rubrail.answers.height import height_from_build
from rubrail.answers.walk_parts import Fact
from rubrail.quantity.value import Value
from rubrail.things.rig_loading import way_kind, way_ramp
from rubrail.things.trailer import Trailer

NAN = math.nan
Place = tuple[float, float]
OVER_BED = ("gooseneck", "kingpin")
ALONG = {"chains": 0.12, "neck": 0.27, "jack": 0.42}
"""How far along the tongue a thing is pointed at whose place no file holds: as it is drawn, no measure."""
UPRIGHT_IN = 12.0
"""The jack of a gooseneck stands so far ahead of the deck, as it is drawn."""


def number(name: str, value: Value | None, unit: str, word: str = "") -> Fact:
    """A value of the file under its name."""
    return Fact(name, NAN if value is None else float(value), unit, word, "" if value is None else value.basis)


def said(name: str, word: str | None) -> Fact:
    """A word of the file under its name."""
    return Fact(name, NAN, "", word or "")


def flag(name: str, value: bool | None, yes: str, no: str) -> Fact:
    """Yes or no, in words; nothing where the file does not say."""
    return said(name, None if value is None else yes if value else no)


def has(t: Trailer, key: str) -> bool:
    """Whether a unit has that station at all."""
    if key == "box":
        return bool(t.equipment)
    if key == "tail":
        return t.deck.tail_kind not in (None, "none") or t.deck.tilt_length_in is not None
    if key == "ramps":
        return bool(t.ramp) or way_kind(t) in ("", "none")
    return True


def facts_at(t: Trailer, key: str) -> tuple[Fact, ...]:
    """What the file says at one station."""
    return tuple(_FACTS[key](t))


def _coupling(t: Trailer) -> Iterator[Fact]:
    c = t.coupling
    yield said("kind", c.kind)
    yield number("ball_size_in", c.ball_size_in, "in")
    yield number("gross_rating_lb", c.gross_rating_lb, "lb")
    yield number("vertical_rating_lb", c.vertical_rating_lb, "lb")
    if c.height_min_in is not None and c.height_max_in is not None:
        yield number("height_min_in", c.height_min_in, "in")
        yield number("height_max_in", c.height_max_in, "in")
    else:
        yield number("height_in", c.height_in, "in")


def _chains(t: Trailer) -> Iterator[Fact]:
    yield Fact("count", NAN if t.chains.count is None else float(t.chains.count), "")
    yield number("strength_lb", t.chains.strength_lb, "lb")
    yield number("size_in", t.chains.size_in, "in")
    yield said("grade", t.chains.grade)
    yield flag("breakaway", t.breakaway, "fitted", "none")
    yield said("plug", t.plug)
    yield said("over_bed", "yes" if t.coupling.kind in OVER_BED else "no")
    if all(a.brakes == "none" for a in t.axle):
        yield said("unbraked", "yes")


def _neck(t: Trailer) -> Iterator[Fact]:
    if t.coupling.kind in OVER_BED:
        yield said("part", "neck")
        yield number("neck_underside_height_in", t.coupling.neck_underside_height_in, "in")
        yield number("neck_swing_in", t.coupling.neck_swing_in, "in")
    else:
        yield said("part", "tongue")
        yield number("height_in", t.coupling.height_in, "in")
    yield number("front_from_coupler_in", t.deck.front_from_coupler_in, "in")


def _jack(t: Trailer) -> Iterator[Fact]:
    yield said("kind", t.jack.kind)
    yield Fact("count", NAN if t.jack.count is None else float(t.jack.count), "")
    yield number("rating_lb", t.jack.rating_lb, "lb")


def _box(t: Trailer) -> Iterator[Fact]:
    for e in t.equipment:
        words = e.says or e.tag.replace("-", " ")
        yield number(f"equipment.{e.tag}", e.weight_lb, "lb", f"{e.count} × {words}" if e.count > 1 else words)


def _deck_front(t: Trailer) -> Iterator[Fact]:
    yield number("front_from_coupler_in", t.deck.front_from_coupler_in, "in")
    axles = sum(_in(a.from_coupler_in) for a in t.axle) / len(t.axle)
    yield Fact("axles_behind_front_in", axles - _in(t.deck.front_from_coupler_in), "in")


def _deck(t: Trailer) -> Iterator[Fact]:
    d = t.deck
    yield said("kind", d.kind)
    yield number("height_in", d.height_in, "in") if d.height_in is not None else _built(t)
    yield number("flat_length_in", d.flat_length_in, "in")
    yield number("width_in", d.width_in, "in")
    if d.kind == "between-fenders":
        yield number("between_fenders_in", d.between_fenders_in, "in")
    yield said("deck_material", t.frame.deck_material)
    for kind in dict.fromkeys(a.kind for a in t.anchor):
        mine = [a for a in t.anchor if a.kind == kind]
        yield Fact(f"anchor.{kind}", float(sum(2 if a.both_sides else 1 for a in mine)), "")
        known = [a.wll_lb for a in mine if a.wll_lb is not None]
        least = min(known, key=float) if len(known) == len(mine) else None
        yield number(f"anchor.{kind}.wll_lb", least, "lb")


def _built(t: Trailer) -> Fact:
    height = height_from_build(t).height_in
    return Fact("height_in", height, "in", "", "" if math.isnan(height) else "estimated")


def _frame(t: Trailer) -> Iterator[Fact]:
    f = t.frame
    yield number("main_beam.depth_in", f.main_beam.depth_in, "in", f.main_beam.shape or "")
    yield number("main_beam.weight_lb_per_ft", f.main_beam.weight_lb_per_ft, "lb/ft")
    yield number("crossmember.depth_in", f.crossmember.depth_in, "in", f.crossmember.shape or "")
    yield number("crossmember_spacing_in", f.crossmember_spacing_in, "in")
    yield said("build", f.build)
    yield flag("torque_tube", f.torque_tube, "fitted", "none")
    yield flag("bridging", f.bridging, "fitted", "none")
    yield said("outriggers", f.outriggers)


def _gear(t: Trailer) -> Iterator[Fact]:
    yield Fact("axles", float(len(t.axle)), "")
    ratings = [a.gawr_lb for a in t.axle]
    alike = len({None if r is None else (float(r), r.basis) for r in ratings}) == 1
    for n, rating in enumerate(ratings[:1] if alike else ratings, 1):
        yield number("gawr_lb" if alike else f"axle.{n}.gawr_lb", rating, "lb")
    yield said("suspension", t.suspension.kind)
    brakes = {a.brakes for a in t.axle}
    for n, brake in enumerate([t.axle[0].brakes] if len(brakes) == 1 else [a.brakes for a in t.axle], 1):
        yield said("brakes" if len(brakes) == 1 else f"axle.{n}.brakes", brake)


def _tires(t: Trailer) -> Iterator[Fact]:
    # What differs from axle to axle is rare: the first axle with least is told, and that the others differ.
    first = t.axle[0].tires
    dual = first.count == 4
    counts = [a.tires.count for a in t.axle]
    yield Fact("count", NAN if None in counts else float(sum(c for c in counts if c)), "")
    yield said("size", first.size)
    yield said("load_range", first.load_range)
    load = first.max_load_dual_lb if dual else first.max_load_lb
    yield number("max_load_dual_lb" if dual else "max_load_lb", load, "lb")
    yield number("max_pressure_psi", first.max_pressure_psi, "psi")
    yield number("pressure_psi", first.pressure_psi, "psi")
    yield number("wheel_rating_lb", t.axle[0].wheel_rating_lb, "lb")
    if len({(a.tires.size, a.tires.load_range, a.tires.count) for a in t.axle}) > 1:
        yield said("differ", "the axles have different tires")


def _underneath(t: Trailer) -> Iterator[Fact]:
    yield Fact("frame_under_in", _beam_under(t), "in")
    yield said("bracing", t.frame.bracing)


def _beam_under(t: Trailer) -> float:
    """Ground to the underside of the main beam: the loaded tire, and the axle's center up to the beam."""
    radius, up, *_ = (p.height_in for p in height_from_build(t).parts)
    return radius + up


def _tail(t: Trailer) -> Iterator[Fact]:
    d = t.deck
    yield said("tail_kind", d.tail_kind or ("tilt" if d.tilt_length_in is not None else None))
    if d.tail_kind == "tilt" or d.tilt_length_in is not None:
        yield number("tilt_length_in", d.tilt_length_in, "in")
        yield number("tilt_angle_deg", d.tilt_angle_deg, "deg")
        return
    yield number("tail_length_in", d.tail_length_in, "in")
    if d.tail_kind == "lowering":
        yield number("tail_lowered_height_in", d.tail_lowered_height_in, "in")
    else:
        yield number("tail_drop_in", d.tail_drop_in, "in")


def _ramps(t: Trailer) -> Iterator[Fact]:
    r = way_ramp(t)
    if r is None:
        yield said("kind", "none" if way_kind(t) == "none" else None)
        return
    yield said("kind", r.kind)
    yield Fact("count", float(r.count), "")
    yield number("length_in", r.length_in, "in")
    yield number("width_in", r.width_in, "in")
    yield number("rating_pair_lb", r.rating_pair_lb, "lb")
    if r.rating_pair_lb is None:
        yield number("rating_each_lb", r.rating_each_lb, "lb")
    yield flag("stands", r.stands, "fitted", "none")
    yield said("surface", r.surface)
    yield number("weight_lb", r.weight_lb, "lb")
    yield said("assist", r.assist)


def _lights(t: Trailer) -> Iterator[Fact]:
    yield number("gvwr_lb", t.ratings.gvwr_lb, "lb")
    yield number("empty_lb", t.weights.empty_lb, "lb")
    yield number("width_in", t.size.width_in, "in")
    yield flag("lamps_complete", t.lamps_complete, "all seen", "not all seen")
    yield Fact("year", float(t.year) if t.year else NAN, "")


_FACTS: dict[str, Callable[[Trailer], Iterator[Fact]]] = {
    "coupling": _coupling, "chains": _chains, "neck": _neck, "jack": _jack, "box": _box, "deck-front": _deck_front,
    "deck": _deck, "frame": _frame, "running-gear": _gear, "tires": _tires, "underneath": _underneath, "tail": _tail,
    "ramps": _ramps, "lights": _lights,
}  # fmt: skip


def place_of(t: Trailer, key: str) -> Place:
    """Where a station is pointed at, behind the coupling point and above the ground; ``nan`` where nobody can say."""
    d, c = t.deck, t.coupling
    front, flat = _in(d.front_from_coupler_in), _in(d.flat_length_in)
    height = _in(d.height_in) if d.height_in is not None else height_from_build(t).height_in
    tail = _in(d.tail_length_in) if d.tail_length_in is not None else 0.0
    rear = front + flat + tail
    axle = sum(_in(a.from_coupler_in) for a in t.axle) / len(t.axle)
    coupler = _in(c.height_in)
    neck = c.kind in OVER_BED
    boxes = [_in(e.from_coupler_in) for e in t.equipment]
    drop = _in(d.tail_drop_in) if d.tail_drop_in is not None else 0.0
    return {
        "coupling": (0.0, coupler),
        "chains": (ALONG["chains"] * front, coupler),
        "neck": (ALONG["neck"] * front, _in(c.neck_underside_height_in) if neck else coupler),
        "jack": (front - UPRIGHT_IN if neck else max(ALONG["jack"] * front, 16.0), 12.0),
        "box": (next((b for b in boxes if b <= front), NAN), height),
        "deck-front": (front, height),
        "deck": (front + 0.3 * flat, height),
        "frame": (front + 0.45 * flat, height - 6),
        "running-gear": (_in(t.axle[0].from_coupler_in), _in(t.axle[0].tires.loaded_radius_in)),
        "tires": (_in(t.axle[-1].from_coupler_in), 4.0),
        "underneath": (axle + 0.5 * max(front + flat - axle, 0.0), height - 10),
        "tail": (rear - tail / 2 if tail else rear - 0.25 * flat, height - drop / 2),
        "ramps": (rear, height - drop),
        "lights": (rear, height - drop - 5),
    }[key]


def _in(value: Value | None) -> float:
    return NAN if value is None else float(value)
