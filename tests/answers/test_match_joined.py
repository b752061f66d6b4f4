"""One rig asked whole is what a match says of it: road, driving up and tying down, and each of them is told."""

from __future__ import annotations

import pytest

from rubrail.answers.board import match
from rubrail.answers.height import built_columns
from rubrail.answers.match_joined import joined_match, joined_weighing, joined_words
from rubrail.answers.rig import at_placement, rigs
from rubrail.answers.weigh import weighing
from rubrail.checks.judge import judge
from rubrail.checks.verdict import WORDS
from rubrail.demo import YARD
from rubrail.quantity.value import Value
from rubrail.sheets.sentences import weighing_sentence
from rubrail.things.folder import load_yard, resolve

FOUND = load_yard(YARD)
UNITS = tuple(FOUND.trailers.values())
JOB = resolve(FOUND.hauls["03-landscaper-track-loader"], FOUND)


@pytest.fixture(scope="module")
def matched():
    road = match(haul=JOB, trailers=UNITS)
    return road, joined_match(road, haul=JOB, trailers=UNITS, kit=FOUND.kit)


def whole(trailer, placement, kit=FOUND.kit):
    one = rigs(haul=JOB, trailers=(trailer,))
    columns = at_placement(one, placement)
    return joined_weighing(one, weighing(one, columns, placement, judge(columns)), placement, kit=kit)


def test_one_rig_asked_whole_is_what_the_match_says(matched):
    road, joined = matched
    before = {c.trailer: c for c in road.candidates}
    standing = [c for c in joined.candidates if before[c.trailer].verdict != "over"]
    lowered = [c for c in standing if c.verdict != before[c.trailer].verdict]
    assert lowered
    for c in (*lowered, *standing[:3]):
        found = whole(FOUND.trailers[c.trailer], c.placement)
        assert (c.trailer, found.verdict) == (c.trailer, c.verdict)
        told = [x.title for x in found.lines if x.title.startswith(("driving up: ", "tying it down: "))]
        if c in lowered:
            assert found.governing.title in told
            assert found.governing.title in weighing_sentence(found, tried=False) or c.verdict == "not known"


def test_words_alone_are_those_of_the_match(matched):
    joined = {c.trailer: c.verdict for c in matched[1].candidates}
    some = UNITS[::3]
    words = joined_words(haul=JOB, trailers=some, of_trailers=built_columns(some), kit=FOUND.kit)
    assert dict(zip((t.id for t in some), words, strict=True)) == {t.id: joined[t.id] for t in some}


def test_all_that_fails_is_told_and_an_unknown_is_no_pass(matched):
    best = next(c for c in matched[1].candidates if c.trailer == "SH-133")
    trailer = FOUND.trailers[best.trailer]
    assert best.verdict == "depends"
    short = trailer.model_copy(
        update={
            # Its tail is 19 in high: ramps of 22 in are a slope of 60 degrees.
            "ramp": tuple(r.model_copy(update={"length_in": Value(22.0, "measured")}) for r in trailer.ramp),
            # 49 CFR 393.130(b): a machine of 10,000 lb and more takes at least four tie-downs; here are two places.
            "anchor": tuple(a.model_copy(update={"both_sides": True}) for a in trailer.anchor[:1]),
        }
    )
    found = whole(short, best.placement)
    over = [x.title for x in found.lines if x.verdict == "over"]
    assert found.verdict == "over"
    assert any(t.startswith("driving up: ") for t in over)
    assert "tying it down: number and strength of its anchors" in over
    bare = whole(trailer.model_copy(update={"anchor": ()}), best.placement)
    assert bare.verdict == "not known"
    assert weighing_sentence(bare, tried=False).startswith("Not known whether ")
    untied = whole(trailer.model_copy(update={"anchor": ()}), best.placement, kit=None)
    assert untied.verdict == "depends", "nothing is said of tying down where the yard has no gear on file"
    assert WORDS.index(bare.verdict) < WORDS.index(untied.verdict)
