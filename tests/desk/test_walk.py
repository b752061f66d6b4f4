"""The walk's pages: the engine's words, haul and place from the address, captions as asked for, faults told."""

import html
import re

import pytest
from django.urls import reverse

from desk.rig_pages import store_haul, store_unit
from rubrail.answers.walk import walk
from rubrail.desk.hauls import thing_of
from rubrail.desk.stock import trailer_of
from rubrail.desk.yardmates import company_of
from rubrail.sheets.sentences_walk import NO_HAUL, walk_said, walk_sentence
from rubrail.sheets.walk_times import clock, take_of
from sheets.webvtt_grammar import parse

pytestmark = pytest.mark.usefixtures("people")
UNIT = "SH-133"


def address(unit, name="walk", haul=None, more=""):
    asks = "&".join(filter(None, (f"haul={haul.pk}" if haul else "", more)))
    return reverse(name, args=[unit.stock_number]) + (f"?{asks}" if asks else "")


def words(page):
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", page.content.decode())).split())


@pytest.mark.parametrize("number", [0, 3, 12])
def test_page_says_what_the_engine_says(number, as_role):
    unit = store_unit(UNIT)
    haul = store_haul(number) if number else None
    page = as_role("viewer").get(address(unit, haul=haul))
    assert page.status_code == 200
    found = walk(trailer=trailer_of(unit), haul=thing_of(haul) if haul else None, kit=None, company=company_of(unit))
    shown = words(page)
    assert walk_sentence(found) in shown
    assert (NO_HAUL in shown) == (haul is None)
    for s in walk_said(found):
        assert f'id="{s.key}"' in page.content.decode()
        for text in (s.title, s.figure, s.what, s.check, s.caution, *(t for _, t in (*s.haul, *s.alone))):
            assert " ".join(text.split()) in shown, text


def test_a_place_in_the_address_is_walked_for(as_role):
    unit, haul = store_unit(UNIT), store_haul(3)
    rig = as_role("viewer").get(reverse("rig", args=[haul.pk, UNIT])).content.decode()
    link = html.unescape(re.search(r'data-follow="haul=\d+" href="([^"]+/walk/[^"]+)"', rig)[1])
    moved = re.sub(r"x=[^&]+", "x=70.000", link)
    assert "p=" in moved
    page = words(as_role("viewer").get(moved))
    assert "stands front first, 12 in behind the deck's front" in page
    assert "stands front first, 12 in behind" not in words(as_role("viewer").get(address(unit, haul=haul)))


def test_the_way_in_is_shown(as_role):
    unit, haul = store_unit(UNIT), store_haul(3)
    client = as_role("hand")
    assert address(unit) in client.get(unit.get_absolute_url()).content.decode()
    assert address(unit, "walk-paper") in client.get(unit.get_absolute_url()).content.decode()
    board = as_role("viewer").get(reverse("board", args=[haul.pk]))
    assert address(unit, haul=haul) in board.content.decode()


@pytest.mark.parametrize("asked", ["x", "3.5", "-1", "9" * 30, "<b>"])
def test_a_haul_that_is_no_number_is_told(asked, as_role):
    page = as_role("viewer").get(address(store_unit(UNIT)), {"haul": asked})
    assert page.status_code == 200
    assert "A haul is asked for by its number" in words(page)
    assert "<b>" not in page.content.decode()


def test_a_haul_that_is_gone_is_not_found(as_role):
    assert as_role("viewer").get(address(store_unit(UNIT)), {"haul": "77"}).status_code == 404


@pytest.mark.parametrize("role", ["hand", "viewer"])
def test_no_cost_reaches_those_who_may_not_see_it(role, as_role):
    unit = store_unit(UNIT)
    assert unit.cost_usd
    haul = store_haul(3)
    for name in ("walk", "walk-cue", "walk-captions"):
        shown = as_role(role).get(address(unit, name, haul)).content.decode()
        assert f"{unit.cost_usd:,.0f}" not in shown
        assert "margin" not in shown.lower().replace("margin-", "")


def test_it_asks_the_database_little(as_role, django_assert_max_num_queries):
    unit, haul = store_unit(UNIT), store_haul(3)
    for n in range(6):
        store_haul(n + 1)
    client = as_role("viewer")
    client.get(address(unit, haul=haul))
    with django_assert_max_num_queries(14):
        client.get(address(unit, haul=haul))


