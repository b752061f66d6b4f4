"""The quick answer for a whole yard says of each unit what a proposal of that unit says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from answers.tied import haul, kit, machine, ring, trailer
from rubrail.answers.board import match
from rubrail.answers.can_secure import Able, _searched, anchors_of_yard, can_secure, joined
from rubrail.answers.match_secured import with_securing
from rubrail.answers.rig import Placement
from rubrail.checks.verdict import WORDS
from rubrail.demo import YARD
from rubrail.things.folder import load_yard, resolve

FOUND = load_yard(YARD)
UNITS = tuple(FOUND.trailers.values())
AT = Placement((150.0,), ("front-first",))


def able(piece=None, on=None, gear=None) -> str:
    return can_secure(haul=haul(piece or machine()), trailers=[on or trailer()], placements=[AT],
                      kit=gear or kit())[0].verdict  # fmt: skip


def test_one_that_can_and_the_ways_one_cannot():
    assert able() == "clear"
    # Three rings a side of 2,500: six count 7,500; the bucket takes one: 6,250 of 6,000. Two a side cannot.
    assert able(on=trailer(anchors=[ring(x, wll=2500) for x in (110, 140, 300)])) == "clear"
    assert able(on=trailer(anchors=[ring(x, wll=2500) for x in (110, 300)])) == "over"
    assert able(gear=kit(chains=4, binders=4)) == "over"
    assert able(gear=kit(chains=8, binders=4)) == "over"


def test_what_is_not_known_is_never_clear():
    assert able(on=trailer(anchors=[])) == "not known"
    assert able(on=trailer(anchors=[ring(x, wll=None) for x in (100, 140, 300)])) == "not known"
    assert able(piece=machine(tie=[])) == "not known"
    assert able(piece=machine(weight_lb=None)) == "not known"
    assert able(gear=kit(hook_wll_lb=None)) == "not known"
    assert able(on=trailer(height_in="not known")) == "not known"


def test_a_weight_in_doubt_makes_it_depend():
    # Exactly 13,200 counted at 26,400 lb; rings for four and the bucket only.
    rings = [ring(x) for x in (110, 300)] + [ring(60, both=False)]
    sure, unsure = (machine(weight_lb={"value": 26400, "basis": b}) for b in ("label", "maker"))
    assert (able(sure, trailer(anchors=rings)), able(unsure, trailer(anchors=rings))) == ("clear", "depends")


@pytest.mark.parametrize("name", ["03-landscaper-track-loader", "04-three-machines", "08-large-telehandler"])
def test_the_quick_way_says_what_searching_says(name):
    job = resolve(FOUND.hauls[name], FOUND)
    places = {c.trailer: c.placement for c in match(haul=job, trailers=UNITS).candidates}
    some = UNITS[:: 4 if name.startswith("04") else 2]
    found = can_secure(haul=job, trailers=some, placements=[places[t.id] for t in some], kit=FOUND.kit)
    for unit, quick in zip(some, found, strict=True):
        code, _ = _searched(job, unit, places[unit.id], FOUND.kit)
        assert (unit.id, quick.verdict) == (unit.id, WORDS[code])
        assert (quick.says == "") == (quick.verdict == "clear")


def test_anchors_may_be_laid_out_before():
    laid = anchors_of_yard(UNITS)
    assert laid.there.sum() == sum(1 + (a.both_sides and float(a.y_in) != 0) for t in UNITS for a in t.anchor)
    job = resolve(FOUND.hauls["03-landscaper-track-loader"], FOUND)
    here = [replace(AT) for _ in UNITS]
    assert can_secure(haul=job, trailers=UNITS, placements=here, kit=FOUND.kit, anchors=laid) == can_secure(
        haul=job, trailers=UNITS, placements=here, kit=FOUND.kit
    )


@pytest.mark.parametrize(("road", "tied", "word"), [
    ("clear", "clear", "clear"), ("clear", "over", "over"), ("depends", "not known", "not known"),
    ("over", "clear", "over"), ("clear", "depends", "depends"),
])  # fmt: skip
def test_the_worse_of_the_two_counts(road, tied, word):
    assert joined(road, Able(tied, "")) == word


def test_the_match_is_lowered_and_ordered_anew():
    job = resolve(FOUND.hauls["03-landscaper-track-loader"], FOUND)
    before = match(haul=job, trailers=UNITS)
    after = with_securing(before, haul=job, trailers=UNITS, kit=FOUND.kit)
    assert {c.trailer for c in after.candidates} == {c.trailer for c in before.candidates}
    was = {c.trailer: c for c in before.candidates}
    for c in after.candidates:
        assert WORDS.index(c.verdict) <= WORDS.index(was[c.trailer].verdict)
        if c.verdict != was[c.trailer].verdict:
            assert c.governing.check == "can-secure"
            assert not c.unbeaten or c.verdict == "depends"
        else:
            assert c.governing == was[c.trailer].governing
    codes = [WORDS.index(c.verdict) for c in after.candidates]
    assert codes == sorted(codes, reverse=True)


def test_a_yard_of_bare_trailers_carries_and_cannot_hold():
    job = resolve(FOUND.hauls["03-landscaper-track-loader"], FOUND)
    bare = tuple(t.model_copy(update={"anchor": ()}) for t in UNITS)
    found = match(haul=job, trailers=bare)
    assert found.count("clear") + found.count("depends") > 0
    after = with_securing(found, haul=job, trailers=bare, kit=FOUND.kit)
    assert after.count("clear") + after.count("depends") == 0
