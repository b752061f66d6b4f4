"""``rubrail rules``: every check, with its source and how that was read."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.checks.registry import Check


def command(
    check: Annotated[str | None, typer.Argument(metavar="CHECK", help="One check, in full.")] = None,
    kind: Annotated[
        str | None, typer.Option("--kind", help="Only one kind: rating, law, fit, guidance, duty or tax.")
    ] = None,
    markdown: Annotated[bool, typer.Option("--markdown", help="Print docs/limits.md.")] = False,
    as_json: options.AsJson = False,
) -> None:
    """List every check: what it compares, of what kind, from which source, and how that was read."""
    import rubrail.checks.all  # noqa: F401 - fills the registry
    from rubrail.checks.registry import CHECKS, KINDS

    if kind is not None and kind not in KINDS:
        raise BadInput(f"--kind must be one of {', '.join(KINDS)}, got {kind!r}.")
    if check is not None and check not in CHECKS:
        raise BadInput(no_such_check(check))
    if markdown:
        from rubrail.cli.limits_page import limits_page

        print(limits_page(), end="")
        return
    chosen = [c for c in CHECKS.values() if check in (None, c.id) and kind in (None, c.kind)]
    if as_json:
        print(_json(chosen))
    elif check:
        _in_full(chosen[0])
    else:
        _list(chosen)


def no_such_check(name: str) -> str:
    """A sentence for a check that is not there, with the nearest that is."""
    import difflib

    from rubrail.checks.registry import CHECKS

    near = difflib.get_close_matches(name, list(CHECKS), 1, 0.4)
    hint = f"did you mean {near[0]}?" if near else "rubrail rules lists them"
    return f"CHECK must be the id of a check, got {name!r} ({hint})."


def _json(chosen: list[Check]) -> str:
    from rubrail.cli.told import VERSION, plain
    from rubrail.rules.sources import source

    records = [
        {
            "id": c.id, "title": c.title, "kind": c.kind, "group": c.group, "unit": c.unit, "per": c.per,
            "demand": c.demand, "limit": c.limit, "inputs": c.inputs, "says": c.says, "settle": c.settle,
            "sources": [source(k) for k in c.sources],
        }
        for c in chosen
    ]  # fmt: skip
    whole = {
        "format": f"rubrail/answer/rules/{VERSION}",
        "sentence": f"{len(chosen)} checks.",
        "answer": plain(records),
    }
    return json.dumps(whole, ensure_ascii=False, indent=2)


def _list(chosen: list[Check]) -> None:
    from rich.text import Text

    from rubrail.cli.screen import Screen
    from rubrail.rules.sources import source
    from rubrail.sheets.sentences_words import KIND_HEADS, begin

    screen = Screen()
    screen.text(
        f"{len(chosen)} checks. Ratings, law and fit decide; guidance can only make a rig depend;"
        " duties and tax are told beside the verdict.",
        style="bold",
    )
    for kind, head in KIND_HEADS.items():
        some = [c for c in chosen if c.kind == kind]
        if not some:
            continue
        screen.heading(head)
        rows = []
        for c in some:
            cell = Text(screen.letters(begin(c.title)))
            for key in c.sources:
                cell.append(f"\n{key}: {source(key).verified}", style="dim")
            rows.append((c.id, cell))
        screen.table(("check", "left"), ("what it compares, its sources and how they were read", "wrap"), rows=rows)


def _in_full(c: Check) -> None:
    from rubrail.cli.screen import Screen
    from rubrail.rules.sources import source
    from rubrail.sheets.sentences_words import KIND_WORDS, begin

    screen = Screen()
    screen.text(f"{begin(c.title)} ({KIND_WORDS[c.kind]})", style="bold")
    screen.text(c.says)
    screen.text()
    screen.table(
        ("", "left"), ("", "wrap"),
        rows=[
            ("check", c.id),
            ("demand", c.demand or "see the docs: no one expression says it"),
            ("limit", c.limit or "see the docs: no one expression says it"),
            ("unit", c.unit or "yes or no"),
            ("inputs", ", ".join(c.inputs)),
            ("in doubt", c.settle or "measure the widest input"),
        ],
        no_header=True,
    )  # fmt: skip
    screen.heading("Sources")
    for key in c.sources:
        s = source(key)
        screen.text(f"{key}: {', '.join(t for t in (s.title, s.section) if t)}. {s.says} How read: {s.how_read}.")
