"""VINs: what is wrong with one, what one says, and that a misread character shows."""

from __future__ import annotations

import re

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rubrail.rules import vin as v
from rubrail.rules.tables import table

GOOD = "1Z9FG3225SHZ12001"  # invented; sum 379, worked by hand
CHARACTERS = sorted({r["letter"] for r in table("vin-letters")["rows"]} | set("0123456789"))
VALUES = {r["letter"]: r["value"] for r in table("vin-letters")["rows"]} | {str(d): d for d in range(10)}


def test_a_good_one():
    assert v.vin_faults(vin=GOOD) == []
    assert v.vin_faults(vin=" 1z9fg-3225 shz12001 ") == []


@pytest.mark.parametrize(
    ("vin", "message"),
    [
        (GOOD[:-1], "A VIN must have 17 characters, got 16."),
        (GOOD + "1", "A VIN must have 17 characters, got 18."),
        ("1Z9FG3225SHZI2001", "The letters I, O and Q are never used, got I in place 13."),
        ("OZ9FG3225SHZ12001", "got O in place 1."),
        ("1Z9FQ3225SHZ12001", "got Q in place 5."),
        ("1Z9F_3225SHZ12001", "A VIN must be made of capital letters and digits, got '_' in place 5."),
        ("1Z9FG3224SHZ12001", "The check digit (place 9) must be 5, got 4"),
    ],
)
def test_faults(vin, message):
    assert message in " ".join(v.vin_faults(vin=vin))
    with pytest.raises(ValueError, match=re.escape(message)):
        v.read_vin(vin=vin, this_year=2026)


@pytest.mark.parametrize("code", ["U", "Z", "0"])
def test_year_codes_never_used(code):
    vin = GOOD[:9] + code + GOOD[10:]
    vin = vin[:8] + v.check_digit(vin=vin) + vin[9:]
    assert v.vin_faults(vin=vin) == [f"The year code (place 10) must be one in use, got {code}."]
    assert v.model_years(code=code) == ()
    assert v.likely_year(code=code, this_year=2026) is None


def test_year_codes_step_one_year_and_repeat_after_thirty():
    rows = table("vin-years")["rows"]
    assert [r["first"] for r in rows] == list(range(1980, 2010))
    assert [r["second"] for r in rows] == list(range(2010, 2040))
    assert [r["code"] for r in rows] == list("ABCDEFGHJKLMNPRSTVWXY123456789")


def test_what_a_low_volume_makers_says():
    read = v.read_vin(vin=GOOD, this_year=2026)
    assert (read.maker, read.low_volume, read.year, read.years) == ("1Z9...Z12", True, 2025, (1995, 2025))
    assert (read.plant, read.serial, read.cautions) == ("H", "001", ())


def test_what_another_makers_says():
    read = v.read_vin(vin="5ZZGN4039RB000456", this_year=2026)
    assert (read.maker, read.low_volume, read.year, read.serial) == ("5ZZ", False, 2024, "000456")


def test_letters_at_the_end_are_a_caution():
    vin = "1Z9FG3220SHZ1200A"
    vin = vin[:8] + v.check_digit(vin=vin) + vin[9:]
    assert v.read_vin(vin=vin, this_year=2026).cautions == (
        "The end of a trailer's serial number is usually all digits, got 00A.",
    )


@given(st.text(CHARACTERS, min_size=17, max_size=17), st.integers(0, 16), st.sampled_from(CHARACTERS))
def test_one_misread_character_always_shows(vin, place, other):
    """All weights but that of the check digit's place are prime to 11, so any change of value changes the digit."""
    assume(place != 8 and VALUES[vin[place]] != VALUES[other])
    changed = vin[:place] + other + vin[place + 1 :]
    assert v.check_digit(vin=changed) != v.check_digit(vin=vin)


@given(st.text(max_size=40))
def test_any_text_gets_sentences(text):
    assert all(f.endswith((".", "misread.")) for f in v.vin_faults(vin=text))
