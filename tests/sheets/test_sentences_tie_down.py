"""What is said of a plan: aloud, for each tie-down, and never an unknown as a pass."""

from __future__ import annotations

import pytest

from answers.tied import chain, four, haul, kit, machine, ring, trailer
from rubrail.answers.rig import Placement
from rubrail.answers.tie_down import tie_down
from rubrail.sheets.sentences_tie_down import (
    friction_sentence,
    gear_taken,
    held_sentence,
    locked_sentence,
    reading_sentence,
    tie_down_sentence,
    tie_sentence,
)

AT = Placement((150.0,), ("front-first",))
BUCKET = chain("1L", "3", holds="accessory")


def plan(*plans, piece=None, on=None, **changes):
    given = {"haul": haul(piece or machine()), "trailer": on or trailer(), "kit": kit(), "placement": AT}
    return tie_down(**{**given, **changes}, plans=plans or None)


def test_the_first_sentence_can_be_said_aloud():
    said = tie_down_sentence(plan(four("2", "6", BUCKET)))
    assert said == (
        "Clear by the federal rules: four chains, and one for the accessory, hold piece m on unit T-1; closest limit:"
        " working load limits together against half the weight, 7,200 lb to spare."
    )


def test_over_says_what_is_in_the_way_and_what_to_do():
    said = tie_down_sentence(plan(four()))
    assert said.startswith(
        "Over: this plan does not hold piece m on unit T-1; in the way: accessories lowered and tied down, 0 of 1."
        " Tie down the bucket to D-ring "
    )


def test_not_known_asks_and_never_passes():
    said = tie_down_sentence(plan(on=trailer(anchors=[ring(60 + 40 * n, wll=None) for n in range(8)])))
    assert said.startswith("Not known whether four chains, and one for the accessory, hold piece m on unit T-1: ask ")
    assert "working load limit of its anchor" in said
    assert "lear" not in said


def test_against_guidance_says_that_it_is_no_law():
    weak = trailer(anchors=[ring(60 + 40 * n, wll=4000) for n in range(8)])
    said = tie_down_sentence(plan(four("2", "6", BUCKET), on=weak))
    assert said.startswith("Depends: ")
    assert "against guidance, which is not law: each tie-down of a machine" in said


@pytest.mark.parametrize("metric", [False, True])
def test_each_tie_down_tells_its_way_and_what_governs_it(metric):
    tie = plan(four("2", "6", BUCKET)).pieces[0].ties[0]
    said = tie_sentence(tie, metric=metric)
    assert said.startswith("1: 0.375 in chain, grade 70 with lever binder, from D-ring 2, left to the front, left; ")
    amounts = ("2,994 kg", "1,497 kg") if metric else ("6,600 lb", "3,300 lb")
    assert said.endswith(f"good for {amounts[0]} by its chain and hooks and anchor, of which {amounts[1]} counts.")


def test_an_unknown_limit_is_named():
    tie = plan(four("2", "6", BUCKET), kit=kit(hook_wll_lb=None)).pieces[0].ties[0]
    assert "good for what its hooks allows, which is not known" in tie_sentence(tie)


def test_directions_readings_friction_and_articulation():
    piece = plan(four("2", "6", BUCKET), piece=machine(articulated=True)).pieces[0]
    up = held_sentence(piece.held[4])
    assert up.startswith("Up: ")
    assert up.endswith("g before anything breaks, 0.2 g asked.")
    assert "the one that governs here: half of each" in reading_sentence(piece.readings[0])
    assert locked_sentence(piece).startswith("Lock the articulation of piece m")
    assert friction_sentence(piece).startswith("Reckoned with friction 0.5")
    assert gear_taken(piece) == ["5 of c: 0.375 in chain, grade 70, with lever binder b."]


def test_the_european_method_is_named():
    assert "by EN 12195-1" in tie_down_sentence(plan(four("2", "6", BUCKET), method="en"))


def test_cautions_stand_with_the_answer():
    words = " ".join(plan(four()).cautions)
    for word in ("parking brake", "Chock", "manual"):
        assert word in words


def test_too_weak_together_says_what_each_would_have_to_be_good_for():
    # 12,000 lb asks 6,000; four that count half: 3,000 lb each; rings of 2,500 give 5,000.
    weak = trailer(anchors=[ring(x, wll=2500) for x in (110, 300)])
    said = tie_down_sentence(plan(on=weak, piece=machine(accessory_count=0)))
    assert "working load limits together against half the weight, 1,000 lb past the limit" in said
    assert said.endswith(
        "Each of these four would have to be good for 3,000 lb; now its anchor governs; or it takes more of them."
    )
