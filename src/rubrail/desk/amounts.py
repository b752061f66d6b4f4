"""Numbers with their unit as the desk writes them, on pages and in the trail alike."""

from __future__ import annotations

from rubrail.quantity.show import show

SIXTEENTHS = 16


def written(number: float, unit: str, *, metric: bool = False) -> str:
    """A number with its unit; inches in sixteenths as a tape has them: ``2-5/16 in``, but ``36.25 in``.

    Parameters
    ----------
    number : float
        In ``unit``.
    unit : str
        Core or file unit.
    metric : bool
        In metric units instead.
    """
    sixteenths = number * SIXTEENTHS
    if unit != "in" or metric or sixteenths != int(sixteenths) or number * 4 == int(number * 4):
        return show(number, unit, metric=metric)
    whole, over = divmod(abs(int(sixteenths)), SIXTEENTHS)
    under = SIXTEENTHS
    while over % 2 == 0:
        over, under = over // 2, under // 2
    sign = "-" if number < 0 else ""
    return f"{sign}{whole}-{over}/{under} in" if whole else f"{sign}{over}/{under} in"
