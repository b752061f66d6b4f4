"""The first page: what needs a hand, for whom, how pressing; put off until tomorrow; quick on a big yard."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.core.files.base import ContentFile
from django.urls import reverse
from django.utils import timezone

from answers.yard import yard
from desk.rig_pages import invented, store_haul, store_unit
from rubrail.answers.build import build_of
from rubrail.answers.hand_over_lines import SORT
from rubrail.desk import board, clock, derived, follow_ups, held_back
from rubrail.desk.books import keep_book
from rubrail.desk.models import (
    Checklist,
    Listing,
    Order,
    Photo,
    PutOff,
    Quote,
    QuoteVersion,
    Receipt,
    Ticket,
    Unit,
    User,
)
from rubrail.desk.models.stock import Purpose
from rubrail.desk.receiving.deals import Deal, Side, frozen
from rubrail.desk.sales import orders
from rubrail.desk.sales import quotes as sales
from rubrail.desk.stock import add_unit
from rubrail.desk.today import collect
from rubrail.desk.today import unknowns as unknown
from rubrail.desk.today.press import LATE, NOW, PRESSES, SOON, press_of, press_words
from rubrail.desk.today.rows import Row, at_most
from rubrail.desk.today.unknowns import unknowns

TODAY = date(2026, 11, 28)


@pytest.fixture(autouse=True)
def day(monkeypatch) -> None:
    monkeypatch.setattr(clock, "today", lambda: TODAY)
    held_back._looked_at.cache_clear()
    unknown._found.clear()


@pytest.fixture
def seller(people) -> User:
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    return people["sales"]


def days(n: int) -> date:
    return TODAY + timedelta(days=n)


def said(person: User) -> dict[str, Row]:
    """Rows of a person's page by what they say."""
    sheet = collect.gather(person, today=TODAY)
    return {row.says: row for group in sheet.groups for row in group.rows}


def one(person: User, part: str) -> Row:
    (row,) = [row for says, row in said(person).items() if part in says]
    return row


def quoted(unit: Unit, seller: User, *, until: date | None = None, signed: int | None = None) -> Quote:
    quote = sales.begin(unit=unit, haul=None, buyer="Odell Fennick", contact="555 0142", by=seller)
    version = sales.offer(quote, by=seller, seen_version=quote.version)
    if until:
        Quote.objects.filter(pk=quote.pk).update(valid_until=until)
    if signed is not None:
        quote = sales.accept(version, name="Odell Fennick", at="here", by=seller)
        at = timezone.now() - timedelta(days=(timezone.localdate() - TODAY).days + signed)
        QuoteVersion.objects.filter(pk=version.pk).update(signed_at=at)
    return quote


@pytest.mark.parametrize(
    ("due", "press", "words"),
    [
        (days(-3), LATE, "3 days late"),
        (days(-1), LATE, "1 day late"),
        (days(0), NOW, "today"),
        (days(1), SOON, "tomorrow"),
        (days(12), SOON, "in 12 days"),
        (days(60), SOON, "in 60 days"),
        (days(365), SOON, "in 12 months"),
    ],
)
def test_how_pressing(due, press, words):
    assert (press_of(due, today=TODAY), press_words(due, today=TODAY)) == (press, words)


def test_what_is_beyond_the_most_is_told_in_one_row():
    rows = [Row(str(n), str(n), "/", "Go") for n in range(9)]
    cut = at_most(rows, rest=lambda n: Row("rest", f"{n} more", "/", "Go"), most=5)
    assert [r.says for r in cut] == ["0", "1", "2", "3", "4", "4 more"]
    assert at_most(rows[:6], rest=lambda n: 1 / 0, most=5) == rows[:6], "one more is shown rather than told of"


def test_nothing_late_or_over_a_limit_is_one_of_those_told_in_one_row():
    rows = [Row(str(n), str(n), "/", "Go", SOON) for n in range(6)]
    rows += [Row("late", "late", "/", "Go", LATE), Row("over", "over", "/", "Go", SOON, over=True)]
    rows += [Row("now", "now", "/", "Go", NOW)]
    cut = at_most(rows, rest=lambda n: Row("rest", f"{n} more", "/", "Go", SOON), most=2)
    assert [r.says for r in cut] == ["0", "1", "late", "over", "5 more"]
    assert cut[-1].press == NOW, "as pressing as what it tells of"


