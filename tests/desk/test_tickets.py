"""Scale tickets at the desk: entered, corrected, set aside, taken over by those who may."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from typing import Any
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from PIL import Image

from desk.pages import page_form
from rubrail.answers.board import match
from rubrail.answers.match_joined import joined_match
from rubrail.desk import clock
from rubrail.desk.hauls import stored, thing_of
from rubrail.desk.models import Change, Haul, Ticket, Truck, Unit
from rubrail.desk.models.stock import Purpose
from rubrail.desk.stock import trailer_of
from rubrail.desk.tickets import entry
from rubrail.desk.tickets.effects import unit_effects
from rubrail.desk.tickets.keep import OF_TRAILER, add_ticket, answer_of, open_proposals, trailer_with
from rubrail.desk.typed import exact_text
from rubrail.quantity.parse import parse_quantity
from rubrail.things.door import read_thing
from rubrail.things.folder import load_yard
from rubrail.things.ticket import Ticket as TicketThing
from rubrail.things.truck import Truck as TruckThing

TRUCK = {
    "id": "dually",
    "title": "One-ton, dual rear wheels",
    "ratings": {"gvwr_lb": 14_000, "front_gawr_lb": 6_000, "rear_gawr_lb": 9_750},
    "weights": {"front_axle_lb": 4_800, "rear_axle_lb": 3_600, "basis": "maker"},
    "size": {"wheelbase_in": 160},
    "hitch": [{"kind": "ball", "ahead_of_rear_axle_in": -56}],
    "gear": [{"says": "driver", "weight_lb": 200, "behind_front_axle_in": 64}],
}
SOUND = {
    "w0-state": "truck", "w0-p-steer": "4,900", "w0-p-drive": "3,500", "w0-p-truck": "8,400",
    "w1-state": "hitched", "w1-p-steer": "4,760", "w1-p-drive": "4,040", "w1-p-axles": "3,200", "w1-p-rig": "12,000",
}  # fmt: skip
"""By hand: 12,000 less 8,400 is 3,600; 3,200 of it on the axles leaves 400 on the ball, 140 off the front axle."""


@pytest.fixture
def truck(db: None) -> Truck:
    return Truck.objects.create(name="Dale's one-ton", spec=stored(read_thing(TruckThing, TRUCK)))


def sent(unit: Unit | None, truck: Truck | None, **more: Any) -> dict[str, Any]:
    return {
        "cards": "2", "s0-id": "a", "s0-kind": "platform", "day": clock.today().isoformat(), "where": "elevator",
        **({"unit": unit.stock_number} if unit else {}), **({"truck": str(truck.pk)} if truck else {}),
        **SOUND, **more,
    }  # fmt: skip


@pytest.fixture
def enter(as_role: Callable[[str], Client], unit: Unit, truck: Truck) -> Callable[..., Ticket]:
    """A ticket entered by a yard hand."""

    def made(**more: Any) -> Ticket:
        answer = as_role("hand").post(reverse("ticket-new"), sent(unit, truck, **more))
        assert answer.status_code == 302, answer.content.decode()[-3000:]
        return Ticket.objects.latest("pk")

    return made


def page(client: Client, row: Ticket) -> str:
    return client.get(row.get_absolute_url()).content.decode()


def test_a_hand_enters_a_ticket(enter, as_role, people):
    row = enter()
    assert (row.verdict, row.waits, row.where) == ("clear", "trailer, truck", "elevator")
    text = page(as_role("viewer"), row)
    assert "The trailer weighs 3,600 ± " in text
    assert "400 ± " in text
    assert "The readings agree." in text
    assert "Sales takes a truck's weights over" in page(as_role("hand"), row)
    assert Change.objects.filter(kind="ticket", thing=row.pk).get().sentence.startswith("Hank Ito added scale ticket")


def test_the_form_begins_with_what_is_usual(as_role, unit, truck, make_haul):
    text = as_role("hand").get(reverse("ticket-new"), {"unit": unit.stock_number, "truck": truck.pk}).content.decode()
    assert text.count("<fieldset") == 2
    assert 'name="w0-a0-at" value="64"' in text  # where the truck's file has its driver
    haul = make_haul()
    of = {"unit": unit.stock_number, "haul": haul.pk}
    text = as_role("hand").get(reverse("ticket-new"), of).content.decode()
    assert "Hitched with the track loader" in text
    assert "A scale ticket of what?" in as_role("hand").get(reverse("ticket-new")).content.decode()


def test_what_was_typed_survives_a_fault(as_role, unit, truck):
    client = as_role("hand")
    data = sent(unit, truck, **{"w1-p-drive": "4,040 furlongs", "w0-p-steer": "4,900"})
    text = client.post(reverse("ticket-new"), data).content.decode()
    assert not Ticket.objects.exists()
    assert "4,040 furlongs" in text
    assert "4,900" in text
    assert "Must be a weight such as" in text
    assert "1 place needs a look" in text


@pytest.mark.parametrize(
    ("more", "says"),
    [
        # 20,000 lb are 9,071.8 kg; the range is told so that its end is not refused
        ({"w0-a0-lb": "-3", "measures": "metric"}, "Must be 0 to 9,071 kg"),
        ({"day": "soon"}, "Must be a day such as"),
        ({"day": "2199-01-01"}, "This day has not come yet"),
        (dict.fromkeys((k for k in SOUND if "-p-" in k), ""), "Enter at least one reading"),
        ({"s0-kind": "other"}, "Must be given, because nothing is known of a scale of another kind"),
        ({"w1-m0-on": "axle 1", "w1-m0-side": "left", "w1-m0-lb": "many"}, "Must be a weight such as"),
        ({"w0-a0-lb": "-3"}, "Must be 0 to 20,000 lb"),
        ({"s0-step": "0"}, "Must be 0.1 to 500 lb"),
    ],
)
def test_each_fault_is_a_sentence(as_role, unit, truck, more, says):
    assert says in as_role("hand").post(reverse("ticket-new"), sent(unit, truck, **more)).content.decode()
    assert not Ticket.objects.exists()


KG_PER_LB = 0.45359237
"""Exact, by definition (NIST SP 811, appendix B.8, pound avoirdupois)."""


def test_bare_numbers_are_in_the_persons_own_measures(as_role, people, unit, truck):
    hand = people["hand"]
    hand.measures = "metric"
    hand.save()
    client, new = as_role("hand"), reverse("ticket-new")
    text = client.get(new, {"unit": unit.stock_number, "truck": truck.pk}).content.decode()
    units = re.findall(r'field__unit">([^<]*)<', text)
    assert (set(units), units.count("mm")) == ({"kg", "mm"}, 2)
    assert 'name="measures" value="metric"' in text
    assert 'name="w0-a0-at" value="1,625.6"' in text, "64 in"
    kg = {k: f"{float(v.replace(',', '')) * KG_PER_LB:.1f}" for k, v in SOUND.items() if "-p-" in k}
    more = {"w0-p-truck": "8,400 lb", "s0-step": "20", "w0-a0-lb": "90", "w0-a0-at": "1625.6"}
    assert client.post(new, sent(unit, truck, measures="metric", **(kg | more))).status_code == 302
    row = Ticket.objects.get()
    alone = row.spec["weighing"][0]
    shown = {r["on"][0]: r["shown_lb"]["value"] for r in alone["reading"]}
    assert shown == {"steer": pytest.approx(4900, abs=0.2), "drive": pytest.approx(3500, abs=0.2), "truck": 8400}
    assert row.spec["scale"][0]["division_lb"]["value"] == pytest.approx(20 / KG_PER_LB)
    assert alone["aboard"][0]["weight_lb"]["value"] == pytest.approx(90 / KG_PER_LB)
    assert alone["aboard"][0]["behind_front_axle_in"]["value"] == pytest.approx(64)
    # corrected by one who reads kilograms and by one who reads pounds: what nobody touched stays as it was
    for who, has in (("hand", 'value="2,222.6"'), ("sales", 'value="2,222.6 kg"')):
        url = reverse("ticket-edit", args=[row.pk])
        assert has in as_role(who).get(url).content.decode()
        answer = as_role(who).post(url, page_form(as_role(who), url), follow=True).content.decode()
        assert "Nothing had changed." in answer
        row.refresh_from_db()
        kept = {r["on"][0]: r["shown_lb"]["value"] for r in row.spec["weighing"][0]["reading"]}
        assert kept == pytest.approx(shown, rel=1e-11)


def test_a_form_that_waited_is_read_in_the_measures_it_was_written_in(as_role, people, unit, truck):
    data = sent(unit, truck, measures="metric", **{"w0-p-truck": "", "w0-p-steer": "2,000"})
    assert as_role("hand").post(reverse("ticket-new"), data).status_code == 302, "set to pounds by now"
    first = Ticket.objects.get().spec["weighing"][0]["reading"][0]
    assert first["shown_lb"]["value"] == pytest.approx(2000 / KG_PER_LB)


@pytest.mark.parametrize("measures", ["us", "metric"])
@pytest.mark.parametrize("number", [0, -20, 1 / 3, 12000, 4999.5, 2222.6 / KG_PER_LB, 0.1, 123456.789012])
def test_a_stored_number_is_written_so_that_it_reads_the_same(number, measures):
    text = exact_text(number, "lb", measures)
    texts = entry.with_units({"w0-p-axles": text, "measures": measures})
    assert parse_quantity(texts["w0-p-axles"], "lb") == pytest.approx(number, rel=1e-9)


def test_a_card_more_keeps_what_was_typed(as_role, unit, truck):
    text = as_role("hand").post(reverse("ticket-new"), sent(unit, truck, more="loaded")).content.decode()
    assert text.count("<fieldset") == 3
    assert 'value="4,900"' in text
    assert not Ticket.objects.exists()


def test_sent_twice_it_is_kept_once(as_role, unit, truck):
    client, key = as_role("hand"), str(uuid4())
    for _ in range(2):
        answer = client.post(reverse("ticket-new"), sent(unit, truck), headers={"X-Once-Key": key})
        assert answer.status_code == 200
        assert answer.json()["go"] == Ticket.objects.get().get_absolute_url()
    wrong = sent(unit, truck, **{"w0-p-steer": "heavy"})
    refused = client.post(reverse("ticket-new"), wrong, headers={"X-Once-Key": str(uuid4())})
    assert refused.status_code == 422
    assert refused.json()["says"].startswith("Must be a weight")


def test_a_hand_takes_the_units_weights_over(enter, as_role, unit):
    row, hand = enter(), as_role("hand")
    url = reverse("ticket-apply", args=[row.pk, "trailer"])
    assert "What it does to open hauls" in hand.get(url).content.decode()
    unit.refresh_from_db()
    assert trailer_of(unit).weights.empty_lb.number == 3350, "looking changes nothing"
    before = unit.version
    stale = hand.post(url, {"seen": row.version, "seen_of": before - 1}, follow=True).content.decode()
    assert "Somebody else changed it just now; nothing was written." in stale, "another unit than was looked at"
    unit.refresh_from_db()
    assert unit.version == before
    assert hand.post(url, {"seen": row.version, "seen_of": before}).status_code == 302
    unit.refresh_from_db()
    row.refresh_from_db()
    weights = trailer_of(unit).weights
    assert (weights.empty_lb.number, weights.empty_lb.basis) == (3600, "weighed")
    assert (weights.empty_coupler_lb.number, weights.empty_coupler_lb.basis) == (400, "weighed")
    assert 15 < weights.empty_lb.plus_minus < 60
    assert trailer_of(unit).ratings.gvwr_lb.number == 14_000
    assert unit.version == before + 1, "boards judge it anew"
    assert row.waits == "truck"
    assert f"Hank Ito took the weights of scale ticket {row.pk} over into unit T-1." in page(hand, row)
    # pressed again there is nothing to take over
    assert hand.post(url, {"seen": row.version}).status_code == 302
    unit.refresh_from_db()
    assert unit.version == before + 1


def test_only_sales_takes_a_trucks_weights_over(enter, as_role, truck, make_haul):
    same = make_haul(truck=TRUCK)
    left, other = make_haul(truck=TRUCK, title="Left as it is"), make_haul(truck={**TRUCK, "id": "another"})
    row = enter()
    url = reverse("ticket-apply", args=[row.pk, "truck"])
    assert as_role("hand").post(url, {"seen": row.version}).status_code == 403
    sales = as_role("sales")
    text = sales.get(url).content.decode()
    assert str(same) in text
    assert f'value="{other.pk}"' not in text
    seen = {"seen": row.version, "seen_of": truck.version}
    assert sales.post(url, {**seen, "haul": [same.pk, other.pk]}).status_code == 302
    truck.refresh_from_db()
    assert truck.spec["weights"]["front_axle_lb"]["value"] == 4900
    assert truck.spec["weights"]["rear_axle_lb"]["basis"] == "weighed"
    fronts = [
        Haul.objects.get(pk=h.pk).spec["truck"]["weights"]["front_axle_lb"]["value"] for h in (same, left, other)
    ]
    assert fronts == [4900, 4800, 4800]


def test_while_readings_do_not_agree_nothing_is_taken_over(enter, as_role, unit):
    row, hand = enter(**{"w1-p-axles": "2,700", "w1-p-drive+axles": "7,240"}), as_role("hand")
    assert (row.verdict, row.waits) == ("depends", "readings")
    assert "do not agree: weigh again or set one aside" in hand.get(reverse("today")).content.decode()
    text = page(hand, row)
    assert "All the trailer&#x27;s axles</strong>, hitched, empty: shows 2,700 lb" in text
    assert "a wheel not wholly on the plate" in text
    hand.post(reverse("ticket-apply", args=[row.pk, "trailer"]), {"seen": row.version})
    unit.refresh_from_db()
    assert trailer_of(unit).weights.empty_lb.number == 3350
    aside = reverse("ticket-aside", args=[row.pk])
    at = {"weighing": 2, "reading": 3}
    hand.post(aside, {**at, "why": "", "seen": row.version})
    row.refresh_from_db()
    assert row.verdict == "depends", "a reason is owed"
    hand.post(aside, {**at, "why": "a wheel hung over the edge", "seen": row.version - 1})
    assert "Somebody else changed the ticket just now" in page(hand, row)
    hand.post(aside, {"why": "a wheel hung over the edge", "seen": row.version})
    assert "The ticket has no such reading." in page(hand, row)
    row.refresh_from_db()
    assert row.verdict == "depends", "of a ticket seen otherwise, or of no reading, nothing is set aside"
    hand.post(aside, {**at, "why": "a wheel hung over the edge", "seen": row.version})
    row.refresh_from_db()
    assert (row.verdict, row.waits) == ("clear", "trailer, truck")
    assert "set aside: a wheel hung over the edge" in page(hand, row)
    assert "reason for setting aside all the trailer&#x27;s axles (hitched, empty)" in page(hand, row)
    hand.post(aside, {**at, "do": "again", "seen": row.version})
    row.refresh_from_db()
    assert row.verdict == "depends"
    hand.post(aside, {"weighing": 9, "reading": 3, "why": "x", "seen": row.version})
    assert "The ticket has no such reading." in page(hand, row)


def test_a_correction_leaves_what_stood_there_in_the_trail(enter, as_role):
    row, hand = enter(), as_role("hand")
    url = reverse("ticket-edit", args=[row.pk])
    form = hand.get(url).content.decode()
    assert 'name="w1-p-rig" value="12,000"' in form
    data = sent(None, None, **{"w1-p-rig": "12,020"}) | {"seen": str(row.version)}
    assert hand.post(url, data).status_code == 302
    said = Change.objects.filter(kind="ticket", thing=row.pk).latest("pk").sentence
    assert "reading of the whole rig (hitched, empty)" in said
    assert "12,000 lb" in said
    assert "12,020 lb" in said
    # the form of before is stale now: told, and what was typed stays
    answer = hand.post(url, data | {"w1-p-rig": "12,040"})
    assert answer.status_code == 409
    assert 'value="12,040"' in answer.content.decode()
    row.refresh_from_db()
    again = {"X-Once-Key": str(uuid4())}
    assert hand.post(url, data | {"seen": "1", "w1-p-rig": "12,060"}, headers=again).json()["seen"] == row.version


def test_what_it_does_to_open_hauls_is_what_a_match_says(enter, make_haul, unit):
    make_haul(truck=TRUCK)
    row = enter()
    answer = answer_of(row)
    effects = unit_effects(row, answer)
    assert len(effects) == 1
    thing = thing_of(effects[0].haul)
    for word, trailer in (
        (effects[0].before, trailer_of(unit)),
        (effects[0].after, trailer_with(row, open_proposals(answer, OF_TRAILER))),
    ):
        road = match(haul=thing, trailers=(trailer,))
        assert joined_match(road, haul=thing, trailers=(trailer,), kit=None).candidates[0].verdict == word


def test_photos_of_a_ticket_stay_with_it(enter, as_role, unit):
    row, out = enter(), io.BytesIO()
    Image.new("RGB", (40, 30), "gray").save(out, "JPEG")
    url = reverse("ticket-photos", args=[row.pk])
    for content, kept in ((out.getvalue(), 1), (b"no picture", 1)):
        as_role("hand").post(url, {"photos": SimpleUploadedFile("a.jpg", content, "image/jpeg")})
        assert unit.photos.filter(purpose=Purpose.TICKET, about_kind="ticket", about=row.pk).count() == kept
    assert "Ticket 1, photo 1" not in as_role("viewer").get(unit.get_absolute_url()).content.decode()
    assert f"Ticket {row.pk}, photo 1" in page(as_role("viewer"), row)


@pytest.mark.parametrize("name", ["car-hauler-empty", "gooseneck-loaded"])
def test_a_file_comes_back_from_the_form_the_same(name):
    ticket = load_yard("src/rubrail/demo/yard").tickets[name]
    texts = entry.texts_of(stored(ticket)) | {"day": ticket.day.isoformat()}
    again, faults = entry.read(texts, ident=ticket.id, trailer=ticket.trailer, truck=ticket.truck)
    assert faults == {}

    def readings(t: TicketThing) -> list:
        only = t.scale[0].id
        return [
            (w.state, w.load, w.aboard,
             sorted((r.on, r.side or "", float(r.shown_lb), r.scale or only) for r in w.reading))
            for w in t.weighing
        ]  # fmt: skip

    assert readings(again) == readings(ticket)
    assert [s.says for s in again.scale] == [s.says for s in ticket.scale]


def test_the_list_asks_little(as_role, unit, truck, django_assert_max_num_queries):
    read, _ = entry.read(sent(None, None), ident="t", trailer=None, truck=None)
    for _ in range(12):
        add_ticket(read, unit=unit, truck=truck, haul=None, day=clock.today(), where="", by=None)
    client = as_role("viewer")
    with django_assert_max_num_queries(8):
        assert client.get(reverse("tickets")).content.decode().count("ticket-row__what") == 12
    assert "Nothing waits" not in client.get(reverse("tickets"), {"show": "waiting"}).content.decode()
    narrowed = client.get(reverse("tickets"), {"unit": unit.stock_number}).content.decode()
    assert "Scale tickets of T-1" in narrowed


def test_a_stored_ticket_that_no_longer_reads_is_told(as_role, unit):
    row = Ticket.objects.create(
        unit=unit, day=clock.today(), spec={"id": "t", "scale": [{"id": "a", "kind": "spoon"}]}
    )
    assert "no longer reads" in page(as_role("viewer"), row)


def test_a_ticket_put_aside_gives_nothing(enter, as_role, unit):
    row, hand = enter(), as_role("hand")
    aside, take = reverse("ticket-aside", args=[row.pk]), reverse("ticket-apply", args=[row.pk, "trailer"])
    hand.post(aside, {"do": "close"})
    row.refresh_from_db()
    assert row.closed
    hand.post(take, {"seen": row.version})
    unit.refresh_from_db()
    assert trailer_of(unit).weights.empty_lb.number == 3350
    assert "This ticket is put aside" in page(hand, row)
    assert "Take the unit" not in page(hand, row)
    listed = [hand.get(reverse("tickets"), {"show": s}).content.decode() for s in ("", "aside")]
    assert ["ticket-row__what" in text for text in listed] == [False, True]
    hand.post(aside, {"do": "open"})
    assert "Take the unit&#x27;s weights over" in page(hand, row) or "Take the unit's weights over" in page(hand, row)
