"""The date arithmetic as the case files call it: days as text, counts as numbers."""

from __future__ import annotations

from datetime import date

from rubrail.rules import after_delivery


def months_after(*, day: str, months: float) -> str:
    return after_delivery.months_after(day=date.fromisoformat(day), months=int(months)).isoformat()


def driven_by(*, day: str, miles: float, miles_a_day: float) -> str:
    return after_delivery.driven_by(day=date.fromisoformat(day), miles=miles, miles_a_day=miles_a_day).isoformat()
