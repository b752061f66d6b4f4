"""What may be told of a unit: equal to the engine's answers, complete about what is missing, and nothing besides."""

from __future__ import annotations

import json
import math
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from answers.yard import yard
from rubrail.answers.claims import refused_in
from rubrail.answers.loading_slope import loading_slopes, steepest
from rubrail.answers.payload import alone_best, by_label
from rubrail.answers.reading import read_unit
from rubrail.sheets.listing import listing_text
from rubrail.sheets.listing_facts import ALWAYS_TOLD, GROUPS, number_of, public_facts
from rubrail.sheets.listing_offer import offer
from rubrail.sheets.listing_price import price_shown, price_standing
from rubrail.things.door import read_thing
from rubrail.things.folder import plain_listing
from rubrail.things.listing import ListingText
from rubrail.things.listing_names import NAMES
from rubrail.things.rigs import trailer_columns
from rubrail.things.trailer import Trailer

UNITS = tuple(sorted(yard().trailers))
TODAY = date(2026, 11, 28)
RATES = yard().rates["sedge-hollow-2026"]
SECRET = {"cost_usd": 1_234_567, "notes": "quince marmalade", "location": "behind the privet"}


def trailer(number: str, **changes) -> Trailer:
    """A unit of the invented yard with fields of its file replaced; ``None`` takes one away."""
    table = yard().trailers[number].model_dump(mode="json", by_alias=True, exclude_none=True) | changes
    return read_thing(Trailer, {k: v for k, v in table.items() if v is not None})


def facts_of(it: Trailer, **more):
    return public_facts(it, reading=read_unit(it), **more)


def offered(it: Trailer, wording: ListingText | None = None, **more):
    given = {
        "checked": TODAY,
        "today": TODAY,
        "rates": RATES,
        "yard": "A yard",
        "makers": {t.maker for t in yard().trailers.values()},
    }
    return offer(it, wording or plain_listing(), **given | more)


@pytest.mark.parametrize("number", UNITS)
def test_numbers_are_those_of_the_engine(number):
    it = yard().trailers[number]
    facts, columns = facts_of(it), trailer_columns([it])
    payload, _ = alone_best(columns)
    for key, want in (("payload", payload[0]), ("payload_label", by_label(columns)[0])):
        assert number_of(facts, key) == pytest.approx(float(want), nan_ok=True), key
        assert (key in facts.facts) == (not math.isnan(want)), key
    assert number_of(facts, "gvwr") == it.ratings.gvwr_lb.number
    assert number_of(facts, "axle_sum") == sum(a.gawr_lb.number for a in it.axle)
    slope = steepest(loading_slopes(it))
    assert number_of(facts, "ramp_angle") == pytest.approx(slope.degrees if slope else math.nan, nan_ok=True)


def test_a_unit_by_hand():
    """SH-132 of the yard's files: deck 18 ft and 2 ft of tail that falls 5 in from 24, ramps of 60 in, 4 tires."""
    facts = facts_of(yard().trailers["SH-132"])
    # 14,000 - 3,350; asin((24 - 5) / 60) = 18.46 degrees, tan = 33.4 %; 4 x 3,420
    assert facts.text("payload_label") == "10,650 lb"
    assert facts.text("ramp_angle") == "18.5° (33 %)"
    assert facts.text("tire_load") == "13,680 lb"
    assert facts.text("length") == "20 ft"
    assert facts.text("deck_parts") == "18 ft level and 2 ft of tail"
    assert facts.text("empty") == "3,350 lb (weighed)"
    assert facts.text("gvwr") == "14,000 lb"
    assert facts.text("axles") == "two axles, 7,000 lb each"
    assert facts.text("vin") == "…TAZ34097"
    assert facts.text("type") == "bumper-pull low-deck trailer"


def test_ways_up():
    """A tilt by its stated angle; a tail steeper than its ramps decides; an unknown stretch leaves it unknown."""
    tilt = trailer("SH-153")
    assert steepest(loading_slopes(tilt)).degrees == pytest.approx(tilt.deck.tilt_angle_deg.number)
    deck = {"kind": "deck-over", "flat_length_in": 240, "tail_kind": "fixed", "tail_length_in": 20, "height_in": 36}
    steep = trailer("SH-161", deck={**deck, "tail_drop_in": 20})
    slopes = loading_slopes(steep)
    assert [s.part for s in slopes] == ["ramps", "tail"]
    assert steepest(slopes).part == "tail"
    assert steepest(slopes).degrees == pytest.approx(45)
    unknown = trailer("SH-161", deck=deck)
    assert math.isnan(steepest(loading_slopes(unknown)).slope_rad)
    assert "ramp_angle" not in facts_of(unknown).facts
    assert "ramp_angle" in facts_of(unknown).unknown


@pytest.mark.parametrize("number", UNITS)
def test_nothing_else_goes_out(number):
    it = trailer(number, **SECRET)
    found = offered(it)
    told = json.dumps([f"{f.value} {f.text}" for f in found.facts.facts.values()]) + found.text.plain + found.text.html
    for word in ("1234567", "1,234,567", "quince", "privet"):
        assert word not in told
    if it.vin:
        assert it.vin not in told


def test_of_the_vin_goes_out_what_the_yard_says():
    it = yard().trailers["SH-132"]
    assert facts_of(it, vin="whole").text("vin") == it.vin
    assert facts_of(it, vin="none").text("vin") == ""
    assert facts_of(trailer("SH-132", vin="12345678")).text("vin") == "", "what is that short would go out whole"


