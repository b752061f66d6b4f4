"""Scale tickets: hand-worked sets, planted truths, wrong readings named, and what one reading more would tell."""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rubrail.answers.ticket import read_ticket
from rubrail.answers.ticket_layout import EMPTY, Layout
from rubrail.answers.ticket_report import Ticketed, Weighed
from rubrail.answers.ticket_values import COVER, center, sums, vector_of
from rubrail.mechanics.least_squares import doubt
from rubrail.sheets.sentences_ticket import ticket_sentence
from rubrail.things.door import read_thing
from rubrail.things.ticket import Ticket
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck

GROUP = 200.0
"""Middle of the axles behind the coupling. [in]"""


def trailer(**more) -> Trailer:
    table = {
        "id": "t", "coupling": {"kind": "ball", "vertical_rating_lb": 2000},
        "ratings": {"gvwr_lb": 14000},
        "weights": {"basis": "maker", "empty_lb": 2640, "empty_coupler_lb": 390},
        "axle": [
            {"gawr_lb": 7000, "from_coupler_in": {"value": 183, "basis": "measured", "plus_minus": 0}},
            {"gawr_lb": 7000, "from_coupler_in": {"value": 217, "basis": "measured", "plus_minus": 0}},
        ],
        "suspension": {"kind": "equalized"},
    }  # fmt: skip
    return read_thing(Trailer, {**table, **more})


def truck(*, off: float = 0) -> Truck:
    """Wheelbase 160 in, ball 56 in behind the rear axle, each known within ``off``."""
    return read_thing(
        Truck,
        {
            "id": "k",
            "ratings": {"front_gawr_lb": 5200, "rear_gawr_lb": 6600, "gvwr_lb": 11000, "gcwr_lb": 26000},
            "size": {"wheelbase_in": {"value": 160, "basis": "measured", "plus_minus": off}},
            "hitch": [
                {"kind": "ball", "ahead_of_rear_axle_in": {"value": -56, "basis": "measured", "plus_minus": off}}
            ],
        },
    )


def ticket(*weighings: dict, **more) -> Ticket:
    table = {"id": "x", "trailer": "t", "truck": "k", "scale": [{"id": "s", "kind": "platform"}], **more}
    return read_thing(Ticket, {**table, "weighing": list(weighings)})


def weighing(state: str, load: str = "", /, **more) -> dict:
    """``weighing("truck", steer=4100, truck=7000)``; an underscore joins two parts, ``axle_1`` is one."""
    how = {k: v for k, v in more.items() if k in ("aboard", "weight_distribution", "jack_from_coupler_in")}
    reading = []
    for name, shown in more.items():
        if name in how:
            continue
        parts = [name.replace("_", " ")] if name.startswith("axle_") else name.split("_")
        extra = shown if isinstance(shown, dict) else {"shown_lb": shown}
        reading.append({"on": parts, **extra})
    return {"state": state, **({"load": load} if load else {}), **how, "reading": reading}


def value(answer: Ticketed, of: str, name: str, load: str = "") -> Weighed:
    return next(v for v in answer.values if (v.of, v.name, v.load) == (of, name, load))


def read(*weighings: dict, of: Trailer | None = None, by: Truck | None = None, **more) -> Ticketed:
    return read_ticket(ticket(*weighings, **more), trailer=of or trailer(), truck=by or truck())


ALONE = weighing("truck", steer=4100, drive=2800)
EMPTY_RIG = weighing("hitched", steer=3960, drive=3340, axles=2400)
LOADED = weighing("hitched", "loader", steer=3680, drive=4420, axles=9600)
"""By hand: 400 on the ball is 400 x 56 / 160 = 140 off the front axle; with the loader 1,200 and 420."""


# ---- worked by hand


