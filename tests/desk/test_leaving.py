"""Every way a unit leaves the yard, or comes back: quote, unit, hand-over and follow-ups agree after it."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from answers.yard import yard
from desk.pages import page_form
from rubrail.desk import clock, follow_plan
from rubrail.desk.books import keep_book
from rubrail.desk.forms import seen
from rubrail.desk.handing import steps
from rubrail.desk.models import Change, Checklist, FollowUp, Quote, Unit, User
from rubrail.desk.models.checks import CheckState
from rubrail.desk.models.follow import FollowState
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.models.stock import Status
from rubrail.desk.sales import quotes as sales
from rubrail.desk.standing import BY_KEY, WrongStepError, take_step
from rubrail.desk.stock import change_unit, trailer_of


@pytest.fixture
def seller(people) -> User:
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    return people["sales"]


@pytest.fixture
def accepted(unit: Unit, seller: User) -> Quote:
    """A quote somebody signed; the unit is held by it."""
    quote = sales.begin(unit=unit, haul=None, buyer="Odell Fennick", contact="555 0142", by=seller)
    version = sales.offer(quote, by=seller, seen_version=quote.version)
    return sales.accept(version, name="Odell Fennick", at="here", by=seller)


def again(thing: Any) -> Any:
    return type(thing).objects.get(pk=thing.pk)


def agree(quote: Quote) -> bool:
    """Whether quote, unit and follow-ups tell of one delivery."""
    quote = again(quote)
    open_ = FollowUp.objects.filter(unit=quote.unit_id, state=FollowState.OPEN)
    days = {(it.delivered, it.quote_id) for it in open_}
    return (quote.status, quote.unit.status, quote.unit.status_since, days) == (
        QuoteStatus.DELIVERED, Status.SOLD, quote.delivered, {(quote.delivered, quote.pk)},
    )  # fmt: skip


def test_a_unit_says_since_when_and_by_what_it_is_held_free_and_sold(unit, seller):
    Unit.objects.filter(pk=unit.pk).update(status_since=clock.today() - timedelta(days=90), status_note="came early")
    quote = sales.begin(unit=again(unit), haul=None, buyer="Odell Fennick", by=seller)
    version = sales.offer(quote, by=seller, seen_version=quote.version)
    quote = sales.accept(version, name="Odell Fennick", at="here", by=seller)
    it = again(unit)
    assert (it.status, it.status_since, it.status_note) == (Status.HELD, clock.today(), f"by quote {quote}")
    Unit.objects.filter(pk=unit.pk).update(status_since=clock.today() - timedelta(days=3))
    sales.close(again(quote), status=QuoteStatus.LOST, why="", by=seller, seen_version=quote.version)
    it = again(unit)
    assert (it.status, it.status_since, it.status_note) == (Status.HERE, clock.today(), "")


def test_delivered_on_the_quote_without_a_hand_over(accepted, as_role):
    begun = steps.begin(accepted.unit, by=accepted.created_by)
    url = reverse("quote-step", args=[accepted.number])
    sent = {"do": "deliver", "seen": accepted.version, "day": "soon"}
    told = as_role("sales").post(url, sent).content.decode()
    assert "It went on: give a day such as" in told
    assert 'name="day" value="soon"' in told, "what was typed is still there"
    told = as_role("sales").post(url, sent | {"day": (clock.today() + timedelta(days=1)).isoformat()})
    assert "This day has not come yet" in told.content.decode()
    day = clock.today() - timedelta(days=2)
    told = as_role("sales").post(url, sent | {"day": day.isoformat()}, follow=True).content.decode()
    assert "without a hand-over: nobody read the truck that came" in told
    assert "7 follow-ups are planned" in told
    assert agree(accepted)
    assert again(accepted).delivered == day
    assert again(accepted.unit).status_note == f"by quote {accepted}"
    assert again(begun).state == CheckState.DROPPED, "the hand-over under way ends with it"
    said = Change.objects.get(kind="quote", action="delivered").sentence
    assert said.endswith(", without a hand-over.")


def test_a_unit_still_to_come_is_not_delivered(accepted, seller):
    Unit.objects.filter(pk=accepted.unit_id).update(status=Status.EXPECTED)
    with pytest.raises(sales.QuoteError, match="is not here yet"):
        sales.deliver(again(accepted), day=clock.today(), by=seller, seen_version=accepted.version)


def test_the_day_entered_with_the_follow_ups_delivers_the_quote_once_asked(accepted, seller, as_role):
    unit = again(accepted.unit)
    take_step(unit, BY_KEY["sell"], day=clock.today(), by=seller, seen_version=unit.version)
    asked = f"{reverse('follow-up-new')}?unit={unit}"
    page = as_role("sales").get(asked).content.decode()
    assert f'name="quote" value="{accepted.number}"' in page
    sent = {"unit": str(unit), "do": "plan", "delivered": clock.today().isoformat(), "seen": accepted.version}
    told = as_role("sales").post(asked, sent).content.decode()
    assert f"Quote {accepted} of Odell Fennick is accepted: tick that it is delivered too." in told
    assert again(accepted).status == QuoteStatus.ACCEPTED, "nothing is done that was not asked for"
    hand = as_role("hand")
    for page in (hand.get(asked), hand.post(asked, sent | {"quote": accepted.number})):
        text = page.content.decode()
        assert "somebody who sells enters its delivery" in text
        assert "Odell Fennick" not in text
        assert accepted.number not in text
    assert again(accepted).status == QuoteStatus.ACCEPTED
    told = as_role("sales").post(asked, sent | {"quote": accepted.number, "seen": 999}).content.decode()
    assert "Somebody saved the quote meanwhile" in told
    as_role("sales").post(asked, sent | {"quote": accepted.number})
    assert agree(accepted)


def test_what_is_not_sold_has_no_delivery(unit, seller, as_role):
    sent = {"unit": str(unit), "do": "plan", "delivered": clock.today().isoformat()}
    told = as_role("hand").post(reverse("follow-up-new"), sent).content.decode()
    assert "there is no delivery to be entered" in told
    assert not FollowUp.objects.exists()


@pytest.mark.parametrize("step", ["release", "retire"])
def test_a_unit_is_not_taken_from_its_buyer_unawares(accepted, seller, as_role, step):
    unit = again(accepted.unit)
    with pytest.raises(WrongStepError, match=f"promised by quote {accepted}: write that off"):
        take_step(unit, BY_KEY[step], day=clock.today(), by=seller, seen_version=unit.version)
    url = reverse("unit-step", args=[str(unit), step])
    # A page that was open before somebody signed for the unit still has its form.
    before = {"day": clock.today().isoformat(), "seen": seen.pack(version=unit.version, values={})}
    for told in (as_role("sales").get(url), as_role("sales").post(url, before)):
        text = told.content.decode()
        assert "Write the quote off as lost or withdrawn first" in text
        assert f"{BY_KEY[step].verb}</button>" not in text
    assert again(unit).status == Status.HELD


@pytest.mark.parametrize("status", ["in-stock", "retired"])
def test_nor_by_the_unit_s_form_or_a_list(accepted, as_role, status):
    promised = f"promised by quote {accepted}: write that off as lost or withdrawn first"
    client, url = as_role("owner"), reverse("unit-edit", args=[str(accepted.unit)])
    told = client.post(url, page_form(client, url) | {"status": status, "color": "green"}).content.decode()
    assert f"This unit is {promised}" in told
    assert 'value="green"' in told, "what was typed stays"
    file = SimpleUploadedFile("list.csv", f"Stock #,Status\n{accepted.unit},{status}\n".encode())
    columns = client.post(reverse("yard-import"), {"list": file})["Location"]
    preview = client.post(columns, page_form(client, columns))["Location"]
    told = client.get(preview).content.decode()
    assert promised in told
    assert "Nothing is written while a row has a fault." in told
    assert again(accepted.unit).status == Status.HELD


@pytest.mark.parametrize("way", ["step", "form"])
def test_one_that_comes_is_held_for_whom_it_is_promised_to(accepted, seller, way):
    Unit.objects.filter(pk=accepted.unit_id).update(status=Status.EXPECTED)
    unit = again(accepted.unit)
    if way == "step":
        take_step(unit, BY_KEY["take-in"], day=clock.today(), by=seller, seen_version=unit.version)
    else:
        here = trailer_of(unit).model_copy(update={"status": "in-stock"})
        change_unit(unit, here, by=seller, seen_version=unit.version)
    it = again(unit)
    assert (it.status, it.status_note, it.status_since) == (Status.HELD, f"by quote {accepted}", clock.today())


def test_a_quote_that_comes_to_nothing_frees_the_unit_and_ends_its_hand_over(accepted, seller):
    begun = steps.begin(accepted.unit, by=seller)
    quote = again(accepted)
    sales.close(quote, status=QuoteStatus.LOST, why="no loan", by=seller, seen_version=quote.version)
    assert again(accepted.unit).status == Status.HERE
    assert again(begun).state == CheckState.DROPPED


def test_sold_to_somebody_else_nobody_calls_the_buyer_who_withdrew(accepted, seller):
    unit = again(accepted.unit)
    take_step(unit, BY_KEY["sell"], day=clock.today(), by=seller, seen_version=unit.version)
    assert set(follow_plan.undated(unit).values_list("quote", flat=True)) == {accepted.pk}
    quote = again(accepted)
    sales.close(quote, status=QuoteStatus.WITHDRAWN, why="sold at the gate", by=seller, seen_version=quote.version)
    assert again(unit).status == Status.SOLD
    assert set(follow_plan.undated(unit).values_list("quote", flat=True)) == {None}


def test_brought_back_it_is_held_for_whom_it_is_still_promised_to(accepted, seller):
    unit = again(accepted.unit)
    take_step(unit, BY_KEY["sell"], day=clock.today(), by=seller, seen_version=unit.version)
    take_step(unit, BY_KEY["bring-back"], day=clock.today(), by=seller, seen_version=unit.version)
    assert again(unit).status == Status.HELD
    assert not FollowUp.objects.filter(state=FollowState.OPEN).exists()


def test_a_status_set_in_the_unit_s_form_plans_and_drops_as_the_steps_do(unit, seller):
    trailer = trailer_of(unit)
    change_unit(unit, trailer.model_copy(update={"status": "sold"}), by=seller, seen_version=unit.version)
    assert follow_plan.undated(unit).count() == 7
    change_unit(unit, trailer, by=seller, seen_version=unit.version)
    assert not FollowUp.objects.filter(state=FollowState.OPEN).exists()


def test_units_a_list_sold_are_planned_at_once(make_unit, seller, as_role, django_assert_max_num_queries):
    units = [make_unit(f"L-{n}") for n in range(4)]
    ago = clock.today() - timedelta(days=400)
    for unit, since in zip(units, (clock.today(), clock.today(), None, ago), strict=True):
        Unit.objects.filter(pk=unit.pk).update(status=Status.SOLD, status_since=since)
    Unit.objects.filter(pk=units[1].pk).update(spec={"coupling": 7})
    client, url = as_role("hand"), reverse("follow-ups-sold")
    with django_assert_max_num_queries(8):
        page = client.get(url).content.decode()
    ticked = [u for u in units if f'value="{u}" checked' in page]
    assert ticked == units[:2], "not those sold long ago, nor on a day nobody knows"
    told = client.post(url, {"sold": ""}).content.decode()
    assert "Tick the units" in told
    late = (clock.today() + timedelta(days=2)).isoformat()
    told = client.post(url, {"unit": ["L-0"], "sold": late}).content.decode()
    assert "This day has not come yet" in told
    assert 'value="L-0" checked' in told
    told = client.post(url, {"unit": ["L-0", "L-1", "L-2"], "sold": ""}, follow=True).content.decode()
    assert "The follow-ups of 2 units are planned from the sale." in told
    assert "What is stored of unit L-1 no longer reads" in told
    assert set(FollowUp.objects.values_list("unit__stock_number", flat=True)) == {"L-0", "L-2"}
    assert set(follow_plan.unplanned()) == {units[1], units[3]}


def test_a_signed_hand_over_is_not_ended_by_the_delivery_it_makes(accepted, seller):
    begun = steps.begin(accepted.unit, by=seller)
    Checklist.objects.filter(pk=begun.pk).update(state=CheckState.RELEASE)
    quote = again(accepted)
    sales.deliver(quote, day=clock.today(), by=seller, seen_version=quote.version, handed_over=True)
    assert again(begun).state == CheckState.RELEASE
    assert "hand-over" not in Change.objects.get(kind="quote", action="delivered").sentence


def test_a_press_that_comes_twice_makes_one(unit, seller, as_role):
    client, key = as_role("sales"), "2c9f2f0e-6f50-4a4c-9c0b-5f2f4a6d1e77"
    for _ in range(2):
        client.post(reverse("quote-new"), {"unit": str(unit), "once": key})
    assert Quote.objects.count() == 1
    sent = {"unit": str(unit), "title": "A call", "due": clock.today().isoformat()}
    sent["once"] = "7d1e6d4a-2f5f-4b0c-8c4a-05f6e0f2f9c2"
    for _ in range(2):
        client.post(reverse("follow-up-new"), sent)
    assert FollowUp.objects.filter(title="A call").count() == 1


@pytest.mark.parametrize("version", ["²", "9" * 40, "-1", ""])
def test_a_version_that_is_none_changes_nothing(accepted, as_role, version):
    sent = {"do": "deliver", "seen": version, "day": clock.today().isoformat()}
    told = as_role("sales").post(reverse("quote-step", args=[accepted.number]), sent).content.decode()
    assert "Somebody saved this quote" in told
    assert again(accepted).status == QuoteStatus.ACCEPTED


def test_a_unit_held_by_hand_is_said_to_be_held_and_not_sold(unit, seller):
    quote = sales.begin(unit=unit, haul=None, buyer="Odell Fennick", by=seller)
    version = sales.offer(quote, by=seller, seen_version=quote.version)
    it = again(unit)
    take_step(it, BY_KEY["hold"], day=clock.today(), note="for Odell", by=seller, seen_version=it.version)
    with pytest.raises(sales.QuoteError, match="the yard must release it first"):
        sales.accept(version, name="Odell Fennick", at="here", by=seller)
