"""Finding in the yard: every limit both ways round, weight lines, what is not known, addresses that can be shared."""

from __future__ import annotations

import html
import re
from urllib.parse import parse_qs, urlsplit

import pytest
from django.test import Client
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from rubrail.desk.finding import look_for
from rubrail.desk.finding_by import LIMITS, ORDERS, PARTS
from rubrail.desk.models import Unit
from rubrail.desk.weight_lines import CARRIER, EXCISE, LICENSE, NeedsTruckError, line_says, most_gvwr_lb
from rubrail.rules.excise import is_taxable
from rubrail.rules.license import GROUPS, carrier_duty, combination_figure_lb, license_group

AT = {"payload": 9_000, "length": 240, "price": 8_000, "width": 82, "height": 26, "empty": 3_000, "gvwr": 14_000}
ASKED = {"payload": "9,000", "length": "20", "price": "$8,000", "width": "6 ft 10 in", "height": "26", "empty": "3000"}
ASKED["gvwr"] = "14,000 lb"


def listed(client: Client, query: str = "") -> list[str]:
    return [unit.stock_number for unit, _, _ in client.get(reverse("yard") + query, follow=True).context["rows"]]


def text_of(client: Client, query: str) -> str:
    page = client.get(reverse("yard") + query, follow=True).content.decode()
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", "", page)))


@pytest.fixture
def lot(make_unit):
    """Units whose every number is set beside its limit: below, at, above, not known."""
    for name, shift in (("below", -1), ("at", 0), ("above", 1)):
        unit = make_unit(name)
        numbers = {limit.column: AT[limit.key] + shift for limit in LIMITS}
        Unit.objects.filter(pk=unit.pk).update(**numbers)
    unit = make_unit("nobody-knows")
    Unit.objects.filter(pk=unit.pk).update(**{limit.column: None for limit in LIMITS})


@pytest.mark.parametrize("limit", LIMITS, ids=[limit.key for limit in LIMITS])
def test_a_limit_holds_at_the_limit_and_what_is_not_known_never_passes(lot, as_role, limit):
    query = f"?{limit.key}={ASKED[limit.key].replace('$', '%24')}"
    assert listed(as_role("viewer"), query) == (["at", "below"] if limit.most else ["above", "at"])


def test_what_may_fit_is_counted_and_shown_when_asked(lot, as_role):
    client = as_role("viewer")
    page = text_of(client, "?payload=9000")
    assert "2 of 4 units" in page
    assert "1 more unit may fit, but a number asked for is not known of it. Show it too" in page
    assert listed(client, "?payload=9000&unknown=on&sort=payload") == ["at", "above", "nobody-knows"]
    assert "1 unit is among them of which a number asked for is not known." in text_of(
        client, "?payload=9000&unknown=on"
    )
    assert "may fit" not in text_of(client, "?words=row")


def test_one_that_fails_a_known_number_does_not_maybe_fit(lot, as_role):
    Unit.objects.filter(stock_number="nobody-knows").update(price_usd=9_000)
    assert "may fit" not in text_of(as_role("viewer"), "?payload=9000&price=8000")


def test_kinds_and_complete_numbers(make_unit, as_role):
    make_unit("G", coupling={"kind": "gooseneck"}, deck={"kind": "deck-over"})
    make_unit("B")
    whole = make_unit("W")
    Unit.objects.filter(pk=whole.pk).update(complete=True, deck_kind="")
    client = as_role("viewer")
    assert listed(client, "?coupling=gooseneck") == ["G"]
    assert listed(client, "?deck=between-fenders") == ["B"]
    assert listed(client, "?deck=between-fenders&unknown=on") == ["B", "W"], "nobody said which deck it has"
    assert listed(client, "?complete=on") == ["W"]
    assert listed(client, "?coupling=nonsense&deck=nonsense") == ["B", "G", "W"]


def test_limits_and_words_and_status_together(lot, make_unit, as_role):
    sold = make_unit("gone", status="sold", title="Tilt")
    Unit.objects.filter(pk=sold.pk).update(payload_lb=20_000)
    client = as_role("viewer")
    assert listed(client, "?payload=9000&words=tilt") == []
    assert listed(client, "?payload=9000&words=tilt&status=all") == ["gone"]
    assert listed(client, "?status=sold") == ["gone"]


# ---- weight lines; the license and tax functions they are held against have published cases of their own


