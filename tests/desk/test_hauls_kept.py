"""Trucks and machines kept for next time, and every field of a haul's own: begun from a class, changed, put aside."""

from __future__ import annotations

import pytest
from django.urls import reverse

from desk.pages import form_in, page_form
from rubrail.desk.hauls import stored
from rubrail.desk.kept import id_of
from rubrail.desk.models import Change, Haul, Machine, Truck
from rubrail.things.cargo import Cargo
from rubrail.things.classes import cargo_classes, truck_classes
from rubrail.things.door import read_thing
from rubrail.things.truck import Truck as TruckThing

SORTS = {"truck": (Truck, TruckThing, truck_classes), "machine": (Machine, Cargo, cargo_classes)}


def text(answer) -> str:
    return answer.content.decode()


@pytest.fixture
def truck(db: None) -> Truck:
    """A kept truck."""
    return Truck.objects.create(name="Dale's dually", spec=stored(truck_classes()["one-ton-dual"]))


@pytest.fixture
def machine(db: None) -> Machine:
    """A kept machine."""
    return Machine.objects.create(name="The big loader", spec=stored(cargo_classes()["track-loader-large"]))


@pytest.mark.parametrize(
    ("sort", "name"),
    [(sort, name) for sort, (_, _, classes) in SORTS.items() for name in classes()],
)
def test_a_class_kept_as_it_is_keeps_its_figures(people, as_role, sort: str, name: str):
    model, thing, classes = SORTS[sort]
    client, url = as_role("sales"), reverse(f"{sort}-new") + f"?from=class:{name}"
    assert client.post(url, page_form(client, url)).status_code == 302
    it, its_class = model.objects.get(), classes()[name]
    assert it.name == its_class.title
    kept = read_thing(thing, it.spec).model_dump(exclude={"id", "basis"})
    if sort == "truck":
        # Which of the hitches its class is fitted with are there, somebody has to say: those of the first kind are.
        first = tuple(h for h in its_class.hitch if h.kind == its_class.hitch[0].kind)
        its_class = its_class.model_copy(update={"hitch": first})
    # The form writes each value's basis beside it, so the basis of whole tables goes.
    assert without_basis(kept) == without_basis(its_class.model_dump(exclude={"id", "basis"}))


def without_basis(table):
    """A dumped thing without the bases of its tables."""
    if isinstance(table, dict):
        return {k: without_basis(v) for k, v in table.items() if k != "basis" or "value" in table}
    return [without_basis(v) for v in table] if isinstance(table, list | tuple) else table


def test_correcting_a_truck_is_told_and_leaves_its_hauls_alone(truck, haul, as_role):
    Haul.objects.filter(pk=haul.pk).update(spec=haul.spec | {"truck": truck.spec})
    client, url = as_role("sales"), reverse("truck-edit", args=[truck.pk])
    sent = {"ratings.rear_gawr_lb": "9,650", "ratings.rear_gawr_lb:basis": "label", "name": "Dale's old dually"}
    assert client.post(url, page_form(client, url) | sent).status_code == 302
    truck.refresh_from_db()
    assert (truck.name, truck.version) == ("Dale's old dually", 2)
    assert truck.spec["ratings"]["rear_gawr_lb"] == {"value": 9_650.0, "basis": "label"}
    assert Haul.objects.get(pk=haul.pk).spec["truck"]["ratings"]["rear_gawr_lb"]["value"] == 9_750
    assert {c.sentence for c in Change.objects.filter(kind="truck")} == {
        "Sal Brandt changed the name of truck Dale's old dually from Dale's dually to Dale's old dually.",
        "Sal Brandt changed the rear GAWR of truck Dale's old dually from 9,750 lb (typical) to 9,650 lb (label).",
    }


def test_saved_as_it_is_changes_nothing(truck, machine, as_role):
    client = as_role("sales")
    for sort, it in (("truck", truck), ("machine", machine)):
        url = reverse(f"{sort}-edit", args=[it.pk])
        before = dict(it.spec)
        assert client.post(url, page_form(client, url)).status_code == 302
        it.refresh_from_db()
        assert (it.spec, it.version) == (before, 1)
    assert not Change.objects.exists()


def test_several_places_and_words_in_one_field(machine, as_role):
    client, url = as_role("sales"), reverse("machine-edit", args=[machine.pk])
    sent = {
        "contact.kind": "wheels",
        "contact.axles_from_front_in": "4 ft; 108 in",
        "contact.axles_from_front_in:basis": "measured",
        "contact.start_from_front_in": "",
        "contact.length_in": "",
        "attachments": "bucket; forks; cab",
    }
    assert client.post(url, page_form(client, url) | sent).status_code == 302
    spec = Machine.objects.get().spec
    assert [(v["value"], v["basis"]) for v in spec["contact"]["axles_from_front_in"]] == [
        (48.0, "measured"),
        (108.0, "measured"),
    ]
    assert spec["attachments"] == ["bucket", "forks", "cab"]


