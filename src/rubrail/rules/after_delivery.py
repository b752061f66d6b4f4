"""When something falls due after delivery: so many months on, or the day a distance is likely to be driven."""

from __future__ import annotations

import math
from calendar import monthrange
from datetime import date, timedelta

from rubrail.rules.tables import figure

MILES_A_DAY = figure("follow-up", "miles_a_day")


def months_after(*, day: date, months: int) -> date:
    """The day of the same number so many months on; the last day of that month where it has no such day.

    Parameters
    ----------
    day : date
    months : int
        0 or more. [month]

    Raises
    ------
    ValueError
        If ``months`` is less than 0.

    References
    ----------
    TREAS-20.6075-1
    """
    if months < 0:
        raise ValueError(f"months must be 0 or more, got {months}")
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def driven_by(*, day: date, miles: float, miles_a_day: float = MILES_A_DAY) -> date:
    """The day by which a distance is likely driven: a guess, and never the day of delivery itself.

    Parameters
    ----------
    day : date
        Of delivery.
    miles : float
        Above 0. [mi]
    miles_a_day : float
        Guessed, above 0. [mi]

    Raises
    ------
    ValueError
        If either distance is not above 0.

    References
    ----------
    COMMON-PRACTICE
    """
    if not (miles > 0 and miles_a_day > 0):
        raise ValueError(f"miles and miles a day must be above 0, got {miles} and {miles_a_day}")
    return day + timedelta(days=math.ceil(miles / miles_a_day))
