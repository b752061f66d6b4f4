"""``rubrail check``: whether files can be read, with every fault of every one."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import CLEAR, complain

if TYPE_CHECKING:
    from rubrail.things.faults import Fault


def command(
    paths: Annotated[
        list[str], typer.Argument(metavar="PATH", help="Files or yard folders ('demo' is the invented yard).")
    ],
    as_json: options.AsJson = False,
) -> int:
    """Check files and yard folders: every fault in one sentence each, and nothing else done."""
    from rubrail.things.faults import Faults

    good: list[str] = []
    bad: list[Fault] = []
    for path in paths:
        try:
            good.append(_read(path))
        except Faults as told:
            bad += told.faults
    if as_json:
        print(json.dumps(_record(good, bad), ensure_ascii=False, indent=2))
    else:
        for line in good:
            print(line)
    return complain(*(f.sentence for f in bad)) if bad else CLEAR


def _read(name: str) -> str:
    from rubrail.cli.given import DEMO, demo_folder
    from rubrail.things.door import read_file
    from rubrail.things.folder import load_yard
    from rubrail.things.haul import Haul

    path = demo_folder() if name == DEMO else Path(name)
    if path.is_dir():
        yard = load_yard(path)
        counts = (
            ("trailer", yard.trailers), ("truck", yard.trucks), ("piece of cargo", yard.cargo), ("haul", yard.hauls),
            ("limits file", yard.limits),
        )  # fmt: skip
        return f"{name}: good. {', '.join(_count(what, len(of)) for what, of in counts)}."
    found = read_file(path)
    if any(isinstance(thing, Haul) for _, thing in found) and len(found) == 1:
        _resolve(path)
    kinds = ", ".join(f"{thing.schema_name.split('/')[1]} {thing.id}" for _, thing in found)
    return f"{name}: good. {kinds}."


def _count(what: str, n: int) -> str:
    many = "pieces of cargo" if what == "piece of cargo" else f"{what}s"
    return f"{n} {what if n == 1 else many}"


def _resolve(path: Path) -> None:
    """A haul that lies in a yard must find what it names there; alone, its ids cannot be looked up."""
    from rubrail.things.folder import load_haul

    if (path.resolve().parent.parent / "yard.toml").is_file():
        load_haul(path)


def _record(good: list[str], bad: list[Fault]) -> dict:
    from rubrail.cli.told import VERSION, plain

    faults = [
        {"field": f.field, "accepted": f.accepted, "where": f.where, "remedy": f.remedy, "sentence": f.sentence}
        for f in bad
    ]
    return {
        "format": f"rubrail/answer/check/{VERSION}",
        "sentence": f"{len(good)} good, {len(bad)} {'fault' if len(bad) == 1 else 'faults'}.",
        "answer": plain({"good": good, "faults": faults}),
    }
