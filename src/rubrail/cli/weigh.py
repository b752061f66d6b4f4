"""``rubrail weigh``: one haul on one trailer."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options

if TYPE_CHECKING:
    from rubrail.answers.report import Weighing
    from rubrail.cli.screen import Screen


def command(
    haul: options.Haul,
    trailer: options.Trailer,
    at: options.At = None,
    yard: options.Yard = None,
    all_limits: Annotated[
        bool, typer.Option("--all", help="Show every limit that applies, however easily held.")
    ] = False,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Weigh a haul on one trailer: every limit, the one that governs first, and what to change."""
    from rubrail.answers.weigh import weigh
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences import weighing_sentence

    found_yard = given.yard_of(yard, haul, trailer)
    the_haul, the_trailer = given.haul_of(haul, found_yard), given.trailer_of(trailer, found_yard)
    weighing = weigh(haul=the_haul, trailer=the_trailer, placement=given.placement_of(at, the_haul, the_trailer))
    sentence = weighing_sentence(weighing, metric=metric)
    if as_json:
        print(told(answer="weigh", sentence=sentence, record=weighing))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), weighing, sentence, all_limits=all_limits)
    return weighing.verdict


def show(screen: Screen, weighing: Weighing, sentence: str, *, all_limits: bool) -> None:
    """Print a weighing."""
    from rubrail.cli import show as part

    screen.verdict(weighing.verdict, sentence)
    part.remedies(screen, weighing.remedies)
    part.settle(screen, weighing.settle)
    part.unknown(screen, weighing.unknown)
    part.cargo(screen, weighing.pieces)
    part.loads(screen, weighing.loads)
    part.limits(screen, weighing, all_of_them=all_limits)
    part.safety(screen)
