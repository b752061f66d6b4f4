"""Read what people write: ``8 ft 6 in``, ``8'6"``, ``2-5/16 in``, ``12,500 kg``, ``3.5 t``, ``80 psi``, ``12 deg``.

Plain numbers and the units of everyday use are read by the table below, whose factors are exact by definition
(1 in = 25.4 mm, 1 lb = 0.453 592 37 kg). Any other unit goes to Pint, which is imported only then.
"""

import math
import re
from functools import lru_cache

_LB_PER_KG = 1 / 0.45359237
_IN_PER_MM = 1 / 25.4
_G = 9.80665  # standard gravity, m/s2, by definition; makes a pound of force out of a pound
_PSI_PER_KPA = 1000 * (25.4e-3) ** 2 / (0.45359237 * _G)

# word -> (dimension, how many core units one of it is)
UNITS: dict[str, tuple[str, float]] = {
    "in": ("length", 1.0),
    "ft": ("length", 12.0),
    "yd": ("length", 36.0),
    "mm": ("length", _IN_PER_MM),
    "cm": ("length", 10 * _IN_PER_MM),
    "m": ("length", 1000 * _IN_PER_MM),
    "lb": ("weight", 1.0),
    "oz": ("weight", 1 / 16),
    "ton": ("weight", 2000.0),
    "kg": ("weight", _LB_PER_KG),
    "t": ("weight", 1000 * _LB_PER_KG),
    "N": ("weight", _LB_PER_KG / _G),
    "kN": ("weight", 1000 * _LB_PER_KG / _G),
    "psi": ("pressure", 1.0),
    "kPa": ("pressure", _PSI_PER_KPA),
    "bar": ("pressure", 100 * _PSI_PER_KPA),
    "deg": ("angle", math.pi / 180),
    "rad": ("angle", 1.0),
    "lb/in": ("spring rate", 1.0),
    "N/mm": ("spring rate", _LB_PER_KG / _G / _IN_PER_MM),
    "lb/ft": ("weight per length", 1.0),
    "kg/m": ("weight per length", _LB_PER_KG / (1000 * _IN_PER_MM / 12)),
    "ft lb": ("torque", 1.0),
    "in lb": ("torque", 1 / 12),
    "N m": ("torque", _LB_PER_KG / _G * 1000 * _IN_PER_MM / 12),
    "months": ("time", 1.0),
    "years": ("time", 12.0),
    "%": ("ratio", 0.01),
    "": ("ratio", 1.0),
}

_SPELLINGS = {
    "in": ("inch", "inches", '"', "''", "″", "”", "in."),
    "ft": ("foot", "feet", "'", "′", "’", "ft."),
    "yd": ("yard", "yards"),
    "mm": ("millimeter", "millimeters"),
    "cm": ("centimeter", "centimeters"),
    "m": ("meter", "meters"),
    "lb": ("lbs", "lbs.", "lb.", "pound", "pounds", "lbf", "#"),
    "oz": ("ounce", "ounces"),
    "ton": ("tons", "short ton", "short tons", "US ton", "US tons"),
    "kg": ("kilo", "kilos", "kilogram", "kilograms"),
    "t": ("tonne", "tonnes", "metric ton", "metric tons"),
    "N": ("newton", "newtons"),
    "kN": ("kilonewton", "kilonewtons"),
    "psi": ("PSI", "lb/in2", "lb/in²"),
    "kPa": ("kilopascal", "kilopascals"),
    "bar": ("bars",),
    "deg": ("°", "degree", "degrees"),
    "rad": ("radian", "radians"),
    "lb/in": ("lbs/in", "lb per in", "pounds per inch"),
    "lb/ft": ("lbs/ft", "lb per ft", "pounds per foot", "plf"),
    "ft lb": ("lb ft", "ft lbs", "lbs ft", "ft-lb", "lb-ft", "ft-lbs", "foot pounds", "foot-pounds", "pound feet"),
    "in lb": ("lb in", "in lbs", "in-lb", "lb-in", "inch pounds"),
    "N m": ("Nm", "N-m", "newton meters"),
    "months": ("month", "mo"),
    "years": ("year", "yr", "yrs"),
    "%": ("percent", "per cent"),
}
_WORDS = {word: unit for unit, words in _SPELLINGS.items() for word in words} | {u: u for u in UNITS if u}
_AMBIGUOUS = {"T": "t (metric, 1,000 kg) or ton (2,000 lb)", "M": "m (meters)"}

EXAMPLES = {
    "length": '102, "102 in", "8 ft 6 in" or "2.6 m"',
    "weight": '14000, "14,000 lb", "7 tons" or "6,350 kg"',
    "pressure": '80, "80 psi" or "550 kPa"',
    "angle": '12 or "12 deg"',
    "spring rate": '2000 or "2,000 lb/in"',
    "weight per length": '19 or "19 lb/ft"',
    "torque": '120, "120 ft lb" or "163 N m"',
    "time": '36, "36 months" or "3 years"',
    "ratio": '0.5 or "50 %"',
}

