"""How each public fact of a unit is read: one function a fact, ``None`` where it is not known or does not apply."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from rubrail.answers.loading_slope import loading_slopes, steepest
from rubrail.checks.engine import Evaluation
from rubrail.quantity.value import Value
from rubrail.sheets.paper.facts import plain, said, sixteenths, tape
from rubrail.sheets.sentences_amounts import amount, feet, listed
from rubrail.things.rig_loading import way_kind, way_ramp

if TYPE_CHECKING:
    from rubrail.answers.reading import Reading
    from rubrail.sheets.listing_price import PriceShown
    from rubrail.things.trailer import Anchor, Trailer

COUPLED = {"ball": "bumper-pull", "gooseneck": "gooseneck", "kingpin": "kingpin", "pintle": "pintle"}
DECKED = {"deck-over": "deck-over trailer", "between-fenders": "low-deck trailer"}
STANDS = {
    "in-stock": "in the yard",
    "held": "held for a buyer",
    "on-order": "expected; its figures are what was ordered, and its label is read when it comes",
    "sold": "sold",
    "retired": "no longer for sale",
}
NUMBERS = ("no", "one", "two", "three", "four", "five", "six")
RECKONED = "reckoned"


@dataclass(frozen=True, slots=True)
class Asked:
    """What the facts are read from."""

    trailer: Trailer
    reading: Reading
    price: PriceShown | None
    yard: str
    vin: str
    warranty: Mapping[str, str]
    metric: bool


@dataclass(frozen=True, slots=True)
class Told:
    """A fact as read: value, unit, basis, words."""

    value: float | Decimal | str | None
    unit: str
    basis: str
    text: str


def _words(text: str | None) -> Told | None:
    return Told(text, "", "", text) if text else None


def _value(it: Asked, value: Value | None, unit: str) -> Told | None:
    if value is None or math.isnan(float(value)):
        return None
    return Told(float(value), unit, value.basis, said(value, unit, metric=it.metric))


def _tape(it: Asked, value: Value | None) -> Told | None:
    if value is None:
        return None
    told = tape(value, metric=it.metric)
    return Told(float(value), "in", value.basis, told if value.basis == "label" else f"{told} ({value.basis})")


def _reckoned(it: Asked, value: float, unit: str) -> Told | None:
    return None if not math.isfinite(value) else Told(value, unit, RECKONED, amount(value, unit, metric=it.metric))


def _figure(it: Asked, name: str) -> float:
    return next((f.value_lb for f in it.reading.decoding.figures if f.name == name), math.nan)


def stock(it: Asked) -> Told | None:
    """The yard's own number."""
    return _words(it.trailer.id)


def yard(it: Asked) -> Told | None:
    """Name of the yard."""
    return _words(it.yard)


def standing(it: Asked) -> Told | None:
    """Where it stands in its life on the lot, never which row."""
    return _words(STANDS[it.trailer.status])


def title(it: Asked) -> Told | None:
    """What the yard calls it."""
    return _words(it.trailer.title)


def type(it: Asked) -> Told | None:
    """Coupling and deck in the trade's words."""
    return _words(type_words(it.trailer))


def type_words(t: Trailer) -> str:
    """Coupling and deck in the trade's words."""
    deck = DECKED.get(t.deck.kind or "", "trailer")
    if t.deck.tail_kind == "tilt":
        deck = f"tilt-{deck}" if deck == "trailer" else f"tilting {deck}"
    return f"{COUPLED[t.coupling.kind]} {deck}"


def year(it: Asked) -> Told | None:
    """Model year."""
    return _words(str(it.trailer.year) if it.trailer.year else None)


def maker(it: Asked) -> Told | None:
    """Who built it."""
    return _words(it.trailer.maker)


def model(it: Asked) -> Told | None:
    """The maker's model."""
    return _words(it.trailer.model)


def condition(it: Asked) -> Told | None:
    """New or used."""
    return _words(it.trailer.condition)


def color(it: Asked) -> Told | None:
    """Color."""
    return _words(it.trailer.color)


