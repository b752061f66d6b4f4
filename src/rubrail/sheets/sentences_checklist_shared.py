"""Words the lines of a checklist share."""

from __future__ import annotations

from rubrail.answers.checklist_parts import Line
from rubrail.sheets.sentences_amounts import amount

Words = tuple[str, str, str]
"""Title, what to do, what counts as good."""


def pounds(value: float | None, metric: bool) -> str:
    """A weight, or that it is not known."""
    return "not known" if value is None else amount(value, "lb", metric=metric)


def axle_of(line: Line) -> str:
    """The axle a line is about."""
    return f"axle {line.facts['axle']}"