def test_a_phone_folds_what_can_wait_and_never_what_is_late_or_over():
    def group(*presses: str, over: int = -1) -> collect.Group:
        return collect.Group("The yard", tuple(
            Row(f"{n}", f"{n}", "/", "Go", press, over=n == over) for n, press in enumerate(presses)
        ))  # fmt: skip

    def parted(it: collect.Group) -> tuple[str, str, int]:
        return "".join(r.says for r in it.first), "".join(r.says for r in it.more), it.more_now

    assert parted(group(*[LATE] * 6)) == ("012345", "", 0)
    assert parted(group(LATE, *[NOW] * 4, *[SOON] * 3)) == ("012", "34567", 2)
    assert parted(group(NOW, *[SOON] * 4, over=4)) == ("014", "23", 0)
    assert parted(group(NOW, SOON, SOON)) == ("012", "", 0), "one more is shown rather than told of"


def test_quotes_that_run_out_ran_out_and_wait(make_unit, seller):
    quoted(make_unit("A-1"), seller, until=days(-4))
    quoted(make_unit("A-2"), seller, until=days(0))
    quoted(make_unit("A-3"), seller, until=days(3))
    quoted(make_unit("A-4"), seller, until=days(4))
    quoted(make_unit("A-5"), seller, signed=8)
    quoted(make_unit("A-6"), seller, signed=0)
    rows = said(seller)
    assert rows["Odell Fennick's quote of A-1 ran out on Nov 24, 2026."].press == LATE
    assert rows["Odell Fennick's quote of A-2 runs out today."].press == NOW
    assert rows["Odell Fennick's quote of A-3 runs out on Dec 1, 2026."].press == SOON
    assert not any("A-4" in says and "quote" in says for says in rows)
    assert one(seller, "signed for A-5 8 days ago").press == NOW
    assert one(seller, "signed for A-6 today").press == SOON
    quoted(make_unit("A-7"), seller, until=days(-15))
    assert one(seller, "quote of A-7").press == SOON, "what ran out long ago presses no more"
    Unit.objects.filter(stock_number="A-5").update(status="sold")
    assert "A-5, which is sold and not delivered" in one(seller, "signed for A-5").says


def test_a_hand_over_under_way_is_told_of_once(unit, seller):
    quoted(unit, seller, signed=8)
    assert one(seller, "signed for T-1")
    Checklist.objects.create(unit=unit, sort=SORT, state="open", about={"buyer": "Odell Fennick"})
    (says,) = [says for says in said(seller) if "T-1" in says and "photo" not in says]
    assert says == "The hand-over of T-1 to Odell Fennick is begun and not signed."


def test_a_quote_begun_and_never_offered(unit, seller):
    quote = sales.begin(unit=unit, haul=None, buyer="Odell Fennick", by=seller)
    Quote.objects.filter(pk=quote.pk).update(updated=timezone.now() - (timezone.localdate() - days(-5)))
    assert "was begun 5 days ago and never offered" in one(seller, "never offered").says


def test_arrivals_by_day_and_those_nobody_knows_of(make_unit, seller, people):
    book = keep_book(yard().catalogs["tarnbeck-2027"], by=None)
    build = build_of(yard().catalogs["tarnbeck-2027"], "LE-20")
    for number, expected in (("E-1", days(-2)), ("E-2", days(0)), ("E-3", days(7)), ("E-4", days(8)), ("E-5", None)):
        order = orders.place(book=book, build=build, stock_number=number, by=seller)
        Order.objects.filter(pk=order.pk).update(expected=expected, status="confirmed")
    rows = said(people["hand"])
    late, today, ahead = (one(people["hand"], f"E-{n}") for n in (1, 2, 3))
    assert (late.press, today.press, ahead.press) == (LATE, NOW, SOON)
    assert "was expected on Nov 26, 2026" in late.says
    assert late.url == f"{reverse('receive-new')}?unit=E-1"
    assert not any("E-4" in says for says in rows)
    assert "E-5 is expected, and nobody knows when." in rows
    assert all("O2026" not in row.note for row in rows.values()), "order numbers are for those who see quotes"
    assert "O2026" in one(seller, "E-1").note
    # A viewer looks at it, and does not receive it.
    assert one(people["viewer"], "E-1").url == reverse("unit", args=["E-1"])


