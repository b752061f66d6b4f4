"""Rolled steel shapes by name."""

from __future__ import annotations

from functools import cache

from rubrail.rules.tables import table


@cache
def _shapes() -> dict[str, dict[str, float]]:
    return {row["shape"]: row for row in table("steel-sections")["rows"]}


def section(*, shape: str) -> dict[str, float]:
    """Weight, depth and section properties of a rolled shape, its units in the names.

    Parameters
    ----------
    shape : str
        As the steel trade writes it: ``W12x19``, ``C3x4.1``, ``MC12x10.6``; capital or small letters.

    Raises
    ------
    ValueError
        If the shape is not listed, with those that are.

    References
    ----------
    STEEL-SECTIONS
    """
    name = shape.strip().upper().replace("X", "x")
    if name not in _shapes():
        raise ValueError(f"shape must be one of {', '.join(_shapes())}, got {shape!r}.")
    return _shapes()[name]


def depth_in(*, shape: str) -> float:
    """Depth of a rolled shape. [in]

    References
    ----------
    STEEL-SECTIONS
    """
    return float(section(shape=shape)["depth_in"])
