"""Selling, holding, retiring and the ways back: who may, what is written, what the trail says, two people at once."""

from __future__ import annotations

import html
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse

from desk.pages import form_in, page_form
from rubrail.desk import clock
from rubrail.desk.models import Change, Unit
from rubrail.desk.models.stock import Status
from rubrail.desk.standing import BY_KEY, STEPS, steps_of
from rubrail.desk.stock import trailer_of


def step_of(unit: Unit, key: str) -> str:
    return reverse("unit-step", args=[unit.stock_number, key])


def take(client: Client, unit: Unit, key: str, **given: str):
    url = step_of(unit, key)
    return client.post(url, page_form(client, url) | given)


def told(client: Client, unit: Unit) -> list[str]:
    rows = html.unescape(client.get(reverse("changes") + f"?kind=unit&thing={unit}").content.decode())
    return [c.sentence for c in Change.objects.order_by("pk") if c.action != "added" and c.sentence in rows]


def test_selling(unit, as_role):
    client = as_role("sales")
    answer = take(client, unit, "sell", day="2026-05-04", sold_for_usd="$9,200", note="To the crew on row 9.")
    assert answer.headers["Location"] == unit.get_absolute_url()
    now = Unit.objects.get()
    assert (now.status, now.status_since, now.sold_for_usd) == ("sold", date(2026, 5, 4), Decimal(9_200))
    assert (now.status_note, now.version, now.price_usd) == ("To the crew on row 9.", 2, Decimal(9_450))
    assert told(client, unit) == [
        "Sal Brandt sold unit T-1, May 4, 2026: To the crew on row 9.",
        "Sal Brandt sold unit T-1 for $9,200.",
    ]
    change = Change.objects.get(action="sold")
    assert (change.field, change.old, change.new) == ("status", "in the yard", "sold")


def test_a_sold_unit_leaves_the_list_and_says_so(unit, as_role):
    take(as_role("owner"), unit, "sell", day="2026-05-04", sold_for_usd="9,200", note="")
    assert as_role("viewer").get(reverse("yard")).context["rows"] == []
    [(listed, _, days)] = as_role("viewer").get(reverse("yard") + "?status=sold").context["rows"]
    # March 2 to May 4, by hand: 29 days of March, 30 of April, 4 of May
    assert (listed.pk, days) == (unit.pk, 63)
    for role in ("owner", "sales", "hand", "viewer"):
        page = as_role(role).get(unit.get_absolute_url()).content.decode()
        assert "<strong>Sold</strong> May 4, 2026" in page
        assert ("$9,200" in page) == (role in ("owner", "sales")), role
        assert ("Bring back" in page) == (role in ("owner", "sales")), role
    page = as_role("viewer").get(reverse("changes")).content.decode()
    assert "sold unit T-1" in page
    assert "9,200" not in page


def test_what_was_sold_reads_as_before_and_comes_back(unit, as_role):
    before = trailer_of(unit).model_dump()
    client = as_role("owner")
    take(client, unit, "sell", sold_for_usd="9000")
    take(client, unit, "bring-back", note="The buyer's bank said no")
    now = Unit.objects.get()
    assert (now.status, now.sold_for_usd, now.status_note) == ("in-stock", None, "The buyer's bank said no")
    assert trailer_of(now).model_dump() == before
    assert told(client, unit)[-1] == "Ruth Calder brought unit T-1 back: The buyer's bank said no."


def test_holding_and_releasing(unit, as_role):
    client = as_role("sales")
    take(client, unit, "hold", note="for a landscaper, until Friday")
    page = client.get(unit.get_absolute_url()).content.decode()
    assert "Held for a buyer" in page
    assert "for a landscaper, until Friday" in page
    take(client, unit, "release")
    assert Unit.objects.get().status == "in-stock"
    assert told(client, unit) == [
        "Sal Brandt held unit T-1 for a buyer: for a landscaper, until Friday.",
        "Sal Brandt released unit T-1.",
    ]


def test_taking_in_what_was_expected(make_unit, as_role):
    unit = make_unit("E-1", status="on-order", arrived=None)
    client = as_role("sales")
    day = clock.today() - timedelta(days=3)
    take(client, unit, "take-in", day=day.isoformat())
    now = Unit.objects.get()
    assert (now.status, now.arrived, now.days_here(today=clock.today())) == ("in-stock", day, 3)


def test_retiring(unit, as_role):
    client = as_role("owner")
    take(client, unit, "retire", note="Bent frame.")
    assert Unit.objects.get().status == "retired"
    assert told(client, unit) == ["Ruth Calder retired unit T-1: Bent frame."]


