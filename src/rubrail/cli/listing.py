"""``rubrail listing``: what a unit's listing says, and which claims are refused."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from datetime import date

    from rubrail.cli.screen import Screen
    from rubrail.sheets.listing_told import ListingTold
    from rubrail.things.listing import ListingText
    from rubrail.things.rates import Rates
    from rubrail.things.yard import Yard

MOST_BYTES = 200_000


def command(
    trailer: options.Trailer,
    template: Annotated[
        str | None,
        typer.Option("--template", metavar="FILE", help="A listing file, or the id of one; else the yard's in force."),
    ] = None,
    check: Annotated[
        str | None,
        typer.Option("--check", metavar="TEXT", help="Hold another text, a file or - for standard input, against it."),
    ] = None,
    words: Annotated[str | None, typer.Option("--words", metavar="WORDS", help="Own words for this unit.")] = None,
    looked: Annotated[
        str | None,
        typer.Option("--price-looked-at", metavar="DAY", help="Day the price was last found right; today without it."),
    ] = None,
    html: Annotated[bool, typer.Option("--html", help="Print the text as HTML and nothing else.")] = False,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Word a unit's listing from the yard's template, and refuse claims that are not true of it."""
    from rubrail.answers.claims import refused_in
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.listing_offer import offer
    from rubrail.sheets.listing_told import check_told, listing_sentence, listing_told

    found_yard = given.yard_of(yard, trailer, *([template] if template else []))
    the_trailer = given.trailer_of(trailer, found_yard)
    today = _today()
    found = offer(
        the_trailer,
        wording_of(template, found_yard, today),
        checked=_day(looked, today),
        today=today,
        words=words or "",
        yard=found_yard.title if found_yard else "",
        rates=_rates(found_yard, today),
        makers={t.maker for t in found_yard.trailers.values() if t.maker} if found_yard else (),
        metric=metric,
    )
    if check is None:
        record = listing_told(found, metric=metric)
    else:
        text = _text(check)
        record = check_told(found, refused_in([("the text", text)], found.true), text, metric=metric)
    sentence = listing_sentence(record, the_trailer)
    if as_json:
        print(told(answer="listing", sentence=sentence, record=record))
    elif html and check is None:
        print(record.html, end="")
        for it in record.refused:
            print(f"{it.why} {it.instead}", file=sys.stderr)
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), record, sentence)
    return "over" if record.refused else "clear"


def show(screen: Screen, record: ListingTold, sentence: str) -> None:
    """Print what is refused and why, then the text, then what was left out."""
    screen.verdict("over" if record.refused else "clear", sentence)
    for it in record.refused:
        screen.heading(f"In {it.where}: “{it.words}”")
        screen.text(it.why)
        screen.text(it.instead)
        screen.text(f"{it.source}: {it.how_read}", style="dim")
    if record.plain:
        screen.text()
        for line in record.plain.rstrip("\n").split("\n"):
            screen.text(line)
        letters = f"Headline: {record.headline_letters} of {record.headline_most} letters"
        screen.text()
        screen.text(f"{letters}{', too long' if record.headline_letters > record.headline_most else ''}.", style="dim")
    for says in record.left_out:
        screen.text(says, style="dim")


def wording_of(name: str | None, yard: Yard | None, today: date) -> ListingText:
    """The listing file named, else the yard's in force, else the plain one.

    Raises
    ------
    BadInput, Faults
        If there is none of that name, and every fault of what there is.
    """
    from rubrail.cli import given
    from rubrail.things.door import load
    from rubrail.things.folder import plain_listing
    from rubrail.things.holding import in_force

    known = yard.listings if yard else {}
    if name is None:
        return in_force(known.values(), on=today) or plain_listing()
    if name in known:
        return known[name]
    if Path(name).suffix.lower() in (".toml", ".json") or Path(name).exists():
        return load(name, "listing")
    raise BadInput(given.no_such("--template", "a listing file or the id of one", name, known, yard))


def _rates(yard: Yard | None, today: date) -> Rates | None:
    from rubrail.things.holding import in_force

    return in_force(yard.rates.values(), on=today) if yard else None


def _today() -> date:
    from datetime import UTC, datetime

    return datetime.now(tz=UTC).astimezone().date()


def _day(typed: str | None, today: date) -> date:
    from datetime import date

    if typed is None:
        return today
    try:
        day = date.fromisoformat(typed)
    except ValueError:
        raise BadInput(f"--price-looked-at must be a day such as 2026-03-14, got {typed!r}.") from None
    if day > today:
        raise BadInput(f"--price-looked-at must be today or an earlier day, got {typed}.")
    return day


def _text(name: str) -> str:
    if name == "-":
        raw = sys.stdin.buffer.read(MOST_BYTES + 1)
    else:
        path = Path(name)
        if not path.is_file():
            raise BadInput(f"--check must name a text file, or be - for standard input, got {name!r}.")
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    if len(raw) > MOST_BYTES:
        raise BadInput(f"--check must be at most {MOST_BYTES:,} bytes of text, and {name} has more.")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInput(f"--check must be UTF-8 text, and {name} is not.") from None
