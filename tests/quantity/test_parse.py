"""Reading what people write. Factors are exact by definition (inch 25.4 mm, pound 0.453 592 37 kg: from memory)."""

import math
import os
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.quantity.parse import UNITS, UnreadableError, dimension_of, parse_quantity

READ = [
    ("8 ft 6 in", "in", 102),
    ("8'6\"", "in", 102),
    ("8'6", "in", 102),
    ("8′ 6-1/2″", "in", 102.5),
    ("8 feet and 6 inches", "in", 102),
    ("8-ft", "in", 96),
    ("102in", "in", 102),
    ("102", "in", 102),
    ("2-5/16 in", "in", 2.3125),
    ("2-5/16", "in", 2.3125),
    ("1/2", "in", 0.5),
    ("2 5/16 in", "in", 2.3125),
    ("5/16 in", "in", 0.3125),
    (".5 in", "in", 0.5),
    ("-3 in", "in", -3),
    ("−2 ft 6 in", "in", -30),
    ("2.54 m", "in", 100),
    ("254 cm", "in", 100),
    ("14,000 lb", "lb", 14_000),
    ("14,000", "lb", 14_000),
    ("14,000 lbs.", "lb", 14_000),
    ("7 tons", "lb", 14_000),
    ("453.59237 kg", "lb", 1_000),
    ("0.45359237 t", "lb", 1_000),
    ("80 psi", "psi", 80),
    ("12 deg", "deg", 12),
    ("12°", "rad", math.pi / 15),
    ("2,000 lb/in", "lb/in", 2_000),
    ("19 lb/ft", "lb/ft", 19),
    ("50 %", "", 0.5),
    ("25 %", "%", 25),
]


@pytest.mark.parametrize(("text", "unit", "number"), READ)
def test_reads(text, unit, number):
    assert parse_quantity(text, unit) == pytest.approx(number, rel=1e-12)


REFUSED = [
    ("", "in", "is empty"),
    ("abc", "in", "is not a number with a unit"),
    ("12 kg", "in", "is a weight, and a length is wanted"),
    ("12 in", "lb", "is a length, and a weight is wanted"),
    ("80 lb", "psi", "is a weight, and a pressure is wanted"),
    ("30 psi", "deg", "is a pressure, and an angle is wanted"),
    ("3.5 T", "lb", r"could mean more than one unit: write t \(metric, 1,000 kg\) or ton \(2,000 lb\)"),
    ("3,5 t", "lb", "is not a number with a unit"),
    ("12,5000 lb", "lb", "is not a number with a unit"),
    ("1,00 lb", "lb", "is not a number with a unit"),
    ("6 in 8 ft", "in", "repeats a unit or puts the smaller one first"),
    ("6 in 6 in", "in", "repeats a unit or puts the smaller one first"),
    ("12 blorps", "in", r"has a unit nobody knows \(blorps\)"),
    ("10 seconds", "in", r"has a unit of another kind \(seconds\)"),
    ("1/0 in", "in", "divides by zero"),
    ("8 6", "in", "names no unit where one is needed"),
    ("1/2", "lb", "names no unit where one is needed"),
    ("1e3 lb", "lb", "has a unit nobody knows"),
    ("nan", "lb", "is not a number with a unit"),
    ("inf in", "in", "is not a number with a unit"),
    ("9" * 61, "in", r"is too long \(61 characters\)"),
]


@pytest.mark.parametrize(("text", "unit", "reason"), REFUSED)
def test_refuses_with_the_reason(text, unit, reason):
    with pytest.raises(UnreadableError, match=reason):
        parse_quantity(text, unit)


def test_pint_knows_the_rest():
    assert parse_quantity("5 fathoms", "in") == pytest.approx(360, rel=1e-5)  # the US survey foot makes the difference


def test_the_table_agrees_with_pint():
    import pint

    ask = pint.UnitRegistry().Quantity
    names = {"ton": "short_ton", "t": "metric_ton", "lb/in": "lbf/in", "lb/ft": "lb/ft", "oz": "ounce"}
    names |= {"ft lb": "foot*lbf", "in lb": "inch*lbf", "N m": "newton*meter"}
    core = {"torque": "foot*lbf", "length": "inch", "pressure": "psi", "angle": "radian", "spring rate": "lbf/in"}
    core |= {"weight per length": "lb/ft", "time": "month"}
    for unit, (dimension, factor) in UNITS.items():
        if dimension == "ratio":
            continue
        weight = "lbf" if unit in ("N", "kN") else "pound"
        told = ask(1, names.get(unit, unit)).to(core.get(dimension, weight)).magnitude
        assert factor == pytest.approx(told, rel=1e-9), unit


def test_plain_numbers_and_everyday_units_do_not_load_pint():
    code = (
        "import sys; from rubrail.quantity.parse import parse_quantity as p;"
        "p('8 ft 6 in', 'in'); p('12,500 kg', 'lb'); p('102', 'in'); assert 'pint' not in sys.modules"
    )
    path = os.pathsep.join(sys.path)
    subprocess.run([sys.executable, "-c", code], check=True, env={**os.environ, "PYTHONPATH": path})


@given(st.floats(-1e6, 1e6), st.sampled_from(sorted(UNITS)))
def test_a_number_with_its_own_unit_is_itself(number, unit):
    text = f"{number:.6f} {unit}"
    assert parse_quantity(text, unit) == pytest.approx(round(number, 6), rel=1e-12, abs=1e-12)


@given(st.data())
def test_there_and_back_through_any_unit_of_the_dimension(data):
    unit = data.draw(st.sampled_from([u for u in UNITS if u]))
    other = data.draw(st.sampled_from([u for u in UNITS if dimension_of(u) == dimension_of(unit) and u]))
    number = data.draw(st.floats(0.001, 1e5))
    there = parse_quantity(f"{number:.9f} {unit}", other)
    assert parse_quantity(f"{there:.12f} {other}", unit) == pytest.approx(number, rel=1e-5, abs=1e-6)


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text):
    try:
        number = parse_quantity(text, "in")
    except UnreadableError:
        return
    assert math.isfinite(number)