def test_a_whole_set_by_hand():
    """Moments about the coupling: 2,400 on axles 200 in behind it; the loader 7,200 x 200 over the 8,000 it weighs."""
    answer = read(ALONE, EMPTY_RIG, LOADED)
    numbers = {
        ("truck", "front axle", ""): 4100, ("truck", "rear axle", ""): 2800, ("truck", "whole", ""): 6900,
        ("trailer", "whole", ""): 2800, ("trailer", "coupler", ""): 400, ("trailer", "axles", ""): 2400,
        ("rig", "whole", "loader"): 10800, ("rig", "coupler", "loader"): 1200, ("rig", "axles", "loader"): 9600,
        ("cargo", "cargo", "loader"): 8000, ("rig", "front axle hitched", ""): 3960,
        ("rig", "rear axle hitched", ""): 3340, ("rig", "rear axle hitched", "loader"): 4420,
        ("trailer", "center", ""): 2400 * GROUP / 2800, ("cargo", "center", "loader"): 7200 * GROUP / 8000,
    }  # fmt: skip
    for key, number in numbers.items():
        assert value(answer, *key).number == pytest.approx(number, abs=1e-6), key
    assert answer.verdict == "clear"
    assert answer.agrees
    assert answer.chi_square == pytest.approx(0, abs=1e-12)
    # 8 readings; 2 truck weights, 2 coupler loads and 2 axle groups. People aboard add a reading and an unknown each.
    assert answer.freedom == 8 - 6


def test_one_reading_alone_has_the_doubt_of_its_scale():
    """300 divisions of class III L: 1 division off. Half of its variance twice over is all of it: 20^2/3, then the
    step 20^2/12 and 10 lb on driving on again, 10^2/3: 14.14 lb."""
    answer = read(weighing("truck", steer=4100))
    by_hand = math.sqrt(20**2 / 3 + 20**2 / 12 + 10**2 / 3)
    assert value(answer, "truck", "front axle").doubt == pytest.approx(by_hand)
    assert value(answer, "truck", "front axle").plus_minus == pytest.approx(1.959964 * by_hand, rel=1e-6)


def test_a_scales_own_error_leaves_a_difference_by_half_and_many_readings_not_at_all():
    scale = [{"id": "s", "kind": "other", "accuracy_lb": 60, "division_lb": 0.1}]
    many = [{"on": ["steer"], "shown_lb": 4100} for _ in range(30)]
    answer = read_ticket(ticket({"state": "truck", "reading": many}, scale=scale), trailer=trailer(), truck=truck())
    shared = 60 / math.sqrt(3) * math.sqrt(0.5)
    assert value(answer, "truck", "front axle").doubt > shared
    assert value(answer, "truck", "front axle").doubt == pytest.approx(shared, rel=0.04)


def test_whoever_is_aboard_comes_off_where_they_sit():
    """200 lb 64 in behind the front axle of 160: 120 lb in front, 80 behind."""
    driver = [{"says": "driver", "weight_lb": 200, "behind_front_axle_in": 64}]
    answer = read(weighing("truck", steer=4220, drive=2880, aboard=driver))
    assert value(answer, "truck", "front axle").number == pytest.approx(4100)
    assert value(answer, "truck", "rear axle").number == pytest.approx(2800)
    somewhere = read(weighing("truck", steer=4220, drive=2880, aboard=[{"says": "tools", "weight_lb": 200}]))
    assert value(somewhere, "truck", "front axle").number == pytest.approx(4120)
    assert value(somewhere, "truck", "front axle").doubt > 57  # all of it in front or none: 100 over the root of 3


def test_somebody_of_unknown_weight_leaves_the_truck_alone_not_known():
    """The truck with somebody in it tells the truck without them only where their weight is known; what is the same
    both times, the trailer, is told by the difference."""
    who = {"aboard": [{"says": "driver"}]}
    alone = weighing("truck", steer=4220, drive=2880, **who)
    answer = read(alone, weighing("hitched", steer=4080, drive=3420, axles=2400, **who))
    assert not value(answer, "truck", "front axle").told
    assert answer.verdict == "not known"
    assert value(answer, "trailer", "whole").number == pytest.approx(2800)
    assert value(answer, "trailer", "coupler").number == pytest.approx(400)
    assert value(answer, "rig", "front axle hitched").number == pytest.approx(4080)


