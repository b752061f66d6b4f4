"""Numbers in forms, in the measures of who types them: what a bare number is in, how a stored one is shown, what a
fault says of both.

A form carries its measures with it, so that it is read as it was written however long it stood open. What is shown may
be rounded: a text that comes back as it was shown keeps the stored number, see ``forms.spec.taken``.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from typing import Any

from rubrail.quantity.parse import EXAMPLES, is_bare, parse_quantity
from rubrail.quantity.show import convert, metric_unit
from rubrail.things.faults import show_value

US, METRIC = "us", "metric"
FIELD = "measures"
"""Hidden field a form says its measures by."""
EXACT_PLACES, PLACES = 2, 1
"""Most decimals in metric units of a number that is no longer than that, and those any other is rounded to."""
METRIC_EXAMPLES = {
    "length": '2600, "2600 mm", "2.6 m" or "8 ft 6 in"',
    "weight": '6350, "6,350 kg", "6.35 t" or "14,000 lb"',
    "pressure": '550, "550 kPa", "5.5 bar" or "80 psi"',
    "spring rate": '350 or "350 N/mm"',
    "weight per length": '28 or "28 kg/m"',
    "torque": '163, "163 N m" or "120 ft lb"',
}
_AMOUNT = r"-?\d[\d,]*(?:\.\d+)?"
# A word like one of the units counts only where no other word follows: "2 in contact" is no length.
_UNIT = r"(?:lb/in|lb/ft|ft lb|psi|lb|in)(?=\s*(?:[),;:.=]|$))"
_RANGE = re.compile(rf"(?P<low>{_AMOUNT}) to (?P<high>{_AMOUNT}) (?P<unit>{_UNIT})")
_ONE = re.compile(rf"(?P<one>{_AMOUNT}) (?P<unit>{_UNIT})")


def measures_sent(data: Mapping[str, Any]) -> str:
    """Measures of a form that came back; one that says none was shown in pounds and inches."""
    return METRIC if data.get(FIELD) == METRIC else US


def unit_word(unit: str, measures: str) -> str:
    """What a bare number in a field of a unit is in."""
    return metric_unit(unit) if measures == METRIC else unit


def with_unit(text: str, unit: str, measures: str) -> str:
    """A typed text as the door reads it: a bare number gets the unit it is in, anything else stays as written."""
    word = unit_word(unit, measures)
    return text if word == unit or not is_bare(text) else f"{text} {word}"


def number_text(number: float, unit: str, measures: str) -> str:
    """A stored number as a form writes it, bare.

    Parameters
    ----------
    number : float
        In ``unit``.
    unit : str
        Of the stored number.
    measures : str
        Of the form.
    """
    word = unit_word(unit, measures)
    if word == unit:
        return _digits(number, 4)
    shown = convert(number, unit, word)
    for places in range(EXACT_PLACES + 1):
        text = _digits(shown, places)
        if math.isclose(parse_quantity(f"{text} {word}", unit), number, rel_tol=1e-9):
            return text
    return _digits(shown, PLACES if abs(shown) >= 10 else EXACT_PLACES)


def exact_text(number: float, unit: str, measures: str) -> str:
    """A stored number as a form writes it so that it reads as the same again: bare if it can be, else with a unit.

    For forms that are read whole, and cannot tell what nobody touched.

    Parameters
    ----------
    number : float
        In ``unit``.
    unit : str
        Of the stored number.
    measures : str
        Of the form.
    """
    own = unit_word(unit, measures)
    for word in dict.fromkeys((own, unit, metric_unit(unit))):
        text = _digits(convert(number, unit, word), EXACT_PLACES)
        if math.isclose(parse_quantity(f"{text} {word}", unit), number, rel_tol=1e-12, abs_tol=1e-12):
            return text if word == own else f"{text} {word}"
    return f"{number:.15f}".rstrip("0").rstrip(".") + f" {unit}"


def _digits(number: float, places: int) -> str:
    text = f"{round(number, places) + 0.0:,.{places}f}"
    return text.rstrip("0").rstrip(".") if places else text


def accepted_in(text: str, measures: str) -> str:
    """What a fault accepts, with its ranges, bounds and examples in the measures of a form.

    Ends of a range are rounded into it, so that whoever types what is told is not refused again.
    """
    if measures != METRIC:
        return text
    for dimension, example in METRIC_EXAMPLES.items():
        text = text.replace(EXAMPLES[dimension], example)
    if any(example in text for example in METRIC_EXAMPLES.values()):
        return text
    return _ONE.sub(_one, _RANGE.sub(_range, text))


def _range(match: re.Match[str]) -> str:
    low, high = (_inward(match[end], match["unit"], way) for end, way in (("low", math.ceil), ("high", math.floor)))
    return f"{low} to {high} {metric_unit(match['unit'])}"


def _inward(text: str, unit: str, way: Callable[[float], int]) -> str:
    shown = convert(float(text.replace(",", "")), unit, metric_unit(unit))
    scale = 1 if abs(shown) >= 10 else 10
    # A bound that is whole in both measures must not be moved by the last bit of the conversion.
    return _digits(way(round(shown * scale, 6)) / scale, PLACES)


def _one(match: re.Match[str]) -> str:
    number = float(match["one"].replace(",", ""))
    return f"{number_text(number, match['unit'], METRIC)} {metric_unit(match['unit'])}"


def value_in(value: Any, unit: str, measures: str) -> str:
    """What came, as a fault shows it: a number the program holds in ``unit`` is told in the form's measures."""
    if not isinstance(value, float) or unit_word(unit, measures) == unit:
        return show_value(value)
    return f"{number_text(value, unit, measures)} {unit_word(unit, measures)}"
