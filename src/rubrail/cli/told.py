"""Answers as JSON: the records field by field, documented in docs/json.md and versioned."""

from __future__ import annotations

import dataclasses
import json
import math
from decimal import Decimal
from typing import Any

VERSION = 1
"""Raised when a field of any answer is renamed, removed or changes its meaning; added fields do not raise it."""
INFINITE = {1.0: "no limit", -1.0: "no limit below"}


def plain(value: Any) -> Any:
    """A record as JSON has it: ``null`` for not known; ``null`` with a word beside it for no limit."""
    if isinstance(value, bool) or value is None or isinstance(value, int | str):
        return value
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, Decimal):
        return str(value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return _object({f.name: getattr(value, f.name) for f in dataclasses.fields(value)})
    if hasattr(value, "_asdict"):
        return _object(value._asdict())
    if isinstance(value, dict):
        return _object({str(k): v for k, v in value.items()})
    if isinstance(value, list | tuple):
        return [plain(v) for v in value]
    raise TypeError(f"{type(value).__name__} has no shape in JSON")


def _object(fields: dict[str, Any]) -> dict[str, Any]:
    out: dict[str, Any] = {}
    for name, value in fields.items():
        out[name] = plain(value)
        word = _word(value)
        if word:
            out[f"{name}_is"] = word
    return out


def _word(value: Any) -> str | list[str | None] | None:
    if isinstance(value, float) and math.isinf(value):
        return INFINITE[math.copysign(1.0, value)]
    if isinstance(value, list | tuple) and any(isinstance(v, float) and math.isinf(v) for v in value):
        return [_word(v) for v in value]
    return None


def told(*, answer: str, sentence: str, record: Any) -> str:
    """The JSON text of one answer.

    Parameters
    ----------
    answer : str
        Its command: ``weigh``, ``match`` and so on.
    sentence : str
        The first sentence of the answer, as every face shows it.
    record : dataclass, list or dict
        What the answer is made of.
    """
    from rubrail.sheets.sentences_words import SAFETY

    whole = {
        "format": f"rubrail/answer/{answer}/{VERSION}",
        "sentence": sentence,
        "safety": SAFETY,
        "answer": plain(record),
    }
    return json.dumps(whole, ensure_ascii=False, allow_nan=False, indent=2)
