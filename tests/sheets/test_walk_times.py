"""A walk in time, and its captions: valid by the format's own syntax, in order, never one over another."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from answers.yard import haul, yard
from rubrail.answers.walk import walk
from rubrail.sheets.sentences_walk import walk_said
from rubrail.sheets.walk_times import (
    LEAST_S,
    LINE_CHARS,
    LINES,
    MOST_S,
    PAUSE_S,
    TakeError,
    clock,
    parts_of,
    take_of,
    words_of,
)
from rubrail.sheets.webvtt import webvtt
from sheets.webvtt_grammar import NotWebVTT, parse

SAID = walk_said(walk(trailer=yard().trailers["SH-133"], haul=haul("03-landscaper-track-loader"), kit=yard().kit))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        # counted aloud: "fourteen thousand five hundred fifty" is 5, "pounds" one more
        ("14,550 lb", 6),
        ("20,000 lb", 3),  # twenty thousand pounds
        ("82 in", 3),  # eighty two inches
        ("2-5/16 in", 5),  # two, five sixteenths: 2 5 1 6 and the unit
        ("Two axles, each rated", 4),
        ("0 in off level", 4),
        ("SH-133", 4),  # the letters as one, and 1 3 3
    ],
)
def test_words_as_they_are_spoken(text, words):
    assert words_of(text) == words


def test_time_is_words_over_pace():
    take = take_of(SAID, pace=120)
    first = take.stations[0]
    # at 120 words a minute a word takes half a second; a caption shorter than a second is held a second
    assert first.end_s - first.start_s == pytest.approx(
        sum(max(words_of(p) / 2, LEAST_S) for text in SAID[0].say for p in parts_of(text, pace=120))
    )
    assert take.stations[1].start_s == pytest.approx(first.end_s + PAUSE_S)
    assert take.total_s == take.stations[-1].end_s
    assert take_of(SAID, pace=240).total_s < take.total_s < take_of(SAID, pace=60).total_s


@pytest.mark.parametrize("pace", [60, 130, 240])
def test_captions_keep_their_bounds(pace):
    for station in take_of(SAID, pace=pace).stations:
        for c in station.captions:
            lines = c.text.split("\n")
            assert len(lines) <= LINES
            assert all(0 < len(line) <= LINE_CHARS for line in lines)
            assert LEAST_S - 1e-9 <= c.end_s - c.start_s <= MOST_S + 1e-9


@pytest.mark.parametrize("pace", [60, 130, 240])
def test_file_is_valid_and_holds_every_word(pace):
    take = take_of(SAID, pace=pace)
    cues, notes = parse(webvtt(take, title="Low equipment ----> & <more>"))
    assert all(a.end_ms <= b.start_ms for a, b in pairwise(cues))
    assert " ".join(" ".join(c.text.split()) for c in cues) == " ".join(" ".join(s.say) for s in SAID)
    assert "->" in notes[0]
    assert str(pace) in notes[0]
    assert cues[0].start_ms == 0


def test_what_the_format_gives_a_meaning_is_escaped():
    said = (replace(SAID[0], say=("Chains & hooks: 5 < 6 --> <b>go</b> & so on.",)),)
    text = webvtt(take_of(said), title="x")
    assert "&amp; hooks: 5 &lt; 6 --&gt; &lt;b&gt;go" in text.replace("\n", " ")
    cues, _ = parse(text)
    assert " ".join(" ".join(c.text.split()) for c in cues) == said[0].say[0]


def test_the_reader_is_strict():
    good = webvtt(take_of(SAID), title="x")
    for bad in (
        good.replace("WEBVTT", "WEBVTT!", 1),
        good.replace("WEBVTT\n\n", "WEBVTT\n", 1),
        good.replace("00:00:00.000 -->", "00:00:00,000 -->", 1),
        good.replace("00:00:00.000 -->", "99:00:00.000 -->", 1),
        good.replace("coupler", "coup & ler", 1),
        good.replace("coupler", "coup<ler", 1),
        good.replace("coupling-2", "coupling-1", 1),
        good.replace("NOTE\n", "NOTE\n--> ", 1),
    ):
        assert bad != good
        with pytest.raises(NotWebVTT):
            parse(bad)


@given(
    text=st.text(max_size=300),
    pace=st.integers(60, 240),
    starts=st.lists(st.floats(1, 120), min_size=len(SAID) - 1, max_size=len(SAID) - 1),
)
@settings(max_examples=60, deadline=None)
def test_any_words_and_any_noted_times_make_a_valid_file(text, pace, starts):
    times, now = {SAID[0].key: 0.0}, 0.0
    for s, more in zip(SAID[1:], starts, strict=True):
        now += more
        times[s.key] = now
    for noted in (None, times):
        take = take_of(SAID, pace=pace, words={SAID[2].key: text}, noted=noted)
        cues, _ = parse(webvtt(take, title=text))
        assert all(a.end_ms <= b.start_ms for a, b in pairwise(cues))
        if noted:
            begins = {s.key: s.start_s for s in take.stations}
            assert begins == pytest.approx(times)


def test_a_lead_in_comes_before_the_first_word():
    plain, led = take_of(SAID), take_of(SAID, lead_s=5)
    assert [b.start_s - a.start_s for a, b in zip(plain.stations, led.stations, strict=True)] == pytest.approx(
        [5] * len(SAID)
    )
    assert led.stations[0].captions[0].start_s == 5
    assert led.total_s - plain.total_s == pytest.approx(5)


def test_stations_left_out_and_said_otherwise():
    keys = [s.key for s in SAID]
    take = take_of(SAID, leave=[keys[0], keys[2]], words={keys[1]: "One. Two words!\nThree words here"})
    assert [s.key for s in take.stations] == [k for k in keys if k not in (keys[0], keys[2])]
    assert [c.text for c in take.stations[0].captions] == ["One.", "Two words!", "Three words here"]
    assert take.stations[0].words == 6
    assert take.stations[0].start_s == 0


def test_noted_times_move_the_captions():
    a, b = SAID[0].key, SAID[1].key
    planned = take_of(SAID)
    long = planned.stations[0].end_s
    close = take_of(SAID, noted={a: 3.0, b: 3.0 + long / 2})
    assert [s.key for s in close.stations] == [a, b]
    assert close.stations[0].end_s == pytest.approx(3.0 + long / 2)
    # far apart they are drawn out to half the pace at most; the rest was silence
    far = take_of(SAID, noted={a: 0.0, b: 10 * long})
    assert far.stations[0].end_s == pytest.approx(2 * long)
    assert far.stations[1].start_s == 10 * long


@pytest.mark.parametrize(
    ("how", "says"),
    [
        ({"pace": 59}, "the pace must be 60 to 240 words a minute, got 59"),
        ({"leave": [s.key for s in SAID]}, "no station is left"),
        ({"noted": {}}, "no station is left"),
        ({"noted": {SAID[0].key: 5.0, SAID[1].key: 5.5}}, "at least 1 s after the station before it"),
        ({"noted": {SAID[0].key: 5.0, SAID[1].key: 4.0}}, "at least 1 s after the station before it"),
        ({"noted": {SAID[0].key: -1.0}}, "must be 0 or more"),
    ],
)
def test_what_makes_no_take_is_told(how, says):
    with pytest.raises(TakeError, match=says):
        take_of(SAID, **how)


def test_clock():
    assert [clock(s) for s in (0, 59.4, 59.6, 247)] == ["0:00", "0:59", "1:00", "4:07"]
