from __future__ import annotations

import pytest

from rubrail.sheets.drawing.lettering import Board, Box, text_box, text_width
from rubrail.sheets.drawing.sheet import balanced, wrapped


def test_figures_are_all_as_wide():
    assert len({text_width(d, 12) for d in "0123456789"}) == 1


@pytest.mark.parametrize(("anchor", "left"), [("start", 100), ("end", 100 - 50), ("middle", 75)])
def test_a_box_hangs_on_its_anchor(anchor, left):
    wide = text_width("1,200 lb", 12)
    box = text_box(100, 0, "1,200 lb", size=12, anchor=anchor)
    assert box.x2 - box.x1 == pytest.approx(wide)
    assert box.x1 == pytest.approx(100 - wide * (100 - left) / 50)


def test_the_first_candidate_with_room_is_taken_and_then_is_taken():
    board = Board(0, 100, [Box(0, 0, 50, 10)])
    candidates = [Box(40, 0, 60, 10), Box(95, 0, 120, 10), Box(60, 0, 80, 10)]
    assert board.first_free(candidates) == 2
    assert board.first_free(candidates) is None


def test_a_line_is_broken_where_a_text_lies():
    board = Board(0, 100, [Box(10, 20, 30, 30)])
    assert board.gaps(20, 0, 50, clear=2) == [(0, 18), (32, 50)]
    assert board.gaps(60, 0, 50) == [(0, 50)]


def test_phrases_are_joined_and_broken_between_words():
    assert wrapped(["one", "two"], 500) == ["one · two"]
    rows = wrapped(["a phrase of several words that is long"], 80)
    assert len(rows) > 1
    assert all(text_width(r, 11) <= 80 for r in rows)
    assert " ".join(rows) == "a phrase of several words that is long"


def test_balanced_rows_leave_no_word_alone():
    rows = balanced("hitch on the truck against the load on it", 150)
    assert len(rows) == 2
    assert min(len(r) for r in rows) > 12


@pytest.mark.parametrize("text", ["5,609 lb", "12,345 kg", "of 5,897 kg", "not known"])
def test_a_text_moved_onto_the_sheet_has_room_there(text):
    board = Board(-37.3, 298.7)
    wide = text_width(text, 13)
    for x in (-60.0, 310.0):
        middle = board.clamped(x, wide)
        assert board.free(Box(middle - wide / 2, 0, middle + wide / 2, 10))
