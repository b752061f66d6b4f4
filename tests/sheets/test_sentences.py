"""The sentence of each verdict, awkward cases included, from hand-made records."""

from __future__ import annotations

from math import inf, nan

import pytest

from rubrail.answers.report import Line, Need, Piece, Remedy, Weighing
from rubrail.sheets.sentences import weighing_sentence
from rubrail.sheets.sentences_lines import line_sentence, remedy_sentence, settle_sentence, unknown_sentence, why_not
from rubrail.sheets.sentences_words import called, cargo, found_out, limit_name, together

WEIGHT = Need(
    "item_weight_lb",
    "weight_lb of cargo skid-steer",
    "weight with all that travels on it",
    8_200.0,
    410.0,
    "estimated",
)
REAR = Need("truck_rear_gawr_lb", "truck.ratings.rear_gawr_lb", "rear axle rating", nan, 0.0, "")
TALL = Need("bed_rail_height_in", "truck.size.bed_rail_height_in", "height of the bed rail", nan, 0.0, "")
CHAINS = Need("chain_count", "trailer.chains.count", "safety chains", nan, 0.0, "")
PLUG = Need("trailer_plug", "trailer.plug", "plug of the trailer", nan, 0.0, "")


def line(**changes) -> Line:
    usual = {
        "check": "hitch-vertical",
        "title": "hitch on the truck against the load on it",
        "kind": "rating",
        "group": "coupling",
        "member": "",
        "verdict": "clear",
        "demand": 1_432.0,
        "limit": 1_500.0,
        "margin": 68.0,
        "worst_margin": 12.0,
        "share": 68 / 1500,
        "unit": "lb",
        "says": "What rests on the hitch may not be more than its rating.",
    }
    return Line(**{**usual, **changes})


def piece(title: str, id: str = "p") -> Piece:
    return Piece(id, title, 8_200.0, "front-first", 100.0, 170.0, 240.0, 40.0, 110.0)


def weighing(verdict: str, governing: Line | None, **changes) -> Weighing:
    usual = {
        "trailer": "Y-104",
        "trailer_title": "Low equipment, 20 ft",
        "truck": "Half-ton crew cab",
        "haul": "one skid steer",
        "lines": (governing,) if governing else (),
        "loads": (),
        "pieces": (piece("Skid steer"),),
        "settle": (),
        "unknown": (),
        "remedies": (),
    }
    return Weighing(verdict=verdict, governing=governing, **{**usual, **changes})


OVER = line(verdict="over", demand=1_812.0, margin=-312.0, worst_margin=-400.0, share=-0.208)
MOVE = Remedy("move", "move the load 14 in rearward", 14.0, "in", ("hitch-vertical",), "clear")


def test_clear_says_what_works_what_governs_and_by_how_much():
    said = weighing_sentence(weighing("clear", line()))
    assert said == (
        "Clear: the low equipment trailer Y-104 carries the skid steer behind the half-ton crew cab;"
        " closest limit: hitch on the truck against the load on it, 68 lb to spare."
    )


def test_metric_changes_the_numbers_and_nothing_else():
    assert "31 kg to spare" in weighing_sentence(weighing("clear", line()), metric=True)  # 68 lb = 30.84 kg
    over = weighing_sentence(weighing("over", OVER, remedies=(MOVE,)), metric=True)
    assert "142 kg past the limit" in over  # 312 lb = 141.5 kg
    assert "Move the load 356 mm rearward" in over  # 14 in = 355.6 mm


def test_over_says_by_how_much_and_what_to_do():
    said = weighing_sentence(weighing("over", OVER, remedies=(MOVE,)))
    assert said == (
        "Over: the low equipment trailer Y-104 does not carry the skid steer behind the half-ton crew cab;"
        " in the way: hitch on the truck against the load on it, 312 lb past the limit."
        " Move the load 14 in rearward, and it is clear."
    )


def test_over_counts_the_other_limits_but_not_guidance():
    lines = (OVER, line(check="axle", verdict="over", margin=-5.0), line(kind="guidance", verdict="over", margin=-1.0))
    assert "and 1 more." in weighing_sentence(weighing("over", OVER, lines=lines))


def test_over_without_remedies_promises_nothing():
    assert weighing_sentence(weighing("over", OVER), tried=False).endswith("312 lb past the limit.")
    assert weighing_sentence(weighing("over", OVER)).endswith("it takes another unit, truck or load.")


def test_a_remedy_that_leaves_it_over_is_not_offered_as_the_way_out():
    still = Remedy("rating", "hitch: at least 1,850 lb", 1_850.0, "lb", ("hitch-vertical",), "over")
    assert "No one change clears everything" in weighing_sentence(weighing("over", OVER, remedies=(still,)))