@pytest.mark.parametrize("status", [s.value for s in Status])
@pytest.mark.parametrize("step", STEPS, ids=[s.key for s in STEPS])
def test_each_step_is_taken_from_where_it_begins_and_nowhere_else(make_unit, as_role, step, status: str):
    unit = make_unit("S-1", status=status)
    client, may = as_role("owner"), status in step.begins
    assert (step in steps_of(unit)) == may
    page = client.get(unit.get_absolute_url()).content.decode()
    assert (step_of(unit, step.key) in page) == may
    if may:
        take(client, unit, step.key)
        assert Unit.objects.get().status == step.to
        return
    for answer in (client.get(step_of(unit, step.key)), client.post(step_of(unit, step.key))):
        assert answer.headers["Location"] == unit.get_absolute_url()
    said = client.get(unit.get_absolute_url()).content.decode()
    assert f"Unit S-1 is {Status(status).label} already; nothing was changed." in said
    assert Unit.objects.get().version == 1


def test_no_unit_is_stuck():
    for status in Status:
        assert any(status in step.begins for step in STEPS), status


def test_faults_stand_at_their_fields_and_nothing_is_written(unit, as_role):
    client, later = as_role("owner"), clock.today() + timedelta(days=1)
    faults = {
        "day": [("", "Give the day."), ("soon", "Must be a day such as 2026-03-02.")],
        "sold_for_usd": [("lots", 'Must be an amount such as "$12,500", not "lots".')],
    }
    faults["day"] += [
        (later.isoformat(), "This day has not come yet; give today or an earlier day."),
        ("2026-03-01", "It came on Mar 2, 2026; give that day or a later one."),
    ]
    for field, cases in faults.items():
        for text, fault in cases:
            answer = take(client, unit, "sell", **{field: text})
            assert answer.status_code == 200
            assert answer.context["form"].errors == {field: [fault]}, text
    assert take(client, unit, "sell", sold_for_usd="-5").context["form"].errors
    assert take(client, unit, "sell", note="x" * 201).context["form"].errors
    assert Unit.objects.get().version == 1
    assert take(client, unit, "sell", sold_for_usd="").status_code == 302
    assert Unit.objects.get().sold_for_usd is None


def test_somebody_saved_it_meanwhile(unit, as_role):
    first, second = as_role("owner"), as_role("sales")
    url = step_of(unit, "sell")
    form = page_form(second, url)
    edit = reverse("unit-edit", args=[unit.stock_number])
    first.post(edit, page_form(first, edit) | {"price_usd": "8,900"})
    answer = second.post(url, form | {"note": "mine"})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Ruth Calder saved this unit at " in page
    assert "changed the price of unit T-1 from $9,450 to $8,900." in page
    assert Unit.objects.get().status == "in-stock"
    assert form_in(page)["note"] == "mine", "nothing typed is lost"
    assert second.post(url, form_in(page)).status_code == 302
    assert Unit.objects.get().status == "sold"


def test_two_sell_it_at_once(unit, as_role):
    first, second = as_role("owner"), as_role("sales")
    url = step_of(unit, "sell")
    forms = [page_form(client, url) for client in (first, second)]
    first.post(url, forms[0])
    assert second.post(url, forms[1]).headers["Location"] == unit.get_absolute_url()
    assert "is sold already; nothing was changed." in second.get(unit.get_absolute_url()).content.decode()
    assert Change.objects.filter(action="sold").count() == 1


@pytest.mark.parametrize("sent", ["", "nonsense"])
def test_a_form_that_does_not_say_what_it_saw_changes_nothing(unit, as_role, sent: str):
    client, url = as_role("owner"), step_of(unit, "sell")
    answer = client.post(url, page_form(client, url) | {"seen": sent})
    assert answer.status_code == 409
    assert Unit.objects.get().status == "in-stock"


def test_a_price_is_not_smuggled_into_another_step(unit, as_role):
    take(as_role("owner"), unit, "hold", sold_for_usd="1")
    assert Unit.objects.get().sold_for_usd is None


def test_a_status_set_in_the_unit_s_form_is_since_today(unit, as_role):
    client = as_role("owner")
    take(client, unit, "hold", note="for one buyer", day="2026-03-05")
    url = reverse("unit-edit", args=[unit.stock_number])
    client.post(url, page_form(client, url) | {"status": "sold"})
    now = Unit.objects.get()
    assert (now.status, now.status_since, now.status_note) == ("sold", clock.today(), "")


def test_no_such_step(unit, as_role):
    assert as_role("owner").get(step_of(unit, "give-away")).status_code == 404
    assert set(BY_KEY) == {"sell", "hold", "release", "take-in", "bring-back", "retire"}
