"""The receiving report of a receipt, and what it rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from datetime import datetime
from typing import Any, cast

from django.conf import settings
from django.utils import timezone

from rubrail.desk import clock
from rubrail.desk.derived import mark
from rubrail.desk.models import Receipt
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.receiving.answer import answer_of
from rubrail.desk.receiving.damage import drawings, said_place
from rubrail.desk.receiving.deals import Deal, in_metric, need_lb
from rubrail.desk.receiving.found import taken_trailer
from rubrail.desk.receiving.parts import missing_words, read_codes, said_codes
from rubrail.desk.sales.freeze import plain
from rubrail.desk.signatures import drawn
from rubrail.desk.standing import said_day
from rubrail.sheets.paper.blocks import Block, Paper, Table, Verdict, Words
from rubrail.sheets.paper.receive import FOUND, Damage, DealEffect, ReceivingFacts, Signed, receiving_paper
from rubrail.sheets.sentences_deals import asked_sentence
from rubrail.sheets.sentences_words import begin

DECIDED = {
    ReceiptStatus.ACCEPTED: "accept",
    ReceiptStatus.EXCEPTED: "accept with exceptions",
    ReceiptStatus.REFUSED: "refuse",
}
NO_SIGNATURE = "would not sign, or had left"


def report_of(
    receipt: Receipt, *, deals: Sequence[Deal], link: str, metric: bool = False
) -> tuple[Paper, dict[str, Any]]:
    """The report as it stands, and everything it rests on.

    Parameters
    ----------
    receipt : Receipt
    deals : sequence of Deal
        Told without the buyers' names: the report goes to maker and carrier with a claim.
    link : str
        Where the yard finds the receipt again, printed as a code.
    metric : bool
        Kilograms and meters.

    Raises
    ------
    Faults
        If what is stored no longer reads.
    """
    answered = answer_of(receipt, need_lb=need_lb(deals))
    # What nobody has looked at is counted on the sheet; line by line it is no exception.
    grave = any(r.outcome == answered.answer.proposed for r in answered.exceptions)
    receiving = replace(answered.answer, reasons=answered.exceptions) if grave else answered.answer
    marks = list(receipt.damages.all())
    views = drawings(taken_trailer(receipt), marks, metric=metric) if marks else {}
    found = receipt.found
    codes, _ = read_codes(" ".join(found.get("tires", ())), today=clock.today())
    facts = ReceivingFacts(
        receiving=receiving,
        carrier=receipt.carrier,
        bill=receipt.bill,
        day=said_day(receipt.day),
        by=_by(receipt),
        decided=DECIDED.get(ReceiptStatus(receipt.status), ""),
        why=receipt.why,
        damages=tuple(Damage(n, said_place(m, metric=metric), m.words) for n, m in enumerate(marks, 1)),
        damage_seen=True if marks or found.get("no_damage") else None,
        views=_views(views),
        missing=tuple(missing_words(found)),
        tires_made=said_codes(codes),
        effects=tuple(_effect(d, metric=metric) for d in deals),
        asked=asked_sentence(deals[0].asked) if deals else "",
        signed=tuple(_signed(s, role) for role, s in receipt.signed.items()),
        yard=settings.RUBRAIL_YARD_NAME,
        date=said_day(receipt.day),
        link=link,
    )
    paper = receiving_paper(facts, metric=metric)
    if receipt.exceptions:
        paper = replace(paper, blocks=_with_exceptions(paper.blocks, receipt.exceptions))
    rests_on = {
        "answer": plain(asdict(answered.answer)),
        "found": found,
        "ordered": receipt.ordered,
        "unit": {"stock_number": receipt.unit.stock_number, "spec": receipt.unit.spec},
        "engine": mark(),
    }
    return paper, rests_on


def _by(receipt: Receipt) -> str:
    by = receipt.closed_by or receipt.created_by
    return by.name if by else ""


def _views(views: Mapping[str, Mapping[str, str]]) -> tuple[tuple[str, str], ...]:
    words = {"side": "From the left side, damages numbered", "plan": "From above, damages numbered"}
    return tuple((str(views[view]["paper"]), words[view]) for view in views)


def _effect(deal: Deal, *, metric: bool) -> DealEffect:
    it = in_metric(deal) if metric else deal
    verdict, words = it.state
    name = it.haul_title or (f"Quote {it.quote}" if it.quote else f"Order {it.order}" if it.order else "A haul")
    if it.result == "unweighed":
        return DealEffect(name, "No haul is told for it; not weighed.", "not known")
    more = "" if it.result == "holds" else it.reason or it.after.sentence
    return DealEffect(name, f"{begin(words)}. {more}".rstrip(), cast(Verdict, verdict))


def _signed(stored: Mapping[str, Any], role: str) -> Signed:
    when = clock.local(datetime.fromisoformat(stored["at"])) if stored.get("at") else timezone.now()
    if stored.get("refused"):
        return Signed(NO_SIGNATURE, "Driver", said_day(when.date()))
    word = str(stored.get("role") or role)
    return Signed(str(stored["name"]), word, said_day(when.date()), str(drawn(stored)))


def said_signed(receipt: Receipt) -> str:
    """Who signed, in one phrase."""
    parts = []
    for role, stored in receipt.signed.items():
        it = _signed(stored, role)
        parts.append(f"the driver {NO_SIGNATURE}" if stored.get("refused") else f"{it.name} ({it.role.lower()})")
    return ", ".join(parts) or "by nobody"


def _with_exceptions(blocks: Sequence[Block], lines: Sequence[str]) -> tuple[Block, ...]:
    """The exceptions as they were written on the bill, straight after the head; what stands there is not printed once
    more among what was found.
    """
    words = Words(tuple(f"{n}. {line}" for n, line in enumerate(lines, 1)), heading="Exceptions on the bill of lading")
    rest = (_without(b, set(lines)) if isinstance(b, Table) and b.heading == FOUND else b for b in blocks[1:])
    return (blocks[0], words, *(b for b in rest if b is not None))


def _without(table: Table, lines: set[str]) -> Table | None:
    rows = [row for row in table.rows if row[1] not in lines]
    numbered = tuple((str(n), *row[1:]) for n, row in enumerate(rows, 1))
    return replace(table, rows=numbered) if numbered else None
