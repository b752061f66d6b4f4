"""What a checklist is made of: lines with what they rest on, and what somebody entered at one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field, fields
from typing import Any, Literal

Answer = Literal["", "ok", "not ok", "not here"]
EntryKind = Literal["look", "numbers", "text", "photo"]
Mark = Literal["ok", "not ok", "not known", "not here", "open"]
"""``open`` was not looked at; ``not known`` was, and cannot be judged."""

STATIONS = {
    "truck": "The truck",
    "label": "Label and papers",
    "coupling": "Coupling",
    "chains": "Chains, breakaway and plug",
    "jack": "Jack",
    "deck": "Deck and floor",
    "anchors": "Places to tie to",
    "frame": "Frame and welds",
    "tires": "Tires",
    "brakes": "Brakes and hubs",
    "wheels": "Wheel nuts",
    "ramps": "Ramps and tail",
    "lamps": "Lamps and marking",
    "last": "Before it leaves",
}
"""Stations of a walk from front to back, in order; wheel nuts when the wheels stand on the ground again."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a checklist.

    key : its own name in the list; sort : what kind of line it is, which its words go by
    station : where one stands for it, a key of ``STATIONS``
    entry : what is entered besides a word: nothing, ``numbers`` (one for each of ``places``), ``text`` or a ``photo``
    unit : of the numbers; least, most : what they may be, where a figure is known; ``exact`` what each must be
    holds : whether it holds the unit back when it is not in order
    optional : whether the unit may be without it, so that *not here* is an answer
    facts : what its words and its reckoning need, by name
    missing : what is not known of the unit, in words, so that the line says less than it could
    short : why it cannot be in order whatever is seen, in words: the unit's own figures contradict it
    sources : keys of the source records
    own : the yard's own words, ``title``, ``do`` and ``good``, where the line is the yard's
    """

    key: str
    sort: str
    station: str
    entry: EntryKind = "look"
    places: tuple[str, ...] = ()
    unit: str = ""
    least: float | None = None
    most: float | None = None
    exact: tuple[float, ...] = ()
    holds: bool = True
    optional: bool = False
    facts: Mapping[str, Any] = field(default_factory=dict)
    missing: tuple[str, ...] = ()
    short: str = ""
    sources: tuple[str, ...] = ("CHECK-PRACTICE",)
    own: Mapping[str, str] = field(default_factory=dict)

    def table(self) -> dict[str, Any]:
        """As JSON keeps it."""
        return asdict(self)


def line_of(table: Mapping[str, Any]) -> Line:
    """A line as ``Line.table`` wrote it; what a later version no longer knows is left out."""
    known = {f.name for f in fields(Line)}
    listed = {k: tuple(v) if isinstance(v, list) else v for k, v in table.items() if k in known}
    return Line(**listed)


@dataclass(frozen=True, slots=True)
class Entry:
    """What somebody entered at a line: a word, numbers in the order of its places, text; how many photos there are."""

    answer: Answer = ""
    numbers: tuple[float | None, ...] = ()
    text: str = ""
    photos: int = 0

    @property
    def empty(self) -> bool:
        """Whether nothing was entered."""
        return not (self.answer or self.text or self.photos or any(n is not None for n in self.numbers))


@dataclass(frozen=True, slots=True)
class Judged:
    """A line with what was entered, judged.

    why : the reason in a short code that the sentences know, such as ``said`` (by who looked), ``short``, ``low``,
    ``high``, ``differs``, ``carries less``, ``missing`` (a number or photo), ``unreckoned``
    facts : the numbers that go into the sentence
    """

    mark: Mark
    why: str = ""
    facts: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a unit is held, or what is still to be put right: a line and how it stands."""

    line: Line
    judged: Judged


@dataclass(frozen=True, slots=True)
class Result:
    """What a checklist comes to.

    outcome : ``release``, or ``hold`` where a line that holds the unit is not in order or was not looked at
    reasons : lines that hold it; remarks : lines not in order that do not
    done, of : how many lines were looked at, of how many
    """

    outcome: Literal["release", "hold"]
    reasons: tuple[Reason, ...]
    remarks: tuple[Reason, ...]
    done: int
    of: int


def by_station(lines: Iterable[Line]) -> dict[str, list[Line]]:
    """Lines in the order one walks, by station; stations without any are left out."""
    found: dict[str, list[Line]] = {station: [] for station in STATIONS}
    for line in lines:
        found[line.station].append(line)
    return {station: held for station, held in found.items() if held}
