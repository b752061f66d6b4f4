"""Texts with named places: read whatever they hold, faults told with the nearest name."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.listing import ListingText
from rubrail.things.listing_names import NAMES
from rubrail.things.template import read_template

BRACES = st.text(alphabet="{}abepylod_ \n", max_size=60)


@given(st.one_of(st.text(max_size=200), BRACES))
def test_any_text_is_read(text):
    template, faults = read_template(text, names=NAMES)
    if not faults:
        filled = template.filled(dict.fromkeys(NAMES, ""))
        assert len(filled) <= len(text)
    assert faults_of(text) == ({"headline[1]"} if faults or not text else set())


def faults_of(text: str) -> set[str]:
    """Fields at fault of a listing file with this headline."""
    try:
        read_thing(ListingText, {"id": "a", "headline": [text]})
    except Faults as told:
        return {f.field for f in told.faults}
    return set()


@given(st.text(alphabet="ab {}", max_size=40))
def test_doubled_braces_stand_for_themselves(text):
    template, faults = read_template(text.replace("{", "{{").replace("}", "}}"), names=NAMES)
    assert faults == ()
    assert template.filled({}) == text


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("{payloadd}", "{payloadd} is no fact, did you mean {payload}?"),
        ("{ payload }", "{ payload } is no fact, did you mean {payload}?"),
        ("{PAYLOAD}", "{PAYLOAD} is no fact, did you mean {payload}?"),
        ("{zzz}", "{zzz} is no fact"),
        ("{}", "{} is no fact"),
        ("a {", "a lone { at letter 3; write {{ for the sign itself"),
        ("{payload", "a lone { at letter 1; write {{ for the sign itself"),
    ],
)
def test_faults_are_told(text, fault):
    assert read_template(text, names=NAMES)[1] == (fault,)


def test_every_fault_at_once():
    assert len(read_template("{a} } {b} {", names=NAMES)[1]) == 4


def test_names_and_words_of_a_template():
    template, _ = read_template("Up to {payload}, on {length} of deck; {payload}.", names=NAMES)
    assert template.names == ("payload", "length")
    assert template.missing({"length": "20 ft"}) == ("payload",)
    assert template.filled({"payload": "1 lb", "length": "20 ft"}) == "Up to 1 lb, on 20 ft of deck; 1 lb."
