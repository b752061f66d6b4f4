"""A checklist on paper: to be filled by hand, or as it was entered and signed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from rubrail.answers.checklist_parts import STATIONS, Judged, Line, by_station
from rubrail.sheets.drawing.signature import signature_view
from rubrail.sheets.paper.blocks import Block, Drawing, Facts, Paper, Signatures, Steps, Table, Verdict, Words
from rubrail.sheets.sentences_checklist import MARK_WORDS, SORT_WORDS, judged_sentence, line_words, short_words
from rubrail.sheets.sentences_words import SAFETY, begin

MARKS: Mapping[str, Verdict] = {
    "ok": "clear",
    "not here": "clear",
    "not ok": "over",
    "not known": "not known",
    "open": "not known",
}
REMEMBERED = "Figures marked as remembered or as practice were read nowhere: the maker's sheet goes before them."


@dataclass(frozen=True, slots=True)
class Signed:
    """A signature: who, what for, when in words, and its strokes where it was drawn."""

    name: str
    role: str
    when: str
    strokes: Sequence[Sequence[int]] = ()


@dataclass(frozen=True, slots=True)
class ChecklistFacts:
    """What the paper of a list is made from.

    lines : the lines; found : by key, what was entered in words and who and when; judged : by key, how each stands
    says, outcome : what it comes to, and whether it was released; empty for one to be filled by hand
    facts : names and values at the head; later : sentences of what was put right after signing
    """

    lines: Sequence[Line]
    unit: str
    title: str
    sort: str = "inspection"
    found: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    judged: Mapping[str, Judged] = field(default_factory=dict)
    says: str = ""
    outcome: str = ""
    facts: Sequence[tuple[str, str]] = ()
    signatures: Sequence[Signed] = ()
    later: Sequence[str] = ()
    yard: str = ""
    date: str = ""
    link: str = ""


def checklist_paper(facts: ChecklistFacts, *, metric: bool = False) -> Paper:
    """The paper of a list: empty lines to write on where nothing was entered anywhere, else as it was entered.

    Parameters
    ----------
    facts : ChecklistFacts
    metric : bool
    """
    blank = not facts.outcome and not facts.found
    blocks: list[Block] = [Facts(tuple(facts.facts))] if facts.facts else []
    for station, lines in by_station(facts.lines).items():
        table = _blank_table if blank else _filled_table
        blocks.append(table(STATIONS[station], lines, facts, metric))
    if facts.later:
        blocks.append(Steps(tuple(facts.later), heading="Put right after it was signed"))
    blocks += _signatures(facts, blank=blank)
    unknown = sorted({m for line in facts.lines for m in line.missing})
    if unknown:
        blocks.append(
            Words((f"Not known of this unit: {', '.join(unknown)}.",), heading="Still to find out", quiet=True)
        )
    blocks.append(Words((REMEMBERED,), quiet=True))
    return Paper(
        sort=f"{begin(SORT_WORDS[facts.sort])}, {facts.unit}",
        title=facts.title,
        blocks=tuple(blocks),
        lead=facts.says,
        verdict={"release": "clear", "released": "clear", "hold": "over"}.get(facts.outcome, ""),
        yard=facts.yard,
        date=facts.date,
        link=facts.link,
        link_says="this list" if not blank else "this unit",
        foot=SAFETY,
    )


def _blank_table(title: str, lines: Sequence[Line], facts: ChecklistFacts, metric: bool) -> Table:
    rows = []
    for line in lines:
        words = line_words(line, metric=metric)
        short = short_words(line, metric=metric)
        good = " ".join(filter(None, (words.good, f"By its figures {short}." if short else "")))
        asked = line.places
        if line.facts.get("picks"):
            asked = ("type of both chambers", f"or {line.places[0]}", *line.places[1:])
        places = "   ".join(f"{place} ______" for place in asked)
        rows.append((words.title, words.do, good, places or "________"))
    return Table(
        ("Line", "Do", "Good", "Found"), tuple(rows), align="llll", heading=title, widths=(1.1, 1.5, 1.7, 1.2)
    )


def _filled_table(title: str, lines: Sequence[Line], facts: ChecklistFacts, metric: bool) -> Table:
    rows, marks = [], []
    for line in lines:
        judged = facts.judged.get(line.key, Judged("open"))
        entered, who = facts.found.get(line.key, ("", ""))
        why = judged_sentence(line, judged, metric=metric) if judged.why not in ("", "said") else ""
        rows.append((line_words(line, metric=metric).title, begin(MARK_WORDS[judged.mark]), _found(entered, why), who))
        marks.append(MARKS[judged.mark])
    return Table(
        ("Line", "Stands", "Found", "By"), tuple(rows), align="llll", heading=title, marks=tuple(marks),
        widths=(1.3, 0.8, 2.2, 1.1),
    )  # fmt: skip


def _found(entered: str, why: str) -> str:
    # The word stands in a column of its own already.
    for word in MARK_WORDS.values():
        entered = "" if entered == word else entered.removeprefix(f"{word}; ")
    entered = begin(entered) + ("." if entered and entered[-1] not in ".!?" else "")
    return " ".join(filter(None, (entered, why))) or "–"


def _signatures(facts: ChecklistFacts, *, blank: bool) -> list[Block]:
    if blank or not facts.signatures:
        return [Signatures(("Looked at by, day", "For the yard, day"))]
    return [_drawn(s) for s in facts.signatures]


def _drawn(s: Signed) -> Drawing:
    caption = f"{begin(s.role)} {s.name}, {s.when}" + ("" if s.strokes else " (signed by typing the name)")
    svg = signature_view(s.strokes, name=s.name)
    return Drawing(svg, says=f"signature of {s.name}", share=0.4, high_mm=20, caption=caption)
