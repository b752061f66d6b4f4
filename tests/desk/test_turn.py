"""The corner's page: the engine's sentence, the corner in the address, every fault of it at once."""

import math

import pytest
from django.urls import reverse

from desk.rig_pages import store_haul, store_unit
from rubrail.answers.turn import turn
from rubrail.desk.hauls import thing_of
from rubrail.desk.stock import trailer_of
from rubrail.mechanics.turning_fit import Corner
from rubrail.sheets.sentences_turn import turn_sentence


def address(haul, unit):
    return reverse("rig-turn", args=[haul.pk, unit.stock_number])


@pytest.mark.parametrize(("haul", "unit"), [(4, "SH-213"), (1, "SH-121"), (1, "SH-191")])
def test_page_says_what_the_engine_says(haul, unit, people, as_role):
    it, there = store_haul(haul), store_unit(unit)
    asked = {"angle": "75", "entry": "14 ft", "exit": "20 ft", "curb": "3 m"}
    page = as_role("viewer").get(address(it, there), asked)
    assert page.status_code == 200
    corner = Corner(math.radians(75), 168, 240, 3000 / 25.4)
    result, driven = turn(haul=thing_of(it), trailer=trailer_of(there), corner=corner)
    assert turn_sentence(result) in page.content.decode()
    assert (b'data-view="turn"' in page.content) == (driven is not None)


def test_every_fault_of_the_corner_is_told_and_nothing_typed_is_lost(people, as_role):
    it, there = store_haul(4), store_unit("SH-213")
    page = as_role("viewer").get(address(it, there), {"angle": "300", "entry": "wide", "exit": "20 ft", "curb": "0"})
    assert page.status_code == 422
    said = page.content.decode()
    assert "It turns by must be 5 degrees to 170 degrees" in said
    assert "Lane in, width must be 6 ft to 100 ft" in said
    assert 'value="wide"' in said
    assert 'value="300"' in said


def test_bare_lengths_are_meters_to_who_reads_meters_and_the_address_says_so(people, as_role):
    it, there, reader = store_haul(4), store_unit("SH-213"), people["viewer"]
    reader.measures = "metric"
    reader.save()
    said = as_role("viewer").get(address(it, there)).content.decode()
    assert 'name="entry" value="3.6"' in said
    assert 'name="measures" value="metric"' in said
    asked = {"measures": "metric", "angle": "75", "entry": "4.2672", "exit": "20 ft", "curb": "3"}
    corner = Corner(math.radians(75), 168, 240, 3000 / 25.4)  # 4.2672 m are 14 ft
    result, _ = turn(haul=thing_of(it), trailer=trailer_of(there), corner=corner)
    sent_on = as_role("sales").get(address(it, there), asked).content.decode()
    assert turn_sentence(result) in sent_on, "the same corner to somebody who reads feet"
    wrong = as_role("viewer").get(address(it, there), asked | {"entry": "1"})
    # 72 to 1,200 in are 1.829 to 30.48 m
    assert "Lane in, width must be 1.829 m to 30.48 m, such as" in wrong.content.decode()


def test_htmx_gets_the_part_alone(people, as_role):
    it, there = store_haul(4), store_unit("SH-213")
    part = as_role("viewer").get(address(it, there), headers={"HX-Request": "true"})
    assert b"<html" not in part.content
    assert b"What may touch" in part.content


def test_queries_do_not_grow_with_the_yard(people, as_role, django_assert_num_queries):
    it, there = store_haul(4), store_unit("SH-213")
    client = as_role("viewer")
    client.get(address(it, there))
    with django_assert_num_queries(5):
        client.get(address(it, there))