def test_what_drawn_up_bars_put_on_the_axles_is_held_against_their_ratings():
    """13,900 on the axles without bars and 300 more with them, and the axles are rated 14,000 together. By hand: 1,200
    on the coupler; drawn up, 200 less in front than the truck alone, so 2,800 + 1,200 + 200 - 300 behind."""
    heavy = trailer(ratings={"gvwr_lb": 16000})
    with_bars = weighing("hitched", "loader", steer=3900, drive=3900, axles=14200, weight_distribution=True)
    without = weighing("hitched", "loader", steer=3680, drive=4420, axles=13900)
    answer = read(ALONE, EMPTY_RIG, without, with_bars, of=heavy)
    name = "trailer axles hitched, bars drawn up"
    assert value(answer, "rig", "axles", "loader").verdict in ("clear", "depends")
    assert value(answer, "rig", name, "loader").number == pytest.approx(14200, abs=1)
    assert value(answer, "rig", name, "loader").verdict == "over"
    assert answer.verdict == "over"
    assert "trailer axles, bars drawn up, with loader 200 lb more" in ticket_sentence(answer)


def test_what_no_reading_has_a_part_of_is_not_told():
    """The whole rig with bars drawn up says nothing of the truck's front axle then, though the truck alone is told."""
    answer = read(ALONE, EMPTY_RIG, weighing("hitched", rig=9700, weight_distribution=True))
    assert value(answer, "rig", "rig hitched, bars drawn up").told
    assert not value(answer, "rig", "front axle hitched, bars drawn up").told
    assert not value(answer, "rig", "trailer axles hitched, bars drawn up").told


def test_a_rating_of_the_loaded_rig_that_is_on_no_file_is_no_pass():
    answer = read(ALONE, EMPTY_RIG, LOADED, of=trailer(ratings={}))
    assert value(answer, "rig", "whole", "loader").verdict == "not known"
    assert value(answer, "rig", "front axle hitched").verdict == "clear", "of the empty rig what is on file is held"
    assert answer.verdict == "not known"
    assert ticket_sentence(answer).startswith(
        "Not known whether the loaded rig holds: the trailer's GVWR is on no file."
    )
    assert read(ALONE, EMPTY_RIG, of=trailer(ratings={})).verdict == "clear", "weighed empty it is held against none"


def test_a_trailer_on_its_jack_is_not_on_its_coupler():
    """400 lb at the coupling is 400 x 200 / (200 - 40) = 500 on a jack 40 in behind it; the axles carry 100 less."""
    on_jack = weighing("trailer", jack=500, axles=2300, jack_from_coupler_in={"value": 40, "plus_minus": 0})
    answer = read(on_jack, truck=None)
    assert value(answer, "trailer", "coupler").number == pytest.approx(400)
    assert value(answer, "trailer", "whole").number == pytest.approx(2800)
    unknown = read(weighing("trailer", jack=500, axles=2300))
    assert value(unknown, "trailer", "whole").number == pytest.approx(2800)
    assert not value(unknown, "trailer", "coupler").told
    on_pad = read(weighing("trailer", coupler=400, axles=2400))
    assert value(on_pad, "trailer", "coupler").number == pytest.approx(400)


def test_spring_bars_are_an_unknown_of_their_own():
    """100 lb goes back to the axles and the front axle regains 60: without the bars it would still be 400."""
    bars = weighing("hitched", steer=4020, drive=3180, axles=2500, weight_distribution=True)
    answer = read(ALONE, EMPTY_RIG, bars)
    assert value(answer, "trailer", "coupler").number == pytest.approx(400)
    assert value(answer, "rig", "rear axle hitched, bars drawn up").number == pytest.approx(3180)
    alone = read(ALONE, bars)
    assert value(alone, "trailer", "whole").number == pytest.approx(2800)
    assert not value(alone, "trailer", "coupler").told


