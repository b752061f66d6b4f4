"""Every sheet on both papers and in both measures: it fits, it is in our type, it says what the answers say."""

import math
import re
import xml.etree.ElementTree as ET

import pytest

from answers.yard import haul, yard
from rubrail.answers.climb import climb_on
from rubrail.answers.compare import compare
from rubrail.answers.place import place
from rubrail.answers.price import price
from rubrail.answers.price_facts import excise_facts
from rubrail.answers.price_parts import Deal, PriceLine
from rubrail.answers.reading import read_unit
from rubrail.answers.tie_down import tie_down
from rubrail.answers.weigh import weigh
from rubrail.checks.verdict import WORDS
from rubrail.quantity.money import show_money
from rubrail.sheets.paper.compare import comparison_sheet
from rubrail.sheets.paper.facts import sixteenths
from rubrail.sheets.paper.press import press
from rubrail.sheets.paper.thresholds import ask_whom, rule_short
from rubrail.sheets.sentences import weighing_sentence
from rubrail.sheets.sentences_amounts import amount
from sheets.papers import RATES, RIGS, SHEETS, STAMP, UNITS, needs_poppler, outside, sheet, told, type_of, words

MOST_PAGES = {"window": 1, "card": 1, "compare": 1, "spec": 2, "thresholds": 1, "tax": 1, "order": 2, "plan": 6}
SIZES = {"letter": (612.0, 792.0), "a4": (595.28, 841.89)}
SVG = "{http://www.w3.org/2000/svg}"
pytestmark = needs_poppler


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize("on", ["letter", "a4"])
@pytest.mark.parametrize("name", SHEETS)
def test_it_fits_in_our_type(name, on, metric):
    pdf = press(sheet(name, metric), on=on)
    pages, found = words(pdf)
    assert found
    assert len(pages) <= MOST_PAGES[name.split()[0]]
    size = sorted(SIZES[on])
    assert all(sorted(p) == pytest.approx(size, abs=1) for p in pages)
    assert outside(pdf) == []
    assert all(n.startswith("SourceSansPro") for n in type_of(pdf))
    text = told(pdf)
    assert f"{len(pages)} of {len(pages)}" in text
    assert STAMP.yard in text
    assert not re.search(r"\bnan\b|\binf\b|None|no limit", text)


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize("stock", UNITS)
def test_window_sheet_says_what_the_engine_says(stock, metric):
    trailer = yard().trailers[stock]
    envelope = read_unit(trailer).envelope
    text = told(press(sheet(f"window {stock}", metric)))
    if envelope is not None and envelope.alone:
        assert amount(envelope.best_lb, "lb", metric=metric) in text
    assert amount(float(trailer.ratings.gvwr_lb), "lb", metric=metric) in text
    assert show_money(trailer.price_usd) in text
    assert "certification label" in text


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize("rig", RIGS)
def test_card_states_the_least_limit_and_never_one_for_an_unknown(rig, metric):
    found = weigh(haul=haul(rig[0]), trailer=yard().trailers[rig[1]], remedies=False)
    card = sheet(f"card {rig[1]}", metric)
    big = dict(next(b for b in card.blocks if b.kind == "big").rows)
    for title, checks in (
        ("Coupler", ("coupler-vertical", "hitch-vertical")),
        ("Trailer axles", ("axle-group",)),
        ("Trailer, loaded", ("trailer-gross",)),
        ("Truck rear axle", ("truck-rear-axle",)),
        ("Truck, loaded", ("truck-gross",)),
        ("Truck and trailer", ("combination-gross", "road-gross")),
    ):
        limits = [x.limit for x in found.lines if x.check in checks]
        least = math.nan if any(math.isnan(v) for v in limits) else min(limits)
        assert next(v for k, v in big.items() if k.startswith(f"{title};")) == amount(least, "lb", metric=metric)
    pages, placed = words(press(card))
    assert len(pages) == 1
    foot = [w for w in placed if w.text == "Cut"]
    assert foot
    assert foot[0].y1 > pages[0][1] / 2
    # All of the card stands above the cut but the page's own foot.
    below = [w.text for w in placed if w.y1 > pages[0][1] / 2 + 14 and w.y2 < pages[0][1] - 50]
    assert below == []
    for it in found.pieces:
        assert set(it.title.split()) <= {w.text for w in placed}


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize("rig", RIGS)
def test_plan_says_where_each_piece_stands_and_every_tie_down(rig, metric):
    it, trailer = haul(rig[0]), yard().trailers[rig[1]]
    placement = place(haul=it, trailer=trailer).placement
    found = weigh(haul=it, trailer=trailer, placement=placement, remedies=False)
    paper = sheet(f"plan {rig[1]}", metric)
    text = told(press(paper))
    said = weighing_sentence(found, tried=False, metric=metric)
    assert said[1:] in paper.lead
    for piece in found.pieces:
        assert amount(piece.front_from_deck_in, "in", metric=metric) in text
        assert amount(piece.weight_lb, "lb", metric=metric) in text
    tied = tie_down(haul=it, trailer=trailer, kit=yard().kit, placement=placement)
    worst = min(found.verdict, tied.verdict, climb_on(haul=it, trailer=trailer).verdict, key=WORDS.index)
    assert paper.verdict == worst
    assert paper.lead.startswith(worst.capitalize())
    tables = [b for b in paper.blocks if b.kind == "table" and b.head[0] == "No."]
    assert sum(len(t.rows) for t in tables) == sum(len(p.ties) for p in tied.pieces)
    assert len({row[0] for t in tables for row in t.rows}) == sum(len(t.rows) for t in tables)


