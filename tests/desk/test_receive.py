"""Receiving a unit, from the gate to the decision, through the pages."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from desk.pages import page_form
from desk.receive_pages import VIN, ordered, received, sent
from rubrail.desk import clock
from rubrail.desk.models import Change, Order, Receipt, Unit
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.models.sales import OrderStatus
from rubrail.desk.models.stock import Status
from rubrail.desk.receiving import arrivals
from rubrail.desk.receiving.begin import ReceiptError, begin
from rubrail.desk.stock import put_together
from rubrail.desk.views import receive_steps


@pytest.fixture
def order(people) -> Order:
    return ordered(people["sales"])


@pytest.fixture
def receipt(order, people) -> Receipt:
    return received(order, people["hand"])


@pytest.fixture
def hand(as_role):
    return as_role("hand")


def again(receipt: Receipt) -> Receipt:
    return Receipt.objects.select_related("unit", "order").get(pk=receipt.pk)


# the gate


def test_the_gate_lists_by_day_and_says_what_is_late(order, make_unit, people, hand):
    Order.objects.filter(pk=order.pk).update(expected=clock.today() - timedelta(days=2))
    make_unit("E-9", status="on-order", arrived=None)
    found = arrivals.arrivals(today=clock.today())
    assert [(a.unit.stock_number, a.late) for a in found] == [("G-1", True), ("E-9", False)], "no day comes last"
    text = hand.get(reverse("receive")).content.decode()
    assert text.index("G-1") < text.index("E-9")
    assert "1 past the day named" in text
    assert "no day named" in text


def test_the_gate_asks_few_questions_whatever_its_length(make_unit, hand, django_assert_max_num_queries):
    for n in range(30):
        make_unit(f"E-{n}", status="on-order", arrived=None)
    with django_assert_max_num_queries(9):
        assert hand.get(reverse("receive")).status_code == 200


def test_a_receipt_is_begun_once(order, hand, people):
    page = hand.get(reverse("receive-new") + "?unit=g-1")
    assert page.status_code == 200
    form = {"unit": "G-1", "day": clock.today().isoformat(), "carrier": "Long Haul", "bill": "77", "driver": "Jo"}
    answer = hand.post(reverse("receive-new"), form)
    it = Receipt.objects.get()
    assert answer.headers["Location"] == it.get_absolute_url()
    assert (it.carrier, it.bill, it.driver, it.order, it.created_by) == (
        "Long Haul",
        "77",
        "Jo",
        order,
        people["hand"],
    )
    assert it.number == f"R{clock.today().year}-0001"
    assert it.ordered["ratings"]["gvwr_lb"]["value"] == 15_400
    assert "cost_usd" not in it.ordered
    assert "price_usd" not in it.ordered
    second = hand.post(reverse("receive-new"), form)
    assert second.headers["Location"] == it.get_absolute_url(), "who comes second goes on with the same"
    assert Receipt.objects.count() == 1


@pytest.mark.parametrize(
    ("day", "says"),
    [("", "give a day such as"), ("yesterday", "give a day such as"), ("2999-01-01", "has not come yet")],
)
def test_a_day_that_cannot_be(order, hand, day, says):
    page = hand.post(reverse("receive-new"), {"unit": "G-1", "day": day, "carrier": "Long Haul"})
    text = page.content.decode()
    assert says in text
    assert 'value="Long Haul"' in text, "nothing typed is lost"
    assert not Receipt.objects.exists()


def test_what_is_gone_is_not_received(make_unit, people):
    unit = make_unit("S-1", status="sold")
    with pytest.raises(ReceiptError, match="is sold; bring it back first"):
        begin(unit, day=clock.today(), by=people["hand"])


def test_something_else_came(hand):
    form = {
        "day": clock.today().isoformat(),
        "stock_number": "X-5",
        "coupling": "gooseneck",
        "axles": "3",
        "says": "Hay",
    }
    hand.post(reverse("receive-new"), form)
    it = Receipt.objects.get()
    assert (it.unit.stock_number, it.unit.status, it.unit.axle_count) == ("X-5", Status.EXPECTED, 3)
    assert it.ordered == {}
    text = hand.get(reverse("receipt-fields", args=[it.number])).content.decode()
    assert "as ordered</span>" not in text, "nothing can be as ordered"


def test_something_else_tells_every_fault_at_once(make_unit, hand):
    make_unit("T-7")
    form = {"day": clock.today().isoformat(), "stock_number": "t-7", "coupling": "rope", "axles": "40"}
    text = hand.post(reverse("receive-new"), form).content.decode()
    for says in ("another unit is t-7 already", "choose what it couples by", "count them"):
        assert says in text
    assert not Receipt.objects.exists()


def test_begun_by_mistake(hand):
    form = {"day": clock.today().isoformat(), "stock_number": "X-5", "coupling": "ball", "axles": "2"}
    hand.post(reverse("receive-new"), form)
    it = Receipt.objects.get()
    hand.post(reverse("receipt-head", args=[it.number]), {"do": "drop", "seen": it.version})
    assert again(it).status == ReceiptStatus.DROPPED
    assert again(it).unit.status == Status.RETIRED, "the unit was made for it alone"
    hand.get(reverse("receive"))  # It says so once.
    assert it.number not in hand.get(reverse("receive")).content.decode()


def test_the_head_is_corrected_by_whom_saw_it(receipt, hand):
    url = reverse("receipt-head", args=[receipt.number])
    form = {
        "day": clock.today().isoformat(),
        "carrier": "Another",
        "bill": "B-2",
        "driver": "",
        "seen": receipt.version,
    }
    hand.post(url, form)
    assert again(receipt).carrier == "Another"
    assert "carrier of receipt" in Change.objects.filter(kind="receipt", field="carrier").get().sentence
    hand.post(url, {**form, "carrier": "Late"})
    assert again(receipt).carrier == "Another", "the second had an older version before him"


# VIN, label, papers


def test_a_vin_is_kept_as_read_and_the_suspicious_character_shown(receipt, hand):
    answer = sent(
        hand, receipt, "receipt-vin", **{"vin-label": VIN, "vin-papers": VIN.replace("202", "2O2"), "next": "1"}
    )
    assert answer.headers["Location"] == reverse("receipt-fields", args=[receipt.number])
    assert again(receipt).found["vins"] == {"label": VIN, "papers": VIN.replace("202", "2O2")}
    text = hand.get(reverse("receipt-vin", args=[receipt.number])).content.decode()
    assert "The letters I, O and Q are never used, got O in place 7." in text
    assert '<span class="vin__cell vin__cell--bad"><b>O</b><small>7</small>' in text
    assert "holds as read; year 2027" in text


def test_a_vin_is_checked_as_it_is_typed(receipt, hand):
    url = reverse("receipt-vin-check", args=[receipt.number, "label"])
    text = hand.post(url, {"vin-label": VIN[:8] + "4" + VIN[9:]}).content.decode()
    # The check digit of this VIN is 5, by the weights of 49 CFR 565: 4 must be refused.
    assert "The check digit (place 9) must be 5, got 4" in text
    assert hand.post(url, {"vin-label": ""}).content.decode().strip() == ""
    assert again(receipt).found == {}, "nothing is kept by looking"


def test_papers_are_parsed_at_the_door(receipt, hand):
    typed = {"papers-year": "27", "papers-gvwr": "heavy", "papers-gawr": "7,000; x", "papers-empty": "9"}
    page = sent(hand, receipt, "receipt-vin", **typed, **{"vin-label": VIN})
    text = page.content.decode()
    assert "Must be a year from 1950 to 2100" in text
    assert text.lower().count("must be a weight such as") == 2
    assert "Must be 200 to 60,000 lb" in text
    assert 'value="heavy"' in text
    assert again(receipt).found == {}
    sent(
        hand,
        receipt,
        "receipt-vin",
        **{"papers-year": "2027", "papers-gvwr": "6,985 kg", "papers-gawr": "7,000; 7,000"},
    )
    papers = again(receipt).found["papers"]
    assert papers["gvwr_lb"] == pytest.approx(15_399, abs=1)  # 6,985 kg at 2.20462 lb/kg, by hand
    assert papers["gawr_lb"] == [7_000, 7_000]


# field by field


def test_not_looked_at_is_never_the_same(receipt, hand):
    sent(hand, receipt, "receipt-fields", **{"look__ratings.gvwr_lb": "same", "look__axle.*.gawr_lb": "same"})
    looks = again(receipt).found["looks"]
    assert looks == {"ratings.gvwr_lb": {"is": "same"}, "axle.*.gawr_lb": {"is": "same"}}
    text = hand.get(reverse("receipt-fields", args=[receipt.number])).content.decode()
    assert "2 of 3 looked at" in text


def test_something_else_is_read_as_the_unit_editor_reads_it(receipt, hand):
    changes = {
        "look__ratings.gvwr_lb": "other", "ratings.gvwr_lb": "14,000", "deck.width_in": "6 ft 10 in",
        "axle.*.tires.load_range": "d", "look__axle": "other", "axle": "3",
    }  # fmt: skip
    assert sent(hand, receipt, "receipt-fields", **changes).status_code == 302
    looks = again(receipt).found["looks"]
    assert looks["ratings.gvwr_lb"]["value"] == {"value": 14_000, "basis": "label"}
    assert looks["deck.width_in"]["value"]["value"] == 82
    assert looks["deck.width_in"]["value"]["basis"] == "measured"
    assert looks["axle.*.tires.load_range"]["value"] == "d", "typing a value says that it is something else"
    assert looks["axle"] == {"is": "other", "value": 3}
    told = Change.objects.filter(kind="receipt", field="ratings.gvwr_lb").get().sentence
    assert "Label GVWR" in told
    assert "14,000" in told


@pytest.mark.parametrize(
    ("path", "text", "says"),
    [
        ("ratings.gvwr_lb", "a lot", "Must be a weight such as"),
        ("ratings.gvwr_lb", "3", "Must be 500 to 200,000 lb"),
        ("ratings.gvwr_lb", "", "Write what is there instead."),
        ("axle", "9", "from 1 to 6"),
        ("year", "12", "Must be at least 1950"),
        ("axle.*.tires.max_load_lb", "99,999", "12,000"),
        ("ratings.gvwr_lb", "1,000", "empty_lb"),
    ],
)
def test_what_cannot_be_is_told_beside_its_field(receipt, hand, path, text, says):
    page = sent(hand, receipt, "receipt-fields", **{f"look__{path}": "other", path: text, "look__plug": "same"})
    assert page.status_code == 200
    shown = page.content.decode()
    assert "nothing is kept yet" in shown
    assert says in shown
    assert again(receipt).found == {}


def test_axles_that_differ_are_looked_at_one_by_one(receipt, hand):
    url = reverse("receipt-fields", args=[receipt.number])
    text = hand.get(url + "?axles=each").content.decode()
    assert 'name="axle.1.gawr_lb"' in text
    assert 'name="axle.*.gawr_lb"' not in text
    from desk.pages import form_in

    form = form_in(text) | {"look:axle.0.gawr_lb": "same", "look:axle.1.gawr_lb": "other", "axle.1.gawr_lb": "6,000"}
    hand.post(url, form)
    found = again(receipt).found
    assert found["each_axle"] is True
    assert found["looks"]["axle.1.gawr_lb"]["value"]["value"] == 6_000
    assert 'name="axle.1.gawr_lb"' in hand.get(url).content.decode(), "it stays so"


# two people on one receipt


def test_two_people_in_two_steps_do_not_meet(receipt, hand, as_role):
    fields, parts = (reverse(n, args=[receipt.number]) for n in ("receipt-fields", "receipt-parts"))
    mine, theirs = page_form(hand, fields), page_form(as_role("sales"), parts)
    as_role("sales").post(parts, theirs | {"part-spare": "missing"})
    assert hand.post(fields, mine | {"look:year": "same"}).status_code == 302
    found = again(receipt).found
    assert found["parts"] == {"spare": "missing"}
    assert found["looks"] == {"year": {"is": "same"}}


def test_two_people_in_one_step_are_told(receipt, hand, as_role):
    from desk.pages import form_in

    url = reverse("receipt-fields", args=[receipt.number])
    mine, theirs = page_form(hand, url), page_form(as_role("sales"), url)
    as_role("sales").post(url, theirs | {"look:ratings.gvwr_lb": "same", "look:plug": "same"})
    page = hand.post(url, mine | {"look:ratings.gvwr_lb": "other", "ratings.gvwr_lb": "14,000"})
    assert page.status_code == 409
    text = page.content.decode()
    assert "Sal Brandt saved at" in text
    assert "as ordered" in text
    form = form_in(text)
    assert form["ratings.gvwr_lb"] == "14,000", "what was typed is kept"
    assert form["look:plug"] == "same", "what only they changed is taken over"
    assert hand.post(url, form).status_code == 302
    looks = again(receipt).found["looks"]
    assert looks["ratings.gvwr_lb"]["is"] == "other"
    assert looks["plug"] == {"is": "same"}


# what waited on a phone


def outbox(client, receipt, step: str, form: dict, key: str | None = None):
    from uuid import uuid4

    return client.post(reverse(step, args=[receipt.number]), form, headers={"X-Once-Key": key or str(uuid4())})


def test_an_entry_that_waited_is_taken_once(receipt, hand):
    from uuid import uuid4

    form = page_form(hand, reverse("receipt-fields", args=[receipt.number])) | {"look:year": "same"}
    key = str(uuid4())
    first = outbox(hand, receipt, "receipt-fields", form, key)
    assert first.json() == {"go": reverse("receipt-fields", args=[receipt.number])}
    version = again(receipt).version
    assert outbox(hand, receipt, "receipt-fields", form, key).json() == first.json()
    assert again(receipt).version == version


def test_an_entry_that_waited_and_cannot_be_read_says_why(receipt, hand):
    form = page_form(hand, reverse("receipt-fields", args=[receipt.number]))
    answer = outbox(hand, receipt, "receipt-fields", form | {"look:axle": "other", "axle": "9"})
    assert answer.status_code == 422
    assert answer.json()["says"].startswith("Axles: Must be a number of axles from 1 to 6")
    answer = outbox(hand, receipt, "receipt-vin", form | {"papers-year": "x"})
    assert answer.json()["says"].startswith("Model year on the papers: Must be a year")
    answer = outbox(hand, receipt, "receipt-parts", form | {"tires": "99"})
    assert answer.json()["says"].startswith("Tire date codes:")
    assert again(receipt).found == {}


def test_an_entry_that_waited_too_long_shows_both_and_may_be_sent_all_the_same(receipt, hand, as_role):
    url = reverse("receipt-parts", args=[receipt.number])
    mine = page_form(hand, url) | {"part-spare": "missing"}
    as_role("sales").post(url, page_form(as_role("sales"), url) | {"part-spare": "here"})
    answer = outbox(hand, receipt, "receipt-parts", mine)
    told = answer.json()
    assert answer.status_code == 409
    assert (told["theirs"], told["mine"]) == ("here", "missing")
    assert again(receipt).found["parts"] == {"spare": "here"}
    assert outbox(hand, receipt, "receipt-parts", mine | {"seen": str(told["seen"])}).status_code == 200
    assert again(receipt).found["parts"] == {"spare": "missing"}


def test_an_entry_that_waited_past_the_decision_is_refused(receipt, hand):
    form = page_form(hand, reverse("receipt-parts", args=[receipt.number])) | {"part-spare": "missing"}
    Receipt.objects.filter(pk=receipt.pk).update(status=ReceiptStatus.ACCEPTED)
    answer = outbox(hand, receipt, "receipt-parts", form)
    assert answer.status_code == 422
    assert "came too late" in answer.json()["says"]


# damage, parts


def test_damage_is_marked_where_it_was_touched(receipt, hand):
    url = reverse("receipt-damage", args=[receipt.number])
    hand.post(url, {"view": "side", "at-x": "20.5", "at-up": "18", "words": "coupler bent"})
    hand.post(url, {"view": "plan", "at-x": "150", "at-up": "-30", "words": "board split"})
    hand.post(url, {"station": "lamps", "words": "left tail lamp broken"})
    marks = list(receipt.damages.all())
    assert [m.spot for m in marks] == [
        {"view": "side", "x_in": 20.5, "z_in": 18.0}, {"view": "plan", "x_in": 150.0, "y_in": -30.0}, {},
    ]  # fmt: skip
    assert [m.station for m in marks] == ["tongue", "deck-middle", "lamps"]
    text = hand.get(url).content.decode()
    assert text.count('data-part="spot"') == 4, "each of the two that were touched, wide and narrow"
    assert "2 ft 6 in left of center" in text
    told = Change.objects.filter(kind="receipt", action="damage marked").values_list("sentence", flat=True)
    assert any("left tail lamp broken" in t for t in told)


@pytest.mark.parametrize(
    ("form", "says"),
    [
        ({"words": "bent"}, "Where: touch the drawing, or choose a station."),
        ({"station": "jack"}, "What it is: say it in a few words"),
        ({"station": "moon", "words": "bent"}, "choose a station"),
        ({"view": "side", "at-x": "nan", "at-up": "1", "words": "bent"}, "choose a station"),
        ({"view": "side", "at-x": "99999", "at-up": "1", "words": "bent"}, "choose a station"),
    ],
)
def test_damage_without_place_or_words(receipt, hand, form, says):
    url = reverse("receipt-damage", args=[receipt.number])
    page = hand.post(url, form, follow=True)
    assert says in page.content.decode()
    assert not receipt.damages.exists()


def test_a_mark_sent_twice_is_kept_once(receipt, hand):
    from uuid import uuid4

    url, key = reverse("receipt-damage", args=[receipt.number]), str(uuid4())
    for _ in range(2):
        answer = hand.post(url, {"station": "jack", "words": "bent"}, headers={"X-Once-Key": key})
        assert answer.status_code == 200
        assert answer.json()["says"] == "The damage is marked."
    assert receipt.damages.count() == 1


def test_a_mark_is_taken_off_again(receipt, hand):
    mark = receipt.damages.create(station="jack", words="bent")
    hand.post(reverse("receipt-damage-change", args=[receipt.number, mark.pk]), {"do": "away"})
    assert not receipt.damages.exists()
    assert Change.objects.filter(action="damage taken away", sentence__contains="bent").exists()


def test_nothing_marked_is_not_undamaged(receipt, hand):
    url = reverse("receipt-damage", args=[receipt.number])
    assert "not looked at" in hand.get(url).content.decode()
    hand.post(url, {"do": "none"})
    assert again(receipt).found["no_damage"] is True
    assert "no damage found" in hand.get(url).content.decode()


def test_parts_and_tire_dates(receipt, hand):
    sent(hand, receipt, "receipt-parts", **{"part-spare": "missing", "part-keys": "here", "tires": "2326 DOTXX1Y2226"})
    found = again(receipt).found
    assert found["parts"] == {"spare": "missing", "keys": "here"}
    assert found["tires"] == ["2326", "2226"]
    page = sent(hand, receipt, "receipt-parts", tires="5426 12 ab")
    text = page.content.decode()
    assert "names week 54" in text
    assert "&quot;12&quot; is none" in text
    assert "&quot;AB&quot; is none" in text
    assert again(receipt).found["tires"] == ["2326", "2226"]


def test_a_later_week_has_not_come(receipt, hand):
    year = (clock.today().year + 1) % 100
    text = sent(hand, receipt, "receipt-parts", tires=f"50{year:02d}").content.decode()
    assert "has not come yet" in text


def test_ratings_are_read_by_the_viewer_too(receipt, as_role):
    text = as_role("viewer").get(reverse("receipt-ratings", args=[receipt.number])).content.decode()
    assert "Whether the ratings hold together" in text
    assert "not known" in text


def test_nothing_of_the_unit_moves_before_the_decision(receipt, hand):
    before = put_together(receipt.unit)
    sent(hand, receipt, "receipt-fields", **{"look__ratings.gvwr_lb": "other", "ratings.gvwr_lb": "14,000"})
    unit = Unit.objects.get(pk=receipt.unit_id)
    assert put_together(unit) == before
    assert again(receipt).order.status == OrderStatus.CONFIRMED


def test_a_decision_at_the_moment_a_step_is_kept_is_told(receipt, hand, monkeypatch):
    url = reverse("receipt-parts", args=[receipt.number])
    form = page_form(hand, url) | {"part-spare": "missing"}
    kept = receive_steps.keep

    def late(it, **given):
        Receipt.objects.filter(pk=it.pk).update(status=ReceiptStatus.ACCEPTED, closed=timezone.now())
        it.refresh_from_db()
        return kept(it, **given)

    monkeypatch.setattr(receive_steps, "keep", late)
    told = hand.post(url, form, follow=True).content.decode()
    assert f"Receipt {receipt} is closed: accepted" in told
    assert not again(receipt).found.get("parts")
