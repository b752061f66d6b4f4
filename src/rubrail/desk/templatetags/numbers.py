"""Numbers, money, dates and times as people read them; weights and lengths in the person's own measures."""

from __future__ import annotations

import math
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django import template
from django.template import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString

from rubrail.desk import clock
from rubrail.desk.amounts import written
from rubrail.quantity.money import show_money
from rubrail.quantity.show import show_feet

register = template.Library()

NOT_KNOWN = "not known"


def _known(value: Any) -> bool:
    return value is not None and value != "" and not (isinstance(value, float) and math.isnan(value))


def unknown() -> SafeString:
    """The mark and words for a number nobody knows."""
    return format_html(
        '<span class="unknown"><svg class="mark" aria-hidden="true" viewBox="0 0 16 16">'
        '<use href="#mark-unknown"></use></svg>{}</span>',
        NOT_KNOWN,
    )


def apart(text: str) -> SafeString:
    """A number with its unit set apart, kept on one line."""
    digits, _, unit = text.partition(" ")
    if not unit or any(c.isdigit() for c in unit):
        return format_html('<span class="num">{}</span>', text)
    return format_html('<span class="num">{} <span class="num__unit">{}</span></span>', digits, unit)


@register.simple_tag(takes_context=True)
def amount(context: Context, value: float | None, unit: str) -> SafeString:
    """A number in a core unit, in the person's measures, or *not known*."""
    return apart(written(value, unit, metric=context.get("metric", False))) if _known(value) else unknown()


@register.simple_tag(takes_context=True)
def feet(context: Context, value_in: float | None) -> SafeString:
    """A length as a tape reads it, or in meters."""
    if not _known(value_in):
        return unknown()
    return format_html('<span class="num">{}</span>', show_feet(value_in, metric=context.get("metric", False)))


@register.simple_tag
def money(value: Decimal | None) -> SafeString:
    """Dollars."""
    return format_html('<span class="num">{}</span>', show_money(value)) if _known(value) else unknown()


@register.filter
def when(moment: datetime) -> str:
    """A moment in the yard's time: ``Mon, Mar 2, 2026, 4:05 pm``."""
    there = clock.local(moment)
    hour = there.hour % 12 or 12
    return f"{there:%a, %b} {there.day}, {there.year}, {hour}:{there:%M} {'am' if there.hour < 12 else 'pm'}"


@register.filter
def stamp(moment: datetime) -> str:
    """A moment for machines."""
    return moment.isoformat()


@register.filter
def clock_time(moment: datetime) -> str:
    """The time of day in the yard: ``4:05 pm``."""
    there = clock.local(moment)
    return f"{there.hour % 12 or 12}:{there:%M} {'am' if there.hour < 12 else 'pm'}"


@register.filter
def local_day(moment: datetime) -> date:
    """The day in the yard."""
    return clock.local(moment).date()


@register.filter
def day(value: date | None) -> str:
    """A date: ``Mar 2, 2026``."""
    return f"{value:%b} {value.day}, {value.year}" if value else NOT_KNOWN


@register.filter
def count_of(number: int, words: str) -> str:
    """A count with its noun: ``3|count_of:"unit,units"``."""
    one, many = words.split(",")
    return f"{number:,} {one if number == 1 else many}"
