"""``rubrail ticket``: what the readings of a scale say, and which of them do not agree."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.answers.ticket_report import Ticketed
    from rubrail.cli.screen import Screen
    from rubrail.things.ticket import Ticket
    from rubrail.things.trailer import Trailer
    from rubrail.things.yard import Yard


def command(
    name: Annotated[str, typer.Argument(metavar="TICKET", help="A ticket file, or the id of a ticket in the yard.")],
    trailer: Annotated[
        str | None,
        typer.Option("--trailer", metavar="TRAILER", help="The trailer weighed; the one the ticket names by default."),
    ] = None,
    truck: Annotated[
        str | None,
        typer.Option("--truck", metavar="TRUCK", help="The truck weighed; the one the ticket names by default."),
    ] = None,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Work out every weight that a set of scale readings tells, and name the reading that does not agree."""
    from rubrail.answers.ticket import read_ticket
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_ticket import ticket_sentence

    found = given.yard_of(yard, name, *(n for n in (trailer, truck) if n))
    ticket = _ticket(name, found)
    the_trailer = _of(trailer, ticket.trailer, found, "trailer")
    the_truck = _of(truck, ticket.truck, found, "truck")
    _fits(ticket, the_trailer)
    answer = read_ticket(ticket, trailer=the_trailer, truck=the_truck)
    sentence = ticket_sentence(answer, metric=metric)
    if as_json:
        print(told(answer="ticket", sentence=sentence, record=answer))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), answer, sentence)
    return answer.verdict


def _fits(ticket: Ticket, trailer: Trailer | None) -> None:
    """Refuse a reading of an axle that the trailer has not: its places and ratings are those of its file."""
    if trailer is None:
        return
    count = len(trailer.axle)
    wrong = [
        f"{ticket.id}: weighing[{i}].reading[{j}].on must be one of the {count} axles of {trailer.id}, got {part!r}."
        for i, w in enumerate(ticket.weighing, 1)
        for j, r in enumerate(w.reading, 1)
        for part in r.on
        if part.startswith("axle ") and int(part[5:]) > count
    ]
    if wrong:
        raise BadInput(*wrong)


def _ticket(name: str, yard: Yard | None) -> Ticket:
    from rubrail.things.door import load

    if name.endswith((".toml", ".json")) or Path(name).exists():
        return load(name, "ticket")  # type: ignore[return-value]
    known = yard.tickets if yard else {}
    if name not in known:
        from rubrail.cli.given import no_such

        raise BadInput(no_such("TICKET", "a ticket file or the id of a ticket", name, known, yard))
    return known[name]


def _of(option: str | None, named: str | None, yard: Yard | None, kind: str):
    """The trailer or truck: as the option says, else as the ticket names it, where the yard has it."""
    from rubrail.cli.given import no_such
    from rubrail.things.door import load

    known = (yard.trailers if kind == "trailer" else yard.trucks) if yard else {}
    wanted = option or named
    if not wanted or (not option and yard is None):
        return None
    if option and (option.endswith((".toml", ".json")) or Path(option).exists()):
        return load(option, kind)
    if wanted not in known:
        lead = f"--{kind}" if option else f"The ticket's {kind}"
        raise BadInput(no_such(lead, f"a {kind} file or the id of a {kind}", wanted, known, yard))
    return known[wanted]


def show(screen: Screen, answer: Ticketed, sentence: str) -> None:
    """Print a ticket: readings that stand out first, then the values, then what would tell more."""
    from rubrail.cli import show as part
    from rubrail.sheets.sentences_amounts import amount
    from rubrail.sheets.sentences_ticket import (
        ABOARD,
        agreement_sentence,
        causes,
        needs_told,
        notes,
        plate_words,
        reading_sentence,
        state_words,
        stood_words,
        value_words,
        without_words,
    )
    from rubrail.sheets.sentences_words import begin

    screen.verdict(answer.verdict, sentence)
    usual = list(dict.fromkeys(cause for reading in answer.readings for cause in causes(reading)))
    if usual:
        screen.text(f"Usual causes: {'; '.join(usual)}.")
    screen.heading("What was read")
    screen.table(
        ("stood on the plate", "wrap"), ("shown", "right", 9), ("fits", "right", 9), ("", "wrap"),
        rows=[
            (
                f"{begin(plate_words(r.on, r.side))}; {state_words(r.state, r.load)}",
                amount(r.shown_lb, "lb", metric=screen.metric),
                "" if math.isnan(r.fitted_lb) else amount(r.fitted_lb, "lb", metric=screen.metric),
                reading_sentence(r, metric=screen.metric),
            )
            for r in answer.readings
        ],
    )  # fmt: skip
    manned = [stood for stood in answer.stood if stood.aboard]
    for stood in manned:
        screen.text(f"{begin(stood_words(stood, metric=screen.metric))}.")
    if manned:
        screen.text(ABOARD, style="dim")
    screen.text(agreement_sentence(answer), style="dim")
    told = [v for v in answer.values if v.told]
    if told:
        screen.heading("What they tell")
        screen.table(
            ("", "wrap"), ("is", "right", 9), ("±", "right", 7), ("was", "right", 9), ("may be", "right", 9),
            ("", "left", 11),
            rows=[
                (
                    begin(value_words(v)),
                    amount(v.number, v.unit, metric=screen.metric),
                    amount(v.plus_minus, v.unit, metric=screen.metric),
                    "" if math.isnan(v.before) else amount(v.before, v.unit, metric=screen.metric),
                    "" if math.isnan(v.limit) else amount(v.limit, v.unit, metric=screen.metric),
                    screen.mark(v.verdict) if v.verdict else "",
                )
                for v in told
            ],
        )  # fmt: skip
    if answer.without:
        screen.heading("Were the reading that stands out set aside")
        screen.table(
            ("", "wrap"), ("is", "right", 9), ("±", "right", 7), no_header=True,
            rows=[
                (begin(without_words(w)), *(amount(v, "lb", metric=screen.metric) for v in (w.number, w.plus_minus)))
                for w in answer.without
            ],
        )  # fmt: skip
    needs = needs_told(answer)
    if needs:
        screen.heading("What one reading more would tell")
        for need in needs:
            screen.text(need)
    _take_over(screen, answer)
    screen.text()
    for note in notes(answer):
        screen.text(note, style="dim")
    part.safety(screen)


def _take_over(screen: Screen, answer: Ticketed) -> None:
    from rubrail.sheets.sentences_ticket import proposal_sentence

    if not answer.proposals:
        return
    screen.heading("To be written as weighed")
    screen.table(
        ("", "left"), ("", "wrap"), no_header=True,
        rows=[(f"{p.of}.{p.field}", proposal_sentence(p, metric=screen.metric)) for p in answer.proposals],
    )  # fmt: skip
