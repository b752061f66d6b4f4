"""Two people at one unit: the second is told what the first changed, and loses nothing."""

from __future__ import annotations

import re
import threading

import pytest
from django.db import connection
from django.urls import reverse

from desk.pages import form_in, page_form
from rubrail.desk.editing import Meanwhile, StaleError, merge, save_changes
from rubrail.desk.forms import seen
from rubrail.desk.models import Change, Unit


def edit_url(unit: Unit) -> str:
    return reverse("unit-edit", args=[unit.stock_number])


def test_merge():
    merged, changed = merge(
        seen={"a": "1", "b": "1", "c": "1", "d": "1"},
        theirs={"a": "2", "b": "2", "c": "1", "d": "2"},
        mine={"a": "1", "b": "3", "c": "4", "d": "2"},
    )
    assert merged == {"a": "2", "b": "3", "c": "4", "d": "2"}
    assert changed == [
        Meanwhile("a", "1", "2", "1"),
        Meanwhile("b", "1", "2", "3"),
        Meanwhile("d", "1", "2", "2"),
    ]
    assert [c.both for c in changed] == [False, True, False]


def test_merge_with_fields_that_came_or_went():
    merged, changed = merge(seen={"a": "1"}, theirs={"b": "2"}, mine={"a": "1", "b": ""})
    assert merged == {"a": "", "b": "2"}
    assert {c.name for c in changed} == {"a", "b"}


def test_second_is_told_and_both_values_are_on_the_page(unit, as_role):
    first, second, url = as_role("owner"), as_role("sales"), edit_url(unit)
    first_form, second_form = page_form(first, url), page_form(second, url)
    first.post(url, first_form | {"ratings.gvwr_lb": "15,400", "color": "dark red"})
    answer = second.post(url, second_form | {"ratings.gvwr_lb": "14,900", "location": "row D, 1"})
    assert answer.status_code == 409
    text = answer.content.decode()
    assert "Somebody saved this while you had it open" in text
    assert "Ruth Calder saved at" in text
    notes = {n["label"]: n for n in answer.context["meanwhile"]}
    assert notes["label GVWR"] | {"name": "", "raw": ""} == {
        "label": "label GVWR",
        "name": "",
        "raw": "",
        "seen": "14,000 lb",
        "theirs": "15,400 lb",
        "mine": "14,900 lb",
        "both": True,
    }
    assert (notes["color"]["theirs"], notes["color"]["both"]) == ("dark red", False)
    form = form_in(text)
    assert form["ratings.gvwr_lb"] == "14,900", "one's own entry stays in the form"
    assert form["color"] == "dark red", "what only the other changed is taken over"
    assert form["location"] == "row D, 1", "what only this one changed is kept"
    stored = Unit.objects.get(pk=unit.pk)
    assert (stored.gvwr_lb, stored.location) == (15_400, "row C, 2"), "nothing is written before they have seen it"
    assert second.post(url, form).status_code == 302
    stored = Unit.objects.get(pk=unit.pk)
    assert (stored.gvwr_lb, stored.color, stored.location) == (14_900, "dark red", "row D, 1")
    by_second = [c.sentence for c in Change.objects.filter(who_name="Sal Brandt").order_by("pk")]
    assert by_second == [
        "Sal Brandt changed the place on the lot of unit T-1 from row C, 2 to row D, 1.",
        "Sal Brandt changed the label GVWR of unit T-1 from 15,400 lb (label) to 14,900 lb (label).",
    ]


def test_a_form_that_lost_its_mark_is_not_saved_blindly(unit, as_role):
    client, url = as_role("owner"), edit_url(unit)
    form = page_form(client, url) | {"color": "red"}
    for broken in ("", "nonsense", form[seen.FIELD] + "x"):
        assert client.post(url, form | {seen.FIELD: broken}).status_code == 409
    assert Unit.objects.get(pk=unit.pk).color == "black"


def test_faults_do_not_forget_what_was_seen(unit, as_role):
    first, second, url = as_role("owner"), as_role("sales"), edit_url(unit)
    form = page_form(second, url)
    answer = second.post(url, form | {"ratings.gvwr_lb": "heavy"})
    first.post(url, page_form(first, url) | {"color": "green"})
    again = second.post(url, form_in(answer.content.decode()) | {"ratings.gvwr_lb": "14,500"})
    assert again.status_code == 409


def test_the_others_cost_is_not_told_to_whom_it_is_hidden(unit, as_role):
    hand, url = as_role("hand"), edit_url(unit)
    form = page_form(hand, url)
    owner = as_role("owner")
    owner.post(url, page_form(owner, url) | {"cost_usd": "7,123", "price_usd": "9,111"})
    answer = hand.post(url, form | {"color": "blue"})
    assert answer.status_code == 409
    assert "7,123" not in answer.content.decode()
    assert not re.search(r"\bcost\b", answer.content.decode())
    assert hand.post(url, form_in(answer.content.decode())).status_code == 302
    stored = Unit.objects.get(pk=unit.pk)
    assert (int(stored.cost_usd), int(stored.price_usd), stored.color) == (7_123, 9_111, "blue")


def test_an_axle_the_other_added_is_in_the_form(unit, as_role):
    first, second, url = as_role("owner"), as_role("sales"), edit_url(unit)
    second_form = page_form(second, url)
    first.post(
        url, page_form(first, url) | {"axle:count": "3", "axle.2.gawr_lb": "7,000", "axle.2.from_coupler_in": "258"}
    )
    answer = second.post(url, second_form | {"color": "blue"})
    form = form_in(answer.content.decode())
    assert (form["axle:count"], form["axle.2.from_coupler_in"]) == ("3", "258")
    assert second.post(url, form).status_code == 302
    assert Unit.objects.get(pk=unit.pk).axle_count == 3


@pytest.mark.django_db
def test_stale_save_writes_neither_thing_nor_trail(unit):
    with pytest.raises(StaleError):
        save_changes(unit, values={"color": "red"}, deltas=[], by=None, seen_version=unit.version + 1)
    assert Unit.objects.get(pk=unit.pk).color == "black"


@pytest.mark.django_db(transaction=True)
def test_of_many_saves_at_once_one_wins_and_none_is_half_done(unit):
    won, lost = [], []

    def save(number: int) -> None:
        mine = Unit.objects.get(pk=unit.pk)
        barrier.wait()
        try:
            save_changes(mine, values={"color": f"color {number}"}, deltas=[], by=None, seen_version=unit.version)
            won.append(number)
        except StaleError:
            lost.append(number)
        finally:
            connection.close()

    barrier = threading.Barrier(6)
    threads = [threading.Thread(target=save, args=(n,)) for n in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(won) == 1
    assert len(lost) == 5
    stored = Unit.objects.get(pk=unit.pk)
    assert stored.version == unit.version + 1
    assert stored.color == f"color {won[0]}"
