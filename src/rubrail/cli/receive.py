"""``rubrail receive``: a unit off the truck against its order, its papers, and itself."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput, all_at_once

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rubrail.answers.receive_report import ReceivedField, Receiving
    from rubrail.cli.screen import Screen
    from rubrail.things.yard import Yard

NO_ORDER = "-"
EVERY_READING = "label, frame, papers"


def command(
    ordered: Annotated[
        str,
        typer.Argument(metavar="ORDERED", help="The trailer file of what was ordered, or '-' where there is none."),
    ],
    received: Annotated[
        str, typer.Argument(metavar="RECEIVED", help="The trailer file of what came, as read and measured on it.")
    ],
    vin: Annotated[
        list[str] | None,
        typer.Option("--vin", metavar="PLACE=VIN", help=f"A reading of the VIN ({EVERY_READING}), once for each."),
    ] = None,
    papers: Annotated[
        str | None, typer.Option("--papers", metavar="FILE", help="A trailer file of what the papers say.")
    ] = None,
    maker: Annotated[
        list[str] | None,
        typer.Option("--maker", metavar="CODE", help="A code known for its maker: three characters or six."),
    ] = None,
    need: Annotated[
        str | None, typer.Option("--need", metavar="WEIGHT", help="Heaviest load a buyer waits to put on it.")
    ] = None,
    cargo: Annotated[
        str | None, typer.Option("--cargo", metavar="WEIGHT", help="Cargo its maker rates it for, by its placard.")
    ] = None,
    buyer_waits: Annotated[bool, typer.Option("--buyer-waits", help="A buyer has been promised this unit.")] = False,
    no_label: Annotated[bool, typer.Option("--no-label", help="It has no certification label.")] = False,
    all_of_them: Annotated[
        bool, typer.Option("--all", help="Show every field, also those that are as ordered.")
    ] = False,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Receive a unit: VIN, ordered against received, ratings, lamps; accept, accept with exceptions or refuse."""
    from rubrail.answers.receive import receive
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.cli.vin import maker_codes, named, this_year
    from rubrail.sheets.sentences_receive import VERDICT_OF, receiving_sentence

    found_yard = given.yard_of(yard, received, *([] if ordered == NO_ORDER else [ordered]))
    asked = all_at_once(
        files=lambda: three(ordered, received, papers, found_yard),
        vins=lambda: named(_with_place(vin or [])),
        maker_codes=lambda: maker_codes(maker),
        need_lb=lambda: _pounds("--need", need),
        rated_cargo_lb=lambda: _pounds("--cargo", cargo),
    )
    result = receive(
        **asked.pop("files"),
        **asked,
        this_year=this_year(),
        label_seen=False if no_label else None,
        buyer_waits=buyer_waits,
    )
    sentence = receiving_sentence(result, metric=metric)
    if as_json:
        print(told(answer="receive", sentence=sentence, record=result))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), result, sentence, all_of_them=all_of_them)
    return VERDICT_OF[result.proposed]


def three(ordered: str, received: str, papers: str | None, yard: Yard | None) -> dict[str, object]:
    """What was ordered, what came, and what the papers say, each from a trailer's file or an id of the yard.

    Raises
    ------
    BadInput
        Everything that names nothing, all at once.
    """
    from rubrail.answers.receive_papers import papers_of
    from rubrail.cli import given

    names = {"ordered": None if ordered == NO_ORDER else ordered, "received": received, "papers": papers}
    found = all_at_once(**{k: partial(given.trailer_of, name, yard) for k, name in names.items() if name is not None})
    said = found.get("papers")
    return {
        "ordered": found.get("ordered"),
        "received": found["received"],
        "papers": papers_of(said) if said else None,
    }


def _with_place(texts: Sequence[str]) -> Sequence[str]:
    bare = [t for t in texts if "=" not in t]
    if bare:
        raise BadInput(*(f"--vin must be PLACE=VIN such as papers=1Z9FG3225SHZ12001, got {t!r}." for t in bare))
    return texts


def _pounds(option: str, text: str | None) -> float:
    from math import nan

    from rubrail.quantity.parse import UnreadableError, parse_quantity

    if text is None:
        return nan
    try:
        value = parse_quantity(text, "lb")
    except UnreadableError as reason:
        raise BadInput(f"{option} must be a weight such as '16,950 lb', got {text!r}: it {reason}.") from None
    if not 0 <= value <= 200_000:
        raise BadInput(f"{option} must be 0 to 200,000 lb, got {text!r}.")
    return value


