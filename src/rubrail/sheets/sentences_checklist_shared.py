"""Words the lines of a checklist share."""

from __future__ import annotations

from rubrail.answers.checklist_parts import Line
from rubrail.sheets.paper.facts import sixteenths
from rubrail.sheets.sentences_amounts import amount, feet

Words = tuple[str, str, str]
"""Title, what to do, what counts as good."""


def pounds(value: float | None, metric: bool) -> str:
    """A weight, or that it is not known."""
    return "not known" if value is None else amount(value, "lb", metric=metric)


def axle_of(line: Line) -> str:
    """The axle a line is about."""
    return f"axle {line.facts['axle']}"


def shown(number: float, unit: str, *, metric: bool = False) -> str:
    """A number of an entry with its unit."""
    if unit == "code":
        return f"{round(number):04d}"
    if unit == "size":
        return sixteenths(number)
    if unit == "length":
        return feet(number, metric=metric)
    if unit in ("V", "A", "32nds"):
        return f"{number:g} {unit}"
    # A lining or a pushrod is measured in hundredths.
    if unit == "in" and abs(number) < (1 if metric else 10):
        return f"{round(number, 3):g} in"
    return amount(number, unit, metric=metric)
