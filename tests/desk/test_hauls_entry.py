"""A haul entered on one page: classes stand in, what is written governs, faults all at once, nothing typed is lost."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from desk.conftest import HAUL
from desk.pages import form_in, page_form
from rubrail.desk.forms import seen
from rubrail.desk.hauls import stored
from rubrail.desk.models import Change, Haul, Machine, Truck
from rubrail.desk.quick import Base, is_typical, over_again, shown, truck_specs
from rubrail.desk.stock import leaves
from rubrail.things.classes import cargo_classes, truck_classes

NEW = "/hauls/new/"


def text(answer) -> str:
    return answer.content.decode()


def begun(client: Client, **query: str) -> dict[str, str]:
    """What a browser would send of the page for a truck and a piece chosen in the address."""
    return form_in(text(client.get(NEW, query)))


def entered(client: Client, form: dict[str, str]) -> Haul:
    answer = client.post(NEW, form)
    assert answer.status_code == 302, text(answer)
    return Haul.objects.get(pk=int(answer["Location"].strip("/").split("/")[-1]))


ONE_TON = {"truck": "class:one-ton-dual", "piece": "class:track-loader-mid"}


def test_a_class_stands_in_whole_and_every_figure_stays_typical(people, as_role):
    client = as_role("sales")
    haul = entered(client, begun(client, **ONE_TON) | {"buyer": "Ines Harrow"})
    assert (haul.buyer, haul.title) == ("Ines Harrow", "")
    own, its_class = dict(leaves(haul.spec["truck"])), dict(leaves(stored(truck_classes()["one-ton-dual"])))
    measured = {path: v for path, v in own.items() if isinstance(v, dict) and "basis" in v}
    assert measured
    assert all(is_typical(v) for v in measured.values())
    assert own["ratings.gvwr_lb"] == its_class["ratings.gvwr_lb"]
    piece = haul.spec["cargo"][0]["piece"]
    assert piece == stored(cargo_classes()["track-loader-mid"])


def test_only_the_hitch_a_class_mostly_has_is_there_until_somebody_ticks_more(people, as_role):
    client = as_role("sales")
    form = begun(client, **ONE_TON)
    assert [h["kind"] for h in entered(client, form).spec["truck"]["hitch"]] == ["ball", "ball"]
    kinds = [h.kind for h in truck_classes()["one-ton-dual"].hitch]
    ticked = form | {f"truck.hitch.{kinds.index('gooseneck')}:has": "on"}
    assert [h["kind"] for h in entered(client, ticked).spec["truck"]["hitch"]] == ["ball", "ball", "gooseneck"]
    none = {k: v for k, v in form.items() if not k.endswith(":has")}
    assert "hitch" not in entered(client, none).spec["truck"], "nobody looked is not none"


def test_a_hitch_of_a_kind_the_truck_had_not_is_ticked_and_rated(haul, as_role):
    client, url = as_role("sales"), reverse("haul-edit", args=[haul.pk])
    form = page_form(client, url)
    assert not [name for name in form if name.endswith(":has")], "nobody has said what hitches it has"
    kinds = ("ball", "gooseneck", "kingpin", "pintle")
    n = kinds.index("gooseneck")
    sent = {f"truck.hitch.{n}:has": "on", f"truck.hitch.{n}.gross_rating_lb": "30,000"}
    assert client.post(url, form | sent).status_code == 302
    hitch = Haul.objects.get(pk=haul.pk).spec["truck"]["hitch"]
    assert hitch == [{"kind": "gooseneck", "gross_rating_lb": {"value": 30_000.0, "basis": "label"}}]
    wrong = {f"truck.hitch.{n - 1}.gross_rating_lb": "a lot"}
    page = text(client.post(url, page_form(client, url) | wrong | {"truck.hitch.1:has": "on"}))
    assert "a lot" in page


def test_a_truck_without_any_hitch_stays_without(make_haul, as_role):
    haul = make_haul(truck=HAUL["truck"] | {"hitch": []})
    client, url = as_role("sales"), reverse("haul-edit", args=[haul.pk])
    client.post(url, page_form(client, url) | {"notes": "Has none."})
    assert Haul.objects.get(pk=haul.pk).spec["truck"]["hitch"] == []


def test_what_is_written_governs_with_its_basis_and_its_units(people, as_role):
    client = as_role("sales")
    form = begun(client, **ONE_TON) | {
        "truck.ratings.gvwr_lb": "13,900",
        "truck.ratings.gvwr_lb:basis": "label",
        "truck.size.wheelbase_in": "14 ft 6 in",
        "truck.size.wheelbase_in:basis": "measured",
        "piece.0.weight_lb": "4 t",
        "piece.0.weight_lb:basis": "weighed",
        "piece.0:count": "2",
        "piece.0:facing": "rear-first",
        "piece.0.attachments": "bucket; forks",
        "use": "farm",
        "interstate": "no",
        "license_held": "regular",
        "roads": "county roads; state highway",
    }
    haul = entered(client, form)
    truck, load = haul.spec["truck"], haul.spec["cargo"][0]
    assert truck["ratings"]["gvwr_lb"] == {"value": 13_900.0, "basis": "label"}
    assert is_typical(truck["ratings"]["rear_gawr_lb"])
    assert truck["size"]["wheelbase_in"]["value"] == 174  # 14 x 12 + 6
    # 4,000 kg / 0.45359237 kg = 8,818.49 lb, by hand
    assert load["piece"]["weight_lb"]["value"] == pytest.approx(8_818.49, abs=0.01)
    assert load["piece"]["weight_lb"]["basis"] == "weighed"
    assert (load["count"], load["facing"], load["piece"]["attachments"]) == (2, "rear-first", ["bucket", "forks"])
    assert (haul.spec["use"], haul.spec["interstate"], haul.spec["license_held"]) == ("farm", False, "regular")
    assert haul.spec["roads"] == ["county roads", "state highway"]
    assert haul.spec["limits"]["id"] == "federal"


def test_the_placard_stands_in_for_the_axle_weights(people, as_role):
    client = as_role("sales")
    form = begun(client, **ONE_TON) | {"truck.ratings.gvwr_lb": "14,000", "truck:payload": "5,400"}
    weights = entered(client, form).spec["truck"]["weights"]
    # 14,000 - 5,400 = 8,600 lb empty, divided as the class is: 4,950 to 3,400 of 8,350, by hand 5,098 and 3,502
    assert {k: v["value"] for k, v in weights.items()} == {"front_axle_lb": 5_098, "rear_axle_lb": 3_502}
    assert {v["basis"] for v in weights.values()} == {"estimated"}


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({"truck:payload": "5,400"}, "Needs the GVWR from the same door frame"),
        ({"truck:payload": "a lot", "truck.ratings.gvwr_lb": "14,000"}, "Must be a weight such as"),
        ({"truck:payload": "15,000", "truck.ratings.gvwr_lb": "14,000"}, "Must be less than the GVWR"),
        (
            {"truck:payload": "5,000", "truck.ratings.gvwr_lb": "14,000", "truck.weights.front_axle_lb": "5,000"},
            "Must be left out where the axle weights are known",
        ),
    ],
)
def test_a_placard_that_cannot_be_used_is_said(people, as_role, sent: dict, said: str):
    client = as_role("sales")
    answer = client.post(NEW, begun(client, **ONE_TON) | sent)
    assert answer.status_code == 200
    assert said in text(answer)
    assert not Haul.objects.exists()


def test_more_aboard_rides_in_the_cab_and_over_the_rear_axle(people, as_role):
    client = as_role("sales")
    haul = entered(client, begun(client, **ONE_TON) | {"truck:cab": "180", "truck:bed": "350 lb"})
    gear = haul.spec["truck"]["gear"]
    assert [(g["says"], g["weight_lb"]["value"]) for g in gear[1:]] == [
        ("more in the cab", 180.0),
        ("more in the bed", 350.0),
    ]
    # 0.4 of the class's wheelbase of 175 in, and all of it
    assert [g["behind_front_axle_in"]["value"] for g in gear[1:]] == [70.0, 175.0]


def test_all_faults_at_once_each_beside_its_field_and_nothing_typed_is_lost(people, as_role):
    client = as_role("sales")
    sent = {
        "buyer": "Ines Harrow",
        "truck.ratings.gvwr_lb": "heavy",
        "truck.hitch.1.gross_rating_lb": "9 ft",
        "piece.0.weight_lb": "999,999,999",
        "piece.0:count": "many",
        "limits.width_in": "1 in",
        "notes": "Comes back Friday.",
    }
    answer = client.post(NEW, begun(client, **ONE_TON) | sent)
    page = text(answer)
    assert answer.status_code == 200
    assert not Haul.objects.exists()
    back = form_in(page)
    for name, value in sent.items():
        assert back[name].strip() == value, name
        if name not in ("buyer", "notes"):
            assert f'id="id_{name}_error"' in page, f"a fault beside {name}"
    assert page.count("field__fault") >= 5


def test_an_axle_heavier_than_its_rating_is_said_at_the_axle(people, as_role):
    client = as_role("sales")
    sent = {"truck.ratings.rear_gawr_lb": "6,000", "truck.weights.rear_axle_lb": "6,500"}
    page = text(client.post(NEW, begun(client, **ONE_TON) | sent))
    assert 'id="id_truck.weights.rear_axle_lb_error"' in page
    assert not Haul.objects.exists()


def test_another_class_keeps_what_was_typed_and_takes_the_rest(people, as_role):
    client = as_role("sales")
    form = begun(client, **ONE_TON) | {"truck.ratings.gvwr_lb": "13,900", "buyer": "Ines Harrow"}
    again = form_in(text(client.post(NEW, form | {"truck:from": "class:half-ton", "again": "yes"})))
    assert again["truck:shown"] == "class:half-ton"
    assert again["truck.ratings.gvwr_lb"] == "13,900"
    assert again["buyer"] == "Ines Harrow"
    assert again["truck.title"] == truck_classes()["half-ton"].title
    assert not Haul.objects.exists()


def test_a_kept_truck_chosen_and_saved_without_a_look_keeps_its_label_values(people, as_role):
    spec = {"id": "d", "title": "Dale's truck", "ratings": {"gvwr_lb": {"value": 13_300.0, "basis": "label"}}}
    kept = Truck.objects.create(name="Dale's truck", spec=spec)
    client = as_role("sales")
    # Without script the fields sent are those of the class that was there before.
    form = begun(client, **ONE_TON) | {"truck:from": f"kept:{kept.pk}"}
    truck = entered(client, form).spec["truck"]
    assert truck["ratings"]["gvwr_lb"] == {"value": 13_300.0, "basis": "label"}
    assert truck["title"] == "Dale's truck"


def test_clearing_a_known_value_makes_it_unknown(haul, as_role):
    client, url = as_role("sales"), reverse("haul-edit", args=[haul.pk])
    assert client.post(url, page_form(client, url) | {"truck.ratings.rear_gawr_lb": ""}).status_code == 302
    haul.refresh_from_db()
    assert "rear_gawr_lb" not in haul.spec["truck"]["ratings"]
    assert "gvwr_lb" in haul.spec["truck"]["ratings"]


def test_pieces_come_and_go_without_script(people, as_role):
    client = as_role("sales")
    form = begun(client, **ONE_TON) | {"piece.0.weight_lb": "9,100"}
    two = form_in(text(client.post(NEW, form | {"more": "piece"})))
    assert two["piece:count"] == "2"
    two |= {"piece.1:from": "class:zero-turn-mower", "piece.1.weight_lb": "1,500"}
    one = form_in(text(client.post(NEW, two | {"drop": "0"})))
    assert (one["piece:count"], one["piece.0:from"], one["piece.0.weight_lb"]) == (
        "1",
        "class:zero-turn-mower",
        "1,500",
    )
    haul = entered(client, two)
    assert [load["piece"]["weight_lb"]["value"] for load in haul.spec["cargo"]] == [9_100.0, 1_500.0]


def test_two_of_a_class_are_told_apart(people, as_role):
    client = as_role("sales")
    two = form_in(text(client.post(NEW, begun(client, **ONE_TON) | {"more": "piece"})))
    haul = entered(client, two | {"piece.1:from": "class:track-loader-mid"})
    assert [load["piece"]["id"] for load in haul.spec["cargo"]] == ["track-loader-mid", "track-loader-mid-2"]


def test_a_block_of_bales_asks_for_the_weight_of_one(people, as_role):
    client = as_role("sales")
    form = begun(client, truck="class:one-ton-dual", piece="class:round-bales-4x5")
    haul = entered(client, form | {"piece.0.pieces.weight_lb": "880", "piece.0.pieces.count": "14"})
    pieces = haul.spec["cargo"][0]["piece"]["pieces"]
    assert (pieces["count"], pieces["weight_lb"]["value"], pieces["abreast"]) == (14, 880.0, 2)


def test_a_state_that_sets_a_limit_after_all(people, as_role):
    client = as_role("sales")
    form = begun(client, **ONE_TON)
    assert "limits.gross_lb" in form
    limits = entered(client, form | {"limits.rear_overhang_in": "4 ft"}).spec["limits"]
    assert limits["rear_overhang_in"]["value"] == 48
    assert "rear_overhang_in" not in limits.get("no_limit", ())


def test_page_of_a_haul_saved_as_it_is_changes_nothing(haul, as_role):
    client, url = as_role("owner"), reverse("haul-edit", args=[haul.pk])
    before = Haul.objects.values().get(pk=haul.pk)
    assert client.post(url, page_form(client, url)).status_code == 302
    assert Haul.objects.values().get(pk=haul.pk) == before
    assert not Change.objects.exists()


def test_every_invented_haul_survives_its_own_page_unchanged(people, as_role):
    from importlib.resources import files

    from rubrail.desk.demo_yard import load_folder

    load_folder(files("rubrail.demo") / "yard", by=None)
    client = as_role("owner")
    for haul in Haul.objects.all():
        url = reverse("haul-edit", args=[haul.pk])
        assert client.post(url, page_form(client, url)).status_code == 302, haul
        assert Haul.objects.get(pk=haul.pk).spec == haul.spec, haul


def test_changes_are_told_in_sentences(haul, as_role):
    client, url = as_role("sales"), reverse("haul-edit", args=[haul.pk])
    sent = {"buyer": "Dale Prewitt Jr", "truck.ratings.rear_gawr_lb": "9,650", "piece.0.weight_lb": "10,400"}
    client.post(url, page_form(client, url) | sent | {"interstate": "yes", "piece.0:count": "2"})
    assert {c.sentence for c in Change.objects.all()} == {
        "Sal Brandt changed the buyer of haul Dale Prewitt Jr: Loader to the next job from Dale Prewitt to Dale "
        "Prewitt Jr.",
        "Sal Brandt changed the truck's rear GAWR of haul Dale Prewitt Jr: Loader to the next job from 9,750 lb "
        "(label) to 9,650 lb (label).",
        "Sal Brandt changed the weight of the Track loader of haul Dale Prewitt Jr: Loader to the next job from "
        "10,200 lb (maker, ± 306 lb) to 10,400 lb (maker, ± 312 lb).",
        "Sal Brandt changed the interstate of haul Dale Prewitt Jr: Loader to the next job from no to yes.",
        "Sal Brandt changed the count of piece 1 of haul Dale Prewitt Jr: Loader to the next job from 1 to 2.",
    }


def test_another_truck_is_told_as_one_change(haul, as_role):
    client, url = as_role("sales"), reverse("haul-edit", args=[haul.pk])
    client.post(url, page_form(client, url) | {"truck:from": "class:half-ton"})
    told = Change.objects.get()
    half_ton = truck_classes()["half-ton"].title
    assert (told.field, told.old, told.new) == ("truck", "One-ton, dual rear wheels", half_ton)


def test_who_saves_second_is_told_and_nothing_is_lost(haul, as_role):
    url = reverse("haul-edit", args=[haul.pk])
    first, second = as_role("sales"), as_role("owner")
    form = page_form(second, url)
    first.post(url, page_form(first, url) | {"truck.ratings.rear_gawr_lb": "9,650"})
    answer = second.post(url, form | {"truck.ratings.gvwr_lb": "13,900"})
    page = text(answer)
    assert answer.status_code == 409
    assert "Somebody saved this while you had it open" in page
    assert "truck&#x27;s rear GAWR" in page
    again = form_in(page)
    assert (again["truck.ratings.rear_gawr_lb"], again["truck.ratings.gvwr_lb"]) == ("9,650", "13,900")
    assert second.post(url, again).status_code == 302
    ratings = Haul.objects.get(pk=haul.pk).spec["truck"]["ratings"]
    assert (ratings["rear_gawr_lb"]["value"], ratings["gvwr_lb"]["value"]) == (9_650.0, 13_900.0)
    assert seen.unpack("x") is None


def test_new_page_asks_as_much_with_a_hundred_kept_as_with_one(people, as_role, django_assert_num_queries):
    client = as_role("sales")
    Truck.objects.create(name="T", spec={"id": "t"})
    Machine.objects.create(name="M", spec={"id": "m"})
    with django_assert_num_queries(4) as few:
        client.get(NEW)
    Truck.objects.bulk_create(Truck(name=f"T{n}", spec={"id": f"t{n}"}) for n in range(99))
    Machine.objects.bulk_create(Machine(name=f"M{n}", spec={"id": f"m{n}"}) for n in range(99))
    with django_assert_num_queries(len(few.captured_queries)):
        client.get(NEW)


def test_typed_over_a_class_stays_through_every_class():
    classes = truck_classes()
    was = Base("class:one-ton-dual", stored(classes["one-ton-dual"]))
    texts = shown(was, truck_specs(was), "truck.", measures="us") | {"truck.ratings.gvwr_lb": "13,900"}
    for name, thing in classes.items():
        now = Base(f"class:{name}", stored(thing))
        texts = over_again(texts, was=was, now=now, make=truck_specs, prefix="truck.")
        assert texts["truck.ratings.gvwr_lb"] == "13,900", name
        assert texts["truck.title"] == thing.title
        was = now
