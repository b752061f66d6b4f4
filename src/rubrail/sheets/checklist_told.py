"""A checklist with its words, as terminal and JSON tell it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rubrail.answers.checklist_parts import STATIONS, Line
from rubrail.sheets.sentences_checklist import SORT_WORDS, line_words, short_words
from rubrail.sheets.sentences_words import begin


@dataclass(frozen=True, slots=True)
class ToldLine:
    """One line: what to do, what counts as good, what is entered, and whether it holds the unit back.

    key : its own name in the list; station : where one stands for it
    entry : ``look``, ``numbers``, ``text`` or ``photo``; places : what each number is of; unit : of the numbers
    least, most, exact : what the numbers may be, where a figure is known
    short : why it cannot be in order, by the unit's own figures; missing : what its file does not say
    sources : keys of the source records
    """

    key: str
    station: str
    title: str
    do: str
    good: str
    entry: str
    places: tuple[str, ...]
    unit: str
    least: float | None
    most: float | None
    exact: tuple[float, ...]
    holds: bool
    optional: bool
    short: str
    missing: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ToldChecklist:
    """The checklist of one unit. sort : which list it is; holding : how many of its lines hold the unit back."""

    trailer: str
    sort: str
    holding: int
    lines: tuple[ToldLine, ...]


def told_checklist(lines: Sequence[Line], *, trailer: str, sort: str, metric: bool = False) -> ToldChecklist:
    """A checklist with its words.

    Parameters
    ----------
    lines : sequence of Line
    trailer : str
        The unit's id.
    sort : str
    metric : bool
    """
    return ToldChecklist(
        trailer, sort, sum(line.holds for line in lines), tuple(_told(line, metric) for line in lines)
    )


def _told(line: Line, metric: bool) -> ToldLine:
    words = line_words(line, metric=metric)
    return ToldLine(
        key=line.key,
        station=line.station,
        title=words.title,
        do=words.do,
        good=words.good,
        entry=line.entry,
        places=line.places,
        unit=line.unit,
        least=line.least,
        most=line.most,
        exact=line.exact,
        holds=line.holds,
        optional=line.optional,
        short=short_words(line, metric=metric),
        missing=line.missing,
        sources=line.sources,
    )


def told_sentence(told: ToldChecklist) -> str:
    """The first sentence: which list, how long, and what its own figures already say against the unit."""
    said = (
        f"{begin(SORT_WORDS[told.sort])} of {told.trailer}: {len(told.lines)} lines, {told.holding} that hold it back."
    )
    short = [line for line in told.lines if line.short]
    if short:
        one = len(short) == 1
        said += f" {len(short)} {'line' if one else 'lines'} cannot be in order by the unit's own figures."
    unknown = {m for line in told.lines for m in line.missing}
    if unknown:
        many = "1 figure of the unit is" if len(unknown) == 1 else f"{len(unknown)} figures of the unit are"
        said += f" {many} not known."
    return said


def station_title(key: str) -> str:
    """A station's name."""
    return STATIONS[key]
