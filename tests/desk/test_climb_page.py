"""The climb's page: the engine's sentence, the day in the address, the numbers it carries those of the engine."""

import html
import json
import re

import pytest
from django.urls import reverse

from desk.rig_pages import store_haul, store_unit
from rubrail.answers.climb import climb_on
from rubrail.answers.climb_setup import Day
from rubrail.desk.hauls import thing_of
from rubrail.desk.stock import trailer_of
from rubrail.sheets.sentences_climb import climb_sentence


def address(haul, unit):
    return reverse("climb", args=[haul.pk, unit.stock_number])


def carried(page):
    return [json.loads(html.unescape(t)) for t in re.findall(r"data-climb='([^']*)'", page.content.decode())]


@pytest.mark.parametrize(("haul", "unit"), [(3, "SH-152"), (4, "SH-212"), (5, "SH-191")])
def test_page_says_what_the_engine_says(haul, unit, people, as_role):
    it, there = store_haul(haul), store_unit(unit)
    page = as_role("viewer").get(address(it, there))
    assert page.status_code == 200
    found = climb_on(haul=thing_of(it), trailer=trailer_of(there))
    assert climb_sentence(found) in html.unescape(page.content.decode())
    for told, m in zip(carried(page), (m for m in found.machines if m.course), strict=True):
        assert told["coupler"] == pytest.approx(list(m.course.coupler_lb), abs=0.5)
        assert told["s"] == pytest.approx(list(m.course.s_in), abs=0.05)
        assert told["axles"] == pytest.approx([sum(a) for a in zip(*m.course.axle_lb, strict=True)], abs=0.5)


def test_the_day_is_part_of_the_address(people, as_role):
    it, there = store_haul(3), store_unit("SH-152")
    client = as_role("viewer")
    page = client.get(address(it, there), {"surface": "wet", "ground": "4", "hitched": "yes", "chocked": "yes"})
    found = climb_on(
        haul=thing_of(it),
        trailer=trailer_of(there),
        day=Day(surface="wet", ground_deg=4.0, stands=False),
        remedies=False,
    )
    told = carried(page)[0]
    assert told["coupler"] == pytest.approx(list(found.machines[0].course.coupler_lb), abs=0.5)
    assert 'value="4"' in page.content.decode()


@pytest.mark.parametrize(
    "bad", [{"surface": "icy"}, {"surface": "dry", "ground": "40"}, {"surface": "dry", "ground": "x"}]
)
def test_a_day_that_cannot_be_is_told(bad, people, as_role):
    page = as_role("viewer").get(address(store_haul(3), store_unit("SH-152")), bad)
    assert page.status_code == 200
    assert "Shown is a dry, level day." in page.content.decode()


def test_what_does_not_drive_is_said(people, as_role):
    page = as_role("viewer").get(address(store_haul(5), store_unit("SH-191")))
    assert not carried(page)