def test_orders_without_an_answer(seller):
    book = keep_book(yard().catalogs["tarnbeck-2027"], by=None)
    build = build_of(yard().catalogs["tarnbeck-2027"], "LE-20")
    fresh, old = (orders.place(book=book, build=build, stock_number=n, by=seller) for n in ("E-1", "E-2"))
    for order, ago in ((fresh, 4), (old, 5)):
        when = timezone.now() - (timezone.localdate() - days(-ago))
        Order.objects.filter(pk=order.pk).update(status="sent", updated=when)
    (row,) = [r for s, r in said(seller).items() if "not confirmed" in s]
    assert old.number in row.says
    assert "5 days ago" in row.says


def test_follow_ups_of_one_unit_are_one_call(make_unit, seller, people):
    unit = make_unit("F-1")
    quote = quoted(unit, seller, signed=0)
    sales.deliver(quote, day=days(-2), by=seller, seen_version=quote.version)
    row = one(seller, "Call Odell Fennick about F-1")
    assert row.says == "Call Odell Fennick about F-1: wheel nuts at 10 and 25 miles; wheel nuts at 50 miles."
    assert (row.press, row.press_says) == (LATE, "1 day late")
    assert "555 0142" in row.note
    assert not any("F-1" in says for says in said(people["hand"])), "calls are not yard work"


def test_photos_of_units_and_labels(make_unit, people):
    for n in (1, 2, 3):
        make_unit(f"P-{n}", arrived=f"2026-03-0{n}")
    shown = Photo(unit=Unit.objects.get(stock_number="P-1"), width=8, height=6, purpose=Purpose.SHOW)
    shown.full.save("a.jpg", ContentFile(b"x"), save=False)
    shown.small.save("b.jpg", ContentFile(b"x"), save=True)
    rows = said(people["hand"])
    assert "2 units have no photo; the longest here is P-2." in rows
    assert "3 units have no photo of the label; the longest here is P-1." in rows


def test_scale_tickets_that_nobody_took_over(unit, people):
    for n, (waits, closed) in enumerate((("trailer", False), ("", False), ("trailer", True))):
        Ticket.objects.create(unit=unit, day=days(-n), waits=waits, closed=closed)
    row = one(people["hand"], "weights of T-1")
    assert "from Nov 28, 2026 are not taken over" in row.says
    assert len([says for says in said(people["hand"]) if "taken over" in says]) == 1


def test_checklists_held_and_unfinished(make_unit, people):
    for number, state, ago in (("C-1", "hold", 0), ("C-2", "open", 2), ("C-3", "open", 0), ("C-4", "release", 5)):
        it = Checklist.objects.create(unit=make_unit(number), sort="stock", state=state)
        Checklist.objects.filter(pk=it.pk).update(created=timezone.now() - (timezone.localdate() - days(-ago)))
    hand = people["hand"]
    assert one(hand, "C-1 is held back").press == NOW
    begun, fresh = one(hand, "checklist of C-2"), one(hand, "checklist of C-3")
    assert (begun.press, fresh.press) == (NOW, SOON)
    assert "was begun 2 days ago" in begun.says
    assert not any("C-4" in says for says in said(hand))


def test_prices_nobody_looked_at(make_unit, seller, people):
    for number, checked in (("R-1", days(-200)), ("R-2", days(-400)), ("R-3", days(0))):
        Listing.objects.create(unit=make_unit(number), price_checked=checked)
    assert one(seller, "prices want looking at").says == ("2 prices want looking at; R-2 waits the longest, 400 days.")
    assert not any("prices" in says for says in said(people["hand"]))


