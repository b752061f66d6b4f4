"""Hand-overs: begun for an accepted quote, weighed again with what is entered, signed and delivered all or nothing."""

from __future__ import annotations

import html
import json
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from answers.yard import haul as haul_of
from answers.yard import yard
from rubrail.desk import clock
from rubrail.desk.books import keep_book
from rubrail.desk.checking.lists import lines_of
from rubrail.desk.handing import steps
from rubrail.desk.handing.offers import kept_truck, offers_of
from rubrail.desk.handing.paper import paper_of
from rubrail.desk.handing.promise import promised_by
from rubrail.desk.handing.stand import stand_of
from rubrail.desk.hauls import add_haul, stored, thing_of
from rubrail.desk.kept import SORTS, keep
from rubrail.desk.models import Change, Checklist, FollowUp, Haul, Quote, Unit, User
from rubrail.desk.models.checks import CheckState
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.models.stock import Status
from rubrail.desk.sales import quotes as sales
from rubrail.desk.stock import add_unit
from rubrail.sheets.paper.blocks import Big, Facts, Table
from rubrail.sheets.paper.made import Stamp
from rubrail.things.classes import truck_classes

HAUL, UNIT = "03-landscaper-track-loader", "SH-133"
GOOD = {
    "door-label": (10_000, 5_600, 6_200),
    "front-tires": (80, 80),
    "front-sidewall-load": (3_640,),
    "front-sidewall-pressure": (80,),
    "rear-tires": (80, 80),
    "rear-sidewall-load": (3_640,),
    "rear-sidewall-pressure": (80,),
    "ball": (2.3125, 2.3125),
    "ball-rating": (30_000,),
    "hitch-rating": (18_500, 1_850),
    "ball-height": (20,),
    "level": (26.5, 26.5),
    "pressure-1": (110, 110),
    "pressure-2": (110, 110),
}
"""What the plates say and the tape shows where everything is as its files have it."""


def inspect(unit: Unit, *, state: str = CheckState.RELEASE, signed: bool = True, ago: int = 0) -> Checklist:
    """A pre-delivery inspection of a unit as it was signed so many days ago, or one under way."""
    finished = timezone.now() - timedelta(days=ago) if signed else None
    return Checklist.objects.create(unit=unit, sort="inspection", state=state, finished=finished)


@pytest.fixture
def quote(people: dict[str, User]) -> Quote:
    """An accepted quote of the invented yard's track loader on a unit that carries it."""
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    seller = people["sales"]
    unit = add_unit(yard().trailers[UNIT].model_copy(update={"status": "in-stock"}), by=seller)
    inspect(unit)
    haul = add_haul(haul_of(HAUL), buyer="Odell Fennick", title="Track loader", by=seller)
    made = sales.begin(unit=unit, haul=haul, buyer="Odell Fennick", by=seller)
    version = sales.offer(made, by=seller, seen_version=made.version)
    return sales.accept(version, name="Odell Fennick", at="here", by=seller)


@pytest.fixture
def hand_over(quote: Quote, people: dict[str, User]) -> Checklist:
    """Its hand-over, begun by a yard hand."""
    return steps.begin(quote.unit, by=people["hand"])


def enter(client: Client, it: Checklist, key: str, *numbers: float, answer: str = "ok", text: str = "") -> Any:
    it.refresh_from_db()
    turn = it.entries.filter(line=key).count()
    sent = {"line": key, "answer": answer, "seen": turn, "text": text}
    sent |= {f"number-{n}": f"{value}" for n, value in enumerate(numbers)}
    answer_ = client.post(reverse("check-line", args=[it.pk]), sent, headers={"X-Once-Key": str(uuid4())})
    assert answer_.status_code == 200, answer_.content
    return answer_


def fill(client: Client, it: Checklist, **other: tuple[float, ...]) -> None:
    """Every line in order, but for the numbers given otherwise."""
    for line in lines_of(it):
        key = line.key.replace("-", "_")
        numbers = other.get(key, GOOD.get(line.key, ()))
        assert len(numbers) == len(line.places), line.key
        enter(client, it, line.key, *numbers, text="8FA12001" if line.entry == "text" else "")


