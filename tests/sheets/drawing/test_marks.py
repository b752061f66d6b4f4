from __future__ import annotations

import math

import pytest

from rubrail.checks.verdict import WORDS
from rubrail.sheets.drawing import margin_bar, verdict_mark
from rubrail.sheets.drawing.marks import LIMIT_AT
from sheets.drawing.reading import Drawing


@pytest.mark.parametrize("word", WORDS)
def test_every_verdict_has_a_shape_and_its_word(word):
    drawing = Drawing(verdict_mark(word))
    assert drawing.texts() == [word]
    assert drawing.clipped() == []
    assert [e.get("data-verdict") for e in drawing.elements("g") if e.get("data-verdict")] == [word]


def test_no_two_verdicts_share_a_shape():
    shapes = set()
    for word in WORDS:
        (shape,) = [e for e in Drawing(verdict_mark(word)).elements("g") if e.get("data-verdict")]
        shapes.add(tuple((e.tag, e.get("d") is not None, e.get("fill") == "none") for e in shape))
    assert len(shapes) == len(WORDS)


def test_an_unheard_of_verdict_is_refused():
    with pytest.raises(ValueError, match=r"verdict must be one of clear, depends, .*, got 'fine'"):
        verdict_mark("fine")


def bar(**changes):
    table = {"demand": 5_000, "limit": 10_000, "verdict": "clear", "title": "axle", "width_px": 202}
    return Drawing(margin_bar(**{**table, **changes}))


@pytest.mark.parametrize(("demand", "share"), [(5_000, 0.5), (10_000, 1.0), (11_000, 1.1), (0, 0.0)])
def test_what_is_used_is_drawn_in_proportion_to_the_limit(demand, share):
    (used,) = bar(demand=demand).parts("used")
    assert float(used.get("width")) == pytest.approx(200 * LIMIT_AT * share, abs=0.02)


def test_far_over_stays_on_the_bar():
    (used,) = bar(demand=99_000, verdict="over").parts("used")
    assert float(used.get("width")) == pytest.approx(200, abs=0.02)


def test_the_tolerance_is_drawn_about_the_demand():
    (whisker,) = bar(plus_minus=1_000).parts("tolerance")
    per = 200 * LIMIT_AT / 10_000
    assert float(whisker.get("x1")) == pytest.approx(1 + 4_000 * per, abs=0.02)
    assert float(whisker.get("x2")) == pytest.approx(1 + 6_000 * per, abs=0.02)


@pytest.mark.parametrize("unknown", [{"demand": math.nan}, {"limit": math.nan}])
def test_what_is_not_known_is_an_empty_dashed_bar(unknown):
    drawing = bar(**unknown, verdict="not known")
    assert drawing.parts("used") == []
    assert drawing.parts("bar")[0].get("stroke-dasharray")
    assert "not known" in drawing.root[1].text


def test_the_bar_is_told_in_words():
    assert bar().root[1].text == "clear: 5,000 lb of 10,000 lb, 5,000 lb to spare"
    assert bar(demand=11_000, verdict="over").root[1].text == "over: 11,000 lb of 10,000 lb, 1,000 lb over"