def test_one_side_of_an_axle():
    left, right = ({"shown_lb": n, "side": s} for n, s in ((650, "left"), (550, "right")))
    state = weighing("hitched", axles=2400)
    state["reading"] += [{"on": ["axle 1"], **left}, {"on": ["axle 1"], **right}]
    answer = read(ALONE, weighing("hitched", rig=9700), state)
    assert value(answer, "trailer", "axle 1").number == pytest.approx(1200)
    assert value(answer, "trailer", "axle 2").number == pytest.approx(1200)


def test_each_axle_at_its_own_place():
    """1,000 at 183 in and 1,400 at 217 balance behind the middle: (183,000 + 303,800) / 2,800."""
    each = weighing("hitched", axle_1=1000, axle_2=1400, rig=9700)
    answer = read(ALONE, each)
    assert value(answer, "trailer", "center").number == pytest.approx(486_800 / 2800)


def test_without_geometry_the_truck_is_weighed_all_the_same():
    bare = read_thing(Truck, {"id": "k"})
    answer = read(ALONE, EMPTY_RIG, by=bare)
    assert value(answer, "trailer", "coupler").number == pytest.approx(400)
    assert answer.freedom == 0
    assert {r.word for r in answer.readings} == {"nothing checks it"}
    assert not answer.hitch_by_geometry


def test_ratings_are_held_against_the_loaded_rig():
    heavy = weighing("hitched", "loader", steer=3400, drive=5500, axles=14100)
    answer = read(ALONE, EMPTY_RIG, heavy)
    assert value(answer, "rig", "axles", "loader").verdict == "over"
    assert value(answer, "rig", "coupler", "loader").limit == 2000
    assert read(ALONE, EMPTY_RIG, heavy).verdict == "over"
    near = weighing("hitched", "loader", steer=3680, drive=4420, axles=12790)  # whole 13,990 of 14,000
    assert value(read(ALONE, EMPTY_RIG, near), "rig", "whole", "loader").verdict == "depends"
    assert read(ALONE, EMPTY_RIG, near).verdict == "depends"
    assert value(read(ALONE, EMPTY_RIG, LOADED), "rig", "whole", "loader").verdict == "clear"


# ---- readings that are off


@pytest.mark.parametrize("off", [-400, 400])
@pytest.mark.parametrize("which", range(4))
def test_a_wrong_reading_is_named_with_what_it_should_be(which, off):
    states = [weighing("truck", steer=4100, drive=2800, truck=6900), {**EMPTY_RIG, "reading": []}]
    rig = [("steer",), ("drive",), ("axles",), ("drive", "axles"), ("steer", "drive"), ("rig",)]
    shown = {("steer",): 3960, ("drive",): 3340, ("axles",): 2400, ("drive", "axles"): 5740,
             ("steer", "drive"): 7300, ("rig",): 9700}  # fmt: skip
    states[1]["reading"] = [
        {"on": list(on), "shown_lb": shown[on] + (off if n == which else 0)} for n, on in enumerate(rig)
    ]
    answer = read(*states)
    named = [r for r in answer.readings if r.word not in ("agrees", "waits")]
    assert [(r.weighing, r.reading, r.word) for r in named] == [(2, which + 1, "off")]
    assert named[0].would_be_lb == pytest.approx(shown[rig[which]], abs=40)
    assert answer.verdict == "depends"
    assert answer.proposals == ()
    assert {w.name: round(w.number, -1) for w in answer.without}["trailer whole"] == pytest.approx(2800, abs=10)


def test_its_neighbors_wait_and_agree_once_it_is_set_aside():
    """The whole rig is 1,000 lb too high: what stands on the same plates is drawn away from it until it is gone."""
    states = [weighing("truck", steer=4100, drive=2800, truck=6900),
              weighing("hitched", steer=3960, drive=3340, axles=2400, drive_axles=5740, rig=10700)]  # fmt: skip
    words = [r.word for r in read(*states).readings]
    assert words[-1] == "off"
    assert "waits" in words
    states[1]["reading"][-1] |= {"set_aside": "two wheels of another truck were on it"}
    assert [r.word for r in read(*states).readings] == ["agrees"] * 7 + ["set aside"]


