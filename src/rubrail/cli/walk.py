"""``rubrail walk``: around a unit, front to back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.cli.screen import Screen
    from rubrail.sheets.sentences_walk import StationSaid
    from rubrail.sheets.walk_times import Take

SHOWN = 3
"""Sentences about the haul shown at one station, unless all are asked for."""


def command(
    trailer: options.Trailer,
    haul: Annotated[
        str | None, typer.Option("--haul", metavar="HAUL", help="The haul to walk for: a file, or the id of one.")
    ] = None,
    at: options.At = None,
    vtt: Annotated[
        str | None, typer.Option("--vtt", metavar="FILE", help="Also write captions for a film of it, WebVTT.")
    ] = None,
    pace: Annotated[
        int | None, typer.Option("--pace", metavar="WORDS", help="Words a minute, 60 to 240; 130 where not given.")
    ] = None,
    leave: Annotated[
        list[str] | None, typer.Option("--leave", metavar="STATION", help="A station to leave out; may be repeated.")
    ] = None,
    yard: options.Yard = None,
    everything: Annotated[bool, typer.Option("--all", help="Show everything each station says, values too.")] = False,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str | None:
    """Walk around a unit: what each station is, what it does for a haul, what differs, what to check, what to mind."""
    from rubrail.answers.company import company_among
    from rubrail.answers.walk import walk
    from rubrail.answers.walk_parts import STATIONS
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_walk import walk_said, walk_sentence
    from rubrail.sheets.walk_times import PACE, TakeError, take_of

    faults = [f"--leave must be one of {', '.join(STATIONS)}, got {x!r}." for x in leave or () if x not in STATIONS]
    if at and haul is None:
        faults.append("--at says where a haul's cargo stands, and no haul is named: add --haul.")
    if faults:
        raise BadInput(*faults)
    found_yard = given.yard_of(yard, trailer, *([haul] if haul else []))
    the_trailer = given.trailer_of(trailer, found_yard)
    the_haul = given.haul_of(haul, found_yard) if haul else None
    placement = given.placement_of(at, the_haul, the_trailer) if the_haul else None
    found = walk(
        trailer=the_trailer,
        haul=the_haul,
        placement=placement,
        kit=found_yard.kit if found_yard else None,
        company=company_among(the_trailer, tuple(found_yard.trailers.values())) if found_yard else None,
    )
    said, sentence = walk_said(found, metric=metric), walk_sentence(found)
    try:
        take = take_of(said, pace=PACE if pace is None else pace, leave=leave or ())
    except TakeError as fault:
        raise BadInput(f"{'--leave' if 'station' in str(fault) else '--pace'}: {fault}.") from None
    said = tuple(s for s in said if s.key not in (leave or ()))
    if vtt is not None:
        _write(vtt, take, f"{the_trailer.title or the_trailer.id}{f', {found.haul}' if found.haul else ''}")
    if as_json:
        print(told(answer="walk", sentence=sentence, record={"walk": found, "said": said, "take": take}))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), sentence, said, take, verdict=found.verdict, everything=everything)
    return found.verdict or None


def _write(name: str, take: Take, title: str) -> None:
    from pathlib import Path

    from rubrail.sheets.webvtt import webvtt

    try:
        Path(name).write_text(webvtt(take, title=title), encoding="utf-8", newline="\n")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "it is no file name"
        raise BadInput(f"--vtt {name} cannot be written: {reason.lower()}.") from None


def show(
    screen: Screen, sentence: str, said: tuple[StationSaid, ...], take: Take, *, verdict: str, everything: bool
) -> None:
    """Print a walk."""
    from rubrail.cli import show as part
    from rubrail.sheets.sentences_walk import MEASURE, NO_HAUL
    from rubrail.sheets.walk_times import clock

    if verdict:
        screen.verdict(verdict, sentence)
    else:
        screen.text(sentence)
        screen.text(NO_HAUL, style="dim")
    for s in said:
        _station(screen, s, everything=everything)
    screen.text()
    screen.text(
        f"Said aloud at {take.pace} words a minute (common practice, no source) it takes {clock(take.total_s)}.",
        style="dim",
    )
    screen.text(MEASURE, style="dim")
    part.safety(screen)


def _station(screen: Screen, s: StationSaid, *, everything: bool) -> None:
    figure = f": {s.figure} {s.figure_says}" if s.figure else ""
    screen.heading(f"{s.number}. {s.title}{figure}")
    screen.text(s.what)
    haul = s.haul if everything else s.haul[:SHOWN]
    alone = s.alone if everything or not s.haul else ()
    rows = [(screen.mark(verdict) if verdict else "", text) for verdict, text in (*haul, *alone)]
    rows += [("", text) for text in (s.differs if everything else s.differs[:1])]
    rows += [("by hand", s.check), ("mind", s.caution)]
    screen.table(("", "left", 11), ("", "wrap"), rows=rows, no_header=True)
    if everything and s.facts:
        screen.table(("", "left"), ("", "wrap"), rows=list(s.facts), no_header=True)
    elif len(s.haul) > SHOWN:
        screen.text(f"{len(s.haul) - SHOWN} more with --all.", style="dim")
