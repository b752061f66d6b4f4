"""The rig's page: the engine's words, places kept and moved, and what it carries adds up to what the engine says."""

from __future__ import annotations

import random

import pytest
from django.urls import reverse

from desk.rig_pages import carried, invented, sentence, standing, store_haul, store_machine, store_unit
from rubrail.answers.affine_read import read
from rubrail.answers.rig import Placement
from rubrail.answers.weigh import weigh
from rubrail.checks.verdict import WORDS
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Change, Haul, Machine, Place
from rubrail.desk.stock import trailer_of
from rubrail.desk.views import rig as rig_views
from rubrail.sheets.sentences import weighing_sentence
from rubrail.things.classes import cargo_classes

ONE_LB = 1.0
RIGS = [(4, "SH-213"), (3, "SH-133"), (1, "SH-121"), (13, "SH-133"), (5, "SH-213"), (12, "SH-121"), (7, "SH-191")]


def address(haul: Haul, unit, name: str = "rig", *more: str) -> str:
    return reverse(name, args=[haul.pk, unit.stock_number, *more])


@pytest.fixture
def three(people):
    """Three machines on a trailer that carries them."""
    return store_haul(4), store_unit("SH-213")


@pytest.mark.parametrize(("haul", "unit"), RIGS)
def test_page_opens_at_the_best_place_with_the_engines_sentence(haul: int, unit: str, as_role):
    it, there = store_haul(haul), store_unit(unit)
    page = as_role("viewer").get(address(it, there))
    assert page.status_code == 200
    weighed = weigh(haul=thing_of(it), trailer=trailer_of(there), remedies=False)
    assert sentence(page) == weighing_sentence(weighed, tried=False)
    assert [float(x) for x in standing(page)["x"]] == pytest.approx([p.front_x_in for p in weighed.pieces], abs=6e-4)


@pytest.mark.parametrize(("haul", "unit"), RIGS)
def test_what_the_page_carries_adds_up_to_what_the_engine_says(haul: int, unit: str, as_role):
    """The script's arithmetic in its Python twin, on the page's own data, against weighing the rig anew."""
    it, there = store_haul(haul), store_unit(unit)
    page = as_role("viewer").get(address(it, there))
    data, draw = carried(page), random.Random(haul)
    for _ in range(12):
        front = [round(x + draw.uniform(-90, 90), 3) for x in data["fronts"]]
        told = read(data, front)
        placement = Placement(tuple(front), tuple(data["facing"]))
        weighed = weigh(haul=thing_of(it), trailer=trailer_of(there), placement=placement, remedies=False)
        assert WORDS[told.verdict] == weighed.verdict
        for (value, spread), load in zip(told.loads, weighed.loads, strict=True):
            assert value == pytest.approx(load.value, abs=ONE_LB, nan_ok=True)
            assert spread == pytest.approx(load.most - load.value, abs=ONE_LB, nan_ok=True)
        lines = {(x.title, x.member): x for x in weighed.lines}
        assert len(lines) == len(weighed.lines)
        governing = data["rows"][told.governing]
        assert governing["id"] == weighed.governing.check


def test_confirmation_says_the_same_and_stores_nothing(three, as_role):
    haul, unit = three
    client = as_role("viewer")
    data = carried(client.get(address(haul, unit)))
    front = [x - 17.25 for x in data["fronts"]]
    sent = {"p": ["h0", "h1", "h2"], "x": [f"{x:.3f}" for x in front], "w": data["facing"], "size": "narrow"}
    answer = client.post(address(haul, unit, "rig-check"), sent).json()
    told = read(data, front)
    assert answer["verdict"] == WORDS[told.verdict]
    rows = {n: rest for n, *rest in answer["rows"]}
    for row, now in zip(data["rows"], told.rows, strict=True):
        demand, _, margin, worst, _, code = rows[row["n"]]
        assert code == now.code, row["id"]
        if None not in (demand, margin) and row["form"] != "steady":
            assert (demand, margin, worst) == pytest.approx((now.demand, now.margin, now.worst), abs=0.1), row["id"]
    assert answer["loads"][0][0] == pytest.approx(told.loads[0][0], abs=0.1)
    assert answer["drawings"]["narrow"]["side"].startswith("<svg")
    assert not Place.objects.exists()
    assert not Change.objects.filter(kind="haul").exists()