def signing(it: Checklist, **other: str) -> dict[str, str]:
    version = Quote.objects.get(number=it.about["quote"]).version
    return {
        "buyer_name": "Odell Fennick", "yard_name": "Sal Brandt", "day": clock.today().isoformat(),
        "seen_quote": str(version), "seen_entry": str(steps.last_entry(it)), "why": "", **other,
    }  # fmt: skip


def page_of(answer: Any) -> str:
    assert answer.status_code == 200
    return html.unescape(answer.content.decode())


def finish(client: Client, it: Checklist, **other: str) -> Any:
    return client.post(
        reverse("hand-over-finish", args=[it.pk]), signing(it, **other), headers={"X-Once-Key": str(uuid4())}
    )


def test_what_was_promised_reads_back_as_it_was_weighed(quote):
    from rubrail.answers.weigh import weigh

    then = promised_by(quote)
    now = weigh(haul=haul_of(HAUL), trailer=yard().trailers[UNIT], remedies=False)
    assert then.verdict == now.verdict
    assert (then.governing.title, then.governing.margin) == (now.governing.title, now.governing.margin)
    assert len(then.lines) == len(now.lines)
    assert [p.front_x_in for p in then.pieces] == [p.front_x_in for p in now.pieces]


def test_one_under_way_is_gone_on_with_and_without_a_quote_there_is_none(hand_over, quote, people, make_unit):
    assert steps.begin(quote.unit, by=people["sales"]).pk == hand_over.pk
    with pytest.raises(steps.HandOverError, match="No quote for unit T-9 is accepted"):
        steps.begin(make_unit("T-9"), by=people["sales"])


def test_a_unit_still_to_come_is_received_first(quote, people, as_role):
    Unit.objects.filter(pk=quote.unit.pk).update(status=Status.EXPECTED)
    quote.unit.refresh_from_db()
    with pytest.raises(steps.HandOverError, match="SH-133 is not here yet: receive it first"):
        steps.begin(quote.unit, by=people["hand"])
    page = page_of(as_role("hand").get(reverse("hand-overs")))
    assert "not here yet" in page
    assert "Begin<" not in page


def test_nothing_looked_at_is_no_hand_over(hand_over, as_role):
    stand = stand_of(hand_over)
    assert stand.holds
    assert stand.found.verdict == "clear"
    assert stand.says().startswith("Do not hand it over. ")
    answer = finish(as_role("sales"), hand_over)
    assert answer.status_code == 422
    assert "still to be looked at" in answer.json()["says"]
    assert Quote.objects.get().status == QuoteStatus.ACCEPTED


def test_everything_in_order_is_delivered_with_its_follow_ups(hand_over, quote, as_role):
    fill(as_role("hand"), hand_over)
    stand = stand_of(hand_over)
    assert not stand.holds, stand.says()
    assert stand.says().startswith("Hand it over. Clear: ")
    assert "As the quote had it" in stand.says()
    answer = finish(as_role("sales"), hand_over, keep="yes")
    assert answer.status_code == 200, answer.json()
    hand_over.refresh_from_db()
    quote.refresh_from_db()
    assert (hand_over.state, quote.status) == (CheckState.RELEASE, QuoteStatus.DELIVERED)
    assert Unit.objects.get().status == Status.SOLD
    assert hand_over.result["says"].startswith("Handed over. Clear: ")
    assert FollowUp.objects.filter(quote=quote, sort="wheel-nuts").exists()
    assert [s["role"] for s in hand_over.signatures] == ["buyer", "for the yard"]
    assert not hand_over.result["regardless"]
    said = list(Change.objects.filter(kind="check").values_list("sentence", flat=True))
    assert any("signed checklist" in s and "handed over" in s for s in said)
    # The truck as it was read and measured is the haul's now.
    label = thing_of(Haul.objects.get()).truck.ratings.rear_gawr_lb
    assert (label.number, label.basis) == (6_200, "label")
    again = finish(as_role("sales"), hand_over)
    assert again.status_code == 200
    assert Change.objects.filter(kind="quote", action="delivered").count() == 1


