"""The yard's wording on the desk: read back as written, faults beside their field, kept by one at a time."""

from __future__ import annotations

import html
from datetime import timedelta

import pytest
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from answers.yard import yard
from desk.pages import page_form
from rubrail.desk import clock
from rubrail.desk.books import keep_book
from rubrail.desk.listings import wording_on
from rubrail.desk.models import Book, Change
from rubrail.desk.models.books import Sort
from rubrail.desk.wording_text import paragraphs_of, written
from rubrail.things.folder import plain_listing
from rubrail.things.listing import Paragraph

URL = reverse("listing-wording")
LOOK = reverse("listing-wording-look")


def keep(client, **changes: str):
    return client.post(URL, page_form(client, URL) | {"do": "keep"} | changes)


def says(answer) -> str:
    return html.unescape(answer.content.decode())


@pytest.mark.parametrize("wording", [plain_listing(), *yard().listings.values()], ids=lambda w: w.id)
def test_paragraphs_are_written_and_read_back(wording):
    tables, faults = paragraphs_of(written(wording.paragraph))
    assert faults == []
    assert tuple(Paragraph.model_validate(t) for t in tables) == wording.paragraph


def test_conditions_headings_and_lists():
    assert paragraphs_of("(used)\n# Care\nLook it\nover.\n\n\n\n- one\n-two")[0] == [
        {"only": "used", "heading": "Care", "text": "Look it over."},
        {"lines": ["one", "two"]},
    ]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("- one\ntwo", "Paragraph 1 mixes a list with plain text: begin every line with a hyphen, or none."),
        ("x\n\n# Deck", "Paragraph 2 has a heading and nothing under it."),
        ("- one\n-", "Paragraph 1 has a line with nothing in it."),
        ("(new)", "Paragraph 1 has a heading and nothing under it."),
    ],
)
def test_paragraphs_that_cannot_be_read(text, fault):
    assert paragraphs_of(text)[1] == [fault]


@given(st.text(alphabet="ab#-(used)\n {}", max_size=80))
def test_anything_typed_is_read(text):
    for part in paragraphs_of(text)[0]:
        assert set(part) <= {"only", "heading", "text", "lines"}


def test_without_a_wording_of_its_own_the_yard_begins_from_the_plain_one(unit, as_role):
    form = page_form(as_role("sales"), URL)
    assert form["headline"].split("\n") == list(plain_listing().headline)
    assert form["stale_days"] == "30"


def test_keeping_it(unit, as_role):
    client = as_role("sales")
    answer = keep(client, headline="{length} deck\nat {yard}", stale_days="14", warranty_used="As it stands.")
    assert answer.status_code == 302
    book = Book.objects.get(sort=Sort.LISTING)
    wording = wording_on(clock.today())
    assert (wording.headline, wording.stale_days, wording.warranty_used) == (
        ("{length} deck", "at {yard}"), 14, "As it stands.",
    )  # fmt: skip
    assert wording.paragraph == plain_listing().paragraph
    assert Change.objects.get(kind="book").sentence == f"Sal Brandt added file {book}."
    assert keep(client, stale_days="21").status_code == 302
    book.refresh_from_db()
    assert (book.version, Book.objects.filter(sort=Sort.LISTING).count()) == (2, 1), "the same day is the same file"
    sentence = Change.objects.filter(kind="book").first().sentence
    assert sentence == f"Sal Brandt changed the stale days of file {book} from 14 to 21."


def test_a_later_day_is_one_more_file_and_the_present_one_stays(unit, as_role):
    client = as_role("sales")
    keep(client, stale_days="14")
    later = clock.today() + timedelta(days=9)
    assert keep(client, stale_days="7", effective=later.isoformat()).status_code == 302
    assert wording_on(clock.today()).stale_days == 14
    assert wording_on(later).stale_days == 7
    again = keep(client, effective=later.isoformat())
    assert "Another wording begins on that day already; choose another day." in says(again)


def test_faults_stand_beside_their_field_and_nothing_is_lost(unit, as_role):
    answer = keep(
        as_role("sales"),
        headline="{lenght} deck",
        text="- {payload}\nplain",
        stale_days="0",
        effective="soon",
    )
    assert answer.status_code == 200
    form = answer.context["form"]
    assert form.errors["text"] == [
        "Paragraph 1 mixes a list with plain text: begin every line with a hyphen, or none."
    ]
    assert form.errors["effective"] == ["Must be a day such as 2026-03-02."]
    assert "{lenght} deck" in says(answer)
    again = keep(as_role("sales"), headline="{lenght} deck", stale_days="0").context["form"]
    assert "did you mean {length}?" in again.errors["headline"][0]
    assert "stale_days must be at least 1" in again.errors["stale_days"][0]
    assert not Book.objects.filter(sort=Sort.LISTING).exists()


@pytest.mark.parametrize(
    ("field", "text", "part"),
    [
        ("ending", "No CDL needed with {type}!", "which license is needed depends on the truck"),
        ("text", "Hauls anything on {length}.", "every unit has a limit"),
        ("headline", "The safest {type}", "no seller can promise it"),
        ("warranty_new", "Lifetime warranty.", "a warranty is what its paper says"),
    ],
)
def test_claims_no_unit_can_bear_out_are_refused(field, text, part, unit, as_role):
    answer = keep(as_role("sales"), **{field: text})
    assert part in answer.context["form"].errors[field][0]
    assert text in says(answer)
    assert not Book.objects.filter(sort=Sort.LISTING).exists()


def test_whoever_keeps_second_is_told(unit, as_role):
    client = as_role("sales")
    form = page_form(client, URL) | {"do": "keep"}
    assert client.post(URL, form | {"stale_days": "14"}).status_code == 302
    answer = client.post(URL, form | {"stale_days": "28"})
    assert answer.status_code == 409
    assert "Somebody changed the wording" in says(answer)
    assert 'value="28"' in says(answer)
    assert wording_on(clock.today()).stale_days == 14
    assert client.post(URL, page_form_of(answer) | {"do": "keep"}).status_code == 302
    assert wording_on(clock.today()).stale_days == 28


def page_form_of(answer) -> dict[str, str]:
    from desk.pages import form_in

    return form_in(answer.content.decode())


def test_looking_keeps_nothing(make_unit, as_role):
    make_unit("T-2", condition="used")
    client = as_role("sales")
    form = page_form(client, URL) | {"headline": "{condition} at {stock}", "unit": "T-2"}
    for url in (URL, LOOK):
        assert "Used at T-2" in says(client.post(url, form | {"do": "look"}))
    assert "Not readable yet" in says(client.post(LOOK, form | {"headline": "{nope}"}))
    assert "did you mean" in says(client.post(LOOK, form | {"headline": "{lenght}"}))
    assert not Book.objects.filter(sort=Sort.LISTING).exists()


def test_the_yards_own_wording_is_used(unit, as_role):
    keep_book(yard().listings["sedge-hollow-2026"], by=None)
    assert "we work out your rig with you" in says(as_role("viewer").get(reverse("listing", args=["T-1"])))


def test_an_empty_yard_has_nothing_to_look_at(as_role):
    assert "There is no unit for sale to look at it on." in says(as_role("owner").get(URL))
