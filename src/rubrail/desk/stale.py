"""Say what somebody else changed in a unit while this person had its form open."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rubrail.desk.editing import Meanwhile
from rubrail.desk.spec_fields import field_at
from rubrail.desk.stock import LABELS
from rubrail.things.trailer import Trailer


def notes_on(changes: Iterable[Meanwhile]) -> list[dict[str, Any]]:
    """One note a field: its label, what it was, what they saved, what this person has, and whether the two differ."""
    return [_note(change) for change in changes]


def _note(change: Meanwhile) -> dict[str, Any]:
    path, _, part = change.name.partition(":")
    field = field_at(Trailer, path)
    label = LABELS.get(path) or (field.label if field else path)
    unit = f" {field.unit}" if field and field.unit and not part else ""
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
    return f"{text}{unit}" if text else "not known"
