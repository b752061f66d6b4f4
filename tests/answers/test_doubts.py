"""What holds a haul back: the counts are those that filling the input in, or making it exact, really changes."""

from __future__ import annotations

from importlib.resources import files

import pytest

from rubrail.answers.board import match
from rubrail.answers.doubts import doubts
from rubrail.quantity.value import Value
from rubrail.things.folder import load_yard, resolve
from rubrail.things.haul import Haul

YARD = load_yard(files("rubrail.demo") / "yard")
TRAILERS = tuple(YARD.trailers.values())


def haul(name: str) -> Haul:
    return resolve(YARD.hauls[name], YARD)


def verdicts(h: Haul) -> dict[str, str]:
    return {c.trailer: c.verdict for c in match(haul=h, trailers=TRAILERS).candidates}


def with_truck(h: Haul, **parts) -> Haul:
    truck = h.truck.model_copy(update={k: getattr(h.truck, k).model_copy(update=v) for k, v in parts.items()})
    return h.model_copy(update={"truck": truck})


def test_a_missing_rating_holds_back_the_units_that_are_not_known_for_it():
    # The older dual's rear axle rating cannot be read (the yard's haul 11).
    h = haul("11-worn-door-label")
    first = doubts(haul=h, trailers=TRAILERS).doubts[0]
    assert (first.need.name, first.missing) == ("truck_rear_gawr_lb", True)
    before = verdicts(h)
    after = verdicts(with_truck(h, ratings={"rear_gawr_lb": Value(9_000.0, "label", 0.0)}))
    settled = {unit for unit, word in before.items() if word == "not known" and after[unit] != "not known"}
    assert settled
    assert first.holds == first.alone == len(settled)


def test_a_license_nobody_asked_for_is_found():
    h = haul("15-tractor-tall-truck")
    first = doubts(haul=h, trailers=TRAILERS).doubts[0]
    assert (first.need.name, first.missing) == ("license_held", True)
    before, after = verdicts(h), verdicts(h.model_copy(update={"license_held": "A"}))
    settled = {unit for unit, word in before.items() if word == "not known" and after[unit] != "not known"}
    assert first.alone == len(settled) > 0


def test_a_guessed_weight_holds_back_the_units_it_leaves_in_doubt():
    # Nobody has weighed the backhoe (the yard's haul 12): 15,500 lb typical, 10 % either way.
    h = haul("12-backhoe-of-unknown-weight")
    first = doubts(haul=h, trailers=TRAILERS).doubts[0]
    assert (first.need.name, first.missing) == ("item_weight_lb", False)
    assert first.blurs == pytest.approx(1_550.0)
    load = h.cargo[0]
    known = load.piece.model_copy(update={"weight_lb": Value(15_500.0, "weighed", 0.0)})
    sure = h.model_copy(update={"cargo": (load.model_copy(update={"piece": known}),)})
    before, after = verdicts(h), verdicts(sure)
    settled = {unit for unit, word in before.items() if word == "depends" and after[unit] == "clear"}
    assert settled
    assert first.alone == len(settled)


def test_several_alike_are_one_thing_to_find_out():
    found = doubts(haul=haul("13-scissor-lifts"), trailers=TRAILERS)
    wheres = [d.need.where for d in found.doubts]
    assert len(wheres) == len(set(wheres))
    assert "weight_lb of cargo scissor-lift-19" in wheres


def test_a_unit_that_is_itself_unknown_is_not_the_hauls_fault():
    # The yard's units SH-163 and SH-141 lack a figure of their own; no haul fills it in.
    h = haul("10-weight-distribution")
    unknown = [unit for unit, word in verdicts(h).items() if word == "not known"]
    assert unknown
    assert not [d for d in doubts(haul=h, trailers=TRAILERS).doubts if d.missing]


def test_an_empty_yard_holds_nothing_back():
    assert doubts(haul=haul("02-midi-excavator-for-hire"), trailers=()).units == 0


@pytest.mark.parametrize("name", sorted(YARD.hauls))
def test_ranked_and_within_the_yard(name: str):
    found = doubts(haul=haul(name), trailers=TRAILERS)
    holds = [d.holds for d in found.doubts]
    assert holds == sorted(holds, reverse=True)
    assert all(0 < d.holds <= found.open <= found.units == len(TRAILERS) for d in found.doubts)
    assert all(d.alone <= d.holds for d in found.doubts)
    undecided = [w for w in verdicts(haul(name)).values() if w in ("depends", "not known")]
    assert found.open <= len(undecided)