@pytest.mark.parametrize(
    ("key", "numbers", "limit"),
    [
        ("ball", (2, 2.3125), "ball size against the coupler"),
        ("door_label", (10_000, 5_600, 5_000), "truck rear axle against its rating"),
        ("rear_tires", (80, 40), "truck rear tires"),
    ],
)
def test_what_is_found_otherwise_holds_and_a_reason_stays_on_the_sheet(hand_over, as_role, key, numbers, limit):
    fill(as_role("hand"), hand_over, **{key: numbers})
    stand = stand_of(hand_over)
    assert stand.found.verdict == "over"
    assert stand.found.way == "worse"
    assert limit in stand.says()
    assert finish(as_role("sales"), hand_over).status_code == 422
    hand_over.refresh_from_db()
    assert hand_over.state == CheckState.OPEN
    answer = finish(as_role("sales"), hand_over, why="Goes empty on our own truck; theirs is changed first.")
    assert answer.status_code == 200, answer.json()
    hand_over.refresh_from_db()
    assert hand_over.result["regardless"]["why"].startswith("Goes empty")
    assert hand_over.result["says"].startswith("Handed over regardless of this: Do not hand it over. ")
    assert hand_over.result["mark"] == "over"
    sheet = json.dumps(hand_over.result["content"]["paper"])
    assert "Goes empty on our own truck" in sheet
    assert "Decided by Sal Brandt" in sheet


NEVER = "It never had a pre-delivery inspection, so whether it is fit to go is not known."
BEGUN = "Its pre-delivery inspection is begun and not finished."
HELD = "Its pre-delivery inspection holds it back."


@pytest.mark.parametrize(
    ("lists", "says", "mark", "link"),
    [
        ([], NEVER, "not known", "Inspect it"),
        ([("dropped", False, 0)], NEVER, "not known", "Inspect it"),
        ([("release", True, 3), ("open", False, 0)], BEGUN, "not known", "Finish it"),
        ([("release", True, 3), ("hold", True, 1)], HELD, "over", "See what holds it, and look again"),
        ([("hold", True, 1), ("open", False, 0)], HELD, "over", "See what holds it, and look again"),
    ],
    ids=["never", "given up", "under way", "hold", "hold and another under way"],
)
def test_an_inspection_that_is_no_release_holds_it_and_is_said_first(hand_over, as_role, lists, says, mark, link):
    fill(as_role("hand"), hand_over)
    Checklist.objects.filter(sort="inspection").delete()
    made = [inspect(hand_over.unit, state=state, signed=signed, ago=ago) for state, signed, ago in lists]
    stand = stand_of(hand_over)
    assert (stand.holds, stand.mark, stand.found.verdict) == (True, mark, "clear")
    assert stand.says().startswith(f"Do not hand it over. {says} Clear: ")
    page = page_of(as_role("hand").get(reverse("hand-over", args=[hand_over.pk])))
    counted = [it for it in made if it.state == (CheckState.HOLD if says == HELD else CheckState.OPEN)]
    go = counted[0].get_absolute_url() if counted else f"{reverse('checks')}?unit={UNIT}"
    assert f'<a href="{go}">{link}</a>' in page
    answer = finish(as_role("sales"), hand_over)
    assert answer.status_code == 422
    assert answer.json()["says"].startswith(f"Do not hand it over. {says}")
    assert Quote.objects.get().status == QuoteStatus.ACCEPTED

    answer = finish(as_role("sales"), hand_over, why="Inspected at the maker's; its sheet is in the file.")
    assert answer.status_code == 200, answer.json()
    # What is inspected later does not change what was signed.
    Checklist.objects.filter(sort="inspection").delete()
    inspect(hand_over.unit)
    hand_over.refresh_from_db()
    assert hand_over.result["mark"] == mark
    assert hand_over.result["says"].startswith(f"Handed over regardless of this: Do not hand it over. {says}")
    sheet = paper_of(hand_over, stamp=Stamp())
    assert says in sheet.lead
    words = {NEVER: "never made", BEGUN: "begun, not finished", HELD: "hold, "}[says]
    head = next(b for b in sheet.blocks if isinstance(b, Facts))
    assert dict(head.rows)["Inspection"].startswith(words)


