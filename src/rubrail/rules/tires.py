"""Tire markings by the published tables: load index, load range, speed symbol, size."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.tires import MM_PER_IN, loaded_radius_in, overall_diameter_in
from rubrail.rules.tables import column, figure, table

KG_PER_LB = 0.45359237
_SIZE = re.compile(
    r"(?P<family>ST|LT|P)?\s*(?P<width>\d{3})\s*/\s*(?P<aspect>\d{2,3})\s*(?:-|Z?R|B|D)\s*(?P<rim>\d{2}(?:\.5)?)"
    r"(?:\s*(?:LR\s*)?(?P<range>[A-HJ-N]))?"
)


def load_index_kg(*, index: ArrayLike) -> NDArray[np.float64]:
    """Load of one tire by its load index, 60 to 179; ``nan`` outside. [kg]

    Parameters
    ----------
    index : array_like
        Load index, whole numbers.

    References
    ----------
    TIRE-LOAD-INDEX
    """
    loads, first = column("tire-load-index", "load_kg"), column("tire-load-index", "index")[0]
    place = np.asarray(index, float) - first
    good = (place >= 0) & (place < len(loads)) & (place == np.round(place))
    return np.where(good, loads[np.where(good, np.nan_to_num(place), 0).astype(int)], np.nan)


def load_index_lb(*, index: ArrayLike) -> NDArray[np.float64]:
    """Load of one tire by its load index. A US sidewall rounds to its own pounds and goes before this. [lb]

    Parameters
    ----------
    index : array_like
        Load index, whole numbers.

    References
    ----------
    TIRE-LOAD-INDEX
    """
    return load_index_kg(index=index) / KG_PER_LB


def nearest_load_index(*, load_kg: ArrayLike) -> NDArray[np.float64]:
    """Load index whose load is nearest, 60 to 179; ``nan`` for a load that is not known.

    Parameters
    ----------
    load_kg : array_like
        Load of one tire. [kg]

    References
    ----------
    TIRE-LOAD-INDEX
    """
    load, loads = np.asarray(load_kg, float), column("tire-load-index", "load_kg")
    place = np.abs(loads - load[..., None]).argmin(axis=-1)
    return np.where(np.isnan(load), np.nan, column("tire-load-index", "index")[place])


def _row(name: str, key: str, value: str, wanted: str, what: str) -> float:
    found = {row[key]: row[wanted] for row in table(name)["rows"]}
    if value not in found:
        raise ValueError(f"{what} must be one of {', '.join(found)}, got {value!r}.")
    return float(found[value])


def ply_rating(*, load_range: str) -> float:
    """Ply rating a load range letter stands for.

    Raises
    ------
    ValueError
        If the letter is no load range.

    References
    ----------
    TIRE-LOAD-RANGE
    """
    return _row("tire-load-ranges", "range", load_range, "ply", "load_range")


def speed_km_per_h(*, symbol: str) -> float:
    """Speed a tire is made for by its symbol. [km/h]

    Raises
    ------
    ValueError
        If the symbol is not listed.

    References
    ----------
    TIRE-SPEED-SYMBOL
    """
    return _row("tire-speed-symbols", "symbol", symbol, "speed_km_per_h", "symbol")


def family_exponent(*, family: str) -> float:
    """Exponent of a tire family's load at reduced pressure.

    Raises
    ------
    ValueError
        If the family is not listed.

    References
    ----------
    TIRE-PRESSURE-LAW
    """
    return _row("tire-families", "family", family, "exponent", "family")


def dual_load_lb(*, single_load_lb: ArrayLike) -> NDArray[np.float64]:
    """Dual load of a tire where only its single load is known; the sidewall's dual figure goes before it. [lb]

    Parameters
    ----------
    single_load_lb : array_like
        Load of one tire mounted single. [lb]

    References
    ----------
    TIRE-DUAL-FALLBACK
    """
    return figure("tire-families", "dual_of_single") * np.asarray(single_load_lb, float)


def p_metric_load_kg(
    *, width_mm: ArrayLike, aspect: ArrayLike, rim_in: ArrayLike, pressure_kpa: ArrayLike
) -> NDArray[np.float64]:
    """Load of a P-metric passenger tire of the 50 to 80 series, before rounding to a load index. [kg]

    Parameters
    ----------
    width_mm, aspect : array_like
        Section width and aspect in percent, as marked. [mm]
    rim_in : array_like
        Rim diameter, as marked. [in]
    pressure_kpa : array_like
        Cold pressure. [kPa]

    References
    ----------
    TIRE-P-METRIC
    """
    f = table("tire-p-metric")["figures"]
    section = (f["section_constant"] + f["section_per_aspect"] * np.asarray(aspect, float) / 100.0) * width_mm
    rim_mm = np.asarray(rim_in, float) * MM_PER_IN
    shape = section ** f["section_exponent"] * (rim_mm + section)
    return f["load_constant"] * np.asarray(pressure_kpa, float) ** f["pressure_exponent"] * shape


@dataclass(frozen=True, slots=True)
class TireSize:
    """A metric size as marked: section width, aspect in percent, rim; family and load range, or ``""`` for none."""

    width_mm: float
    aspect: float
    rim_in: float
    family: str
    load_range: str

    @property
    def diameter_in(self) -> float:
        """Overall diameter new and unloaded. [in]"""
        return float(overall_diameter_in(width_mm=self.width_mm, aspect=self.aspect, rim_in=self.rim_in))

    @property
    def loaded_radius_in(self) -> float:
        """Axle center to ground at the rated load. [in]"""
        return float(
            loaded_radius_in(
                width_mm=self.width_mm,
                aspect=self.aspect,
                rim_in=self.rim_in,
                deflection=figure("tire-shape", "deflection"),
            )
        )


@cache
def tire_size(text: str) -> TireSize:
    """Read a metric tire size: ``ST235/80R16``, ``235/85-16``, ``LT235/85R16 E``, ``215/75R17.5 H``.

    Raises
    ------
    ValueError
        If it is none, with what is accepted.

    References
    ----------
    TIRE-SIZE, TIRE-LOADED-RADIUS
    """
    match = _SIZE.fullmatch(text.strip().upper())
    if match is None:
        raise ValueError(f"size must be a metric tire size like ST235/80R16 or 215/75R17.5, got {text!r}.")
    return TireSize(
        float(match["width"]), float(match["aspect"]), float(match["rim"]), match["family"] or "", match["range"] or ""
    )