def test_set_aside_it_stays_on_the_ticket_and_the_rest_is_offered():
    states = [weighing("truck", steer=4100, drive=2800, truck=6900),
              weighing("hitched", steer=3960, drive=3340, axles=2400, rig=9700,
                       drive_axles={"shown_lb": 5200, "set_aside": "brake held"})]  # fmt: skip
    answer = read(*states)
    assert answer.agrees
    assert [r.why for r in answer.readings if r.word == "set aside"] == ["brake held"]
    assert {p.field: p.number for p in answer.proposals} == {
        "weights.front_axle_lb": 4100, "weights.rear_axle_lb": 2800,
        "weights.empty_lb": 2800, "weights.empty_coupler_lb": 400,
    }  # fmt: skip
    empty = next(p for p in answer.proposals if p.field == "weights.empty_lb")
    assert (empty.before, empty.before_basis) == (2640, "maker")
    assert empty.plus_minus == math.ceil(value(answer, "trailer", "whole").plus_minus)


def test_readings_that_cannot_be_told_apart_are_named_together():
    """Two readings of one thing and nothing else: one of them is off."""
    states = {"state": "truck", "reading": [{"on": ["steer"], "shown_lb": n} for n in (4100, 4400)]}
    answer = read(states)
    assert [r.word for r in answer.readings] == ["one of these is off"] * 2
    assert answer.without == ()


def test_sound_readings_are_rarely_alarmed():
    """1,000 sound sets: a reading is named in about 1 of 20, by the share of alarms set for the whole set."""
    layout = _simulated_layout()
    shown, _ = _shown(layout, seed=5)
    normalized = layout.solve(shown).normalized
    bar = NormalDist().inv_cdf(1 - 0.05 / (2 * normalized.shape[-1]))
    alarms = (np.nanmax(np.abs(normalized), axis=-1) > bar).sum()
    # at most 5 % by the sum over readings; three standard deviations of 1,000 draws above it
    assert alarms <= 50 + 3 * math.sqrt(1000 * 0.05 * 0.95)
    assert alarms > 0


# ---- what is not told


def test_what_one_reading_more_would_tell():
    answer = read(weighing("hitched", axles=2400))
    whole, coupler = value(answer, "trailer", "whole"), value(answer, "trailer", "coupler")
    assert not whole.told
    assert not coupler.told
    assert answer.verdict == "not known"
    assert ("trailer", "", ("coupler",)) in [(w.state, w.load, w.on) for w in coupler.one_more]
    for wanted in coupler.one_more:
        row = {"state": wanted.state, "reading": [{"on": list(wanted.on), "shown_lb": 1000}]}
        assert value(read(weighing("hitched", axles=2400), row), "trailer", "coupler").told, wanted


def test_where_no_single_reading_is_enough_two_are_named():
    answer = read(weighing("hitched", "loader", rig=15000), of=trailer())
    cargo = value(answer, "cargo", "cargo", "loader")
    assert not cargo.told
    for wanted in (cargo.one_more, cargo.two_more):
        rows = [{"state": w.state, "load": w.load or None, "reading": [{"on": list(w.on), "shown_lb": 1000}]}
                for w in wanted]  # fmt: skip
        if wanted is cargo.two_more and wanted:
            assert value(read(weighing("hitched", "loader", rig=15000), *rows), "cargo", "cargo", "loader").told


def test_places_that_are_missing_are_named():
    bare = trailer(axle=[{}, {}])
    assert value(read(ALONE, EMPTY_RIG, of=bare), "trailer", "center").missing == ("axle.from_coupler_in",)


def test_nothing_read_yet():
    answer = read({"state": "truck", "reading": [{"on": ["steer"]}]})
    assert answer.readings[0].word == "not read yet"
    assert answer.verdict == "not known"
    assert not answer.proposals
    assert read().verdict == "not known"


# ---- properties


