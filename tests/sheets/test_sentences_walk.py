"""The walk in words: every station speaks, an unknown is never worded as a pass, and what is said can be said."""

from __future__ import annotations

import re

import pytest

from answers.test_walk import RIGS, UNITS, walked
from answers.yard import haul, yard
from rubrail.answers.walk import walk
from rubrail.quantity.value import Value
from rubrail.sheets.sentences_walk import walk_said, walk_sentence
from rubrail.sheets.sentences_walk_checks import _CHECKS, _YES_NO
from rubrail.sheets.walk_times import words_of
from rubrail.things.trailer import Trailer

# Beside the tests of the walks themselves, which keep what was worked out.
pytestmark = pytest.mark.xdist_group("walk")
ALONE = [(unit, "") for unit in UNITS]
PASSES = re.compile(r"to spare|in reserve|fits this one|is fitted|is the size|has them\b")


@pytest.mark.parametrize(("unit", "name"), [*ALONE, *RIGS])
def test_every_station_speaks(unit, name):
    found = walked(unit, name)
    for s, station in zip(walk_said(found), found.stations, strict=True):
        assert s.what
        assert s.check
        assert s.caution
        assert s.haul or s.alone or s.facts, s.key
        assert bool(s.haul) == bool(station.haul)
        texts = [s.what, s.figure, *(t for _, t in (*s.haul, *s.alone)), *s.differs, *s.say]
        for text in texts:
            assert not re.search(r"\bnan\b|\binf\b|None|\{|\}", text), text
            assert "  " not in text
        for text in s.say:
            assert text.endswith((".", "?")), text
            assert words_of(text) <= 60, text
        for maker in ("Brindlow", "Tarnbeck", "Quarrant", "Pellamy"):
            assert not any(maker in text for text in texts)


@pytest.mark.parametrize(("unit", "name"), [*ALONE[::4], *RIGS])
def test_an_unknown_is_never_a_pass(unit, name):
    found = walked(unit, name)
    for s, station in zip(walk_said(found), found.stations, strict=True):
        unknown = [p for p in station.haul if p.verdict == "not known"]
        told = [text for word, text in s.haul if word == "not known"]
        assert bool(unknown) == bool(told)
        for text in told:
            assert "not known" in text.lower()
            assert not PASSES.search(text), text
        for p in unknown:
            assert p.line is None or p.key == "tie-down" or any(p.line.title in text for text in told), p.key
        if station.haul and station.haul[0].verdict == "not known":
            assert s.figure == "not known"


def test_what_waits_for_one_measurement_is_told_once():
    """SH-113 came used, its coupler load unknown: a dozen limits wait for the one scale ticket."""
    coupling, *_ = walk_said(walked("SH-113", "01-mowing-round"))
    waiting = [p for p in walked("SH-113", "01-mowing-round").station("coupling").haul if p.verdict == "not known"]
    (told,) = [text for word, text in coupling.haul if word == "not known"]
    assert len(waiting) == 12
    assert told.count("coupler load of the empty trailer") == 1
    assert all(p.line.title in told for p in waiting)
    assert f"and {len(waiting) - 1} more" in " ".join(coupling.say)


def test_words_suit_the_unit():
    """No equalizer on one axle, no breakaway pin where there is none, no box where only a spare wheel hangs."""
    utility = {s.key: s for s in walk_said(walked("SH-101"))}
    assert "equalizer" not in utility["running-gear"].what
    assert not any("breakaway" in text.lower() for text in (utility["chains"].check, utility["chains"].caution))
    assert "gate" in utility["ramps"].check
    mowing = {s.key: s for s in walk_said(walked("SH-101", "01-mowing-round"))}
    assert not any("is fitted" in text for _, text in mowing["chains"].haul)
    assert {s.key: s.title for s in walk_said(walked("SH-164"))}["box"] == "Equipment"
    air = {s.key: s for s in walk_said(walked("SH-174"))}["chains"]
    assert "an air and 7-pin plug" in air.what
    assert "supply line" in air.check


def test_a_small_unit_is_not_told_of_what_it_has_not():
    """One axle without brakes, of which nobody wrote down a breakaway or how it hangs: none is pulled at."""
    small = Trailer.model_validate({"id": "small", "coupling": {"kind": "ball"}, "axle": [{"brakes": "none"}]})
    said = {s.key: s for s in walk_said(walk(trailer=small))}
    assert "whether it has a breakaway device is not known" in said["chains"].what
    assert not any("breakaway" in text.lower() for text in (said["chains"].check, said["chains"].caution))
    assert "torsion" not in said["running-gear"].caution


