"""Friction and other usual figures of loading, from their table."""

from __future__ import annotations

from rubrail.rules.tables import figure, table

SURFACES = ("dry", "wet")
RUN_ON = {"open bar": "bars", "plate": "steel", "mesh": "bars", "wood": "wood", "rubber": "rubber"}
"""What a ramp's stated surface counts as."""


def bears(*, contact: str, surface: str | None) -> str | None:
    """What a machine runs on, as the table names it; nothing where it is not known.

    Parameters
    ----------
    contact : str
        ``wheels``, ``tracks`` or ``drums``.
    surface : str or None
        What bears: ``rubber``, ``steel``, ``foam``, ``wood``.
    """
    if surface in ("rubber", "foam"):
        return "rubber"
    if surface == "steel":
        return "steel track" if contact == "tracks" else "steel drum"
    return None


def grip(*, bears_on: str | None, run_on: str | None, surface: str) -> float:
    """Friction between the two, dry or wet; ``nan`` where either is not known.

    Parameters
    ----------
    bears_on, run_on : str or None
        As the table names them.
    surface : str
        One of ``SURFACES``.

    References
    ----------
    GRIP-PRACTICE
    """
    for row in table("loading")["rows"]:
        if (row["bears"], row["run_on"]) == (bears_on, run_on):
            return float(row[surface])
    return float("nan")


def usual(name: str) -> float:
    """A usual figure of loading: GRIP-PRACTICE, SPRINGS-TYPICAL, UPHILL-LIGHT, REAR-LIGHT, BEAM-SIMPLE."""
    return figure("loading", name)
