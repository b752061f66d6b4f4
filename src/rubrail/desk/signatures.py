"""Signatures: a typed name, and the strokes of a finger or a mouse where somebody drew them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from rubrail.sheets.drawing.signature import HIGH, WIDE, signature_view

MOST_NAME = 80
MOST_STROKES = 80
MOST_NUMBERS = 8_000
"""Coordinates of all strokes together."""


class SignatureError(ValueError):
    """The signature is not taken; the message is a sentence for the person who signs."""


@dataclass(frozen=True, slots=True)
class Signature:
    """Who signed, and how it was drawn; no strokes where the name alone was typed."""

    name: str
    strokes: tuple[tuple[int, ...], ...] = ()

    def stored(self, *, at: datetime, role: str, by: str) -> dict[str, Any]:
        """As a record keeps it: with the moment, what the signer is to the record, and whose account it came by."""
        strokes = [list(s) for s in self.strokes]
        return {"name": self.name, "strokes": strokes, "at": at.isoformat(), "role": role, "by": by}


def read_signature(data: Mapping[str, str], field: str = "signature") -> Signature:
    """The signature of a form that has the partial ``parts/signature.html`` for ``field``.

    Parameters
    ----------
    data : mapping
        The form as sent: ``<field>_name`` holds the typed name, ``<field>`` the strokes as JSON or nothing.
    field : str

    Raises
    ------
    SignatureError
        If there is no name, or the strokes are none of the pad's.
    """
    name = " ".join(data.get(f"{field}_name", "").split())
    if not name:
        raise SignatureError("Type the name of who signs; the drawn signature goes with it.")
    if len(name) > MOST_NAME:
        raise SignatureError(f"The name has {len(name)} letters; at most {MOST_NAME} are kept.")
    return Signature(name, _strokes(data.get(field, "")))


@dataclass(frozen=True, slots=True)
class Pad:
    """What the partial begins with: the name typed, and what was drawn as its form sent it."""

    name: str
    strokes: str = ""


def pad_again(data: Mapping[str, str], field: str = "signature", *, name: str = "") -> Pad:
    """A signature's pad as its form was sent; ``name`` alone where it was not. Strokes that are none are left out."""
    strokes = data.get(field, "")
    try:
        _strokes(strokes)
    except SignatureError:
        strokes = ""
    return Pad(data.get(f"{field}_name", name)[:MOST_NAME], strokes)


def _strokes(text: str) -> tuple[tuple[int, ...], ...]:
    if not text.strip():
        return ()
    try:
        raw = json.loads(text)
    except (ValueError, RecursionError):
        raw = None
    good = isinstance(raw, list) and len(raw) <= MOST_STROKES and all(_is_stroke(s) for s in raw)
    if not good or sum(len(s) for s in raw) > MOST_NUMBERS:
        raise SignatureError("The drawn signature did not arrive whole; press Begin again and sign once more.")
    return tuple(tuple(s) for s in raw)


def _is_stroke(raw: Any) -> bool:
    if not isinstance(raw, list) or len(raw) < 2 or len(raw) % 2:
        return False
    whole = all(isinstance(n, int) and not isinstance(n, bool) for n in raw)
    return whole and all(0 <= n <= (HIGH if i % 2 else WIDE) for i, n in enumerate(raw))


def drawn(signature: Mapping[str, Any]) -> SafeString:
    """A stored signature as SVG for a page; nothing where only the name was typed."""
    if not signature.get("strokes"):
        return mark_safe("")
    return mark_safe(signature_view(signature["strokes"], name=str(signature.get("name", ""))))