def test_receipts_to_decide_on_and_claims_without_a_number(make_unit, seller, people):
    rows = (("D-1", "open", 0, ""), ("D-2", "open", 2, ""), ("D-3", "excepted", 3, ""), ("D-4", "excepted", 3, "C 1"))
    for number, status, ago, claim in rows:
        Receipt.objects.create(
            unit=make_unit(number, status="on-order"), number=f"R-{number}", status=status, day=days(-ago), claim=claim
        )
    hand = people["hand"]
    for n in range(6):
        Receipt.objects.create(unit=make_unit(f"C-{n}"), number=f"R-C-{n}", status="excepted", day=days(-9))
    assert one(hand, "D-1 came today").press == NOW, "not hidden behind claims of longer ago"
    Receipt.objects.filter(number__startswith="R-C").update(claim="C 2")
    late = one(hand, "D-2 came 2 days ago")
    assert (late.press, late.press_says) == (LATE, "2 days late")
    assert "Nov 25, 2026, and no claim number is noted" in one(hand, "D-3 was accepted").says
    assert not any("D-4" in says for says in said(hand) if "claim" in says)
    # What is being received is no arrival any more.
    assert not any("D-1" in says for says in said(hand) if "expected" in says)


def test_deals_that_no_longer_hold_on_what_came(unit, seller, people):
    quote = quoted(unit, seller)
    side = Side("over", "It does not.")
    deal = Deal(1, "A haul", "Odell Fennick", quote.number, "offered", "", False, side, side, "broken", "the label")
    content = {"rests_on": {"deals": frozen([deal])}}
    Receipt.objects.create(unit=unit, number="R-1", status="accepted", day=days(-1), content=content)
    row = one(seller, "no longer holds on T-1 as it came")
    assert (row.press, row.note) == (NOW, "What fails now: the label.")
    assert not any("no longer holds" in says for says in said(people["hand"]))
    signed = replace(deal, quote_status="accepted")
    Receipt.objects.update(content={"rests_on": {"deals": frozen([signed])}})
    row = one(seller, "no longer holds on T-1 as it came")
    assert (row.press, row.press_says) == (LATE, "1 day late"), "who signed is called on the day it came"
    Quote.objects.filter(pk=quote.pk).update(status="lost")
    assert not any("no longer holds" in says for says in said(seller)), "its quote is closed"


def test_units_that_no_longer_read(unit, people):
    Unit.objects.filter(pk=unit.pk).update(packed=None, derived_by=derived.mark())
    assert one(people["hand"], "no longer reads").url == reverse("unit-edit", args=["T-1"])


def test_aging_units_by_hand(make_unit, seller, people):
    # STOCK-INTEREST, by hand: 21,500 at 9.25 % is 5.4486 a day; 90 days 490.38. 10,000 is 2.5342 a day.
    make_unit("G-1", cost_usd="21500", arrived=days(-90).isoformat())
    make_unit("G-2", cost_usd="10000", arrived=days(-89).isoformat())
    row = one(seller, "stood here 90 days or more")
    assert row.says == (
        "1 unit stood here 90 days or more, at $5.45 a day in interest; all 2 units here cost $7.98 a day."
    )
    assert row.note == "Longest: G-1, 90 days, $5.45 a day, $490.38 so far."
    for role in ("hand", "viewer"):
        assert not any("interest" in says for says in said(people[role]))
    make_unit("G-3", cost_usd=None, arrived=days(-200).isoformat())
    row = one(seller, "stood here 90 days or more")
    assert row.says.endswith("; the 2 units here of known cost take $7.98 a day.")
    assert row.note.endswith("Without 1 unit whose cost or day of arrival is not known.")


def test_what_falls_due_to_the_lender(make_unit, seller):
    # The invented yard's rates: 10 percent of the first amount after 180 days. 21,500 x 10 % = 2,150.
    make_unit("L-1", cost_usd="21500", arrived=days(-180).isoformat())
    make_unit("L-2", cost_usd="10000", arrived=days(-166).isoformat())
    make_unit("L-3", cost_usd="10000", arrived=days(-165).isoformat())
    assert one(seller, "$2,150 on L-1 falls due to the lender").press == NOW
    assert one(seller, "$1,000 on L-2 falls due to the lender on Dec 12, 2026").press == SOON
    assert not any("L-3" in says and "lender" in says for says in said(seller))
    for n in range(4, 7):
        make_unit(f"L-{n}", cost_usd="10000", arrived=days(-170).isoformat())
    # Shown are L-1 and two of the three that stood 170 days; left are the third and L-2, a thousand each.
    assert "$2,000 more, on 2 units, falls due to the lender by Dec 12, 2026." in said(seller)


