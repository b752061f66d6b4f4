"""Numbers as a person says them: ``1,432 lb``, ``14 in``, ``12 %``, and the same in metric."""

from __future__ import annotations

import math
import re
from typing import Final

# Exact by definition (international yard and pound, 1959; standard gravity for the pound of force in psi).
KG_PER_LB: Final = 0.45359237
CM_PER_IN: Final = 2.54
KPA_PER_PSI: Final = 0.45359237 * 9.80665 / 0.0254**2 / 1000
MINUS: Final = "−"

_METRIC: Final = {
    "lb": ("kg", KG_PER_LB),
    "in": ("cm", CM_PER_IN),
    "ft": ("m", 0.3048),
    "psi": ("kPa", KPA_PER_PSI),
    "lb/in": ("kg/cm", KG_PER_LB / CM_PER_IN),
    "lb/ft": ("kg/m", KG_PER_LB / 0.3048),
}
_SPELLED: Final = {"rad": "°", "USD": "$"}


def in_unit(value: float, unit: str, *, metric: bool = False) -> tuple[float, str]:
    """A number and the unit it is shown in.

    Parameters
    ----------
    value : float
        In the core unit.
    unit : str
        Core unit: ``lb``, ``in``, ``ft``, ``psi``, ``rad``, ``lb/in``, ``lb/ft``, ``USD``, ``%`` or ``""``.
    metric : bool
        Kilograms, centimeters and kilopascals instead.
    """
    if unit == "rad":
        return math.degrees(value), "°"
    if metric and unit in _METRIC:
        name, factor = _METRIC[unit]
        return value * factor, name
    return value, unit


def number(value: float, unit: str, *, metric: bool = False) -> str:
    """The digits alone, rounded as the unit is read in a yard: whole pounds, tenths of an inch.

    A number too small to show is written ``less than``; ``nan`` is ``not known`` and ``inf`` is ``no limit``.
    """
    if math.isnan(value):
        return "not known"
    if math.isinf(value):
        return "no limit"
    shown, name = in_unit(value, unit, metric=metric)
    digits = _digits(shown, name)
    text = f"{abs(shown):,.{digits}f}"
    if float(text.replace(",", "")) == 0 and abs(shown) > 1e-6:
        text = f"less than {10.0**-digits:g}"
    elif "." in text and name not in ("$", "USD"):
        text = text.rstrip("0").rstrip(".")
    return f"{MINUS}{text}" if shown < 0 and text != "0" else text


def _digits(shown: float, name: str) -> int:
    if name in ("lb", "kg", "psi", "kPa", "cm", "lb/in", "USD"):
        return 0
    if name in ("in", "°", "ft", "kg/cm", "lb/ft", "kg/m", "%"):
        return 1
    return 2


def amount(value: float, unit: str, *, metric: bool = False) -> str:
    """A number with its unit: ``1,432 lb``, ``3.5 in``, ``2.1°``, ``$9,400``, or ``not known`` and ``no limit``."""
    text = number(value, unit, metric=metric)
    if text in ("not known", "no limit"):
        return text
    _, name = in_unit(0.0, unit, metric=metric)
    if name == "USD":
        return text.replace(MINUS, f"{MINUS}$") if text.startswith(MINUS) else f"${text}"
    if name == "°":
        return f"{text}°"
    return f"{text} {name}".rstrip()


def percent(share: float) -> str:
    """A share as whole percent, ``""`` where there is none to state."""
    if math.isnan(share) or math.isinf(share):
        return ""
    whole = round(share * 100)
    if whole == 0 and share != 0:
        return "under 1 %" if share > 0 else f"under {MINUS}1 %"
    return f"{whole} %".replace("-", MINUS)


def feet(value_in: float, *, metric: bool = False) -> str:
    """A length or place as a tape reads it: ``8 ft 6 in``, under two feet in inches; meters in metric."""
    if math.isnan(value_in) or math.isinf(value_in):
        return amount(value_in, "in")
    if metric:
        return f"{value_in * CM_PER_IN / 100:,.2f} m".replace("-", MINUS)
    if abs(value_in) < 24:
        return amount(value_in, "in")
    whole = round(abs(value_in))
    sign = MINUS if value_in < 0 else ""
    return f"{sign}{whole // 12} ft" + (f" {whole % 12} in" if whole % 12 else "")


_IN_TEXT: Final = re.compile(
    r"(?<![\w./-])(?P<number>\d[\d,]*(?:\.\d+)?)(?P<gap>[ \u00a0])(?P<unit>lb|in|psi)\b(?!/| balls?\b| \d)"
)


def text_in_metric(text: str) -> str:
    """A sentence with its pounds, inches and psi written in metric; ball sizes such as ``2-5/16 in`` stay.

    For sentences made elsewhere: amounts are rounded as ``amount`` rounds them.
    """

    def change(match: re.Match[str]) -> str:
        return amount(float(match["number"].replace(",", "")), match["unit"], metric=True)

    return _IN_TEXT.sub(change, text)


def listed(words: list[str] | tuple[str, ...], *, joint: str = "and") -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joint} {words[-1]}"
