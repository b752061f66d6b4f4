"""Numbers of answers on pages, rounded as the sentences round them: whole pounds, tenths of an inch."""

from __future__ import annotations

import math

from django import template
from django.template import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from rubrail.desk.templatetags.marks import VERDICTS
from rubrail.desk.templatetags.numbers import apart, unknown
from rubrail.sheets import sentences_amounts

register = template.Library()


@register.simple_tag(takes_context=True)
def rounded(context: Context, value: float, unit: str) -> SafeString:
    """A number of an answer in the person's measures, or *not known*."""
    if math.isnan(value):
        return unknown()
    return apart(sentences_amounts.amount(value, unit, metric=context.get("metric", False)))


@register.simple_tag
def share(value: float) -> SafeString:
    """A relative margin as whole percent; a limit that cannot be measured has none."""
    if math.isnan(value):
        return unknown()
    return apart(sentences_amounts.percent(value)) if math.isfinite(value) else mark_safe("–")


@register.simple_tag
def verdict_shape(word: str) -> SafeString:
    """The shape and color of a verdict beside a sentence that begins with its word.

    Raises
    ------
    KeyError
        If it is not one of the four words.
    """
    return format_html(
        '<svg class="mark mark-{0}" aria-hidden="true" viewBox="0 0 16 16"><use href="#mark-{0}"></use></svg>',
        VERDICTS[word],
    )