@settings(max_examples=25, deadline=None)
@given(st.permutations(range(8)), st.integers(0, 500))
def test_order_and_units_do_not_matter(order, seed):
    rng = np.random.default_rng(seed)
    lines = [("truck", "steer", 4100), ("truck", "drive", 2800), ("truck", "truck", 6900), ("hitched", "steer", 3960),
             ("hitched", "drive", 3340), ("hitched", "axles", 2400), ("hitched", "rig", 9700),
             ("hitched", "truck", 7300)]  # fmt: skip
    shown = [n + float(rng.normal(0, 10)) for _, _, n in lines]

    def of(kilograms: bool, at: list[int]) -> Ticketed:
        return read(*(
            {"state": lines[n][0],
             "reading": [{"on": [lines[n][1]],
                          "shown_lb": f"{shown[n] * 0.45359237:.9f} kg" if kilograms else shown[n]}]}
            for n in at
        ))  # fmt: skip

    plain, other = of(False, list(range(8))), of(True, list(order))
    for a, b in zip(plain.values, other.values, strict=True):
        assert (a.name, a.of) == (b.name, b.of)
        np.testing.assert_allclose([a.number, a.doubt], [b.number, b.doubt], rtol=1e-6)


# ---- planted truths


def _simulated_layout() -> Layout:
    """A usual afternoon: truck alone, empty rig, loaded rig, two scales, driver aboard."""
    driver = [{"says": "driver", "weight_lb": {"value": 200, "plus_minus": 20},
               "behind_front_axle_in": {"value": 64, "plus_minus": 6}}]  # fmt: skip
    plates = {"steer": 1000, "drive": 1000, "axles": 1000, "rig": {"shown_lb": 1000, "scale": "long"}}
    states = [
        weighing("truck", steer=1000, drive=1000, truck={"shown_lb": 1000, "scale": "long"}, aboard=driver),
        weighing("hitched", **plates, aboard=driver),
        weighing("hitched", "loader", **plates, drive_axles={"shown_lb": 1000, "scale": "long"}, aboard=driver),
    ]
    for state in states:
        for reading in state["reading"]:
            reading.setdefault("scale", "plates")
    of = trailer(
        axle=[{"from_coupler_in": {"value": at, "basis": "measured", "plus_minus": 0.5}} for at in (183, 217)]
    )
    scale = [{"id": "plates", "kind": "platform"}, {"id": "long", "kind": "platform"}]
    return Layout(ticket(*states, scale=scale), trailer=of, truck=truck(off=1.0))


TRUTH = {"steer": 4113.0, "drive": 2867.0, "coupler|": 417.0, "axle 1|": 1190.0, "axle 2|": 1190.0,
         "coupler|loader": 1263.0, "axle 1|loader": 4790.0, "axle 2|loader": 4790.0}  # fmt: skip


def _shown(layout: Layout, *, seed: int, sets: int = 1000, rectangular: bool = False) -> tuple:
    """Readings of a planted rig, shape ``(set, reading)``, and what truly stood there: each error drawn, then rounded.

    The rig itself is drawn once a set too: wheelbase, hitch and the driver are not quite what the files say.
    """
    rng = np.random.default_rng(seed)

    def error(doubt, shape):
        half = math.sqrt(3)
        return doubt * (rng.uniform(-half, half, shape) if rectangular else rng.normal(size=shape))

    base, ahead = 160 + error(1 / math.sqrt(3), sets), -56 + error(1 / math.sqrt(3), sets)
    people, at = 200 + error(20 / math.sqrt(3), sets), 64 + error(6 / math.sqrt(3), sets)
    true = np.zeros((sets, len(layout.taken)))
    for n, taken in enumerate(layout.taken):
        load = taken.state.load or ""
        on = {p for word in taken.reading.on for p in {"truck": ("steer", "drive"), "axles": ("a",),
                                                       "rig": ("steer", "drive", "a")}.get(word, (word,))}  # fmt: skip
        hitched = TRUTH[f"coupler|{load}"] if taken.state.state == "hitched" else 0.0
        if "steer" in on:
            true[:, n] += TRUTH["steer"] + hitched * ahead / base + people * (1 - at / base)
        if "drive" in on:
            true[:, n] += TRUTH["drive"] + hitched * (1 - ahead / base) + people * at / base
        if "a" in on:
            true[:, n] += TRUTH[f"axle 1|{load}"] + TRUTH[f"axle 2|{load}"]
    off = np.where(true <= 10_000, 20.0, np.where(true <= 20_000, 40.0, 60.0))  # class III L, 20 lb
    scales = {s: error(1.0, (sets, 1)) for s in ("plates", "long")}
    shared = np.concatenate([scales[t.scale.id] for t in layout.taken], axis=1)
    drawn = true + math.sqrt(0.5 / 3) * off * (shared + error(1.0, true.shape)) + error(10 / math.sqrt(3), true.shape)
    return np.round(drawn / 20) * 20, true


