"""``rubrail compare``: two to six units side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.answers.compare import Comparison, Row
    from rubrail.cli.screen import Screen


def command(
    haul: options.Haul,
    trailers: Annotated[list[str], typer.Argument(metavar="TRAILER", help="Two to six trailer files or ids.")],
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Compare two to six units on the same rows for one haul."""
    from rubrail.answers.compare import LEAST, MOST, compare
    from rubrail.checks.verdict import WORDS
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_yard import comparison_sentence

    found_yard = given.yard_of(yard, haul, *trailers)
    the_haul, units = given.haul_of(haul, found_yard), given.trailers_of(trailers, found_yard)
    if not LEAST <= len(units) <= MOST:
        raise BadInput(f"TRAILER must name {LEAST} to {MOST} different trailers, got {len(units)}.")
    result = compare(haul=the_haul, trailers=units)
    sentence = comparison_sentence(result, metric=metric)
    best = max((w.verdict for w in result.weighings), key=WORDS.index)
    if as_json:
        print(told(answer="compare", sentence=sentence, record=result))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), result, sentence, best)
    return best


def show(screen: Screen, result: Comparison, sentence: str, best: str) -> None:
    """Print a comparison; more units than the width has room for go below one another."""
    from rubrail.cli import show as part
    from rubrail.sheets.sentences import weighing_sentence
    from rubrail.sheets.sentences_words import begin

    screen.verdict(best, sentence)
    units = list(range(len(result.weighings)))
    fit = max(2, (screen.console.width - 28) // 16)
    for start in range(0, len(units), fit):
        some = units[start : start + fit]
        screen.text()
        screen.table(
            ("", "wrap"),
            *((result.weighings[i].trailer, "right") for i in some),
            rows=[
                (begin(row.title), *(_cell(screen, row, i) for i in some))
                for row in result.rows
                if row.key != "governing"
            ],
        )
    screen.text("* best on that row", style="dim")
    screen.heading("Each in a sentence")
    for w in result.weighings:
        screen.verdict(w.verdict, weighing_sentence(w, tried=False, metric=screen.metric))
    part.safety(screen)


def _cell(screen: Screen, row: Row, i: int) -> object:
    from rubrail.sheets.sentences_amounts import amount

    value = row.values[i]
    if row.key == "verdict":
        return screen.mark(str(value)).append("  ")
    shown = value if isinstance(value, str) else amount(value, row.unit, metric=screen.metric)
    return f"{shown} *" if i in row.best else f"{shown}  "