def test_faults_of_several_in_one_field_stand_beside_it(machine, as_role):
    client, url = as_role("sales"), reverse("machine-edit", args=[machine.pk])
    sent = {"contact.kind": "wheels", "contact.axles_from_front_in": "48; somewhere", "weight_lb": "heavy"}
    page = text(client.post(url, page_form(client, url) | sent))
    for name in ("contact.axles_from_front_in", "weight_lb"):
        assert f'id="id_{name}_error"' in page, name
    assert form_in(page)["contact.axles_from_front_in"] == "48; somewhere"
    assert Machine.objects.get().version == 1


def test_hitches_come_and_go_and_none_is_said(truck, as_role):
    client, url = as_role("sales"), reverse("truck-edit", args=[truck.pk])
    form = page_form(client, url)
    count = int(form["hitch:count"])
    assert count == len(truck.spec["hitch"])
    more = form_in(text(client.post(url, form | {"more": "hitch"})))
    assert int(more["hitch:count"]) == count + 1
    sent = more | {f"hitch.{count}.kind": "pintle"} | {"hitch.0:drop": "on"}
    client.post(url, sent)
    truck.refresh_from_db()
    kinds = [h["kind"] for h in truck.spec["hitch"]]
    assert len(kinds) == count
    assert kinds[-1] == "pintle"
    form = page_form(client, url)
    client.post(url, form | {f"hitch.{n}:drop": "on" for n in range(count)})
    truck.refresh_from_db()
    assert truck.spec["hitch"] == [], "all taken away says that there is none"


def test_put_aside_is_no_longer_offered(truck, as_role):
    client = as_role("sales")
    key = f"kept:{truck.pk}"
    assert key in text(client.get(reverse("haul-new")))
    client.post(reverse("truck-aside", args=[truck.pk]), {"do": "aside"})
    assert key not in text(client.get(reverse("haul-new")))
    assert "dually" not in text(client.get(reverse("trucks")))
    assert "dually" in text(client.get(reverse("trucks") + "?show=aside"))
    client.post(reverse("truck-aside", args=[truck.pk]), {"do": "up"})
    assert key in text(client.get(reverse("haul-new")))


def test_like_another(truck, as_role):
    page = form_in(text(as_role("sales").get(reverse("truck-new") + f"?from=kept:{truck.pk}")))
    assert page["ratings.gvwr_lb"] == "14,000"
    assert page["ratings.gvwr_lb:basis"] == "typical"


def test_who_saves_second_is_told(truck, as_role):
    url = reverse("truck-edit", args=[truck.pk])
    first, second = as_role("sales"), as_role("owner")
    form = page_form(second, url)
    first.post(url, page_form(first, url) | {"ratings.gvwr_lb": "13,500"})
    answer = second.post(url, form | {"ratings.gcwr_lb": "37,000"})
    assert answer.status_code == 409
    assert "Somebody saved this while you had it open" in text(answer)
    again = form_in(text(answer))
    assert (again["ratings.gvwr_lb"], again["ratings.gcwr_lb"]) == ("13,500", "37,000")
    assert second.post(url, again).status_code == 302


def test_list_asks_as_much_for_a_hundred_as_for_one(truck, as_role, django_assert_num_queries):
    client = as_role("viewer")
    with django_assert_num_queries(4) as few:
        client.get(reverse("trucks"))
    Truck.objects.bulk_create(Truck(name=f"T{n}", spec={"id": f"t{n}"}) for n in range(99))
    with django_assert_num_queries(len(few.captured_queries)):
        client.get(reverse("trucks"))


def test_any_field_of_a_hauls_own_truck_and_piece(haul, as_role):
    client = as_role("sales")
    for page, sent in (
        (reverse("haul-truck", args=[haul.pk]), {"size.wheelbase_in": "14 ft 8 in"}),
        (reverse("haul-piece", args=[haul.pk, 1]), {"cg_from_front_in": "84"}),
    ):
        assert client.post(page, page_form(client, page) | sent).status_code == 302
    spec = Haul.objects.get(pk=haul.pk).spec
    assert spec["truck"]["size"]["wheelbase_in"]["value"] == 176  # 14 x 12 + 8
    assert spec["cargo"][0]["piece"]["cg_from_front_in"]["value"] == 84
    assert client.get(reverse("haul-piece", args=[haul.pk, 2])).status_code == 404
    assert {c.field for c in Change.objects.all()} == {
        "truck.size.wheelbase_in",
        "cargo.0.piece.cg_from_front_in",
    }


def test_a_piece_turned_against_the_haul_is_said(make_haul, as_role):
    cargo = [{"piece": {"id": "p", "title": "Loader"}, "facing": "rear-first"}]
    it = make_haul(cargo=cargo)
    client, url = as_role("sales"), reverse("haul-piece", args=[it.pk, 1])
    page = text(client.post(url, page_form(client, url) | {"either_way": "no"}))
    assert "front-first, because the piece may not travel either way round" in page
    assert Haul.objects.get(pk=it.pk).version == 1


@pytest.mark.parametrize(
    ("name", "expected"), [("Dale's one-ton", "dale-s-one-ton"), ("", "thing"), ("Ü", "thing"), ("a" * 99, "a" * 64)]
)
def test_ids_of_names(name: str, expected: str):
    assert id_of(name) == expected
