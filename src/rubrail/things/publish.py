"""Write what the models say into the documents: a JSON Schema for each kind of file, and the tables of fields.

``python -m rubrail.things.publish docs`` rewrites both; a test fails where they have drifted.
"""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from rubrail.quantity.basis import BASES, BASIS_SAYS, TOLERANCES, Tolerance
from rubrail.things.door import KINDS
from rubrail.things.fields import fields_of
from rubrail.things.part import Part
from rubrail.things.yard import YardFile

FILES: dict[str, type[Part]] = {**KINDS, "yard": YardFile}
_MARK = re.compile(r"(<!-- table: (?P<name>[\w ]+) -->\n).*?(<!-- end -->)", re.S)
_UNITS = {k: "lb" for k in TOLERANCES if "weight" in k or "load" in k}
_UNITS |= {"pressure": "psi", "angle": "deg", "spring rate": "lb/in"}


def schema_of(kind: str) -> dict[str, Any]:
    """JSON Schema (2020-12) of one kind of file."""
    schema = FILES[kind].model_json_schema(by_alias=True)
    name = FILES[kind].model_fields["schema_"].default
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "$comment": name, **schema}


def schema_text(kind: str) -> str:
    """The schema as the file holds it."""
    return json.dumps(schema_of(kind), indent=1, sort_keys=True, ensure_ascii=False) + "\n"


def table_of(name: str) -> str:
    """A table of the document: the fields of a kind of file, the bases, or the default tolerances."""
    if name == "bases":
        return _table(("basis", "means"), ((f"`{b}`", BASIS_SAYS[b]) for b in BASES))
    if name == "tolerances":
        stated = [b for b in BASES if b != "label"]
        rows = ((k, *(_tolerance(k, row.get(b)) for b in stated)) for k, row in TOLERANCES.items())
        return _table(("kind of number", *stated), rows)
    return _table(("field", "what it is", "accepted", "kind of number"), _rows(FILES[name]))


def _tolerance(kind: str, tolerance: Tolerance | None) -> str:
    if tolerance is None or tolerance == Tolerance():
        return "none"
    unit = _UNITS.get(kind, "in")
    parts = [f"{tolerance.amount:g} {unit}"] if tolerance.amount else []
    parts += [f"{100 * tolerance.share:g} %"] if tolerance.share else []
    return " or ".join(parts) + (", the larger" if len(parts) == 2 else "")


def _rows(model: type[Part]) -> Iterator[tuple[str, ...]]:
    for field in fields_of(model):
        if field.path.split(".")[-1] == "basis" and "." in field.path:
            continue  # every table may have one; said once above the table
        needed = " (needed)" if field.required else ""
        yield f"`{field.path}`{needed}", field.says, field.accepted, field.measure.kind if field.measure else ""


def _table(head: tuple[str, ...], rows: Iterator[tuple[str, ...]]) -> str:
    lines = ["| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
    lines += ["| " + " | ".join(cell.replace("|", "\\|") for cell in row) + " |" for row in rows]
    return "\n".join(lines) + "\n"


def with_tables(text: str) -> str:
    """A document with every marked table written anew."""
    return _MARK.sub(lambda m: m[1] + table_of(m["name"]) + m[3], text)


def main(docs: Path) -> None:
    """Rewrite ``docs/schemas/*.json`` and the tables of ``docs/files.md``."""
    (docs / "schemas").mkdir(exist_ok=True)
    for kind in FILES:
        (docs / "schemas" / f"{kind}-1.json").write_text(schema_text(kind), encoding="utf-8")
    page = docs / "files.md"
    page.write_text(with_tables(page.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "docs"))