def vin(it: Asked) -> Told | None:
    """As much of the VIN as goes out."""
    whole = it.trailer.vin or ""
    if it.vin == "none":
        return None
    return _words(whole if it.vin == "whole" else f"…{whole[-8:]}" if len(whole) > 8 else None)


def gvwr(it: Asked) -> Told | None:
    """Rating on the label."""
    return _value(it, it.trailer.ratings.gvwr_lb, "lb")


def axle_count(it: Asked) -> Told | None:
    """How many axles, in words."""
    count = len(it.trailer.axle)
    return Told(float(count), "", "", f"{NUMBERS[count]} {'axle' if count == 1 else 'axles'}")


def axles(it: Asked) -> Told | None:
    """How many axles, and what each is rated for."""
    each = [a.gawr_lb for a in it.trailer.axle]
    if any(a is None for a in each):
        return None
    texts = Counter(said(a, "lb", metric=it.metric) for a in each)
    count = NUMBERS[len(each)]
    if len(texts) == 1:
        rated = next(iter(texts))
        return _words(f"{count} axles, {rated} each" if len(each) > 1 else f"one axle, {rated}")
    return _words(f"{count} axles: {listed([f'{n} × {text}' for text, n in texts.items()])}")


def axle_sum(it: Asked) -> Told | None:
    """Axle ratings added up."""
    return _reckoned(it, _figure(it, "axles"), "lb")


def empty(it: Asked) -> Told | None:
    """Empty weight."""
    return _value(it, it.trailer.weights.empty_lb, "lb")


def payload(it: Asked) -> Told | None:
    """The trailer alone at its best place; not known as long as a rating that may cut it is not."""
    return _reckoned(it, _figure(it, "payload-alone"), "lb")


def payload_place(it: Asked) -> Told | None:
    """Where that load balances, behind the front of the deck."""
    envelope = it.reading.envelope
    if payload(it) is None or envelope is None or not math.isfinite(envelope.best_x_in):
        return None
    at = envelope.best_x_in - envelope.deck_front_x_in
    return Told(at, "in", RECKONED, feet(at, metric=it.metric))


def payload_label(it: Asked) -> Told | None:
    """Label GVWR less empty weight."""
    return _reckoned(it, _figure(it, "payload-label"), "lb")


def length(it: Asked) -> Told | None:
    """Level deck and tail together."""
    whole = deck_length_in(it.trailer)
    if whole is None:
        return None
    return Told(whole, "in", it.trailer.deck.flat_length_in.basis, feet(whole, metric=it.metric))


def deck_length_in(t: Trailer) -> float | None:
    """Level deck and tail together, ``None`` where either is not known. [in]"""
    flat, tail = t.deck.flat_length_in, t.deck.tail_length_in
    if flat is None or t.deck.tail_kind is None or (tail is None and t.deck.tail_kind in ("fixed", "lowering")):
        return None
    return float(flat) + (float(tail) if tail is not None else 0.0)


def deck_parts(it: Asked) -> Told | None:
    """Level deck and tail, each by itself."""
    d = it.trailer.deck
    if length(it) is None or d.tail_length_in is None or not float(d.tail_length_in):
        return None
    does = {"lowering": " that lowers"}.get(d.tail_kind or "", "")
    level, tail = (tape(v, metric=it.metric) for v in (d.flat_length_in, d.tail_length_in))
    return _words(f"{level} level and {tail} of tail{does}")


def width(it: Asked) -> Told | None:
    """Width of the deck."""
    return _tape(it, it.trailer.deck.width_in)


def between_fenders(it: Asked) -> Told | None:
    """Clear width between the fenders."""
    return _tape(it, it.trailer.deck.between_fenders_in) if it.trailer.deck.kind == "between-fenders" else None


