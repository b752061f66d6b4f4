"""Receiving report: what came, against what was ordered, and what is done about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rubrail.answers.receive_report import DIFFERS, NOT_KNOWN
from rubrail.sheets.paper.blocks import Abreast, Block, Drawing, Facts, Paper, Signatures, Steps, Table, Verdict, Words
from rubrail.sheets.sentences_receive import (
    DECIDES,
    MARK_OF,
    SAME_DAY,
    VERDICT_OF,
    alike_lines,
    costliest_sentence,
    counted,
    effect_words,
    field_amount,
    label_words,
    lamp_line,
    line_numbers,
    marking_sentence,
    payload_words,
    reason_sentence,
    receiving_sentence,
    to_read,
)
from rubrail.sheets.sentences_vin import CANNOT_TELL, difference_lines, not_caught_line, reading_lines, vin_sentence
from rubrail.sheets.sentences_words import SAFETY, begin

if TYPE_CHECKING:
    from rubrail.answers.receive_report import Receiving


FOUND = "What was found"


@dataclass(frozen=True, slots=True)
class Damage:
    """One damage: its number on the drawing, where it is, and what it is."""

    number: int
    place: str
    says: str


@dataclass(frozen=True, slots=True)
class DealEffect:
    """What receiving does to one quote or haul: which, the sentence, and its verdict now."""

    deal: str
    says: str
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Signed:
    """One signature: whose, as what, when, and the drawn one as SVG, ``""`` where the name was typed."""

    name: str
    role: str
    when: str
    svg: str = ""


@dataclass(frozen=True, slots=True)
class ReceivingFacts:
    """What the report is made from.

    decided, why : the outcome a person chose and their words for it, ``""`` before that; views : drawings with the
    damages marked on them, each with what it is; damage_seen : whether somebody looked for damage, ``None`` where
    nobody said; missing : parts that did not come; asked : what the deals were asked about, a
    sentence; signed : who signed, with lines to sign on where nobody has.
    """

    receiving: Receiving
    carrier: str = ""
    bill: str = ""
    day: str = ""
    by: str = ""
    decided: str = ""
    why: str = ""
    damages: tuple[Damage, ...] = ()
    damage_seen: bool | None = None
    views: tuple[tuple[str, str], ...] = ()
    missing: tuple[str, ...] = ()
    tires_made: str = ""
    effects: tuple[DealEffect, ...] = ()
    asked: str = ""
    signed: tuple[Signed, ...] = ()
    yard: str = ""
    date: str = ""
    link: str = ""


def receiving_paper(facts: ReceivingFacts, *, metric: bool = False) -> Paper:
    """The report: outcome, VIN, damage, differences, ratings, effects on deals, signatures.

    Parameters
    ----------
    facts : ReceivingFacts
    metric : bool
        Kilograms, millimeters and kilopascals.
    """
    r = facts.receiving
    outcome = facts.decided or r.proposed
    lead = receiving_sentence(r, metric=metric)
    if facts.decided and facts.decided != r.proposed:
        lead = f"{begin(facts.decided)}, decided by {facts.by or 'the yard'}. Found: {lead}"
    blocks: list[Block] = [_head(facts), *_reasons(facts, metric=metric), *_damage(facts)]
    blocks += _effects(facts)
    blocks += _vin(r)
    blocks += [_label(r, metric=metric), *_fields(r, metric=metric), _payload(r, metric=metric)]
    blocks += [_ratings(r, metric=metric), _lamps(r, metric=metric), _signatures(facts)]
    return Paper(
        sort=f"Receiving report, {r.unit}",
        title=r.title,
        lead=lead,
        verdict=VERDICT_OF[outcome],
        blocks=tuple(blocks),
        yard=facts.yard,
        date=facts.date,
        link=facts.link,
        link_says="this receiving",
        foot=SAFETY,
    )


def _head(facts: ReceivingFacts) -> Facts:
    r = facts.receiving
    label = next((x.vin for x in r.vin.readings if x.place == "label"), "not read")
    return Facts(
        (
            ("Unit", r.unit if not r.ordered_as or r.ordered_as == r.unit else f"{r.unit}, ordered as {r.ordered_as}"),
            ("VIN on the label", label),
            ("Carrier", facts.carrier),
            ("Bill number", facts.bill),
            ("Received on", facts.day),
            ("Received by", facts.by),
            ("Outcome", begin(facts.decided) if facts.decided else f"{begin(r.proposed)} (proposed)"),
            ("Tires made", facts.tires_made),
        )
    )


def _reasons(facts: ReceivingFacts, *, metric: bool) -> list[Block]:
    rows = facts.receiving.reasons
    blocks: list[Block] = []
    if rows:
        blocks.append(
            Table(
                ("", "To write down", "Asks for"),
                tuple((str(n), reason_sentence(x, metric=metric), x.outcome) for n, x in enumerate(rows, 1)),
                align="rll", heading=FOUND, widths=(0, 1, 0),
            )
        )  # fmt: skip
    said = (facts.why, SAME_DAY if rows else "", DECIDES if not facts.decided else "")
    blocks.append(Words(tuple(s for s in said if s), quiet=not facts.why))
    return blocks


def _damage(facts: ReceivingFacts) -> list[Block]:
    blocks: list[Block] = [Drawing(svg, says=says, high_mm=52) for svg, says in facts.views]
    if facts.damages:
        rows = tuple((str(d.number), d.place, d.says) for d in facts.damages)
        blocks.append(Table(("", "Where", "Damage"), rows, align="rll", heading="Damage", widths=(0, 0.4, 1)))
    elif facts.damage_seen:
        blocks.append(Words(("No damage was found.",), heading="Damage"))
    else:
        blocks.append(Facts((("Damage, by place", ""), ("", "")), heading="Damage: nobody has said yet", columns=1))
    if facts.missing:
        blocks.append(Words((f"Did not come: {'; '.join(facts.missing)}.",), heading="Missing parts"))
    return blocks


def _effects(facts: ReceivingFacts) -> list[Block]:
    if not facts.effects:
        return []
    return [
        Table(
            ("Quote or haul", "Weighed again"), tuple((e.deal, e.says) for e in facts.effects), align="ll",
            heading="What it does to open quotes and hauls", marks=tuple(e.verdict for e in facts.effects),
            widths=(0.5, 1),
        ),
        *((Words((facts.asked,), quiet=True),) if facts.asked else ()),
    ]  # fmt: skip


def _vin(r: Receiving) -> list[Block]:
    rows = tuple((begin(x.place), x.vin, "valid" if x.valid else "not valid") for x in r.vin.readings)
    lines = [vin_sentence(r.vin)]
    # What one reading says it says for every reading that is the same.
    lines += [line for x in {x.vin: x for x in r.vin.readings}.values() for line in reading_lines(x)]
    lines += difference_lines(r.vin)
    lines += list(dict.fromkeys(again for x in r.vin.readings if x.valid and (again := not_caught_line(x))))
    table: list[Block] = (
        [Table(("VIN on the", "Reads", ""), rows, align="lll", heading="VIN", widths=(0.25, 0.4, 0.35))]
        if rows
        else []
    )
    return [*table, Words(tuple(dict.fromkeys(lines))), Words((CANNOT_TELL,), quiet=True)]


def _label(r: Receiving, *, metric: bool) -> Table:
    return Table(
        ("", "Label", "Papers", "Order", ""),
        tuple((begin(x.label), *label_words(x, metric=metric), x.verdict) for x in r.label),
        align="lrrrl", heading="Label against papers and order: the label governs",
        marks=tuple(MARK_OF[x.verdict] for x in r.label), widths=(1, 1, 1, 1, 0),
    )  # fmt: skip


def _fields(r: Receiving, *, metric: bool) -> list[Block]:
    if not r.compared:
        return [Words(("There is no order to compare it with.",), heading="Ordered against received")]
    shown = [f for f in r.fields if f.verdict == DIFFERS]
    # What has not been read is named in a line, not row by row: there may be pages of it.
    unread = [f.label for f in r.fields if f.verdict == NOT_KNOWN]
    blocks: list[Block] = []
    if shown:
        rows = tuple(
            (
                begin(f.label),
                field_amount(f, ordered=True, metric=metric),
                field_amount(f, ordered=False, metric=metric),
                effect_words(f, metric=metric),
            )
            for f in shown
        )
        blocks.append(
            Table(
                ("", "Ordered", "Received", "What it does"), rows, align="lrrl", heading="Ordered against received",
                marks=tuple(MARK_OF[f.verdict] for f in shown), widths=(1, 0.7, 0.7, 1),
            )
        )  # fmt: skip
    said = " ".join(s for s in (counted(r.fields), costliest_sentence(r, metric=metric)) if s)
    blocks.append(Words((said,), heading="" if shown else "Ordered against received"))
    if unread:
        blocks.append(Words((f"Ordered and not read on the unit: {', '.join(unread)}.",), quiet=True))
    return blocks


def _payload(r: Receiving, *, metric: bool) -> Table:
    rows = tuple((begin(p.title), *payload_words(p, metric=metric)) for p in r.payload)
    return Table(("", "As ordered", "As received", "Change"), rows, align="lrrr", heading="What it carries",
                 widths=(1.4, 0.6, 0.6, 0.6))  # fmt: skip


def _ratings(r: Receiving, *, metric: bool) -> Table:
    folded = alike_lines(r.consistency)
    lines = [x for x, _ in folded]
    rows = tuple(
        (
            title + (f"; read: {to_read(x)}" if x.missing else ""),
            *line_numbers(x, metric=metric),
            x.verdict,
        )
        for x, title in folded
    )
    return Table(
        ("", "Asked", "There", "To spare", ""), rows, align="lrrrl", heading="Whether its ratings hold together",
        marks=tuple(x.verdict for x in lines), widths=(1, 0, 0, 0, 0),
    )  # fmt: skip


def _lamps(r: Receiving, *, metric: bool) -> Steps:
    rows = tuple(begin(lamp_line(x, metric=metric)) for x in r.lamps)
    marking = marking_sentence(r, metric=metric)
    return Steps(
        (*rows, *([marking] if marking else [])), heading="Lamps, reflectors and marking it must have", ticks=True,
        columns=2,
    )  # fmt: skip


def _signatures(facts: ReceivingFacts) -> Block:
    if not facts.signed:
        return Signatures(("For the yard, day", "For the carrier, day"))
    if all(s.svg for s in facts.signed):
        return Abreast(
            tuple((s.name, s.svg, ", ".join(filter(None, (s.role, s.when))), "") for s in facts.signed),
            heading="Signed",
        )
    rows = tuple((s.role or "Signed", ", ".join(filter(None, (s.name, s.when)))) for s in facts.signed)
    return Facts(rows, heading="Signed")
