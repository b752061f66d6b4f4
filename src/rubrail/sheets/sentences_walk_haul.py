"""What a station does for a haul, row by row: what waits for the same measurement is told together, once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rubrail.answers.walk_parts import Point, severity
from rubrail.checks.verdict import NOT_KNOWN, WORDS
from rubrail.sheets.sentences_walk_checks import ask_out, who_of
from rubrail.sheets.sentences_walk_points import OWN, point_sentence
from rubrail.sheets.sentences_words import need_phrase


@dataclass(frozen=True, slots=True)
class Row:
    """One sentence with its verdict word, ``""`` for none; aloud : as one says it."""

    word: str
    text: str
    aloud: str


def rows(points: Sequence[Point], *, metric: bool = False) -> tuple[Row, ...]:
    """Points in words, in their order.

    Parameters
    ----------
    points : sequence of Point
    metric : bool
        Kilograms, millimeters and kilopascals.
    """
    return tuple(_rows(points, metric))


def _rows(points: Sequence[Point], metric: bool) -> Iterator[Row]:
    waiting: dict[tuple, list[Point]] = {}
    for p in points:
        waiting.setdefault(_waits(p), []).append(p)
    for alike in waiting.values():
        if len(alike) > 1:
            yield Row(WORDS[NOT_KNOWN], _together(alike), _first(alike))
            continue
        (p,) = alike
        spoken = point_sentence(p, brief=True, metric=metric)
        yield Row(shown(p), point_sentence(p, metric=metric), spoken)


def _waits(p: Point) -> tuple:
    """What an unknown check waits for, and of which machine it is; what is known, or worded otherwise, by itself."""
    if p.verdict != WORDS[NOT_KNOWN] or p.line is None or p.key in OWN:
        return (id(p),)
    return (_machine(p), *(need_phrase(n) for n in p.needs))


def _machine(p: Point) -> str:
    who = who_of(p.about)
    return who if who != p.about else ""


def _together(alike: Sequence[Point]) -> str:
    names = "; ".join(_name(p) for p in alike)
    return f"Not known{_of(alike[0])}: {names}. {ask_out(alike[0], alike[0].line).capitalize()}."


def _first(alike: Sequence[Point]) -> str:
    more = len(alike) - 1
    ask = ask_out(alike[0], alike[0].line, few=1)
    return f"Not known{_of(alike[0])}: {_name(alike[0])}, and {more} more; {ask}."


def _of(p: Point) -> str:
    return f" for {_machine(p)}" if _machine(p) else ""


def _name(p: Point) -> str:
    member = p.about if p.about and not _machine(p) else ""
    return f"{p.line.title}{f', {member}' if member else ''}"


def shown(point: Point) -> str:
    """The verdict a point is marked with: guidance that fails makes a rig depend, it is not over."""
    if point.verdict == WORDS[NOT_KNOWN]:
        return point.verdict
    code = severity(point)
    word = WORDS[code] if code < len(WORDS) else ""
    return "" if word == "does not apply" else word
