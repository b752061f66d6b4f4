"""The calendar file: read back by a library, and line by line by the standard."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from rubrail.sheets.calendar_file import DayEntry, calendar_text, escaped, folded

CHANGED = datetime(2026, 11, 28, 9, 30, tzinfo=timezone(timedelta(hours=-6)))


def entry(**changes) -> DayEntry:
    return DayEntry(
        **{
            "uid": "3f2a@rubrail",
            "day": date(2027, 2, 28),
            "title": "Wheel nuts at 10, 25 miles; SH-191",
            "words": "Stop.\nTorque them again \\ with a wrench.",
            "changed": CHANGED,
            **changes,
        }
    )


def test_a_library_reads_back_what_was_written():
    text = calendar_text([entry(address="https://yard.example/follow-ups/?words=SH-191", turns=2)], title="A, B; C")
    (event,) = Calendar.from_ical(text).events
    assert event.errors == []
    # The library leaves a calendar's name as it stands; by RFC 7986 it is a text like any other.
    assert "NAME:A\\, B\\; C" in text.split("\r\n")
    assert str(event["UID"]) == "3f2a@rubrail"
    assert str(event["SUMMARY"]) == "Wheel nuts at 10, 25 miles; SH-191"
    assert str(event["DESCRIPTION"]) == "Stop.\nTorque them again \\ with a wrench."
    assert event["SEQUENCE"] == 2
    assert event["DTSTART"].dt == date(2027, 2, 28)
    assert not isinstance(event["DTSTART"].dt, datetime), "a whole day, in whatever zone"
    # 3.6.1: the end is not part of it; February 28, 2027, is followed by March 1
    assert event["DTEND"].dt == date(2027, 3, 1)
    assert event["DTSTAMP"].dt == datetime(2026, 11, 28, 15, 30, tzinfo=UTC)
    assert str(event["STATUS"]) == "CONFIRMED"
    assert str(event["URL"]) == "https://yard.example/follow-ups/?words=SH-191"


def test_what_was_dropped_is_cancelled():
    (event,) = Calendar.from_ical(calendar_text([entry(cancelled=True)], title="t")).events
    assert str(event["STATUS"]) == "CANCELLED"


def test_required_properties_come_once():
    lines = calendar_text([entry()], title="t").split("\r\n")
    names = [line.split(":")[0].split(";")[0] for line in lines if line and not line.startswith(" ")]
    # 3.6: PRODID and VERSION; 3.6.1: UID and DTSTAMP; each must occur, and not more than once
    for name in ("PRODID", "VERSION", "UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "STATUS", "SEQUENCE"):
        assert names.count(name) == 1, name
    assert lines[-1] == ""
    assert "METHOD" not in names


def test_an_empty_calendar_is_still_one():
    assert Calendar.from_ical(calendar_text([], title="t")).events == []


def test_escapes_of_the_standard():
    # 3.3.11: backslash, semicolon, comma and line end are escaped; a colon is not
    assert escaped("a\\b;c,d\r\ne:f\rg\nh") == "a\\\\b\\;c\\,d\\ne:f\\ng\\nh"
    assert escaped("a\x00b\x07c\td") == "abc\td"


def test_lines_are_folded_at_75_octets():
    assert list(folded("x" * 75)) == ["x" * 75]
    assert list(folded("x" * 76)) == ["x" * 75, " x"]
    # A two-octet letter never stands half on each side.
    assert list(folded("x" * 74 + "é")) == ["x" * 74, " é"]


@given(
    entries=st.lists(
        st.builds(
            DayEntry,
            uid=st.uuids().map(UUID.__str__),
            day=st.dates(date(1990, 1, 1), date(2090, 1, 1)),
            title=st.text(max_size=200),
            words=st.text(max_size=400),
            changed=st.datetimes(datetime(1990, 1, 1), datetime(2090, 1, 1), timezones=st.just(UTC)),
            turns=st.integers(0, 40),
            cancelled=st.booleans(),
        ),
        max_size=4,
        unique_by=lambda e: e.uid,
    )
)
def test_any_text_survives(entries):
    text = calendar_text(entries, title="t")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    assert "\n" not in text.replace("\r\n", "")
    read = Calendar.from_ical(text).events
    assert len(read) == len(entries)
    for event, one in zip(read, entries, strict=True):
        assert event.errors == []
        assert str(event["SUMMARY"]) == kept(one.title)
        assert str(event.get("DESCRIPTION", "")) == kept(one.words)
        assert (event["DTSTART"].dt, event["SEQUENCE"]) == (one.day, one.turns)


def kept(text: str) -> str:
    """What the standard lets a value hold of a text: no control characters but tab, line ends as one."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(c for c in text if c in "\n\t" or not (ord(c) < 32 or ord(c) == 127))


@pytest.mark.parametrize(
    ("entries", "message"),
    [
        ([entry(), entry()], "uid must come once"),
        ([entry(changed=datetime(2026, 1, 1))], "changed must have a time zone"),
        ([entry(address="https://a.example/\r\nX:1")], "address must hold no blank"),
    ],
)
def test_what_would_spoil_the_file_is_refused(entries, message):
    with pytest.raises(ValueError, match=message):
        calendar_text(entries, title="t")