def test_tires_below_the_axles_rating_are_told_with_their_numbers():
    """NHTSA-TIRES-GAWR's case of an axle of 7,000 lb on two tires of 3,000 lb: 6,000 lb, 1,000 lb too little."""
    t = yard().trailers["SH-133"]
    axle = t.axle[0]
    weak = axle.tires.model_copy(update={"count": 2, "max_load_lb": Value(3000), "max_load_dual_lb": None})
    weak = axle.model_copy(update={"gawr_lb": Value(7000), "tires": weak})
    found = walk(trailer=t.model_copy(update={"axle": (weak, weak)}), haul=haul("03-landscaper-track-loader"))
    (tires,) = [s for s in walk_said(found) if s.key == "tires"]
    (told,) = [text for _, text in tires.haul if "it is rated" in text]
    assert told == "The tires of axle 1 carry 6,000 lb, and it is rated 7,000 lb: over by 1,000 lb."
    assert "not known" not in told
    assert tires.verdict == "over"


def test_bare_unit_says_what_to_find_out():
    bare = Trailer.model_validate({"id": "bare", "coupling": {"kind": "ball"}, "axle": [{}, {}]})
    for found in (walk(trailer=bare), walk(trailer=bare, haul=haul(RIGS[2][1]), kit=yard().kit)):
        said = {s.key: s for s in walk_said(found)}
        assert found.verdict in ("", "not known", "over")
        for key in ("coupling", "chains", "jack", "frame", "running-gear", "tires", "lights"):
            texts = " ".join((said[key].what, *(t for _, t in said[key].alone)))
            assert "not known" in texts, key
            assert not PASSES.search(texts), texts


def test_metric_says_no_pounds():
    t = yard().trailers["SH-201"]
    said = walk_said(walk(trailer=t, haul=haul("04-three-machines"), kit=yard().kit), metric=True)
    for s in (*said, *walk_said(walk(trailer=t), metric=True)):
        for text in (s.what, s.figure, s.figure_says, *(t for _, t in (*s.haul, *s.alone)), *(v for _, v in s.facts)):
            bare = re.sub(r"\d[\d/-]* in\b(?: ball| \(maker\))?|12,000 lb line pull", "", text)
            assert not re.search(r"\d (lb|psi|ft)\b", bare), text


def test_sentences_as_they_are():
    """Read once, held since: regression, not proof."""
    said = {s.key: s for s in walk_said(walked("SH-133", "03-landscaper-track-loader"))}
    assert said["coupling"].what == "A ball coupler for a 2-5/16 in ball, rated for a trailer of 20,000 lb."
    assert "Your hitch may carry 1,850 lb, and your haul puts 1,556 lb on it: 294 lb to spare." in [
        t for _, t in said["coupling"].haul
    ]
    assert "The machine drives up 18.5° (33 %); the manual allows 27.0° (51 %): 8.5° to spare." in [
        t for _, t in said["ramps"].haul
    ]
    frame = said["frame"].haul[0][1]
    assert "one crossmember carries up to 2,597 lb" in frame
    assert "No rating is known: ask the maker for the load allowed, and in how many feet." in frame
    assert said["ramps"].verdict == "depends"


def test_first_sentence():
    assert walk_sentence(walked("SH-211")).startswith(
        "A walk around the straight gooseneck trailer SH-211, 13 stations"
    )
    found = walked("SH-133", "03-landscaper-track-loader")
    assert found.verdict == "depends"
    assert "look first at: coupling, ramps" in walk_sentence(found)
    for unit, name in RIGS:
        first = walk_sentence(walked(unit, name))
        assert first.lower().startswith(walked(unit, name).verdict), first


def test_every_check_that_a_station_names_has_its_own_words():
    from rubrail.answers.walk_haul import _UP, PLACED
    from rubrail.checks.registry import CHECKS

    own = {*_CHECKS, *_YES_NO, "coupler-uplift", "lamps", "conspicuity"}
    left = {c for c in (*PLACED, *_UP) if c not in own}
    assert not left
    assert {*_CHECKS, *_YES_NO} <= set(CHECKS)
