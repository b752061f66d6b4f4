"""Print numbers with their units, US customary or metric: ``14,000 lb``, ``24 ft 5 in``, ``6,350 kg``, ``2.591 m``."""

import math

from rubrail.quantity.parse import UNITS

UNKNOWN = "not known"
NO_LIMIT = "no limit"

# core unit -> metric unit and decimals. Lengths over a meter are written in meters.
_METRIC = {
    "lb": ("kg", 0),
    "in": ("mm", 0),
    "ft": ("m", 2),
    "psi": ("kPa", 0),
    "lb/in": ("N/mm", 1),
    "lb/ft": ("kg/m", 1),
    "ft lb": ("N m", 0),
}
_DECIMALS = {
    "lb": 0,
    "in": 2,
    "ft": 2,
    "psi": 0,
    "rad": 1,
    "deg": 1,
    "lb/in": 0,
    "lb/ft": 1,
    "ft lb": 0,
    "months": 1,
    "%": 1,
    "": 3,
}


def metric_unit(unit: str) -> str:
    """What a reader of metric measures has a unit in; the unit itself where there is no other."""
    return _METRIC[unit][0] if unit in _METRIC else unit


def convert(number: float, unit: str, to: str) -> float:
    """A number in another unit of the same dimension.

    Raises
    ------
    ValueError
        If the two units are of different dimensions.
    """
    (dimension, size), (other, other_size) = UNITS[unit], UNITS[to]
    if dimension != other:
        raise ValueError(f"{unit} is a {dimension} and {to} is a {other}")
    return number * size / other_size


def show(
    number: float, unit: str = "", *, metric: bool = False, signed: bool = False, decimals: int | None = None
) -> str:
    """A number with thousands separators and its unit.

    Parameters
    ----------
    number : float
        In ``unit``; ``nan`` prints as *not known*, infinity as *no limit*.
    unit : str
        Core or file unit; ``""`` for counts and ratios.
    metric : bool
        Print in metric units.
    signed : bool
        Print a plus sign before positive numbers, for margins.
    decimals : int, optional
        Most decimals to print; trailing zeros are dropped.

    Examples
    --------
    >>> show(14000, "lb"), show(14000, "lb", metric=True), show(-650.4, "lb", signed=True)
    ('14,000 lb', '6,350 kg', '-650 lb')
    """
    if math.isnan(number):
        return UNKNOWN
    if math.isinf(number):
        return NO_LIMIT if number > 0 else f"-{NO_LIMIT}"
    if unit == "rad":
        number, unit = math.degrees(number), "deg"
    places = _DECIMALS.get(unit, 2)
    if metric and unit in _METRIC:
        target, places = _METRIC[unit]
        number = convert(number, unit, target)
        if target == "mm" and abs(number) >= 1000:
            number, target, places = number / 1000, "m", 3
        unit = target
    return _join(_digits(number, places if decimals is None else decimals, signed), unit)


def _digits(number: float, places: int, signed: bool) -> str:
    number = round(number, places) + 0.0
    text = f"{number:{'+' if signed and number else ''},.{places}f}"
    return text.rstrip("0").rstrip(".") if places else text


def _join(digits: str, unit: str) -> str:
    if unit == "deg":
        return f"{digits}°"
    if unit == "months" and digits == "1":
        return "1 month"
    return f"{digits} {unit}".rstrip()


def show_feet(inches: float, *, metric: bool = False) -> str:
    """A length in feet and inches, to the quarter inch: ``24 ft 5 in``, ``8 ft 6.5 in``, ``-2 ft``.

    Parameters
    ----------
    inches : float
        Length in inches.
    metric : bool
        Print in meters instead.
    """
    if metric or not math.isfinite(inches):
        return show(inches, "in", metric=metric)
    quarters = round(abs(inches) * 4)
    feet, rest = divmod(quarters, 48)
    parts = [f"{feet:,} ft"] if feet else []
    if rest or not feet:
        parts.append(f"{rest / 4:g} in")
    return ("-" if inches < 0 and quarters else "") + " ".join(parts)


def show_share(ratio: float, *, signed: bool = False, decimals: int = 1) -> str:
    """A ratio as percent: ``4.7 %``."""
    if not math.isfinite(ratio):
        return show(ratio)
    return _join(_digits(100 * ratio, decimals, signed), "%")
