"""The limits of a rig as its page lists them: every row that applies or may come to, by where on the rig it acts."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from django.utils.safestring import SafeString

from rubrail.answers.affine import Affine, Steady
from rubrail.answers.lines import member_name
from rubrail.answers.report import Line
from rubrail.checks.rows import TOLD_KINDS, VERDICT_KINDS
from rubrail.checks.verdict import CLEAR, DEPENDS, DUTY_WORDS, NOT_APPLICABLE, NOT_KNOWN, WORDS
from rubrail.desk.rig_reckon import Reckoned
from rubrail.desk.templatetags.numbers import apart
from rubrail.sheets.sentences import by_name, weighing_sentence
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_lines import ask_for, settle_sentence, spare, yes_or_no
from rubrail.sheets.sentences_words import KIND_WORDS, begin, limit_name

GROUPS = {
    "coupling": "Coupling and hitch",
    "trailer": "Trailer",
    "tires": "Tires and wheels",
    "truck": "Truck",
    "deck": "On the deck",
    "road": "On the road",
    "papers": "Papers, duties and taxes",
}
MARKS = {"clear": "clear", "depends": "depends", "over": "over", "not known": "unknown"}


@dataclass(frozen=True, slots=True)
class PageRow:
    """One limit. index : its row in the coefficients; hidden : it does not apply just now, but may;
    plain : there are no amounts to compare, so no bar;
    member : which axle or piece, counted from 0."""

    index: int
    line: Line
    name: str
    kind: str
    mark: str
    demand: SafeString
    limit: SafeString
    left: str
    note: str
    low: float
    high: float
    hidden: bool
    plain: bool
    member: int | str

    @property
    def key(self) -> str:
        """Its name within a page."""
        return f"line-{self.index}"


@dataclass(frozen=True, slots=True)
class PageGroup:
    """Rows that act at one place, the ones that matter most first."""

    name: str
    title: str
    rows: tuple[PageRow, ...]

    @property
    def shown(self) -> int:
        """How many apply."""
        return sum(not r.hidden for r in self.rows)

    @property
    def word(self) -> str:
        """What these rows alone make of the rig, by the rule of the whole; ``""`` where none enters a verdict."""
        shown = [(r.line.kind, WORDS.index(r.line.verdict)) for r in self.rows if not r.hidden and r.mark]
        must = [code for kind, code in shown if kind in VERDICT_KINDS]
        advised = [DEPENDS for kind, code in shown if kind == "guidance" and code <= NOT_KNOWN]
        entering = [*must, *advised] or [CLEAR for kind, _ in shown if kind == "guidance"]
        return WORDS[min(entering)] if entering else ""


def lines_by_row(it: Reckoned) -> list[Line]:
    """A line for every row of the judgement, in its order; bare ones for rows that do not apply."""
    found = {(line.check, line.member): line for line in it.weighing.lines}
    out = []
    for n, row in enumerate(it.judgement.rows.rows):
        member = member_name(row.check.per, row.member)
        code = int(it.judgement.codes[n, 0, 0])
        words = DUTY_WORDS if row.check.kind in TOLD_KINDS else WORDS
        bare = Line(
            row.check.id, row.check.title, row.check.kind, row.check.group, member, words[code],
            math.nan, math.inf, math.inf, math.inf, math.inf, row.check.unit, row.check.says, row.check.settle,
        )  # fmt: skip
        out.append(found.get((row.check.id, member), bare))
    return out


def name_of(line: Line, it: Reckoned) -> str:
    """A limit by name, its piece by its own."""
    told = by_name(line, it.weighing.pieces)
    return limit_name(told.title, told.member)


def page_groups(it: Reckoned, table: Affine | None, *, metric: bool) -> list[PageGroup]:
    """Every row for the page, grouped.

    Parameters
    ----------
    table : Affine or None
        The coefficients; rows that do not apply are left out unless these say that moving a piece can change it.
    """
    rows: dict[str, list[PageRow]] = {}
    for n, line in enumerate(lines_by_row(it)):
        applies = int(it.judgement.codes[n, 0, 0]) != NOT_APPLICABLE
        moves = table is not None and not isinstance(table.rows[n], Steady)
        if applies or moves:
            rows.setdefault(group_of(line), []).append(page_row(n, line, it, hidden=not applies, metric=metric))
    return [PageGroup(g, GROUPS[g], tuple(sorted(rows[g], key=_rank))) for g in GROUPS if g in rows]


def group_of(line: Line) -> str:
    """Where on the rig a limit acts."""
    return line.group if line.group in GROUPS else "road"


def _rank(row: PageRow) -> tuple:
    line = row.line
    words = DUTY_WORDS if line.kind in TOLD_KINDS else WORDS
    share = 0.0 if math.isnan(line.share) else line.share
    return (line.kind in TOLD_KINDS, words.index(line.verdict), share, row.index)


def page_row(index: int, line: Line, it: Reckoned, *, hidden: bool, metric: bool) -> PageRow:
    """One limit in words and numbers."""
    plain = yes_or_no(line)
    doubt = line.margin - line.worst_margin if math.isfinite(line.margin + line.worst_margin) else 0.0
    return PageRow(
        index=index,
        line=line,
        name=begin(name_of(line, it)),
        kind=KIND_WORDS[line.kind],
        mark="" if line.kind in TOLD_KINDS else MARKS.get(line.verdict, ""),
        demand=apart("" if plain or hidden else amount(line.demand, line.unit, metric=metric)),
        limit=apart("" if plain or hidden else amount(line.limit, line.unit, metric=metric)),
        left=left_of(line, metric=metric),
        note=note_of(line, metric=metric),
        low=line.demand - doubt,
        high=line.demand + doubt,
        hidden=hidden,
        plain=plain or not math.isfinite(line.demand + line.limit),
        member="" if (member := it.judgement.rows.rows[index].member) is None else member,
    )


def left_of(line: Line, *, metric: bool) -> str:
    """What a row leaves, in words; of duties, whether they apply."""
    if line.kind in TOLD_KINDS or line.verdict == "does not apply":
        return line.verdict
    if line.verdict == "not known":
        return "not known"
    if yes_or_no(line) or not math.isfinite(line.margin):
        return "holds" if line.verdict != "over" else "does not hold"
    return spare(line, metric=metric)


def note_of(line: Line, *, metric: bool) -> str:
    """What to do about a row: what to ask for where it is not known, what settles a doubt."""
    if line.verdict == "not known":
        return f"{begin(ask_for(line.missing, line.ask))}."
    if line.verdict == "depends":
        return settle_sentence(line.settle, metric=metric)
    return ""


def words_of_rows(it: Reckoned, indices: Iterable[int], *, metric: bool) -> dict[int, dict[str, str]]:
    """What the page's own sentence needs of each row: its name; its words where it is not known or only advised."""
    lines = lines_by_row(it)
    out = {}
    for n in indices:
        line, code = lines[n], int(it.judgement.codes[n, 0, 0])
        words = {"name": name_of(line, it), "group": group_of(line)}
        if line.kind == "guidance":
            words["says"] = line.says
            words["ask"] = ask_for(line.missing, line.ask) if code == NOT_KNOWN else ""
        elif code == NOT_KNOWN and line.kind in VERDICT_KINDS:
            there = replace(it.weighing, verdict=WORDS[NOT_KNOWN], governing=line)
            words["unknown"] = weighing_sentence(there, tried=False, metric=metric)
        out[n] = words
    return out


__all__ = ["PageGroup", "PageRow", "page_groups"]
