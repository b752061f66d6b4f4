"""What is wrong with an input: every fault at once, one plain sentence each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault.

    Parameters
    ----------
    field : str
        Dotted name within the thing, members counted from 1 (``axle[2].gawr_lb``); ``""`` for the file itself.
    value : object
        What came.
    accepted : str
        What is accepted, as words that follow *must be*.
    where : str
        File, line and thing.
    remedy : str
        What else helps, in a few words.
    lead : str
        How the sentence begins after the field; ``must be`` for most.
    """

    field: str
    value: Any
    accepted: str
    where: str
    remedy: str = ""
    lead: str = "must be"

    @property
    def sentence(self) -> str:
        """The fault in one sentence."""
        said = f"{self.field} {self.lead} {self.accepted}".strip()
        got = "" if self.value is NOTHING else f", got {show_value(self.value)}"
        remedy = f" ({self.remedy})" if self.remedy else ""
        text = f"{self.where}: {said}{got}{remedy}" if self.where else f"{said}{got}{remedy}"
        text = printable(text)
        return text if text.endswith("?") else f"{text}."

    def __str__(self) -> str:
        return self.sentence


NOTHING = object()
"""Value of a fault that has none to show: a field that is missing, a file that cannot be read."""


class Faults(ValueError):  # noqa: N818 - it is raised for what the input says, not for an error of the program
    """Everything wrong with one input."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(f.sentence for f in self.faults))


def one(field: str, value: Any, accepted: str, where: str, remedy: str = "", lead: str = "must be") -> Faults:
    """A single fault, ready to raise."""
    return Faults([Fault(field, value, accepted, where, remedy, lead)])


def printable(text: str) -> str:
    """A text on one line, whatever it held."""
    return text if text.isprintable() else "".join(c if c.isprintable() else "?" for c in text)


def show_value(value: Any) -> str:
    """A value of a file, short enough for a sentence."""
    if isinstance(value, str):
        short = value if len(value) <= 60 else value[:57] + "..."
        return f'"{printable(short)}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list" if value else "an empty list"
    if isinstance(value, float):
        return f"{value:,.10g}"
    if isinstance(value, int):
        return f"{value:,}" if abs(value) < 10**15 else "a number too large to read"
    if isinstance(value, Decimal | date):
        return str(value)
    return f"a {type(value).__name__}"
