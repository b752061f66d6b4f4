from __future__ import annotations

import math
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.sheets.drawing.svg import document, element, escape, group, number


@pytest.mark.parametrize(
    ("value", "text"),
    [(1.0, "1"), (0.5, "0.5"), (1.005, "1"), (-0.001, "0"), (12.346, "12.35"), (-3.10, "-3.1"), (100, "100")],
)
def test_numbers_are_trimmed(value, text):
    assert number(value) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_an_unknown_is_no_coordinate(value):
    with pytest.raises(ValueError, match="a coordinate must be a finite number, got"):
        number(value)


@given(st.text())
def test_any_text_comes_back_as_it_was_but_for_what_xml_cannot_carry(text):
    svg = document(element("text", text, data_name=text), left=0, top=0, width=1, height=1, title=text, desc="d")
    read = ET.fromstring(svg)
    kept = "".join(c for c in text if escape(c))
    # A parser turns line ends in text, and white space in attributes, into its own.
    assert read[2].text in (kept.replace("\r\n", "\n").replace("\r", "\n"), None if not kept else object())
    assert "<script" not in svg.replace("&lt;script", "")


def test_hostile_names_stay_text():
    name = """"><script>alert('x')</script>&amp;"""
    svg = document(group(element("text", name)), left=0, top=0, width=9, height=9, title=name, desc=name)
    assert "<script" not in svg
    assert ET.fromstring(svg)[0].text == name


@pytest.mark.parametrize("tag", ["style", "script", "image", "foreignObject", "a", "use"])
def test_no_element_carries_style_script_or_links(tag):
    with pytest.raises(ValueError, match=f"drawings carry no <{tag}> element"):
        element(tag)


@pytest.mark.parametrize("name", ["style", "href", "onload", "onclick"])
def test_no_attribute_carries_style_script_or_links(name):
    with pytest.raises(ValueError, match=f"drawings carry no {name} attribute"):
        element("g", **{name: "x"})


def test_attributes_are_written_in_order_and_none_is_left_out():
    assert (
        str(element("rect", x=1.0, class_="a", stroke_width=0.75, fill=None))
        == '<rect x="1" class="a" stroke-width="0.75"/>'
    )