CENTERS = 300
"""Sets whose centers of gravity are looked at, one by one."""


def _edge(name: str, sets: int) -> float:
    """How far a share of 95 % strays by chance, 3.3 standard deviations of the binomial law."""
    return 3.3 * math.sqrt(0.95 * 0.05 / (min(sets, CENTERS) if name.startswith("center") else sets))


def _coverage(layout: Layout, shown: np.ndarray, true: np.ndarray, *, seed: int) -> dict[str, float]:
    """How many of the 95 % intervals hold the planted truth, by value; the axles stand not quite where they should."""
    fit, covered = layout.solve(shown), {}
    stood = {(t.state.load or "", *t.reading.on): n for n, t in enumerate(layout.taken) if t.state.state == "hitched"}
    part = {"front axle hitched": "steer", "rear axle hitched": "drive", "rig hitched": "rig"}
    for s in sums(layout):
        if s.name == "truck hitched":
            continue  # nobody weighed it at once
        along = vector_of(layout, s, fit)
        if s.name in part:
            want = true[:, stood[s.load, part[s.name]]]
        else:
            want = sum(by * TRUTH[n] for n, by in s.factors.items())
        held = np.abs(np.einsum("...p,...p->...", fit.values, along) - want) <= COVER * doubt(
            covariance=fit.covariance, combination=along
        )
        covered[f"{s.of} {s.name} {s.load}".strip()] = float(held.mean())
    some = shown[:CENTERS]
    moved = np.random.default_rng(seed).normal(0, 0.5 / math.sqrt(3), len(some))
    fits = [layout.solve(row) for row in some]
    for load in (EMPTY, "loader"):
        on = {a: TRUTH[f"{a}|{load}"] - (TRUTH[f"{a}|"] if load else 0) for a in ("axle 1", "axle 2")}
        weight = sum(on.values()) + TRUTH[f"coupler|{load}"] - (TRUTH["coupler|"] if load else 0)
        got = [center(layout, one, load) for one in fits]
        want = (on["axle 1"] * (183 + moved) + on["axle 2"] * (217 + moved)) / weight
        held = [abs(g.number - w) <= COVER * g.doubt for g, w in zip(got, want, strict=True)]
        covered[f"center {load}".strip()] = float(np.mean(held))
    return covered


def test_planted_truths_are_covered():
    """1,000 weighings, errors by the normal law of the sizes the scales are said to have, display rounded for true.

    A value whose interval holds the truth 95 times in 100 is held 950 times of 1,000, give or take
    sqrt(1000 x 0.95 x 0.05) = 6.9. Sixteen weights are looked at, and two places in 300 of the sets; 3.3 deviations
    either side are passed by chance in one of about a thousand draws of each: 927 to 973, and 272 to 298 of 300.
    """
    layout = _simulated_layout()
    covered = _coverage(layout, *_shown(layout, seed=20), seed=22)
    for name, share in covered.items():
        print(f"{name:28} {100 * share:.1f} %")
    assert len(covered) == 18
    assert {n: c for n, c in covered.items() if not abs(c - 0.95) <= _edge(n, 1000)} == {}


def test_planted_truths_are_covered_where_errors_keep_to_their_limits():
    """The same with every error anywhere between its limits alike: the intervals hold at least as often."""
    layout = _simulated_layout()
    covered = _coverage(layout, *_shown(layout, seed=21, sets=400, rectangular=True), seed=23)
    assert {n: c for n, c in covered.items() if c < 0.95 - _edge(n, 400)} == {}
