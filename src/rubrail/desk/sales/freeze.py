"""Freeze what was offered: inputs, results, rules and the sheet itself, so that it prints the same in a year."""

from __future__ import annotations

import hashlib
import json
import math
from dataclasses import asdict, fields
from decimal import Decimal
from typing import Any

from rubrail import __version__
from rubrail.sheets.paper import blocks
from rubrail.sheets.paper.blocks import Paper

KINDS = {
    "facts": blocks.Facts,
    "table": blocks.Table,
    "drawing": blocks.Drawing,
    "abreast": blocks.Abreast,
    "steps": blocks.Steps,
    "words": blocks.Words,
    "big": blocks.Big,
    "signatures": blocks.Signatures,
    "break": blocks.Break,
}
FORMAT = 1
"""Counts how a frozen sheet is written; older ones are read as they were written."""


class SpoiledError(ValueError):
    """What is stored is not what was frozen: its digest differs."""


def frozen(*, paper: Paper, rests_on: dict[str, Any]) -> dict[str, Any]:
    """The content of a version: the sheet, and everything it rests on."""
    return {
        "format": FORMAT,
        "program": __version__,
        "paper": json.loads(json.dumps(asdict(paper))),
        "rests_on": rests_on,
    }


def plain(value: Any) -> Any:
    """A record in plain JSON: *not known* is ``null``, an amount is text, no limit is ``"no limit"``."""
    if isinstance(value, float) and not math.isfinite(value):
        return None if math.isnan(value) else "no limit"
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, dict):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [plain(v) for v in value]
    return value


def digest(content: dict[str, Any]) -> str:
    """SHA-256 of content written one way only."""
    text = json.dumps(content, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def thawed(content: dict[str, Any], *, expect: str) -> Paper:
    """The sheet as it was frozen.

    Raises
    ------
    SpoiledError
        If the content's digest is not the one that was stored beside it.
    """
    if digest(content) != expect:
        raise SpoiledError("what is stored of this quote is not what was offered")
    table = dict(content["paper"])
    table["blocks"] = tuple(_block(b) for b in table["blocks"])
    return Paper(**table)


def _block(table: dict[str, Any]) -> Any:
    kind = KINDS[table["kind"]]
    names = {f.name for f in fields(kind) if f.init}
    return kind(**{name: _tuples(value) for name, value in table.items() if name in names})


def _tuples(value: Any) -> Any:
    return tuple(_tuples(v) for v in value) if isinstance(value, list) else value
