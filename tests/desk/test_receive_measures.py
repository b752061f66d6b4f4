"""Receiving in kilograms and millimeters: shown and read so, and what nobody touched stays to the last digit."""

from __future__ import annotations

import re

import pytest
from django.test import Client
from django.urls import reverse

from desk.pages import page_form
from desk.receive_pages import ordered, received, sent
from rubrail.desk.models import Change, Receipt

KG_PER_LB = 0.45359237
"""Exact, by definition (NIST SP 811, appendix B.8, pound avoirdupois)."""


@pytest.fixture
def receipt(people) -> Receipt:
    return received(ordered(people["sales"]), people["hand"])


@pytest.fixture
def hand(people, as_role) -> Client:
    people["hand"].measures = "metric"
    people["hand"].save()
    return as_role("hand")


def faults_in(page: str) -> str:
    return " ".join(re.findall(r'field__fault"[^>]*><svg.*?</svg><span>(.*?)</span>', page)).replace("&quot;", '"')


def test_fields_are_shown_and_read_in_kilograms(receipt, hand, as_role):
    url = reverse("receipt-fields", args=[receipt.number])
    page = hand.get(url).content.decode()
    assert set(re.findall(r'field__unit">([^<]*)<', page)) >= {"kg", "mm", "kPa"}
    assert "6,985 kg" in page, "15,400 lb ordered"
    assert 'name="measures" value="metric"' in page
    typed = {"ratings.gvwr_lb": "6,350", "deck.width_in": "81 in", "coupling.ball_size_in": "2"}
    assert sent(hand, receipt, "receipt-fields", **typed).status_code == 302
    receipt.refresh_from_db()
    looks = receipt.found["looks"]
    assert looks["ratings.gvwr_lb"]["value"]["value"] == pytest.approx(6350 / KG_PER_LB)
    width = looks["deck.width_in"]["value"]
    assert (width["value"], width["basis"]) == (81, "measured")
    assert looks["coupling.ball_size_in"]["value"]["value"] == 2, "balls are in inches everywhere"
    before = receipt.found
    for role in ("hand", "sales"):
        client = as_role(role)
        client.post(url, page_form(client, url))
        receipt.refresh_from_db()
        assert receipt.found == before, "nobody touched it"
    said = Change.objects.get(field="ratings.gvwr_lb").sentence
    assert "13,999.4 lb" in said or "13,999 lb" in said


def test_faults_are_told_in_kilograms_all_at_once(receipt, hand):
    url = reverse("receipt-fields", args=[receipt.number])
    wrong = page_form(hand, url) | {"ratings.gvwr_lb": "100,000", "deck.width_in": "wide"}
    page = hand.post(url, wrong).content.decode()
    # 500 to 200,000 lb are 226.8 to 90,718.5 kg, rounded into the range
    assert 'Must be 227 to 90,718 kg, not "100,000 kg".' in faults_in(page)
    assert 'such as 2600, "2600 mm", "2.6 m" or "8 ft 6 in", not "wide"' in faults_in(page)
    assert 'value="100,000"' in page


def test_papers_are_read_in_the_measures_of_their_form(receipt, hand, people):
    url = reverse("receipt-vin", args=[receipt.number])
    form = page_form(hand, url) | {"papers-gvwr": "6,350", "papers-gawr": "3175; 7,000 lb", "papers-empty": "1.6 t"}
    people["hand"].measures = "us"
    people["hand"].save()
    assert hand.post(url, form).status_code == 302, "he reads pounds by now; the form was in kilograms"
    receipt.refresh_from_db()
    papers = receipt.found["papers"]
    assert papers["gvwr_lb"] == pytest.approx(6350 / KG_PER_LB)
    assert papers["gawr_lb"] == [pytest.approx(3175 / KG_PER_LB), 7000]
    people["hand"].measures = "metric"
    people["hand"].save()
    before = receipt.found
    hand.post(url, page_form(hand, url))
    receipt.refresh_from_db()
    assert receipt.found == before
    page = hand.post(
        url, page_form(hand, url) | {"papers-gawr": "1; 3175; heavy", "papers-empty": "5"}
    ).content.decode()
    told = faults_in(page)
    assert 'Axle 1: must be 227 to 18,143 kg, not "1".' in told
    assert 'Axle 3: must be a weight such as 6350, "6,350 kg"' in told
    assert 'Must be 91 to 27,215 kg, not "5".' in told
    assert "3,175 kg" not in Change.objects.filter(field="papers-gawr").get().sentence, "the trail has pounds"
