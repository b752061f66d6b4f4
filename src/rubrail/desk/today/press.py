"""How pressing something is: late, today or soon, with its days in words."""

from __future__ import annotations

from datetime import date

LATE, NOW, SOON = "late", "today", "soon"
PRESSES = (LATE, NOW, SOON)
"""The most pressing first; each has a shape of its own."""
FAR_DAYS, MONTH_DAYS = 60, 30.44
"""Beyond so many days nobody counts them, and months are told. [day]"""


def press_of(day: date, *, today: date) -> str:
    """How pressing something is that is due on a day."""
    return LATE if day < today else NOW if day == today else SOON


def press_words(day: date, *, today: date) -> str:
    """The same with its days: ``3 days late``, ``today``, ``in 12 days``."""
    days = (day - today).days
    if days == 0:
        return "today"
    if days == 1:
        return "tomorrow"
    if days > FAR_DAYS:
        return f"in {days / MONTH_DAYS:.0f} months"
    many = f"{abs(days):,} day{'s' if abs(days) != 1 else ''}"
    return f"in {many}" if days > 0 else f"{many} late"
