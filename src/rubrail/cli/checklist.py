"""``rubrail checklist``: what is looked at on a unit, line by line, before it leaves or on the yard's round."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.cli.screen import Screen
    from rubrail.sheets.checklist_told import ToldChecklist
    from rubrail.things.yard import Yard as YardThing


def command(
    trailer: options.Trailer,
    sort: Annotated[
        str,
        typer.Option("--sort", metavar="SORT", help="Which list: inspection, or round (of the yard)."),
    ] = "inspection",
    yard: options.Yard = None,
    sources: Annotated[bool, typer.Option("--sources", help="Name the sources of each line's figures.")] = False,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> None:
    """List what is looked at on a unit, computed from its file: what to do, what is good, what holds it back."""
    from rubrail.answers.checklist import SortError, checklist
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.checklist_told import told_checklist, told_sentence

    found_yard = given.yard_of(yard, trailer)
    the_trailer = given.trailer_of(trailer, found_yard)
    try:
        lines = checklist(the_trailer, sort=sort, own=own_checks(found_yard))
    except SortError as fault:
        raise BadInput(f"--{fault}") from None
    record = told_checklist(lines, trailer=the_trailer.id, sort=sort, metric=metric)
    if as_json:
        print(told(answer="checklist", sentence=told_sentence(record), record=record))
        return
    from rubrail.cli.screen import Screen

    show(Screen(metric=metric), record, sources=sources)


def own_checks(yard: YardThing | None) -> tuple:
    """The yard's own lines."""
    return tuple(yard.checks.values()) if yard else ()


def show(screen: Screen, told: ToldChecklist, *, sources: bool) -> None:
    """Print a checklist."""
    from rubrail.cli import show as part
    from rubrail.rules.sources import source
    from rubrail.sheets.checklist_told import station_title, told_sentence

    screen.text(told_sentence(told))
    station = ""
    rows: list[tuple[str, str, str]] = []
    for line in told.lines:
        if line.station != station:
            _table(screen, rows)
            rows, station = [], line.station
            screen.heading(station_title(station))
        said = [line.do, line.good]
        if line.short:
            said.append(f"It cannot be in order: {line.short}.")
        if line.missing:
            said.append(f"Not known: {', '.join(line.missing)}.")
        if sources and line.sources:
            said.append(f"From {'; '.join(f'{source(key).title} ({source(key).how_read})' for key in line.sources)}.")
        rows.append(("holds" if line.holds else "", line.title, " ".join(said)))
    _table(screen, rows)
    screen.text()
    part.safety(screen)


def _table(screen: Screen, rows: list[tuple[str, str, str]]) -> None:
    if rows:
        screen.table(("", "left", 6), ("", "left", 28), ("", "wrap"), rows=rows, no_header=True)
