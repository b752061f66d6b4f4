"""What is said of scale tickets."""

from __future__ import annotations

from answers.test_ticket import ALONE, EMPTY_RIG, LOADED, read, weighing
from rubrail.sheets.sentences_ticket import (
    UNCHECKED,
    agreement_sentence,
    causes,
    needs_told,
    proposal_sentence,
    ticket_sentence,
    value_words,
)


def test_what_agrees():
    said = ticket_sentence(read(ALONE, EMPTY_RIG, LOADED))
    assert said.startswith("The trailer weighs 2,800 ± ")
    assert "400 ± " in said
    assert said.endswith("The readings agree.")


def test_what_nothing_checks_is_said():
    states = (weighing("truck", steer=4100, drive=2800), weighing("hitched", axles=2400, rig=9700))
    assert ticket_sentence(read(*states)).endswith(UNCHECKED)
    assert agreement_sentence(read(*states)) == UNCHECKED


def test_what_is_over_is_in_the_first_sentence():
    heavy = weighing("hitched", "loader", steer=3400, drive=5500, axles=14100)
    answer = read(ALONE, EMPTY_RIG, heavy)
    assert answer.verdict == "over"
    # 2,000 on the coupler and 14,100 on the axles of a trailer of 14,000 with axles of 14,000 together
    assert ticket_sentence(answer).startswith(
        "Over, as weighed: whole trailer with loader 2,100 lb more than the trailer's GVWR"
        " and trailer axles, with loader 100 lb more than the axles' ratings. The trailer weighs"
    )
    assert answer.proposals, "the readings are sound all the same"


def test_a_missing_weight_says_what_would_tell_it():
    answer = read(weighing("hitched", axles=2400))
    assert "Not known: " in ticket_sentence(answer)
    said = " ".join(needs_told(answer))
    assert "Empty coupler load is not told. One reading more tells it: " in said
    assert "the coupler, trailer alone, empty" in said


def test_causes_go_by_which_way_it_is_off():
    steady = weighing("truck", steer=4100, drive=2800, truck=6900)
    low, high = (
        read(steady, weighing("hitched", steer=3960, drive=3340, axles=shown, rig=9700, drive_axles=5740))
        for shown in (2000, 2800)
    )
    for answer, first, never in (
        (low, "a wheel not wholly on the plate", "mud, snow"),
        (high, "mud, snow or water on the deck", "not wholly on the plate"),
    ):
        off = next(r for r in answer.readings if r.word == "off")
        assert causes(off)[0].startswith(first)
        assert not any(never in cause for cause in causes(off))
    assert causes(low.readings[0]) == ()


def test_what_is_taken_over_stands_beside_what_was_there():
    answer = read(ALONE, EMPTY_RIG)
    said = {p.field: proposal_sentence(p) for p in answer.proposals}
    assert said["weights.empty_lb"].endswith("lb, weighed: 160 lb more than 2,640 lb, by the maker's sheet")
    assert said["weights.front_axle_lb"].endswith("weighed: it was not known")


def test_every_value_has_words_of_its_own():
    left = {"on": ["axle 1"], "side": "left", "shown_lb": 600}
    state = {**EMPTY_RIG, "reading": [*EMPTY_RIG["reading"], left]}
    words = [value_words(v) for v in read(ALONE, state, LOADED).values]
    assert len(words) == len(set(words))
    assert "trailer axle 1, left wheels (hitched, empty)" in words
