"""``rubrail climb``: driving the machines of a haul up a trailer."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.answers.climb import Climbing, MachineClimb
    from rubrail.cli.screen import Screen
    from rubrail.things.haul import Haul
    from rubrail.things.trailer import Trailer

ROUND = {"forward": "front-first", "backing": "rear-first"}


def command(
    haul: options.Haul,
    trailer: options.Trailer,
    surface: Annotated[str, typer.Option("--surface", metavar="WORD", help="The ramps: dry or wet.")] = "dry",
    slope: Annotated[
        str, typer.Option("--slope", metavar="ANGLE", help="How far the ground rises toward the truck.")
    ] = "0 deg",
    unhitched: Annotated[bool, typer.Option("--unhitched", help="The trailer stands on its jack.")] = False,
    stands_up: Annotated[bool, typer.Option("--stands-up", help="Its stands are not let down.")] = False,
    blocks: Annotated[bool, typer.Option("--blocks", help="Blocks fill the room under its rear.")] = False,
    no_chocks: Annotated[bool, typer.Option("--no-chocks", help="Its wheels are not chocked.")] = False,
    way_round: Annotated[
        str | None, typer.Option("--drive", metavar="WAY", help="forward or backing; as placed where not given.")
    ] = None,
    drawing: Annotated[
        str | None, typer.Option("--drawing", metavar="FILE", help="Also write the picture strip, an SVG, to a file.")
    ] = None,
    at: options.At = None,
    yard: options.Yard = None,
    all_limits: Annotated[bool, typer.Option("--all", help="Show every limit, however easily held.")] = False,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Drive each machine of a haul up a trailer to its place: does it get there, what limits it, what to change."""
    from rubrail.answers.climb import climbing
    from rubrail.answers.climb_setup import driven
    from rubrail.answers.place import best_place
    from rubrail.answers.rig import rigs
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_climb import climb_sentence

    day = _day(surface, slope, hitched=not unhitched, stands=not stands_up, blocks=blocks, chocked=not no_chocks)
    if way_round not in (None, *ROUND):
        raise BadInput(f"--drive must be forward or backing, got {way_round!r}.")
    found_yard = given.yard_of(yard, haul, trailer)
    the_haul, the_trailer = given.haul_of(haul, found_yard), given.trailer_of(trailer, found_yard)
    one = rigs(haul=the_haul, trailers=(the_trailer,))
    placement = given.placement_of(at, the_haul, the_trailer) or best_place(one)[0].placement
    if way_round is not None:
        try:
            placement = driven(one, placement, ROUND[way_round])
        except ValueError as reason:
            raise BadInput(f"--drive {way_round}: {reason}.") from None
    answer = climbing(one, placement, day)
    sentence = climb_sentence(answer, metric=metric)
    if drawing is not None:
        _draw(drawing, answer, the_haul, the_trailer, metric)
    if as_json:
        print(told(answer="climb", sentence=sentence, record=answer))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), answer, sentence, all_of_them=all_limits)
    return "clear" if answer.verdict == "does not apply" else answer.verdict


def _day(surface: str, slope: str, **flags: bool):
    from rubrail.answers.climb_setup import Day
    from rubrail.quantity.parse import UnreadableError, parse_quantity

    try:
        ground = parse_quantity(slope, "deg")
    except UnreadableError as reason:
        raise BadInput(f"--slope must be an angle such as '3 deg', got {slope!r}: it {reason}.") from None
    try:
        return Day(surface=surface, ground_deg=ground, **flags)
    except ValueError as reason:
        raise BadInput(f"--{'slope' if str(reason).startswith('ground') else 'surface'}: {reason}.") from None


def _draw(name: str, answer: Climbing, haul: Haul, trailer: Trailer, metric: bool) -> None:
    from pathlib import Path

    from rubrail.sheets.drawing.climb_from import strip_of

    known = [m for m in answer.machines if m.course is not None]
    if not known:
        raise BadInput("--drawing needs a machine whose way up is known, and there is none.")
    try:
        text = strip_of(answer, known[0], haul=haul, trailer=trailer, metric=metric)
        Path(name).write_text(text, encoding="utf-8")
    except OSError as error:
        raise BadInput(
            f"--drawing {name} cannot be written: {(error.strerror or 'no reason given').lower()}."
        ) from None


def show(screen: Screen, answer: Climbing, sentence: str, *, all_of_them: bool) -> None:
    """Print a climb."""
    from rubrail.cli import show as part
    from rubrail.sheets.sentences_climb import CAUTIONS, LIMITS_OF_IT, day_said

    screen.verdict(answer.verdict, sentence)
    for m in answer.machines:
        _machine(screen, answer, m, all_of_them=all_of_them)
    screen.text()
    for caution in CAUTIONS:
        screen.text(caution)
    screen.text(f"{day_said(answer)} {LIMITS_OF_IT}", style="dim")
    part.safety(screen)


def _machine(screen: Screen, answer: Climbing, m: MachineClimb, *, all_of_them: bool) -> None:
    from rubrail.cli import show as part
    from rubrail.sheets.sentences_amounts import feet
    from rubrail.sheets.sentences_climb import machine_sentence, moment_figure
    from rubrail.sheets.sentences_words import begin

    if len(answer.machines) > 1:
        screen.heading(begin(m.title))
        screen.text(machine_sentence(answer, m, metric=screen.metric))
    shown = [x for x in m.lines if all_of_them or x.verdict != "clear"] or list(m.lines[:3])
    part.limit_rows(screen, "On the way up", shown)
    if m.moments:
        screen.heading("The moments that decide, in the order they come")
        rows = []
        for n, moment in enumerate(m.moments, 1):
            figure, verdict = moment_figure(m, moment, metric=screen.metric)
            come = feet(moment.s_in, metric=screen.metric)
            rows.append((f"{n}.", begin(moment.says), figure, screen.mark(verdict) if verdict else "", come))
        screen.table(("", "right"), ("", "wrap"), ("", "right"), ("", "left"), ("", "right", 9), rows=rows,
                     no_header=True)  # fmt: skip
    _remedies(screen, m)
    part.settle(screen, m.settle)
    part.unknown(screen, m.unknown)


def _remedies(screen: Screen, m: MachineClimb) -> None:
    from rubrail.sheets.sentences_amounts import text_in_metric
    from rubrail.sheets.sentences_words import begin

    if not m.remedies:
        return
    screen.heading("What to change: each one tried by driving it up again")
    rows = [
        (f"{n}.", begin(text_in_metric(r.says) if screen.metric else r.says), screen.mark(r.verdict))
        for n, r in enumerate(m.remedies, 1)
    ]
    screen.table(("", "right"), ("", "wrap"), ("then", "left", 11), rows=rows, no_header=True)
