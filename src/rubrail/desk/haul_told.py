"""A stored haul as its page tells it: in a sentence, the figures that decide first, the rest behind them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from rubrail.desk.drawings import NARROW_PX, PAPER_PX, WIDE_PX
from rubrail.desk.facts import PIECE, TRUCK, Fact, FactGroup, fact_of, facts_of, tables_of
from rubrail.desk.hauls import called, in_short
from rubrail.desk.quick import USES
from rubrail.desk.quick_words import HITCH_WORDS, LICENSES
from rubrail.desk.spec_fields import field_at
from rubrail.desk.stock import leaves
from rubrail.sheets.drawing.haul_view import haul_side
from rubrail.sheets.sentences_amounts import listed
from rubrail.things.cargo import Cargo
from rubrail.things.haul import Haul
from rubrail.things.truck import Truck

FIRST_OF_TRUCK = (
    ("Door label", ("ratings.gvwr_lb", "ratings.front_gawr_lb", "ratings.rear_gawr_lb")),
    ("Empty", ("weights.front_axle_lb", "weights.rear_axle_lb")),
    ("To tow with", ("ratings.gcwr_lb", "brake_controller", "plug")),
)
SIZES = ("length_in", "width_in", "height_in")
FIRST_OF_MACHINE = (("Weight", ("weight_lb", "cg_from_front_in", "cg_height_in")), ("As carried", SIZES))
FIRST_OF_BULK = (
    ("One of them", ("pieces.weight_lb", "pieces.length_in", "pieces.width_in", "pieces.height_in")),
    ("The block", ("pieces.count", "pieces.abreast", "pieces.layers", "pieces.on_top")),
)
FACES = {
    "either": "May face either way",
    "front-first": "Front toward the truck",
    "rear-first": "Rear toward the truck",
}


def job_in_words(spec: Mapping[str, Any]) -> str:
    """One sentence: what goes behind what."""
    short = in_short(spec)
    cargo = listed(list(short.cargo)) if short.cargo else "nothing yet"
    return f"{cargo[:1].upper()}{cargo[1:]}, behind {short.truck or 'a truck nobody has described'}."


def told(spec: Mapping[str, Any]) -> dict[str, Any]:
    """Truck, pieces and job as the page lists them."""
    truck = spec.get("truck", {})
    return {
        "truck_title": called(truck),
        "truck_short": [*_groups(Truck, truck, FIRST_OF_TRUCK), *_hitches(truck)],
        "truck_rest": facts_of(truck, of=TRUCK),
        "truck_tables": tables_of(truck, of=TRUCK),
        "pieces": [_piece(load) for load in spec.get("cargo", ())],
        "job_facts": list(_job(spec)),
    }


def _groups(
    model: type[Truck] | type[Cargo], table: Mapping[str, Any], groups: Iterable[tuple[str, tuple[str, ...]]]
) -> list[FactGroup]:
    known = dict(leaves(table))
    return [
        FactGroup(title, tuple(fact_of(field_at(model, p), known.get(p)) for p in paths)) for title, paths in groups
    ]


def _hitches(truck: Mapping[str, Any]) -> list[FactGroup]:
    """Each hitch by its ratings; where nobody has said what hitches there are, that."""
    if "hitch" not in truck:
        return [FactGroup("Hitches", (Fact("Hitches", "hitches of the truck"),))]
    known, groups = dict(leaves(truck)), []
    for n, hitch in enumerate(truck["hitch"]):
        paths = [f"hitch.{n}.{name}" for name in ("ball_size_in", "gross_rating_lb", "vertical_rating_lb")]
        facts = tuple(fact_of(field_at(Truck, path), known.get(path)) for path in paths)
        groups.append(FactGroup(HITCH_WORDS[hitch["kind"]], facts))
    return groups or [FactGroup("Hitches", (Fact("Hitches", "hitches of the truck", words="none"),))]


def _piece(load: Mapping[str, Any]) -> dict[str, Any]:
    piece = load["piece"]
    return {
        "title": called(piece),
        "count": load.get("count", 1),
        "facing": FACES[load.get("facing", "either")],
        "attachments": piece.get("attachments", ()),
        "groups": _groups(Cargo, piece, FIRST_OF_BULK if piece.get("kind") == "bulk" else FIRST_OF_MACHINE),
        "rest": facts_of(piece, of=PIECE),
    }


def _job(spec: Mapping[str, Any]) -> Iterable[Fact]:
    words = {"use": dict(USES), "license_held": dict(LICENSES)}
    labels = {"use": "Use", "license_held": "License", "interstate": "Crosses a state line"}
    for name, label in labels.items():
        fact = fact_of(field_at(Haul, name), spec.get(name))
        yield replace(fact, label=label, words=words.get(name, {}).get(fact.words, fact.words) if fact.words else "")
    distributing = "yes" if spec.get("weight_distribution") else "no"
    yield Fact("Weight-distributing hitch", "whether one is used", words=distributing)
    if "front_restoration" in spec:
        yield replace(fact_of(field_at(Haul, "front_restoration"), spec["front_restoration"]), label="It returns")
    yield Fact("Limits of the road", "whose limits", words=called(spec.get("limits", {})))
    for name, label in (("roads", "Roads"), ("notes", "Notes")):
        if spec.get(name):
            yield replace(fact_of(field_at(Haul, name), spec[name]), label=label)


def drawing(haul: Haul, *, metric: bool) -> dict[str, SafeString]:
    """Truck and cargo to scale, for a wide page, a narrow one and paper."""
    cargo = [(load.piece, load.count) for load in haul.cargo]
    widths = {"wide": WIDE_PX, "narrow": NARROW_PX, "paper": PAPER_PX}
    # The drawing escapes what it letters.
    return {n: mark_safe(haul_side(haul.truck, cargo, width_px=w, metric=metric)) for n, w in widths.items()}
