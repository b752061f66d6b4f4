"""The tie-down page: it says what the engine says of the proposal and of any plan in its address, and no more."""

import html
import re
from dataclasses import replace

import pytest
from django.http import QueryDict
from django.urls import reverse

from desk.rig_pages import invented, store_haul, store_unit
from rubrail import place
from rubrail.answers.tie_down import laid_out, moved, plan_of, tie_down
from rubrail.desk.books import keep_book
from rubrail.desk.hauls import thing_of
from rubrail.desk.stock import trailer_of
from rubrail.desk.tie_address import address_of_plans, asked
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_tie_down import held_sentence, reading_sentence, tie_down_sentence

SENTENCE = re.compile(r"data-sentence>([^<]*)<")
ROWS = re.compile(r'name="t" value="([^"]*)"')
PART = {"HTTP_HX_REQUEST": "true"}
RIGS = ((3, "SH-137"), (13, "SH-152"), (5, "SH-212"), (4, "SH-213"))


@pytest.fixture
def rig(db):
    """Haul 3 on SH-137 with the yard's kit, as stored and as the engine has it."""
    return stored(3, "SH-137")


def stored(haul, unit):
    keep_book(invented().kit, by=None)
    it, there = store_haul(haul), store_unit(unit)
    thing, trailer = thing_of(it), trailer_of(there)
    # The page holds places to a thousandth of an inch.
    best = place(haul=thing, trailer=trailer).placement
    best = replace(best, front_x_in=tuple(round(x, 3) for x in best.front_x_in))
    engine = {"haul": thing, "trailer": trailer, "kit": invented().kit, "placement": best}
    return reverse("tie-down", args=[it.pk, there.stock_number]), engine


def sentence(page):
    return html.unescape(SENTENCE.search(page.content.decode())[1])


def text(page):
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]*>", " ", page.content.decode())))


def named(page):
    """The plan a page carries in its fields."""
    return [html.unescape(t) for t in ROWS.findall(page.content.decode())]


@pytest.mark.parametrize(("haul", "unit"), RIGS)
def test_page_says_what_the_engine_says(haul, unit, people, as_role):
    address, engine = stored(haul, unit)
    page = as_role("viewer").get(address)
    assert page.status_code == 200
    found = tie_down(**engine)
    assert sentence(page) == tie_down_sentence(found)
    told = text(page)
    for piece in found.pieces:
        for tie in piece.ties:
            assert amount(tie.wll_lb, "lb") in told
        for reading in piece.readings:
            assert reading_sentence(reading) in told
    assert len(named(page)) == sum(len(p.ties) for p in found.pieces)


def test_the_held_accelerations_stand_as_reckoned(rig, people, as_role):
    address, engine = rig
    page = as_role("viewer").get(address).content.decode()
    table = page.partition("data-held")[2].partition("</table>")[0]
    for held in tie_down(**engine).pieces[0].held:
        assert f"{held.breaking_held_g:.2f} g" in table, held_sentence(held)
        assert f"{held.breaking_asked_g:.3g} g" in table


def test_a_moved_plan_is_judged_as_the_engine_judges_it(rig, people, as_role):
    address, engine = rig
    first = tie_down(**engine, changes=False)
    plans = [plan_of(p) for p in first.pieces]
    plans[0] = moved(plans[0], 3, anchor="4L")
    page = as_role("viewer").get(f"{address}?{address_of_plans(plans)}")
    then = tie_down(**engine, plans=plans)
    assert sentence(page) == tie_down_sentence(then)
    assert then.pieces[0].held != first.pieces[0].held
    for held in then.pieces[0].held:
        assert f"{held.breaking_held_g:.2f} g" in page.content.decode()


def test_a_field_moves_an_end_and_the_address_follows(rig, people, as_role):
    address, engine = rig
    client = as_role("viewer")
    rows = named(client.get(address))
    page = client.get(address, {"t": rows, "a2": "4L", "g2": "chain-3-8,ratchet-3-8"}, **PART)
    plans = [plan_of(p) for p in tie_down(**engine, changes=False).pieces]
    plans[0] = moved(plans[0], 3, anchor="4L")
    assert sentence(page) == tie_down_sentence(tie_down(**engine, plans=plans, changes=False))
    here = page["HX-Replace-Url"]
    assert here.endswith(address_of_plans(plans))
    assert b"<html" not in page.content
    again = client.get(here)
    assert named(again) == named(page)


def test_a_part_comes_without_the_search_and_the_rest_with_it(rig, people, as_role):
    address, engine = rig
    client = as_role("viewer")
    plans = [plan_of(p) for p in tie_down(**engine, changes=False).pieces]
    plans[0] = replace(plans[0], ties=plans[0].ties[:3])
    query = address_of_plans(plans)
    part = client.get(f"{address}?{query}&size=narrow", **PART).content.decode()
    rest = client.get(f"{address}?{query}&size=narrow&part=rest", **PART).content.decode()
    assert (part.count("<svg xmlns"), rest.count("<svg xmlns")) == (2, 4)
    assert "data-changes" not in part
    assert "data-changes" in rest
    changes = tie_down(**engine, plans=plans).pieces[0].changes
    assert rest.count("Do it</a>") == len(changes) > 0


def test_a_change_is_applied_by_its_link(rig, people, as_role):
    address, engine = rig
    client = as_role("viewer")
    plans = [plan_of(p) for p in tie_down(**engine, changes=False).pieces]
    plans[0] = replace(plans[0], ties=plans[0].ties[:3])
    page = client.get(f"{address}?{address_of_plans(plans)}")
    changes = page.content.decode().partition("data-changes")[2].partition("</section>")[0]
    links = [html.unescape(t) for t in re.findall(r'<a class="button" href="([^"]*)"', changes)]
    found = tie_down(**engine, plans=plans)
    for link, change in zip(links, found.pieces[0].changes, strict=True):
        after = client.get(link)
        assert f"</svg>{change.verdict}</span></h2>" in re.sub(r"\s*\n\s*", "", after.content.decode())


