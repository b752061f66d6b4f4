"""A calendar of whole days as RFC 5545 has it, for any program that takes a calendar by its address."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Final

LINE_OCTETS: Final = 75
"""Longest line, its end not counted."""
PRODUCT: Final = "-//rubrail//follow-ups//EN"
_CONTROL: Final = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
_ESCAPED: Final = {"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"}


@dataclass(frozen=True, slots=True)
class DayEntry:
    """One thing on one day.

    uid : its name for all time; changed : when it last changed; turns : how often it was moved, done or dropped;
    cancelled : nothing comes of it any more, and a calendar should show so
    """

    uid: str
    day: date
    title: str
    words: str
    changed: datetime
    turns: int = 0
    cancelled: bool = False
    address: str = ""


def calendar_text(entries: Iterable[DayEntry], *, title: str) -> str:
    """The calendar, lines ended and folded as the standard asks.

    Parameters
    ----------
    entries : iterable of DayEntry
        Each ``changed`` with its time zone, each ``uid`` once.
    title : str
        What programs call the calendar.

    Raises
    ------
    ValueError
        If a moment has no time zone, a ``uid`` comes twice, or an address would break its line.

    References
    ----------
    RFC 5545, sections 3.1, 3.3.11, 3.6.1, 3.8.1.11, 3.8.2.2 and 3.8.7; RFC 7986
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN"]
    # The name twice: by RFC 7986, and as older programs look for it.
    lines += [f"{name}:{escaped(title)}" for name in ("NAME", "X-WR-CALNAME")]
    lines.append("REFRESH-INTERVAL;VALUE=DURATION:PT6H")
    seen: set[str] = set()
    for entry in entries:
        if entry.uid in seen:
            raise ValueError(f"uid must come once, and {entry.uid} comes again")
        seen.add(entry.uid)
        lines += _entry(entry)
    lines.append("END:VCALENDAR")
    return "".join(f"{part}\r\n" for line in lines for part in folded(line))


def _entry(entry: DayEntry) -> Iterator[str]:
    if entry.changed.tzinfo is None:
        raise ValueError(f"changed must have a time zone, got {entry.changed.isoformat()}")
    if re.search(r"[\x00-\x20\x7f]", entry.address):
        raise ValueError(f"address must hold no blank and no control character, got {entry.address!r}")
    stamp = f"{entry.changed.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    yield "BEGIN:VEVENT"
    yield f"UID:{escaped(entry.uid)}"
    # Without a method, the stamp is the moment the entry itself last changed.
    yield f"DTSTAMP:{stamp}"
    yield f"LAST-MODIFIED:{stamp}"
    yield f"SEQUENCE:{entry.turns}"
    yield f"DTSTART;VALUE=DATE:{entry.day:%Y%m%d}"
    # The end is the first day that no longer belongs to it.
    yield f"DTEND;VALUE=DATE:{entry.day + timedelta(days=1):%Y%m%d}"
    yield f"SUMMARY:{escaped(entry.title)}"
    if entry.words:
        yield f"DESCRIPTION:{escaped(entry.words)}"
    if entry.address:
        yield f"URL:{entry.address}"
    yield f"STATUS:{'CANCELLED' if entry.cancelled else 'CONFIRMED'}"
    # It takes nobody's time, so nobody is shown as busy.
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def escaped(text: str) -> str:
    """Text as a value has it: line ends and separators escaped; other control characters, which none may hold, left
    out.
    """
    whole = text.encode("utf-8", "replace").decode()
    plain = _CONTROL.sub("", whole.replace("\r\n", "\n").replace("\r", "\n"))
    return "".join(_ESCAPED.get(c, c) for c in plain)


def folded(line: str) -> Iterator[str]:
    """A line in parts of at most 75 octets, each after the first led by a blank; no character is cut in two."""
    part, octets = "", 0
    for character in line:
        width = len(character.encode())
        if octets + width > LINE_OCTETS:
            yield part
            part, octets = " ", 1
        part, octets = part + character, octets + width
    yield part
