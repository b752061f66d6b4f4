"""Marks that stand beside words: verdicts, bases, margins; and what a person may do."""

from __future__ import annotations

import math
from typing import Any

from django import template
from django.template import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString

from rubrail.desk.permissions import permission
from rubrail.quantity.basis import BASIS_SAYS

register = template.Library()

VERDICTS = {"clear": "clear", "depends": "depends", "over": "over", "not known": "unknown"}
"""Verdict word to the name its color and shape go by."""
FIRM = ("label", "weighed", "measured")
"""Bases a decision can rest on; the others are marked as soft."""


@register.simple_tag
def verdict(word: str) -> SafeString:
    """A verdict: shape, color and word, always all three.

    Raises
    ------
    KeyError
        If it is not one of the four words.
    """
    return format_html(
        '<span class="verdict verdict--{0}"><svg class="mark" aria-hidden="true" viewBox="0 0 16 16">'
        '<use href="#mark-{0}"></use></svg>{1}</span>',
        VERDICTS[word],
        word,
    )


@register.simple_tag
def basis(word: str) -> SafeString:
    """Where a number comes from, as a small word whose meaning opens on hover.

    Raises
    ------
    KeyError
        If it is not one of the words.
    """
    return format_html(
        '<span class="basis basis--{}" title="{}">{}</span>',
        "firm" if word in FIRM else "soft",
        BASIS_SAYS[word],
        word,
    )


BAR_END = 125.0
"""Right end of a margin bar, in percent of the limit; what reaches past it is cut with an arrow."""


@register.inclusion_tag("desk/parts/margin.html")
def margin_bar(demand: float, limit: float, word: str, low: float | None = None, high: float | None = None) -> dict:
    """A bar of demand against limit, with the tolerance as a thin line.

    Parameters
    ----------
    demand, limit : float
        Same unit; where either is not known, or there is no limit, the bar stays empty.
    word : str
        The verdict's word, which says the color.
    low, high : float, optional
        The demand with every tolerance for and against.
    """
    known = all(map(math.isfinite, (demand, limit))) and limit > 0
    share = 100 * demand / limit if known else 0.0
    spread = None
    if known and low is not None and high is not None:
        start, end = (min(max(0.0, 100 * v / limit), BAR_END) for v in (low, high))
        spread = {"x": round(start, 2), "width": round(end - start, 2), "end": round(end, 2)}
    return {
        "known": known,
        "kind": VERDICTS[word],
        "width": round(min(max(share, 0.0), BAR_END), 2),
        "past": share > BAR_END,
        "spread": spread,
        "end": BAR_END,
    }


@register.simple_tag(takes_context=True)
def may(context: Context, name: str) -> bool:
    """Whether the person may do what the permission declares; an undeclared name is an error."""
    permission(name)
    user = context.get("user")
    return bool(user and user.is_authenticated and user.may(name))


@register.simple_tag(takes_context=True)
def query(context: Context, **changes: Any) -> str:
    """The page's address query with some parts changed; empty parts and the page number fall away."""
    parts = context["request"].GET.copy()
    if "page" not in changes:
        parts.pop("page", None)
    for name, value in changes.items():
        if value in ("", None):
            parts.pop(name, None)
        else:
            parts[name] = value
    kept = {k: v for k, v in parts.items() if v}
    for name in set(parts) - set(kept):
        del parts[name]
    return f"?{parts.urlencode()}" if parts else "?"
