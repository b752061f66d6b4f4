"""Entries of checklists in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import template

from rubrail.answers.checklist_parts import Line
from rubrail.desk.checking.entries import entry_words

register = template.Library()


@register.filter
def said(value: Mapping[str, Any], line: Line) -> str:
    """What somebody entered at a line."""
    return entry_words(line, value)
