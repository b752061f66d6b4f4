"""Parts of an answer that several commands show: limits, loads, cargo, what to change, what to measure."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from rubrail.checks.rows import TOLD_KINDS
from rubrail.cli.screen import Screen
from rubrail.sheets.sentences_amounts import amount, feet, percent
from rubrail.sheets.sentences_lines import need_phrase, remedy_sentence, settle_sentence, yes_or_no
from rubrail.sheets.sentences_words import KIND_HEADS, SAFETY, begin, limit_name, together

if TYPE_CHECKING:
    from rubrail.answers.report import Line, Load, Need, Piece, Remedy, Weighing

EASY = ("clear", "not reached")
NEAR = 4
"""Limits that hold and are shown without ``--all``, in each kind."""


def limits(screen: Screen, weighing: Weighing, *, all_of_them: bool) -> None:
    """Every limit by kind, the one that governs first; those that hold easily only on demand."""
    for kind, head in KIND_HEADS.items():
        lines = [line for line in weighing.lines if line.kind == kind]
        if not lines:
            continue
        if weighing.governing in lines:
            lines.remove(weighing.governing)
            lines.insert(0, weighing.governing)
        alike = _alike(lines)
        shown = alike if all_of_them else _worth_showing(alike)
        screen.heading(head)
        _table(screen, [_row(screen, some, governs=some[0] is weighing.governing) for some in shown])
        left = sum(map(len, alike)) - sum(map(len, shown))
        if left:
            word = "are not reached" if kind in TOLD_KINDS else "hold"
            screen.text(f"{left} more {word}, with more to spare (--all shows them).", style="dim")


def limit_rows(screen: Screen, head: str, lines: Sequence[Line]) -> None:
    """Some limits under a heading of their own."""
    screen.heading(head)
    _table(screen, [_row(screen, [line], governs=False) for line in lines])


def _table(screen: Screen, rows: list[tuple]) -> None:
    screen.table(
        ("", "left", 11), ("", "wrap"), ("is", "right", 9), ("may be", "right", 9), ("to spare", "right", 9),
        ("", "right", 5),
        rows=rows,
    )  # fmt: skip


def _alike(lines: list[Line]) -> list[list[Line]]:
    """Members of one check that come out the same, told as one; in the order of the first of each."""
    found: dict[tuple, list[Line]] = {}
    for line in lines:
        numbers = (round(v, 2) if math.isfinite(v) else str(v) for v in (line.demand, line.limit))
        found.setdefault((line.check, line.verdict, *numbers), []).append(line)
    return list(found.values())


def _worth_showing(alike: list[list[Line]]) -> list[list[Line]]:
    easy = [some for some in alike if some[0].verdict in EASY]
    kept = set(map(id, easy[:NEAR]))
    return [some for some in alike if some[0].verdict not in EASY or id(some) in kept or some is alike[0]]


def _row(screen: Screen, some: list[Line], *, governs: bool) -> tuple:
    from rich.text import Text

    line = some[0]
    if line.kind in TOLD_KINDS:
        mark = Text(line.verdict, style="bold" if line.verdict in ("applies", "may apply") else "")
    else:
        mark = screen.mark(line.verdict)
    name = Text(
        screen.letters(limit_name(line.title, together([x.member for x in some]))), style="bold" if governs else ""
    )
    if governs:
        name.append("  governs", style="italic")
    if yes_or_no(line):
        there = {"clear": "holds", "over": "does not hold"}.get(line.verdict, "")
        return mark, name, "", "", there, ""
    demand, limit, margin = (
        amount(v, line.unit, metric=screen.metric) for v in (line.demand, line.limit, line.margin)
    )
    if line.verdict == "not known":
        margin = ""
    return mark, name, demand, limit, margin, percent(line.share)


def loads(screen: Screen, found: Sequence[Load]) -> None:
    """What the scale should show, with how far the doubt in the numbers reaches."""
    if not found:
        return
    screen.heading("What a scale should show")
    screen.table(
        ("", "wrap"), ("load", "right", 9), ("at least", "right", 9), ("at most", "right", 9),
        rows=[
            (
                limit_name(begin(load.title), load.member),
                amount(load.value, load.unit, metric=screen.metric),
                *(amount(v, load.unit, metric=screen.metric) for v in (load.least, load.most)),
            )
            for load in found
        ],
    )  # fmt: skip


def cargo(screen: Screen, pieces: Sequence[Piece]) -> None:
    """Where each piece stands, from the front of the deck."""
    if not pieces:
        return
    screen.heading("Where it stands, behind the front of the deck")
    screen.table(
        ("piece", "wrap"), ("weight", "right"), ("starts at", "right"), ("balances at", "right"),
        ("forward end", "left"),
        rows=[
            (
                f"{p.title} (piece {n})" if len(pieces) > 1 else p.title,
                amount(p.weight_lb, "lb", metric=screen.metric),
                feet(p.front_from_deck_in, metric=screen.metric),
                feet(p.cg_from_deck_in, metric=screen.metric),
                "its front" if p.facing == "front-first" else "its rear",
            )
            for n, p in sorted(enumerate(pieces, 1), key=lambda np: np[1].front_x_in)
        ],
    )  # fmt: skip


def remedies(screen: Screen, found: Sequence[Remedy]) -> None:
    """What to change, each tried by weighing again."""
    if not found:
        return
    screen.heading("What to change: each one alone, tried by weighing again")
    rows = [(f"{n}.", remedy_sentence(r, metric=screen.metric)) for n, r in enumerate(found, 1)]
    screen.table(("", "right"), ("", "wrap"), rows=rows, no_header=True)


def settle(screen: Screen, needs: Sequence[Need]) -> None:
    """The measurement that would end a doubt."""
    if needs:
        screen.heading("What would settle it")
        screen.text(settle_sentence(needs, metric=screen.metric))


def unknown(screen: Screen, needs: Sequence[Need]) -> None:
    """What is missing, with where it is written down."""
    if not needs:
        return
    screen.heading("Not known; ask or measure")
    screen.table(
        ("what", "wrap"), ("write it under", "wrap"),
        rows=[(begin(phrase), where) for phrase, where in Counter((need_phrase(n), n.where) for n in needs)],
    )  # fmt: skip


def safety(screen: Screen) -> None:
    """The caution that belongs where a decision is made."""
    screen.text()
    screen.text(SAFETY, style="dim")
