"""``rubrail paper``: any sheet as a PDF file."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.sheets.paper.blocks import Paper
    from rubrail.sheets.paper.made import Stamp
    from rubrail.things.rates import Rates
    from rubrail.things.trailer import Trailer
    from rubrail.things.yard import Yard as YardThing

LINK = re.compile(r"https?://[^\s<>\"]{1,500}")
SORTS = {
    "window": ("TRAILER",),
    "spec": ("TRAILER",),
    "tax": ("TRAILER",),
    "plan": ("HAUL", "TRAILER"),
    "card": ("HAUL", "TRAILER"),
    "thresholds": ("HAUL", "TRAILER"),
    "compare": ("HAUL", "TRAILER", "TRAILER"),
    "order": ("MODEL",),
    "receiving": ("ORDERED", "RECEIVED"),
    "walk": ("TRAILER",),
    "hand-over": ("HAUL", "TRAILER"),
    "checklist": ("TRAILER",),
    "labels": ("TRAILER",),
    "weather": ("TRAILER",),
}
"""What each sort is named by; ``compare`` takes up to four trailers, ``order`` any options of the model,
``receiving`` what the papers say, ``walk`` a haul after its trailer, and ``labels`` and ``weather`` any number."""
BY_SECOND = ("plan", "card", "thresholds", "receiving", "hand-over")
"""Sheets whose file is named by their second name."""
MORE = {"compare": 2, "order": 40, "receiving": 1, "walk": 1, "labels": 1000, "weather": 1000}


def command(
    sort: Annotated[str, typer.Argument(metavar="SORT", help=f"Which sheet: {', '.join(SORTS)}.")],
    names: Annotated[
        list[str],
        typer.Argument(
            metavar="NAME",
            help="A trailer (window, spec, tax, checklist); a haul and a trailer (plan, card, thresholds,"
            " hand-over); a haul and two to four trailers (compare); a model of a price book and its options (order);"
            " what was ordered, what came and, if you like, what the papers say (receiving); a trailer and, if you"
            " like, a haul (walk); any number of trailers (labels, weather).",
        ),
    ],
    out: Annotated[
        str | None, typer.Option("--out", metavar="FILE", help="The file to write; else SORT-NAME.pdf here.")
    ] = None,
    a4: Annotated[bool, typer.Option("--a4", help="On A4 instead of Letter.")] = False,
    link: Annotated[
        str, typer.Option("--link", metavar="ADDRESS", help="Address behind the sheet's code; else it has none.")
    ] = "",
    at: options.At = None,
    yard: options.Yard = None,
    metric: options.Metric = False,
) -> None:
    """Print a sheet to a PDF file.

    Labels for the yard are eight to a page (labels) or one to be read across a row (weather); --link then names the
    public pages, and each code leads to its unit's own.
    """
    from rubrail.cli import given
    from rubrail.sheets.paper.made import Stamp
    from rubrail.sheets.paper.press import press

    _fits(sort, names, at)
    if link and not LINK.fullmatch(link):
        raise BadInput(f"--link must be an address such as https://yard.example/unit/SH-101, got {link!r}.")
    found_yard = given.yard_of(yard, *(n for n in names if n != "-"))
    stamp = Stamp(yard=found_yard.title if found_yard else "", date=_today(), link=link)
    paper = MAKERS[sort](names, found_yard, at=at, stamp=stamp, metric=metric)
    pdf = press(paper, on="a4" if a4 else "letter")
    named = names[1] if sort in BY_SECOND else names[0]
    _write(out, f"{sort}-{_plain(named)}.pdf", pdf)


def _fits(sort: str, names: Sequence[str], at: Sequence[str] | None) -> None:
    if sort not in SORTS:
        raise BadInput(f"SORT must be one of {', '.join(SORTS)}, got {sort!r}.")
    wanted = SORTS[sort]
    if not len(wanted) <= len(names) <= len(wanted) + MORE.get(sort, 0):
        more = {
            "compare": " and up to two more trailers",
            "order": " and options of it",
            "receiving": " and a file of the papers",
            "walk": " and a haul",
            "labels": " and up to 1,000 more",
            "weather": " and up to 1,000 more",
        }.get(sort, "")
        raise BadInput(f"NAME for {sort} must be {', '.join(wanted)}{more}, got {len(names)}.")
    if at and sort not in ("plan", "card", "thresholds") and not (sort == "walk" and len(names) > 1):
        raise BadInput(f"--at says where cargo stands, and {sort} has none: leave it out.")


def _unit(sort: str) -> Callable[..., Paper]:
    def make(names: Sequence[str], yard: YardThing | None, *, stamp: Stamp, metric: bool, **_: object) -> Paper:
        from rubrail.cli import given
        from rubrail.cli.price import rates_of
        from rubrail.sheets.paper import made

        trailer = _true(given.trailer_of(names[0], yard), yard)
        if sort == "spec":
            return made.spec(trailer, stamp=stamp, metric=metric)
        if sort == "tax":
            return _tax(trailer, rates_of(None, yard), stamp, metric)
        try:
            rates = rates_of(None, yard)
        except BadInput:
            rates = None  # the sheet goes without its tax line
        return made.window(trailer, stamp=stamp, rates=rates, metric=metric)

    return make


def _tax(trailer: Trailer, rates: Rates, stamp: Stamp, metric: bool) -> Paper:
    from rubrail.answers.price import DealError
    from rubrail.sheets.paper import made

    try:
        return made.tax(trailer, rates=rates, stamp=stamp, metric=metric)
    except DealError as bad:
        raise BadInput(*bad.faults) from None


def _rig(sort: str) -> Callable[..., Paper]:
    def make(
        names: Sequence[str], yard: YardThing | None, *, at: Sequence[str] | None, stamp: Stamp, metric: bool
    ) -> Paper:
        from rubrail.cli import given
        from rubrail.sheets.paper import made

        haul, trailer = given.haul_of(names[0], yard), _true(given.trailer_of(names[1], yard), yard)
        placement = given.placement_of(at, haul, trailer)
        if sort == "plan":
            kit = yard.kit if yard else None
            return made.plan(haul, trailer, placement=placement, kit=kit, stamp=stamp, metric=metric)
        maker = made.card if sort == "card" else made.thresholds
        return maker(haul, trailer, placement=placement, stamp=stamp, metric=metric)

    return make


def _compare(names: Sequence[str], yard: YardThing | None, *, stamp: Stamp, metric: bool, **_: object) -> Paper:
    from rubrail.cli import given
    from rubrail.sheets.paper import made

    haul, trailers = given.haul_of(names[0], yard), given.trailers_of(names[1:], yard)
    if not 2 <= len(trailers) <= 4:
        raise BadInput(f"TRAILER must name two to four different trailers, got {len(trailers)}.")
    return made.comparison(haul, [_true(t, yard) for t in trailers], stamp=stamp, metric=metric)


def _walk(
    names: Sequence[str], yard: YardThing | None, *, at: Sequence[str] | None, stamp: Stamp, metric: bool
) -> Paper:
    from rubrail.answers.company import company_among
    from rubrail.cli import given
    from rubrail.sheets.paper import made

    trailer = _true(given.trailer_of(names[0], yard), yard)
    haul = given.haul_of(names[1], yard) if len(names) > 1 else None
    return made.walk(
        trailer,
        haul=haul,
        placement=given.placement_of(at, haul, trailer) if haul else None,
        kit=yard.kit if yard else None,
        company=company_among(trailer, tuple(yard.trailers.values())) if yard else None,
        stamp=stamp,
        metric=metric,
    )


def _checklist(names: Sequence[str], yard: YardThing | None, *, stamp: Stamp, metric: bool, **_: object) -> Paper:
    from rubrail.answers.checklist import checklist
    from rubrail.cli import given
    from rubrail.cli.checklist import own_checks
    from rubrail.sheets.paper.checklist import ChecklistFacts, checklist_paper

    t = _true(given.trailer_of(names[0], yard), yard)
    facts = ChecklistFacts(
        lines=checklist(t, own=own_checks(yard)),
        unit=t.id,
        title=t.title or t.id,
        facts=(("Stock number", t.id), ("VIN", t.vin or "not known")),
        yard=stamp.yard,
        date=stamp.date,
        link=stamp.link,
    )
    return checklist_paper(facts, metric=metric)


def _order(names: Sequence[str], yard: YardThing | None, *, stamp: Stamp, metric: bool, **_: object) -> Paper:
    from rubrail.answers.build import BuildError, build_of
    from rubrail.cli.build import catalog_of
    from rubrail.sheets.paper.money import order_sheet

    try:
        build = build_of(catalog_of(names[0], yard), names[0], names[1:])
    except BuildError as bad:
        raise BadInput(*bad.faults) from None
    return order_sheet(build=build, yard=stamp.yard, date=stamp.date, metric=metric)


def _receiving(names: Sequence[str], yard: YardThing | None, *, stamp: Stamp, metric: bool, **_: object) -> Paper:
    from rubrail.answers.receive import receive
    from rubrail.cli.receive import three
    from rubrail.cli.vin import this_year
    from rubrail.sheets.paper.receive import ReceivingFacts, receiving_paper

    papers = names[2] if len(names) > 2 else None
    found = receive(**three(names[0], names[1], papers, yard), vins={}, this_year=this_year())
    facts = ReceivingFacts(receiving=found, yard=stamp.yard, date=stamp.date, link=stamp.link)
    return receiving_paper(facts, metric=metric)


def _hand_over(names: Sequence[str], yard: YardThing | None, *, stamp: Stamp, metric: bool, **_: object) -> Paper:
    from rubrail.answers.hand_over_lines import hand_over_list
    from rubrail.cli import given
    from rubrail.cli.checklist import own_checks
    from rubrail.sheets.paper.hand_over import HandOverFacts, hand_over_paper

    haul, trailer = given.haul_of(names[0], yard), _true(given.trailer_of(names[1], yard), yard)
    head = (
        ("Stock number", trailer.id), ("VIN", trailer.vin or ""), ("Buyer", ""),
        ("Truck", haul.truck.title or haul.truck.id), ("Day", ""),
    )  # fmt: skip
    facts = HandOverFacts(
        trailer=trailer, lines=hand_over_list(trailer, haul=haul, own=own_checks(yard)), facts=head,
        unit=trailer.id, yard=stamp.yard, date=stamp.date, link=stamp.link,
    )  # fmt: skip
    return hand_over_paper(facts, metric=metric)


def _labels(sort: str) -> Callable[..., Paper]:
    def make(names: Sequence[str], yard: YardThing | None, *, stamp: Stamp, metric: bool, **_: object) -> Paper:
        from rubrail.cli import given
        from rubrail.cli.site import address_of
        from rubrail.sheets.paper.labels import label_sheet, labels_of

        address = address_of(stamp.link, option="--link")
        labels = labels_of([_true(t, yard) for t in given.trailers_of(names, yard)], address=address)
        return label_sheet(labels, size=sort, yard=stamp.yard, date=stamp.date, metric=metric)

    return make


MAKERS: dict[str, Callable[..., Paper]] = {
    **{sort: _unit(sort) for sort in ("window", "spec", "tax")},
    **{sort: _rig(sort) for sort in ("plan", "card", "thresholds")},
    "compare": _compare,
    "order": _order,
    "receiving": _receiving,
    "walk": _walk,
    "hand-over": _hand_over,
    "checklist": _checklist,
    **{sort: _labels(sort) for sort in ("labels", "weather")},
}


def _true(trailer: Trailer, yard: YardThing | None) -> Trailer:
    """A trailer as it may be printed; what is left out, and why, goes to whoever prints."""
    from rubrail.sheets.said_truly import said_truly
    from rubrail.sheets.sentences_claims import not_printed_sentence

    makers = {t.maker for t in yard.trailers.values() if t.maker} if yard else set()
    said = said_truly(trailer, makers=makers)
    if said.refused:
        print(not_printed_sentence(said, trailer.id), file=sys.stderr)
    return said.trailer


def _today() -> str:
    from datetime import UTC, datetime

    day = datetime.now(tz=UTC).astimezone().date()
    return f"{day:%b} {day.day}, {day.year}"


def _plain(name: str) -> str:
    from pathlib import Path

    return Path(name).stem if name.endswith((".toml", ".json")) else Path(name).name


def _write(out: str | None, usual: str, pdf: bytes) -> None:
    from pathlib import Path

    path = Path(out or usual)
    try:
        path.write_bytes(pdf)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "it is no file name"
        raise BadInput(f"--out {path} cannot be written: {reason.lower()}.") from None
    print(f"{path} is written.")
