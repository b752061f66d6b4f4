"""Lines of deck, anchors, frame, ramps, lamps and marking, and what is last before a unit leaves."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator

from rubrail.answers.checklist_front import number
from rubrail.answers.checklist_parts import Line
from rubrail.answers.receive_ratings import guard_excluded
from rubrail.quantity.value import Value
from rubrail.rules.guard import LOW_CHASSIS_MM, MM_PER_IN, WHEELS_BACK_MM, guard_required
from rubrail.rules.lamps import Lamp, marked_length_in, required_lamps
from rubrail.things.trailer import Trailer

MARKING = "red and white marking"
WOOD = ("pine", "oak", "apitong", "rubber-infused plank")
ROUND_IT = ("front", "sides, front", "sides, near the middle", "sides, rear", "rear")
"""Places of lamps in the order one walks round the trailer; marking, measured along it, is last."""


def deck_lines(t: Trailer) -> Iterator[Line]:
    """The floor by what it is laid with, and the edge."""
    material = t.frame.deck_material or ""
    yield Line(
        "floor", "floor", "deck", facts={"material": material, "wood": material in WOOD},
        missing=() if material else ("what the deck is laid with",),
    )  # fmt: skip
    if t.deck.kind == "between-fenders":
        yield Line("fenders", "fenders", "deck", facts={"drive_over": bool(t.deck.drive_over_fenders)}, holds=False)


def anchor_lines(t: Trailer) -> Iterator[Line]:
    """Places to tie to, counted by kind."""
    counts = Counter({})
    for a in t.anchor:
        counts[a.kind] += 2 if a.both_sides else 1
    ratings = [float(a.wll_lb) for a in t.anchor if a.wll_lb is not None]
    facts = {"kinds": [[kind, n] for kind, n in counts.items()], "least_lb": min(ratings) if ratings else None}
    missing = []
    if not t.anchor:
        missing.append("which places to tie to it has")
    elif len(ratings) < len(t.anchor):
        missing.append("working load limit of every place")
    yield Line("anchors", "anchors", "anchors", facts=facts, missing=tuple(missing), sources=("CFR-49-393.104",))


def frame_lines(t: Trailer) -> Iterator[Line]:
    """Welds, beams and crossmembers, springs or torsion axles, paint."""
    f = t.frame
    facts = {"spacing_in": number(f.crossmember_spacing_in), "build": f.build or "", "neck": t.coupling.kind in
             ("gooseneck", "kingpin")}  # fmt: skip
    yield Line("welds", "welds", "frame", facts=facts)
    kind = t.suspension.kind or ""
    yield Line(
        "suspension", "suspension", "frame", facts={"kind": kind, "axles": len(t.axle)},
        missing=() if kind or len(t.axle) == 1 else ("how the axles hang",),
    )  # fmt: skip
    yield Line("wiring", "wiring", "frame")
    yield Line("paint", "paint", "frame", facts={"color": t.color or ""}, holds=False)


def ramp_lines(t: Trailer) -> Iterator[Line]:
    """Each set of ramps, and a tail that moves."""
    for n, ramp in enumerate(t.ramp, 1):
        pair, each = number(ramp.rating_pair_lb), number(ramp.rating_each_lb)
        facts = {
            "set": n if len(t.ramp) > 1 else 0,
            "kind": ramp.kind,
            "count": ramp.count,
            "assist": ramp.assist or "",
            "stands": bool(ramp.stands),
            "rating_lb": pair if pair is not None else each,
            "of": "pair" if pair is not None else "each",
        }
        missing = () if facts["rating_lb"] is not None else ("rating of the ramps",)
        yield Line(f"ramps-{n}", "ramps", "ramps", facts=facts, missing=missing, sources=("RAMP-RATING",))
    if t.deck.tail_kind in ("lowering", "tilt"):
        yield Line("tail", "tail", "ramps", facts={"kind": t.deck.tail_kind})
    yield from _guard(t)


def _guard(t: Trailer) -> Iterator[Line]:
    """A rear guard, where this unit needs one or where that must be measured."""
    required = float(guard_required(gvwr_lb=_number(t.ratings.gvwr_lb), excluded=guard_excluded(t)))
    if required == 0:
        return
    facts = {"sure": required == 1, "low_in": LOW_CHASSIS_MM / MM_PER_IN, "back_in": WHEELS_BACK_MM / MM_PER_IN}
    missing = () if required == 1 else ("whether it needs a rear guard",)
    yield Line(
        "guard", "guard", "ramps", facts=facts, missing=missing, optional=required != 1,
        sources=("CFR-49-571.224", "NHTSA-GUARD"),
    )  # fmt: skip


def lamp_lines(t: Trailer) -> Iterator[Line]:
    """One line for each lamp the rules ask of this size, and the marking measured on each side."""
    width, length, gvwr = _number(t.size.width_in), trailer_length_in(t), _number(t.ratings.gvwr_lb)
    year = math.nan if t.year is None else float(t.year)
    unknown = _unknown(width, length, gvwr, year)
    lamps = required_lamps(width_in=width, length_in=length, gvwr_lb=gvwr, built_year=year)
    for lamp in sorted(lamps, key=_on_the_way):
        facts = {"item": lamp.item, "count": lamp.count, "color": lamp.color, "place": lamp.place, "sure": lamp.sure}
        missing = () if lamp.sure else unknown
        key = "lamp-" + lamp.item.replace(" ", "-")
        if lamp.item == MARKING:
            least = float(marked_length_in(length_in=length))
            yield Line(
                key, "marking", "lamps", entry="numbers", places=("left side", "right side"), unit="length",
                least=_known(least), facts={**facts, "least_in": _known(least)}, missing=missing,
                optional=not lamp.sure, sources=(lamp.source, "NHTSA-8816"),
            )  # fmt: skip
        else:
            yield Line(
                key, "lamp", "lamps", facts=facts, missing=missing, optional=not lamp.sure, sources=(lamp.source,)
            )


def _on_the_way(lamp: Lamp) -> int:
    found = [n for n, place in enumerate(ROUND_IT) if lamp.place == place or lamp.place.startswith(f"{place},")]
    return found[0] if found else len(ROUND_IT)


def trailer_length_in(t: Trailer) -> float:
    """Overall length, front of the trailer to its rearmost part; ``nan`` where not known. [in]"""
    rear, front = _number(t.size.rear_from_coupler_in), _number(t.size.front_from_coupler_in)
    return rear - front


def _unknown(width: float, length: float, gvwr: float, year: float) -> tuple[str, ...]:
    named = (("overall width", width), ("overall length", length), ("GVWR", gvwr), ("year it was built", year))
    return tuple(w for w, v in named if math.isnan(v))


def last_lines(t: Trailer) -> Iterator[Line]:
    """What is last: weight where nobody weighed it, loose parts, and the keys."""
    empty = t.weights.empty_lb
    if empty is None or empty.basis != "weighed":
        facts = {"empty_lb": number(empty), "basis": empty.basis if empty else ""}
        yield Line("weighed", "weighed", "last", facts=facts, holds=False, sources=("CARGO-CAPACITY-RULE",))
    yield Line(
        "loose", "loose parts", "last", facts={"listed": [e.says or e.tag.replace("-", " ") for e in t.equipment]}
    )


def _number(value: Value | None) -> float:
    return math.nan if value is None else float(value)


def _known(value: float) -> float | None:
    return None if math.isnan(value) else value
