"""The walk-around: each station says what the answers say, and what it works out itself is held by pencil."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from answers.yard import HAULS, haul, yard
from rubrail.answers.climb import climb_on
from rubrail.answers.company import beside
from rubrail.answers.rig import Placement
from rubrail.answers.tie_down import tie_down
from rubrail.answers.walk import walk
from rubrail.answers.walk_haul import told_apart
from rubrail.answers.walk_parts import STATIONS, Walk, severity
from rubrail.answers.weigh import weigh
from rubrail.checks.rows import TOLD_KINDS
from rubrail.checks.verdict import WORDS
from rubrail.things.trailer import Trailer

UNITS = tuple(sorted(yard().trailers))
LOADER, HEAVY = "03-landscaper-track-loader", "SH-133"
# Every haul once, on units from all over the yard: every station and every kind of cargo is met.
RIGS = [(UNITS[3 * i % len(UNITS)], name) for i, name in enumerate(HAULS)]


# Its walks are read again by the tests of their words, in the same process.
pytestmark = pytest.mark.xdist_group("walk")


@cache
def on_the_lot():
    return beside(tuple(yard().trailers.values()))


@cache
def walked(unit: str, name: str = "") -> Walk:
    t = yard().trailers[unit]
    return walk(trailer=t, haul=haul(name) if name else None, kit=yard().kit, company=on_the_lot()(t))


def changed(unit: str, **parts) -> Trailer:
    return yard().trailers[unit].model_copy(update=parts)


def test_stations_stand_front_to_back_and_only_where_there_is_something():
    for unit in UNITS:
        keys = [s.key for s in walked(unit).stations]
        assert keys == [k for k in STATIONS if k in keys]
        t = yard().trailers[unit]
        assert ("box" in keys) == bool(t.equipment)
        assert ("tail" in keys) == (t.deck.tail_kind not in (None, "none") or t.deck.tilt_length_in is not None)
    assert walked("SH-211").station("ramps").point("no-ramps") is not None


@pytest.mark.parametrize(("unit", "name"), RIGS)
def test_what_a_haul_does_is_what_the_answers_say(unit, name):
    """Line for line the weighing's and the climb's own; nothing not clear of the weighing is told nowhere; and its
    verdict is the worst of weighing, climb and plan."""
    found, t = walked(unit, name), yard().trailers[unit]
    weighed = weigh(haul=haul(name), trailer=t, remedies=False)
    where = Placement(tuple(p.front_x_in for p in weighed.pieces), tuple(p.facing for p in weighed.pieces))
    climbed = climb_on(haul=haul(name), trailer=t, placement=where, remedies=False)
    assert (found.weighed, found.climbed) == (weighed.verdict, climbed.verdict)
    three = (found.weighed, found.climbed, found.tied)
    assert found.verdict == min((w for w in three if w != "does not apply"), key=WORDS.index)
    theirs = [*weighed.lines, *(x for m in climbed.machines for x in m.lines)]
    told = [p for s in found.stations for p in s.haul if p.line is not None and p.key != "tie-down"]
    assert told
    key = lambda x: (x.check, x.member, x.verdict, repr(x.demand), repr(x.limit))  # noqa: E731
    assert {key(p.line) for p in told} <= {key(x) for x in theirs}
    assert all(p.verdict == p.line.verdict and p.key == p.line.check for p in told)
    bad = {
        x.check for x in weighed.lines if x.kind not in TOLD_KINDS and x.verdict in ("over", "not known", "depends")
    }
    assert bad <= {p.key for p in told}
    # Of several axles or pieces the worst is told.
    order = lambda x: WORDS.index(x.verdict)  # noqa: E731
    for p in told:
        if p.line in weighed.lines and p.line.kind not in TOLD_KINDS:
            assert order(p.line) == min(order(x) for x in weighed.lines if x.check == p.key)


def test_anchors_are_those_of_the_plan():
    plan = tie_down(haul=haul(LOADER), trailer=yard().trailers[HEAVY], kit=yard().kit, changes=False)
    assert walked(HEAVY, LOADER).tied == plan.verdict
    point = walked(HEAVY, LOADER).station("deck").point("tie-down")
    assert point.verdict == plan.pieces[0].verdict
    assert point.get("tie-downs") == len(plan.pieces[0].ties)
    assert set(point.words) == {t.anchor_title for t in plan.pieces[0].ties}


def test_worst_comes_first():
    for unit, name in RIGS:
        for s in walked(unit, name).stations:
            codes = [severity(p) for p in s.haul]
            assert codes == sorted(codes)


# ---- by pencil, beside the arithmetic


def test_ramp_angle_by_pencil():
    # SH-133: deck 24 in less 5 in of tail is an edge of 19 in; ramps of 60 in: asin(19/60) = 0.3222 rad = 18.46 deg
    point = walked(HEAVY).station("ramps").point("ramp-angle")
    assert point.get("edge") == 19
    assert point.get("angle") == pytest.approx(0.3222, abs=5e-5)
    # driven, the slope is the same: the climb says it, and a tail of 5 in 24 is 11.77 deg
    slope = walked(HEAVY, LOADER).station("ramps").point("climb-slope").line
    assert slope.demand == pytest.approx(point.get("angle"), abs=1e-6)
    assert math.degrees(walked(HEAVY).station("tail").point("tail-angle").get("angle")) == pytest.approx(
        11.77, abs=0.01
    )


def test_tire_reserve_by_pencil():
    # 14,550 lb less 1,556 on the coupler is 12,994 on two axles, 6,497 each; two tires of 4,080 lb: 8,160.
    # 1 - 6,497 / 8,160 = 0.2038
    line = walked(HEAVY, LOADER).station("tires").point("axle-tires").line
    assert line.demand == pytest.approx(6497, abs=1)
    assert line.limit == 8160
    assert line.share == pytest.approx(0.2038, abs=2e-4)


def test_a_foot_forward_by_pencil():
    # axles at 185 and 219: middle 202. 11,000 x 12 / 202 = 653.5; 1,000 x 12 / 202 = 59.4
    s = walked(HEAVY, LOADER).station("deck-front")
    assert s.point("foot-forward-haul").get("coupler") == pytest.approx(653.5, abs=0.1)
    assert s.point("foot-forward").get("coupler") == pytest.approx(59.41, abs=0.01)


def test_crossmember_by_pencil():
    # 11,000 lb on 66 in, center 90 - 52 = 38 in along, every 12 in. Pressure 90.91 to 242.42 lb/in, rising 2.2957.
    # 12 in from the end: 12 x 214.88 = 2,578.5; moved back 1.355 in: + 37.33 - 18.55 - 0.08 = 2,597.2 lb
    point = walked(HEAVY, LOADER).station("frame").point("member-load")
    assert point.get("heaviest") == pytest.approx(2597.2, abs=0.5)
    assert point.get("members") == 5.5
    assert point.get("even") == 2000
    assert point.verdict == ""


def test_equipment_and_label_by_pencil():
    # SH-201: axles at 308 and 356, middle 332; a toolbox of 180 lb at 84: 180 x (1 - 84/332) = 134.46
    box = walked("SH-201").station("box").alone[0]
    assert box.get("coupler") == pytest.approx(134.46, abs=0.01)
    # SH-133: 15,400 - 3,550 = 11,850; 15,400 - 2 x 7,000 = 1,400
    assert walked(HEAVY).station("lights").point("payload-by-label").get("payload") == 11_850
    assert walked(HEAVY).station("running-gear").point("axles-and-label").get("share") == 1_400


def test_build_choice_by_pencil():
    # SH-201 is pierced, tops flush, crossmembers 4 in deep, deck 32.25 in: on the beams it would be 36.25
    p = walked("SH-201").station("frame").point("build-choice")
    assert (p.get("height"), p.get("other-way")) == (32.25, 36.25)
    # SH-211 is stacked, crossmembers 3 in deep, deck 33.5: through the beams 30.5. 5,640 lb on 28 ft: 201.4 a foot
    p = walked("SH-211").station("frame").point("build-choice")
    assert (p.get("height"), p.get("other-way")) == (33.5, 30.5)
    assert p.get("empty-per-ft") == pytest.approx(201.43, abs=0.01)


def test_beside_the_others():
    """Medians of those built alike, counted by hand here and not by what the walk uses."""
    s = walked("SH-211").station("frame")
    mine = yard().trailers["SH-211"]
    alike = [
        t for t in yard().trailers.values()
        if t.id != mine.id and t.coupling.kind == "gooseneck" and t.deck.kind == "deck-over"
        and t.status in ("in-stock", "held", "on-order")
    ]  # fmt: skip
    stacked = [t for t in alike if t.frame.build == "stacked"]
    told = next(b for b in s.builds if b.build.endswith("on the main beams"))
    assert told.others == len(stacked)
    assert told.deck_height_in == pytest.approx(np.median([float(t.deck.height_in) for t in stacked]))
    assert {d.trait.key for d in walked("SH-201").station("frame").differs} >= {"empty", "build"}


def test_whom_few_of_a_kind_are_beside():
    """Four other pintle trailers are too few: decks of its kind are taken; only those say what a build comes to."""
    there = [t for t in yard().trailers.values() if t.status in ("in-stock", "held", "on-order") and t.id != "SH-172"]
    over = [t for t in there if t.deck.kind == "deck-over"]
    assert sum(t.coupling.kind == "pintle" for t in there) == 4
    assert (walked("SH-172").circle, walked("SH-172").others) == ("deck-over", len(over))
    # SH-164 stands beside 23 ball-coupler trailers, most of them low between fenders: not what its build is held to
    mine = walked("SH-164")
    assert mine.circle == "ball-coupler"
    like = [t for t in there if t.coupling.kind == "ball" and t.deck.kind == "deck-over" and t.id != "SH-164"]
    assert sum(b.others for b in mine.station("frame").builds) == len(like) == 3


def test_pieces_of_one_name_are_told_apart():
    assert told_apart(["Lift, 19 ft", "Roller", "Lift, 19 ft"]) == [
        "first lift, 19 ft",
        "Roller",
        "second lift, 19 ft",
    ]
    plans = [p.about for p in walked("SH-194", "13-scissor-lifts").station("deck").haul if p.key == "tie-down"]
    assert len(set(plans)) == len(plans) == 2


def test_what_the_label_leaves_by_pencil():
    # SH-201 with three machines: 30,000 on the label less 24,680 loaded
    point = walked("SH-201", "04-three-machines").station("box").point("left-by-label")
    assert point.get("left") == pytest.approx(5_320, abs=1)
    assert point.line is None


# ---- not known


def test_a_rating_nobody_knows_never_passes():
    t = yard().trailers[HEAVY]
    bare = walk(
        trailer=changed(
            HEAVY,
            coupling=t.coupling.model_copy(update={"gross_rating_lb": None}),
            jack=t.jack.model_copy(update={"rating_lb": None}),
            chains=t.chains.model_copy(update={"strength_lb": None}),
            frame=t.frame.model_copy(update={"crossmember_spacing_in": None}),
            weights=t.weights.model_copy(update={"empty_lb": None}),
        ),
        haul=haul(LOADER),
    )
    for station, key in (
        ("coupling", "coupler-carries-label"), ("chains", "chains-carry-label"), ("jack", "jack-holds"),
    ):  # fmt: skip
        point = bare.station(station).point(key)
        assert point.verdict == "not known"
        assert point.needs
    load = bare.station("frame").point("member-load")
    assert math.isnan(load.get("heaviest"))
    assert load.needs[0].name == "crossmember_spacing_in"
    assert math.isnan(bare.station("lights").point("payload-by-label").get("payload"))
    assert bare.verdict == "not known"
    assert bare.tied == ""


def test_a_machine_of_unknown_weight_or_footing_loads_no_crossmember():
    of = haul(LOADER)
    piece = of.cargo[0].piece
    for update, name in (({"weight_lb": None}, "item_weight_lb"), ({"contact": None}, "item_contact_front_in")):
        load = of.cargo[0].model_copy(update={"piece": piece.model_copy(update=update)})
        found = walk(trailer=yard().trailers[HEAVY], haul=of.model_copy(update={"cargo": (load,)}))
        point = found.station("frame").point("member-load")
        assert math.isnan(point.get("heaviest"))
        assert name in {n.name for n in point.needs}


def test_a_place_of_ones_own_is_walked_for():
    found = walk(trailer=yard().trailers[HEAVY], haul=haul(LOADER), placement=Placement((58.0,), ("front-first",)))
    assert found.station("deck-front").point("first-piece").get("behind") == 0
    with pytest.raises(ValueError, match="a placement needs a place"):
        walk(trailer=yard().trailers[HEAVY], haul=haul(LOADER), placement=Placement((), ()))
