"""Pushrods of air brakes: the limit by the type of chamber, or as typed off its tag."""

from __future__ import annotations

from datetime import date

import pytest

from answers.yard import yard
from rubrail.answers.checklist import checklist
from rubrail.answers.checklist_judge import judge
from rubrail.answers.checklist_parts import Entry, line_of
from rubrail.rules.chambers import LONGEST_IN, chamber_limits_in, chamber_named
from rubrail.sheets.sentences_checklist import line_words
from rubrail.sheets.sentences_checklist_judged import judged_sentence

LINE = next(line for line in checklist(yard().trailers["SH-174"]) if line.key == "pushrods-1")


def judged(*numbers: float):
    return judge(LINE, Entry("ok", numbers), on=date(2026, 11, 28))


@pytest.mark.parametrize("chamber", chamber_limits_in())
def test_at_its_limit_a_stroke_holds_and_a_sixteenth_more_does_not(chamber):
    limit = dict(LINE.facts["picks"])[chamber]
    assert judged(limit, limit, limit - 0.25).mark == "ok"
    assert judged(limit, limit - 0.25, limit + 1 / 16).why == "stroke"


@pytest.mark.parametrize("limit", [0, -2, 3.25, 30])
def test_a_limit_no_chamber_has_is_not_known_whatever_the_strokes(limit):
    """30 is what somebody types who gives the type for the limit: it must not pass every stroke."""
    found = judged(limit, 1, 1)
    assert (found.mark, found.why) == ("not known", "no limit")
    asked = "and none more than 3 in: is that its type? Pick the type, or read its tag."
    assert judged_sentence(LINE, found) == f"No chamber allows {limit:g} in, {asked}"
    assert judged(LONGEST_IN, 1, 1).mark == "ok"


def test_the_line_names_every_type_and_keeps_them_when_frozen():
    good = line_words(LINE).good
    assert "1.75 in for type 20; " in good
    assert "2 in for type 16 long stroke, 20 long stroke, 24L and 30; " in good
    assert "12" not in good
    assert "36" not in good
    assert dict(line_of(LINE.table()).facts["picks"]) == chamber_limits_in()


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("30", "type 30"),
        (" Type 30 ", "type 30"),
        ("30LS", "type 30 long stroke"),
        ("30 long", "type 30 long stroke"),
        ("16-L", "type 16 long stroke"),
        ("24l", "type 24L"),
        ("24 LS", "type 24LS"),
        ("24", ""),
        ("36", ""),
        ("3", ""),
        ("", ""),
        ("type", ""),
    ],
)
def test_a_type_as_people_write_it(said, name):
    assert chamber_named(said, among=chamber_limits_in()) == name
