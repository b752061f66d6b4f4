"""VINs of the invented units, by 49 CFR 565.15 (read): letters to numbers, weights, sum modulo 11."""

import tomllib

import pytest

from rubrail.demo import MAKERS, YARD
from rubrail.things.folder import load_yard

LETTERS = dict(zip("ABCDEFGH", range(1, 9), strict=True))
LETTERS |= dict(zip("JKLMN", range(1, 6), strict=True)) | {"P": 7, "R": 9}
LETTERS |= dict(zip("STUVWXYZ", range(2, 10), strict=True))
WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
YEARS = {"S": 2025, "T": 2026, "V": 2027}


def weighted_sum(vin):
    return sum(w * (int(c) if c.isdigit() else LETTERS[c]) for c, w in zip(vin, WEIGHTS, strict=True))


def check_digit(vin):
    left = weighted_sum(vin) % 11
    return "X" if left == 10 else str(left)


@pytest.mark.parametrize(
    ("vin", "total", "digit"),
    [
        ("1G4AH59H05G118341", 411, "4"),  # the regulation's own sample, its check digit put to 0
        ("1M8GDM9A0KP042788", 351, "X"),
        ("1Z9FG3220SHZ12001", 379, "5"),
    ],
)
def test_the_formula_gives_the_published_digits(vin, total, digit):
    assert weighted_sum(vin) == total
    assert check_digit(vin) == digit


UNITS = [t for t in load_yard(YARD).trailers.values() if t.status != "on-order"]
CODES = {m["name"]: m["vin_code"] for m in tomllib.loads(MAKERS.read_text(encoding="utf-8"))["maker"]}


@pytest.mark.parametrize("unit", UNITS, ids=lambda t: t.id)
def test_vin(unit):
    vin = unit.vin
    assert len(vin) == 17
    assert not set(vin) & set("IOQ")
    assert vin[8] == check_digit(vin)
    assert YEARS[vin[9]] == unit.year
    assert vin[2] == "9", "a low-volume maker"
    assert vin[:3] + vin[11:14] == CODES[unit.maker]
    assert vin[13:].isdigit()
    feet = (unit.deck.flat_length_in.number + unit.deck.tail_length_in.number) / 12
    assert (int(vin[5:7]), int(vin[7])) == (feet, len(unit.axle)), "length and axles as this yard's makers write them"


def test_a_unit_on_order_has_no_vin_yet():
    units = load_yard(YARD).trailers.values()
    assert [t.vin for t in units if t.status == "on-order"] == [None]
