"""What cannot be true together: each rule yields the field, what it says, and what it must be."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rubrail.quantity.value import Value
from rubrail.things.part import Contradiction

if TYPE_CHECKING:
    from rubrail.things.cargo import Cargo
    from rubrail.things.haul import Haul
    from rubrail.things.kit import Kit
    from rubrail.things.trailer import Trailer
    from rubrail.things.truck import Truck


def _exceeds(over: Value | None, under: Value | None) -> bool:
    """Whether a lower bound lies above an upper bound; unknown never does."""
    return over is not None and under is not None and over.number > under.number


def _order(small: str, a: Value | None, large: str, b: Value | None, unit: str) -> Iterator[Contradiction]:
    if _exceeds(a, b):
        yield small, a.number, f"at most {large} ({b.number:,g} {unit})"


def trailer_contradictions(t: Trailer) -> Iterator[Contradiction]:
    """What cannot be true of one trailer."""
    yield from _order("weights.empty_lb", t.weights.empty_lb, "ratings.gvwr_lb", t.ratings.gvwr_lb, "lb")
    yield from _order(
        "weights.empty_coupler_lb", t.weights.empty_coupler_lb, "weights.empty_lb", t.weights.empty_lb, "lb"
    )
    c = t.coupling
    yield from _order("coupling.height_min_in", c.height_min_in, "coupling.height_max_in", c.height_max_in, "in")
    yield from _order("coupling.height_min_in", c.height_min_in, "coupling.height_in", c.height_in, "in")
    yield from _order("coupling.height_in", c.height_in, "coupling.height_max_in", c.height_max_in, "in")
    yield from _order(
        "coupling.vertical_rating_lb", c.vertical_rating_lb, "coupling.gross_rating_lb", c.gross_rating_lb, "lb"
    )
    yield from _axles(t)
    yield from _deck(t)
    yield from _ramps(t)


def _axles(t: Trailer) -> Iterator[Contradiction]:
    ahead: Value | None = None
    for n, axle in enumerate(t.axle, 1):
        at = axle.from_coupler_in
        if at and ahead and at.number <= ahead.number:
            yield (
                f"axle[{n}].from_coupler_in",
                at.number,
                f"more than that of the axle ahead ({ahead.number:,g} in): axles are listed front first",
            )
        if at and _exceeds(at, t.size.rear_from_coupler_in):
            rear = t.size.rear_from_coupler_in
            yield f"axle[{n}].from_coupler_in", at.number, f"at most size.rear_from_coupler_in ({rear.number:,g} in)"
        ahead = at or ahead
        tires = axle.tires
        yield from _order(
            f"axle[{n}].tires.max_load_dual_lb",
            tires.max_load_dual_lb,
            f"axle[{n}].tires.max_load_lb",
            tires.max_load_lb,
            "lb",
        )
        yield from _order(
            f"axle[{n}].tires.pressure_psi",
            tires.pressure_psi,
            f"axle[{n}].tires.max_pressure_psi",
            tires.max_pressure_psi,
            "psi",
        )


def _deck(t: Trailer) -> Iterator[Contradiction]:
    d = t.deck
    length = d.tail_length_in.number if d.tail_length_in else None
    drop = d.tail_drop_in.number if d.tail_drop_in else None
    if d.tail_kind in ("fixed", "lowering") and length == 0:
        yield "deck.tail_length_in", length, f"more than 0, because deck.tail_kind is {d.tail_kind}"
    if d.tail_kind in ("none", "tilt") and length:
        yield "deck.tail_length_in", length, f"0 or left out, because deck.tail_kind is {d.tail_kind}"
    if d.tail_kind in ("none", "tilt") and drop:
        yield "deck.tail_drop_in", drop, f"0 or left out, because deck.tail_kind is {d.tail_kind}"
    if d.tail_kind == "fixed" and drop == 0:
        yield "deck.tail_drop_in", drop, "more than 0, because deck.tail_kind is fixed"
    if length and drop and drop > length:
        yield "deck.tail_drop_in", drop, f"at most deck.tail_length_in ({length:,g} in)"
    yield from _order("deck.tail_drop_in", d.tail_drop_in, "deck.height_in", d.height_in, "in")
    yield from _order("deck.tilt_length_in", d.tilt_length_in, "deck.flat_length_in", d.flat_length_in, "in")
    if d.tilt_length_in and d.tail_kind not in (None, "tilt"):
        yield "deck.tilt_length_in", d.tilt_length_in.number, f"left out, because deck.tail_kind is {d.tail_kind}"
    if d.kind == "deck-over":
        yield from _order("deck.width_in", d.width_in, "size.width_in", t.size.width_in, "in")
    yield from _order("deck.between_fenders_in", d.between_fenders_in, "size.width_in", t.size.width_in, "in")
    rear = t.size.rear_from_coupler_in
    if rear and d.front_from_coupler_in and d.flat_length_in:
        end = d.front_from_coupler_in.number + d.flat_length_in.number + (length or 0)
        if end > rear.number + 1:
            yield (
                "size.rear_from_coupler_in",
                rear.number,
                f"at least the end of the deck ({end:,g} in = front + level deck + tail)",
            )


def _ramps(t: Trailer) -> Iterator[Contradiction]:
    for n, ramp in enumerate(t.ramp, 1):
        yield from _order(
            f"ramp[{n}].rating_each_lb", ramp.rating_each_lb, f"ramp[{n}].rating_pair_lb", ramp.rating_pair_lb, "lb"
        )
        if ramp.stand_gap_in is not None and not ramp.stands:
            says = f"left out, because ramp[{n}].stands is not true"
            yield f"ramp[{n}].stand_gap_in", ramp.stand_gap_in.number, says


def truck_contradictions(t: Truck) -> Iterator[Contradiction]:
    """What cannot be true of one truck."""
    r, w = t.ratings, t.weights
    yield from _order("ratings.gvwr_lb", r.gvwr_lb, "ratings.gcwr_lb", r.gcwr_lb, "lb")
    yield from _order("weights.front_axle_lb", w.front_axle_lb, "ratings.front_gawr_lb", r.front_gawr_lb, "lb")
    yield from _order("weights.rear_axle_lb", w.rear_axle_lb, "ratings.rear_gawr_lb", r.rear_gawr_lb, "lb")
    if w.front_axle_lb and w.rear_axle_lb and r.gvwr_lb:
        empty = w.front_axle_lb.number + w.rear_axle_lb.number
        if empty > r.gvwr_lb.number:
            yield "ratings.gvwr_lb", r.gvwr_lb.number, f"at least the truck's own axle weights ({empty:,g} lb)"
    wheelbase = t.size.wheelbase_in
    for n, hitch in enumerate(t.hitch, 1):
        ahead = hitch.ahead_of_rear_axle_in
        name = f"hitch[{n}].ahead_of_rear_axle_in"
        if ahead and wheelbase and ahead.number >= wheelbase.number:
            yield name, ahead.number, f"less than size.wheelbase_in ({wheelbase.number:,g} in)"
        if ahead and hitch.kind in ("ball", "pintle") and ahead.number > 0:
            yield name, ahead.number, f"negative, because a {hitch.kind} hitch sits behind the rear axle"
        yield from _order(
            f"hitch[{n}].vertical_rating_lb",
            hitch.vertical_rating_lb,
            f"hitch[{n}].gross_rating_lb",
            hitch.gross_rating_lb,
            "lb",
        )


def cargo_contradictions(c: Cargo) -> Iterator[Contradiction]:
    """What cannot be true of one piece of cargo."""
    length = c.length_in
    if c.cg_from_front_in and length and not 0 <= c.cg_from_front_in.number <= length.number:
        yield "cg_from_front_in", c.cg_from_front_in.number, f"inside the piece, 0 to {length.number:,g} in"
    yield from _order("cg_height_in", c.cg_height_in, "height_in", c.height_in, "in")
    if c.kind == "machine" and c.pieces:
        yield "pieces", {}, 'left out, because kind is "machine"'
    if c.contact:
        yield from _contact(c)
    if c.pieces:
        yield from _pieces(c)


def _contact(c: Cargo) -> Iterator[Contradiction]:
    contact, length = c.contact, c.length_in
    yield from _order("contact.outer_width_in", contact.outer_width_in, "width_in", c.width_in, "in")
    yield from _order("contact.each_width_in", contact.each_width_in, "width over all", contact.outer_width_in, "in")
    before: Value | None = None
    for n, at in enumerate(contact.axles_from_front_in, 1):
        name = f"contact.axles_from_front_in[{n}]"
        if at and length and not 0 <= at.number <= length.number:
            yield name, at.number, f"inside the machine, 0 to {length.number:,g} in"
        if at and before and at.number <= before.number:
            yield name, at.number, f"more than the axle ahead of it ({before.number:,g} in): front first"
        before = at or before
    axles, radii = len(contact.axles_from_front_in), len(contact.wheel_radius_in)
    if radii and radii != axles:
        says = f"one for each of the {axles} in contact.axles_from_front_in, or left out"
        yield "contact.wheel_radius_in", radii, says
    if contact.drive and contact.kind not in ("wheels", "drums"):
        yield "contact.drive", contact.drive, f"left out, because contact.kind is {contact.kind}"
    if contact.kind in ("wheels", "drums") and contact.start_from_front_in:
        yield (
            "contact.start_from_front_in",
            contact.start_from_front_in.number,
            f"left out, because contact.kind is {contact.kind}: give axles_from_front_in",
        )
    if contact.kind in ("tracks", "flat") and contact.axles_from_front_in:
        yield (
            "contact.axles_from_front_in",
            len(contact.axles_from_front_in),
            f"left out, because contact.kind is {contact.kind}: give start_from_front_in and length_in",
        )
    start, bears = contact.start_from_front_in, contact.length_in
    if start and bears and length and not 0 <= start.number <= start.number + bears.number <= length.number:
        end = start.number + bears.number
        yield (
            "contact.length_in",
            bears.number,
            f"such that the contact (now {start.number:,g} to {end:,g} in) stays inside 0 to {length.number:,g} in",
        )


def _pieces(c: Cargo) -> Iterator[Contradiction]:
    if c.pieces.on_top >= c.pieces.count:
        yield "pieces.on_top", c.pieces.on_top, f"less than pieces.count ({c.pieces.count})"
    for name in ("weight_lb", "length_in"):
        if getattr(c, name) and getattr(c.pieces, name):
            yield name, getattr(c, name).number, f"left out, because pieces.{name} gives it"


def haul_contradictions(h: Haul) -> Iterator[Contradiction]:
    """What cannot be true of one haul."""
    if h.front_restoration and not h.weight_distribution:
        yield (
            "front_restoration",
            h.front_restoration.number,
            "left out, or weight_distribution must be true: only a weight-distributing hitch returns load",
        )
    for n, load in enumerate(h.cargo, 1):
        if not isinstance(load.piece, str) and load.facing == "rear-first" and not load.piece.either_way:
            yield f"cargo[{n}].facing", load.facing, "front-first, because the piece may not travel either way round"


def kit_contradictions(k: Kit) -> Iterator[Contradiction]:
    """What cannot be true of one kit."""
    seen: dict[str, str] = {}
    for kind, members in (("gear", k.gear), ("binder", k.binder)):
        for n, member in enumerate(members, 1):
            if member.id in seen:
                yield f"{kind}[{n}].id", member.id, f"used once, and {seen[member.id]} has it too"
            seen.setdefault(member.id, f"{kind}[{n}]")
    for n, gear in enumerate(k.gear, 1):
        if gear.kind == "strap" and gear.grade:
            yield f"gear[{n}].grade", gear.grade, "left out, because a strap has none"
        if gear.kind == "chain" and gear.tightener_wll_lb:
            yield (
                f"gear[{n}].tightener_wll_lb",
                gear.tightener_wll_lb.number,
                "left out, because a chain is drawn tight by one of the [[binder]]",
            )
        yield from _order(f"gear[{n}].tension_lb", gear.tension_lb, "gear.wll_lb", gear.wll_lb, "lb")
    for n, binder in enumerate(k.binder, 1):
        smallest, largest = binder.chain_min_in, binder.chain_max_in
        yield from _order(f"binder[{n}].chain_min_in", smallest, f"binder[{n}].chain_max_in", largest, "in")