def deck_height(it: Asked) -> Told | None:
    """Ground to the top of the level deck; added up from the build where nobody measured it and the build is known."""
    known = _value(it, it.trailer.deck.height_in, "in")
    if known is not None:
        return known
    built = float(it.reading.columns["deck_height_in"][0, 0, 0])
    if math.isnan(built):
        return None
    return Told(built, "in", "estimated", f"{amount(built, 'in', metric=it.metric)} (estimated from the build)")


def overall_width(it: Asked) -> Told | None:
    """Overall width."""
    return _value(it, it.trailer.size.width_in, "in")


def floor(it: Asked) -> Told | None:
    """What the deck is laid with."""
    return _words(it.trailer.frame.deck_material)


def crossmembers(it: Asked) -> Told | None:
    """Their spacing."""
    spacing = it.trailer.frame.crossmember_spacing_in
    told = _value(it, spacing, "in")
    return told and Told(told.value, "in", told.basis, f"every {told.text}")


def tires(it: Asked) -> Told | None:
    """How many, size and load range."""
    found = Counter()
    for a in it.trailer.axle:
        if a.tires.count is None or not a.tires.size:
            return None
        found[" ".join(filter(None, (a.tires.size, a.tires.load_range and f"range {a.tires.load_range}")))] += (
            a.tires.count
        )
    return _words(listed([f"{n} × {what}" for what, n in found.items()]))


def tire_pressure(it: Asked) -> Told | None:
    """Pressure they are run at, one for all."""
    each = [a.tires.pressure_psi for a in it.trailer.axle]
    if any(p is None for p in each) or len({float(p) for p in each}) > 1:
        return None
    return Told(float(each[0]), "psi", each[0].basis, plain(each[0], "psi", metric=it.metric))


def tire_load(it: Asked) -> Told | None:
    """All tires together, at that pressure."""
    columns = it.reading.columns
    present = columns["axle_present"][:, 0, 0, 0] > 0
    each = Evaluation(columns).value("axle_tires_lb").reshape(len(present), -1)[present, 0]
    return _reckoned(it, float(each.sum()), "lb")


def brakes(it: Asked) -> Told | None:
    """Kind, and on how many axles."""
    kinds = [a.brakes for a in it.trailer.axle]
    if None in kinds:
        return None
    braked = [k for k in kinds if k != "none"]
    if not braked:
        return _words("none")
    all_of_them = len(braked) == len(kinds)
    where = " on every axle" if all_of_them else f" on {NUMBERS[len(braked)]} of {NUMBERS[len(kinds)]} axles"
    where = "" if len(kinds) == 1 else where
    return _words(f"{listed(sorted(set(braked)))}{where}")


def suspension(it: Asked) -> Told | None:
    """How the axles hang."""
    return _words(
        {"equalized": "springs with an equalizer", "independent": "torsion, each axle by itself"}.get(
            it.trailer.suspension.kind or ""
        )
    )


def coupling(it: Asked) -> Told | None:
    """Kind and size."""
    c = it.trailer.coupling
    size = f"{sixteenths(float(c.ball_size_in))} " if c.ball_size_in is not None else ""
    kind = {
        "ball": "ball coupler",
        "gooseneck": "gooseneck ball coupler",
        "kingpin": "kingpin",
        "pintle": "pintle eye",
    }
    return _words(f"{size}{kind[c.kind]}")


def coupler_rating(it: Asked) -> Told | None:
    """Loaded trailer the coupler is rated for."""
    return _value(it, it.trailer.coupling.gross_rating_lb, "lb")


def coupler_height(it: Asked) -> Told | None:
    """Ground to the coupling point."""
    c = it.trailer.coupling
    if c.height_min_in is not None and c.height_max_in is not None:
        low, high = (tape(v, metric=it.metric) for v in (c.height_min_in, c.height_max_in))
        return _words(low if low == high else f"{low} to {high}")
    return _value(it, c.height_in, "in")


def plug(it: Asked) -> Told | None:
    """Lighting and brake plug."""
    return _words(it.trailer.plug)


def breakaway(it: Asked) -> Told | None:
    """Breakaway device."""
    return _words({True: "fitted", False: "none"}.get(it.trailer.breakaway))


