"""``rubrail decode``: a unit's numbers taken apart."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options

if TYPE_CHECKING:
    from rubrail.answers.decode import Decoding
    from rubrail.cli.screen import Screen

GROUP_HEADS = {
    "advertised": "The numbers it goes by",
    "running gear": "Running gear: the weakest governs",
    "coupling": "Coupler",
    "payload": "Three payloads, never one",
    "tax": "For the excise tax; a threshold, no rating",
}


def command(
    trailer: options.Trailer,
    haul: Annotated[
        str | None,
        typer.Option("--haul", metavar="HAUL", help="A haul whose truck pulls it: adds the payload behind it."),
    ] = None,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> None:
    """Decode a unit's numbers: advertised, label, axles, tires, coupler, tax, and the payloads."""
    from rubrail.answers.decode import decode
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_yard import decoding_sentence

    found_yard = given.yard_of(yard, trailer, *([haul] if haul else []))
    the_trailer = given.trailer_of(trailer, found_yard)
    the_haul = given.haul_of(haul, found_yard) if haul else None
    result = decode(trailer=the_trailer, haul=the_haul)
    sentence = decoding_sentence(result, metric=metric)
    if as_json:
        print(told(answer="decode", sentence=sentence, record=result))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), result, sentence)


def show(screen: Screen, result: Decoding, sentence: str) -> None:
    """Print the numbers of one unit."""
    from rich.text import Text

    from rubrail.cli import show as part
    from rubrail.sheets.sentences_amounts import amount, text_in_metric
    from rubrail.sheets.sentences_words import begin

    screen.text(sentence, style="bold")
    for group, head in GROUP_HEADS.items():
        some = [f for f in result.figures if f.group == group]
        if not some:
            continue
        screen.heading(head)
        rows = []
        for f in some:
            how = text_in_metric(f.how) if screen.metric else f.how
            cell = Text(screen.letters(begin(f.title)), style="bold" if f.governs else "")
            cell.append(screen.letters(f"\n{how}; {f.rule}"), style="dim not bold")
            rows.append((cell, amount(f.value_lb, "lb", metric=screen.metric), "governs" if f.governs else ""))
        screen.table(("", "wrap"), ("", "right"), ("", "left"), rows=rows, no_header=True)
    part.safety(screen)
