"""A match that asks for loading too: never a better verdict, the full climb's own word where it is over, in order."""

from __future__ import annotations

import math

import pytest

from rubrail.answers.board import match
from rubrail.answers.climb import climb_on
from rubrail.answers.climb_setup import Day
from rubrail.answers.match_loaded import with_loading
from rubrail.checks.verdict import WORDS
from rubrail.demo import YARD
from rubrail.things.folder import load_yard, resolve

FOUND = load_yard(YARD)
UNITS = tuple(FOUND.trailers.values())


@pytest.fixture(scope="module", params=["03-landscaper-track-loader", "13-scissor-lifts"])
def both(request):
    haul = resolve(FOUND.hauls[request.param], FOUND)
    road = match(haul=haul, trailers=UNITS)
    return haul, road, with_loading(road, haul=haul, trailers=UNITS)


def test_no_unit_gains_and_none_is_lost(both):
    _, road, loaded = both
    before = {c.trailer: c.verdict for c in road.candidates}
    assert {c.trailer for c in loaded.candidates} == set(before)
    for c in loaded.candidates:
        assert WORDS.index(c.verdict) <= WORDS.index(before[c.trailer])


def test_what_was_lowered_says_why_and_the_climb_agrees(both):
    haul, road, loaded = both
    before = {c.trailer: c for c in road.candidates}
    changed = [c for c in loaded.candidates if c.verdict != before[c.trailer].verdict]
    assert changed
    for c in changed:
        assert c.governing.title.startswith("driving up: ")
        full = climb_on(haul=haul, trailer=FOUND.trailers[c.trailer], placement=c.placement, remedies=False)
        if c.verdict == "over":
            assert full.verdict == "over"
            assert c.governing.check in {x.check for m in full.machines for x in m.lines if x.verdict == "over"}
        if c.verdict == "not known":
            assert c.governing.missing or math.isnan(c.governing.margin)


def test_the_better_verdict_stands_first(both):
    _, _, loaded = both
    codes = [WORDS.index(c.verdict) for c in loaded.candidates]
    assert codes == sorted(codes, reverse=True)


def test_a_wet_day_is_no_better():
    haul = resolve(FOUND.hauls["13-scissor-lifts"], FOUND)
    road = match(haul=haul, trailers=UNITS)
    dry, wet = (with_loading(road, haul=haul, trailers=UNITS, day=Day(surface=s)) for s in ("dry", "wet"))
    assert wet.count("clear") <= dry.count("clear")


def test_nothing_that_drives_changes_nothing():
    haul = resolve(FOUND.hauls["05-hay-round-bales"], FOUND)
    road = match(haul=haul, trailers=UNITS)
    assert [c.verdict for c in with_loading(road, haul=haul, trailers=UNITS).candidates] == [
        c.verdict for c in road.candidates
    ]
