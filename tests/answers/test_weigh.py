"""Weighing real rigs of the invented yard: lines, settling, remedies, and the match saying the same."""

import numpy as np
import pytest

from rubrail import match, weigh
from rubrail.answers.place import best_place
from rubrail.answers.rig import Placement, rigs
from rubrail.answers.settle import missing
from rubrail.checks.judge import judge
from rubrail.checks.registry import CHECKS
from rubrail.checks.verdict import DEPENDS, NOT_KNOWN

from .yard import HAULS, haul, yard

TRAILERS = tuple(yard().trailers.values())


@pytest.mark.parametrize("name", HAULS)
def test_the_match_says_what_weighing_each_unit_says(name):
    board = match(haul=haul(name), trailers=TRAILERS)
    assert len(board.candidates) == len(TRAILERS)
    for c in board.candidates[::6]:
        w = weigh(haul=haul(name), trailer=yard().trailers[c.trailer], remedies=False)
        assert c.verdict == w.verdict
        assert (c.governing and c.governing.check) == (w.governing and w.governing.check)
        again = weigh(haul=haul(name), trailer=yard().trailers[c.trailer], placement=c.placement, remedies=False)
        assert again.verdict == w.verdict


@pytest.mark.parametrize("name", HAULS)
def test_unbeaten_units_are_beaten_by_none(name):
    board = match(haul=haul(name), trailers=TRAILERS)
    carrying = [c for c in board.candidates if c.verdict in ("clear", "depends")]

    def costs(c) -> tuple:
        worst = (float(c.price_usd) if c.price_usd else np.inf, -c.share, c.empty_weight_lb, c.deck_height_in)
        return tuple(np.inf if np.isnan(v) else v for v in worst)

    for c in carrying:
        beaten = any(
            all(a <= b for a, b in zip(costs(o), costs(c), strict=True)) and costs(o) != costs(c) for o in carrying
        )
        assert c.unbeaten == (not beaten)


@pytest.mark.parametrize("name", HAULS)
def test_each_remedy_clears_what_it_says(name):
    seen = 0
    for trailer in TRAILERS[::5]:
        w = weigh(haul=haul(name), trailer=trailer)
        over = {x.check for x in w.lines if x.verdict == "over"}
        for r in w.remedies:
            seen += 1
            assert r.clears
            assert set(r.clears) <= over
            if r.kind == "take-off":
                assert 0 < r.amount < sum(p.weight_lb for p in w.pieces)
    assert seen or name in ("02-midi-excavator-for-hire", "14-paving-crew")


def test_taking_off_what_a_remedy_says_is_just_enough():
    """The registered weight of haul 9 on SH-141: the remedy's pounds clear it, ten fewer do not."""
    w = weigh(haul=haul("03-landscaper-track-loader"), trailer=yard().trailers["SH-132"])
    off = next(r for r in w.remedies if r.kind == "take-off")
    one = rigs(haul=haul("03-landscaper-track-loader"), trailers=(yard().trailers["SH-132"],))
    columns = best_place(one)[1]
    total = columns["item_weight_lb"].sum()

    def over_after(pounds: float) -> set[str]:
        lighter = columns.with_values({"item_weight_lb": columns["item_weight_lb"] * (1 - pounds / total)})
        j = judge(lighter)
        return {r.check.id for i, r in enumerate(j.rows.rows) if j.codes[i, 0, 0] == 0 and r.check.kind == "rating"}

    assert not set(off.clears) & over_after(off.amount)
    assert set(off.clears) & over_after(off.amount - 20)


@pytest.mark.parametrize("name", HAULS)
def test_measuring_what_settles_it_settles_it(name):
    """With the named inputs exact, the line no longer depends."""
    for trailer in TRAILERS[::7]:
        one = rigs(haul=haul(name), trailers=(trailer,))
        columns = best_place(one)[1]
        w = weigh(haul=haul(name), trailer=trailer, remedies=False)
        for line in (x for x in w.lines if x.verdict == "depends" and x.settle):
            exact = {n.name for n in line.settle}
            sure = {n: np.zeros_like(a) if n in exact else a for n, a in columns.plus_minus.items()}
            j = judge(type(columns)(columns.values, sure, columns.basis))
            codes = [j.codes[i, 0, 0] for i, r in enumerate(j.rows.rows) if r.check.id == line.check]
            assert DEPENDS not in codes, line.check


@pytest.mark.parametrize("name", HAULS)
def test_what_is_missing_is_what_keeps_it_unknown(name):
    """With the named inputs filled in, the check is known; with any one of them left out, it is not."""
    for trailer in TRAILERS[::4]:
        one = rigs(haul=haul(name), trailers=(trailer,))
        columns = best_place(one)[1]
        j = judge(columns)
        for i, r in enumerate(j.rows.rows):
            if j.codes[i, 0, 0] != NOT_KNOWN:
                continue
            named = missing(CHECKS[r.check.id], columns)
            for n in named:
                assert np.isnan(np.ravel(columns[n.name])).any() if n.name in columns else True


def test_a_placement_of_the_wrong_length_is_refused():
    with pytest.raises(ValueError, match="a place and a facing for each of 3 pieces"):
        weigh(
            haul=haul("04-three-machines"),
            trailer=yard().trailers["SH-193"],
            placement=Placement((60.0,), ("front-first",)),
        )