@pytest.mark.parametrize("rig", RIGS)
def test_thresholds_name_the_one_to_ask(rig):
    found = weigh(haul=haul(rig[0]), trailer=yard().trailers[rig[1]], remedies=False)
    asked = {x.check: ask_whom(x) for x in found.lines}
    assert "licensing" in asked["license-a-by-rating"]
    assert "registration" in asked["register-for"]
    assert "permit office" in asked["overall-width"]
    assert "tax adviser" in asked["excise-by-axles"]
    for check in ("lamps", "conspicuity", "rear-guard", "breakaway"):
        assert "permit" not in asked[check]
    text = told(press(sheet(f"thresholds {rig[1]}", False)))
    line = next(x for x in found.lines if x.check == "excise-by-axles")
    assert amount(line.demand, "lb") in text
    assert "49 CFR 383.91" in text


@pytest.mark.parametrize(
    ("key", "short"),
    [
        ("CFR-49-383.91", "49 CFR 383.91"),
        ("USC-23-127", "23 U.S.C. 127"),
        ("TREAS-145.4051-1", "26 CFR 145.4051-1"),
        ("BRAKES-STATES", "BRAKES-STATES"),
    ],
)
def test_a_rule_is_called_briefly(key, short):
    assert rule_short(key) == short


def test_comparison_has_every_number_and_rigs_of_one_scale():
    units = [yard().trailers[s] for s in ("SH-194", "SH-191", "SH-212", "SH-103")]
    found = compare(haul=haul("04-three-machines"), trailers=units)
    paper = sheet("compare 4", False)
    rows = next(b for b in paper.blocks if b.kind == "table").rows
    shown = {r[0].lower(): r[1:] for r in rows}
    for row in found.rows:
        if row.key == "verdict":
            continue
        for value, cell in zip(row.values, shown[row.title.lower()], strict=True):
            if isinstance(value, float) and math.isfinite(value):
                assert cell.removeprefix("▶ ") == amount(value, row.unit)
    # One machine rides on all of them: it is as long in every drawing, whichever way it faces.
    lengths = [_length_px(r[1], "cargo") for r in _abreast(paper)]
    assert max(lengths) == pytest.approx(min(lengths), abs=0.2)
    assert [r[3] for r in _abreast(paper)] == [w.verdict for w in found.weighings]
    with pytest.raises(ValueError, match="up to 4"):
        comparison_sheet(comparison=found, haul=haul("04-three-machines"), trailers=[*units, units[0]])


def _length_px(svg, part):
    group = next(g for g in ET.fromstring(svg).iter(f"{SVG}g") if g.get("data-part") == part)
    xs = [float(x) for path in group.iter(f"{SVG}path") for x in re.findall(r"[ML](-?[\d.]+)[ ,]", path.get("d", ""))]
    return max(xs) - min(xs)


def _abreast(paper):
    return next(b for b in paper.blocks if b.kind == "abreast").rows


@pytest.mark.parametrize("stock", ["SH-212", "SH-191"])
def test_tax_worksheet_adds_up_as_the_price_does(stock):
    trailer = yard().trailers[stock]
    lines = [PriceLine("unit", "it", trailer.price_usd)]
    lines += [PriceLine(f.kind, f.title, f.amount_usd) for f in RATES.fee]
    found = price(Deal(lines=tuple(lines), excise=excise_facts(trailer)), rates=RATES)
    text = told(press(sheet(f"tax {stock}", False)))
    for value in (found.excise.tax_usd, found.excise.base_usd, *(t.tax_usd for t in found.taxes)):
        assert show_money(value) in text
    assert amount(found.excise.by_axles_lb, "lb") in text
    assert "Not tax advice" in text


def test_no_sheet_shows_what_a_unit_cost():
    for name in SHEETS:
        stock = name.split()[1]
        cost = yard().trailers[stock].cost_usd if stock in yard().trailers else None
        if cost is not None:
            assert show_money(cost) not in told(press(sheet(name, False)))


@pytest.mark.parametrize(
    ("size_in", "says"),
    [(2.0, "2 in"), (2.3125, "2-5/16 in"), (1.875, "1-7/8 in"), (3.0, "3 in"), (0.5, "1/2 in"), (2.27, "2.3 in")],
)
def test_a_ball_is_called_as_it_is_stamped(size_in, says):
    assert sixteenths(size_in) == says
