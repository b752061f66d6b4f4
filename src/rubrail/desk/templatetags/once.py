"""A key for a form, so that it is taken once however often it is pressed."""

from __future__ import annotations

import uuid

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from rubrail.desk.once import FIELD

register = template.Library()


@register.simple_tag
def once() -> SafeString:
    """A hidden field with a key of its own for this showing of the form."""
    return format_html('<input type="hidden" name="{}" value="{}">', FIELD, uuid.uuid4())