_NUMBER = r"(?:(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d*)?|\.\d+)"
_PLAIN = re.compile(rf"[+-]?{_NUMBER}")
_TERM = re.compile(
    rf"\s*(?:(?P<only>\d+/\d+)|(?P<number>{_NUMBER})(?:[ -]\s*(?P<fraction>\d+/\d+))?)(?![\d,.])"
    r"\s*-?\s*(?P<unit>[^\W\d_][\w./²]*(?:(?:\s+|-)[^\W\d_][\w./²]*)*|''|[\"'′″’”°%#])?\s*,?"
)
MAX_TEXT = 60


class UnreadableError(ValueError):
    """Text that is not a quantity of the wanted kind; the message says why in words that follow *it*."""


def dimension_of(unit: str) -> str:
    """Dimension of a core or file unit (``lb`` is a weight)."""
    return UNITS[unit][0]


def parse_quantity(text: str, unit: str) -> float:
    """Number that a text states, in the wanted unit.

    Parameters
    ----------
    text : str
        A number with or without a unit; without one it is in the wanted unit. Feet and inches may be written together;
        a fraction without a unit is of inches, where a length is wanted in them.
    unit : str
        A key of ``UNITS``: the unit of the result.

    Raises
    ------
    UnreadableError
        If the text is not a number, its unit is not known, or it is of another dimension.

    Examples
    --------
    >>> parse_quantity("8 ft 6 in", "in"), parse_quantity("14,000 lb", "lb"), parse_quantity("102", "in")
    (102.0, 14000.0, 102.0)
    """
    dimension, size = UNITS[unit]
    clean = _clean(text)
    if len(clean) > MAX_TEXT:
        raise UnreadableError(f"is too long ({len(clean)} characters)")
    if _PLAIN.fullmatch(clean):
        return float(clean.replace(",", ""))
    sign = -1.0 if clean.startswith("-") else 1.0
    terms = _terms(clean.lstrip("+-") if clean[:1] in "+-" else clean)
    if unit == "in" and len(terms) == 1 and not terms[0][1] and "/" in clean:
        terms = [(terms[0][0], "in")]  # nobody but who reads inches writes a fraction, as a ball is stamped
    total, last = 0.0, math.inf
    for number, word in terms:
        found, factor = _unit(word)
        if found != dimension:
            raise UnreadableError(f"is {_a(found)}, and {_a(dimension)} is wanted")
        if factor >= last:
            raise UnreadableError("repeats a unit or puts the smaller one first")
        last = factor
        total += number * factor
    return sign * total / size


def is_bare(text: str) -> bool:
    """Whether a text is a number without a unit, as ``parse_quantity`` reads it in the wanted one."""
    return _PLAIN.fullmatch(_clean(text)) is not None


def _clean(text: str) -> str:
    return text.strip().replace("−", "-").replace("\u00a0", " ").replace("\u202f", " ")


def _terms(text: str) -> list[tuple[float, str]]:
    text = re.sub(r"\band\b", " ", text)
    terms: list[tuple[float, str]] = []
    at = 0
    while at < len(text):
        match = _TERM.match(text, at)
        if not match or match.end() == at:
            raise UnreadableError("is not a number with a unit")
        terms.append((_amount(match), " ".join((match["unit"] or "").split())))
        at = match.end()
    if not terms:
        raise UnreadableError("is empty")
    if len(terms) > 1 and not terms[-1][1] and _WORDS.get(terms[-2][1]) == "ft":
        terms[-1] = (terms[-1][0], "in")
    return terms


def _amount(match: re.Match[str]) -> float:
    number = float(match["number"].replace(",", "")) if match["number"] else 0.0
    for part in (match["only"], match["fraction"]):
        if part:
            over, under = part.split("/")
            if int(under) == 0:
                raise UnreadableError("divides by zero")
            number += int(over) / int(under)
    return number


@lru_cache(maxsize=512)
def _unit(word: str) -> tuple[str, float]:
    if not word:
        raise UnreadableError("names no unit where one is needed")
    known = _WORDS.get(word) or _WORDS.get(word.lower())
    if word in _AMBIGUOUS:
        raise UnreadableError(f"could mean more than one unit: write {_AMBIGUOUS[word]}")
    if known:
        return UNITS[known]
    return _unit_by_pint(word)


_DIMENSIONS = (("length", "inch"), ("weight", "pound"), ("weight", "pound_force"), ("pressure", "psi"))


def _unit_by_pint(word: str) -> tuple[str, float]:
    if not re.fullmatch(r"[A-Za-zµ]{2,24}", word):
        raise UnreadableError(f"has a unit nobody knows ({word})")
    import pint

    registry = pint.get_application_registry()
    try:
        quantity = registry.Quantity(1.0, word)
        for dimension, core in _DIMENSIONS:
            if quantity.is_compatible_with(core):
                return dimension, float(quantity.to(core).magnitude)
    except Exception:  # Pint raises many kinds on a word that is no unit
        raise UnreadableError(f"has a unit nobody knows ({word})") from None
    raise UnreadableError(f"has a unit of another kind ({word})")


def _a(dimension: str) -> str:
    return f"an {dimension}" if dimension[0] in "aeiou" else f"a {dimension}"
