"""Stretches of one piece's places: the engine, asked on both sides of every end, says the same words."""

from __future__ import annotations

import json
import random
from functools import cache
from itertools import pairwise

import pytest

from rubrail import load_yard, resolve
from rubrail.answers.affine import affine
from rubrail.answers.affine_band import Stretch, stretches
from rubrail.answers.affine_read import plain
from rubrail.answers.band import bands
from rubrail.answers.place import best_place
from rubrail.answers.rig import Placement, Rigs, at_placement, rigs
from rubrail.checks.judge import judge
from rubrail.checks.verdict import CLEAR, DEPENDS, OVER
from rubrail.demo import YARD

YARD_THINGS = load_yard(YARD)
HAULS = [resolve(h, YARD_THINGS) for h in YARD_THINGS.hauls.values()]
TRAILERS = list(YARD_THINGS.trailers.values())
LOW_IN, HIGH_IN = -60.0, 520.0
BESIDE_IN = 0.01


@cache
def carried(haul: int, trailer: int) -> tuple[Rigs, dict, Placement]:
    one = rigs(haul=HAULS[haul], trailers=(TRAILERS[trailer],))
    placement = best_place(one)[0].placement
    return one, json.loads(json.dumps(plain(affine(one, placement)))), placement


def verdict(one: Rigs, placement: Placement, piece: int, front_in: float) -> int:
    front = [*placement.front_x_in[:piece], front_in, *placement.front_x_in[piece + 1 :]]
    return int(judge(at_placement(one, Placement(tuple(front), placement.facing))).verdict[0, 0])


def some_rigs(count: int) -> list[tuple[int, int]]:
    draw = random.Random(41)
    return [(draw.randrange(len(HAULS)), draw.randrange(len(TRAILERS))) for _ in range(count)]


@pytest.mark.parametrize(("haul", "trailer"), [*some_rigs(24), (3, 8), (12, 27), (2, 36), (0, 0)])
def test_engine_says_the_same_on_both_sides_of_every_end(haul: int, trailer: int):
    one, data, placement = carried(haul, trailer)
    draw = random.Random(haul * 100 + trailer)
    for piece in range(len(one.pieces)):
        front = [x + draw.uniform(-30, 30) for x in placement.front_x_in]
        moved = Placement(tuple(front), placement.facing)
        found = stretches(data, front, piece, low_in=LOW_IN, high_in=HIGH_IN)
        assert found[0].low_in == LOW_IN
        assert found[-1].high_in == HIGH_IN
        for a, b in pairwise(found):
            assert a.high_in == b.low_in
            assert a.code != b.code
            for x, code in ((a.high_in - BESIDE_IN, a.code), (b.low_in + BESIDE_IN, b.code)):
                if min(a.high_in - a.low_in, b.high_in - b.low_in) > 2 * BESIDE_IN:
                    assert verdict(one, moved, piece, x) == code, (piece, x)
        for x in (draw.uniform(LOW_IN, HIGH_IN) for _ in range(12)):
            here = next(s for s in found if s.low_in <= x <= s.high_in)
            if min(x - here.low_in, here.high_in - x) > BESIDE_IN:
                assert verdict(one, moved, piece, x) == here.code, (piece, x)


def test_ends_are_where_the_bands_of_the_whole_cargo_end():
    """Of a single piece, both answers ask the same question; ``answers.band`` finds it by bisection."""
    seen = 0
    for haul, trailer in ((0, 0), (0, 8), (2, 27), (2, 36), (5, 13), (9, 22), (10, 30)):
        one, data, placement = carried(haul, trailer)
        columns = at_placement(one, placement)
        if len(one.pieces) != 1 or judge(columns).verdict[0, 0] <= OVER:
            continue
        _, clear = bands(columns, kinds=("rating", "law", "fit"))
        advised = bands(columns)[0]
        found = stretches(data, list(placement.front_x_in), 0, low_in=LOW_IN, high_in=HIGH_IN)
        inner = [
            s for s in found if s.code == CLEAR and s.low_in - 1e-6 <= placement.front_x_in[0] <= s.high_in + 1e-6
        ]
        if clear is None or advised is None or not inner:
            continue
        # Guidance has to hold at the stated values, the rest with every tolerance against it.
        low, high = max(clear.low_in, advised.low_in), min(clear.high_in, advised.high_in)
        assert inner[0].low_in - placement.front_x_in[0] == pytest.approx(low, abs=1e-3)
        assert inner[0].high_in - placement.front_x_in[0] == pytest.approx(high, abs=1e-3)
        seen += 1
    assert seen >= 2


def test_one_line_by_hand():
    """A margin of 100 - 2 s, less a loss of |10 - s|: it holds to s = 50, and for sure to s = 110 / 3."""
    losses = {"fixed": 0.0, "even": [[10.0, -1.0]], "odd": []}
    row = {
        "form": "straight", "id": "a", "member": None, "kind": "rating", "binds": True, "unit": "lb", "by": "limit",
        "feels": True, "demand": [0.0, 2.0], "limit": [100.0, 0.0], "losses": losses, "unknown": False,
    }  # fmt: skip
    data = {"reference": [20.0], "tolerance": 0.0, "rows": [row], "loads": []}
    found = stretches(data, [20.0], 0, low_in=20.0, high_in=220.0)
    assert found == [
        Stretch(20.0, pytest.approx(20 + 110 / 3), CLEAR),
        Stretch(pytest.approx(20 + 110 / 3), pytest.approx(70.0), DEPENDS),
        Stretch(pytest.approx(70.0), 220.0, OVER),
    ]


def test_a_row_that_has_to_be_asked_leaves_no_stretch():
    _, data, placement = carried(0, 0)
    asked = {**data, "rows": [*data["rows"], {**data["rows"][0], "form": "asked"}]}
    assert stretches(asked, list(placement.front_x_in), 0, low_in=0.0, high_in=100.0) is None
