"""What a rig brings with it: license, carrier number, registration, brakes, permits, tax; rules, and whom to ask."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from rubrail.checks.registry import CHECKS
from rubrail.checks.rows import TOLD_KINDS
from rubrail.checks.verdict import DUTY_WORDS, WORDS
from rubrail.rules.sources import VERIFIED, source
from rubrail.sheets.paper.blocks import Block, Paper, Table, Words
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_words import SAFETY, begin, limit_name

if TYPE_CHECKING:
    from rubrail.answers.report import Line, Weighing

PARTS = (
    ("License", "the state's licensing agency"),
    ("Carrier and driver", "the federal motor carrier agency, then the state's"),
    ("Registration", "the state's registration office"),
    ("Brakes, lamps and marking", "the trailer's maker, and the state's vehicle inspection"),
    ("Size and weight on the road", "the permit office of every state on the way"),
    ("Federal tax", "a tax adviser"),
)
"""Parts of the sheet in order, and who can say for certain in each."""
_PART_OF = {
    "License": ("license-line", "license-a-by-rating", "license-a-by-weight", "license-b"),
    "Carrier and driver": ("carrier-number", "medical-certificate", "farm-line"),
    "Registration": ("register-for",),
    "Brakes, lamps and marking": (
        "brakes-all-wheels", "breakaway", "surge-brakes", "lamps", "conspicuity", "rear-guard", "label-coupler-share",
    ),
    "Federal tax": ("use-tax", "excise-by-rating", "excise-by-axles"),
}  # fmt: skip
ROAD = "Size and weight on the road"
_SAID = {
    ("lamps", "applies"): "not complete",
    ("lamps", "may apply"): "may not be complete",
    ("lamps", "not reached"): "complete",
}
"""Where a duty's own word would say the opposite of what is meant."""
WIDTHS = (3.2, 0.95, 0.85, 0.85, 2.4)
SHOWN_SOURCES = 2


def threshold_sheet(
    *, weighing: Weighing, haul_title: str, yard: str = "", date: str = "", link: str = "", metric: bool = False
) -> Paper:
    """Every duty and threshold of a rig with its numbers, the rule and whom to ask."""
    told = [x for x in weighing.lines if x.kind in TOLD_KINDS or x.group in ("papers", "road")]
    away = sorted({begin(x.title) for x in told if x.verdict == "does not apply"})
    told = list(_closest(x for x in told if x.verdict != "does not apply"))
    blocks: list[Block] = []
    for part, ask in PARTS:
        lines = [x for x in told if part_of(x) == part]
        if lines:
            blocks.append(
                Table(
                    ("", "Stands", "Is", "Line", "Rule"),
                    tuple(_row(x, metric=metric) for x in lines),
                    align="llrrl",
                    heading=f"{part}: ask {ask}",
                    marks=tuple(x.verdict if x.verdict in WORDS else "" for x in lines),
                    widths=WIDTHS,
                )
            )
    if any(x.member for x in told):
        blocks.append(Words(("Of several axles, groups or pieces, the one with least to spare.",), quiet=True))
    quiet = [f"Does not apply to this rig: {'; '.join(away)}."] if away else []
    quiet += list(_sources(told))
    quiet.append(
        "Advice on licenses, registration, permits and tax is the agency's or the adviser's to give. A rating on a"
        " label counts as much as a weight on a scale."
    )
    return Paper(
        sort=f"Threshold sheet, {weighing.trailer}",
        title=haul_title,
        lead=f"What {weighing.trailer_title} behind {weighing.truck} brings with it. States differ: ask first.",
        blocks=(*blocks, Words(tuple(quiet), quiet=True)),
        yard=yard,
        date=date,
        link=link,
        link_says="this rig",
        foot=SAFETY,
        fit="page",
    )


def _closest(lines: Iterable[Line]) -> Iterator[Line]:
    """Of a check with several members, the one that stands worst and has least to spare."""
    by_check: dict[str, list[Line]] = {}
    for line in lines:
        by_check.setdefault(line.check, []).append(line)
    for some in by_check.values():
        yield min(some, key=_rank)


def _rank(line: Line) -> tuple[int, float]:
    words = WORDS if line.verdict in WORDS else DUTY_WORDS
    return words.index(line.verdict), -math.inf if math.isnan(line.share) else line.share


def part_of(line: Line) -> str:
    """The part of the sheet a line stands in."""
    return next((part for part, checks in _PART_OF.items() if line.check in checks), ROAD)


def ask_whom(line: Line) -> str:
    """Who can say for certain."""
    return dict(PARTS)[part_of(line)]


def rule_short(key: str) -> str:
    """A source as paper has room for it: ``49 CFR 383.91``, ``23 U.S.C. 127``; else its title.

    Parameters
    ----------
    key : str
        Key of a source record.
    """
    if found := re.fullmatch(r"CFR-(\d+)-([\d.]+)", key):
        return f"{found[1]} CFR {found[2]}"
    if found := re.fullmatch(r"USC-(\d+)-(\w+)", key):
        return f"{found[1]} U.S.C. {found[2]}"
    if found := re.fullmatch(r"TREAS-([\d.]+-\d+)", key):
        return f"26 CFR {found[1]}"
    return key


def _row(line: Line, *, metric: bool) -> tuple[str, ...]:
    rule = "; ".join(rule_short(key) for key in CHECKS[line.check].sources[:SHOWN_SOURCES])
    stands = _SAID.get((line.check, line.verdict), line.verdict)
    is_, limit = (_number(v, line, metric) if line.unit else "" for v in (line.demand, line.limit))
    if _nothing(line):
        is_ = "none"
    return (begin(limit_name(line.title, line.member)), stands, is_, limit, rule)


def _nothing(line: Line) -> bool:
    """Whether nothing sticks out behind."""
    return line.check == "rear-overhang" and line.demand <= 0


def _number(value: float, line: Line, metric: bool) -> str:
    return "" if math.isinf(value) else amount(value, line.unit, metric=metric)


def _sources(lines: Sequence[Line]) -> Iterator[str]:
    """The keys that are no section of a code, and how each of them was read."""
    keys = dict.fromkeys(key for x in lines for key in CHECKS[x.check].sources[:SHOWN_SOURCES])
    titles = [f"{key}: {source(key).title}" for key in keys if rule_short(key) == key]
    if titles:
        yield f"Sources by key. {'. '.join(titles)}."
    how = []
    for word, says in VERIFIED.items():
        some = [rule_short(key) for key in keys if source(key).verified == word]
        if some:
            how.append(f"{begin(says)}: {', '.join(some)}.")
    yield " ".join(how)
