"""Coefficients of one rig: what they add up to is what the checks say, row by row and load by load."""

from __future__ import annotations

import json
import math
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail import load_yard, resolve
from rubrail.answers.affine import Asked, Least, Steady, Straight, affine
from rubrail.answers.affine_read import plain, read
from rubrail.answers.lines import loads_of
from rubrail.answers.place import best_place
from rubrail.answers.rig import Placement, Rigs, at_placement, rigs
from rubrail.checks import registry
from rubrail.checks.judge import judge
from rubrail.checks.verdict import NOT_KNOWN, WORDS
from rubrail.demo import YARD
from rubrail.things.rig_cargo import arrangements

ONE_LB = 1.0
YARD_THINGS = load_yard(YARD)
HAULS = [resolve(h, YARD_THINGS) for h in YARD_THINGS.hauls.values()]
TRAILERS = list(YARD_THINGS.trailers.values())


@cache
def rig(haul: int, trailer: int) -> Rigs:
    return rigs(haul=HAULS[haul], trailers=(TRAILERS[trailer],))


@cache
def carried(haul: int, trailer: int, way: int) -> tuple[dict, tuple[str, ...], tuple[float, ...]]:
    """What a page would carry about the best place, through JSON, for one of the facings the haul allows."""
    one = rig(haul, trailer)
    best = best_place(one)[0].placement
    facings = sorted({a.facing for a in arrangements(one.haul)})
    facing = facings[way % len(facings)]
    table = affine(one, Placement(best.front_x_in, facing))
    return json.loads(json.dumps(plain(table))), facing, best.front_x_in


places = st.lists(st.floats(-180, 180, allow_nan=False), min_size=12, max_size=12)


@given(st.integers(0, len(HAULS) - 1), st.integers(0, len(TRAILERS) - 1), st.integers(0, 7), places)
def test_adds_up_to_what_the_checks_say(haul: int, trailer: int, way: int, shifts: list[float]):
    data, facing, best = carried(haul, trailer, way)
    front = [x + s for x, s in zip(best, shifts, strict=False)]
    columns = at_placement(rig(haul, trailer), Placement(tuple(front), facing))
    wanted, told = judge(columns), read(data, front)
    for (value, spread), load in zip(told.loads, loads_of(columns), strict=True):
        assert value == pytest.approx(load.value, abs=ONE_LB / 1000, nan_ok=True)
        assert spread == pytest.approx(load.most - load.value, abs=ONE_LB / 1000, nan_ok=True)
    asked = False
    for i, (row, now) in enumerate(zip(data["rows"], told.rows, strict=True)):
        if row["form"] == "asked":
            asked = True
            continue
        assert WORDS[now.code] == WORDS[wanted.codes[i, 0, 0]], row["id"]
        for name, array in (("demand", wanted.rows.demand), ("limit", wanted.rows.limit), ("worst", wanted.worst)):
            if row["form"] != "steady" and now.limit != math.inf:
                assert getattr(now, name) == pytest.approx(array[i, 0, 0], abs=1e-4, nan_ok=True), (row["id"], name)
        if now.limit != math.inf:
            assert now.share == pytest.approx(wanted.rows.relative[i, 0, 0], abs=1e-6, nan_ok=True), row["id"]
    if not asked:
        assert WORDS[told.verdict] == WORDS[wanted.verdict[0, 0]]
        assert governs_alike(wanted, told.governing)


def governs_alike(wanted, index: int) -> bool:
    """Whether a row decides as well as the one the engine names: the same, or one that stands no farther off."""
    theirs = int(wanted.governing[0, 0])
    if index == theirs or theirs < 0:
        return index == theirs
    code, share = wanted.codes[:, 0, 0], np.nan_to_num(wanted.rows.relative[:, 0, 0], nan=0.0)
    return code[index] == code[theirs] and math.tanh(share[index]) == pytest.approx(math.tanh(share[theirs]), abs=1e-8)


@given(st.integers(0, len(HAULS) - 1), st.integers(0, len(TRAILERS) - 1), places, st.data())
def test_pieces_at_the_very_same_place_and_at_whole_inches(haul: int, trailer: int, shifts: list[float], data):
    """Ties of order and exact touching are where the least of parts could go wrong."""
    table, facing, best = carried(haul, trailer, 0)
    front = [float(round(x + s)) for x, s in zip(best, shifts, strict=False)]
    if len(front) > 1:
        length = [float(p.length_in) for p in rig(haul, trailer).pieces]
        front[1] = front[0] + data.draw(st.sampled_from([0.0, length[0], -length[1]]))
    wanted = judge(at_placement(rig(haul, trailer), Placement(tuple(front), facing)))
    told = read(table, front)
    for i, (row, now) in enumerate(zip(table["rows"], told.rows, strict=True)):
        if row["form"] != "asked":
            assert WORDS[now.code] == WORDS[wanted.codes[i, 0, 0]], (row["id"], row["member"], front)