def jack(it: Asked) -> Told | None:
    """Kind and rating."""
    j = it.trailer.jack
    if not j.kind:
        return None
    count = f"{NUMBERS[j.count]} × " if j.count and j.count > 1 else ""
    rated = f", {said(j.rating_lb, 'lb', metric=it.metric)}" if j.rating_lb is not None else ""
    return _words(f"{count}{j.kind}{rated}")


def leads_up(t: Trailer) -> bool:
    """Whether a machine drives onto it at all, as far as anybody said."""
    return way_kind(t) != "none"


def ramps(it: Asked) -> Told | None:
    """What one drives on by."""
    t = it.trailer
    told = []
    if way_kind(t) == "tilt":
        told.append("the deck tilts")
    elif way_kind(t) == "tail":
        told.append("the tail lowers")
    for ramp in t.ramp:
        long = f", {tape(ramp.length_in, metric=it.metric)} long" if ramp.length_in is not None else ""
        told.append(f"{ramp.count} {ramp.kind} ramp{'s' if ramp.count > 1 else ''}{long}")
    if not told and way_kind(t) == "none":
        return _words("none")
    return _words("; ".join(told))


def ramp_angle(it: Asked) -> Told | None:
    """Steepest stretch of the way up, trailer and ground level."""
    slope = steepest(loading_slopes(it.trailer))
    if slope is None or math.isnan(slope.slope_rad):
        return None
    return Told(slope.degrees, "deg", RECKONED, f"{slope.degrees:.1f}° ({slope.percent:.0f} %)")


def ramp_rating(it: Asked) -> Told | None:
    """Load the ramps are rated for."""
    ramp = way_ramp(it.trailer)
    if ramp is None:
        return None
    if ramp.rating_pair_lb is not None:
        told = _value(it, ramp.rating_pair_lb, "lb")
        return told and Told(told.value, "lb", told.basis, f"{told.text} the pair")
    told = _value(it, ramp.rating_each_lb, "lb")
    each = " each" if ramp.count > 1 else ""
    return told and Told(told.value, "lb", told.basis, f"{told.text}{each}")


def anchors(it: Asked) -> Told | None:
    """How many of each kind, and their working load limit."""
    counts = Counter()
    for a in it.trailer.anchor:
        counts[a.kind] += 2 if a.both_sides else 1
    told = [
        f"{n} {kind}{'s' if n > 1 else ''}, {_limits([a for a in it.trailer.anchor if a.kind == kind], it.metric)}"
        for kind, n in counts.items()
    ]
    return _words("; ".join(told))


def _limits(some: list[Anchor], metric: bool) -> str:
    known = sorted({float(a.wll_lb) for a in some if a.wll_lb is not None})
    if not known or any(a.wll_lb is None for a in some):
        return "working load limit not known of all" if known else "working load limit not known"
    return " to ".join(amount(v, "lb", metric=metric) for v in dict.fromkeys((known[0], known[-1]))) + " each"


def equipment(it: Asked) -> Told | None:
    """Tagged features."""
    return _words("; ".join(f"{e.count} × {e.says or e.tag}" if e.count > 1 else e.says or e.tag
                            for e in it.trailer.equipment))  # fmt: skip


def price(it: Asked) -> Told | None:
    """What of the price may be shown."""
    return it.price and Told(it.price.usd, "USD", "", it.price.text)


def price_basis(it: Asked) -> Told | None:
    """What the price is for."""
    shown = it.price is not None and it.price.usd is not None
    return _words("the trailer as described, with what is listed as fitted, picked up at the yard" if shown else None)


def price_without(it: Asked) -> Told | None:
    """Fees and taxes that are added."""
    return _words(listed(it.price.without)) if it.price is not None else None


def excise(it: Asked) -> Told | None:
    """Whether federal excise tax is due."""
    return _words(it.price.excise) if it.price is not None else None


def warranty(it: Asked) -> Told | None:
    """The yard's words for this condition."""
    return _words(it.warranty.get(it.trailer.condition or ""))
