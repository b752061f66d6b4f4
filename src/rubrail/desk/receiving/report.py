"""The receiving report of a receipt, and what it rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from datetime import datetime
from typing import Any

from django.conf import settings
from django.utils import timezone

from rubrail.desk import clock
from rubrail.desk.derived import mark
from rubrail.desk.models import Receipt
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.receiving.answer import answer_of
from rubrail.desk.receiving.damage import drawings, said_place
from rubrail.desk.receiving.deals import Deal, need_lb
from rubrail.desk.receiving.found import taken_trailer
from rubrail.desk.receiving.parts import missing_words, read_codes, said_codes
from rubrail.desk.sales.freeze import plain
from rubrail.desk.signatures import drawn
from rubrail.desk.standing import said_day
from rubrail.sheets.paper.blocks import Block, Paper, Table, Verdict, Words
from rubrail.sheets.paper.receive import FOUND, Damage, DealEffect, ReceivingFacts, Signed, receiving_paper

DECIDED = {
    ReceiptStatus.ACCEPTED: "accept",
    ReceiptStatus.EXCEPTED: "accept with exceptions",
    ReceiptStatus.REFUSED: "refuse",
}
NO_SIGNATURE = "would not sign, or had left"


def report_of(receipt: Receipt, *, deals: Sequence[Deal], link: str) -> tuple[Paper, dict[str, Any]]:
    """The report as it stands, and everything it rests on.

    Parameters
    ----------
    receipt : Receipt
    deals : sequence of Deal
        Told without the buyers' names: the report goes to maker and carrier with a claim.
    link : str
        Where the yard finds the receipt again, printed as a code.

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
    views = drawings(taken_trailer(receipt), marks) if marks else {}
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
        damages=tuple(Damage(n, said_place(m), m.words) for n, m in enumerate(marks, 1)),
        damage_seen=True if marks or found.get("no_damage") else None,
        views=_views(views),
        missing=tuple(missing_words(found)),
        tires_made=said_codes(codes),
        effects=tuple(_effect(d) for d in deals),
        signed=tuple(_signed(s, role) for role, s in receipt.signed.items()),
        yard=settings.RUBRAIL_YARD_NAME,
        date=said_day(receipt.day),
        link=link,
    )
    paper = receiving_paper(facts)
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


def _effect(deal: Deal) -> DealEffect:
    verdict: Verdict = deal.after.verdict if deal.after.verdict else "not known"  # type: ignore[assignment]
    name = deal.haul_title or f"Quote {deal.quote}" if deal.quote or deal.haul_title else f"Order {deal.order}"
    if deal.result == "unweighed":
        return DealEffect(name, "No haul is told for it; not weighed.", "not known")
    words = {
        "broken": "Held as ordered, and no longer holds. ",
        "doubtful": "In doubt now. ",
        "over": "Over already. ",
    }
    why = f"What fails: {deal.why}." if deal.why else deal.after.sentence
    return DealEffect(
        name, f"{words.get(deal.result, 'Holds as before. ')}{why if deal.result != 'holds' else ''}", verdict
    )


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