def test_confirmations_are_not_endless(three, as_role, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(rig_views, "CHECKS_A_MINUTE", 0)
    answer = as_role("viewer").post(address(*three, "rig-check"))
    assert answer.status_code == 429
    assert "Wait" in answer.json()["says"]


def test_buttons_turn_take_off_swap_and_come_back_in_the_address(three, as_role):
    client, url = as_role("viewer"), address(*three)
    here = standing(client.get(url))

    def pressed(do: str, **more: str):
        return client.get(url, {**here, "do": do, **more}, follow=True)

    turned = pressed("turn:0")
    assert standing(turned)["w"] == ["rear-first", here["w"][1], here["w"][2]]
    assert "do=" not in turned.redirect_chain[-1][0]
    assert standing(pressed("drop:1"))["p"] == ["h0", "h2"]
    swapped = [float(x) for x in standing(pressed("ahead:2"))["x"]]
    order = sorted(range(3), key=lambda i: float(here["x"][i]))
    before, after = order, sorted(range(3), key=lambda i: swapped[i])
    place = before.index(2)
    assert after == [*before[: place - 1], 2, before[place - 1], *before[place + 1 :]]
    moved = {**here, "x": [f"{float(x) + 20:.3f}" for x in here["x"]]}
    assert standing(client.get(url, {**moved, "do": "best"}, follow=True))["x"] == here["x"]
    assert standing(client.get(url, {**here, "do": "turn:9"}, follow=True)) == here


def test_adding_a_kept_machine_changes_the_page_and_not_the_haul(three, as_role):
    haul, unit = three
    machine = store_machine("scissor-lift-19")
    client, url = as_role("viewer"), address(haul, unit)
    here = standing(client.get(url))
    page = client.get(url, {**here, "do": "add", "add": f"m{machine.pk}"}, follow=True)
    assert standing(page)["p"] == [*here["p"], f"m{machine.pk}"]
    assert machine.name in page.content.decode()
    data = carried(page)
    assert len(data["reference"]) == 4
    # Behind the last piece, with the gap of a foot that nobody said otherwise.
    rear = max(x + p["length_in"] for x, p in zip(data["fronts"][:3], data["pieces"][:3], strict=True))
    assert data["fronts"][3] == pytest.approx(rear + 12, abs=1e-3)
    assert len(thing_of(Haul.objects.get(pk=haul.pk)).cargo) == 3
    gone = client.get(url, {**here, "p": [*here["p"], "m99999"]})
    assert standing(gone)["p"] == here["p"], "a machine nobody knows is left out"


def test_a_class_can_be_put_on_with_its_typical_figures(three, as_role):
    client, url = as_role("viewer"), address(*three)
    here = standing(client.get(url))
    key = f"c:{next(iter(cargo_classes()))}"
    page = client.get(url, {**here, "do": "add", "add": key}, follow=True)
    assert standing(page)["p"] == [*here["p"], key]
    why = client.get(address(*three, "rig-why", "trailer-gross"), standing(page))
    assert "basis--soft" in why.content.decode()
    assert ">typical<" in why.content.decode()


def test_a_name_cannot_break_out_of_what_the_page_carries(three, as_role):
    name = """Roller 'x'"><b>&amp; </div>"""
    machine = store_machine("scissor-lift-19")
    machine.spec = {**machine.spec, "title": name}
    machine.save()
    client, url = as_role("viewer"), address(*three)
    here = standing(client.get(url))
    page = client.get(url, {**here, "p": [*here["p"], f"m{machine.pk}", f"m{machine.pk}"]})
    assert carried(page)["names"][3:] == [f"{name} (1)", f"{name} (2)"]
    assert "<b>" not in page.content.decode()


def test_an_empty_deck_can_be_looked_at_and_filled_again(three, as_role):
    client, url = as_role("viewer"), address(*three)
    page = client.get(url, {"p": "none"})
    assert "Nothing stands on the deck" in page.content.decode()
    assert carried(page)["fronts"] == []
    again = client.get(url, {"p": "none", "do": "add", "add": "h1"}, follow=True)
    assert standing(again)["p"] == ["h1"]


@pytest.mark.parametrize(("typed", "inches"), [("102", 102.0), ("8 ft 6 in", 102.0), ("2.5 m", 98.4252), ("-3", -3.0)])
def test_a_written_place_is_taken(three, as_role, typed: str, inches: float):
    client, url = as_role("viewer"), address(*three)
    page = client.get(url)
    here, front = standing(page), carried(page)["origin_in"]
    moved = client.get(url, {**here, "at": [typed, "", ""]})
    assert float(standing(moved)["x"][0]) == pytest.approx(front + inches, abs=1e-3)


def test_a_written_place_that_cannot_be_read_is_told_beside_its_field(three, as_role):
    client, url = as_role("viewer"), address(*three)
    here = standing(client.get(url))
    page = client.get(url, {**here, "at": ["", "up front", ""], "do": "here"})
    assert page.status_code == 200
    assert 'aria-describedby="at-1-fault"' in page.content.decode()
    assert "not &quot;up front&quot;" in page.content.decode()
    assert standing(page) == here


def test_metric_fields_are_in_millimeters_and_keep_the_exact_place(three, people, as_role):
    people["viewer"].measures = "metric"
    people["viewer"].save()
    client, url = as_role("viewer"), address(*three)
    page = client.get(url)
    here, origin = standing(page), carried(page)["origin_in"]
    written = f"{(float(here['x'][0]) - origin) * 25.4:.0f}"
    assert f'name="at" value="{written}"' in page.content.decode()
    assert standing(client.get(url, {**here, "at": [written, "", ""]})) == here
    moved = client.get(url, {**here, "at": ["2540", "", ""]})
    assert float(standing(moved)["x"][0]) == pytest.approx(origin + 100, abs=1e-3)
    assert " kg" in sentence(page)


def test_why_opens_on_every_limit_with_its_source(three, as_role):
    client = as_role("viewer")
    rows = carried(client.get(address(*three)))["rows"]
    first = {row["group"]: row for row in reversed(rows)}
    for row in [*first.values(), *random.Random(7).sample(rows, 5)]:
        member = {} if row["member"] is None else {"member": row["member"]}
        page = client.get(address(*three, "rig-why", row["id"]), member, headers={"HX-Request": "true"})
        text = page.content.decode()
        assert page.status_code == 200, row["id"]
        assert "<html" not in text
        assert "Sources" in text
    whole = client.get(address(*three, "rig-why", "axle-group"))
    assert "<h1>" in whole.content.decode()
    assert client.get(address(*three, "rig-why", "no-such-check")).status_code == 404


def test_remedies_are_those_of_the_engine(as_role):
    haul, unit = store_haul(1), store_unit("SH-121")
    client = as_role("viewer")
    here = standing(client.get(address(haul, unit)))
    shoved = {**here, "x": ["250"]}
    page = client.get(address(haul, unit, "rig-remedies"), shoved)
    weighed = weigh(
        haul=thing_of(haul), trailer=trailer_of(unit), placement=Placement((250.0,), tuple(here["w"])), remedies=True
    )
    assert weighed.verdict == "over"
    assert weighed.remedies
    enough = [r for r in weighed.remedies if r.verdict != "over"]
    assert enough
    assert page.content.decode().count("<li>") == len(enough)
    assert "Nothing is over" in client.get(address(haul, unit, "rig-remedies")).content.decode()


def test_questions_to_the_database_do_not_grow(three, as_role, django_assert_num_queries):
    client, url = as_role("sales"), address(*three)
    client.get(url)
    for count in (1, 100):
        while Machine.objects.count() < count:
            store_machine("skid-steer-mid")
        # One of them for the makers known, whose names decide what of a unit's words is printed.
        with django_assert_num_queries(7):
            client.get(url)
        with django_assert_num_queries(5):
            client.post(address(*three, "rig-check"))


def test_a_coupler_that_lifts_is_not_marked_clear(as_role):
    """Far behind the axles 11,000 lb lift the coupler, which no rating of the coupler would tell."""
    haul, unit = store_haul(3), store_unit("SH-133")
    client = as_role("viewer")
    here = standing(client.get(address(haul, unit)))
    page = client.get(address(haul, unit), {**here, "x": [f"{float(here['x'][0]) + 60:.3f}"]})
    tile = page.content.decode().partition('data-watched="coupler"')[2].partition("</li>")[0]
    assert "\u2212" in tile, "less than nothing"
    assert "mark--over" in tile


def test_a_unit_or_haul_nobody_knows_is_not_found(three, as_role):
    haul, unit = three
    client = as_role("viewer")
    assert client.get(reverse("rig", args=[haul.pk + 99, unit.stock_number])).status_code == 404
    assert client.get(reverse("rig", args=[haul.pk, "NO-1"])).status_code == 404


def test_every_haul_of_the_invented_yard_has_a_page(people, as_role):
    unit, client = store_unit("SH-152"), as_role("viewer")
    for number in range(1, len(invented().hauls) + 1):
        assert client.get(address(store_haul(number), unit)).status_code == 200, number


@pytest.mark.parametrize(
    "query",
    [
        "p=h0&x=inf&w=sideways",
        "p=h0&x=1e999",
        "p=h0&x=nan&p=h1&x=-99999",
        "p=h99&x=1",
        "p=m99999999999999999999&x=1&do=add&add=m-1",
        "p=" + "&p=".join(["h0"] * 40),
        "p=h0&x=100&do=turn:-1",
        "p=h0&x=100&do=drop:x",
        "p=h0&x=100&do=ahead:7",
        "p=h0&x=100&at=" + "9" * 80,
        "p=h0&x=100&at=1e12",
        "p=h0&x=100&at=%00%01",
        "do=kept",
        "do=add&add=",
        "p=",
        "p=h0&at=12&x=",
    ],
)
def test_no_address_breaks_it(three, as_role, query: str):
    client = as_role("viewer")
    page = client.get(f"{address(*three)}?{query}", follow=True)
    assert page.status_code == 200
    assert len(standing(page)["p"]) <= 12
    fields = {}
    for part in query.split("&"):
        name, _, value = part.partition("=")
        fields.setdefault(name, []).append(value)
    assert client.post(address(*three, "rig-check"), fields).status_code == 200
