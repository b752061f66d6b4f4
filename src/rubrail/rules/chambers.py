"""How far the pushrod of an air brake may come out, by the type of its chamber."""

from __future__ import annotations

import re
from collections.abc import Iterable

from rubrail.rules.tables import figure, table

LONGEST_IN = figure("brake-chambers", "longest_in")
"""No clamp-type chamber is rated for a longer stroke: a limit beyond it is a slip of the pen, or a chamber's type."""


def chamber_limits_in() -> dict[str, float]:
    """Limit of each type of chamber whose limit was read, in the order of the table. [in]

    References
    ----------
    STROKE-LIMITS
    """
    return {row["chamber"]: float(row["limit_in"]) for row in table("brake-chambers")["rows"]}


def chamber_named(text: str, *, among: Iterable[str]) -> str:
    """The type that is meant, by its name here, empty for none: ``30``, ``type 30``, ``30 long``, ``30LS``, ``24l``.

    Parameters
    ----------
    text : str
        As somebody types it off the chamber.
    among : iterable of str
        Names as ``chamber_limits_in`` has them.
    """
    said = _squeezed(text)
    for name in among:
        known = _squeezed(name)
        if said in {known, *(known.replace("longstroke", short) for short in ("long", "ls", "l"))}:
            return name
    return ""


def _squeezed(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", text.lower()).removeprefix("type")


def stroke_limit_in(*, chamber: str) -> float:
    """Limit of one type of chamber; ``nan`` where it was read nowhere. [in]

    Parameters
    ----------
    chamber : str
        A type as ``chamber_limits_in`` names it.

    References
    ----------
    STROKE-LIMITS
    """
    return chamber_limits_in().get(chamber, float("nan"))
