"""What a form showed when it was opened travels with it, so that a save can tell what others changed meanwhile."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.core import signing

SALT = "rubrail.desk.seen"
FIELD = "seen"
LIFE_S = 60 * 60 * 24 * 30


@dataclass(frozen=True, slots=True)
class Seen:
    """Version of the thing and the form's texts, as they were when the form was opened."""

    version: int
    values: Mapping[str, str]


def pack(*, version: int, values: Mapping[str, str]) -> str:
    """A signed text for the form's hidden field; empty texts are left out."""
    return signing.dumps([version, {k: v for k, v in values.items() if v}], salt=SALT, compress=True)


def unpack(text: str) -> Seen | None:
    """What the form had seen, or nothing where the text is not one of ours."""
    try:
        version, values = signing.loads(text or "", salt=SALT, max_age=LIFE_S)
    except (signing.BadSignature, ValueError, TypeError):
        return None
    return Seen(version, values)