@pytest.mark.parametrize("truck", [5_000, 9_999, 10_000, 16_000, 16_001, 20_000, 26_000])
def test_license_line_is_where_the_license_begins(truck: int):
    most = most_gvwr_lb(LICENSE, truck_gvwr_lb=truck)
    at, past = (GROUPS[int(license_group(truck_gvwr_lb=truck, trailer_gvwr_lb=w))] for w in (most, most + 1))
    assert (at, past) == ("regular", "A")


def test_license_line_without_a_truck_holds_behind_any_truck():
    most = most_gvwr_lb(LICENSE, truck_gvwr_lb=None)
    # 49 CFR 383.91(a)(1): more than 10,000 lb towed
    assert most == 10_000
    for truck in (8_000, 26_000, 33_000):
        assert GROUPS[int(license_group(truck_gvwr_lb=truck, trailer_gvwr_lb=most))] != "A"


@pytest.mark.parametrize("truck", [3_000, 6_000, 9_999])
def test_carrier_line_is_where_the_rules_begin(truck: int):
    most = most_gvwr_lb(CARRIER, truck_gvwr_lb=truck)
    figures = [combination_figure_lb(truck_gvwr_lb=truck, trailer_gvwr_lb=w) for w in (most, most + 1)]
    assert [float(carrier_duty(combination_figure_lb=f)) for f in figures] == [0, 1]


def test_carrier_line_needs_the_truck_and_may_leave_nothing(make_unit, as_role):
    with pytest.raises(NeedsTruckError):
        most_gvwr_lb(CARRIER, truck_gvwr_lb=None)
    make_unit("T-1")
    client = as_role("viewer")
    assert "give the truck's label GVWR" in text_of(client, "?under=carrier")
    assert listed(client, "?under=carrier") == ["T-1"], "what cannot be told narrows nothing"
    assert listed(client, "?under=carrier&truck=11000") == []
    assert "no trailer stays below" in line_says(CARRIER, truck_gvwr_lb=11_000)


def test_excise_line_is_where_the_tax_begins():
    most = most_gvwr_lb(EXCISE, truck_gvwr_lb=None)
    assert [float(is_taxable(weight_lb=w)) for w in (most, most + 1)] == [0, 1]


def test_a_line_finds_by_the_label(make_unit, as_role):
    # 26,000 less a truck of 11,000 is 15,000, by hand
    for number, gvwr in (("at", 15_000), ("past", 15_001), ("light", 9_000)):
        make_unit(number, ratings={"gvwr_lb": gvwr})
    make_unit("unread", ratings={})
    client = as_role("viewer")
    assert listed(client, "?under=license&truck=11,000+lb") == ["at", "light"]
    page = text_of(client, "?under=license&truck=11,000+lb")
    assert "no group A license behind a truck of 11,000 lb: label GVWR at most 15,000 lb" in page
    assert "By the ratings on the labels. What the rig weighs, its use and the state can change it." in page
    assert "1 more unit may fit" in page
    assert listed(client, "?under=license") == ["light"]


# ---- addresses


def test_a_form_with_empty_fields_leads_to_the_address_that_is_shared(lot, as_role):
    sent = dict.fromkeys(PARTS, "") | {"payload": "9000", "length": "20 ft", "sort": "-payload"}
    answer = as_role("viewer").get(reverse("yard"), sent)
    assert answer.status_code == 302
    assert parse_qs(urlsplit(answer["Location"]).query) == {
        "payload": ["9000 lb"],
        "length": ["20 ft"],
        "sort": ["-payload"],
    }
    plain = as_role("viewer").get(reverse("yard"), dict.fromkeys(PARTS, ""))
    assert plain["Location"] == reverse("yard")


def test_parts_that_change_the_list_alone_tell_the_browser_the_shared_address(lot, as_role):
    sent = dict.fromkeys(PARTS, "") | {"price": "8000", "page": "1"}
    answer = as_role("viewer").get(reverse("yard"), sent, headers={"HX-Request": "true"})
    assert answer.status_code == 200
    assert answer["HX-Push-Url"] == reverse("yard") + "?price=8000&page=1"
    assert b"hx-swap-oob" in answer.content


def test_an_address_means_the_same_to_whoever_reads_it(lot, as_role, people):
    query = look_for({"payload": "9000", "length": "20"}).query()
    people["viewer"].measures = "metric"
    people["viewer"].save()
    assert listed(as_role("viewer"), query) == listed(as_role("owner"), query) == ["above", "at"]
    assert "payload at least 4,082 kg" in text_of(as_role("viewer"), query)  # 9,000 x 0.45359237, by hand
    # What a metric reader types without a unit is metric: 4,083 kg are 9,001.5 lb.
    assert listed(as_role("viewer"), "?payload=4083") == []