@pytest.mark.parametrize("lists", [[("hold", 5), ("release", 1)], [("released", 1)], [("release", 1), ("dropped", 0)]])
def test_the_latest_inspection_that_counts_releases_it(hand_over, as_role, lists):
    fill(as_role("hand"), hand_over)
    Checklist.objects.filter(sort="inspection").delete()
    made = [inspect(hand_over.unit, state=state, signed=state != "dropped", ago=ago) for state, ago in lists]
    stand = stand_of(hand_over)
    assert stand.says().startswith("Hand it over. Clear: ")
    assert stand.inspection in made
    assert finish(as_role("sales"), hand_over).status_code == 200
    hand_over.refresh_from_db()
    assert hand_over.result["inspection"].startswith("released, ")
    assert hand_over.result["inspection"] in page_of(as_role("viewer").get(reverse("hand-over", args=[hand_over.pk])))


def test_no_haul_is_not_known_and_never_a_pass(people, as_role):
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    seller = people["sales"]
    unit = add_unit(yard().trailers[UNIT].model_copy(update={"status": "in-stock"}), by=seller)
    inspect(unit)
    made = sales.begin(unit=unit, haul=None, buyer="Nell Abernath-Ruiz", by=seller)
    sales.accept(sales.offer(made, by=seller, seen_version=made.version), name="N", at="here", by=seller)
    it = steps.begin(unit, by=seller)
    fill(as_role("hand"), it)
    stand = stand_of(it)
    assert (stand.found.verdict, stand.holds) == ("not known", True)
    assert "no truck and no cargo are described" in stand.says()


def test_a_slip_of_the_pen_is_told_at_the_door(hand_over, as_role):
    sent = {"line": "ball-height", "answer": "ok", "seen": 0, "number-0": "200"}
    answer = as_role("hand").post(
        reverse("check-line", args=[hand_over.pk]), sent, headers={"X-Once-Key": str(uuid4())}
    )
    assert answer.status_code == 422
    assert answer.json()["says"] == "With the trailer on must be 8 to 80 in, got 200."


def test_what_somebody_else_entered_meanwhile_is_shown_before_signing(hand_over, as_role):
    fill(as_role("sales"), hand_over)
    seen = steps.last_entry(hand_over)
    enter(as_role("hand"), hand_over, "level", 30, 26)
    answer = finish(as_role("sales"), hand_over, seen_entry=str(seen))
    assert answer.status_code == 409
    assert answer.json()["says"].startswith("Hank Ito entered something meanwhile: deck front 30 in")
    hand_over.refresh_from_db()
    assert hand_over.state == CheckState.OPEN
    # Sent all the same, as the phone does it: it holds now for another reason, which is told.
    told = finish(as_role("sales"), hand_over, seen_entry=str(seen), seen=str(answer.json()["seen"]))
    assert told.status_code == 422
    assert "standing level as measured" in told.json()["says"]


def test_a_quote_saved_meanwhile_signs_nothing(hand_over, quote, as_role):
    fill(as_role("hand"), hand_over)
    answer = finish(as_role("sales"), hand_over, seen_quote=str(quote.version - 1))
    assert answer.status_code == 422
    assert "Somebody saved" in answer.json()["says"]
    hand_over.refresh_from_db()
    assert (hand_over.state, hand_over.result, hand_over.signatures) == (CheckState.OPEN, {}, [])
    assert not FollowUp.objects.exists()


@pytest.mark.parametrize(
    ("other", "says"),
    [
        ({"buyer_name": ""}, "The buyer: Type the name"),
        ({"yard_name": "", "yard": "[[1]]"}, "The yard: Type the name"),
        ({"day": "tomorrow"}, "Day: write it as year, month and day"),
        ({"day": "2999-01-01"}, "is no day of delivery"),
        ({"why": "x" * 501}, "Why: it has 501 letters"),
    ],
)
def test_bad_signing_is_one_sentence(hand_over, as_role, other: dict[str, str], says: str):
    answer = finish(as_role("sales"), hand_over, **other)
    assert answer.status_code == 422
    assert says in answer.json()["says"]


