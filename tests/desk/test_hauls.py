"""Hauls: listed and found, stored whole, looked at, put aside; what is kept of them for next time."""

from __future__ import annotations

import dataclasses
import math
from importlib.resources import files
from typing import Any

import pytest
from django.urls import reverse

from desk.conftest import HAUL
from rubrail.answers.board import match
from rubrail.desk.demo_yard import BUYERS, load_folder
from rubrail.desk.hauls import stored, thing_of
from rubrail.desk.models import Change, Haul, Machine, Truck
from rubrail.things.door import read_thing
from rubrail.things.folder import load_yard, resolve
from rubrail.things.haul import Haul as HaulThing

DEMO = files("rubrail.demo") / "yard"


def text(answer) -> str:
    return answer.content.decode()


def test_list_shows_open_hauls_and_the_others_on_asking(make_haul, as_role):
    make_haul("Ines Harrow")
    done = make_haul("Old Buyer")
    Haul.objects.filter(pk=done.pk).update(closed=True)
    client = as_role("viewer")
    shown = text(client.get(reverse("hauls")))
    assert "Ines Harrow" in shown
    assert "Old Buyer" not in shown
    assert "Old Buyer" in text(client.get(reverse("hauls") + "?show=done"))
    assert "Ines Harrow" not in text(client.get(reverse("hauls") + "?show=done"))
    both = text(client.get(reverse("hauls") + "?show=all"))
    assert "Ines Harrow" in both
    assert "Old Buyer" in both


@pytest.mark.parametrize("words", ["ines", "next job", "dual rear", "track loader", "ines loader"])
def test_found_by_buyer_purpose_truck_and_machine(make_haul, as_role, words: str):
    make_haul("Ines Harrow")
    other = {"piece": {"id": "b", "title": "Bales", "kind": "crate"}}
    make_haul("Somebody", "Hay home", truck={"id": "t", "title": "Half-ton"}, cargo=[other])
    shown = text(as_role("sales").get(reverse("hauls"), {"words": words}))
    assert "Ines Harrow" in shown
    assert "Somebody" not in shown


def test_list_asks_as_much_for_a_hundred_as_for_one(make_haul, as_role, django_assert_num_queries):
    client = as_role("sales")
    make_haul()
    client.get(reverse("hauls"))
    with django_assert_num_queries(5) as few:
        client.get(reverse("hauls"))
    for n in range(99):
        make_haul(f"Buyer {n}")
    with django_assert_num_queries(len(few.captured_queries)):
        assert "50" in text(client.get(reverse("hauls")))


def test_haul_page_asks_as_much_of_a_hundred_units_as_of_one(
    haul, make_unit, as_role, django_assert_max_num_queries, django_assert_num_queries
):
    make_unit("A-0")
    client = as_role("sales")
    with django_assert_max_num_queries(12) as few:
        client.get(haul.get_absolute_url())
    with django_assert_num_queries(len(few.captured_queries) - 3):
        client.get(haul.get_absolute_url())  # what is still unknown is kept
    for n in range(1, 100):
        make_unit(f"A-{n}")
    with django_assert_num_queries(len(few.captured_queries)):
        assert "of 100 on the lot" in text(client.get(haul.get_absolute_url()))


def test_page_says_what_goes_behind_what_and_what_is_unknown(haul, unit, as_role):
    shown = text(as_role("viewer").get(haul.get_absolute_url()))
    assert "Track loader, behind One-ton, dual rear wheels." in shown
    assert "Dale Prewitt" in shown
    assert "10,200" in shown
    assert "One unit of 1 on the lot could be told more surely." in shown
    assert "Truck&#x27;s wheelbase" in shown
    assert "Measure from front hub to rear hub." in shown
    assert reverse("haul-edit", args=[haul.pk]) not in shown, "a viewer changes nothing"
    assert reverse("board", args=[haul.pk]) in shown


def test_page_warns_of_ratings_nobody_has_read(make_haul, as_role):
    truck = HAUL["truck"] | {"ratings": {"gvwr_lb": {"value": 14_000, "basis": "typical"}, "rear_gawr_lb": 9_750}}
    shown = text(as_role("sales").get(make_haul(truck=truck).get_absolute_url()))
    assert "1 rating of this truck is only typical of its class" in shown
    assert "only typical" not in text(as_role("sales").get(make_haul().get_absolute_url()))