def test_without_a_script_the_fields_lead_to_the_same_address(rig, people, as_role):
    address, _ = rig
    client = as_role("viewer")
    rows = named(client.get(address))
    page = client.get(address, {"t": rows, "a0": "1L", "g0": "chain-3-8,ratchet-3-8"})
    assert page.status_code == 302
    assert "t=0,1L,1L,chain-3-8,ratchet-3-8" in page.url
    assert "a0=" not in page.url


def test_one_is_taken_off_and_one_added(rig, people, as_role):
    address, _ = rig
    client = as_role("viewer")
    rows = named(client.get(address))
    off = client.get(address, {"t": rows, "do": "off:1"}, **PART)
    assert named(off) == [*rows[:1], *rows[2:]]
    more = client.get(address, {"t": named(off), "do": "add:0"}, **PART)
    assert len(named(more)) == len(rows)
    none = client.get(address, {"t": "none"})
    assert named(none) == ["none"]
    assert "Nothing holds it." in text(none)
    assert sentence(none).startswith("Over")


@pytest.mark.parametrize(
    ("bad", "says"),
    [
        ("0,99L,1L,chain-3-8", "there is no anchor '99L'"),
        ("0,2L,77,chain-3-8", "there is no tie point '77'"),
        ("0,2L,1L,rope", "the kit has no gear 'rope'"),
        ("0,2L,1L,chain-3-8,ratchet-3-8,sideways", "path must be one of"),
        ("0,2L,1L,chain-3-8,ratchet-3-8,over", "needs a second anchor"),
        ("0,2L,1L,chain-3-8,,,,nothing", "holds must be one of"),
        ("7,2L,1L,chain-3-8", "there is no piece '7'"),
        ("x", "there is no piece 'x'"),
        ("0,2L", "it must name piece, anchor, tie point and gear"),
        ("0," * 40, "it must name piece, anchor, tie point and gear"),
    ],
)
def test_what_cannot_be_read_is_left_out_and_told(bad, says, rig, people, as_role):
    address, _ = rig
    client = as_role("viewer")
    rows = named(client.get(address))
    page = client.get(address, {"t": [rows[0], bad, *rows[1:]]})
    assert page.status_code == 200
    assert named(page) == rows
    assert text(page).count("Left out of the plan, because it could not be read:") == 1
    assert says in text(page)


@pytest.mark.parametrize("bad", [{"friction": "wet"}, {"friction": "3"}, {"friction": "nan"}, {"method": "moon"}])
def test_terms_that_cannot_be_are_told(bad, rig, people, as_role):
    address, engine = rig
    page = as_role("viewer").get(address, bad)
    assert page.status_code == 200
    assert sentence(page) == tie_down_sentence(tie_down(**engine))
    assert "must be" in text(page)


def test_method_and_friction_are_part_of_the_address(rig, people, as_role):
    address, engine = rig
    terms = {"method": "en", "friction": "0.3"}
    page = as_role("viewer").get(address, terms)
    assert sentence(page) == tie_down_sentence(tie_down(**engine, method="en", friction=0.3))
    part = as_role("viewer").get(address, {**terms, "t": named(page)}, **PART)
    assert sentence(part) == sentence(page)
    assert "method=en&friction=0.3&t=" in part["HX-Replace-Url"]


def test_placement_is_part_of_the_address(rig, people, as_role):
    address, engine = rig
    there = replace(engine["placement"], front_x_in=(120.0,))
    page = as_role("viewer").get(address, {"p": "h0", "x": "120", "w": "front-first", "method": "en"})
    assert sentence(page) == tie_down_sentence(tie_down(**{**engine, "placement": there}, method="en"))
    assert sentence(page) != tie_down_sentence(tie_down(**engine, method="en"))
    assert 'name="x" value="120.0"' in page.content.decode()
    nothing = as_role("viewer").get(address, {"p": "none"})
    assert "nothing is tied down" in sentence(nothing)


def test_the_rig_leads_here(rig, people, as_role):
    address, _ = rig
    page = as_role("viewer").get(address.removesuffix("tie-down/"))
    assert f'href="{address}?p=h0' in page.content.decode()


def test_an_accessory_never_counts_for_the_piece(rig, people, as_role):
    """An address may call the bucket's chain one that holds the machine; its tie point says what it holds."""
    _, engine = rig
    scenes = laid_out(**engine)
    read = asked(QueryDict("t=0,1R,3,chain-5-16,lever-5-16,,,piece"), scenes)
    assert [t.holds for t in read.plans[0].ties] == ["accessory"]


@pytest.mark.parametrize(("haul", "unit"), RIGS)
def test_address_brings_every_plan_back(haul, unit, db):
    _, engine = stored(haul, unit)
    plans = tuple(plan_of(p) for p in tie_down(**engine, changes=False).pieces)
    plans = (replace(plans[0], locked=False, blocked=True), *plans[1:])
    read = asked(QueryDict(address_of_plans(plans)), laid_out(**engine))
    assert (read.plans, read.fault) == (plans, "")


def test_a_yard_without_a_kit_says_so(people, as_role):
    it, there = store_haul(3), store_unit("SH-137")
    page = as_role("viewer").get(reverse("tie-down", args=[it.pk, there.stock_number]))
    assert page.status_code == 200
    assert "no kit of tie-down gear" in text(page)
