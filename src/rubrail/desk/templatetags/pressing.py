"""How pressing something is, as a mark: shape, color and words."""

from __future__ import annotations

from datetime import date

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from rubrail.desk import clock
from rubrail.desk.today.press import PRESSES, press_of, press_words

register = template.Library()


@register.simple_tag
def pressing(word: str, says: str = "") -> SafeString:
    """A mark for one of the three words; ``says`` stands in its place where it says more.

    Raises
    ------
    ValueError
        If it is not one of the words.
    """
    if word not in PRESSES:
        raise ValueError(f"{word!r} is not how pressing something can be; the words are {', '.join(PRESSES)}.")
    return format_html(
        '<span class="press press--{0}"><svg class="mark" aria-hidden="true" viewBox="0 0 16 16">'
        '<use href="#mark-{0}"></use></svg>{1}</span>',
        word,
        says or word,
    )


@register.simple_tag
def pressing_on(day: date) -> SafeString:
    """The mark of what is due on a day."""
    today = clock.today()
    return pressing(press_of(day, today=today), press_words(day, today=today))
