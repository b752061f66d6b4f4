"""``rubrail envelope``: how much a trailer carries, by where the load sits."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.answers.envelope import Envelope, Segment
    from rubrail.answers.place import Place
    from rubrail.cli.screen import Screen

STEPS = 12
BAR = 24


def command(
    trailer: options.Trailer,
    haul: Annotated[
        str | None,
        typer.Option("--haul", metavar="HAUL", help="A haul: adds what its truck allows and where its cargo holds."),
    ] = None,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> None:
    """Show the greatest cargo weight for each place of its center of gravity, and what governs there."""
    from rubrail.answers.envelope import envelope
    from rubrail.answers.place import place
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_yard import envelope_sentence

    found_yard = given.yard_of(yard, trailer, *([haul] if haul else []))
    the_trailer = given.trailer_of(trailer, found_yard)
    the_haul = given.haul_of(haul, found_yard) if haul else None
    try:
        result = envelope(trailer=the_trailer, haul=the_haul)
    except ValueError as cannot:
        raise BadInput(f"{str(cannot)[:1].upper()}{str(cannot)[1:]}.") from None
    placed = place(haul=the_haul, trailer=the_trailer) if the_haul and the_haul.cargo else None
    truck = (the_haul.truck.title or the_haul.truck.id) if the_haul else ""
    sentence = envelope_sentence(result, title=the_trailer.title or "", truck=truck, metric=metric)
    if as_json:
        print(told(answer="envelope", sentence=sentence, record={"envelope": result, "place": placed}))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), result, placed, sentence)


def show(screen: Screen, envelope: Envelope, placed: Place | None, sentence: str) -> None:
    """Print an envelope: its stretches, then a curve."""
    from rubrail.cli import show as part
    from rubrail.sheets.sentences_yard import place_sentence

    screen.text(sentence, style="bold")
    if placed is not None:
        screen.text()
        screen.text(place_sentence(placed, metric=screen.metric))
    behind = envelope.behind
    if behind is not None:
        _stretches(screen, envelope, behind, "Behind this truck: what governs, by where the load balances")
    _stretches(screen, envelope, envelope.alone, "The trailer alone: what governs, by where the load balances")
    _curve(screen, envelope, envelope.alone if behind is None else behind)
    part.safety(screen)


def _stretches(screen: Screen, envelope: Envelope, stretches: Sequence[Segment], head: str) -> None:
    from rubrail.sheets.sentences_amounts import amount, feet
    from rubrail.sheets.sentences_words import begin

    screen.heading(head)
    if not stretches:
        screen.text("No limit that is known bounds it, so nothing can be said.")
        return
    zero = envelope.deck_front_x_in
    screen.table(
        ("from", "left", 9), ("to", "left", 9), ("carries", "right", 9), ("to", "right", 9), ("governs", "wrap"),
        rows=[
            (
                *(feet(x - zero, metric=screen.metric) for x in (s.from_x_in, s.to_x_in)),
                *(amount(w, "lb", metric=screen.metric) for w in (s.from_weight_lb, s.to_weight_lb)),
                begin(s.title),
            )
            for s in stretches
        ],
    )  # fmt: skip


def _curve(screen: Screen, envelope: Envelope, stretches: Sequence[Segment]) -> None:
    """The envelope as bars, from the front of the deck to its rear."""
    from rubrail.sheets.sentences_amounts import amount, feet

    zero, length = envelope.deck_front_x_in, envelope.deck_rear_x_in - envelope.deck_front_x_in
    points = [(zero + length * i / STEPS, _weight(stretches, zero + length * i / STEPS)) for i in range(STEPS + 1)]
    tallest = max((w for _, w in points if math.isfinite(w)), default=0.0)
    if not tallest > 0:
        return
    screen.heading("From the front of the deck to its rear")
    full = "#" if screen.plain else "█"
    screen.table(
        ("balances at", "left", 11), ("carries", "right", 9), ("", "wrap"),
        rows=[
            (
                feet(x - zero, metric=screen.metric),
                amount(w, "lb", metric=screen.metric),
                full * round(BAR * min(w, tallest) / tallest) if not math.isnan(w) else "",
            )
            for x, w in points
        ],
    )  # fmt: skip


def _weight(stretches: Sequence[Segment], x_in: float) -> float:
    inside = [s for s in stretches if s.from_x_in - 1e-6 <= x_in <= s.to_x_in + 1e-6]
    return min((min(max(s.from_weight_lb, s.to_weight_lb), s.weight_lb(x_in)) for s in inside), default=math.nan)