def test_depends_names_the_measurement():
    tight = line(verdict="depends", worst_margin=-90.0, settle=(WEIGHT,))
    said = weighing_sentence(weighing("depends", tight))
    assert "68 lb to spare, and the doubt in the numbers is larger" in said
    assert "measure weight with all that travels on it (skid-steer, by scale ticket)" in said
    assert "now 8,200 lb by somebody's estimate, give or take 410 lb" in said


def test_aloud_only_the_first_measurement_is_named():
    tight = line(verdict="depends", worst_margin=-90.0, settle=(WEIGHT, TALL, CHAINS))
    said = weighing_sentence(weighing("depends", tight))
    assert said.endswith("; then 2 more inputs.")
    assert "height of the bed rail" in settle_sentence(tight.settle)


def test_the_same_input_of_several_axles_is_asked_for_once():
    wheels = [
        Need(
            "axle_wheel_rating_lb",
            f"axle[{n}].wheel_rating_lb of trailer Y-104",
            "load one wheel is rated for",
            nan,
            0.0,
            "",
        )
        for n in (1, 2)
    ]
    said = weighing_sentence(weighing("not known", line(verdict="not known", margin=nan, missing=tuple(wheels))))
    assert said.endswith("ask for load one wheel is rated for (axles 1 and 2, stamped on the part).")


@pytest.mark.parametrize("verdict", ["over", "depends", "not known"])
def test_guidance_is_called_guidance_and_never_a_rating(verdict):
    share = line(
        kind="guidance", title="coupler load at least the share advised", verdict=verdict,
        margin={"over": -120.0, "depends": 40.0, "not known": nan}[verdict],
        missing=(WEIGHT,) if verdict == "not known" else (), settle=(WEIGHT,) if verdict == "depends" else (),
    )  # fmt: skip
    said = weighing_sentence(weighing("depends", share))
    assert said.startswith("Depends: the low equipment trailer Y-104 carries")
    assert "guidance, which is not law" in said
    assert "within every rating and law" in said
    if verdict == "not known":
        assert "is not known" in said


def test_not_known_asks_and_does_not_pass():
    said = weighing_sentence(weighing("not known", line(verdict="not known", margin=nan), unknown=(REAR,)))
    assert said == (
        "Not known whether the low equipment trailer Y-104 carries the skid steer behind the half-ton crew cab:"
        " ask for rear axle rating (on the door label)."
    )


def test_many_unknowns_are_counted_not_dropped():
    assert "and 1 more" in weighing_sentence(weighing("not known", None, unknown=(REAR, TALL, CHAINS, PLUG)))


def test_all_unknown_and_no_governing_line():
    said = weighing_sentence(weighing("not known", None))
    assert said.startswith("Not known whether")
    assert "something it needs was not written down" in said


def test_clear_without_a_governing_line_says_that_nothing_was_checked():
    said = weighing_sentence(weighing("clear", None))
    assert "as far as described" in said
    assert "no rating, law or fit check applies" in said


def test_yes_or_no_limits_state_no_amounts():
    ball = line(
        title="ball size against the coupler", kind="fit", unit="", demand=1.0, limit=1.0, margin=0.0, share=inf
    )
    assert weighing_sentence(weighing("clear", ball)).endswith("; every limit holds.")
    wrong = line(title="ball size against the coupler", kind="fit", unit="", demand=1.0, limit=0.0, margin=-1.0,
                 verdict="over")  # fmt: skip
    assert "ball size against the coupler, which does not hold" in weighing_sentence(weighing("over", wrong))


def test_exactly_at_the_limit_has_nothing_to_spare():
    at = line(demand=1_500.0, margin=0.0, share=0.0)
    assert "nothing to spare" in weighing_sentence(weighing("clear", at))


def test_a_hair_past_the_limit_is_not_rounded_away():
    hair = line(verdict="over", demand=1_500.3, margin=-0.3)
    assert "0.3 lb past the limit" in weighing_sentence(weighing("over", hair))


def test_an_empty_trailer_and_a_trailer_without_a_title():
    said = weighing_sentence(weighing("clear", line(), pieces=(), trailer_title="Y-104"))
    assert said.startswith("Clear: unit Y-104 goes empty behind the half-ton crew cab;")


def test_cargo_is_named_counted_or_summed_up():
    assert cargo((piece("Skid steer"), piece("Mini excavator"))) == "the skid steer and the mini excavator"
    assert cargo((piece("Crate"), piece("Crate"))) == "two crates"
    assert cargo(tuple(piece(t) for t in ("A b", "C d", "E f", "G h"))) == "all 4 pieces"
    assert cargo(()) == "nothing"


@pytest.mark.parametrize(
    ("title", "said"),
    [
        ("Low equipment tag", "the low equipment tag"),
        ("GN tandem dual", "the GN tandem dual"),
        ("3.5 t excavator", "the 3.5 t excavator"),
        ("The old one", "the old one"),
        ("gooseneck deck-over, 24 + 5 ft, two 10,000 lb axles", "the gooseneck deck-over"),
        ("10,000 lb crate", "the 10,000 lb crate"),
        ("Y-104", "unit Y-104"),
    ],
)
def test_titles_inside_a_sentence(title, said):
    assert called(title, "Y-104") == said


