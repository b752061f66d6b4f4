"""Lines that say how to reach a yard: read at the door, and what of them can be tapped."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.sheets.site.contact import contact_lines, contact_markup
from sheets.site.sites import elements, parsed

GOOD = (
    "The office by the gate, weekdays 8 to 5",
    "Call (555) 010-0199 or 555.010.0142, ask for the yard",
    "+1 555 010 0199",
    "office@yard.example, or sales+trailers@two.yard.example",
    "12345 County Road 7, Sedge Hollow 62704-1234",
    "Open weekends only in March; Sat 9-12, by appointment",
    "Rates & parts: ask inside",
)


def test_plain_words_numbers_and_mail_addresses_are_taken_as_they_are():
    assert contact_lines([*GOOD, "  ", ""], of="X") == (GOOD, [])


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("<a href='x'>call</a>", "no markup"),
        ("Ask &nbsp; us", "no markup"),
        ("javascript:alert(1)", "no markup"),
        ("a\x07bell", "U+0007"),
        ("right\u202eleft", "U+202E"),
        ("zero\u200bwidth", "U+200B"),
        ("x" * 121, "has 121 letters; it takes at most 120"),
        ("mail office@yard", "written such as office@yard.example"),
        ("@yard", "written such as office@yard.example"),
        ("Call 555 010 0199 555 010 0142", "20 digits"),
        ("We match any price", "is refused"),
        ("No CDL needed", "is refused"),
        ("Guaranteed financing", "is refused"),
    ],
)
def test_each_fault_is_one_sentence_that_says_where(line, says):
    _, faults = contact_lines(["The office", line], of="RUBRAIL_CONTACT")
    assert faults
    assert all(f.startswith("RUBRAIL_CONTACT, line 2, ") and f.endswith(".") for f in faults)
    assert any(says in f for f in faults)


def test_too_many_lines():
    assert contact_lines(["a line"] * 9, of="X")[1] == ["X has 9 lines; the foot of a page has room for 8."]


def test_what_can_be_tapped():
    found = {}
    for line in GOOD:
        page = parsed(f"<!doctype html><html lang=en><title>x</title><p>{contact_markup(line)}</p></html>".encode())
        assert line in "".join(page.itertext())
        found |= {a.text: a.get("href") for a in elements(page, "a")}
    assert found == {
        "(555) 010-0199": "tel:5550100199",
        "555.010.0142": "tel:5550100142",
        "+1 555 010 0199": "tel:+15550100199",
        "office@yard.example": "mailto:office@yard.example",
        "sales+trailers@two.yard.example": "mailto:sales+trailers@two.yard.example",
    }


@given(st.text(max_size=200))
def test_any_line_is_read_and_escaped(line):
    contact_lines([line], of="X")
    assert "<" not in contact_markup(line).replace("<a href=", "").replace("</a>", "")