def test_without_the_outbox_what_was_written_comes_back(hand_over, as_role):
    sent = signing(hand_over, buyer_name="Odell R. Fennick", buyer="[[40, 60, 90, 75]]", yard_name="")
    text = page_of(as_role("sales").post(reverse("hand-over-finish", args=[hand_over.pk]), sent))
    assert "The yard: Type the name" in text
    assert 'value="Odell R. Fennick"' in text
    assert 'value="[[40, 60, 90, 75]]"' in text
    assert 'name="keep" value="yes">' in text, "the tick that was taken off stays off"
    sent["yard_name"], sent["why"] = "Sal Brandt", "The buyer waits; measured at home."
    sent["seen_quote"] = "999"
    text = page_of(as_role("sales").post(reverse("hand-over-finish", args=[hand_over.pk]), sent))
    assert "nothing is signed" in text
    assert "The buyer waits; measured at home.</textarea>" in text


def test_the_kept_truck_is_offered_what_was_read_field_by_field(hand_over, as_role, people):
    truck = SORTS["truck"].model.objects.create(name="Odell's three-quarter-ton", spec=hand_over.haul.spec["truck"])
    fill(as_role("hand"), hand_over, door_label=(10_000, 5_600, 6_300))
    # Whoever signs may leave the haul as it is; the kept truck is asked for by itself.
    assert finish(as_role("sales"), hand_over).status_code == 200
    url, sales = reverse("hand-over", args=[hand_over.pk]), as_role("sales")
    page = page_of(sales.get(url))
    assert "Into the kept truck: Odell's three-quarter-ton" in page
    assert "Into the kept truck" not in page_of(as_role("hand").get(url)), "trucks are sales'"
    hand_over.refresh_from_db()
    offer = next(o for o in offers_of(hand_over, user=people["sales"]) if o.of == "truck")
    rows = {row.label: (row.was, row.now, row.now_basis) for row in offer.rows}
    assert rows["rear GAWR"] == ("6,200 lb", "6,300 lb", "label")
    assert "front GAWR" not in rows, "it reads as the file has it"
    to = reverse("check-file", args=[hand_over.pk, "truck"])
    assert as_role("hand").post(to, {"mark": offer.mark}).status_code == 403
    assert sales.post(to, {"mark": offer.mark}).headers["Location"] == url
    truck.refresh_from_db()
    assert truck.spec["ratings"]["rear_gawr_lb"] == {"value": 6_300.0, "basis": "label"}
    said = Change.objects.filter(kind="truck", thing=truck.pk, action="changed").values_list("sentence", flat=True)
    assert any("rear GAWR" in s and "6,200 lb" in s and "6,300 lb" in s for s in said)
    assert "Into the kept truck" not in page_of(sales.get(url))


def test_of_two_trucks_that_may_be_the_one_neither_is_offered(hand_over):
    model, spec = SORTS["truck"].model, hand_over.haul.spec["truck"]
    assert kept_truck(hand_over.haul) is None
    first = model.objects.create(name="First", spec=spec)
    assert kept_truck(hand_over.haul) == first
    model.objects.create(name="Second", spec=spec)
    assert kept_truck(hand_over.haul) is None


def test_a_class_is_nobodys_truck(people, make_haul):
    """A haul begun from a class carries the class's id; what is kept of it has one of its own."""
    sort, of_class = SORTS["truck"], truck_classes()["half-ton"]
    assert kept_truck(make_haul(truck=stored(of_class))) is None
    rows = [keep(sort, name="Dale's half-ton", thing=of_class, by=people["sales"]) for _ in range(2)]
    assert [row.spec["id"] for row in rows] == ["dale-s-half-ton", "dale-s-half-ton-2"]
    assert [kept_truck(make_haul(truck=row.spec)) for row in rows] == rows


