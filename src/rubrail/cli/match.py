"""``rubrail match``: a haul against a yard."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options

if TYPE_CHECKING:
    from rich.table import Table

    from rubrail.answers.board import Candidate, Match
    from rubrail.cli.screen import Screen

FIRST = 15


def command(
    haul: options.Haul,
    trailers: Annotated[
        list[str] | None,
        typer.Argument(metavar="TRAILER", help="Trailer files, folders or ids; without any, the whole yard."),
    ] = None,
    yard: options.Yard = None,
    road: Annotated[
        bool,
        typer.Option("--road", help="On the road alone: do not ask whether the machines get up and can be tied down."),
    ] = False,
    kit: Annotated[
        str | None, typer.Option("--kit", metavar="KIT", help="Gear to tie down with, a file or id; else the yard's.")
    ] = None,
    all_units: Annotated[bool, typer.Option("--all", help=f"Show every unit, not the first {FIRST}.")] = False,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Match a haul to a yard: each unit at its own best placement, best first."""
    from rubrail.answers.board import match
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_yard import match_sentence, match_verdict

    named = trailers or []
    found_yard = given.yard_of(yard, haul, *named)
    the_haul = given.haul_of(haul, found_yard)
    units, gone = (given.trailers_of(named, found_yard), 0) if named else given.for_sale(found_yard)
    result = match(haul=the_haul, trailers=units)
    if not road:
        from rubrail.answers.match_joined import joined_match
        from rubrail.cli.tie_down import kit_of

        gear = kit_of(kit, found_yard) if kit or (found_yard and found_yard.kit) else None
        result = joined_match(result, haul=the_haul, trailers=units, kit=gear)
    sentence = match_sentence(result, metric=metric)
    if as_json:
        print(told(answer="match", sentence=sentence, record=result))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), result, sentence, first=len(units) if all_units else FIRST, gone=gone)
    return match_verdict(result)


def show(screen: Screen, match: Match, sentence: str, *, first: int, gone: int = 0) -> None:
    """Print a match."""
    from rubrail.cli import show as part
    from rubrail.sheets.sentences_yard import match_verdict

    screen.verdict(match_verdict(match), sentence)
    if match.candidates:
        screen.text()
        screen.text("units, best first; then price, margin to spare, deck height", style="dim")
        _board(screen, match.candidates[:first])
    _notes(screen, hidden=len(match.candidates) - first, gone=gone, starred=any(c.unbeaten for c in match.candidates))
    part.safety(screen)


def _board(screen: Screen, candidates: Sequence[Candidate]) -> None:
    """Two lines a unit: what it is, and why it stands where it stands."""
    from rich.console import Group
    from rich.table import Table
    from rich.text import Text

    from rubrail.sheets.sentences_words import begin
    from rubrail.sheets.sentences_yard import candidate_reason

    board = Table.grid(padding=(0, 2, 0, 0), expand=True)
    board.add_column(no_wrap=True, min_width=11)
    board.add_column(ratio=1)
    for c in candidates:
        reason = Text(screen.letters(begin(candidate_reason(c, metric=screen.metric))), style="dim")
        board.add_row(screen.mark(c.verdict), Group(_facts(screen, c), reason))
    screen.console.print(board)


def _facts(screen: Screen, c: Candidate) -> Table:
    from rich.table import Table
    from rich.text import Text

    from rubrail.sheets.sentences_amounts import amount, percent

    price = amount(float(c.price_usd), "USD") if c.price_usd is not None else ""
    deck = "" if math.isnan(c.deck_height_in) else amount(c.deck_height_in, "in", metric=screen.metric)
    line = Table.grid(padding=(0, 1, 0, 0), expand=True)
    line.add_column(ratio=1)
    for width in (8, 9, 7):
        line.add_column(justify="right", no_wrap=True, min_width=width)
    line.add_column(min_width=1)
    name = Text(screen.letters(c.trailer), style="bold")
    if c.title != c.trailer:
        name.append(screen.letters(f"  {c.title}"), style="not bold")
    line.add_row(name, *(Text(screen.letters(t)) for t in (price, percent(c.share), deck, "*" if c.unbeaten else "")))
    return line


def _notes(screen: Screen, *, hidden: int, gone: int, starred: bool) -> None:
    notes = []
    if hidden > 0:
        notes.append(f"{hidden} more stand behind these (--all shows them).")
    if gone:
        notes.append(f"{gone} sold or retired {'units are' if gone > 1 else 'unit is'} left out.")
    if starred:
        notes.append(
            "* nothing else that carries it is as good on price, margin, empty weight and deck height together."
        )
    if notes:
        screen.text()
        screen.text(" ".join(notes), style="dim")
