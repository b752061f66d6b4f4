"""Units: in and out of the database whole, added, corrected, found, sorted."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse

from desk.conftest import TABLE
from desk.pages import page_form
from rubrail.desk.forms.unit import counts_of, table_of, texts_of
from rubrail.desk.models import Change, Unit
from rubrail.desk.stock import leaves, prune, put_together, take_apart, trailer_of
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer


def said(trailer: Trailer) -> dict:
    """Everything a trailer says. The basis of a whole table is written at each of its values, and so left out."""
    return prune(trailer.model_dump(by_alias=True, exclude_none=True))


def invented_yard() -> list[Trailer]:
    from importlib.resources import files

    from rubrail.things.folder import load_yard

    trailers = list(load_yard(files("rubrail.demo") / "yard").trailers.values())
    assert len(trailers) >= 40
    return trailers


def test_a_trailer_comes_back_from_the_database_as_it_went_in(make_unit):
    went_in = read_thing(Trailer, {**TABLE, "id": "T-1"})
    unit = Unit.objects.get(pk=make_unit().pk)
    assert said(read_thing(Trailer, put_together(unit, with_cost=True))) == said(went_in)
    assert trailer_of(unit).cost_usd is None, "the cost goes nowhere unasked"


def test_every_unit_of_the_invented_yard_comes_back_whole(db):
    for trailer in invented_yard():
        stored = Unit.objects.create(**take_apart(trailer))
        again = read_thing(Trailer, put_together(Unit.objects.get(pk=stored.pk), with_cost=True))
        assert said(again) == said(trailer), trailer.id


@pytest.mark.parametrize("measures", ["us", "metric"])
def test_every_unit_of_the_invented_yard_survives_its_own_form_unchanged(measures):
    for trailer in invented_yard():
        stored = put_together(Unit(**take_apart(trailer)), with_cost=True)
        texts = texts_of(stored, measures=measures)
        back = table_of(texts, stored=stored, counts=counts_of(stored), measures=measures)
        assert said(read_thing(Trailer, back)) == said(trailer), trailer.id


def test_derived_columns(unit):
    assert unit.gvwr_lb == 14_000
    assert unit.empty_weight_lb == 3_350
    assert unit.deck_length_in == 240
    assert unit.deck_height_in == 24.25
    assert unit.axle_count == 2
    assert (unit.price_usd, unit.cost_usd) == (Decimal("9450"), Decimal("7800"))
    assert unit.days_here(today=date(2026, 3, 9)) == 7
    assert unit.days_here(today=date(2026, 3, 1)) is None


@pytest.mark.parametrize(
    ("deck", "length"),
    [
        ({"flat_length_in": 240, "tail_kind": "fixed", "tail_length_in": 60}, 300),
        ({"flat_length_in": 240, "tail_kind": "fixed"}, None),
        ({"flat_length_in": 240, "tail_kind": "none"}, 240),
        ({"tail_kind": "none"}, None),
        ({}, None),
    ],
)
def test_a_deck_with_an_unknown_part_has_no_known_length(make_unit, deck: dict, length: float | None):
    assert make_unit(deck=deck).deck_length_in == length


def test_form_shows_what_is_stored_and_saving_it_changes_nothing(unit, as_role):
    client, url = as_role("owner"), reverse("unit-edit", args=[unit.stock_number])
    before = Unit.objects.values().get(pk=unit.pk)
    answer = client.post(url, page_form(client, url))
    assert answer.headers["Location"] == unit.get_absolute_url()
    assert Unit.objects.values().get(pk=unit.pk) == before
    assert Change.objects.filter(action="changed").count() == 0


def test_correcting_a_number_changes_that_alone_and_tells_it(unit, as_role):
    client, url = as_role("hand"), reverse("unit-edit", args=[unit.stock_number])
    form = page_form(client, url) | {"deck.height_in": "2 ft 1 in", "deck.height_in:basis": "measured"}
    assert client.post(url, form).status_code == 302
    now = Unit.objects.get(pk=unit.pk)
    assert now.deck_height_in == 25
    assert now.version == unit.version + 1
    before, after = dict(leaves(unit.spec)), dict(leaves(now.spec))
    assert {p for p in after if after[p] != before.get(p)} == {"deck.height_in"}
    assert now.cost_usd == unit.cost_usd, "what the yard hand may not see stays"
    told = Change.objects.get(action="changed")
    assert told.sentence == (
        "Hank Ito changed the deck height of unit T-1 from 24.25 in (measured, ± 0.75 in) "
        "to 25 in (measured, ± 0.5 in)."
    )
    assert (told.old, told.new) == ("24.25 in (measured, ± 0.75 in)", "25 in (measured, ± 0.5 in)")


def test_what_was_not_known_and_what_is_taken_away(unit, as_role):
    client, url = as_role("owner"), reverse("unit-edit", args=[unit.stock_number])
    form = page_form(client, url) | {"weights.empty_lb": "", "weights.empty_coupler_lb": "540", "price_usd": "9,250"}
    client.post(url, form)
    assert {c.sentence for c in Change.objects.filter(action="changed")} == {
        "Ruth Calder changed the price of unit T-1 from $9,450 to $9,250.",
        "Ruth Calder took away the empty weight of unit T-1; it was 3,350 lb (weighed, ± 40 lb).",
        "Ruth Calder set the empty coupler load of unit T-1 to 540 lb (estimated, ± 100 lb); it was not known.",
    }


def test_faults_stand_at_their_fields_all_at_once_and_nothing_is_saved(unit, as_role):
    client, url = as_role("owner"), reverse("unit-edit", args=[unit.stock_number])
    form = page_form(client, url) | {
        "ratings.gvwr_lb": "heavy",
        "axle.1.gawr_lb": "-5",
        "arrived": "yesterday",
        "price_usd": "lots",
    }
    answer = client.post(url, form)
    faults = answer.context["form"].errors
    assert set(faults) == {"ratings.gvwr_lb", "axle.1.gawr_lb", "arrived", "price_usd"}
    assert "heavy" in faults["ratings.gvwr_lb"][0]
    assert faults["axle.1.gawr_lb"][0] == 'Must be 500 to 40,000 lb, not "-5".'
    for sentence in (f for several in faults.values() for f in several):
        assert sentence.endswith(".")
        assert sentence[0].isupper()
    page = answer.content.decode()
    assert 'value="heavy"' in page, "what was typed stays"
    assert page.count('aria-invalid="true"') == 4
    assert Unit.objects.get(pk=unit.pk).version == unit.version


def test_contradiction_is_told(unit, as_role):
    client, url = as_role("owner"), reverse("unit-edit", args=[unit.stock_number])
    answer = client.post(url, page_form(client, url) | {"weights.empty_lb": "20,000"})
    assert "14,000" in str(answer.context["form"].errors)
    assert Unit.objects.get(pk=unit.pk).empty_weight_lb == 3_350


def test_one_more_axle_and_one_less(unit, as_role):
    client, url = as_role("owner"), reverse("unit-edit", args=[unit.stock_number])
    answer = client.post(url, page_form(client, url) | {"more": "axle"})
    assert answer.status_code == 200
    assert 'name="axle.2.gawr_lb"' in answer.content.decode()
    assert Unit.objects.get(pk=unit.pk).version == unit.version
    form = page_form(client, url) | {"axle:count": "3", "axle.2.gawr_lb": "7000", "axle.2.from_coupler_in": "258"}
    client.post(url, form)
    assert Unit.objects.get(pk=unit.pk).axle_count == 3
    client.post(url, page_form(client, url) | {"axle.0:drop": "on"})
    now = Unit.objects.get(pk=unit.pk)
    assert [a["from_coupler_in"]["value"] for a in now.spec["axle"]] == [224, 258]


def test_adding_a_unit(as_role, people):
    client, url = as_role("sales"), reverse("unit-new")
    form = page_form(client, url) | {
        "stock_number": "N-7",
        "coupling.kind": "gooseneck",
        "axle.0.gawr_lb": "12000",
        "axle.1.gawr_lb": "12000",
        "price_usd": "$21,450",
    }
    answer = client.post(url, form)
    unit = Unit.objects.get()
    assert answer.headers["Location"] == unit.get_absolute_url()
    assert (unit.coupling_kind, unit.price_usd, unit.created_by) == ("gooseneck", Decimal(21450), people["sales"])
    assert Change.objects.get().sentence == "Sal Brandt added unit N-7."
    again = client.post(url, form | {"stock_number": "n-7"})
    assert "Another unit has this stock number already" in again.content.decode()
    assert Unit.objects.count() == 1


def test_a_new_unit_needs_a_stock_number_and_a_coupling(as_role, people):
    client, url = as_role("sales"), reverse("unit-new")
    errors = client.post(url, page_form(client, url)).context["form"].errors
    assert {"stock_number", "coupling.kind"} <= set(errors)
    assert not Unit.objects.exists()


def test_an_axle_of_which_nothing_is_known_is_an_axle(as_role, people):
    client, url = as_role("sales"), reverse("unit-new")
    client.post(url, page_form(client, url) | {"stock_number": "N-8", "coupling.kind": "ball"})
    unit = Unit.objects.get()
    assert (unit.axle_count, unit.spec["axle"], unit.spec.get("ramp", [])) == (2, [{}, {}], [])
    page = client.get(unit.get_absolute_url()).content.decode()
    assert page.count("GAWR") >= 2
    edit = reverse("unit-edit", args=["N-8"])
    client.post(edit, page_form(client, edit) | {"axle.1:drop": "on"})
    assert Unit.objects.get().axle_count == 1


def test_one_like_another_copies_what_is_built_not_what_is_its_own(unit, as_role):
    form = page_form(as_role("owner"), reverse("unit-new") + "?like=T-1")
    assert form["stock_number"] == form["VIN".lower()] == form["arrived"] == form["location"] == ""
    assert form["cost_usd"] == ""
    assert form["ratings.gvwr_lb"] == "14,000"
    assert form["deck.height_in:basis"] == "measured"


def test_a_yard_hand_cannot_smuggle_in_a_price(unit, as_role):
    client, url = as_role("hand"), reverse("unit-edit", args=[unit.stock_number])
    form = page_form(client, url)
    assert not {"price_usd", "cost_usd", "status"} & set(form)
    client.post(url, form | {"price_usd": "1", "cost_usd": "1", "status": "sold", "color": "red"})
    now = Unit.objects.get(pk=unit.pk)
    assert (now.price_usd, now.cost_usd, now.status, now.color) == (unit.price_usd, unit.cost_usd, "in-stock", "red")


# ---- the list


def listed(client: Client, query: str = "") -> list[str]:
    return [unit.stock_number for unit, _, _ in client.get(reverse("yard") + query).context["rows"]]


def test_words_find(make_unit, as_role):
    make_unit("A-1", title="Gooseneck, 25 ft", color="charcoal gray")
    make_unit("A-2", title="Tilt, 20 ft", color="black")
    client = as_role("viewer")
    assert listed(client, "?words=gooseneck") == ["A-1"]
    assert listed(client, "?words=ft+BLACK") == ["A-2"]
    assert listed(client, "?words=a-") == ["A-1", "A-2"]
    page = client.get(reverse("yard") + "?words=nothing-like-it").content.decode()
    assert "No unit has all of these words" in page
    assert listed(client, "?words=%25") == [], "a percent sign is a percent sign"


def test_only_the_lot_unless_asked(make_unit, as_role):
    for status in ("in-stock", "on-order", "held", "sold", "retired"):
        make_unit(status, status=status)
    client = as_role("viewer")
    assert listed(client) == ["held", "in-stock", "on-order"]
    assert listed(client, "?status=sold") == ["sold"]
    assert len(listed(client, "?status=all")) == 5
    assert listed(client, "?status=nonsense") == listed(client)
    assert "2 units stand in the yard, 1 of them held for a buyer; 1 more is expected." in re.sub(
        r"\s+", " ", client.get(reverse("yard")).content.decode()
    )


def test_sorting_keeps_the_unknown_last_both_ways(make_unit, as_role):
    make_unit("B", price_usd="5000")
    make_unit("C", price_usd=None)
    make_unit("D", price_usd="4000")
    client = as_role("viewer")
    assert listed(client, "?sort=price") == ["D", "B", "C"]
    assert listed(client, "?sort=-price") == ["B", "D", "C"]
    assert listed(client, "?sort=nonsense") == ["B", "C", "D"]


def test_days_here_sort_by_days(make_unit, as_role):
    make_unit("old", arrived="2026-01-01")
    make_unit("new", arrived="2026-03-01")
    client = as_role("viewer")
    assert listed(client, "?sort=days") == ["new", "old"]
    assert listed(client, "?sort=-days") == ["old", "new"]


def test_metric_for_those_who_read_it(unit, as_role, people):
    people["viewer"].measures = "metric"
    people["viewer"].save()
    page = as_role("viewer").get(unit.get_absolute_url()).content.decode()
    # 14,000 lb x 0.45359237 = 6,350.29 kg, by hand
    assert '6,350 <span class="num__unit">kg</span>' in page


def test_fragment_holds_the_rows_alone(unit, as_role):
    part = as_role("viewer").get(reverse("yard"), headers={"HX-Request": "true"}).content.decode()
    assert "<html" not in part
    assert unit.stock_number in part
    restored = {"HX-Request": "true", "HX-History-Restore-Request": "true"}
    assert "<html" in as_role("viewer").get(reverse("yard"), headers=restored).content.decode()


@pytest.mark.parametrize("role", ["owner", "viewer"])
@pytest.mark.parametrize("page", ["yard", "changes", "people"])
def test_as_many_queries_for_a_hundred_as_for_one(
    make_unit, as_role, role: str, page: str, django_assert_max_num_queries
):
    if page == "people" and role != "owner":
        pytest.skip("only the owner sees it")
    client = as_role(role)
    make_unit("Q-0")
    # Session and person; then for the yard: counts by status, rows in the page, the page's rows.
    most = {"yard": 5, "changes": 5, "people": 3}[page]
    counted = []
    for number in (1, 100):
        for extra in range(Unit.objects.count(), number):
            make_unit(f"Q-{extra}")
        with django_assert_max_num_queries(most) as queries:
            assert client.get(reverse(page)).status_code == 200
        counted.append(len(queries))
    assert counted[0] == counted[1]


def test_unit_page_queries_do_not_grow_with_changes_and_photos(unit, as_role, django_assert_max_num_queries):
    client = as_role("owner")
    # Asked once each: the rates for what it costs the owner, the age of its price, the receipt it came on, and the
    # makers whose names its papers may not wear.
    with django_assert_max_num_queries(13):
        client.get(unit.get_absolute_url())


def test_odd_addresses_are_not_found(unit, as_role):
    client = as_role("owner")
    assert client.get("/unit/t-1/").status_code == 200, "capitals do not matter"
    for odd in ("/unit/T-2/", "/unit/T-1/edit/more/", "/unit/..%2Fetc/", "/photo/999/small.jpg"):
        assert client.get(odd).status_code == 404, odd