def test_a_signed_one_takes_no_more_entries_and_its_sheet_stays(hand_over, quote, as_role):
    fill(as_role("hand"), hand_over)
    assert finish(as_role("sales"), hand_over).status_code == 200
    sent = {"line": "level", "answer": "ok", "seen": 1, "number-0": "30", "number-1": "26"}
    answer = as_role("hand").post(
        reverse("check-line", args=[hand_over.pk]), sent, headers={"X-Once-Key": str(uuid4())}
    )
    assert answer.status_code == 422
    assert "signed" in answer.json()["says"]
    first = as_role("viewer").get(reverse("hand-over-paper", args=[hand_over.pk]))
    assert first.content.startswith(b"%PDF")
    page = page_of(as_role("viewer").get(reverse("hand-over", args=[hand_over.pk])))
    assert "Handed over. Clear: " in page
    assert "data-line-form" not in page


def test_the_sheet_keeps_the_labels_pressure_and_says_what_was_measured(hand_over, as_role, people):
    enter(as_role("hand"), hand_over, "pressure-1", 70, 110)
    enter(as_role("hand"), hand_over, "pressure-2", 70, 110)
    paper = paper_of(hand_over, stamp=Stamp())
    big = next(b for b in paper.blocks if isinstance(b, Big))
    assert dict(big.rows)["Tires, cold"] == "110 psi"
    put = next(b for b in paper.blocks if isinstance(b, Table) and b.heading == "Put on the rig")
    assert ("Lowest tire of trailer axle 1, cold", "70 psi", "110 psi", "measured") in put.rows
    assert paper.lead.startswith("Not signed yet. Do not hand it over.")
    empty = as_role("viewer").get(reverse("hand-over-blank", args=[UNIT]))
    assert empty.content.startswith(b"%PDF")


def test_a_hand_fills_and_cannot_sell(hand_over, as_role):
    page = page_of(as_role("hand").get(reverse("hand-over", args=[hand_over.pk])))
    assert "Somebody who sells signs it with the buyer." in page
    assert hand_over.about["quote"] not in page
    assert "$" not in page
    assert finish(as_role("hand"), hand_over).status_code == 403


def test_a_checklists_own_pages_lead_to_the_hand_over(hand_over, as_role):
    client = as_role("sales")
    assert client.get(reverse("check", args=[hand_over.pk])).headers["Location"] == hand_over.get_absolute_url()
    answer = client.post(reverse("check-finish", args=[hand_over.pk]), {"signature_name": "x"})
    assert answer.headers["Location"] == hand_over.get_absolute_url()
    client.post(reverse("check-step", args=[hand_over.pk]), {"do": "renew"})
    hand_over.refresh_from_db()
    assert hand_over.state == CheckState.OPEN
    client.post(reverse("check-step", args=[hand_over.pk]), {"do": "drop"})
    hand_over.refresh_from_db()
    assert hand_over.state == CheckState.DROPPED
    assert finish(client, hand_over).status_code == 422


def test_the_list_says_who_waits_in_few_queries(hand_over, quote, as_role, django_assert_max_num_queries):
    client = as_role("hand")
    client.get(reverse("hand-overs"))
    with django_assert_max_num_queries(9):
        page = page_of(client.get(reverse("hand-overs")))
    assert "Odell Fennick" in page
    assert quote.number not in page
    assert quote.number in page_of(as_role("sales").get(reverse("hand-overs")))


def test_it_is_told_on_the_first_page(hand_over, as_role):
    page = page_of(as_role("hand").get(reverse("today")))
    assert "The hand-over of SH-133 to Odell Fennick is begun and not signed." in page


def test_a_day_of_last_week_plans_from_that_day(hand_over, quote, as_role):
    fill(as_role("hand"), hand_over)
    day = clock.today() - timedelta(days=7)
    assert finish(as_role("sales"), hand_over, day=day.isoformat()).status_code == 200
    assert Quote.objects.get().delivered == day
    assert FollowUp.objects.filter(delivered=day).exists()
