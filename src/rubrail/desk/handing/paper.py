"""The sheet of a hand-over: as it stands, as it was signed, or empty to be filled by hand."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime

from rubrail.answers.checklist_judge import judge
from rubrail.answers.checklist_parts import Line
from rubrail.answers.follow_up import follow_ups
from rubrail.answers.hand_over_lines import hand_over_list
from rubrail.desk import clock
from rubrail.desk.as_printed import title_printed
from rubrail.desk.checking.entries import entry_words
from rubrail.desk.checking.lists import latest, own_checks, trailer_read
from rubrail.desk.checking.paper import moment_words
from rubrail.desk.handing.inspected import inspected
from rubrail.desk.handing.stand import Stand, stand_of
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import CheckEntry, Checklist, Quote, Unit
from rubrail.desk.models.checks import CheckState
from rubrail.desk.sales.freeze import thawed
from rubrail.desk.sales.quotes import said_date
from rubrail.desk.stock import readable
from rubrail.sheets.paper.blocks import Paper
from rubrail.sheets.paper.checklist import Signed
from rubrail.sheets.paper.hand_over import HandOverFacts, hand_over_paper
from rubrail.sheets.paper.made import Stamp
from rubrail.sheets.sentences_hand_over import inspected_words
from rubrail.things.faults import Faults

NOT_SIGNED = "Not signed yet."


def paper_of(it: Checklist, *, stamp: Stamp, metric: bool = False) -> Paper:
    """The sheet of a hand-over: frozen once signed.

    Raises
    ------
    UnreadableUnitError
        If what is stored of the unit no longer reads, and nothing is frozen.
    """
    if it.state == CheckState.RELEASE and "content" in it.result:
        return thawed(it.result["content"], expect=it.result["digest"])
    return paper_now(it, stand_of(it), stamp=stamp, metric=metric)


def paper_now(it: Checklist, stand: Stand, *, stamp: Stamp, metric: bool = False) -> Paper:
    """The sheet as it stands now.

    Raises
    ------
    UnreadableUnitError
        If what is stored of the unit no longer reads.
    """
    trailer = trailer_read(stand.trailer)
    entered = latest(it)
    signed = it.state == CheckState.RELEASE
    told = {
        line.key: (entry_words(line, entered[line.key].value, metric=metric), _by(entered[line.key]))
        for line in stand.lines
        if line.key in entered
    }
    on = clock.today()
    day = date.fromisoformat(it.result["day"]) if signed else on
    says = it.result["says"] if signed else f"{NOT_SIGNED} {stand.says(metric=metric)}"
    return hand_over_paper(
        HandOverFacts(
            trailer=trailer,
            haul=stand.haul,
            filed=stand.filed,
            lines=stand.lines,
            found=stand.found,
            says=says,
            verdict=stand.mark,
            facts=_head(it, stand, day if signed else None),
            entered=told,
            judged={line.key: judge(line, stand.entries.get(line.key), on=on) for line in stand.lines},
            regardless=_regardless(it.result.get("regardless") or {}),
            days=follow_ups(trailer=trailer, delivered=day, excise=_excise(stand.quote)),
            signatures=[
                Signed(s["name"], s["role"], moment_words(datetime.fromisoformat(s["at"])), s["strokes"])
                for s in it.signatures
            ],
            unit=str(it.unit),
            title=title_printed(it.unit),
            yard=stamp.yard,
            date=stamp.date,
            link=stamp.link,
        ),
        metric=metric,
    )


def blank_paper(unit: Unit, quote: Quote | None, *, stamp: Stamp, metric: bool = False) -> Paper:
    """An empty sheet of a unit and the truck of its quote, to be filled by hand.

    Raises
    ------
    UnreadableUnitError
        If what is stored of the unit no longer reads.
    """
    trailer = trailer_read(readable(unit))
    try:
        haul = thing_of(quote.haul) if quote is not None and quote.haul is not None else None
    except Faults:
        haul = None
    lines: tuple[Line, ...] = hand_over_list(trailer, haul=haul, own=own_checks())
    facts = [
        ("Stock number", unit.stock_number),
        ("VIN", unit.vin or ""),
        ("Buyer", quote.buyer if quote else ""),
        ("Truck", haul.truck.title or haul.truck.id if haul else ""),
        ("Inspection", inspected_words(inspected(unit)[0])),
        ("Day", ""),
    ]
    return hand_over_paper(
        HandOverFacts(
            trailer=trailer, lines=lines, facts=facts, unit=str(unit), title=title_printed(unit), yard=stamp.yard,
            date=stamp.date, link=stamp.link,
        ),
        metric=metric,
    )  # fmt: skip


def _head(it: Checklist, stand: Stand, day: date | None) -> list[tuple[str, str]]:
    about: Mapping = it.about
    unit = about.get("unit", {})
    return [
        ("Stock number", unit.get("stock_number", str(it.unit))),
        ("VIN", unit.get("vin") or "not known"),
        ("Buyer", about.get("buyer", "")),
        ("Quote", about.get("quote", "")),
        ("Truck", about.get("truck") or "not described"),
        ("Inspection", inspected_words(stand.inspected)),
        ("Handed over", said_date(day) if day else "not yet"),
    ]


def _regardless(told: Mapping[str, str]) -> list[str]:
    if not told:
        return []
    return [
        f"{told['why'].rstrip('.')}.",
        f"Decided by {told['by']}, {moment_words(datetime.fromisoformat(told['at']))}.",
    ]


def _excise(quote: Quote | None) -> str:
    """Standing of the federal excise tax, as the buyer's sheet had it."""
    version = quote.versions.first() if quote is not None else None
    return version.content["rests_on"]["price"]["excise"]["standing"] if version else "not known"


def _by(entry: CheckEntry) -> str:
    return f"{entry.by.name}, {moment_words(entry.seen_at or entry.at)}"
