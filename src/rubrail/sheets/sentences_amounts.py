"""Numbers as a person says them: ``1,432 lb``, ``14 in``, ``12 %``, and the same in metric."""

from __future__ import annotations

import math
import re
from typing import Final

from rubrail.quantity.show import UNKNOWN, show, show_feet

MINUS: Final = "−"
_DECIMALS: Final = {"lb": 0, "in": 1, "ft": 1, "psi": 0, "": 2, "%": 1, "rad": 1, "g": 3, "lb in": 0}
_NEWTON_METERS_A_POUND_INCH: Final = 0.112984829


def amount(value: float, unit: str, *, metric: bool = False) -> str:
    """A number with its unit, rounded as it is read in a yard: whole pounds, tenths of an inch.

    What would round to nothing keeps the decimals it needs, so that a hair past a limit is never 0.

    Parameters
    ----------
    value : float
        In the core unit; ``nan`` is *not known* and ``inf`` is *no limit*.
    unit : str
        Core unit, ``USD``, or ``""``.
    metric : bool
        Kilograms, millimeters or meters, and kilopascals instead.
    """
    if math.isnan(value):
        return UNKNOWN
    if unit == "USD":
        cents = 2 if abs(value) < 100 and value != round(value) else 0
        return f"{MINUS if value < 0 else ''}${abs(value):,.{cents}f}"
    if unit == "lb in" and metric:
        value, unit = value * _NEWTON_METERS_A_POUND_INCH, "N m"
    text = show(value, unit, metric=metric, decimals=None if metric else _DECIMALS.get(unit))
    decimals = 0
    while abs(value) > 1e-6 and not math.isinf(value) and not re.search("[1-9]", text.split(" ")[0]) and decimals < 6:
        decimals += 1
        text = show(value, unit, metric=metric, decimals=decimals)
    return text.replace("-", MINUS, 1) if text.startswith("-") else text


def feet(value_in: float, *, metric: bool = False) -> str:
    """A length or place as a tape reads it: ``8 ft 6 in`` to the whole inch, under two feet in inches; metric in m."""
    if not math.isfinite(value_in) or metric or abs(value_in) < 24:
        return amount(value_in, "in", metric=metric)
    return show_feet(round(value_in)).replace("-", MINUS)


def percent(share: float) -> str:
    """A share as whole percent, ``""`` where there is none to state."""
    if math.isnan(share) or math.isinf(share):
        return ""
    whole = round(share * 100)
    if whole == 0 and share != 0:
        return "under 1 %" if share > 0 else f"under {MINUS}1 %"
    return f"{whole} %".replace("-", MINUS)


_RANGE_IN_TEXT: Final = re.compile(r"(?<![\w./-])(?P<low>\d[\d,]*) to (?P<high>\d[\d,]*) (?P<unit>lb|in|psi)\b(?! \d)")
_IN_TEXT: Final = re.compile(
    r"(?<![\w./-])(?P<number>\d[\d,]*(?:\.\d+)?)[ \u00a0](?P<unit>lb/ft|lb|in|psi)\b(?!/| balls?\b| \d)"
)


def text_in_metric(text: str) -> str:
    """A sentence with its pounds, inches and psi written in metric; ball sizes such as ``2-5/16 in`` stay.

    For sentences made elsewhere: amounts are rounded as ``amount`` rounds them.
    """

    def change(match: re.Match[str]) -> str:
        return amount(float(match["number"].replace(",", "")), match["unit"], metric=True)

    def both(match: re.Match[str]) -> str:
        low, high = (amount(float(match[end].replace(",", "")), match["unit"], metric=True) for end in ("low", "high"))
        return f"{low.rsplit(' ', 1)[0]} to {high}"

    return _IN_TEXT.sub(change, _RANGE_IN_TEXT.sub(both, text))


def listed(words: list[str] | tuple[str, ...], *, joint: str = "and") -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joint} {words[-1]}"
