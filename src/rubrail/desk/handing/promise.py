"""What a quote promised: the weighing frozen in the version that was signed, read back."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import fields
from typing import Any

from rubrail.answers.report import Line, Piece, Weighing
from rubrail.desk.models import Quote


def promised_by(quote: Quote | None) -> Weighing | None:
    """The weighing of the version the buyer signed, else of the latest; nothing where none was made."""
    if quote is None:
        return None
    versions = list(quote.versions.all())
    version = next((v for v in versions if v.signed_at), versions[0] if versions else None)
    table = version.content.get("rests_on", {}).get("weighing") if version else None
    return weighing_of(table) if table else None


def weighing_of(table: Mapping[str, Any]) -> Weighing:
    """A weighing from the plain JSON a version keeps; needs and remedies are left out."""
    governing = table.get("governing")
    return Weighing(
        trailer=table["trailer"],
        trailer_title=table["trailer_title"],
        truck=table["truck"],
        haul=table["haul"],
        verdict=table["verdict"],
        governing=_record(Line, governing) if governing else None,
        lines=tuple(_record(Line, x) for x in table["lines"]),
        loads=(),
        pieces=tuple(_record(Piece, x) for x in table["pieces"]),
        settle=(),
        unknown=(),
        remedies=(),
    )


def _record(kind: type, table: Mapping[str, Any]) -> Any:
    numbers = {f.name for f in fields(kind) if f.type == "float"}
    values = {f.name: table[f.name] for f in fields(kind) if f.name in table and f.name not in ("missing", "settle")}
    return kind(**{name: _number(value) if name in numbers else value for name, value in values.items()})


def _number(value: Any) -> float:
    if value is None:
        return math.nan
    return math.inf if value == "no limit" else float(value)
