"""The hand-over sheet: this truck with this trailer, weighed again with what was measured, and who signed for it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from rubrail.answers.checklist_parts import Judged
from rubrail.answers.checklist_parts import Line as CheckLine
from rubrail.answers.follow_up import FollowUp
from rubrail.answers.hand_over_report import HandOver, Put
from rubrail.answers.report import Line, Piece
from rubrail.checks.rows import TOLD_KINDS
from rubrail.checks.verdict import WORDS
from rubrail.sheets.drawing import Rig, load_marks, placed_pieces, rig_side
from rubrail.sheets.paper.blocks import Big, Block, Drawing, Facts, Paper, Signatures, Table, Words
from rubrail.sheets.paper.checklist import ChecklistFacts, Signed, checklist_paper
from rubrail.sheets.sentences import by_name
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_follow_up import day_to_keep
from rubrail.sheets.sentences_hand_over import WAY_WORDS, change_sentence, meeting_sentence, put_words
from rubrail.sheets.sentences_words import SAFETY, begin, limit_name
from rubrail.things.haul import Haul
from rubrail.things.rigs import pieces_of
from rubrail.things.trailer import Trailer

WIDE_PX = 700.0
NEAREST = 8
"""Limits that hold, those with the least to spare."""
KNOWN = (
    "The label governs: the loaded trailer never weighs more than its GVWR, whatever it was advertised by.",
    "Weigh the loaded rig before its first long way; only a scale makes these figures more than estimates.",
    "Which license, plates and permits apply, the agency says; what this yard told is no ruling.",
)


@dataclass(frozen=True, slots=True)
class HandOverFacts:
    """What the sheet is made from.

    found : the weighing with what was measured; nothing for a sheet to be filled by hand
    haul, trailer : as measured, for the drawing
    filed : the unit as its file has it: a low tire is nothing to keep
    lines, entered, judged : the list, with what was entered in words and by whom, and how each line stands
    says, verdict : the first sentence, and its shape
    regardless : why it was handed over all the same, and who decided
    days : what is owed after delivery
    """

    trailer: Trailer
    lines: Sequence[CheckLine]
    haul: Haul | None = None
    filed: Trailer | None = None
    found: HandOver | None = None
    says: str = ""
    verdict: str = ""
    facts: Sequence[tuple[str, str]] = ()
    entered: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    judged: Mapping[str, Judged] = field(default_factory=dict)
    regardless: Sequence[str] = ()
    days: Sequence[FollowUp] = ()
    signatures: Sequence[Signed] = ()
    unit: str = ""
    title: str = ""
    yard: str = ""
    date: str = ""
    link: str = ""


def hand_over_paper(facts: HandOverFacts, *, metric: bool = False) -> Paper:
    """The sheet of a hand-over, filled or to be filled by hand.

    Parameters
    ----------
    facts : HandOverFacts
    metric : bool
    """
    blocks: list[Block] = [Facts(tuple(facts.facts))] if facts.facts else []
    if facts.regardless:
        blocks.append(Words(tuple(facts.regardless), heading="Handed over regardless"))
    if facts.found is not None:
        blocks += _weighed(facts, facts.found, metric=metric)
    blocks.append(_run_at(facts.filed or facts.trailer, metric=metric))
    if facts.days:
        kept = sorted(map(day_to_keep, facts.days))
        rows = tuple((said_day(day), words) for day, words in kept)
        blocks.append(Facts(rows, heading="Days to keep", columns=1))
    blocks += _list(facts, metric=metric)
    blocks.append(Words(KNOWN, heading="Told and understood"))
    blocks += _signed(facts)
    return Paper(
        sort=f"Hand-over, {facts.unit or facts.trailer.id}",
        title=facts.title or facts.trailer.title or facts.trailer.id,
        blocks=tuple(blocks),
        lead=facts.says,
        verdict=facts.verdict,
        yard=facts.yard,
        date=facts.date,
        link=facts.link,
        link_says="this hand-over" if facts.found is not None else "this unit",
        foot=SAFETY,
    )


def said_day(day: date) -> str:
    """A day as paper has it: ``Nov 25, 2026``."""
    return f"{day:%b} {day.day}, {day.year}"


def _weighed(facts: HandOverFacts, found: HandOver, *, metric: bool) -> list[Block]:
    blocks: list[Block] = []
    w = found.weighing
    if w is not None and facts.haul is not None:
        rig = Rig(
            trailer=facts.trailer,
            truck=facts.haul.truck,
            cargo=placed_pieces(w, pieces_of(facts.haul)),
            loads=load_marks(w),
            metric=metric,
        )
        blocks.append(Drawing(rig_side(rig, width_px=WIDE_PX), says="the rig from its side, to scale"))
    change = change_sentence(found, metric=metric)
    if change:
        blocks.append(Words((change,), heading="What would change it"))
    limits = limit_rows(found, metric=metric)
    if limits:
        blocks.append(
            Table(
                ("Limit", "Is", "May be", "To spare", "Promised"), tuple(row[1:] for row in limits), align="lrrrr",
                heading=f"Limits, weighed again: {WAY_WORDS[found.way]}", marks=tuple(row[0] for row in limits),
                widths=(2.6, 1, 1, 1, 1.3),
            )
        )  # fmt: skip
    if found.put:
        rows = tuple((begin(p.says), *put_words(p, metric=metric), _how(p)) for p in found.put)
        blocks.append(
            Table(
                ("Read and measured", "Now", "On file", "How"), rows, align="lrrl", heading="Put on the rig",
                widths=(2.6, 1, 1, 1),
            )
        )  # fmt: skip
    if found.touches:
        blocks.append(Words(tuple(map(meeting_sentence, found.touches)), heading="Clearances as it folds"))
    return blocks


def _how(put: Put) -> str:
    return "tried" if not put.unit else {"label": "read", "measured": "measured"}.get(put.basis, put.basis)


def limit_rows(found: HandOver, *, metric: bool = False) -> list[tuple[str, str, str, str, str, str]]:
    """The limits of a hand-over as rows: verdict, name, demand, limit, margin, and what was promised.

    Every one that does not hold or stands otherwise than promised, then those with the least to spare.
    """
    w = found.weighing
    if w is None:
        return []
    promised = {(x.check, x.member): x for x in found.promised.lines} if found.promised else {}
    other = {(c.now.check, c.now.member) for c in found.changed}
    judged = [x for x in (*found.lines, *w.lines) if x.kind not in TOLD_KINDS and x.verdict in WORDS[:4]]
    judged.sort(key=lambda x: (WORDS.index(x.verdict), -math.inf if math.isnan(x.share) else x.share))
    first = [x for x in judged if x.verdict != "clear" or (x.check, x.member) in other]
    rest = [x for x in judged if x not in first and math.isfinite(x.share)]
    # Weights first: a deck built to the full legal width leaves nothing, and says nothing.
    rest.sort(key=lambda x: (x.unit != "lb", x.share))
    return [
        (
            x.verdict,
            _name(x, w.pieces),
            *_numbers(x, metric),
            _promised(promised.get((x.check, x.member)), bool(promised), metric),
        )
        for x in (*first, *rest[: max(NEAREST - len(first), 3)])
    ]


def _name(line: Line, pieces: tuple[Piece, ...]) -> str:
    named = by_name(line, pieces)
    return begin(limit_name(named.title, named.member))


def _numbers(line: Line, metric: bool) -> tuple[str, str, str]:
    if line.unit == "" and line.limit in (0.0, 1.0):
        return "", "", {"clear": "holds", "over": "does not hold"}.get(line.verdict, line.verdict)
    margin = "" if line.verdict == "not known" else amount(line.margin, line.unit, metric=metric)
    return amount(line.demand, line.unit, metric=metric), amount(line.limit, line.unit, metric=metric), margin


def _promised(line: Line | None, any_was: bool, metric: bool) -> str:
    if line is None:
        return "not asked" if any_was else ""
    number = _numbers(line, metric)[2]
    if not number or number == line.verdict:
        return line.verdict
    return number if line.verdict == "clear" else f"{line.verdict}, {number}"


def _run_at(trailer: Trailer, *, metric: bool) -> Big:
    """What the buyer keeps the trailer at: pressures by the label, torque of the wheel nuts."""
    rows = []
    psi = [a.tires.pressure_psi or a.tires.max_pressure_psi for a in trailer.axle]
    torque = [a.wheel_torque_ft_lb for a in trailer.axle]
    for what, values, unit in (("Tires, cold", psi, "psi"), ("Wheel nuts", torque, "ft lb")):
        said = ["not known" if v is None else amount(float(v), unit, metric=metric) for v in values]
        if len(set(said)) == 1:
            rows.append((what, said[0]))
        else:
            rows += [(f"{what}, axle {n}", text) for n, text in enumerate(said, 1)]
    return Big(tuple(rows), heading="Keep it at", columns=3, size_pt=16.0)


def _list(facts: HandOverFacts, *, metric: bool) -> list[Block]:
    """The list itself, as every checklist prints it."""
    filled = facts.found is not None
    paper = checklist_paper(
        ChecklistFacts(
            lines=facts.lines, unit=facts.unit, title=facts.title, sort="handover", found=facts.entered,
            judged=facts.judged, outcome="hold" if filled else "",
        ),
        metric=metric,
    )  # fmt: skip
    return [b for b in paper.blocks if isinstance(b, Table)]


def _signed(facts: HandOverFacts) -> list[Block]:
    if not facts.signatures:
        return [Signatures(("Buyer, day", "For the yard, day"))]
    paper = checklist_paper(
        ChecklistFacts(lines=(), unit="", title="", sort="handover", outcome="release", signatures=facts.signatures)
    )
    return [b for b in paper.blocks if isinstance(b, Drawing)]
