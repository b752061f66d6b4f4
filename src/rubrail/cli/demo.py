"""``rubrail demo``: the main job on the invented yard, then the desk on it."""

from __future__ import annotations

from typing import Annotated

import typer

from rubrail.cli import options, serve

HAUL = "04-three-machines"


def command(
    port: serve.Port = None,
    desk: Annotated[bool, typer.Option("--desk/--no-desk", help="Open the desk afterwards, or print and end.")] = True,
    open_browser: Annotated[
        bool, typer.Option("--open/--no-open", help="Open it in this machine's browser, or only serve it.")
    ] = True,
    fresh: Annotated[bool, typer.Option("--fresh", help="Begin the invented yard anew.")] = False,
    metric: options.Metric = False,
) -> None:
    """Match a haul of three machines to the invented yard, then open the desk on that yard."""
    from rubrail.answers.board import match
    from rubrail.answers.match_joined import joined_match
    from rubrail.cli import given
    from rubrail.cli import match as board
    from rubrail.cli.screen import Screen
    from rubrail.sheets.sentences_yard import match_sentence

    yard = given.yard_of(given.DEMO)
    units, gone = given.for_sale(yard)
    haul = given.haul_of(HAUL, yard)
    result = joined_match(match(haul=haul, trailers=units), haul=haul, trailers=units, kit=yard.kit)
    screen = Screen(metric=metric)
    screen.text("An invented yard: no unit, truck, machine or price in it is anybody's.", style="dim")
    screen.text()
    board.show(screen, result, match_sentence(result, metric=metric), first=6, gone=gone)
    screen.text()
    screen.text(f"The same from the terminal: rubrail match {HAUL} --yard demo", style="dim")
    if desk:
        screen.text("Next, the desk on this yard.", style="dim")
        screen.text()
        serve.start("demo", open_browser=open_browser, fresh=fresh, **({} if port is None else {"port": port}))
