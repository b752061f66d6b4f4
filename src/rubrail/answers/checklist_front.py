"""Lines of the label, the coupling, chains, breakaway, plug and jack."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rubrail.answers.checklist_parts import Line
from rubrail.quantity.value import Value
from rubrail.rules.brakes import BREAKAWAY_PARTIAL_FROM_AXLES, FEDERAL_EXEMPT_LB
from rubrail.rules.tables import figure
from rubrail.things.trailer import Trailer

HOLD_MIN = figure("brakes", "breakaway_hold_min")
PLACARD_TO_LB = figure("checks", "placard_to_lb")
RELABEL_SHARE, RELABEL_LB = figure("labels", "relabel_share_of_gvwr"), figure("labels", "relabel_lb")
BATTERY_VOLTS = figure("checks", "battery_least_volts")


def number(value: Value | None) -> float | None:
    """A value's number; nothing where it is not known."""
    return None if value is None else float(value)


def label_lines(t: Trailer) -> Iterator[Line]:
    """VIN, ratings as the label says them, and a photo of it."""
    yield Line(
        "vin", "vin", "label", entry="text", facts={"wanted": t.vin or ""}, sources=("CFR-49-565",),
        missing=() if t.vin else ("the unit's VIN",),
    )  # fmt: skip
    ratings = [("GVWR", number(t.ratings.gvwr_lb)), *((f"axle {n}", number(a.gawr_lb)) for n, a in _axles(t))]
    missing = tuple(f"{name} rating" for name, value in ratings if value is None)
    yield Line(
        "ratings", "ratings", "label", entry="numbers", places=tuple(name for name, _ in ratings), unit="lb",
        exact=tuple(value for _, value in ratings) if not missing else (), missing=missing,
        sources=("LABEL-GVWR", "LABEL-GAWR"),
    )  # fmt: skip
    yield from _placard(t)
    yield Line("label-photo", "label photo", "label", entry="photo")
    yield Line("papers", "papers", "label", facts={"new": t.condition != "used"})


def _placard(t: Trailer) -> Iterator[Line]:
    """The placard of tires and loading, where the unit is light enough to need one."""
    gvwr, empty = number(t.ratings.gvwr_lb), t.weights.empty_lb
    if gvwr is not None and gvwr > PLACARD_TO_LB:
        return
    facts = {
        "gvwr_lb": gvwr, "empty_lb": number(empty), "basis": empty.basis if empty else "", "to_lb": PLACARD_TO_LB,
        "slack_lb": None if gvwr is None else min(RELABEL_SHARE * gvwr, RELABEL_LB),
    }  # fmt: skip
    named = (("GVWR", gvwr), ("empty weight", facts["empty_lb"]))
    yield Line(
        "placard", "placard", "label", entry="numbers", places=("cargo it allows",), unit="lb", facts=facts,
        missing=tuple(w for w, v in named if v is None), optional=gvwr is None or t.condition == "used",
        sources=("CFR-49-571.110", "CARGO-CAPACITY-RULE"),
    )  # fmt: skip


def coupling_lines(t: Trailer) -> Iterator[Line]:
    """The coupling itself, its lock, and its stamp against the label."""
    c, gvwr = t.coupling, number(t.ratings.gvwr_lb)
    rated, ball = number(c.gross_rating_lb), number(c.ball_size_in)
    short = ""
    if rated is not None and gvwr is not None and rated < gvwr:
        short = f"the coupling is rated for {rated:,.0f} lb and the label says {gvwr:,.0f} lb"
    missing = tuple(
        w for w, v in (("coupling rating", rated), ("ball or eye size", ball), ("GVWR", gvwr)) if v is None
    )
    facts = {"kind": c.kind, "ball_size_in": ball, "rated_lb": rated, "gvwr_lb": gvwr}
    yield Line(
        "coupling-stamp", "coupling stamp", "coupling", facts=facts, missing=missing, short=short,
        sources=("BALL-MATCH", "COUPLING-RATINGS"),
    )  # fmt: skip
    yield Line("coupling-lock", "coupling lock", "coupling", facts={"kind": c.kind})
    if c.kind in ("ball", "gooseneck", "pintle"):
        low, high = number(c.height_min_in), number(c.height_max_in)
        if low is not None and high is not None and high > low:
            facts = {"kind": c.kind, "low_in": low, "high_in": high}
            yield Line(
                "coupling-height", "coupling height", "coupling", entry="numbers", places=("height",), unit="in",
                least=low, most=high, facts=facts,
            )  # fmt: skip