def show(screen: Screen, r: Receiving, sentence: str, *, all_of_them: bool) -> None:
    """Print a receiving: what to do and why, then what it rests on."""
    from rubrail.cli import show as part
    from rubrail.cli import vin as of_vin
    from rubrail.sheets import sentences_receive as words
    from rubrail.sheets.sentences_vin import vin_sentence

    screen.verdict(words.VERDICT_OF[r.proposed], sentence)
    screen.text(words.DECIDES, style="dim")
    if r.reasons:
        screen.heading("To write down")
        rows = [(f"{n}.", words.reason_sentence(x, metric=screen.metric)) for n, x in enumerate(r.reasons, 1)]
        screen.table(("", "right"), ("", "wrap"), rows=rows, no_header=True)
        screen.text(words.SAME_DAY)
    screen.heading("VIN")
    screen.verdict(r.vin.verdict, vin_sentence(r.vin))
    of_vin.show(screen, r.vin)
    _label(screen, r)
    _fields(screen, r, all_of_them=all_of_them)
    _payload(screen, r)
    _ratings(screen, r)
    screen.heading("Lamps, reflectors and marking it must have")
    for lamp in r.lamps:
        screen.text(f"- {words.lamp_line(lamp, metric=screen.metric)}")
    if marking := words.marking_sentence(r, metric=screen.metric):
        screen.text(marking)
    part.safety(screen)


def _label(screen: Screen, r: Receiving) -> None:
    from rubrail.sheets import sentences_receive as words
    from rubrail.sheets.sentences_words import begin

    screen.heading("Label against papers and order; the label governs")
    screen.table(
        ("", "left"), ("", "wrap"), ("label", "right"), ("papers", "right"), ("order", "right"),
        rows=[
            (row.verdict, begin(row.label), *words.label_words(row, metric=screen.metric))
            for row in r.label
        ],
    )  # fmt: skip


def _fields(screen: Screen, r: Receiving, *, all_of_them: bool) -> None:
    from rubrail.answers.receive_report import DIFFERS, NOT_KNOWN
    from rubrail.sheets import sentences_receive as words

    if not r.compared:
        return
    screen.heading("Ordered against received")
    screen.text(words.counted(r.fields))
    shown = [f for f in r.fields if all_of_them or f.verdict in (DIFFERS, NOT_KNOWN)]
    if shown:
        screen.table(
            ("", "left"), ("", "wrap"), ("ordered", "right"), ("received", "right"), ("what it does", "wrap"),
            rows=[_field(screen, f) for f in shown],
        )  # fmt: skip
    costliest = words.costliest_sentence(r, metric=screen.metric)
    if costliest:
        screen.text(costliest)


def _field(screen: Screen, f: ReceivedField) -> tuple:
    from rubrail.sheets import sentences_receive as words
    from rubrail.sheets.sentences_words import begin

    return (
        f.verdict,
        begin(f.label),
        words.field_amount(f, ordered=True, metric=screen.metric),
        words.field_amount(f, ordered=False, metric=screen.metric),
        words.effect_words(f, metric=screen.metric),
    )


def _payload(screen: Screen, r: Receiving) -> None:
    from rubrail.sheets import sentences_receive as words
    from rubrail.sheets.sentences_words import begin

    screen.heading("What it carries")
    screen.table(
        ("", "wrap"), ("as ordered", "right"), ("as received", "right"), ("change", "right"),
        rows=[(begin(p.title), *words.payload_words(p, metric=screen.metric)) for p in r.payload],
    )  # fmt: skip


def _ratings(screen: Screen, r: Receiving) -> None:
    from rich.text import Text

    from rubrail.sheets import sentences_receive as words

    screen.heading("Whether its ratings hold together")
    rows = []
    for line, title in words.alike_lines(r.consistency):
        name = Text(screen.letters(title))
        missing = words.to_read(line)
        if missing:
            name.append(screen.letters(f"\nread: {missing}"), style="dim")
        rows.append((screen.mark(line.verdict), name, *words.line_numbers(line, metric=screen.metric)))
    screen.table(
        ("", "left", 11), ("", "wrap"), ("asked", "right"), ("there", "right"), ("to spare", "right"), rows=rows
    )
