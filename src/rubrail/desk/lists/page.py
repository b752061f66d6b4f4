"""Write the columns of the list into the document that explains them; a test fails where the two have drifted."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rubrail.desk.lists.columns import LISTS, ListColumn, by_key, columns_for
from rubrail.desk.permissions import permission, role_word
from rubrail.quantity.basis import BASES, BASIS_SAYS

MARK = re.compile(r"(<!-- table: (?P<name>\w+) -->\n).*?(<!-- end -->)", re.S)
KINDS = {
    "text": "text",
    "flag": "yes or no",
    "count": "a whole number",
    "money": "dollars",
    "day": "a day",
}


def with_tables(text: str) -> str:
    """A document with its tables as the columns are now."""
    return MARK.sub(lambda m: m[1] + "\n".join(TABLES[m["name"]]()) + "\n" + m[3], text)


def _columns() -> Iterator[str]:
    yield "| heading | what it is | a cell holds |"
    yield "|---|---|---|"
    for column in columns_for(dict.fromkeys(LISTS, 1)):
        if column.kind not in ("basis", "spread"):
            yield f"| {_heading(column)} | {column.says or column.words} | {_accepted(column)} |"


def _heading(column: ListColumn) -> str:
    heading = column.heading
    for name, section in LISTS.items():
        if column.key.startswith(f"{name}.0."):
            heading = heading.replace(" 1 ", " *n* ", 1)
            return f"{heading}<br>*n* = 1 to {section.most}"
    return heading


def _accepted(column: ListColumn) -> str:
    who = ", ".join(sorted({role_word(r) for name in column.writes for r in permission(name).roles}))
    only = f"; changed by {who} only" if column.writes else ""
    if column.choices:
        return ", ".join(f"`{c}`" for c in column.choices) + only
    beside = [
        name for name in ("basis", "±") if f"{column.key}:{'basis' if name == 'basis' else 'spread'}" in by_key()
    ]
    more = f"; beside it {' and '.join(f'*... {name}*' for name in beside)}" if beside else ""
    return (column.accepted or KINDS[column.kind]) + more + only


def _bases() -> Iterator[str]:
    yield "| basis | means |"
    yield "|---|---|"
    yield from (f"| `{word}` | {BASIS_SAYS[word]} |" for word in BASES)


TABLES = {"columns": _columns, "bases": _bases}
