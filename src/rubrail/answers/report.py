"""What answers are made of: plain frozen records that the terminal, the pages and the paper all read."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Need:
    """An input to go and measure.

    name : raw column; where : file path and, per member, which one; says : what it is in words;
    value, plus_minus, basis : as they stand now (``nan`` where unknown).
    """

    name: str
    where: str
    says: str
    value: float
    plus_minus: float
    basis: str


@dataclass(frozen=True, slots=True)
class Line:
    """One check of one rig (one member of it), in the check's unit.

    verdict : one of ``checks.verdict.WORDS``, for duties and taxes of ``DUTY_WORDS``
    margin, worst_margin : limit less demand as stated, and with every tolerance against the rig
    share : margin as a share of the limit, ``inf`` for a yes-or-no check that holds
    ask : what to ask or look at, in words; missing : inputs that are not known; settle : measurements that would
    end a ``depends``, the best first.
    """

    check: str
    title: str
    kind: str
    group: str
    member: str
    verdict: str
    demand: float
    limit: float
    margin: float
    worst_margin: float
    share: float
    unit: str
    says: str
    ask: str = ""
    missing: tuple[Need, ...] = ()
    settle: tuple[Need, ...] = ()


@dataclass(frozen=True, slots=True)
class Remedy:
    """One change that clears what is over, tried by weighing again.

    kind : ``move``, ``take-off``, ``inflate``, ``rating``, ``distribute``, ``turn``; says : one sentence;
    amount, unit : how much; clears : ids of the checks it clears; verdict : the rig's verdict afterwards.
    """

    kind: str
    says: str
    amount: float
    unit: str
    clears: tuple[str, ...]
    verdict: str


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of cargo as placed. Inches from the coupling point, and from the front edge of the deck."""

    id: str
    title: str
    weight_lb: float
    facing: str
    front_x_in: float
    cg_x_in: float
    rear_x_in: float
    front_from_deck_in: float
    cg_from_deck_in: float


@dataclass(frozen=True, slots=True)
class Load:
    """One load of the rig: what, how much, its rating where it has one, and its worst case."""

    name: str
    title: str
    member: str
    value: float
    least: float
    most: float
    unit: str


@dataclass(frozen=True, slots=True)
class Weighing:
    """Everything about one rig: its verdict, the limit that governs, every line, loads, remedies, what settles it."""

    trailer: str
    trailer_title: str
    truck: str
    haul: str
    verdict: str
    governing: Line | None
    lines: tuple[Line, ...]
    loads: tuple[Load, ...]
    pieces: tuple[Piece, ...]
    settle: tuple[Need, ...]
    unknown: tuple[Need, ...]
    remedies: tuple[Remedy, ...]
