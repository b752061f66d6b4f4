"""The examples of the document, as the tables a file becomes; tests start from these."""

from __future__ import annotations

import re
import tomllib
from copy import deepcopy
from pathlib import Path
from typing import Any

from rubrail.things.door import KINDS, read_thing
from rubrail.things.folder import federal_limits, resolve
from rubrail.things.haul import Haul
from rubrail.things.part import Thing
from rubrail.things.trailer import Trailer
from rubrail.things.yard import Yard

DOCS = Path(__file__).parents[2] / "docs"
EXAMPLES = re.findall(r"```toml\n(schema = \"rubrail/(\w+)/1\".*?)```", (DOCS / "files.md").read_text("utf-8"), re.S)


def texts(kind: str) -> list[str]:
    """The document's examples of one kind of file."""
    return [text for text, found in EXAMPLES if found == kind]


def table(kind: str, n: int = 0, /, **changes: Any) -> dict[str, Any]:
    """An example as a table, with dotted fields set (``deck__height_in=30``) or taken out (``None``)."""
    return changed(tomllib.loads(texts(kind)[n]), **changes)


def changed(start: dict[str, Any], /, **changes: Any) -> dict[str, Any]:
    """A copy of a table with dotted fields set or taken out; numbers in a name count list members from 1."""
    made = deepcopy(start)
    for dotted, value in changes.items():
        *steps, last = dotted.split("__")
        here: Any = made
        for step in steps:
            here = here[int(step) - 1] if step.isdigit() else here.setdefault(step, {})
        if value is None:
            here.pop(last, None)
        else:
            here[last] = value
    return made


def thing(kind: str, n: int = 0, /, **changes: Any) -> Thing:
    """An example as a thing."""
    return read_thing(KINDS[kind], table(kind, n, **changes))


def trailer(**changes: Any) -> Trailer:
    """The example trailer."""
    return thing("trailer", **changes)


def haul(*, cargo: list[dict[str, Any]] | None = None, truck: dict[str, Any] | None = None, **changes: Any) -> Haul:
    """The example haul, whole: its truck, its track loader, and the federal limits."""
    loads = cargo or [{"piece": table("cargo")}]
    made = read_thing(Haul, table("haul", truck=truck or table("truck"), cargo=loads, **changes))
    return resolve(made, Yard(limits={"federal": federal_limits()}))
