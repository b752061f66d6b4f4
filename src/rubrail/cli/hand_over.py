"""``rubrail hand-over``: a rig weighed again with what was read and measured on it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.answers.hand_over_report import HandOver
    from rubrail.cli.screen import Screen
    from rubrail.things.trailer import Trailer


def command(
    haul: options.Haul,
    trailer: options.Trailer,
    measured: Annotated[
        str | None,
        typer.Option("--measured", metavar="FILE", help="A TOML or JSON file of what was read and measured."),
    ] = None,
    one: Annotated[
        list[str] | None,
        typer.Option(
            "--set",
            metavar="NAME=VALUE",
            help="One reading, such as 'hitch_ball_size_in=2-5/16 in'; goes before the file. May be repeated.",
        ),
    ] = None,
    at: options.At = None,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Weigh a rig again with the truck as it stands: ball, plates, tires, heights; against what the files promise."""
    from rubrail.answers.hand_over import hand_over
    from rubrail.answers.weigh import weigh
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_hand_over import hand_over_sentence

    found_yard = given.yard_of(yard, haul, trailer)
    the_haul, the_trailer = given.haul_of(haul, found_yard), given.trailer_of(trailer, found_yard)
    placement = given.placement_of(at, the_haul, the_trailer)
    readings = _readings(measured, one or [], the_trailer)
    promised = weigh(haul=the_haul, trailer=the_trailer, placement=placement, remedies=False)
    found = hand_over(haul=the_haul, trailer=the_trailer, readings=readings, promised=promised, placement=placement)
    sentence = hand_over_sentence(found, by="file", metric=metric)
    if found.against:
        raise BadInput(*found.against)
    if as_json:
        print(told(answer="hand-over", sentence=sentence, record=found))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), found, sentence)
    return found.verdict


def _readings(file: str | None, each: list[str], trailer: Trailer) -> dict[str, float | str | bool]:
    from pathlib import Path

    from rubrail.answers.hand_over_fields import ReadingError, read_readings
    from rubrail.things.read import read_table

    content = dict(read_table(Path(file), file)[0]) if file else {}
    bare = [x for x in each if "=" not in x]
    if bare:
        raise BadInput(*(f"--set must be NAME=VALUE such as 'truck_rear_gawr_lb=6,200 lb', got {x!r}." for x in bare))
    content |= {name.strip(): value.strip() for name, _, value in (x.partition("=") for x in each)}
    try:
        return read_readings(content, trailer=trailer)
    except ReadingError as bad:
        raise BadInput(*bad.faults) from None


def show(screen: Screen, found: HandOver, sentence: str) -> None:
    """Print a hand-over's weighing."""
    from rubrail.cli import show as part
    from rubrail.sheets.paper.hand_over import limit_rows
    from rubrail.sheets.sentences_hand_over import WAY_WORDS, change_sentence, meeting_sentence, put_words
    from rubrail.sheets.sentences_words import begin

    screen.verdict(found.verdict, sentence)
    change = change_sentence(found, metric=screen.metric)
    if change:
        screen.heading("What would change it")
        screen.text(change)
    screen.heading("Read and measured")
    if found.put:
        screen.table(
            ("", "wrap"), ("now", "right"), ("on file", "right"),
            rows=[(begin(p.says), *put_words(p, metric=screen.metric)) for p in found.put],
        )  # fmt: skip
    elif not found.lines:
        screen.text("Nothing: all is as the files have it. docs/hand-over.md names what may be given.")
    screen.heading(f"Limits, weighed again: {WAY_WORDS[found.way]}")
    screen.table(
        ("", "left", 11), ("", "wrap"), ("is", "right", 9), ("may be", "right", 9), ("to spare", "right", 9),
        ("promised", "right", 11),
        rows=[(screen.mark(row[0]), *row[1:]) for row in limit_rows(found, metric=screen.metric)],
    )  # fmt: skip
    screen.heading("Clearances as it folds")
    for touch in found.touches:
        screen.text(meeting_sentence(touch))
    part.safety(screen)
