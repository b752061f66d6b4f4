"""The haul file's table of a page's texts, and the page's texts of a stored haul."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from rubrail.desk.bases import OWN, Base
from rubrail.desk.quick import (
    Plan,
    is_typical,
    limit_specs,
    piece_specs,
    shown,
    truck_specs,
    unlike_ids,
    written_over,
)
from rubrail.desk.typed import US, accepted_in, measures_sent, number_text, with_unit
from rubrail.quantity.parse import EXAMPLES, UnreadableError, parse_quantity

PAYLOAD = "truck:payload"
MORE_ABOARD = {"truck:cab": ("more in the cab", 0.4), "truck:bed": ("more in the bed", 1.0)}
"""Extra weight aboard by field: its words, and its place as a share of the wheelbase behind the front axle."""
PLACE_SPREAD_IN = 12.0
FLAGS = {"yes": True, "no": False}


@dataclass
class Built:
    """A haul file's table, and what the page must know to put faults beside its fields.

    faults : field to sentence, for what only the page asks; hitches : file's number of each hitch by the page's.
    """

    table: dict[str, Any]
    faults: dict[str, str] = field(default_factory=dict)
    hitches: list[int] = field(default_factory=list)


def texts_of(spec: Mapping[str, Any], plan: Plan, *, measures: str) -> dict[str, str]:
    """A stored haul as the page writes it."""
    texts = shown(plan.truck, truck_specs(plan.truck), "truck.", measures=measures)
    texts |= shown(plan.limits, limit_specs(), "limits.", measures=measures)
    for n, (load, base) in enumerate(zip(spec.get("cargo", ()), plan.pieces, strict=True)):
        texts |= shown(base, piece_specs(base, n), f"piece.{n}.", measures=measures)
        texts |= {f"piece.{n}:count": str(load.get("count", 1)), f"piece.{n}:facing": load.get("facing", "either")}
    for name in ("use", "license_held", "notes"):
        texts[name] = spec.get(name, "")
    texts["interstate"] = {True: "yes", False: "no"}.get(spec.get("interstate"), "")
    texts["weight_distribution"] = "yes" if spec.get("weight_distribution") else ""
    texts["roads"] = "; ".join(spec.get("roads", ()))
    if "front_restoration" in spec:
        texts["front_restoration"] = number_text(spec["front_restoration"]["value"], "", measures)
    return {name: text for name, text in texts.items() if text}


def table_of(texts: Mapping[str, str], plan: Plan, *, stored: Mapping[str, Any]) -> Built:
    """The haul file's table that the page's texts stand for.

    Parameters
    ----------
    texts : mapping
        Field to text, for the bases of ``plan``.
    plan : Plan
        What truck, pieces and limits begin from.
    stored : mapping
        The haul as it is stored; empty for a new one.
    """
    built = Built({k: v for k, v in stored.items() if k in ("schema", "id", "gap_in")})
    table = built.table
    table.setdefault("id", "haul")
    if texts.get("title"):
        table["title"] = texts["title"]
    table["truck"] = _truck(texts, plan.truck, built, stored.get("truck", {}) if plan.truck.key == OWN else {})
    table["cargo"] = _cargo(texts, plan.pieces)
    table["limits"] = _limits(texts, plan.limits)
    for name in ("use", "license_held", "notes"):
        if texts.get(name):
            table[name] = texts[name]
    if texts.get("interstate") in FLAGS:
        table["interstate"] = FLAGS[texts["interstate"]]
    distributes = texts.get("weight_distribution") == "yes"
    if distributes or "weight_distribution" in stored:
        table["weight_distribution"] = distributes
    if texts.get("front_restoration"):
        table["front_restoration"] = _restoration(texts["front_restoration"], stored.get("front_restoration"))
    roads = [road.strip() for road in texts.get("roads", "").split(";") if road.strip()]
    if roads or "roads" in stored:
        table["roads"] = roads
    return built


def _restoration(text: str, kept: Mapping[str, Any] | None) -> Mapping[str, Any]:
    if kept and text == number_text(kept["value"], "", US):
        return kept
    return {"value": text, "basis": "estimated"}


def _truck(texts: Mapping[str, str], base: Base, built: Built, stored: Mapping[str, Any]) -> dict[str, Any]:
    truck = written_over(base, truck_specs(base), texts)
    truck.setdefault("id", "truck")
    built.hitches = [n for n, _ in enumerate(truck.get("hitch", ())) if texts.get(f"truck.hitch.{n}:has")]
    kept = [truck["hitch"][n] for n in built.hitches]
    # No hitch ticked says that nobody looked; only a truck that was without any stays without.
    if kept or stored.get("hitch") == []:
        truck["hitch"] = kept
    else:
        truck.pop("hitch", None)
    _empty_by_placard(truck, texts, built)
    _more_aboard(truck, texts)
    return truck


def _empty_by_placard(truck: dict[str, Any], texts: Mapping[str, str], built: Built) -> None:
    """Empty axle weights from the placard's load, where nobody weighed the axles.

    The placard of tires and loading states GVWR less the weight the truck left the factory with; how that weight
    divides among the axles is taken from the class.
    """
    text, measures = texts.get(PAYLOAD, ""), measures_sent(texts)
    if not text:
        return
    try:
        load = parse_quantity(with_unit(text, "lb", measures), "lb")
    except UnreadableError as reason:
        such = accepted_in(f"a weight such as {EXAMPLES['weight']}", measures)
        built.faults[PAYLOAD] = f'Must be {such}, not "{text[:40]}". It {reason}.'
        return
    rating, weights = truck.get("ratings", {}).get("gvwr_lb"), truck.get("weights", {})
    names = ("front_axle_lb", "rear_axle_lb")
    if rating is None or is_typical(rating):
        built.faults[PAYLOAD] = "Needs the GVWR from the same door frame beside it."
        return
    if not all(name in weights for name in names):
        built.faults[PAYLOAD] = "Needs a class to say how the weight divides among the axles, or the axle weights."
        return
    if not all(is_typical(weights[name]) for name in names):
        built.faults[PAYLOAD] = "Must be left out where the axle weights are known: they say it better."
        return
    try:
        empty = parse_quantity(str(rating["value"]), "lb") - load
    except UnreadableError:
        return
    parts = [float(weights[name]["value"]) for name in names]
    if empty <= 0:
        built.faults[PAYLOAD] = "Must be less than the GVWR."
        return
    for name, part in zip(names, parts, strict=True):
        weights[name] = {"value": round(empty * part / sum(parts)), "basis": "estimated"}


def _more_aboard(truck: dict[str, Any], texts: Mapping[str, str]) -> None:
    for name, (says, share) in MORE_ABOARD.items():
        if not texts.get(name):
            continue
        weight = with_unit(texts[name], "lb", measures_sent(texts))
        member: dict[str, Any] = {"says": says, "weight_lb": {"value": weight, "basis": "estimated"}}
        wheelbase = truck.get("size", {}).get("wheelbase_in")
        if wheelbase is not None:
            try:
                place = round(share * parse_quantity(str(wheelbase["value"]), "in"))
            except UnreadableError:
                place = None
            if place is not None:
                member["behind_front_axle_in"] = {
                    "value": place, "basis": "estimated", "plus_minus": PLACE_SPREAD_IN
                }  # fmt: skip
        truck["gear"] = [*truck.get("gear", ()), member]


def _cargo(texts: Mapping[str, str], bases: tuple[Base, ...]) -> list[dict[str, Any]]:
    pieces = [written_over(base, piece_specs(base, n), texts) for n, base in enumerate(bases)]
    ids = unlike_ids([str(p.get("id", f"piece-{n}")) for n, p in enumerate(pieces, 1)])
    loads = []
    for n, (piece, name) in enumerate(zip(pieces, ids, strict=True)):
        count = texts.get(f"piece.{n}:count", "") or "1"
        load = {"piece": piece | {"id": name}, "count": int(count) if count.isdecimal() else count}
        facing = texts.get(f"piece.{n}:facing", "")
        loads.append(load | ({"facing": facing} if facing else {}))
    return loads


def _limits(texts: Mapping[str, str], base: Base) -> dict[str, Any]:
    limits = written_over(base, limit_specs(), texts)
    given = {name.removeprefix("limits.") for name in limit_specs() if texts.get(name)}
    if "no_limit" in limits:
        limits["no_limit"] = [name for name in limits["no_limit"] if name not in given]
    return limits
