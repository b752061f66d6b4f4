"""How big a tire is drawn, from its size as on the sidewall."""

from __future__ import annotations

import re
from dataclasses import dataclass

_METRIC = re.compile(r"(?:ST|LT|P)?\s*(\d{3})\s*/\s*(\d{2,3})\s*-?\s*[A-Z]{0,2}\s*(\d{1,2}(?:\.\d)?)", re.IGNORECASE)
_FLOTATION = re.compile(r"(\d{2}(?:\.\d+)?)\s*[xX]\s*(\d{1,2}(?:\.\d+)?)\s*[-R]\s*(\d{1,2}(?:\.\d)?)")
_INCH = re.compile(r"(\d{1,2}(?:\.\d{1,2})?)\s*(-|R)\s*(\d{1,2}(?:\.\d)?)")
_MM = 25.4

_INCH_ASPECT = {"-": 1.0, "R": 0.86}
"""Section height over width of sizes that state no aspect: about 1 for older cross-ply, 0.86 for radials on 15-degree
rims. From memory; used for drawing only."""
_SQUASH = 0.13
"""Share of the section height a tire loses under its load. From memory; used for drawing only."""


@dataclass(frozen=True, slots=True)
class TireSize:
    """Radius under load and section width, inches."""

    loaded_radius_in: float
    width_in: float
    rim_radius_in: float


def tire_size(text: str | None) -> TireSize | None:
    """Sizes a sidewall designation stands for; None where it is not one we can read.

    Parameters
    ----------
    text : str or None
        As ``ST235/80R16``, ``215/75R17.5``, ``20.5x8.0-10`` or ``7.50-16``.
    """
    if not text:
        return None
    if m := _METRIC.search(text):
        width, rim = float(m[1]) / _MM, float(m[3])
        section = width * float(m[2]) / 100
    elif m := _FLOTATION.search(text):
        width, rim = float(m[2]), float(m[3])
        section = (float(m[1]) - rim) / 2
    elif m := _INCH.search(text):
        width, rim = float(m[1]), float(m[3])
        section = width * _INCH_ASPECT[m[2].upper()]
    else:
        return None
    if not (4 <= rim <= 26 and 0 < section < rim):
        return None
    return TireSize(rim / 2 + section * (1 - _SQUASH), width, rim / 2)