def test_a_haul_that_no_longer_reads_is_shown_and_said(haul, as_role):
    Haul.objects.filter(pk=haul.pk).update(spec=haul.spec | {"use": "smuggling"})
    answer = as_role("sales").get(haul.get_absolute_url())
    assert answer.status_code == 200
    assert "no longer reads" in text(answer)
    assert "smuggling" in text(answer)


def test_what_nobody_said_stays_apart_from_none(make_haul):
    unsaid = make_haul()
    assert "hitch" not in unsaid.spec["truck"]
    none = make_haul(truck=HAUL["truck"] | {"hitch": []})
    assert none.spec["truck"]["hitch"] == []
    for haul in (unsaid, none):
        again = read_thing(HaulThing, haul.spec)
        assert stored(again) == haul.spec
        assert ("hitch" in again.truck.model_fields_set) == (haul is none)


def plain(answer: Any) -> Any:
    """An answer as something to compare: not known equals not known."""
    if dataclasses.is_dataclass(answer):
        return {f.name: plain(getattr(answer, f.name)) for f in dataclasses.fields(answer)}
    if isinstance(answer, tuple | list):
        return [plain(member) for member in answer]
    return "not known" if isinstance(answer, float) and math.isnan(answer) else answer


@pytest.fixture
def demo(db: None):
    load_folder(DEMO, by=None, buyers=BUYERS)
    return load_yard(DEMO)


def test_every_invented_haul_has_a_buyer_and_comes_back_with_the_same_match(demo):
    trailers = tuple(demo.trailers.values())
    assert set(BUYERS) == set(demo.hauls)
    for name, haul in demo.hauls.items():
        whole = resolve(haul, demo)
        kept = Haul.objects.get(title=haul.title)
        assert kept.buyer == BUYERS[name]
        went_in, came_back = (match(haul=h, trailers=trailers) for h in (whole, thing_of(kept)))
        assert plain(went_in) == plain(came_back), name


def test_put_aside_and_taken_up_again(haul, as_role):
    client, url = as_role("sales"), reverse("haul-aside", args=[haul.pk])
    client.post(url, {"do": "aside"})
    haul.refresh_from_db()
    assert (haul.closed, haul.version) == (True, 2)
    client.post(url, {"do": "aside"})
    client.post(url, {"do": "up"})
    haul.refresh_from_db()
    assert (haul.closed, haul.version) == (False, 3), "what is aside already is not put aside twice"
    assert [c.sentence for c in Change.objects.order_by("pk")] == [
        "Sal Brandt put haul Dale Prewitt: Loader to the next job aside.",
        "Sal Brandt took haul Dale Prewitt: Loader to the next job up again.",
    ]


def test_keeping_leaves_the_haul_its_own_copy(haul, as_role):
    client, url = as_role("sales"), reverse("haul-keep", args=[haul.pk])
    client.post(url, {"what": "truck"})
    client.post(url, {"what": "piece-0"})
    client.post(url, {"what": "piece-7"})
    truck, machine = Truck.objects.get(), Machine.objects.get()
    assert truck.name == "One-ton, dual rear wheels"
    assert truck.spec == haul.spec["truck"]
    assert machine.spec == haul.spec["cargo"][0]["piece"]
    Truck.objects.filter(pk=truck.pk).update(spec={"id": "x"})
    assert Haul.objects.get(pk=haul.pk).spec == haul.spec
    assert Change.objects.filter(sentence="Sal Brandt kept truck One-ton, dual rear wheels for next time.").exists()


def test_what_is_told_of_a_haul_asks_for_the_hauls_permission(haul, as_role):
    as_role("sales").post(reverse("haul-aside", args=[haul.pk]), {"do": "aside"})
    assert set(Change.objects.filter(kind="haul").values_list("permission", flat=True)) == {"haul.see"}


def test_of_a_big_yard_some_units_are_looked_at_and_the_page_says_so(haul, make_unit, as_role, monkeypatch):
    monkeypatch.setattr("rubrail.desk.held_back.AT_MOST", 5)
    for n in range(12):
        make_unit(f"B-{n}")
    shown = text(as_role("sales").get(haul.get_absolute_url()))
    # 12 units in steps of 3: 4 of them
    assert "4 units of the 4 looked at, from 12 on the lot," in shown