def test_without_rates_no_money_is_told(unit, people):
    assert not any("interest" in says for says in said(people["sales"]))


def test_the_most_pressing_group_and_row_come_first(make_unit, seller):
    make_unit("O-1", cost_usd="21500", arrived=days(-180).isoformat())
    quoted(make_unit("O-2"), seller, until=days(-1))
    Receipt.objects.create(unit=make_unit("O-3"), number="R-1", status="excepted", day=days(-3))
    quoted(make_unit("O-4"), seller, until=days(2))
    sheet = collect.gather(seller, today=TODAY)
    assert [g.title for g in sheet.groups] == ["Buyers", "Stock and prices", "The yard"]
    assert [r.press_words for r in sheet.groups[0].rows] == ["1 day late", "in 2 days"]
    for group in sheet.groups:
        ranks = [PRESSES.index(r.press) for r in group.rows]
        assert ranks == sorted(ranks)
    assert (sheet.late, sheet.now) == (1, 1)


def test_keys_are_unlike_and_short_enough_to_keep(make_unit, seller):
    for n in range(4):
        quoted(make_unit(f"K-{n}", arrived=days(-180).isoformat()), seller, until=days(-n))
    keys = [row.key for row in said(seller).values()]
    assert len(set(keys)) == len(keys)
    assert max(map(len, keys)) <= 120


def test_no_money_and_no_buyer_on_the_pages_of_hand_and_viewer(make_unit, seller, as_role):
    quoted(make_unit("M-1", cost_usd="21500", arrived=days(-200).isoformat()), seller, until=days(-1))
    for role, sees in (("owner", True), ("sales", True), ("hand", False), ("viewer", False)):
        text = as_role(role).get(reverse("today")).content.decode()
        assert ("Odell Fennick" in text) == sees, role
        assert ("a day in interest" in text) == sees, role
        assert ("$" in text) == sees, role


def test_the_first_page_is_today(as_role):
    for role in ("owner", "hand", "viewer"):
        assert as_role(role).get(reverse("start")).headers["Location"] == reverse("today")


def test_an_empty_desk_says_so(people, as_role):
    text = as_role("owner").get(reverse("today")).content.decode()
    assert "Nothing asks for you today." in text
    assert "What nobody entered is not here." in text


def test_put_off_until_tomorrow_for_one_person(unit, people, as_role, monkeypatch):
    sales_, owner = as_role("sales"), as_role("owner")
    key = one(people["sales"], "no photo.").key
    answer = sales_.post(reverse("today-put-off"), {"row": key})
    assert answer.headers["Location"] == reverse("today")
    text = sales_.get(reverse("today")).content.decode()
    assert "1 row is put off until tomorrow" in text
    assert key not in {r.key for r in said(people["sales"]).values()}
    assert key in {r.key for r in said(people["owner"]).values()}, "another person sees it still"
    assert "put off until tomorrow" not in owner.get(reverse("today")).content.decode()
    sales_.post(reverse("today-put-off"), {"row": key, "do": "back"})
    assert key in {r.key for r in said(people["sales"]).values()}
    sales_.post(reverse("today-put-off"), {"row": key})
    sheet = collect.gather(people["sales"], today=days(1))
    assert key in {r.key for g in sheet.groups for r in g.rows}, "it is back the next day"
    collect.put_off(people["sales"], "other", today=days(1))
    assert set(PutOff.objects.values_list("row", flat=True)) == {"other"}, "old ones are not kept"


@pytest.mark.parametrize("key", ["", "\x00", "x" * 4000, "<script>"])
def test_any_key_is_taken_as_it_comes(people, as_role, key):
    assert as_role("viewer").post(reverse("today-put-off"), {"row": key}).status_code == 302


