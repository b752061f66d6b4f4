"""Words of a unit that papers do not print: left out of every sheet, and told to whoever prints."""

import pytest

from answers.yard import haul, yard
from rubrail.sheets.paper import made
from rubrail.sheets.said_truly import said_truly
from rubrail.sheets.sentences_claims import not_printed_sentence
from sheets.papers import STAMP

SHOUTED = {"title": "14K tilt, hauls anything", "model": "No-CDL special", "color": "red, legal everywhere"}
MADE = "Bumper-pull low-deck trailer, 20 ft"


@pytest.fixture(scope="module")
def shouted():
    t = yard().trailers["SH-132"]
    equipment = (t.equipment[0].model_copy(update={"says": "straps, tows anything"}), *t.equipment[1:])
    return t.model_copy(update={**SHOUTED, "equipment": equipment})


def test_a_unit_whose_words_hold_is_printed_as_it_is():
    for t in yard().trailers.values():
        said = said_truly(t, makers=("Brindlow", "Tarnbeck", "Quarrant", "Pellamy"))
        assert said.trailer is t
        assert not said.refused


def test_only_refused_words_are_left_out(shouted):
    said = said_truly(shouted)
    assert (said.trailer.title, said.title) == (MADE, MADE)
    assert said.trailer.model is said.trailer.color is None
    assert said.trailer.maker == shouted.maker
    assert [e.says for e in said.trailer.equipment] == [None, *(e.says for e in shouted.equipment[1:])]
    assert said.trailer.equipment[0].tag == shouted.equipment[0].tag
    assert said.trailer.axle == shouted.axle


def test_another_maker_is_not_named_on_paper(shouted):
    t = yard().trailers["SH-132"].model_copy(update={"title": "better built than a Quarrant"})
    assert not said_truly(t).refused
    assert said_truly(t, makers=(t.maker, "Quarrant")).title == MADE


def test_what_is_known_of_the_unit_decides():
    """Its own label may stand in a title; another number may not."""
    t = yard().trailers["SH-132"]
    gvwr = int(float(t.ratings.gvwr_lb))
    assert not said_truly(t.model_copy(update={"title": f"Tilt, {gvwr:,} lb GVWR"})).refused
    assert said_truly(t.model_copy(update={"title": f"Tilt, {gvwr + 1000:,} lb GVWR"})).title == MADE


def test_whoever_prints_is_told_what_why_and_what_stands_instead(shouted):
    says = not_printed_sentence(said_truly(shouted), "SH-132")
    assert says.startswith("Papers of SH-132 leave out the unit's title, the unit's model, the unit's color")
    assert f"They call it “{MADE}”." in says
    assert "“hauls anything” is refused: every unit has a limit" in says


def test_no_sheet_prints_them(shouted):
    true = said_truly(shouted).trailer
    it = haul("03-landscaper-track-loader")
    sheets = [
        made.window(true, stamp=STAMP), made.spec(true, stamp=STAMP), made.card(it, true, stamp=STAMP),
        made.thresholds(it, true, stamp=STAMP), made.walk(true, stamp=STAMP),
        made.comparison(it, [true, yard().trailers["SH-133"]], stamp=STAMP),
    ]  # fmt: skip
    for sheet in sheets:
        text = repr(sheet)
        for words in ("hauls anything", "No-CDL", "legal everywhere", "tows anything"):
            assert words not in text
    assert sum(MADE in repr(sheet) for sheet in sheets) >= 4