def chain_lines(t: Trailer) -> Iterator[Line]:
    """Safety chains against the label, breakaway and its battery, the plug."""
    yield from _chains(t)
    yield from _breakaway(t)
    lamps = "not known" if t.plug is None else t.plug
    yield Line(
        "plug", "plug", "chains", facts={"plug": lamps}, missing=() if t.plug else ("which plug it has",),
        sources=("PLUG-MATCH",),
    )  # fmt: skip


def _chains(t: Trailer) -> Iterator[Line]:
    if t.coupling.kind == "kingpin":
        return
    chains, gvwr = t.chains, number(t.ratings.gvwr_lb)
    strength, count = number(chains.strength_lb), chains.count
    together = None if strength is None or count is None else strength * count
    short = ""
    if together is not None and gvwr is not None and together < gvwr:
        short = f"the chains together hold {together:,.0f} lb and the label says {gvwr:,.0f} lb"
    named = (("how many chains", count), ("strength of one chain", strength), ("GVWR", gvwr))
    facts = {
        "count": count, "strength_lb": strength, "together_lb": together, "gvwr_lb": gvwr,
        "size_in": number(chains.size_in), "grade": chains.grade or "",
    }  # fmt: skip
    yield Line(
        "chains", "chains", "chains", facts=facts, missing=tuple(w for w, v in named if v is None), short=short,
        sources=("CHAIN-GOOSENECK",) if t.coupling.kind == "gooseneck" else ("CHAIN-STRENGTH",),
    )  # fmt: skip
    yield Line("chain-hooks", "chain hooks", "chains")


def _breakaway(t: Trailer) -> Iterator[Line]:
    gvwr = number(t.ratings.gvwr_lb)
    braked = [a.brakes for a in t.axle]
    if all(b == "none" for b in braked) and not t.breakaway:
        if gvwr is not None and gvwr > FEDERAL_EXEMPT_LB:
            yield Line(
                "no-brakes", "no brakes", "chains", facts={"gvwr_lb": gvwr, "from_lb": FEDERAL_EXEMPT_LB},
                sources=("CFR-49-393.42", "BRAKES-STATES"),
            )  # fmt: skip
        return
    facts = {
        "fitted": t.breakaway,
        "hold_min": HOLD_MIN,
        "partial": len(t.axle) >= BREAKAWAY_PARTIAL_FROM_AXLES,
        "air": "air" in braked,
        "axles": len(t.axle),
    }
    missing = () if t.breakaway is not None else ("whether a breakaway device is fitted",)
    yield Line("breakaway", "breakaway", "chains", facts=facts, missing=missing, sources=("CFR-49-393.43",))
    if "electric" in braked or "electric-over-hydraulic" in braked:
        yield Line(
            "breakaway-battery", "battery", "chains", entry="numbers", places=("battery",), unit="V",
            least=BATTERY_VOLTS, sources=("BATTERY-VOLTS",),
        )  # fmt: skip
    if "air" in braked:
        yield Line("air-lines", "air lines", "chains", sources=("CFR-49-396-A", "CHECK-PRACTICE"))
    if set(braked) != {"air"}:
        yield Line("breakaway-cable", "breakaway cable", "chains")


def jack_lines(t: Trailer) -> Iterator[Line]:
    """The jack against what the empty coupler puts on it."""
    j, load = t.jack, number(t.weights.empty_coupler_lb)
    rated = number(j.rating_lb)
    both = None if rated is None else rated * (j.count or 1)
    short = ""
    if both is not None and load is not None and both < load:
        short = f"the jack is rated for {both:,.0f} lb and the empty trailer puts {load:,.0f} lb on it"
    named = (("rating of the jack", both), ("coupler load of the empty trailer", load))
    facts = {"kind": j.kind or "", "count": j.count or 1, "rated_lb": both, "load_lb": load}
    yield Line(
        "jack", "jack", "jack", facts=facts, missing=tuple(w for w, v in named if v is None), short=short,
        sources=("JACK-RATING",),
    )  # fmt: skip


def _axles(t: Trailer) -> Iterator[tuple[int, object]]:
    yield from enumerate(t.axle, 1)


def known(value: float | None) -> bool:
    """Whether a number is known."""
    return value is not None and not math.isnan(value)
