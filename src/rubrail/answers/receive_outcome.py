"""What to do with what came: accept, accept with exceptions or refuse, each reason a line that can be written down."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rubrail.answers.receive_fields import Compared, most_lost_lb
from rubrail.answers.receive_report import (
    ACCEPT,
    DIFFERS,
    EXCEPTIONS,
    NOT_KNOWN,
    OUTCOMES,
    REFUSE,
    LabelRow,
    RatingLine,
    ReceivedField,
    ReceiveReason,
    VinFindings,
)
from rubrail.answers.receive_vin import LABEL, PAPERS
from rubrail.quantity.show import show
from rubrail.things.trailer import Trailer

RATED = ("ratings.gvwr_lb", "gawr_lb", "gross_rating_lb", "vertical_rating_lb", "max_load_lb", "max_load_dual_lb")
"""Fields in which less than ordered is a unit that carries less."""
MAKERS_OWN = ("tires-carry-axle-rating", "gvwr-floor")
"""Lines of the law that only the maker can put right on a new unit."""
READ_FIRST = ("tires-carry-axle-rating", "axle-wheels", "coupler-gross", "coupler-vertical", "chain-strength")
"""Lines that nobody may leave open: what the unit carries rests on them."""
RECERTIFY = "Only its maker may certify another rating, and only before the first sale; a sticker does not do it."


def outcome(
    *,
    received: Trailer,
    compared: Compared,
    vin: VinFindings,
    label: Sequence[LabelRow],
    lines: Sequence[RatingLine],
    label_seen: bool | None,
    buyer_waits: bool,
    need_lb: float,
    carries_lb: float,
) -> tuple[str, tuple[ReceiveReason, ...]]:
    """The outcome the findings ask for, and why; the gravest reason decides.

    Parameters
    ----------
    received : Trailer
    compared, vin, label, lines
        What was found.
    label_seen : bool or None
        ``False`` where the unit has no certification label.
    buyer_waits : bool
    need_lb, carries_lb : float
        Heaviest load a buyer waits to put on it, and the payload of what came. [lb]
    """
    found = [
        *_of_vin(vin, received),
        *_of_label(received, label, label_seen),
        *_of_need(need_lb, carries_lb, {p.key: p.received_lb for p in compared.payload}["label"]),
        *_of_lines(lines, received),
        *_of_fields(compared.fields, buyer_waits),
    ]
    found.sort(key=lambda r: OUTCOMES.index(r.outcome))
    return (found[0].outcome if found else ACCEPT), tuple(found)


def _of_vin(vin: VinFindings, received: Trailer) -> Iterator[ReceiveReason]:
    read = {r.place: r for r in vin.readings}
    label, papers = read.get(LABEL), read.get(PAPERS)
    if label is not None and papers is not None and label.vin != papers.vin:
        backed = LABEL if label.valid and not papers.valid else PAPERS if papers.valid and not label.valid else ""
        other = {
            LABEL: PAPERS,
            PAPERS: LABEL,
        }.get(backed)
        again = f"The check digit supports the {backed}: read the {other}" if backed else "Read both"
        yield ReceiveReason(
            REFUSE,
            "vin-papers",
            "vin",
            f"The VIN on the label, {label.vin}, is not the one on the papers, {papers.vin}: it cannot be titled."
            f" {again} once more, letter by letter, before anything else.",
        )
    for place, reading in read.items():
        if not reading.valid and not (label and papers and label.vin != papers.vin and place in (LABEL, PAPERS)):
            yield ReceiveReason(
                EXCEPTIONS,
                "vin-invalid",
                "vin",
                f"The VIN on the {place} cannot be right as read. {reading.faults[0]}",
            )
    for place, reading in read.items():
        if place not in (LABEL, PAPERS) and label is not None and reading.vin != label.vin:
            grave = REFUSE if place == "frame" else EXCEPTIONS
            yield ReceiveReason(
                grave,
                f"vin-{place}",
                "vin",
                f"The VIN on the {place}, {reading.vin}, is not the label's, {label.vin}.",
            )
    if vin.year_agrees is False:
        yield ReceiveReason(
            EXCEPTIONS, "vin-year", "year", f"The VIN's year code does not stand for {received.year}: ask the maker."
        )
    for place, what in ((LABEL, "label"), (PAPERS, "papers")):
        if place not in read:
            yield ReceiveReason(EXCEPTIONS, f"vin-{place}-unread", "vin", f"The VIN on the {what} was not read.")
    if any(r.known_maker is False for r in vin.readings):
        yield ReceiveReason(
            EXCEPTIONS, "vin-maker", "vin", "The VIN's maker code is not one the yard knows for this maker: ask it."
        )


def _of_label(received: Trailer, rows: Sequence[LabelRow], label_seen: bool | None) -> Iterator[ReceiveReason]:
    if label_seen is False:
        new = received.condition != "used"
        yield ReceiveReason(
            REFUSE if new else EXCEPTIONS,
            "no-label",
            "label",
            "It has no certification label; a new trailer may not be sold without one."
            if new
            else "It has no certification label: its ratings are not known until the maker states them.",
        )
    elif received.ratings.gvwr_lb is None or received.ratings.gvwr_lb.basis != "label":
        yield ReceiveReason(EXCEPTIONS, "label-unread", "label", "The GVWR was not read on the certification label.")
    for row in rows:
        papers_say = row.on_papers not in ("not known", row.on_label)
        if row.verdict == DIFFERS and row.path != "vin" and papers_say:
            average = " A weight on paper is an average; the scale governs." if row.path == "weights.empty_lb" else ""
            yield ReceiveReason(
                EXCEPTIONS,
                "papers",
                row.path,
                f"{row.label[:1].upper()}{row.label[1:]}: {row.on_label} on the unit, {row.on_papers} on the papers."
                f"{average}",
            )


def _of_need(need_lb: float, carries_lb: float, by_label_lb: float) -> Iterator[ReceiveReason]:
    if math.isnan(need_lb):
        return
    if math.isnan(carries_lb):
        yield ReceiveReason(
            EXCEPTIONS,
            "need-unknown",
            "payload",
            f"Whether it carries the {show(need_lb, 'lb')} a buyer waits to put on it is not known.",
        )
    elif need_lb > carries_lb:
        yield ReceiveReason(
            REFUSE,
            "need",
            "payload",
            f"A buyer waits to put {show(need_lb, 'lb')} on it, and it carries {show(carries_lb, 'lb')}:"
            f" {show(need_lb - carries_lb, 'lb')} short.{f' {RECERTIFY}' if need_lb > by_label_lb else ''}",
        )


def _of_lines(lines: Sequence[RatingLine], received: Trailer) -> Iterator[ReceiveReason]:
    alike: dict[tuple, list[RatingLine]] = {}
    for line in lines:
        open_ = line.verdict == NOT_KNOWN and line.key in READ_FIRST
        if line.verdict == "over" or open_:
            numbers = () if open_ else (line.demand, line.limit)
            alike.setdefault((line.key, line.verdict, *numbers), []).append(line)
    for some in alike.values():
        line = some[0]
        grave = line.key in MAKERS_OWN and received.condition != "used"
        numbers = " and ".join(x.member.removeprefix("axle ") for x in some)
        members = f"axle{'s' if len(some) > 1 else ''} {numbers}" if line.member else ""
        name = f"{line.title}, {members}" if members else line.title
        if line.verdict == NOT_KNOWN:
            says = f"{name[:1].upper()}{name[1:]}: not known, for it has not been read on the unit."
            yield ReceiveReason(EXCEPTIONS, "rating-unread", line.key, says)
            continue
        asked = (
            f"{show(line.demand, line.unit)} asked and {show(line.limit, line.unit)} there" if line.unit else "not so"
        )
        yield ReceiveReason(
            REFUSE if grave else EXCEPTIONS,
            "rating",
            line.key,
            f"{name[:1].upper()}{name[1:]}: {asked}.{f' {RECERTIFY}' if grave else ''}",
        )


def _of_fields(fields: Sequence[ReceivedField], buyer_waits: bool) -> Iterator[ReceiveReason]:
    for f in fields:
        if f.path == "vin":
            continue  # said already, reading by reading
        if f.verdict == DIFFERS:
            less = f.path.endswith(RATED) and f.received_value < f.ordered_value
            grave = less and buyer_waits and f.touches == "payload"
            lost = most_lost_lb(f)
            pounds = f" It carries {show(-lost, 'lb')} less for it." if lost < 0 else ""
            yield ReceiveReason(
                REFUSE if grave else EXCEPTIONS,
                "field",
                f.path,
                f"{f.label[:1].upper()}{f.label[1:]}: ordered {f.ordered}, received {f.received}.{pounds}",
            )
        elif f.verdict == NOT_KNOWN and f.touches == "payload":
            yield ReceiveReason(
                EXCEPTIONS,
                "unread",
                f.path,
                f"{f.label[:1].upper()}{f.label[1:]}: ordered as {f.ordered}, and not read on the unit.",
            )
