"""How long a walk takes to say: words at a pace, station by station, sentence by sentence.

A pace, a pause between stations and the lengths of captions are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from rubrail.sheets.sentences_walk import StationSaid

PACE = 130
"""Words a minute one says to a buyer, walking: common practice, no source."""
SLOWEST, FASTEST = 60, 240
PAUSE_S = 2.0
"""From one station to the next: common practice, no source."""
LINE_CHARS, LINES = 42, 2
"""A caption is two lines of so many characters at most: common practice, no source."""
LEAST_S, MOST_S = 1.0, 7.0
"""A caption stands so long at least and at most: common practice, no source."""
LEAST_APART_S = 1.0
"""Noted times nearer than this are no two stations."""
_NUMBER = re.compile(r"\d[\d,.]*")


class TakeError(ValueError):
    """Times, a pace or stations that make no take; the message is one sentence."""


@dataclass(frozen=True, slots=True)
class Caption:
    """What is said in one breath, and when, in seconds from the start of the film."""

    text: str
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class StationTime:
    """One station of a take: when it begins and ends, how many words it has, and its captions."""

    key: str
    title: str
    start_s: float
    end_s: float
    words: int
    captions: tuple[Caption, ...]


@dataclass(frozen=True, slots=True)
class Take:
    """A walk in time. noted : whether its times were noted during a take, or worked out from the pace."""

    pace: int
    noted: bool
    stations: tuple[StationTime, ...]

    @property
    def total_s(self) -> float:
        """From the start to the last word."""
        return self.stations[-1].end_s if self.stations else 0.0


def words_of(text: str) -> int:
    """Words as they are spoken: a number counts a word for each digit that is not 0, one more from a thousand on."""
    count = 0
    for token in text.split():
        numbers = _NUMBER.findall(token)
        for number in numbers:
            whole = number.split(".")[0].replace(",", "")
            count += max(sum(c not in "0,." for c in number), 1) + (len(whole) > 3)
        count += 0 if numbers and not re.search("[A-Za-z]", token) else 1
    return count


def take_of(
    said: Sequence[StationSaid],
    *,
    pace: int = PACE,
    leave: Collection[str] = (),
    words: Mapping[str, str] | None = None,
    noted: Mapping[str, float] | None = None,
    lead_s: float = 0.0,
) -> Take:
    """A walk in time.

    Parameters
    ----------
    said : sequence of StationSaid
    pace : int
        Words a minute.
    leave : collection of str
        Stations left out.
    words : mapping, optional
        What is said at a station in place of its own words.
    noted : mapping, optional
        When each station began, in seconds; stations without a time are left out.
    lead_s : float
        From the start of the film to the first word, where no times were noted.

    Raises
    ------
    TakeError
        If the pace is out of bounds, no station is left, or noted times do not follow each other.
    """
    if not SLOWEST <= pace <= FASTEST:
        raise TakeError(f"the pace must be {SLOWEST} to {FASTEST} words a minute, got {pace}")
    stays = [s for s in said if s.key not in leave and (noted is None or s.key in noted)]
    if not stays:
        raise TakeError("no station is left to walk to")
    planned, start = [], lead_s
    for s in stays:
        text = (words or {}).get(s.key)
        spoken = s.say if text is None else tuple(sentences(text))
        planned.append(_station(s, spoken, pace, start))
        start = planned[-1].end_s + PAUSE_S
    if noted is None:
        return Take(pace, False, tuple(planned))
    return Take(pace, True, tuple(_at_noted(planned, [noted[s.key] for s in stays])))


def sentences(text: str) -> list[str]:
    """A text taken apart at its sentence ends and line breaks."""
    return [t.strip() for t in re.split(r"(?<=[.!?:])\s+|\n+", text) if t.strip()]


def _station(s: StationSaid, spoken: Sequence[str], pace: int, start: float) -> StationTime:
    captions, now = [], start
    for part in (part for text in spoken for part in parts_of(text, pace=pace)):
        long = max(words_of(part) * 60 / pace, LEAST_S)
        captions.append(Caption(part, now, now + min(long, MOST_S)))
        now += long
    return StationTime(s.key, s.title, start, now, sum(map(words_of, spoken)), tuple(captions))


def parts_of(text: str, *, pace: int = PACE) -> list[str]:
    """A sentence as captions: lines no longer than a caption's, two at a time where they are said soon enough."""
    lines: list[str] = []
    for word in text.split():
        for piece in (word[i : i + LINE_CHARS] for i in range(0, len(word), LINE_CHARS)):
            if lines and len(lines[-1]) + 1 + len(piece) <= LINE_CHARS:
                lines[-1] += f" {piece}"
            else:
                lines.append(piece)
    parts: list[list[str]] = []
    for line in lines:
        joined = [*parts[-1], line] if parts else []
        if joined and len(joined) <= LINES and words_of(" ".join(joined)) * 60 / pace <= MOST_S:
            parts[-1] = joined
        else:
            parts.append([line])
    return ["\n".join(p) for p in parts]


def _at_noted(planned: Sequence[StationTime], starts: Sequence[float]) -> list[StationTime]:
    """Stations moved to where they were noted, their captions drawn together or apart to fit."""
    for before, after, s in zip(starts, starts[1:], planned[1:], strict=False):
        if after - before < LEAST_APART_S:
            raise TakeError(
                f"the time of {s.title!r} must be at least {LEAST_APART_S:g} s after the station before it,"
                f" got {after:g} s after {before:g} s"
            )
    if starts[0] < 0:
        raise TakeError(f"the time of {planned[0].title!r} must be 0 or more, got {starts[0]:g} s")
    out = []
    for n, (s, start) in enumerate(zip(planned, starts, strict=True)):
        long = s.end_s - s.start_s
        room = starts[n + 1] - start if n + 1 < len(starts) else long
        # Slower than half the pace nobody speaks: then it was silence.
        factor = min(room / long, 2.0) if long else 1.0
        moved = [
            replace(
                c,
                start_s=start + (c.start_s - s.start_s) * factor,
                end_s=start + min((c.end_s - s.start_s) * factor, (c.start_s - s.start_s) * factor + MOST_S),
            )
            for c in s.captions
        ]
        out.append(replace(s, start_s=start, end_s=start + long * factor, captions=tuple(moved)))
    return out


def clock(seconds: float) -> str:
    """Minutes and seconds: ``4:07``."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"
