"""``rubrail schema``: the JSON Schema of a file or of an answer."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from rubrail.cli.ends import BadInput


def command(
    name: Annotated[
        str | None,
        typer.Argument(metavar="NAME", help="A kind of file (trailer, haul, ...) or an answer (answer/weigh, ...)."),
    ] = None,
) -> None:
    """Print the JSON Schema of a file or an answer; without a name, list what there is."""
    from rubrail.cli.shapes import ANSWERS, answer_schema
    from rubrail.things.publish import FILES, schema_of

    names = [*FILES, *(f"answer/{a}" for a in ANSWERS)]
    if name is None:
        print("\n".join(names))
        return
    if name not in names:
        raise BadInput(f"NAME must be one of {', '.join(names)}, got {name!r}.")
    kind, _, answer = name.partition("/")
    schema = answer_schema(answer) if kind == "answer" else schema_of(name)
    print(json.dumps(schema, ensure_ascii=False, indent=2))