def test_slopes_by_hand():
    """By moments about the coupling point: an inch rearward takes weight / axle place off the coupler."""
    haul = next(i for i, h in enumerate(HAULS) if h.id.startswith("02"))
    one = rig(haul, 0)
    data, _, front = carried(haul, 0, 0)
    weight = float(one.pieces[0].weight_lb)
    axles = [float(a.from_coupler_in) for a in one.trailers[0].axle]
    per_inch = weight / (sum(axles) / len(axles))
    loads = {(x["name"], x["member"]): x["value"] for x in data["loads"]}
    assert loads["coupler_load_lb", None][1] == pytest.approx(-per_inch)
    assert loads["axle_group_load_lb", None][1] == pytest.approx(per_inch)
    assert loads["axle_load_lb", 0][1] == pytest.approx(per_inch / len(axles))
    # What leaves the coupler leaves the truck, and nothing is gained or lost by moving.
    assert loads["truck_gross_lb", None][1] == pytest.approx(-per_inch)
    assert loads["trailer_gross_lb", None][1] == 0
    assert loads["combination_gross_lb", None][1] == 0
    there = read(data, [front[0] + 30]).loads[0][0]
    assert there == pytest.approx(loads["coupler_load_lb", None][0] - 30 * per_inch)


def test_every_form_is_seen_and_nothing_of_the_yard_is_left_to_ask():
    seen = set()
    for haul in range(len(HAULS)):
        table = affine(rig(haul, haul), best_place(rig(haul, haul))[0].placement)
        seen |= {type(r) for r in table.rows}
    assert {Steady, Straight, Least} <= seen
    assert Asked not in seen


def test_a_check_that_is_not_straight_is_asked(monkeypatch: pytest.MonkeyPatch):
    """A square of the place, and a step far from where the cargo stands now: neither may pass for straight."""
    monkeypatch.setattr(registry, "CHECKS", dict(registry.CHECKS))
    monkeypatch.setattr("rubrail.checks.engine.CHECKS", registry.CHECKS)
    about = {"kind": "guidance", "group": "deck", "demand": "", "limit": "", "affine": False, "sources": ("X",)}

    @registry.check(id="planted-square", title="a square", says="A square.", **about)
    def square(*, item_front_x_in):
        return (np.asarray(item_front_x_in) ** 2).sum(axis=0), 1e9

    @registry.check(id="planted-step", title="a step", says="A step.", **about)
    def step(*, coupler_load_lb):
        return np.where(np.asarray(coupler_load_lb) < -2_000.0, 2.0, 0.0), 1.0

    one = rig(1, 3)
    table = affine(one, best_place(one)[0].placement)
    forms = {r.row.check.id: type(r) for r in table.rows}
    assert forms["planted-square"] is Asked
    assert forms["planted-step"] is Asked
    asked = next(r for r in table.rows if r.row.check.id == "planted-square")
    assert asked.demand == pytest.approx(table.reference_in[0] ** 2)


def test_unknown_weight_leaves_its_loads_unknown_and_its_fit_known():
    haul = next(i for i, h in enumerate(HAULS) if "unknown-weight" in h.id)
    data, _, front = carried(haul, 2, 0)
    now = read(data, [x + 17 for x in front])
    by_id = {(r["id"], r["member"]): at for r, at in zip(data["rows"], now.rows, strict=True)}
    one = rig(haul, 2)
    if any(p.weight_lb is None for p in one.pieces):
        assert math.isnan(now.loads[0][0])
        assert by_id["coupler-vertical", None].code == NOT_KNOWN
    assert math.isfinite(by_id["deck-front", 0].margin)


def test_empty_trailer_has_steady_rows_only():
    haul = HAULS[0].model_copy(update={"cargo": ()})
    one = rigs(haul=haul, trailers=(TRAILERS[0],))
    table = affine(one, Placement((), ()))
    assert {type(r) for r in table.rows} == {Steady}
    wanted = judge(at_placement(one, Placement((), ())))
    told = read(json.loads(json.dumps(plain(table))), [])
    assert told.verdict == wanted.verdict[0, 0]
    assert told.governing == wanted.governing[0, 0]


def test_a_placement_of_the_wrong_length_is_refused():
    with pytest.raises(ValueError, match="a place and a facing for each of 1 pieces"):
        affine(rig(1, 0), Placement((1.0, 2.0), ("front-first", "front-first")))
