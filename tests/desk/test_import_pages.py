"""A list through all its steps: kept for its owner alone, written whole or not at all, told in the trail."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from desk.pages import form_in
from rubrail.desk import clock, stock
from rubrail.desk.lists import taking
from rubrail.desk.models import Change, FollowUp, HeadingsRead, Incoming, Listing, Unit

LIST = """Stock #,Description,GVWR (lbs),Hitch,Axles,Deck length (ft),Price,Our cost
T-1,Low equipment,14000,,,,"$9,950",
N-1,"Tandem, new",14000,bumper pull,2,20,9450,7800
N-2,Gooseneck,23900,gooseneck,2,25 ft 6 in,,
"""


@pytest.fixture
def send(as_role) -> Callable[..., tuple[Client, str]]:
    """Upload a list as somebody; the client, and the address of the columns."""

    def sent(text: str = LIST, *, role: str = "owner", name: str = "list.csv") -> tuple[Client, str]:
        client = as_role(role)
        file = SimpleUploadedFile(name, text.encode())
        answer = client.post(reverse("yard-import"), {"list": file})
        assert answer.status_code == 302, answer.content.decode()
        return client, answer["Location"]

    return sent


def choose(client: Client, url: str, **changes: str) -> str:
    """Take the columns as they are guessed, with some changed; the address of the preview."""
    sent = {**form_in(client.get(url).content.decode()), **changes}
    answer = client.post(url, sent)
    assert answer.status_code == 302, answer.content.decode()
    return answer["Location"]


def mark_in(text: str) -> str:
    return re.search(r'name="mark" value="([0-9a-f]{64})"', text)[1]


def write(client: Client, preview: str, **more):
    """Write what the preview shows."""
    mark = mark_in(client.get(preview).content.decode())
    return client.post(preview, {"mark": mark, **more}, follow=True)


def said(answer) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode()).replace("&quot;", '"'))


def test_every_step(unit, send, people):
    client, columns = send()
    assert Unit.objects.count() == 1
    page = said(client.get(columns))
    assert "list.csv: 3 rows, read as CSV in UTF-8, with commas between the columns." in page
    preview = choose(client, columns)
    page = said(client.get(preview))
    assert "2 units are new, 1 unit changes. Every unit of the yard is in the list." in page
    assert "$9,450" in page
    assert "$9,950" in page
    assert Unit.objects.count() == 1
    page = said(write(client, preview))
    assert "list.csv is imported: 2 units are new, 1 unit is changed." in page
    new = Unit.objects.get(stock_number="N-2")
    assert (new.deck_length_in, new.gvwr_lb, new.created_by) == (None, 23_900, people["owner"])
    assert new.spec["deck"]["flat_length_in"]["value"] == 306
    assert Unit.objects.get(stock_number="N-1").coupling_kind == "ball"
    unit.refresh_from_db()
    assert (unit.price_usd, unit.version, unit.title) == (9950, 2, "Low equipment")
    assert unit.spec["weights"]["empty_lb"]["basis"] == "weighed", "what no column is of stays"
    assert not Incoming.objects.exists()


def test_the_trail_tells_of_it_in_one_batch(unit, send):
    client, columns = send()
    before = set(Change.objects.values_list("pk", flat=True))
    write(client, choose(client, columns))
    rows = Change.objects.exclude(pk__in=before)
    assert {r.sentence for r in rows} == {
        "Ruth Calder loaded unit N-1 from a file.",
        "Ruth Calder loaded unit N-2 from a file.",
        "Ruth Calder changed the price of unit T-1 from $9,450 to $9,950.",
        "Ruth Calder changed the title of unit T-1 from Low equipment, 20 ft to Low equipment.",
    }
    assert len({r.batch for r in rows}) == 1


def test_what_the_engine_works_out_is_there_at_once(unit, send):
    from rubrail.desk.derived import mark

    client, columns = send()
    write(client, choose(client, columns))
    for it in Unit.objects.all():
        assert it.derived_by == mark(), it
        assert it.packed, it


def test_what_the_engine_worked_out_stays_where_nothing_it_works_from_changes(unit, send, monkeypatch):
    before = Unit.objects.get(pk=unit.pk)
    client, columns = send("Stock #,Status,Our cost,Color,Place,Arrived\nT-1,held,7000,red,row A,2026-05-05\n")
    preview = choose(client, columns)
    worked = []
    real = taking.derived
    monkeypatch.setattr(taking, "derived", lambda trailers: worked.extend(trailers) or real(trailers))
    write(client, preview)
    assert worked == [], "nothing was worked out"
    after = Unit.objects.get(pk=unit.pk)
    assert (after.cost_usd, after.color, after.version) == (7000, "red", 2)
    anew = stock.take_apart(stock.trailer_of(after))
    for name in ("payload_lb", "complete", "packed", "thumbnail", "derived_by"):
        assert getattr(after, name) == getattr(before, name) == anew[name], name


def test_what_another_engine_worked_out_is_worked_out_anew(unit, send):
    from rubrail.desk.derived import mark

    Unit.objects.filter(pk=unit.pk).update(derived_by="another", packed=None)
    client, columns = send("Stock #,Price\nT-1,8000\n")
    write(client, choose(client, columns))
    unit = Unit.objects.get(pk=unit.pk)
    assert (unit.derived_by, unit.price_usd) == (mark(), 8000)
    assert unit.packed


def test_every_row_right_or_nothing(unit, send):
    client, columns = send(LIST + "N-3,,90,ball,2,20,,\nN-4,,91,ball,2,20,,\n")
    preview = choose(client, columns)
    page = said(client.get(preview))
    assert "2 rows have faults" in page
    assert 'Row 5, column "GVWR (lbs)": label GVWR must be 500 to 200,000 lb, got "90".' in page
    page = said(write(client, preview))
    assert "Nothing is written: 2 rows still have faults and are not left out." in page
    page = said(write(client, preview, left=["5"]))
    assert "1 row still has a fault and is not left out." in page
    assert Unit.objects.count() == 1
    assert Change.objects.filter(kind="unit", action="changed").count() == 0
    write(client, preview, left=["5", "6"])
    assert sorted(Unit.objects.values_list("stock_number", flat=True)) == ["N-1", "N-2", "T-1"]


def test_every_faulty_row_left_out_at_once(unit, send):
    client, columns = send(LIST + "N-3,,90,ball,2,20,,\nT-1,,91,ball,2,20,,\n")
    preview = choose(client, columns)
    write(client, preview, left_all="on")
    # row 2 and row 6 are both of T-1: both are at fault, both are left out
    assert sorted(Unit.objects.values_list("stock_number", flat=True)) == ["N-1", "N-2", "T-1"]
    unit.refresh_from_db()
    assert unit.version == 1


def test_somebody_saved_since_one_looked(unit, send):
    client, columns = send()
    preview = choose(client, columns)
    mark = mark_in(client.get(preview).content.decode())
    Unit.objects.filter(pk=unit.pk).update(version=2, color="green")
    answer = client.post(preview, {"mark": mark})
    assert answer.status_code == 409
    assert "Changed since you looked: t-1." in said(answer)
    assert Unit.objects.count() == 1
    answer = client.post(preview, {"mark": mark_in(answer.content.decode())})
    assert answer.status_code == 302
    unit.refresh_from_db()
    assert (unit.color, unit.price_usd, unit.version) == ("green", 9950, 3)


def test_somebody_added_the_unit_since_one_looked(make_unit, unit, send):
    client, columns = send()
    preview = choose(client, columns)
    mark = mark_in(client.get(preview).content.decode())
    make_unit("N-1")
    answer = client.post(preview, {"mark": mark})
    assert answer.status_code == 409
    assert "Changed since you looked: n-1." in said(answer)


def test_somebody_saved_while_it_was_worked_out(unit, send, monkeypatch):
    client, columns = send()
    preview = choose(client, columns)
    mark = mark_in(client.get(preview).content.decode())
    work_out = taking.derived

    def meanwhile(trailers):
        Unit.objects.filter(pk=unit.pk).update(version=7)
        return work_out(trailers)

    monkeypatch.setattr(taking, "derived", meanwhile)
    answer = client.post(preview, {"mark": mark})
    assert answer.status_code == 409
    assert Unit.objects.count() == 1
    unit.refresh_from_db()
    assert (unit.version, unit.price_usd) == (7, 9450)


@pytest.mark.parametrize("place", ["_add", "_change", "record_all", "record_all_changes"])
def test_what_fails_midway_leaves_nothing(unit, send, monkeypatch, place: str):
    client, columns = send()
    preview = choose(client, columns)
    mark = mark_in(client.get(preview).content.decode())
    real, before = getattr(taking, place), Change.objects.count()

    def broken(*args, **kwargs):
        real(*args, **kwargs)
        raise RuntimeError("the power went")

    monkeypatch.setattr(taking, place, broken)
    with pytest.raises(RuntimeError):
        client.post(preview, {"mark": mark})
    assert Unit.objects.count() == 1
    assert Change.objects.count() == before
    unit.refresh_from_db()
    assert (unit.version, unit.price_usd) == (1, 9450)
    assert Incoming.objects.count() == 1, "the list is still there to try again"
    monkeypatch.setattr(taking, place, real)
    assert client.post(preview, {"mark": mark}).status_code == 302
    assert Unit.objects.count() == 3


def test_the_same_list_twice_is_taken_in_once(unit, send):
    client, columns = send()
    preview = choose(client, columns)
    mark = mark_in(client.get(preview).content.decode())
    client.post(preview, {"mark": mark})
    page = said(client.post(preview, {"mark": mark}, follow=True))
    assert "That list is no longer kept here" in page
    assert Unit.objects.count() == 3


def test_a_list_that_says_nothing_new(unit, send):
    client, columns = send("Stock #,GVWR\nT-1,14000\n")
    page = said(write(client, choose(client, columns)))
    assert "The list says nothing that is not known here; nothing was written." in page
    unit.refresh_from_db()
    assert unit.version == 1
    assert not Incoming.objects.exists()


def test_a_price_that_changes_was_looked_at_today(unit, send, people):
    client, columns = send()
    write(client, choose(client, columns))
    assert list(Listing.objects.values_list("unit__stock_number", "price_checked", "price_checked_by", "shown")) == [
        ("T-1", clock.today(), people["owner"].pk, False)
    ]


def test_a_status_that_changes_begins_today(unit, send):
    from rubrail.desk import clock

    Unit.objects.filter(pk=unit.pk).update(status_note="for a buyer")
    client, columns = send("Stock #,Status\nT-1,held\n")
    write(client, choose(client, columns))
    unit.refresh_from_db()
    assert (unit.status, unit.status_since, unit.status_note) == ("held", clock.today(), "")


def test_what_a_list_sells_is_asked_about_and_what_it_brings_back_owes_nobody(unit, send):
    client, columns = send("Stock #,Status\nT-1,sold\n")
    page = write(client, choose(client, columns))
    assert page.redirect_chain[-1][0] == reverse("follow-ups-sold")
    assert "1 unit is changed, 1 of them sold." in said(page)
    assert not FollowUp.objects.exists(), "nothing is planned that nobody asked for"
    client.post(reverse("follow-ups-sold"), {"unit": ["T-1"], "sold": ""})
    assert FollowUp.objects.filter(unit=unit, state="open").exists()
    client, columns = send("Stock #,Status\nT-1,in stock\n")
    assert write(client, choose(client, columns)).redirect_chain[-1][0] == reverse("yard")
    assert not FollowUp.objects.filter(state="open").exists()


# who


def test_a_hand_leaves_money_and_status_alone(unit, send):
    client, columns = send(LIST.replace("Description", "Status"), role="hand")
    sent = form_in(client.get(columns).content.decode())
    assert [sent[f"column-{n}"] for n in (1, 6, 7)] == ["", "", ""]
    answer = client.post(columns, {**sent, "column-6": "Asking price", "column-7": "Cost"})
    assert said(answer).count("Your role does not write this column; leave it out.") == 2
    write(client, choose(client, columns))
    unit.refresh_from_db()
    assert (unit.price_usd, unit.cost_usd) == (9450, 7800)
    new = Unit.objects.get(stock_number="N-1")
    assert (new.price_usd, new.cost_usd, new.status) == (None, None, "in-stock")


def test_a_hand_never_reads_a_cost(unit, send):
    client, columns = send("Stock #,GVWR\nT-1,13900\n", role="hand")
    preview = choose(client, columns)
    assert "7,800" not in client.get(preview).content.decode()
    assert "7800" not in client.get(preview).content.decode()


def test_choices_of_another_role_do_not_count(unit, send, people):
    client, columns = send()
    preview = choose(client, columns)
    people["owner"].role = "hand"
    people["owner"].save()
    assert client.get(preview)["Location"] == columns


@pytest.mark.parametrize("name", ["yard-import-columns", "yard-import-preview", "yard-import-drop"])
def test_a_list_is_its_owners_alone(unit, send, as_role, name: str):
    send()
    url = reverse(name, args=[Incoming.objects.get().pk])
    for role in ("sales", "hand"):
        answer = as_role(role).post(url) if name.endswith("drop") else as_role(role).get(url)
        assert answer["Location"] == reverse("yard-import")
    assert as_role("viewer").post(url).status_code == 403
    assert "list.csv" not in as_role("sales").get(reverse("yard-import")).content.decode()
    assert Incoming.objects.count() == 1


# keeping


def test_a_list_expires(unit, send):
    client, columns = send()
    Incoming.objects.update(expires=timezone.now() - timedelta(seconds=1))
    assert "That list is no longer kept here" in said(client.get(columns, follow=True))
    assert not Incoming.objects.exists()


def test_a_list_is_let_go(unit, send):
    client, _ = send()
    page = said(client.post(reverse("yard-import-drop", args=[Incoming.objects.get().pk]), follow=True))
    assert "list.csv is let go; the yard is as it was." in page
    assert not Incoming.objects.exists()


def test_five_lists_a_person_are_kept(unit, send):
    for n in range(7):
        send(name=f"list-{n}.csv")
    assert set(Incoming.objects.values_list("name", flat=True)) == {f"list-{n}.csv" for n in range(2, 7)}


def test_nothing_of_the_list_is_in_the_session(unit, send):
    client, columns = send()
    choose(client, columns)
    assert "T-1" not in str(dict(client.session))


# remembering


def test_headings_are_remembered(unit, send):
    client, columns = send("Stock #,Ours,Thing\nT-1,23,x\n")
    sent = form_in(client.get(columns).content.decode())
    assert (sent["column-1"], sent["column-2"]) == ("", "")
    write(client, choose(client, columns, **{"column-1": "Deck height", "unit-1": "", "measured": "measured"}))
    client, columns = send("Stock #,Ours,Thing\nT-1,25,x\n")
    sent = form_in(client.get(columns).content.decode())
    assert (sent["column-1"], sent["measured"]) == ("Deck height", "measured")
    client, columns = send("Number,ours,Stock #\nx,2,T-1\n")
    sent = form_in(client.get(columns).content.decode())
    assert (sent["column-1"], sent["measured"]) == ("Deck height", "estimated"), "one heading alone is remembered too"


def test_only_what_was_taken_in_is_remembered(unit, send):
    client, columns = send("Stock #,Ours\nT-1,23\n")
    choose(client, columns, **{"column-1": "Deck height"})
    assert not HeadingsRead.objects.exists()


def test_a_remembered_column_is_left_out_for_who_may_not_write_it(unit, send):
    client, columns = send("Stock #,Ask\nT-1,9000\n")
    write(client, choose(client, columns, **{"column-1": "Asking price"}))
    client, columns = send("Stock #,Ask\nT-1,100\n", role="hand")
    assert form_in(client.get(columns).content.decode())["column-1"] == ""


# the columns' page


def test_faults_of_the_columns_stand_beside_them(unit, send):
    client, columns = send()
    sent = form_in(client.get(columns).content.decode())
    answer = client.post(columns, {**sent, "column-0": "", "column-2": "Lable GVWR"})
    page = said(answer)
    assert "One column must be the stock number" in page
    assert '"Lable GVWR" is no column of ours; did you mean Label GVWR?' in page
    assert 'value="Lable GVWR"' in answer.content.decode()
    assert 'aria-invalid="true"' in answer.content.decode()
    assert Incoming.objects.get().choices.keys() == {"first"}


def test_the_preview_waits_for_the_columns(unit, send):
    client, columns = send()
    assert client.get(columns.removesuffix("columns/"))["Location"] == columns


@pytest.mark.parametrize(
    ("text", "says"),
    [("", "'list.csv' is empty."), ("a\nb\n", "has no row of headings"), ('a,b\n1,"2\n', "quotation marks in row 2")],
)
def test_what_is_no_list_is_told_beside_the_file(as_role, text: str, says: str):
    answer = as_role("owner").post(reverse("yard-import"), {"list": SimpleUploadedFile("list.csv", text.encode())})
    assert says in said(answer).replace("&#x27;", "'")
    assert not Incoming.objects.exists()


def test_no_file(as_role):
    assert "No file was chosen." in said(as_role("owner").post(reverse("yard-import")))


def test_hostile_names_and_cells_are_only_text(unit, send):
    client, columns = send("Stock #,<b>x</b>\nT-1,<script>alert(1)</script>\n", name="<img src=x>.csv")
    page = client.get(columns).content.decode()
    assert "<script>alert" not in page
    assert "<b>x</b>" not in page
    assert "<img" not in page
    preview = choose(client, columns, **{"column-1": "Color"})
    assert "<script>alert" not in client.get(preview).content.decode()


# as many questions to the database for one row as for many


def rows_of(count: int, first: int = 0) -> str:
    lines = [f"Q-{n},Equipment {n % 7},14000,ball,2,20,{9000 + n},7000" for n in range(first, first + count)]
    return LIST.splitlines()[0] + "\n" + "\n".join(lines) + "\n"


def queries(act: Callable[[], object]) -> int:
    with CaptureQueriesContext(
        connection,
    ) as seen:
        act()
    return len(seen)


def test_query_counts_do_not_grow_with_rows(send, as_role):
    counts = {}
    for count in (1, 150):
        client, columns = send(rows_of(count, first=count * 1000))
        counts[count, "columns"] = queries(lambda client=client, columns=columns: client.get(columns))
        preview = choose(client, columns)
        mark = mark_in(client.get(preview).content.decode())
        counts[count, "preview"] = queries(lambda client=client, preview=preview: client.get(preview))
        counts[count, "write"] = queries(
            lambda client=client, preview=preview, mark=mark: client.post(preview, {"mark": mark})
        )
        again = rows_of(count, first=count * 1000).replace("Equipment", "Machine")
        client, columns = send(again)
        preview = choose(client, columns)
        mark = mark_in(client.get(preview).content.decode())
        counts[count, "change"] = queries(
            lambda client=client, preview=preview, mark=mark: client.post(preview, {"mark": mark})
        )
    assert counts[1, "columns"] == counts[150, "columns"]
    assert counts[1, "preview"] == counts[150, "preview"]
    # Writing goes in statements of many units each.
    assert counts[150, "write"] - counts[1, "write"] < 10
    assert counts[150, "change"] - counts[1, "change"] < 10