def test_a_big_yard_takes_a_handful_of_queries(make_unit, seller, as_role, django_assert_max_num_queries):
    first = make_unit("N-0", arrived=days(-100).isoformat())
    rows = []
    for n in range(1, 200):
        copy = Unit.objects.get(pk=first.pk)
        copy.pk, copy.stock_number = None, f"N-{n}"
        rows.append(copy)
    Unit.objects.bulk_create(rows)
    for unit in Unit.objects.all()[:30]:
        follow_ups.add(unit=unit, due=TODAY, title="Call", by=seller)
        quoted(unit, seller, until=days(-1))
    client = as_role("owner")
    client.get(reverse("today"))
    with django_assert_max_num_queries(26):
        client.get(reverse("today"))


def test_unknowns_of_open_hauls_come_after_the_page(make_unit, make_haul, as_role, people):
    make_unit("U-1", tax={"bed_center_from_coupler_in": 150})
    haul = make_haul()
    client = as_role("sales")
    assert f'hx-get="{reverse("today-unknowns")}"' in client.get(reverse("today")).content.decode()
    text = client.get(reverse("today-unknowns")).content.decode()
    found = unknowns()
    assert (found.done, found.of) == (1, 1)
    assert "hx-trigger" not in text, "all is looked at, and the page asks no more"
    for row in found.rows:
        assert row.url in (haul.get_absolute_url(), reverse("unit", args=["U-1"]))
    whole = client.get(reverse("today") + "?look=1").content.decode()
    assert 'id="unknowns"' in whole
    assert "it takes a moment" not in whole
    assert "unknowns" not in as_role("viewer").get(reverse("today")).content.decode()


def test_unknowns_say_how_far_they_are(make_unit, make_haul, as_role, monkeypatch):
    make_unit()
    for n in range(3):
        make_haul(f"Buyer {n}")
    found = unknowns(patience_s=0)
    assert (found.done, found.of) == (1, 3)
    monkeypatch.setattr(unknown, "HAULS_MOST", 2)
    assert "The 2 hauls changed last are looked at, of 3 that are open." in (
        as_role("sales").get(reverse("today-unknowns")).content.decode()
    )
    monkeypatch.setattr(unknown, "HAULS_MOST", 40)
    assert (unknowns(patience_s=60).done, unknowns(patience_s=60).of) == (3, 3)


def test_a_haul_is_looked_at_again_when_it_changes_and_not_for_every_change_of_the_yard(
    make_unit, make_haul, monkeypatch
):
    looked = []
    monkeypatch.setattr(unknown, "held_back", lambda haul: looked.append(haul.version) or held_back.held_back(haul))
    unit, haul = make_unit(), make_haul()
    unknowns()
    Unit.objects.filter(pk=unit.pk).update(updated=timezone.now(), version=2)
    unknowns()
    assert looked == [1]
    type(haul).objects.filter(pk=haul.pk).update(version=2)
    unknowns()
    assert looked == [1, 2]
    monkeypatch.setattr(unknown, "HOLDS_S", 0.0)
    unknowns()
    assert looked == [1, 2, 2]


def test_a_haul_that_no_longer_reads_is_told(make_unit, make_haul):
    make_unit()
    haul = make_haul()
    haul.spec = {"cargo": "spoiled"}
    haul.save()
    assert "no longer reads" in unknowns().rows[0].says


def test_one_measurement_and_how_many_units_it_settles(db):
    # The yard's haul of the worn door label: behind these two only the truck's rear rating is missing, behind the
    # third nothing is in doubt.
    for number in ("SH-191", "SH-192", "SH-131"):
        store_unit(number)
    haul = store_haul(11)
    (row,) = unknowns().rows
    assert "Find out: truck's rear GAWR. That alone settles 2 of 3 units." in row.says
    assert row.note == "Read the white label in the driver's door frame."
    assert row.url == haul.get_absolute_url()


def test_a_unit_of_which_something_is_unknown_by_how_many_hauls_wait_for_it(db):
    weighed = invented().trailers["SH-152"]
    add_unit(weighed.model_copy(update={"weights": type(weighed.weights).model_construct()}), by=None)
    for number in (1, 3):
        board.standing(store_haul(number), patience_s=60)
    store_haul(13)  # Nobody opened its board.
    (row,) = [r for r in unknowns(patience_s=60).rows if r.key.startswith("unit-")]
    assert row.says == "SH-152: 2 open hauls of 2 matched cannot be judged on it."
    assert row.note.startswith("Weigh by scale ticket: empty weight")
