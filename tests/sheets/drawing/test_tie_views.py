"""Tie-downs drawn to scale: every chain between its own places, numbered, with what a page drags ends by."""

from __future__ import annotations

import re

import pytest

from answers.tied import chain, four, haul, kit, machine, ring, scene, trailer
from rubrail.answers.rig import Placement
from rubrail.answers.secure_judge import secured
from rubrail.answers.secure_parts import Plan
from rubrail.answers.secure_propose import proposals, proposed
from rubrail.answers.secure_scene import scenes
from rubrail.demo import YARD
from rubrail.sheets.drawing import Placed, Rig
from rubrail.sheets.drawing.tie_views import tie_plan, tie_side
from rubrail.things.folder import load_yard, resolve
from rubrail.things.rig_cargo import pieces_of
from sheets.drawing.reading import Drawing

WIDTHS = (360.0, 760.0, 1100.0)


def drawn(view, plan=None, *, on=None, piece=None, width_px=960.0, targets=True) -> Drawing:
    on, piece = on or trailer(), piece or machine()
    s = scene(on=on, piece=piece)
    rig = Rig(trailer=on, cargo=[Placed(piece, 150.0)])
    found = secured(s, plan or proposed(s))
    return Drawing(view(rig, [found], [s] if targets else [], width_px=width_px))


def ends(group) -> dict[str, tuple[float, float]]:
    """Places of a tie-down's ends, px."""
    return {c.get("data-end"): (float(c.get("cx")), float(c.get("cy"))) for c in group if c.get("data-end")}


def test_a_chain_runs_from_its_ring_to_its_point_in_plan():
    drawing = drawn(tie_plan, four("2", "6", chain("1L", "3", holds="accessory")))
    tie = next(t for t in drawing.parts("tie") if t.get("data-tie") == "1")
    scale, at = drawing.scale, ends(tie)
    # Ring 2 left: 100 in behind, 48 in left, which is down; front point: 150 + 24 behind, 30 left.
    assert at["anchor"] == pytest.approx((100 * scale, 48 * scale), abs=0.02)
    assert at["point"] == pytest.approx((174 * scale, 30 * scale), abs=0.02)
    assert (tie.get("data-anchor"), tie.get("data-point"), tie.get("data-number")) == ("2L", "1L", "1")


def test_and_from_the_side():
    drawing = drawn(tie_side, four("2", "6"))
    tie = next(t for t in drawing.parts("tie") if t.get("data-tie") == "1")
    scale, at = drawing.scale, ends(tie)
    assert at["anchor"] == pytest.approx((100 * scale, -30 * scale), abs=0.02)
    assert at["point"] == pytest.approx((174 * scale, -50 * scale), abs=0.02)


@pytest.mark.parametrize("view", [tie_plan, tie_side])
def test_every_tie_down_is_there_and_numbered(view):
    s = scene()
    drawing = drawn(view)
    plan = proposed(s)
    assert sorted(t.get("data-tie") for t in drawing.parts("tie")) == [str(n + 1) for n in range(len(plan.ties))]
    numbers = " ".join(label.get("data-tie") for label in drawing.parts("tie-label")).split()
    assert sorted(numbers) == [str(n + 1) for n in range(len(plan.ties))]


def test_ends_may_go_to_every_ring_and_point():
    drawing = drawn(tie_plan)
    s = scene()
    assert {a.get("data-key") for a in drawing.parts("tie-anchor")} == set(s.anchors)
    assert {p.get("data-key") for p in drawing.parts("tie-point")} == set(s.points)
    one = next(a for a in drawing.parts("tie-anchor") if a.get("data-key") == "3R")
    assert [float(one.get(f"data-{c}-in")) for c in "xyz"] == [140, 48, 30]
    assert drawn(tie_plan, targets=False).parts("tie-anchor") == []


def test_what_does_not_hold_and_what_is_not_known_look_so():
    rings = [ring(60 + 40 * n, wll=None if n == 1 else 6600) for n in range(8)]
    unknown = drawn(tie_plan, four("2", "6"), on=trailer(anchors=rings))
    verdicts = {t.get("data-tie"): t.get("data-verdict") for t in unknown.parts("tie")}
    assert (verdicts["1"], verdicts["3"]) == ("not known", "clear")
    s = scene(with_kit=kit(length_in=78))
    rig = Rig(trailer=trailer(), cargo=[Placed(machine(), 150.0)])
    short = Drawing(tie_plan(rig, [secured(s, four("2", "6"))]))
    # The front chains need 78.7 in; the rear ones, upright, do not.
    assert [t.get("data-verdict") for t in short.parts("tie")] == ["over", "over", "clear", "clear"]
    assert "red: does not hold" in " ".join(short.texts())


def test_a_plan_without_known_ends_draws_none_and_says_so():
    drawing = drawn(tie_plan, Plan())
    assert drawing.parts("tie") == []
    assert "no tie-down whose ends are known" in " ".join(drawing.texts())


def test_the_words_for_those_who_hear_it():
    drawing = drawn(tie_plan, four("2", "6"))
    desc = drawing.root[1].text
    assert re.match(r"1: .* chain, grade 70, from D-ring 2, left to front, left, 78.7 in, good for 6,600 lb\.", desc)


YARD_PLANS = [
    ("02-midi-excavator-for-hire", "SH-191"), ("03-landscaper-track-loader", "SH-137"),
    ("04-three-machines", "SH-212"), ("05-hay-round-bales", "SH-212"), ("13-scissor-lifts", "SH-121"),
]  # fmt: skip
PLACES = {"04-three-machines": (98.0, 200.0, 320.0), "13-scissor-lifts": (70.0, 160.0)}


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize(("name", "unit"), YARD_PLANS)
def test_no_letter_on_another_and_none_cut_off(name, unit, width):
    yard = load_yard(YARD)
    job, on = resolve(yard.hauls[name], yard), yard.trailers[unit]
    pieces = pieces_of(job)
    front = PLACES.get(name, (float(on.deck.front_from_coupler_in) + 20,))[: len(pieces)]
    place = Placement(front, ("front-first",) * len(pieces))
    known, plans = proposals(scenes(haul=job, trailer=on, placement=place, kit=yard.kit))
    found = [secured(s, p) for s, p in zip(known, plans, strict=True)]
    rig = Rig(trailer=on, cargo=[Placed(p, x) for p, x in zip(pieces, front, strict=True)])
    for view in (tie_plan, tie_side):
        drawing = Drawing(view(rig, found, known, width_px=width))
        assert drawing.collisions() == []
        assert drawing.clipped() == []
        assert len(drawing.parts("tie")) == sum(t.length_in == t.length_in for p in found for t in p.ties)


def test_haul_pieces_are_lettered_where_there_are_several():
    pieces = haul(machine(), machine(id="n", weight_lb=4000))
    laid = scenes(haul=pieces, trailer=trailer(), kit=kit(chains=10, binders=10),
                  placement=Placement((70.0, 220.0), ("front-first",) * 2))  # fmt: skip
    known, plans = proposals(laid)
    rig = Rig(trailer=trailer(), cargo=[Placed(machine(), 70.0), Placed(machine(), 220.0)])
    drawing = Drawing(tie_plan(rig, [secured(s, p) for s, p in zip(known, plans, strict=True)]))
    assert {t.get("data-tie")[0] for t in drawing.parts("tie")} == {"A", "B"}
