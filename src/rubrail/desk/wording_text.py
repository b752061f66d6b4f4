"""The paragraphs of a listing text as one writes them in a single field, and back.

A blank line parts paragraphs. A line that begins with ``#`` is a heading; lines that begin with ``-`` are a list; a
first line ``(new)`` or ``(used)`` keeps the paragraph to units of that condition.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from rubrail.things.listing import Paragraph

CONDITIONS = ("new", "used")


def written(paragraphs: Iterable[Paragraph]) -> str:
    """Paragraphs as one writes them."""
    blocks = []
    for part in paragraphs:
        lines = [f"({part.only})"] if part.only else []
        lines += [f"# {part.heading}"] if part.heading else []
        lines += [part.text] if part.text is not None else [f"- {line}" for line in part.lines]
        blocks.append("\n".join(lines))
    return "\n\n".join(blocks)


def paragraphs_of(text: str) -> tuple[list[dict[str, Any]], list[str]]:
    """Paragraphs as a listing file has them, and a sentence for each that cannot be read."""
    found, faults = [], []
    for n, block in enumerate(re.split(r"\n\s*\n", text.replace("\r\n", "\n").strip()), 1):
        lines = [line.strip() for line in block.split("\n") if line.strip()]
        if not lines:
            continue
        part, fault = _paragraph(lines)
        if fault:
            faults.append(f"Paragraph {n} {fault}.")
        found.append(part)
    return found, faults


def _paragraph(lines: list[str]) -> tuple[dict[str, Any], str]:
    part: dict[str, Any] = {}
    only = re.fullmatch(r"\((\w+)\)", lines[0])
    if only and only[1].lower() in CONDITIONS:
        part["only"] = only[1].lower()
        lines = lines[1:]
    if lines and lines[0].startswith("#"):
        part["heading"] = lines[0].lstrip("# ").strip()
        lines = lines[1:]
    if not lines:
        return part, "has a heading and nothing under it"
    listed = [line.startswith("-") for line in lines]
    if all(listed):
        part["lines"] = [line.lstrip("- ").strip() for line in lines]
        return part, "" if all(part["lines"]) else "has a line with nothing in it"
    part["text"] = " ".join(lines)
    return part, "mixes a list with plain text: begin every line with a hyphen, or none" if any(listed) else ""


def headline_of(text: str) -> list[str]:
    """Parts of a headline, one a line."""
    return [line.strip() for line in text.replace("\r\n", "\n").split("\n") if line.strip()]


def field_of(fault_field: str) -> str:
    """The form's field that a fault of the file belongs to."""
    name = re.split(r"[\[.]", fault_field, maxsplit=1)[0]
    return {"paragraph": "text"}.get(name, name)


def table_of(given: Mapping[str, Any], paragraphs: list[dict[str, Any]]) -> dict[str, Any]:
    """A listing file's table from the form's clean values; what is empty is left out."""
    day = given["effective"].isoformat()
    table = {
        "id": f"wording-{day}",
        "title": f"wording from {day}",
        "effective": day,
        "headline": headline_of(given["headline"]),
        "paragraph": paragraphs,
        **{name: given[name].strip() for name in ("ending", "warranty_new", "warranty_used")},
        **{name: given[name] for name in ("headline_letters", "vin", "stale_days", "ask_days")},
    }
    return {k: v for k, v in table.items() if v not in ("", None, [])}
