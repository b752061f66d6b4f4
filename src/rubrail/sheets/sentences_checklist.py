"""Words of a checklist: what to do at each line, what counts as good, and how a line stands with what was entered."""

from __future__ import annotations

from dataclasses import dataclass

from rubrail.answers.checklist_parts import Line, Reason, Result
from rubrail.rules.sources import source
from rubrail.sheets.sentences_amounts import listed, text_in_metric
from rubrail.sheets.sentences_checklist_judged import judged_sentence
from rubrail.sheets.sentences_checklist_lines import LINES
from rubrail.sheets.sentences_checklist_shared import shown
from rubrail.sheets.sentences_words import begin

SORT_WORDS = {"inspection": "pre-delivery inspection", "round": "yard round", "handover": "hand-over"}
MARK_WORDS = {
    "ok": "in order",
    "not ok": "not in order",
    "not known": "not known",
    "not here": "not on this unit",
    "open": "not looked at",
}
OUTCOME_WORDS = {"release": "release", "hold": "hold"}


@dataclass(frozen=True, slots=True)
class LineWords:
    """A line in words: ``unknown`` says what the unit's file does not, ``where`` names the sources of its figures."""

    title: str
    do: str
    good: str
    unknown: str
    where: str


def short_words(line: Line, *, metric: bool = False) -> str:
    """Why a line cannot be in order by the unit's own figures; ``""`` where it can."""
    return text_in_metric(line.short) if metric else line.short


def line_words(line: Line, *, metric: bool = False) -> LineWords:
    """What a line says to whoever looks.

    Parameters
    ----------
    line : Line
    metric : bool
    """
    if line.sort == "own":
        title, do, good = line.own["title"], line.own["do"], line.own["good"]
        good = good or bounds_words(line, metric=metric)
    else:
        title, do, good = LINES[line.sort](line, metric)
    unknown = f"Not known of this unit: {listed(line.missing)}." if line.missing else ""
    return LineWords(title, do, good, unknown, where(line))


def bounds_words(line: Line, *, metric: bool = False) -> str:
    """What its numbers may be, in words; nothing where no figure is known."""
    low = None if line.least is None else shown(line.least, line.unit, metric=metric)
    high = None if line.most is None else shown(line.most, line.unit, metric=metric)
    if low and high:
        return f"{begin(low)} to {high}."
    return f"At least {low}." if low else f"At most {high}." if high else ""


def where(line: Line) -> str:
    """Where the figures of a line come from, each source with how it was read."""
    if line.sort == "own":
        return "The yard's own line."
    return "; ".join(f"{s.title} ({s.how_read})" for s in map(source, line.sources))


def result_sentence(result: Result, *, sort: str = "inspection") -> str:
    """The first sentence of a list: release or hold, and what stands in the way.

    Parameters
    ----------
    result : Result
    sort : str
    """
    bad = [r for r in result.reasons if r.judged.mark != "open"]
    left = len(result.reasons) - len(bad)
    if result.outcome == "release":
        more = (
            f" {_lines(len(result.remarks))} to put right {'does' if len(result.remarks) == 1 else 'do'} not hold it."
        )
        whole = "In order" if sort == "round" else "Release"
        return f"{whole}: every line that would hold it is in order.{more if result.remarks else ''}"
    said = []
    if bad:
        said.append(f"{_lines(len(bad))} {'is' if len(bad) == 1 else 'are'} not in order")
    if left:
        said.append(f"{_lines(left)} {'was' if left == 1 else 'were'} not looked at")
    word = "To put right" if sort == "round" else "Hold"
    return f"{word}: {listed(said)}."


def _lines(n: int) -> str:
    return "1 line" if n == 1 else f"{n} lines"


def reason_sentence(reason: Reason, *, metric: bool = False) -> str:
    """One line that is not in order, with why."""
    title = line_words(reason.line, metric=metric).title
    why = judged_sentence(reason.line, reason.judged, metric=metric)
    return f"{title}: {MARK_WORDS[reason.judged.mark]}." + (f" {why}" if why else "")
