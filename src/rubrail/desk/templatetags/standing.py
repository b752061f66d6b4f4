"""Where a unit stands, for its page."""

from __future__ import annotations

from django import template

from rubrail.desk.models import Unit
from rubrail.desk.standing import Step, steps_of

register = template.Library()


@register.simple_tag
def steps(unit: Unit) -> list[Step]:
    """The steps that can be taken from where a unit stands."""
    return steps_of(unit)
