from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.sheets.drawing.dims import Rise, Span, rises, spans
from rubrail.sheets.drawing.sheet import Sheet
from sheets.drawing.reading import Drawing


def sheet(width=600.0):
    return Sheet(width_px=width, x_min_in=0, x_max_in=300, left_px=40, right_px=40)


def drawn(items, *, below=True, width=600.0):
    page = sheet(width)
    spans(page, items, y=10 if below else -10, below=below)
    return Drawing(page.svg(title="t", desc="d"))


ends = st.tuples(st.floats(0, 300), st.floats(0, 300)).filter(lambda e: abs(e[0] - e[1]) > 2)


@given(st.lists(ends, min_size=1, max_size=9), st.booleans(), st.sampled_from([340.0, 600.0, 960.0]))
def test_figures_never_lie_on_each_other_nor_leave_the_sheet(pairs, below, width):
    drawing = drawn([Span(a, b, f"{abs(b - a):.0f} in") for a, b in pairs], below=below, width=width)
    assert len(drawing.texts()) == len(pairs)
    assert drawing.collisions() == []
    assert drawing.clipped() == []


def test_a_chain_shares_one_lane_and_one_extension_line_at_each_place():
    drawing = drawn([Span(0, 100, "100 in"), Span(100, 200, "100 in")])
    assert len({t.y for t in drawing.letters()}) == 1
    upright = [e for e in drawing.elements("line") if e.get("x1") == e.get("x2")]
    assert len(upright) == 3


def test_overlapping_lengths_take_lanes_in_the_order_given():
    short, long = drawn([Span(0, 100, "100 in"), Span(0, 200, "200 in")]).letters()
    assert (short.text, long.text) == ("100 in", "200 in")
    assert long.y > short.y


def test_the_figure_of_a_short_length_stands_beside_it():
    (text,) = drawn([Span(100, 108, "8 in")]).letters()
    assert text.box.x1 > 108 * sheet().view.scale


def test_a_length_that_is_not_known_is_dashed():
    assumed = drawn([Span(0, 100, "not known", assumed=True)])
    known = drawn([Span(0, 100, "100 in")])
    dashed = [e for e in assumed.elements("line") if e.get("stroke-dasharray")]
    assert dashed
    assert not [e for e in known.elements("line") if e.get("stroke-dasharray")]


@pytest.mark.parametrize("right", [True, False])
def test_heights_stand_in_columns_of_their_own(right):
    page = Sheet(width_px=700, x_min_in=0, x_max_in=300, left_px=100, right_px=100)
    items = [Rise(0, 30, "30 in", 300 if right else 0), Rise(0, 34, "34 in", 250), Rise(0, 4, "4 in", 250)]
    rises(page, items[:2], right=right)
    drawing = Drawing(page.svg(title="t", desc="d"))
    first, second = drawing.letters()
    assert drawing.collisions() == []
    assert (second.x > first.x) is right


def test_a_height_too_small_for_its_figure_is_lettered_above():
    page = sheet()
    rises(page, [Rise(0, 4, "4 in", 300)], right=True)
    (text,) = Drawing(page.svg(title="t", desc="d")).letters()
    assert text.box.y2 < page.view.y(4)
