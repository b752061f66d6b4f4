"""What units of a yard are compared on, and how it is read from what is stored of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from rubrail.answers.differs import Cell, Trait
from rubrail.checks.loads_tires import axle_tire_load_lb, axle_tires_lb
from rubrail.things.names import CODES
from rubrail.things.pack import MOST_AXLES

LOW, HIGH = ("low", "lower"), ("high", "higher")
LIGHT, HEAVY = ("light", "lighter"), ("heavy", "heavier")
SHORT, LONG = ("short", "shorter"), ("long", "longer")
NARROW, WIDE = ("narrow", "narrower"), ("wide", "wider")
LITTLE, MUCH = ("little", "less"), ("much", "more")
FEW, MANY = ("few", "fewer"), ("many", "more")

TRAITS = (
    Trait("payload", "carries, trailer alone at its best place", "lb", 250, LITTLE, MUCH),
    Trait("deck_height", "deck height", "in", 0.5, LOW, HIGH),
    Trait("deck_length", "deck, tail included", "in", 6, SHORT, LONG),
    Trait("deck_width", "deck width", "in", 1, NARROW, WIDE),
    Trait("gvwr", "label GVWR", "lb", 250, LOW, HIGH),
    Trait("empty", "empty weight", "lb", 150, LIGHT, HEAVY),
    Trait("axles", "axle ratings added up", "lb", 250, LOW, HIGH),
    Trait("tires", "tires beyond the axle ratings", "%", 2, LITTLE, MUCH),
    Trait("coupler", "coupler rated for a loaded trailer of", "lb", 500, LOW, HIGH),
    Trait("spacing", "crossmembers on center", "in", 1, ("close", "closer"), ("wide", "wider")),
    Trait("anchors", "places to tie to", "", 2, FEW, MANY),
    Trait("ramp_length", "ramp length", "in", 6, SHORT, LONG),
    Trait("price", "price", "USD", 200, LOW, HIGH),
    Trait("price_per_lb", "price for what it carries", "USD/lb", 0.02, LOW, HIGH),
    Trait("ramps", "ramps"),
    Trait("tail", "tail"),
    Trait("wheels", "wheels"),
    Trait("suspension", "suspension"),
    Trait("brakes", "brakes"),
    Trait("build", "frame"),
    Trait("floor", "deck laid with"),
    Trait("side_rail", "side rail"),
    Trait("rub_rail", "rub rail"),
    Trait("jack", "jack"),
    Trait("plug", "plug"),
    Trait("condition", "condition"),
)

_TAILS = {"none": "no tail", "fixed": "a fixed tail", "lowering": "a lowering tail", "tilt": "a deck that tilts"}
_HANGS = {"equalized": "springs with an equalizer", "independent": "independent (torsion) axles"}
_BUILDS = {"pierced": "crossmembers through the main beams", "stacked": "crossmembers on the main beams"}


def traits_of(specs: Sequence[Mapping[str, Any]]) -> list[dict[str, Cell]]:
    """What is stored of units in ``spec``, as they are compared on it; price and payload are not in it."""
    return [
        {**_own(spec), "tires": None if np.isnan(reserve) else float(reserve)}
        for spec, reserve in zip(specs, _tire_reserves(specs), strict=True)
    ]


def priced(price: float | None, payload: float | None) -> dict[str, Cell]:
    """What units are compared on beside their ``spec``: price in dollars, payload in pounds, and one for the other."""
    ratio = price / payload if price is not None and payload else None
    return {"price": price, "payload": payload, "price_per_lb": ratio}


def _own(spec: Mapping[str, Any]) -> dict[str, Cell]:
    deck, frame, axles, ramps = (spec.get(n) or {} for n in ("deck", "frame", "axle", "ramp"))
    flat, tail = _number(deck, "flat_length_in"), _number(deck, "tail_length_in")
    tail = 0.0 if deck.get("tail_kind") == "none" else tail
    gawr = [_number(a, "gawr_lb") for a in axles]
    ramp = ramps[0] if ramps else {}
    return {
        "deck_height": _number(deck, "height_in"),
        "deck_length": None if flat is None or tail is None else flat + tail,
        "deck_width": _number(deck, "width_in"),
        "gvwr": _number(spec.get("ratings") or {}, "gvwr_lb"),
        "empty": _number(spec.get("weights") or {}, "empty_lb"),
        "axles": None if None in gawr else sum(g for g in gawr if g is not None),
        "coupler": _number(spec.get("coupling") or {}, "gross_rating_lb"),
        "spacing": _number(frame, "crossmember_spacing_in"),
        "anchors": _anchors(spec),
        "ramp_length": _number(ramp, "length_in"),
        "ramps": " and ".join(sorted({r["kind"] for r in ramps})) or None,
        "tail": _TAILS.get(deck.get("tail_kind", "")),
        "wheels": _wheels(axles),
        "suspension": _HANGS.get((spec.get("suspension") or {}).get("kind", "")),
        "brakes": _brakes(axles),
        "build": _BUILDS.get(frame.get("build", "")),
        "floor": frame.get("deck_material"),
        "side_rail": frame.get("side_rail"),
        "rub_rail": None if frame.get("rub_rail") is None else "rub rail" if frame["rub_rail"] else "no rub rail",
        "jack": (spec.get("jack") or {}).get("kind"),
        "plug": spec.get("plug"),
        "condition": spec.get("condition"),
    }


def _number(part: Mapping[str, Any], name: str) -> float | None:
    stored = part.get(name)
    return None if stored is None else float(stored["value"])


def _anchors(spec: Mapping[str, Any]) -> float | None:
    """Places to tie to, both sides counted; a list nobody filled says nothing."""
    anchors = spec.get("anchor") or ()
    return float(sum(2 if a.get("both_sides") else 1 for a in anchors)) if anchors else None


def _brakes(axles: Sequence[Mapping[str, Any]]) -> str | None:
    kinds = [a.get("brakes") for a in axles]
    if None in kinds or not kinds:
        return None
    braked = [k for k in kinds if k != "none"]
    if not braked:
        return "none"
    named = " and ".join(sorted(set(braked)))
    return named if len(braked) == len(kinds) else f"{named} on {len(braked)} of {len(kinds)} axles"


def _wheels(axles: Sequence[Mapping[str, Any]]) -> str | None:
    counts = {(a.get("tires") or {}).get("count") for a in axles}
    return {2: "single wheels", 4: "dual wheels"}.get(counts.pop()) if len(counts) == 1 else None


def _tire_reserves(specs: Sequence[Mapping[str, Any]]) -> np.ndarray:
    """What the tires carry at their pressure beyond the rating of their axle, in percent, on the axle with least."""
    columns = {
        n: np.full((MOST_AXLES, len(specs)), np.nan) for n in ("count", "load", "most", "run", "family", "gawr")
    }
    present = np.zeros((MOST_AXLES, len(specs)))
    for u, spec in enumerate(specs):
        for n, axle in enumerate((spec.get("axle") or ())[:MOST_AXLES]):
            tires = axle.get("tires") or {}
            present[n, u] = 1
            dual = tires.get("count") == 4
            for name, value in (
                ("count", tires.get("count")),
                ("load", _number(tires, "max_load_dual_lb" if dual else "max_load_lb")),
                ("most", _number(tires, "max_pressure_psi")),
                ("run", _number(tires, "pressure_psi")),
                ("family", CODES["tire_family"].index(tires["family"]) if "family" in tires else None),
                ("gawr", _number(axle, "gawr_lb")),
            ):
                columns[name][n, u] = np.nan if value is None else value
    load = axle_tire_load_lb(
        axle_present=present,
        axle_tire_max_load_lb=columns["load"],
        axle_tire_max_pressure_psi=columns["most"],
        axle_tire_pressure_psi=columns["run"],
        axle_tire_family=columns["family"],
    )
    carried = axle_tires_lb(axle_present=present, axle_tire_count=columns["count"], axle_tire_load_lb=load)
    reserve = np.where(present > 0, (carried / columns["gawr"] - 1) * 100, np.inf)
    return reserve.min(axis=0, initial=np.inf) if len(specs) else np.empty(0)
