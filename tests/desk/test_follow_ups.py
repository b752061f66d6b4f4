"""Follow-ups: planned once on delivery, written by hand, done, moved, dropped; their pages and their calendar."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.urls import reverse
from icalendar import Calendar

from answers.yard import yard
from rubrail.desk import clock, follow_plan, follow_ups
from rubrail.desk.books import keep_book
from rubrail.desk.calendar_links import ENDED_DAYS, give_address
from rubrail.desk.editing import StaleError
from rubrail.desk.follow_plan import FollowUpError
from rubrail.desk.models import CalendarLink, Change, FollowUp, Quote, Unit, User
from rubrail.desk.models.follow import FollowState
from rubrail.desk.sales import quotes as sales
from rubrail.desk.standing import BY_KEY, take_step


@pytest.fixture
def seller(people) -> User:
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    return people["sales"]


@pytest.fixture
def delivered(unit: Unit, seller: User) -> Quote:
    """A quote delivered today to a buyer who can be reached."""
    quote = sales.begin(unit=unit, haul=None, buyer="Odell Fennick", contact="555 0142", by=seller)
    version = sales.offer(quote, by=seller, seen_version=quote.version)
    quote = sales.accept(version, name="Odell Fennick", at="here", by=seller)
    sales.deliver(quote, day=clock.today(), by=seller, seen_version=quote.version)
    return quote


def test_a_delivery_plans_its_follow_ups_once(delivered, seller):
    unit, today = delivered.unit, clock.today()
    rows = list(FollowUp.objects.filter(quote=delivered))
    # Nobody said where this trailer's bed has its middle, so its weight by the axles' method is not known, nor is
    # whether it is taxed: the last day is planned, and its words say so.
    sorts = ["wheel-nuts", "wheel-nuts", "brakes", "papers", "first-service", "accessories", "bearings"]
    assert [r.sort for r in rows] == sorts
    assert rows[5].words.startswith("It is not known whether federal excise tax was due")
    assert [(r.due - today).days for r in rows[:4]] == [1, 2, 8, 30]
    assert [r.guessed for r in rows] == [True, True, True, False, False, False, False]
    assert all(r.unit == unit and r.planned == r.due and r.state == FollowState.OPEN for r in rows)
    again = follow_plan.plan_for(unit=unit, quote=delivered, delivered=today + timedelta(days=3), by=seller)
    assert [r.pk for r in again] == [r.pk for r in rows]
    assert FollowUp.objects.count() == len(rows)
    said = Change.objects.filter(kind="follow-up", action="planned")
    assert said.count() == 1


def test_a_unit_that_comes_back_owes_nobody_anything(delivered, seller):
    unit = Unit.objects.get(pk=delivered.unit_id)
    assert (unit.status, unit.status_since) == ("sold", clock.today())
    own = follow_ups.add(unit=unit, due=clock.today(), title="A call", by=seller)
    follow_ups.finish(own, by=seller, seen_version=own.version)
    take_step(unit, BY_KEY["bring-back"], day=clock.today(), by=seller, seen_version=unit.version)
    assert not FollowUp.objects.filter(state=FollowState.OPEN).exists()
    assert {it.note for it in FollowUp.objects.filter(state=FollowState.DROPPED)} == {"the unit came back"}
    assert FollowUp.objects.get(pk=own.pk).state == FollowState.DONE, "what was done stays done"


def sold(unit: Unit, seller: User, *, ago: int = 0) -> list[FollowUp]:
    """What the step "Sell" plans."""
    unit = Unit.objects.get(pk=unit.pk)
    day = clock.today() - timedelta(days=ago)
    take_step(unit, BY_KEY["sell"], day=day, by=seller, seen_version=unit.version)
    return list(follow_plan.undated(unit))


def test_a_sale_plans_them_too_and_the_delivery_moves_them(unit, seller):
    rows, today = sold(unit, seller, ago=3), clock.today()
    assert [(r.due - today).days for r in rows[:4]] == [-2, -1, 5, 27]
    assert all(r.delivered is None and r.from_sale for r in rows)
    chosen, done, *_ = rows
    follow_ups.move(chosen, to=today + timedelta(days=9), by=seller, seen_version=chosen.version)
    follow_ups.finish(done, by=seller, seen_version=done.version)
    made = follow_plan.plan_for(unit=unit, delivered=today - timedelta(days=1), by=seller)
    assert {r.pk for r in made} == {r.pk for r in rows}, "nothing is planned twice"
    now = {r.pk: r for r in made}
    assert all(r.delivered == today - timedelta(days=1) for r in made)
    assert (now[chosen.pk].due - today).days == 9, "a day somebody chose stays"
    assert (now[done.pk].state, now[done.pk].due) == (FollowState.DONE, done.due)
    assert [(now[r.pk].due - today).days for r in rows[2:4]] == [7, 29]
    assert now[rows[2].pk].turns == 1, "calendars are told"
    assert now[rows[2].pk].version == rows[2].version + 1, "and whoever has it open"
    moved = Change.objects.filter(kind="follow-up", action="moved", thing=rows[2].pk).get()
    assert "it went to its buyer on" in moved.sentence
    assert follow_plan.plan_for(unit=unit, delivered=today - timedelta(days=1), by=seller) == made


def test_a_quote_delivered_after_the_sale_takes_over_what_the_sale_planned(unit, seller):
    quote = sales.begin(unit=unit, haul=None, buyer="Odell Fennick", by=seller)
    version = sales.offer(quote, by=seller, seen_version=quote.version)
    quote = sales.accept(version, name="Odell Fennick", at="here", by=seller)
    rows = sold(unit, seller, ago=5)
    assert {r.quote for r in rows} == {quote}, "its buyer is known"
    quote = Quote.objects.get(pk=quote.pk)
    sales.deliver(quote, day=clock.today(), by=seller, seen_version=quote.version)
    now = FollowUp.objects.all()
    assert {r.pk for r in now} == {r.pk for r in rows}
    assert [(r.due - clock.today()).days for r in now[:4]] == [1, 2, 8, 30]


def test_sold_and_brought_back_and_sold_again_owes_its_last_buyer(unit, seller):
    today = clock.today()
    first = sold(unit, seller)
    follow_plan.plan_for(unit=unit, delivered=today, by=seller)
    for dated in (True, False):
        it = Unit.objects.get(pk=unit.pk)
        take_step(it, BY_KEY["bring-back"], day=today, by=seller, seen_version=it.version)
        assert not FollowUp.objects.filter(state=FollowState.OPEN).exists()
        again = sold(unit, seller)
        assert len(again) == len(first)
        if dated:
            assert len(follow_plan.plan_for(unit=unit, delivered=today, by=seller)) == len(first)
    assert FollowUp.objects.filter(state=FollowState.OPEN).count() == len(first)


def test_what_was_done_for_one_buyer_is_owed_the_next_all_the_same(unit, seller):
    first = sold(unit, seller)
    follow_ups.finish(first[0], by=seller, seen_version=first[0].version)
    it = Unit.objects.get(pk=unit.pk)
    take_step(it, BY_KEY["bring-back"], day=clock.today(), by=seller, seen_version=it.version)
    again = sold(unit, seller)
    assert [(r.sort, r.miles) for r in again] == [(r.sort, r.miles) for r in first]
    assert {r.state for r in again} == {FollowState.OPEN}
    made = follow_plan.plan_for(unit=unit, delivered=clock.today(), by=seller)
    assert {r.pk for r in made} == {r.pk for r in again}
    assert FollowUp.objects.get(pk=first[0].pk).state == FollowState.DONE, "the record of the first sale stays"


def test_a_sale_entered_late_plans_nothing_that_fell_due_long_ago(unit, seller):
    due = {r.due for r in sold(unit, seller, ago=200)}
    assert due
    assert min(due) >= clock.today() - timedelta(days=follow_plan.LONG_AGO_DAYS)


def test_the_seller_is_told_and_enters_the_delivery(unit, as_role):
    client, url = as_role("sales"), reverse("unit-step", args=[str(unit), "sell"])
    page = client.get(url).content.decode()
    held = page.split('name="seen" value="')[1].split('"')[0]
    told = client.post(url, {"day": clock.today().isoformat(), "seen": held}, follow=True).content.decode()
    assert "7 follow-ups are planned from the day of sale" in told
    assert "enter the day it went to its buyer</a>" in told
    listed = client.get(reverse("follow-ups")).content.decode()
    asked = f"{reverse('follow-up-new')}?unit={unit}"
    assert f'<a href="{asked}">enter the delivery</a>' in listed
    assert "When did it go to its buyer?" in client.get(asked).content.decode()
    client.post(asked, {"unit": str(unit), "do": "plan", "delivered": clock.today().isoformat()})
    assert not follow_plan.undated(unit).exists()
    assert "enter the delivery" not in client.get(reverse("follow-ups")).content.decode()


def test_each_end_of_a_warranty_is_planned(make_unit, seller):
    unit = make_unit("W-1", warranty={"trailer_months": 12, "frame_months": 36, "axles_months": 60})
    rows = follow_plan.plan_for(unit=unit, delivered=date(2026, 8, 31), by=seller)
    ends = [(r.due, r.title) for r in rows if r.sort.startswith("warranty")]
    assert ends == [
        (date(2027, 8, 1), "Warranty to Aug 31, 2027: all but frame and axles"),
        (date(2029, 8, 1), "Warranty to Aug 31, 2029: frame"),
        (date(2031, 8, 1), "Warranty to Aug 31, 2031: axles"),
    ]


def test_a_taxed_trailer_has_the_last_day_of_the_tax(make_unit, seller):
    heavy = make_unit("H-1", ratings={"gvwr_lb": 30_000}, condition="new")
    rows = follow_plan.plan_for(unit=heavy, delivered=date(2026, 8, 31), by=seller)
    (tax,) = [r for r in rows if r.sort == "accessories"]
    # 26 USC 4051(b): six months from August 31; February has no 31st
    assert tax.due == date(2027, 2, 28)
    assert "Feb 28, 2027" in tax.words
    used = make_unit("H-2", ratings={"gvwr_lb": 30_000}, condition="used")
    assert "accessories" not in {
        r.sort for r in follow_plan.plan_for(unit=used, delivered=date(2026, 8, 31), by=seller)
    }


def test_a_quote_sold_free_of_tax_has_none(make_unit, seller):
    heavy = make_unit("H-3", ratings={"gvwr_lb": 30_000}, condition="new")
    quote = sales.begin(unit=heavy, haul=None, buyer="A county", by=seller)
    quote.terms = {**quote.terms, "free_as": "state or local government"}
    quote.save()
    version = sales.offer(quote, by=seller, seen_version=quote.version)
    quote = sales.accept(version, name="The clerk", at="here", by=seller)
    sales.deliver(quote, day=clock.today(), by=seller, seen_version=quote.version)
    assert not FollowUp.objects.filter(unit=heavy, sort="accessories").exists()


def test_a_unit_that_no_longer_reads_is_delivered_all_the_same(unit, seller):
    quote = sales.begin(unit=unit, haul=None, buyer="A buyer", by=seller)
    version = sales.offer(quote, by=seller, seen_version=quote.version)
    quote = sales.accept(version, name="A buyer", at="here", by=seller)
    Unit.objects.filter(pk=unit.pk).update(spec={"axle": "spoiled"})
    quote = Quote.objects.get(pk=quote.pk)
    sales.deliver(quote, day=clock.today(), by=seller, seen_version=quote.version)
    assert Quote.objects.get(pk=quote.pk).status == "delivered"
    assert not FollowUp.objects.exists()
    with pytest.raises(FollowUpError, match="no longer reads"):
        follow_plan.plan_for(unit=Unit.objects.get(pk=unit.pk), delivered=clock.today(), by=seller)


@pytest.fixture
def one(unit, people) -> FollowUp:
    due = clock.today() + timedelta(days=3)
    return follow_ups.add(unit=unit, due=due, title="Ask how the winch pulls", by=people["sales"])


def test_done_moved_dropped_and_open_again_with_a_trail(one, people):
    by, to = people["hand"], clock.today() + timedelta(days=9)
    follow_ups.move(one, to=to, why="away this week", by=by, seen_version=one.version)
    assert (one.due, one.planned, one.turns) == (to, clock.today() + timedelta(days=3), 1)
    follow_ups.finish(one, note="Pulls well.", by=by, seen_version=one.version)
    assert (one.state, one.ended, one.ended_by) == (FollowState.DONE, clock.today(), "Hank Ito")
    follow_ups.take_up(one, by=by, seen_version=one.version)
    assert (one.state, one.ended, one.note) == (FollowState.OPEN, None, "")
    follow_ups.drop(one, why="Sold on", by=by, seen_version=one.version)
    one.refresh_from_db()
    assert (one.state, one.note, one.turns) == (FollowState.DROPPED, "Sold on", 4)
    actions = list(Change.objects.filter(kind="follow-up").values_list("action", flat=True))
    assert sorted(actions) == ["added", "done", "dropped", "moved", "taken up"]


@pytest.mark.parametrize(
    ("step", "message"),
    [
        (lambda it, by, day: follow_ups.drop(it, why="", by=by, seen_version=it.version), "Why: say"),
        (lambda it, by, day: follow_ups.move(it, to=it.due, by=by, seen_version=it.version), "another day"),
        (lambda it, by, day: follow_ups.move(it, to=day - timedelta(1), by=by, seen_version=it.version), "has passed"),
        (lambda it, by, day: follow_ups.move(it, to=date(2999, 1, 1), by=by, seen_version=it.version), "too far off"),
        (lambda it, by, day: follow_ups.take_up(it, by=by, seen_version=it.version), "open already"),
    ],
)
def test_steps_that_cannot_be_taken_say_why(one, people, step, message):
    with pytest.raises(FollowUpError, match=message):
        step(one, people["sales"], clock.today())
    assert FollowUp.objects.get(pk=one.pk).version == 1


def test_two_people_never_end_one_unawares(one, people):
    theirs = FollowUp.objects.get(pk=one.pk)
    follow_ups.finish(theirs, by=people["sales"], seen_version=theirs.version)
    with pytest.raises(StaleError):
        follow_ups.drop(one, why="Sold on", by=people["hand"], seen_version=1)


def post(client, it: FollowUp, **fields):
    return client.post(reverse("follow-up-step", args=[it.pk]), {"seen": it.version, **fields})


def test_pages_by_role(delivered, as_role):
    for role, sees in (("owner", True), ("sales", True), ("hand", False), ("viewer", False)):
        text = as_role(role).get(reverse("follow-ups")).content.decode()
        assert "Wheel nuts at 10 and 25 miles" in text
        assert "Have the wheel nuts been torqued again?" in text
        for secret in ("Odell Fennick", "555 0142"):
            assert (secret in text) == sees, (role, secret)
        assert (">Done</button>" in text) == (role != "viewer")
        page = as_role(role).get(reverse("follow-up", args=[FollowUp.objects.first().pk])).content.decode()
        assert ("Odell Fennick" in page) == sees
        assert ("Drop it" in page) == (role != "viewer")


def test_a_delivered_quote_leads_to_its_follow_ups(delivered, as_role):
    client = as_role("sales")
    url = f"{reverse('follow-ups')}?words={delivered.number}"
    assert url in client.get(reverse("quote", args=[delivered.number])).content.decode()
    assert "Wheel nuts at 50 miles" in client.get(url).content.decode()


def test_a_hand_cannot_find_out_buyers_by_searching(delivered, as_role):
    asked = reverse("follow-ups") + "?words=odell"
    assert "Wheel nuts" in as_role("sales").get(asked).content.decode()
    assert "Wheel nuts" not in as_role("hand").get(asked).content.decode()


def test_list_by_day_by_buyer_and_what_was_done(delivered, seller, as_role):
    first = FollowUp.objects.first()
    FollowUp.objects.filter(pk=first.pk).update(due=clock.today() - timedelta(days=2))
    client = as_role("sales")
    due = client.get(reverse("follow-ups") + "?which=due").content.decode()
    assert "2 days late" in due
    assert "Wheel bearings" not in due
    assert "Odell Fennick</h2>" in client.get(reverse("follow-ups") + "?by=buyer").content.decode()
    first.refresh_from_db()
    follow_ups.finish(first, note="All tight", by=seller, seen_version=first.version)
    ended = client.get(reverse("follow-ups") + "?which=ended").content.decode()
    assert "All tight" in ended


def test_done_from_the_list_leads_back_there(one, as_role):
    back = reverse("follow-ups") + "?which=due"
    answer = post(as_role("hand"), one, do="done", back=back)
    assert answer.headers["Location"] == back
    one.refresh_from_db()
    assert one.state == FollowState.DONE


@pytest.mark.parametrize("back", ["https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)", "\\\\x"])
def test_a_step_sends_nobody_elsewhere(one, as_role, back):
    assert post(as_role("hand"), one, do="done", back=back).headers["Location"] == reverse("follow-ups")


def test_faults_are_told_and_what_was_typed_is_kept(one, as_role):
    client = as_role("sales")
    for fields, message in (
        ({"do": "drop", "due": ""}, "Why: say in a few words"),
        ({"do": "move", "note": "kept words", "due": ""}, "Give the day it is moved to."),
        ({"do": "move", "note": "kept words", "due": "soon"}, "Must be a day such as 2026-12-09."),
        ({"do": "burn"}, "no step of a follow-up"),
    ):
        text = post(client, one, **fields).content.decode()
        assert message in text
        assert fields.get("note", "") in text
    answer = client.post(reverse("follow-up-step", args=[one.pk]), {"seen": "77", "do": "done", "note": "kept words"})
    assert answer.status_code == 409
    assert "kept words" in answer.content.decode()
    assert FollowUp.objects.get(pk=one.pk).state == FollowState.OPEN


def test_written_by_hand_and_planned_later(unit, as_role):
    client, url = as_role("hand"), reverse("follow-up-new")
    assert client.get(url).headers["Location"] == reverse("follow-ups"), "it is for a unit"
    assert "Plan them" not in client.get(f"{url}?unit={unit}").content.decode()
    due = clock.today() + timedelta(days=5)
    answer = client.post(url, {"unit": str(unit), "title": "Spare wheel", "due": due.isoformat()})
    assert answer.status_code == 302
    assert FollowUp.objects.get().due == due
    text = client.post(url, {"unit": str(unit), "title": "", "due": "2020-01-01"}).content.decode()
    assert "Say what it is." in text
    Unit.objects.filter(pk=unit.pk).update(status="sold")
    assert "Plan them" in client.get(f"{url}?unit={unit}").content.decode()
    tomorrow = clock.today() + timedelta(days=1)
    late = client.post(url, {"unit": str(unit), "do": "plan", "delivered": tomorrow.isoformat()})
    assert "This day has not come yet" in late.content.decode()
    client.post(url, {"unit": str(unit), "do": "plan", "delivered": clock.today().isoformat()})
    assert FollowUp.objects.filter(unit=unit).exclude(sort="own").count() == 7
    assert "Plan them" not in client.get(f"{url}?unit={unit}").content.decode()


def test_the_list_asks_the_database_the_same_for_few_and_for_many(
    make_unit, people, as_role, django_assert_max_num_queries
):
    for n in range(45):
        follow_ups.add(unit=make_unit(f"Q-{n}"), due=clock.today(), title=f"Call {n}", by=people["sales"])
    client = as_role("sales")
    client.get(reverse("follow-ups"))
    with django_assert_max_num_queries(6):
        client.get(reverse("follow-ups"))


def calendar(person: User, client) -> list:
    answer = client.get(reverse("calendar", args=[give_address(person)]))
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer.headers["X-Robots-Tag"] == "noindex, nofollow"
    return Calendar.from_ical(answer.content.decode()).events


def test_calendar_is_read_without_signing_in(delivered, people, client):
    first, *rest = calendar(people["sales"], client)
    assert str(first["SUMMARY"]) == "Wheel nuts at 10 and 25 miles, T-1 (Odell Fennick)"
    assert first["DTSTART"].dt == clock.today() + timedelta(days=1)
    assert len(rest) == 6
    assert str(first["URL"]).startswith("http://testserver/follow-up/")
    same = calendar(people["sales"], client)[0]
    assert (first["UID"], first["DTSTAMP"].dt) == (same["UID"], same["DTSTAMP"].dt), "nothing changed, nothing told"


def test_calendar_holds_no_name_for_those_who_may_not_and_no_money_for_anybody(delivered, people, client):
    for role in people:
        text = client.get(reverse("calendar", args=[give_address(people[role])])).content.decode()
        assert ("Odell" in text) == (role in ("owner", "sales")), role
        for secret in ("555 0142", "9,450", "9450", "7,800", "7800"):
            assert secret not in text


def test_calendar_is_told_of_what_is_moved_done_and_dropped(delivered, seller, client):
    moved, done, dropped, *_ = FollowUp.objects.all()
    to = clock.today() + timedelta(days=20)
    follow_ups.move(moved, to=to, by=seller, seen_version=1)
    follow_ups.finish(done, by=seller, seen_version=1)
    follow_ups.drop(dropped, why="Air brakes", by=seller, seen_version=1)
    events = {str(e["UID"]): e for e in calendar(seller, client)}
    of = [events[f"{it.uid}@rubrail"] for it in (moved, done, dropped)]
    assert [e["SEQUENCE"] for e in of] == [1, 1, 1]
    assert of[0]["DTSTART"].dt == to
    assert str(of[1]["SUMMARY"]).startswith("Done: ")
    assert [str(e["STATUS"]) for e in of] == ["CONFIRMED", "CONFIRMED", "CANCELLED"]
    long_ago = clock.today() - timedelta(days=ENDED_DAYS + 1)
    FollowUp.objects.filter(pk=dropped.pk).update(ended=long_ago)
    assert f"{dropped.uid}@rubrail" not in {str(e["UID"]) for e in calendar(seller, client)}


def test_an_address_is_one_persons_and_can_be_ended(delivered, people, as_role, client):
    mine = as_role("sales")
    mine.post(reverse("calendar-link"))
    page = mine.get(reverse("calendar-link")).content.decode()
    address = page.split('class="address">')[1].split("<")[0]
    assert client.get(address).status_code == 200
    assert address not in mine.get(reverse("calendar-link")).content.decode(), "it is shown once"
    assert CalendarLink.objects.get().digest not in address, "only a digest is stored"
    User.objects.filter(pk=people["sales"].pk).update(is_active=False)
    assert client.get(address).status_code == 404
    User.objects.filter(pk=people["sales"].pk).update(is_active=True)
    as_role("hand").post(reverse("calendar-link"), {"do": "end"})
    assert client.get(address).status_code == 200, "another person's is not touched"
    mine.post(reverse("calendar-link"), {"do": "end"})
    assert client.get(address).status_code == 404
    assert client.get(reverse("calendar", args=["x" * 43])).status_code == 404
    assert client.get(reverse("calendar", args=["x"])).status_code == 404


@pytest.mark.parametrize(
    "asked",
    [
        "follow-ups/?which=burn&by=nobody&page=-3&words=%00%25%27",
        "follow-ups/?page=99999999999999999999&by=buyer",
        "follow-ups/?words=" + "x+" * 400,
        "follow-ups/new/?unit=%00",
        "follow-ups/new/?unit=" + "9" * 500,
        "today/?off&look=1&look=2",
    ],
)
def test_any_address_is_answered(one, as_role, asked):
    assert as_role("sales").get(f"/{asked}").status_code in (200, 302)


def test_no_such_follow_up(people, as_role):
    for pk in (0, 10**30):
        assert as_role("sales").get(f"/follow-up/{pk}/").status_code == 404
        assert as_role("sales").post(f"/follow-up/{pk}/step/").status_code == 404


@pytest.mark.parametrize("text", ["\x00", "<script>alert(1)</script>", "\u202e", "x" * 5000, "'; --"])
def test_any_text_is_taken_or_refused_with_a_sentence(one, unit, as_role, text):
    client = as_role("hand")
    told = post(client, one, do="drop", note=text)
    assert told.status_code in (200, 302)
    assert "<script>alert" not in told.content.decode()
    answer = client.post(reverse("follow-up-new"), {"unit": str(unit), "title": text, "due": "2027-01-01"})
    assert answer.status_code in (200, 302)
    assert "<script>alert" not in client.get(reverse("follow-ups")).content.decode()
    assert "<script>alert" not in client.get(reverse("today")).content.decode()
