"""docs/json.md, written from the records so that it cannot drift from what is printed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from rubrail.checks.verdict import DUTY_WORDS, WORDS
from rubrail.cli.shapes import ANSWERS, answer_schema, record_of
from rubrail.cli.told import VERSION

HEAD = f"""# Answers as JSON

Every command that answers prints its answer as JSON with `--json`. This page is written by `scripts/make_docs.py`
from the records; a test fails when it differs from them. `rubrail schema answer/weigh` prints the JSON Schema of one
answer; all of them lie in [schemas/answers](schemas/answers).

```json
{{
  "format": "rubrail/answer/weigh/{VERSION}",
  "sentence": "Clear: ...",
  "safety": "Ratings on the certification labels govern; ...",
  "answer": {{ }}
}}
```

- `format` names the answer and its version. The version is raised when a field is renamed, removed or changes its
  meaning; a field that is added does not raise it.
- `sentence` is the first sentence of the answer, the same as on screen and paper. With `--metric` it is in metric.
- Numbers in `answer` are always in the core's units, which the name's suffix or the `unit` beside it states: `lb`,
  `in`, `psi`, `rad`, `USD`. `--metric` changes no number. Places are inches behind the coupling point unless the
  name says `from_deck`.
- `verdict` is one of {", ".join(f"`{w}`" for w in WORDS)}; of duties and taxes one of
  {", ".join(f"`{w}`" for w in DUTY_WORDS)}.
- **`null` is not known.** A number without limit is `null` too, and has its word beside it: `"limit": null,
  "limit_is": "no limit"`.
- Money is text (`"9400.00"`), so that nothing is lost in reading it. Inside `values` of a comparison it is a number.
- Faults go to standard error as sentences, never into the JSON; nothing is printed on standard output then. The exit
  code says how it ended (`rubrail --help`).

`rubrail check --json` answers with `good`, a list of what could be read, and `faults`, each with `field`, `accepted`,
`where`, `remedy` and `sentence`; `rubrail rules --json` with a list of checks, each with its inputs, formulas, words
and source records. Both stand under the same `format`, `sentence` and `answer`.

"""


def json_page() -> str:
    """The whole page."""
    return HEAD + "\n".join(_answers()) + "\n"


def _answers() -> Iterator[str]:
    told: set[str] = set()
    for answer in ANSWERS:
        schema = answer_schema(answer)
        yield f"## {answer}\n"
        body = schema["properties"]["answer"]
        if "properties" in body:
            yield f"`answer` holds {', '.join(f'`{n}`: {_type(s)}' for n, s in body['properties'].items())}.\n"
        else:
            yield f"`answer` is a {_type(body)}.\n"
        first = record_of(answer).__name__
        for name in sorted(schema["$defs"], key=lambda n: (n != first, n)):
            if name not in told:
                told.add(name)
                yield from _record(name, schema["$defs"][name])


def _record(name: str, shape: dict[str, Any]) -> Iterator[str]:
    yield f"### {name}\n"
    yield from _described(shape["description"])
    yield "| field | what it holds |"
    yield "|---|---|"
    for field, inner in shape["properties"].items():
        if not (field.endswith("_is") and field[:-3] in shape["properties"]):
            yield f"| `{field}` | {_type(inner)} |"
    yield ""


def _described(text: str) -> Iterator[str]:
    """A docstring as prose, its ``name : what`` lines as a list."""
    blocks: list[str] = []
    for line in text.splitlines():
        named = re.match(r"([\w, ]+) : (.*)", line)
        if named:
            blocks.append(f"- `{named[1]}`: {named[2]}")
        elif line and blocks:
            blocks[-1] += f" {line.strip()}"
        elif line:
            blocks.append(line)
        elif blocks and not blocks[-1].startswith("- "):
            blocks.append("")
    blocks = [b.replace("``", "`") for b in blocks]
    yield "\n".join(b.strip() if not b.startswith("- ") else b for b in blocks).strip() + "\n"


def _type(shape: dict[str, Any]) -> str:
    if "$ref" in shape:
        name = shape["$ref"].rsplit("/", 1)[1]
        return f"[{name}](#{name.lower()})"
    if "anyOf" in shape:
        return " or ".join(_type(s) for s in shape["anyOf"])
    if "enum" in shape:
        return "one of " + ", ".join(f"`{w}`" for w in shape["enum"])
    if shape.get("type") == "array":
        return f"list of {_type(shape['items'])}" if "items" in shape else "list"
    if "pattern" in shape:
        return "amount of dollars, as text"
    return _WORDS[str(shape["type"])]


_WORDS = {
    "string": "text",
    "boolean": "true or false",
    "integer": "whole number",
    "null": "null",
    str(["number", "null"]): "number, or null",
}
