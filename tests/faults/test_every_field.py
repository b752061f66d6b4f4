"""Every measured field of every file reads the ends of its range, and refuses what is beyond or of another kind."""

from __future__ import annotations

import re

import pytest

from rubrail.things.door import KINDS, read_thing
from rubrail.things.faults import Fault, Faults
from rubrail.things.fields import fields_of
from rubrail.things.part import Thing

FIELDS = [(kind, f) for kind, model in KINDS.items() for f in fields_of(model) if f.measure]
IDS = [f"{kind} {f.path}" for kind, f in FIELDS]
BARE = {
    "trailer": {"id": "t", "coupling": {"kind": "gooseneck"}, "axle": [{}]},
    "truck": {"id": "t"},
    "cargo": {"id": "c"},
    "haul": {"id": "h", "truck": "t", "weight_distribution": True},
    "limits": {"id": "l"},
    "catalog": {
        "id": "c", "maker": "m", "effective": "2026-03-14",
        "model": [{
            "id": "m", "price_usd": 1, "coupling": {"kind": "ball"}, "ratings": {"gvwr_lb": 14000},
            "weights": {"empty_lb": 3000, "empty_coupler_lb": 300},
            "axle": [{"gawr_lb": 7000, "from_coupler_in": 180}],
            "deck": {"front_from_coupler_in": 60, "flat_length_in": 200},
        }],
    },
    "rates": {"id": "r", "effective": "2026-03-14"},
    "kit": {"id": "k"},
    "ticket": {"id": "t", "scale": [{"id": "s", "kind": "platform"}]},
    "listing": {"id": "l", "headline": ["{length}"]},
    "checks": {"id": "c"},
}
NEEDED = {
    "ramp": {"kind": "gate"},
    "anchor": {"kind": "D-ring"},
    "hitch": {"kind": "gooseneck"},
    "gear": {"says": "x"},
    "binder": {"id": "b", "kind": "lever"},
    "equipment": {"tag": "x"},
    "contact": {"kind": "flat"},
    "pieces": {"count": 1},
    "option": {"id": "o", "title": "x", "price_usd": 1},
    "adds": {"weight_lb": 1, "from_coupler_in": 1},
    "tax": {"id": "t", "title": "x", "rate_percent": 1, "trade_in": "after", "federal_excise": False},
    "fee": {"kind": "delivery", "title": "x", "amount_usd": 1},
    "curtailment": {"day": 1, "share_percent": 1},
    "scale": {"id": "s", "kind": "platform"},
    "weighing": {"state": "trailer"},
    "aboard": {"says": "x"},
    "reading": {"on": ["axles"]},
    "terms": {"rate_percent": 1, "months": 1},
}
OWN = {("trailer", "tax"): {}, ("kit", "gear"): {"id": "g", "kind": "chain"}}
"""What a list needs in one kind of file where another kind has a list of the same name."""


LISTED = ("axles_from_front_in", "wheel_radius_in")
"""Fields that are lists of measures."""


def read(kind: str, path: str, value: object) -> Thing:
    """A thing with one field set and nothing else."""
    table = {**BARE[kind]}
    here = table
    *steps, last = path.removesuffix("[]").split(".")
    for step in steps:
        key, listed = step.removesuffix("[]"), step.endswith("[]")
        needed = OWN.get((kind, key), NEEDED.get(key, {}))
        inner = {**needed, **({"kind": "gooseneck"} if key == "coupling" else {})}
        here[key] = [inner] if listed else inner
        here = inner
    if ".aboard" in path:
        table["weighing"][0]["state"] = "hitched"
    if path.startswith("pieces."):
        table["kind"] = "bulk"
    here[last] = [value] if path.endswith(LISTED) else value
    if path.startswith("contact.") and path.endswith(LISTED):
        here["kind"] = "wheels"
        here.setdefault("axles_from_front_in", [40])
    return read_thing(KINDS[kind], table)


ANOTHER_RULE = r"must be left out|inside|negative|more than 0"
"""An end of a range may contradict another rule of the thing; it is in range all the same."""


def told_of(kind: str, path: str, value: object) -> tuple[Fault, ...]:
    """Faults of a thing with one field set; none where it reads."""
    try:
        read(kind, path, value)
    except Faults as told:
        return told.faults
    return ()


def name(path: str) -> str:
    """The field as a fault names it."""
    named = path.replace("[]", "[1]")
    return named + "[1]" if path.endswith(LISTED) else named


@pytest.mark.parametrize(("kind", "field"), FIELDS, ids=IDS)
def test_bounds(kind, field):
    m = field.measure
    for value in (m.low, m.high):
        assert all(re.search(ANOTHER_RULE, f.sentence) for f in told_of(kind, field.path, value))
    for value in (m.low - 0.001 - abs(m.low) * 1e-6, m.high * 1.001 + 0.001):
        with pytest.raises(Faults) as told:
            read(kind, field.path, value)
        fault = told.value.faults[0]
        assert (fault.field, fault.accepted, fault.value) == (name(field.path), m.accepted, value)


@pytest.mark.parametrize(("kind", "field"), FIELDS, ids=IDS)
def test_nonsense(kind, field):
    for value in ("12 fortnights", "80 blorps", True, float("nan"), {}, [[]], "1/0 in"):
        assert [f.field for f in told_of(kind, field.path, value)] == [name(field.path)], value


@pytest.mark.parametrize(("kind", "field"), FIELDS, ids=IDS)
def test_another_dimension(kind, field):
    other = "30 lb" if field.unit != "lb" else "30 in"
    with pytest.raises(Faults, match="is wanted"):
        read(kind, field.path, other)


@pytest.mark.parametrize(("kind", "field"), FIELDS, ids=IDS)
def test_unknown_stays_unknown(kind, field):
    unknown = read(kind, field.path, "not known")
    assert unknown is not None