texts = st.text(st.sampled_from("0123456789 .,-+ftinlbkgm'\"$ax%&=<é\u0000"), max_size=12)


@given(st.dictionaries(st.sampled_from(PARTS), texts), st.booleans())
def test_reading_the_shared_address_again_is_the_same(asked: dict[str, str], metric: bool):
    first = look_for(asked, metric=metric)
    shared = {k: v[0] for k, v in parse_qs(urlsplit(first.query()).query).items()}
    again = look_for(shared, metric=metric)
    assert again.query() == first.query()
    assert (again.limits, again.words, again.sort, again.down) == (first.limits, first.words, first.sort, first.down)
    # Numbers in it carry their units: the other measures change nothing.
    other = look_for(shared, metric=not metric)
    assert other.limits == pytest.approx(first.limits)


@given(st.dictionaries(st.sampled_from(PARTS), texts))
def test_each_chip_takes_away_one_thing(asked: dict[str, str]):
    wanted = look_for(asked)
    chips = list(wanted.chips())
    for chip in chips:
        rest = look_for({k: v[0] for k, v in parse_qs(urlsplit(chip.without).query).items()})
        assert len(list(rest.chips())) == len(chips) - 1
    assert not list(look_for({k: v[0] for k, v in parse_qs(urlsplit(wanted.cleared()).query).items()}).chips())


@pytest.mark.parametrize("text", ["heavy", "-5", "9 ft", "1e9", "99999999999", "4 moons"])
def test_a_number_that_cannot_be_read_is_told_and_left_out(lot, as_role, text: str):
    answer = as_role("viewer").get(reverse("yard"), {"payload": text})
    wanted = answer.context["wanted"]
    assert set(wanted.faults) == {"payload"}
    assert wanted.faults["payload"].startswith("Payload must be ")
    assert f'"{text}"' in wanted.faults["payload"]
    assert wanted.faults["payload"].endswith("it is left out.")
    assert len(answer.context["rows"]) == 4
    assert 'aria-invalid="true" aria-describedby="finder-faults"' in answer.content.decode()


@pytest.mark.parametrize("order", ORDERS, ids=[o.key for o in ORDERS])
def test_every_column_sorts_both_ways_with_the_unknown_last(lot, as_role, order):
    Unit.objects.filter(stock_number="nobody-knows").update(arrived=None)
    for name, day in (("below", "2026-03-01"), ("at", "2026-02-01"), ("above", "2026-01-01")):
        Unit.objects.filter(stock_number=name).update(arrived=day)
    client = as_role("viewer")
    up = ["below", "at", "above"]
    if order.key == "unit":
        assert listed(client, "?sort=-unit") == ["nobody-knows", "below", "at", "above"]
        return
    assert listed(client, f"?sort={order.key}") == [*up, "nobody-knows"]
    assert listed(client, f"?sort=-{order.key}") == [*reversed(up), "nobody-knows"]


@pytest.mark.parametrize("query", ["", "?gvwr=20000&words=row&coupling=ball", "?unknown=on&length=10+ft&page=2"])
def test_as_many_queries_for_a_hundred_as_for_one(make_unit, as_role, query: str, django_assert_num_queries):
    client = as_role("viewer")
    for number in (1, 100):
        for extra in range(Unit.objects.count(), number):
            make_unit(f"Q-{extra}")
        # Session, person, counts by status, what is found, the page's rows.
        with django_assert_num_queries(5):
            assert client.get(reverse("yard") + query).status_code == 200


def test_the_list_reads_no_unit_whole(make_unit, as_role, django_assert_num_queries):
    make_unit("T-1")
    client = as_role("viewer")
    with django_assert_num_queries(5) as queries:
        client.get(reverse("yard"))
    asked = queries.captured_queries[-1]["sql"]
    assert '"thumbnail"' in asked
    for heavy in ('"spec"', '"packed"', '"cost_usd"', '"sold_for_usd"'):
        assert heavy not in asked


def test_drawings_of_another_engine_are_drawn_again_with_one_query(make_unit, as_role, django_assert_num_queries):
    for number in range(5):
        make_unit(f"Q-{number}")
    fresh = as_role("viewer").get(reverse("yard")).content
    Unit.objects.update(derived_by="", thumbnail=None)
    client = as_role("viewer")
    with django_assert_num_queries(6):
        again = client.get(reverse("yard")).content
    assert again.count(b"<svg") == fresh.count(b"<svg")
