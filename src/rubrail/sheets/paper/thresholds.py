"""What a rig brings with it: license, carrier number, registration, brakes, permits, tax; rules, and whom to ask."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rubrail.checks.registry import CHECKS
from rubrail.checks.rows import TOLD_KINDS
from rubrail.rules.sources import source
from rubrail.sheets.paper.blocks import Paper, Table, Words
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_words import SAFETY, begin, limit_name

if TYPE_CHECKING:
    from rubrail.answers.report import Line, Weighing

ASK = {
    "license": "the state's licensing agency",
    "carrier": "the federal motor carrier agency, and the state's",
    "registration": "the state's registration office",
    "brakes": "the state's vehicle code",
    "road": "the state's permit office",
    "tax": "a tax adviser",
}
"""Whom to ask, by what a check is about."""
_ABOUT = (
    ("license", "license"),
    ("carrier", "carrier"),
    ("number", "carrier"),
    ("registered", "registration"),
    ("brake", "brakes"),
    ("breakaway", "brakes"),
    ("excise", "tax"),
    ("tax", "tax"),
)


def threshold_sheet(
    *, weighing: Weighing, haul_title: str, yard: str = "", date: str = "", metric: bool = False
) -> Paper:
    """Every duty and threshold of a rig with its numbers, the rule and whom to ask."""
    told = [x for x in weighing.lines if x.kind in TOLD_KINDS or x.group in ("papers", "road")]
    told.sort(key=lambda x: (x.kind not in TOLD_KINDS, x.group, x.title))
    rows = tuple(_row(x, metric=metric) for x in told)
    return Paper(
        sort=f"Threshold sheet, {weighing.trailer}",
        title=haul_title,
        lead=f"What {weighing.trailer_title} behind {weighing.truck} brings with it. States differ: ask first.",
        blocks=(
            Table(
                ("What", "Stands", "Is", "Line", "Rule", "Ask"), rows, align="llrrll",
                widths=(1.25, 0, 0, 0, 1.5, 1.0),
            ),
            Words(
                (
                    "Advice on licenses, registration, permits and tax is the agency's or the adviser's to give.",
                    "Lines bite at a pound: a rating on a label counts as much as a weight on a scale.",
                ),
                quiet=True,
            ),
        ),
        yard=yard,
        date=date,
        foot=SAFETY,
    )  # fmt: skip


def _row(line: Line, *, metric: bool) -> tuple[str, ...]:
    check = CHECKS[line.check]
    sources = [source(key) for key in check.sources]
    rule = "; ".join(f"{s.title}{', ' + s.section if s.section else ''}" for s in sources[:2])
    numbers = ("", "") if not line.unit else (_number(line.demand, line, metric), _number(line.limit, line, metric))
    return (begin(limit_name(line.title, line.member)), line.verdict, *numbers, rule, ask_whom(line))


def _number(value: float, line: Line, metric: bool) -> str:
    return "" if math.isinf(value) else amount(value, line.unit, metric=metric)


def ask_whom(line: Line) -> str:
    """Who can say for certain."""
    about = next((about for word, about in _ABOUT if word in line.check), line.group)
    return ASK.get(about, ASK["road"])
