"""The suspicious character of a VIN: named where a check digit can tell, and said where it cannot."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rubrail.rules import vin as v
from rubrail.rules import vin_suspects as s
from rubrail.rules.tables import table

# 49 CFR 565.15 table III (read), written out here once more so that the test does not lean on the program's table.
NUMBERS = {str(d): d for d in range(10)}
NUMBERS |= dict(zip("ABCDEFGH", range(1, 9), strict=True)) | dict(zip("JKLMN", range(1, 6), strict=True))
NUMBERS |= {"P": 7, "R": 9} | dict(zip("STUVWXYZ", range(2, 10), strict=True))
CHARACTERS = sorted(NUMBERS)
YEARS = "ABCDEFGHJKLMNPRSTVWXY123456789"
TRUE = "1Z9FG3225SHZ12001"  # invented; sum 379, check digit 5, worked by hand


@st.composite
def valid_vins(draw):
    """Any VIN that is valid."""
    text = draw(st.text(CHARACTERS, min_size=17, max_size=17))
    text = text[:9] + draw(st.sampled_from(YEARS)) + text[10:]
    return text[:8] + v.check_digit(vin=text) + text[9:]


@given(valid_vins(), st.integers(0, 16), st.sampled_from(CHARACTERS))
def test_one_misread_character_is_detected_and_the_true_vin_is_among_those_named(true, at, other):
    """Every place but the check digit's weighs a number prime to 11, so a change of number changes the remainder."""
    assume(other != true[at] and (at == 8 or NUMBERS[other] != NUMBERS[true[at]]))
    read = true[:at] + other + true[at + 1 :]
    assert v.vin_faults(vin=read)
    named = s.suspects(vin=read)
    assert true in [x.vin for x in named]
    assert all(v.vin_faults(vin=x.vin) == [] for x in named)


@given(valid_vins(), st.sampled_from([n for n in range(17) if n not in (8, 9)]), st.data())
def test_characters_of_one_number_are_not_caught_and_it_says_so(true, at, data):
    """The check digit cannot tell them apart. The year's place is left out: there the code itself may be none."""
    alike = [c for c in CHARACTERS if c != true[at] and NUMBERS[c] == NUMBERS[true[at]]]
    assume(alike)  # nothing but 0 stands for 0
    other = data.draw(st.sampled_from(alike))
    read = true[:at] + other + true[at + 1 :]
    assert v.vin_faults(vin=read) == []
    assert not s.told_apart(place=at + 1, one=true[at], other=other)
    assert (at + 1, other) in [(n, c) for n, c, others in s.not_caught(vin=read) if true[at] in others]


@given(valid_vins(), st.integers(0, 15))
def test_swapped_neighbors_are_caught_unless_they_count_the_same(true, at):
    """Weights of neighbors differ by 1, or by 8, 10 or 9 around the check digit's place: none a multiple of 11."""
    swapped = true[:at] + true[at + 1] + true[at] + true[at + 2 :]
    assume(swapped != true and at not in (7, 8, 9) and at + 1 not in (8, 9))
    caught = NUMBERS[true[at]] != NUMBERS[true[at + 1]]
    assert bool(v.vin_faults(vin=swapped)) is caught
    if caught:
        assert true in [x.vin for x in s.suspects(vin=swapped)]


@given(valid_vins(), st.integers(0, 16))
def test_a_character_left_out_or_doubled_is_placed_against_a_whole_reading(true, at):
    short, long = true[:at] + true[at + 1 :], true[: at + 1] + true[at] + true[at + 1 :]
    for read, kind in ((short, "left out"), (long, "doubled")):
        (found,) = s.suspects(vin=read, others=[true])
        assert (found.kind, found.vin, found.why) == (kind, true, ("reading",))
        assert (
            true[found.place - 1 : at + 1].strip(true[at]) == ""
            or long[found.place - 1 : at + 1].strip(true[at]) == ""
        )
        assert s.suspects(vin=read) == ()


@pytest.mark.parametrize(
    ("at", "other"),
    [(3, "E"), (5, "8"), (7, "Z"), (4, "6"), (13, "Z"), (15, "D"), (0, "7"), (0, "I"), (14, "O"), (14, "Q")],
)
def test_an_easy_mistake_comes_before_others_at_its_place(at, other):
    read = TRUE[:at] + other + TRUE[at + 1 :]
    named = s.suspects(vin=read)
    assert named
    mine = next(x for x in named if x.vin == TRUE)
    assert (mine.place, mine.read, mine.likely) == (at + 1, other, TRUE[at])
    assert "mistaken" in mine.why
    assert next(x for x in named if x.place == at + 1) == mine


def test_what_the_yard_knows_comes_first():
    read = "1Z9FG3225SHB12001"  # place 12: B for Z, so another maker's code
    sums = (v.weighted_sum(vin=TRUE), v.weighted_sum(vin=read))
    assert sums == (379, 379 - 7 * (9 - 2))
    papers = s.suspects(vin=read, others=[TRUE])[0]
    assert (papers.vin, "reading" in papers.why) == (TRUE, True)
    coded = s.suspects(vin=read, maker_codes=[s.maker_code(code="1Z9Z12")])
    assert coded[0].vin == TRUE
    assert coded[0].why[-1] == "maker"
    assert all("maker" not in x.why for x in s.suspects(vin=read))


def test_the_year_on_the_label_speaks_for_its_code():
    read = TRUE[:9] + "R" + TRUE[10:]
    mine = next(x for x in s.suspects(vin=read, year=2025) if x.vin == TRUE)
    assert "year" in mine.why
    assert s.suspects(vin=read, year=2025)[0] == mine
    assert "year" not in next(x for x in s.suspects(vin=read, year=2024) if x.vin == TRUE).why


def test_digits_at_the_end_speak_for_a_digit():
    read = TRUE[:16] + "L"
    named = s.suspects(vin=read)
    assert all("digits" in x.why for x in named if x.place == 17 and x.likely.isdigit())
    assert all("digits" not in x.why for x in named if x.place != 17)


def test_two_misread_characters_are_not_laid_to_one():
    assert s.suspects(vin="1Z9FGI2Q5SHZ12001") == ()


def test_a_valid_one_has_no_suspect():
    assert s.suspects(vin=TRUE, others=["1Z9FG322ZSHZ12001"]) == ()


@pytest.mark.parametrize("other", ["", "1Z9FG322", "Ü" * 17, "1Z9FG3225SHZ120011111"])
def test_odd_texts_end_in_no_suspect(other):
    assert s.suspects(vin=other, others=[TRUE]) == ()


def test_pairs_often_mistaken_are_listed_once():
    pairs = [frozenset((r["one"], r["other"])) for r in table("vin-mistaken")["rows"]]
    assert len(set(pairs)) == len(pairs)
    assert all(len(p) == 2 for p in pairs)


def test_six_characters_and_three_are_one_way_of_writing():
    assert s.maker_code(code="1z9z12") == v.maker_id(vin=TRUE)
    assert s.maker_code(code="5zz") == "5ZZ"
