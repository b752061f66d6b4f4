"""Say what somebody else changed in a thing while this person had its form open."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from rubrail.desk.editing import Meanwhile
from rubrail.desk.hauls import haul_field
from rubrail.desk.spec_fields import SpecField, field_at
from rubrail.desk.stock import LABELS
from rubrail.desk.typed import US, unit_word
from rubrail.quantity.parse import is_bare
from rubrail.things.part import Thing
from rubrail.things.trailer import Trailer


def notes_on(
    changes: Iterable[Meanwhile], *, model: type[Thing] = Trailer, measures: str = US
) -> list[dict[str, Any]]:
    """One note a field: its label, what it was, what they saved, what this person has, and whether the two differ.

    Parameters
    ----------
    changes : iterable of Meanwhile
    model : type
        Whose fields they are.
    measures : str
        Of the form.
    """
    return [_note(change, field_at(model, change.name.partition(":")[0]), measures) for change in changes]


def notes_on_haul(changes: Iterable[Meanwhile], spec: Mapping[str, Any], *, measures: str) -> list[dict[str, Any]]:
    """The same for a haul, whose page has names of its own for what the haul's table holds."""
    return [_note(change, _haul_label(change.name.partition(":")[0], spec), measures) for change in changes]


def _haul_label(name: str, spec: Mapping[str, Any]) -> SpecField | None:
    path = re.sub(r"^piece\.(\d+)\.", r"cargo.\1.piece.", name)
    return haul_field(path, spec)


def _note(change: Meanwhile, field: SpecField | None, measures: str) -> dict[str, Any]:
    path, _, part = change.name.partition(":")
    label = LABELS.get(path) or (field.label if field else path)
    unit = unit_word(field.unit, measures) if field and not part else ""
    return {
        "label": f"basis of the {label}" if part == "basis" else label,
        "name": change.name,
        "raw": change.theirs,
        "seen": _said(change.seen, unit),
        "theirs": _said(change.theirs, unit),
        "mine": _said(change.mine, unit),
        "both": change.both,
    }


def _said(text: str, unit: str) -> str:
    if not text:
        return "not known"
    return f"{text} {unit}" if unit and all(map(is_bare, text.split(";"))) else text
