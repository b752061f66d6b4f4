"""Faults as a form tells them: beside the field, in the words of its labels and the measures of who typed."""

from __future__ import annotations

import re

from rubrail.desk.spec_fields import field_at
from rubrail.desk.stock import path_of_fault
from rubrail.desk.typed import US, accepted_in, value_in
from rubrail.things.faults import Fault
from rubrail.things.part import Thing

NAME = re.compile(r"[a-z]+(?:\[\d+\])?(?:[._][a-z0-9]+(?:\[\d+\])?)+")
"""A field as files name it: ``axle[2].gawr_lb``, ``length_in``."""


def in_words(text: str, model: type[Thing], *, beside: str = "") -> str:
    """A text with the fields of a file in the words of the forms.

    Parameters
    ----------
    text : str
    model : type
        Whose fields they are.
    beside : str
        Path of the field the text is about: names without a dot are of the same table.
    """

    def words(match: re.Match[str]) -> str:
        path = path_of_fault(match[0])
        table = beside.rpartition(".")[0]
        near = field_at(model, f"{table}.{path}") if table and "." not in path else None
        found = near or field_at(model, path)
        return found.label if found else match[0]

    return NAME.sub(words, text)


def sentence(
    fault: Fault, *, named: bool, unit: str = "", measures: str = US, model: type[Thing] | None = None
) -> str:
    """A fault as a form says it.

    Parameters
    ----------
    fault : Fault
    named : bool
        Whether it stands beside its field, which need not be named then.
    unit : str
        Of the field.
    measures : str
        Of the form.
    model : type, optional
        Whose fields it may name, which are then told by their labels.
    """
    field, accepted = fault.field, accepted_in(fault.accepted, measures)
    if model:
        field, accepted = in_words(field, model), in_words(accepted, model, beside=path_of_fault(field))
    said = f"{fault.lead} {accepted}" if named else f"{field} {fault.lead} {accepted}"
    shown = value_in(fault.value, unit, measures)
    got = f", not {shown}" if shown != "an object" and not shown.startswith("a ") else ""
    remedy = f". {fault.remedy[:1].upper()}{fault.remedy[1:]}" if fault.remedy else ""
    return f"{said[:1].upper()}{said[1:]}{got}{remedy}."
