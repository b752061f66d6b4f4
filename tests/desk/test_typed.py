"""Bare numbers in forms are in the measures of who typed them; what nobody touched comes back bit for bit."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from desk.conftest import HAUL
from desk.pages import page_form
from rubrail.desk.checking import lists
from rubrail.desk.forms.spec import taken, text_of
from rubrail.desk.models import Haul, Truck, Unit, User
from rubrail.desk.spec_fields import SpecField, field_at
from rubrail.desk.typed import METRIC, US, accepted_in, number_text, unit_word, with_unit
from rubrail.quantity.basis import BASES
from rubrail.quantity.parse import parse_quantity
from rubrail.quantity.show import convert
from rubrail.things.cargo import Cargo
from rubrail.things.fields import fields_of
from rubrail.things.limits import Limits
from rubrail.things.measure import Measure
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck as TruckThing

KG_PER_LB = 0.45359237
MM_PER_IN = 25.4
"""Both exact, by definition (NIST SP 811, appendix B.8: pound avoirdupois, inch)."""


def measured() -> list[tuple[SpecField, Measure]]:
    """Every measured field of a form, with its range."""
    found = {}
    for model in (Trailer, TruckThing, Cargo, Limits):
        for field in fields_of(model):
            spec = field_at(model, field.path.replace("[]", ".0"))
            if field.measure and spec and spec.kind in ("measure", "places"):
                found[model.__name__, spec.path] = spec, field.measure
    return list(found.values())


FIELDS = measured()
MEASURES = pytest.mark.parametrize("measures", [US, METRIC])


def test_the_fields_are_all_of_those_that_forms_have():
    assert len(FIELDS) > 120
    assert {s.unit for s, _ in FIELDS} >= {"lb", "in", "psi", "deg", "ft lb", "lb/in", "lb/ft", "%"}


@MEASURES
@given(data=st.data())
def test_a_number_nobody_touched_comes_back_bit_for_bit(measures, data):
    spec, measure = data.draw(st.sampled_from(FIELDS))
    number = data.draw(st.floats(measure.low, measure.high))
    basis, other = data.draw(st.permutations(BASES))[:2]
    kept: Any = {"value": number, "basis": basis, "plus_minus": 0.1}
    if spec.kind == "places":
        kept = [kept, {"value": data.draw(st.floats(measure.low, measure.high)), "basis": basis}]
    texts = text_of(spec.path, kept, unit=spec.unit, measures=measures)
    text = texts[spec.path]
    assert taken(spec, text, texts[f"{spec.path}:basis"], kept=kept, measures=measures) == kept
    again = taken(spec, text, other, kept=kept, measures=measures)
    for old, new in zip(*([v] if isinstance(v, dict) else v for v in (kept, again)), strict=True):
        assert new == {"value": old["value"], "basis": other}, "another basis: the number stays, its tolerance goes"


@MEASURES
@given(data=st.data())
def test_of_several_numbers_in_a_field_only_the_one_that_was_touched_changes(measures, data):
    spec = field_at(Cargo, "contact.axles_from_front_in")
    numbers = data.draw(st.lists(st.floats(0, 600), min_size=2, max_size=5))
    touched = data.draw(st.integers(0, len(numbers) - 1))
    kept = [{"value": n, "basis": "measured", "plus_minus": 0.3} for n in numbers]
    parts = text_of(spec.path, kept, unit="in", measures=measures)[spec.path].split("; ")
    parts[touched] = "9999.5"
    found = taken(spec, ";".join(parts), "measured", kept=kept, measures=measures)
    want = f"9999.5{' mm' if measures == METRIC else ''}"
    assert found == [*kept[:touched], {"value": want, "basis": "measured"}, *kept[touched + 1 :]]


@MEASURES
@given(data=st.data())
def test_what_is_shown_reads_as_what_is_stored_to_half_its_last_digit(measures, data):
    spec, measure = data.draw(st.sampled_from(FIELDS))
    number = data.draw(st.floats(measure.low, measure.high))
    text, word = number_text(number, spec.unit, measures), unit_word(spec.unit, measures)
    read = parse_quantity(with_unit(text, spec.unit, measures), spec.unit)
    stored, back = (convert(n, spec.unit, word) for n in (number, read))
    places = 4 if word == spec.unit else 1 if abs(stored) >= 10 else 2
    assert abs(back - stored) <= 0.5 * 10**-places * (1 + 1e-6)


@pytest.mark.parametrize(
    ("text", "unit", "lb_or_in"),
    [
        ("6350", "lb", 6350 / KG_PER_LB),
        (" 6,350.5 ", "lb", 6350.5 / KG_PER_LB),
        ("14,000 lb", "lb", 14_000),
        ("2540", "in", 100),
        ("-25.4", "in", -1),
        ("\u221225.4", "in", -1),
        ("8 ft 6 in", "in", 102),
        ("2.54 m", "in", 100),
        ("12", "deg", 12),
    ],
)
def test_a_metric_persons_texts(text, unit, lb_or_in):
    assert parse_quantity(with_unit(text, unit, METRIC), unit) == pytest.approx(lb_or_in, rel=1e-12)


@pytest.mark.parametrize("spec_and_measure", FIELDS, ids=lambda p: p[0].path)
def test_both_ends_of_a_range_as_told_are_taken_and_what_lies_beyond_is_not(spec_and_measure):
    spec, measure = spec_and_measure
    with pytest.raises(PydanticCustomError) as refused:
        measure.read(f"{measure.high * 2 + 1000} {spec.unit}")
    told = accepted_in(refused.value.context["accepted"], METRIC)
    low, high, word = re.fullmatch(r"(\S+) to (\S+) (.+)", told).groups()
    assert word == unit_word(spec.unit, METRIC)
    for end, way in ((low, -1), (high, 1)):
        assert measure.read(f"{end} {word}") is not None
        number = float(end.replace(",", ""))
        with pytest.raises(PydanticCustomError):
            measure.read(f"{number + way * (1 if abs(number) >= 10 else 0.1)} {word}")


@pytest.mark.parametrize(
    ("said", "metric"),
    [
        ("at most ratings.gvwr_lb (14,000 lb)", "at most ratings.gvwr_lb (6,350.3 kg)"),
        ("more than of the axle ahead (200 in): front first", "more than of the axle ahead (5,080 mm): front first"),
        ("such that it (now 10 to 40 in) is in 0 to 100 in", "such that it (now 254 to 1,016 mm) is in 0 to 2,540 mm"),
        ("one for each of the 2 in contact.axles_from_front_in", ""),
        ("one of ball, gooseneck", ""),
        ("2 to 30 deg", ""),
    ],
)
def test_what_faults_accept_is_told_in_the_persons_measures(said, metric):
    assert accepted_in(said, METRIC) == (metric or said)
    assert accepted_in(said, US) == said


# the pages --------------------------------------------------------------------------------------------------------


@pytest.fixture
def metric(people: dict[str, User], as_role) -> Client:
    """Somebody of sales who reads kilograms."""
    person = people["sales"]
    person.measures = METRIC
    person.save()
    return as_role("sales")


def units_in(page: str) -> set[str]:
    return set(re.findall(r'field__unit">([^<]*)<', page))


def faults_in(page: str) -> str:
    return " ".join(re.findall(r'field__fault"><svg.*?</svg><span>(.*?)</span>', page)).replace("&quot;", '"')


def test_a_unit_in_kilograms_and_millimeters(unit: Unit, metric: Client):
    url = reverse("unit-edit", args=[unit.stock_number])
    page = metric.get(url).content.decode()
    assert units_in(page) >= {"kg", "mm", "kPa", "N m", "kg/m", "N/mm", "deg"}
    assert not units_in(page) & {"lb", "in", "psi", "ft lb", "lb/ft", "lb/in"}
    form = page_form(metric, url)
    # 14,000 lb x 0.45359237 = 6,350.29 kg; 24.25 in x 25.4 = 615.95 mm, by hand
    assert (form["ratings.gvwr_lb"], form["deck.height_in"], form["measures"]) == ("6,350.3", "615.95", "metric")
    before = Unit.objects.values().get(pk=unit.pk)
    metric.post(url, form)
    assert Unit.objects.values().get(pk=unit.pk) == before, "nothing was touched"
    sent = {"weights.empty_lb": "1,500", "deck.width_in": "2100", "deck.flat_length_in": "20 ft 6 in"}
    assert metric.post(url, form | sent).status_code == 302
    unit.refresh_from_db()
    assert unit.empty_weight_lb == pytest.approx(1500 / KG_PER_LB)
    assert unit.spec["deck"]["width_in"]["value"] == pytest.approx(2100 / MM_PER_IN)
    assert unit.spec["deck"]["flat_length_in"]["value"] == 246
    assert unit.gvwr_lb == 14_000


def test_faults_of_a_unit_are_told_in_kilograms(unit: Unit, metric: Client):
    url = reverse("unit-edit", args=[unit.stock_number])
    sent = {"ratings.gvwr_lb": "100,000", "deck.height_in": "low", "weights.empty_coupler_lb": "2,000"}
    page = metric.post(url, page_form(metric, url) | sent).content.decode()
    # 500 lb = 226.8 kg and 200,000 lb = 90,718.5 kg, rounded into the range
    assert 'Must be 227 to 90,718 kg, not "100,000 kg".' in faults_in(page)
    assert 'a length such as 2600, "2600 mm", "2.6 m" or "8 ft 6 in", not "low"' in faults_in(page)
    # 3,350 lb = 1,519.5 kg
    assert "Must be at most empty weight (1,519.5 kg), not 2,000 kg." in faults_in(page)
    assert 'value="100,000"' in page, "what was typed stays as it was typed"
    assert 'name="measures" value="metric"' in page


def test_a_form_is_read_in_the_measures_it_was_shown_in(unit: Unit, metric: Client, people):
    url = reverse("unit-edit", args=[unit.stock_number])
    form = page_form(metric, url)
    User.objects.filter(pk=people["sales"].pk).update(measures="us")
    metric.post(url, form | {"weights.empty_lb": "1,500"})
    unit.refresh_from_db()
    assert unit.empty_weight_lb == pytest.approx(1500 / KG_PER_LB)
    assert unit.gvwr_lb == 14_000


def test_who_saves_second_is_told_in_kilograms_and_takes_theirs_over_whole(unit: Unit, metric: Client, as_role):
    url = reverse("unit-edit", args=[unit.stock_number])
    mine = page_form(metric, url) | {"weights.empty_lb": "1,500"}
    owner = as_role("owner")
    owner.post(url, page_form(owner, url) | {"ratings.gvwr_lb": "13,500", "weights.empty_lb": "3,400"})
    answer = metric.post(url, mine)
    notes = {n["name"]: (n["seen"], n["theirs"], n["mine"]) for n in answer.context["meanwhile"]}
    # 3,350, 3,400 and 13,500 lb are 1,519.5, 1,542.2 and 6,123.5 kg
    assert notes["weights.empty_lb"] == ("1,519.5 kg", "1,542.2 kg", "1,500 kg")
    assert notes["ratings.gvwr_lb"] == ("6,350.3 kg", "6,123.5 kg", "6,350.3 kg")
    again = answer.context["form"].initial | {
        k: v for k, v in mine.items() if ":" in k or k == "measures"
    } | {"seen": answer.context["seen"]}  # fmt: skip
    assert metric.post(url, again).status_code == 302
    unit.refresh_from_db()
    assert unit.gvwr_lb == 13_500
    assert unit.empty_weight_lb == pytest.approx(1500 / KG_PER_LB)


def test_a_haul_in_kilograms(metric: Client):
    new = reverse("haul-new")
    begun = {"truck": "class:one-ton-dual", "piece": "class:track-loader-mid"}
    page = metric.get(new, begun).content.decode()
    assert units_in(page) == {"kg", "mm"}
    form = page_form(metric, f"{new}?truck=class:one-ton-dual&piece=class:track-loader-mid")
    sent = {"truck.ratings.gvwr_lb": "6,350", "truck:payload": "2,450", "truck:cab": "90", "piece.0.weight_lb": "4000"}
    wrong = metric.post(new, form | sent | {"truck:payload": "some", "truck.size.wheelbase_in": "30"})
    # 60 to 400 in
    assert 'Must be 1,524 to 10,160 mm, not "30 mm".' in faults_in(wrong.content.decode())
    assert 'such as 6350, "6,350 kg", "6.35 t" or "14,000 lb", not "some"' in faults_in(wrong.content.decode())
    assert metric.post(new, form | sent).status_code == 302
    haul = Haul.objects.get()
    truck, piece = haul.spec["truck"], haul.spec["cargo"][0]["piece"]
    assert truck["ratings"]["gvwr_lb"]["value"] == pytest.approx(6350 / KG_PER_LB)
    empty = sum(truck["weights"][name]["value"] for name in ("front_axle_lb", "rear_axle_lb"))
    assert empty == pytest.approx((6350 - 2450) / KG_PER_LB, abs=1)
    assert truck["gear"][-1]["weight_lb"]["value"] == pytest.approx(90 / KG_PER_LB)
    assert piece["weight_lb"]["value"] == pytest.approx(4000 / KG_PER_LB)
    url, before = reverse("haul-edit", args=[haul.pk]), haul.spec
    form = page_form(metric, url)
    assert (form["truck.ratings.gvwr_lb"], form["piece.0.weight_lb"]) == ("6,350", "4,000")
    assert "Nothing had changed." in metric.post(url, form, follow=True).content.decode()
    # begun anew from another truck, what was typed stays typed and is read as before
    more = metric.post(url, form | {"piece.0.weight_lb": "4100", "truck:from": "class:half-ton", "again": "1"})
    assert (more.context["form"]["piece.0.weight_lb"].value(), more.context["form"].measures) == ("4100", METRIC)
    haul.refresh_from_db()
    assert haul.spec == before


def test_a_share_is_kept_to_the_last_digit(make_haul, metric: Client):
    share = {"value": 1 / 3, "basis": "maker"}
    haul = make_haul(weight_distribution=True, front_restoration=share)
    before, url = haul.spec, reverse("haul-edit", args=[haul.pk])
    metric.post(url, page_form(metric, url) | {"notes": "Bars drawn up."})
    haul.refresh_from_db()
    assert haul.spec == before | {"notes": "Bars drawn up."}


def test_a_kept_truck_and_a_hauls_own_in_kilograms(haul: Haul, metric: Client):
    new = reverse("truck-new")
    form = page_form(metric, new) | {"name": "Shop truck", "ratings.gvwr_lb": "6350", "hitch.0.kind": "ball"}
    assert metric.post(new, form).status_code == 302
    truck = Truck.objects.get()
    assert truck.spec["ratings"]["gvwr_lb"]["value"] == pytest.approx(6350 / KG_PER_LB)
    url = reverse("truck-edit", args=[truck.pk])
    assert page_form(metric, url)["ratings.gvwr_lb"] == "6,350"
    assert "Nothing had changed." in metric.post(url, page_form(metric, url), follow=True).content.decode()
    own, before = reverse("haul-truck", args=[haul.pk]), haul.spec
    form = page_form(metric, own)
    # 4,800 lb of HAUL's front axle
    assert (HAUL["truck"]["weights"]["front_axle_lb"], form["weights.front_axle_lb"]) == (4_800, "2,177.2")
    assert metric.post(own, form | {"weights.rear_axle_lb": "1,700"}).status_code == 302
    haul.refresh_from_db()
    now = haul.spec["truck"]["weights"]
    assert now["rear_axle_lb"]["value"] == pytest.approx(1700 / KG_PER_LB)
    assert now["front_axle_lb"] == before["truck"]["weights"]["front_axle_lb"]


def test_a_line_of_a_checklist_in_kilopascals(make_unit, people, metric: Client):
    tires = {"count": 2, "max_load_lb": 3_520, "max_pressure_psi": 80, "pressure_psi": 80}
    it = lists.begin(make_unit(axle=[{"gawr_lb": 7_000, "tires": tires}]), sort="inspection", by=people["sales"])
    url, send = it.get_absolute_url(), reverse("check-line", args=[it.pk])
    form = {"line": "pressure-1", "seen": "0", "answer": "ok", "measures": METRIC}
    metric.post(send, form | {"number-0": "550", "number-1": "80 psi"})
    numbers = it.entries.get().value["numbers"]
    # 1 psi = 6.894757 kPa (NIST SP 811, appendix B.8)
    assert numbers == [pytest.approx(550 / 6.894757), 80]
    page = metric.get(url).content.decode()
    assert re.findall(r'name="number-\d" value="([\d.]+)"', page)[:2] == ["550", "551.6"]
    assert {"kPa", "N m"} <= units_in(page)
    assert "psi" not in units_in(page)
    metric.post(send, form | {"seen": "1", "number-0": "550", "number-1": "551.6", "text": "New valve."})
    assert it.entries.order_by("-turn").first().value["numbers"] == numbers, "what was not touched is the same number"
    refused = metric.post(send, form | {"seen": "2", "number-0": "flat", "number-1": ""}, follow=True)
    assert "must be a pressure such as 550, " in refused.content.decode()
