"""What a walk-around is made of: stations, what is known at each, and what each does."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubrail.answers.company import BuildMiddle, Middle
from rubrail.answers.differs import Difference
from rubrail.answers.report import Line, Need
from rubrail.checks.verdict import DEPENDS, WORDS

STATIONS = (
    "coupling", "chains", "neck", "jack", "box", "deck-front", "deck", "frame", "running-gear", "tires",
    "underneath", "tail", "ramps", "lights",
)  # fmt: skip
"""Every station a walk may have, front to back; a unit has those it has the parts for."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing the unit's file says at a station.

    name : field of the file, or the name of a value worked out of some; value, unit : a number, ``nan`` where it is
    not known or where it is a word; word : the word, ``""`` for a number; basis : where the value comes from, ``""``
    for a word and for a value worked out
    """

    name: str
    value: float
    unit: str
    word: str = ""
    basis: str = ""

    @property
    def known(self) -> bool:
        """Whether anything is known of it."""
        return bool(self.word) or not math.isnan(self.value)


@dataclass(frozen=True, slots=True)
class Amount:
    """One number of a point, under its name; ``nan`` is not known."""

    name: str
    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Point:
    """One thing a station does: for the haul where one is open, else of the trailer alone.

    key : what it is about, the id of a check where it is one; about : which machine or axle, ``""`` for none;
    verdict : a verdict word, ``""`` where nothing limits it or no limit is known; line : the check as the answer it
    comes from has it; amounts : its numbers where it is no check; needs : what to go and find out
    """

    key: str
    about: str = ""
    verdict: str = ""
    line: Line | None = None
    amounts: tuple[Amount, ...] = ()
    words: tuple[str, ...] = ()
    needs: tuple[Need, ...] = ()

    def get(self, name: str) -> float:
        """One of its numbers; ``nan`` where it has none of that name."""
        return next((a.value for a in self.amounts if a.name == name), math.nan)


def severity(point: Point) -> int:
    """Code of a point's verdict, guidance that fails counted as what makes a rig depend; what has none comes last."""
    if point.verdict not in WORDS:
        return len(WORDS)
    code = WORDS.index(point.verdict)
    guided = point.line is not None and point.line.kind == "guidance"
    return DEPENDS if guided and code < DEPENDS else code


@dataclass(frozen=True, slots=True)
class Station:
    """One stop of the walk.

    key : one of ``STATIONS``; x_in, z_in : where on the trailer it is pointed at, behind the coupling point and above
    the ground; facts : what it is; haul : what it does for the haul, the most telling first, empty without a haul;
    alone : what is said of it whatever is carried; differs : where it is unusual among the others; middles : what is
    usual among them of what is told here; builds : the others by frame, at the frame alone
    """

    key: str
    x_in: float
    z_in: float
    facts: tuple[Fact, ...]
    haul: tuple[Point, ...]
    alone: tuple[Point, ...]
    differs: tuple[Difference, ...]
    middles: tuple[Middle, ...]
    builds: tuple[BuildMiddle, ...]

    @property
    def verdict(self) -> str:
        """The worst of what it does for the haul, guidance that fails counted as *depends*; ``""`` without any."""
        code = min((severity(p) for p in self.haul), default=len(WORDS))
        return WORDS[code] if code < len(WORDS) - 1 else ""

    def fact(self, name: str) -> Fact | None:
        """What is known under a name, nothing where it is not asked at this station."""
        return next((f for f in self.facts if f.name == name), None)

    def point(self, key: str) -> Point | None:
        """The first point of that key, of the haul's first."""
        return next((p for p in (*self.haul, *self.alone) if p.key == key), None)


@dataclass(frozen=True, slots=True)
class Walk:
    """A walk around one unit, for one haul where there is one.

    verdict : with a haul the worst of weighing, driving on and tying down, ``""`` without; weighed, climbed, tied :
    their own words, ``""`` where not asked; circle, others : whom the unit is compared with, and how many they are
    """

    trailer: str
    trailer_title: str
    haul: str
    truck: str
    verdict: str
    weighed: str
    climbed: str
    tied: str
    circle: str
    others: int
    stations: tuple[Station, ...]

    def station(self, key: str) -> Station | None:
        """The station of that key, nothing where this unit has none."""
        return next((s for s in self.stations if s.key == key), None)