def test_a_piece_is_told_by_its_name():
    two = (piece("Skid steer"), piece("Mini excavator", "q"))
    neck = line(title="body of a piece clear of the neck", member="piece 2", unit="in", margin=3.0)
    assert "closest limit: body of the mini excavator clear of the neck, 3 in" in weighing_sentence(
        weighing("clear", neck, pieces=two)
    )
    deck = line(title="wheels on the deck", member="piece 1", unit="in", margin=3.0)
    assert "wheels on the deck (the skid steer), 3 in" in weighing_sentence(weighing("clear", deck, pieces=two))


def test_a_member_is_worked_into_the_title():
    assert limit_name("each trailer axle against its rating", "axle 2") == "trailer axle 2 against its rating"
    assert limit_name("wheels of each trailer axle", "axle 1") == "wheels of trailer axle 1"
    assert limit_name("width on the deck", "piece 1") == "width on the deck, piece 1"
    assert limit_name("each trailer axle against its rating", "axles 1 and 2") == (
        "trailer axles 1 and 2 against its rating"
    )
    assert together(("axle 1", "axle 2", "axle 4")) == "axles 1, 2 and 4"
    assert together(("axle 1",)) == "axle 1"
    assert together(()) == ""
    assert together(("steer axle", "axle 2")) == "steer axle and axle 2"


def test_line_sentences():
    assert line_sentence(line()) == (
        "Hitch on the truck against the load on it: 1,432 lb against 1,500 lb, 68 lb to spare (5 %)."
    )
    assert line_sentence(OVER).endswith("1,812 lb against 1,500 lb, 312 lb past the limit.")
    doubt = line(verdict="depends", worst_margin=-90.0)
    assert line_sentence(doubt).endswith("; with every doubt against it, 90 lb past.")
    assert "not known; ask for rear axle rating" in line_sentence(
        line(verdict="not known", margin=nan, missing=(REAR,))
    )
    assert line_sentence(line(verdict="does not apply", limit=inf)).endswith("does not apply.")


def test_a_duty_applies_and_is_never_over():
    lamp = line(kind="duty", title="lamps complete", unit="", demand=1.0, limit=0.0, margin=-1.0, verdict="applies")
    assert line_sentence(lamp) == "Lamps complete: applies."
    license_ = line(kind="duty", title="license line of the combination", verdict="not reached", limit=26_000.0)
    assert line_sentence(license_) == "License line of the combination: not reached, 1,432 lb against 26,000 lb."


def test_what_to_look_at_where_no_input_is_named():
    said = line_sentence(line(verdict="not known", margin=nan, ask="look at what is on the truck"))
    assert said.endswith("not known; look at what is on the truck.")


def test_why_not_in_one_line():
    assert why_not(OVER, more=2) == "hitch on the truck against the load on it, 312 lb past the limit, and 2 more"
    assert "not known: ask for" in why_not(line(verdict="not known", margin=nan, missing=(REAR,)))


def test_settle_and_unknown_sentences():
    assert settle_sentence(()) == "Weigh the loaded rig to settle it."
    assert unknown_sentence(()) == ""
    assert unknown_sentence((REAR,)) == "Not known: ask for rear axle rating (on the door label)."


@pytest.mark.parametrize("verdict", ["clear", "depends", "not known", "over"])
def test_remedy_sentences_say_what_the_rig_is_afterwards(verdict):
    said = remedy_sentence(Remedy("take-off", "take 320 lb off the load", 320.0, "lb", ("axle",), verdict))
    assert said.startswith("Take 320 lb off the load, and ")
    assert ("clear" in said) == (verdict == "clear")


def test_a_member_says_which_axle_it_is():
    gawr = Need("axle_gawr_lb", "axle[2].gawr_lb of trailer Y-104", "gross axle weight rating", nan, 0.0, "")
    assert unknown_sentence((gawr,)) == "Not known: ask for gross axle weight rating (axle 2, on the trailer's label)."


def test_where_an_unknown_is_found():
    assert found_out(REAR) == "on the door label"
    assert found_out(TALL) == "with a tape"
    assert found_out(CHAINS) == ""


@pytest.mark.parametrize("verdict", ["clear", "depends", "over", "not known"])
@pytest.mark.parametrize("governing", [None, line(), OVER])
@pytest.mark.parametrize("metric", [False, True])
def test_every_sentence_begins_with_its_verdict_and_shouts_at_nobody(verdict, governing, metric):
    said = weighing_sentence(weighing(verdict, governing), metric=metric)
    assert said.lower().startswith(verdict)
    assert "!" not in said
    assert "nan" not in said
    assert said.endswith(".")
    assert "  " not in said
