"""What a unit is, as rows of names and values for paper: only what is known, and what matters where it is not."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator

from rubrail.quantity.value import Value
from rubrail.sheets.paper.blocks import Facts
from rubrail.sheets.sentences_amounts import amount, feet, listed
from rubrail.sheets.sentences_words import begin
from rubrail.things.trailer import Anchor, Axle, Trailer

Row = tuple[str, str]
UNKNOWN = "not known"
READ = ("label",)
"""Bases that need no word: a rating read on the label is what the reader expects."""


def said(value: Value | None, unit: str, *, metric: bool = False) -> str:
    """A value with its unit and where it comes from; *not known* where it is not."""
    if value is None:
        return UNKNOWN
    number = amount(float(value), unit, metric=metric)
    return number if value.basis in READ else f"{number} ({value.basis})"


def plain(value: Value | None, unit: str, *, metric: bool = False) -> str:
    """A value with its unit alone, for figures set large."""
    return UNKNOWN if value is None else amount(float(value), unit, metric=metric)


def tape(value: Value | None, *, metric: bool = False) -> str:
    """A length as a tape reads it."""
    return UNKNOWN if value is None else feet(float(value), metric=metric)


def sixteenths(value_in: float) -> str:
    """Inches as a ball is stamped: ``2-5/16 in``; in decimals where it is no whole sixteenth."""
    if abs(value_in * 16 - round(value_in * 16)) > 0.08:
        return amount(value_in, "in")
    whole, part = divmod(round(value_in * 16), 16)
    if not part:
        return f"{whole} in"
    over = math.gcd(part, 16)
    fraction = f"{part // over}/{16 // over}"
    return f"{whole}-{fraction} in" if whole else f"{fraction} in"


def unit_facts(t: Trailer, *, metric: bool = False) -> tuple[Facts, ...]:
    """A unit in groups: what it is, ratings, running gear, coupling, deck, frame, loading and tying,
    warranty.

    Parameters
    ----------
    t : Trailer
    metric : bool
    """
    groups: Iterable[tuple[str, Callable[[Trailer, bool], Iterator[Row]]]] = (
        ("What it is", _what),
        ("Ratings and weights", _ratings),
        ("Running gear", _gear),
        ("Coupling", _coupling),
        ("Deck and frame", _deck),
        ("Loading and tying down", _loading),
        ("Warranty; its paper governs", _warranty),
    )
    return tuple(
        Facts(rows=tuple((name, value) for name, value in rows(t, metric) if value), heading=heading)
        for heading, rows in groups
    )


def _what(t: Trailer, metric: bool) -> Iterator[Row]:
    yield "Stock number", t.id
    yield "VIN", t.vin or UNKNOWN
    yield "Maker, model", ", ".join(filter(None, (t.maker, t.model))) or UNKNOWN
    yield "Year", str(t.year) if t.year else UNKNOWN
    yield "Condition", t.condition or ""
    yield "Color", t.color or ""


def _ratings(t: Trailer, metric: bool) -> Iterator[Row]:
    yield "Label GVWR", said(t.ratings.gvwr_lb, "lb", metric=metric)
    yield "Axle ratings (GAWR)", _together([said(a.gawr_lb, "lb", metric=metric) for a in t.axle])
    yield "Empty weight", said(t.weights.empty_lb, "lb", metric=metric)
    yield "Coupler load, empty", said(t.weights.empty_coupler_lb, "lb", metric=metric)
    gvwr, empty = t.ratings.gvwr_lb, t.weights.empty_lb
    if gvwr is not None and empty is not None:
        yield "Label less empty", amount(float(gvwr) - float(empty), "lb", metric=metric)


def _together(texts: list[str]) -> str:
    """Like members once: ``2 × 10,000 lb``."""
    return listed([f"{n} × {text}" if n > 1 else text for text, n in Counter(texts).items()])


def _once(texts: list[str]) -> str:
    """What all members have in common once; what differs, with its count."""
    return texts[0] if len(set(texts)) == 1 else _together(texts)


def _gear(t: Trailer, metric: bool) -> Iterator[Row]:
    tires = [_tires(a) for a in t.axle]
    many = len(tires) > 1 and len(set(tires)) == 1 and tires[0] != UNKNOWN
    yield "Tires", f"{tires[0]} on each axle" if many else _together(tires)
    each = [said(a.tires.max_load_lb, "lb", metric=metric) for a in t.axle]
    yield "One tire carries, single", _once(each)
    yield "Tire pressure, cold", _once([said(a.tires.max_pressure_psi, "psi", metric=metric) for a in t.axle])
    yield "Brakes", _once([a.brakes or UNKNOWN for a in t.axle])
    yield (
        "Suspension",
        {"equalized": "springs with equalizer", "independent": "torsion, each axle by itself"}.get(
            t.suspension.kind or "", UNKNOWN
        ),
    )
    yield "Axles behind the coupling", listed([tape(a.from_coupler_in, metric=metric) for a in t.axle])


def _tires(a: Axle) -> str:
    size = " ".join(filter(None, (a.tires.size, a.tires.load_range and f"range {a.tires.load_range}")))
    count = f"{a.tires.count} × " if a.tires.count else ""
    return f"{count}{size}" if size else UNKNOWN


def _coupling(t: Trailer, metric: bool) -> Iterator[Row]:
    c = t.coupling
    # Balls are called by their size in inches everywhere.
    ball = f", {sixteenths(float(c.ball_size_in))}" if c.ball_size_in is not None else ""
    yield "Coupling", f"{begin(c.kind)}{ball}"
    yield "Coupler rated gross", said(c.gross_rating_lb, "lb", metric=metric)
    yield "Coupler rated load", said(c.vertical_rating_lb, "lb", metric=metric)
    if c.height_min_in is not None and c.height_max_in is not None:
        yield "Coupler height", f"{tape(c.height_min_in, metric=metric)} to {tape(c.height_max_in, metric=metric)}"
    else:
        yield "Coupler height, level", said(c.height_in, "in", metric=metric)
    chains = t.chains
    if chains.count:
        yield "Safety chains", f"{chains.count} × {said(chains.strength_lb, 'lb', metric=metric)} to break"
    yield "Breakaway", {True: "fitted", False: "none"}.get(t.breakaway, UNKNOWN)
    yield "Plug", t.plug or UNKNOWN
    if t.jack.kind:
        yield (
            "Jack",
            " ".join(filter(None, (t.jack.kind, t.jack.rating_lb and said(t.jack.rating_lb, "lb", metric=metric)))),
        )


def _deck(t: Trailer, metric: bool) -> Iterator[Row]:
    d, f = t.deck, t.frame
    tail = f" + {tape(d.tail_length_in, metric=metric)} tail" if d.tail_length_in and float(d.tail_length_in) else ""
    yield "Deck length", f"{tape(d.flat_length_in, metric=metric)}{tail}"
    yield "Deck width", said(d.width_in, "in", metric=metric)
    if d.kind == "between-fenders":
        yield "Between the fenders", said(d.between_fenders_in, "in", metric=metric)
    yield "Deck height", said(d.height_in, "in", metric=metric)
    yield (
        "Tail",
        {"none": "none", "fixed": "fixed slope", "lowering": "lowers", "tilt": "the deck tilts"}.get(
            d.tail_kind or "", UNKNOWN
        ),
    )
    yield "Floor", f.deck_material or ""
    yield (
        "Crossmembers",
        f"every {said(f.crossmember_spacing_in, 'in', metric=metric)}" if f.crossmember_spacing_in else UNKNOWN,
    )
    yield (
        "Build",
        {"pierced": "crossmembers through the main beams", "stacked": "crossmembers on the main beams"}.get(
            f.build or "", ""
        ),
    )
    yield "Overall width", said(t.size.width_in, "in", metric=metric)


def _loading(t: Trailer, metric: bool) -> Iterator[Row]:
    for ramp in t.ramp:
        rating = ramp.rating_pair_lb if ramp.rating_pair_lb is not None else ramp.rating_each_lb
        which = "the pair" if ramp.rating_pair_lb is not None else "each"
        rated = f", {said(rating, 'lb', metric=metric)} {which}" if rating is not None else ", rating not known"
        yield "Ramps", f"{ramp.count} × {ramp.kind}, {tape(ramp.length_in, metric=metric)}{rated}"
    if not t.ramp:
        yield "Ramps", "none"
    for name, count in Counter(a.kind for a in t.anchor for _ in range(2 if a.both_sides else 1)).items():
        yield begin(name) + "s", f"{count}, {_wll([a for a in t.anchor if a.kind == name], metric)}"
    for e in t.equipment:
        yield begin(e.says or e.tag), f"{e.count}" if e.count > 1 else "fitted"


def _warranty(t: Trailer, metric: bool) -> Iterator[Row]:
    w = t.warranty
    parts = (
        ("Warranty", w.trailer_months), ("Frame warranty", w.frame_months), ("Axle warranty", w.axles_months),
        ("Tire warranty", w.tires_months), ("Finish warranty", w.finish_months),
    )  # fmt: skip
    for part, value in parts:
        if value is not None:
            yield part, said(value, "months") if float(value) else "none"


def _wll(anchors: list[Anchor], metric: bool) -> str:
    known = {float(a.wll_lb) for a in anchors if a.wll_lb is not None}
    if not known or (len(known) > 1 and any(math.isnan(k) for k in known)):
        return "working load not known"
    least, most = min(known), max(known)
    if any(a.wll_lb is None for a in anchors):
        return f"some of {amount(least, 'lb', metric=metric)}, some not known"
    if least == most:
        return f"{amount(least, 'lb', metric=metric)} each"
    return f"{amount(least, 'lb', metric=metric)} to {amount(most, 'lb', metric=metric)} each"