def test_every_name_has_a_place_and_none_besides():
    grouped = [key for keys in GROUPS.values() for key in keys]
    assert len(grouped) == len(set(grouped))
    assert set(NAMES) - set(grouped) == {"yard", "title", "axle_count"}
    assert set(grouped) | set(ALWAYS_TOLD) <= set(NAMES)


def test_a_missing_rating_leaves_the_payload_out_and_says_so():
    axles = [a.model_dump(mode="json", exclude_none=True) for a in yard().trailers["SH-132"].axle]
    del axles[1]["gawr_lb"]
    it = trailer("SH-132", axle=axles)
    found = offered(it)
    assert "payload" not in found.facts.facts
    assert {"payload", "axles"} <= set(found.facts.unknown)
    assert "payload at its best place" in found.text.not_measured
    assert "10,650 lb at most" not in found.text.plain
    assert not found.refused


@pytest.mark.parametrize("wording", [plain_listing(), *yard().listings.values()], ids=lambda w: w.id)
@pytest.mark.parametrize("number", UNITS)
def test_no_wording_that_ships_makes_a_claim_that_is_refused(number, wording):
    it = yard().trailers[number]
    found = offered(it, wording)
    assert [(r.where, r.claim.words) for r in found.refused] == []
    assert it.id in found.text.plain
    if it.ratings.gvwr_lb is not None:
        assert f"{it.ratings.gvwr_lb.number:,.0f} lb label GVWR" in found.text.headline
    assert found.text.headline_letters <= wording.headline_letters


def test_own_words_that_no_longer_hold_are_left_out():
    it = yard().trailers["SH-132"]
    words = "Carries 10,650 lb where it sits best."
    assert words in offered(it, words=words).text.plain
    heavier = trailer("SH-132", weights={"empty_lb": {"value": 3_600, "basis": "weighed"}})
    found = offered(heavier, words=words)
    assert words not in found.text.plain
    assert [r.claim.rule.id for r in found.words_refused] == ["payload-number"]
    assert not found.refused


def test_the_price_grows_old():
    it = yard().trailers["SH-132"]

    def shown(days: int) -> str:
        return offered(it, checked=TODAY - timedelta(days=days)).facts.text("price")

    assert shown(0) == shown(30) == "$8,290 before tax"
    assert shown(31) == "$8,290 before tax, as of October 28, 2026"
    assert shown(90) == "$8,290 before tax, as of August 30, 2026"
    assert shown(91) == "ask for the price"
    assert offered(it, checked=None).facts.text("price") == "ask for the price"


@given(st.one_of(st.none(), st.integers(0, 5000)), st.integers(1, 365), st.integers(0, 365))
def test_an_older_price_is_never_shown_more_boldly(days, stale, more):
    order = ("current", "as of", "ask")
    standing = price_standing(days, stale_days=stale, ask_days=stale + more)
    if days is None:
        assert standing == "ask"
    else:
        assert order.index(standing) <= order.index(price_standing(days + 1, stale_days=stale, ask_days=stale + more))


def test_what_comes_on_top_of_the_price():
    found = offered(yard().trailers["SH-132"])
    assert found.facts.text("price_without").startswith("document fee ($145), title and plate")
    taxed = offered(yard().trailers["SH-203"])
    assert "federal excise tax" in taxed.facts.text("price_without")
    assert taxed.facts.text("excise").startswith("Federal excise tax is due")
    assert refused_in([("x", "No federal excise tax is due.")], taxed.true)
    assert not refused_in([("x", "No federal excise tax is due.")], found.true)
    none = price_shown(price_usd=None, checked=TODAY, today=TODAY)
    assert (none.usd, none.text) == (None, "ask for the price")
    assert price_shown(price_usd=Decimal("99.50"), checked=TODAY, today=TODAY).text == "$99.50 before tax"


def wording(**changes) -> ListingText:
    return read_thing(ListingText, {"id": "w", "headline": ["{length} deck"], **changes})


def test_what_is_not_known_is_left_out_and_told():
    it = trailer("SH-132", weights=None, plug=None)
    text = listing_text(
        facts_of(it),
        wording(
            headline=["{length} deck", "{empty} empty"],
            paragraph=[
                {"text": "Weighs {empty}."},
                {"heading": "Plug", "lines": ["Plug {plug}.", "Floor: {floor}."]},
                {"text": "for used ones", "only": "used"},
            ],
        ),
        words="One.\n\nTwo <b>.",
    )
    assert text.headline == "20 ft deck"
    assert [(p.heading, p.lines) for p in text.paragraphs] == [("", ("One.", "Two <b>.")), ("Plug", ("Floor: pine.",))]
    assert [part.where for part in text.left_out] == ["part 2 of the headline", "paragraph 1", "line 1 of paragraph 2"]
    assert text.left_out[0].says == "Part 2 of the headline is left out: nothing is to be told of empty weight."
    assert "Two &lt;b&gt;." in text.html
    assert "- Floor: pine." in text.plain


def test_a_unit_of_which_nothing_is_known_still_has_a_headline():
    bare = read_thing(Trailer, {"id": "B-1", "coupling": {"kind": "ball"}, "axle": [{}]})
    found = offered(bare)
    assert found.text.headline == "Bumper-pull trailer, one axle"
    assert len(found.facts.unknown) >= 10
    assert not found.refused