def test_the_cue_sheet_holds_the_words_and_their_time(as_role):
    unit, haul = store_unit(UNIT), store_haul(3)
    page = as_role("viewer").get(address(unit, "walk-cue", haul, "pace=100&leave=underneath&size=largest&mirror=yes"))
    found = walk(trailer=trailer_of(unit), haul=thing_of(haul), company=company_of(unit))
    said = walk_said(found)
    shown, text = words(page), page.content.decode()
    assert f"In all {clock(take_of(said, pace=100, leave=['underneath']).total_s)} ." in shown
    for s in said:
        for sentence in s.say:
            assert " ".join(sentence.split()) in shown
    assert re.search(r'data-station="underneath" hidden', text)
    assert not re.search(r'data-station="coupling" hidden', text)
    assert '<option value="largest" selected>' in text
    assert re.search(r"data-mirror checked", text)
    assert walk_sentence(found) in shown
    assert '<option value="3" selected>3 seconds' in text


@pytest.mark.parametrize(
    ("asks", "says"),
    [
        ("pace=20", "The pace must be 60 to 240 words a minute, got '20': 130 is taken."),
        ("pace=fast", "got 'fast'"),
        ("pace=1" + "0" * 40, "The pace must be"),
    ],
)
def test_a_pace_that_cannot_be_is_told(asks, says, as_role):
    page = as_role("viewer").get(address(store_unit(UNIT), "walk-cue", more=asks))
    assert page.status_code == 422
    assert says in words(page)


def test_all_stations_left_out_is_told(as_role):
    unit = store_unit(UNIT)
    every = "&".join(f"leave={s.key}" for s in walk_said(walk(trailer=trailer_of(unit))))
    page = as_role("viewer").get(address(unit, "walk-cue", more=every))
    assert page.status_code == 422
    assert "No station is left to walk to: all of them are shown." in words(page)


def test_captions_at_the_pace(as_role):
    unit, haul = store_unit(UNIT), store_haul(3)
    told = as_role("viewer").get(address(unit, "walk-captions", haul))
    assert told.headers["Content-Type"] == "text/vtt; charset=utf-8"
    assert 'filename="SH-133-walk.vtt"' in told.headers["Content-Disposition"]
    cues, notes = parse(told.content.decode())
    said = walk_said(walk(trailer=trailer_of(unit), haul=thing_of(haul), company=company_of(unit)))
    assert " ".join(" ".join(c.text.split()) for c in cues) == " ".join(" ".join(s.say) for s in said)
    assert "SH-133" in notes[0]
    assert cues[-1].end_ms == pytest.approx(take_of(said).total_s * 1000, abs=6000)
    led, _ = parse(as_role("viewer").post(address(unit, "walk-captions", haul), {"lead": "5"}).content.decode())
    assert [c.start_ms - b.start_ms for b, c in zip(cues, led, strict=True)] == [5000] * len(cues)


def test_captions_at_noted_times_in_other_words(as_role):
    unit = store_unit(UNIT)
    sent = {"from": "noted", "times": "coupling=0,jack=31.5", "say-jack": "My own jack & nothing else."}
    told = as_role("viewer").post(address(unit, "walk-captions"), sent)
    cues, notes = parse(told.content.decode())
    assert {c.id.rsplit("-", 1)[0] for c in cues} == {"coupling", "jack"}
    last = next(c for c in cues if c.id == "jack-1")
    assert last.start_ms == 31_500
    assert last.text == "My own jack & nothing else."
    assert "times noted" in notes[0]


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        ({"from": "noted", "times": ""}, "no time was noted yet"),
        ({"from": "noted", "times": "coupling=x"}, "noted times read like coupling=0,chains=31.5"),
        ({"from": "noted", "times": "nowhere=3"}, "noted times read like"),
        ({"from": "noted", "times": "coupling=1.2.3"}, "noted times read like"),
        ({"from": "noted", "times": "coupling=99999999999"}, "noted times read like"),
        ({"from": "noted", "times": "coupling=9,jack=4"}, "the time of 'Jack' must be at least 1 s after"),
        ({"pace": "7"}, "the pace must be 60 to 240"),
        ({"lead": "99"}, "the lead-in must be 0, 3, 5, 10 seconds, got '99'"),
    ],
)
def test_captions_that_cannot_be_made_are_told(sent, says, as_role):
    client = as_role("viewer")
    answer = client.post(address(store_unit(UNIT), "walk-captions"), sent, follow=True)
    assert answer.status_code == 200
    assert f"No captions were made: {says}" in words(answer)


def test_paper_is_a_pdf_on_either_size(as_role):
    unit, haul = store_unit(UNIT), store_haul(3)
    for more in ("", "on=a4", "on=tabloid"):
        answer = as_role("viewer").get(address(unit, "walk-paper", haul, more))
        assert answer.headers["Content-Type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF")


def test_a_unit_that_no_longer_reads_is_told(as_role):
    unit = store_unit(UNIT)
    unit.spec = {**unit.spec, "axle": "gone"}
    unit.save()
    client = as_role("viewer")
    for name in ("walk", "walk-cue"):
        assert "no longer reads" in words(client.get(address(unit, name), follow=True))
    for name in ("walk-captions", "walk-paper"):
        assert client.get(address(unit, name)).status_code == 404
