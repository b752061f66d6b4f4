"""Checklists on the desk: entered line by line, by two at once, sent twice, signed, looked at again."""

from __future__ import annotations

import io
import threading
import uuid
from datetime import timedelta
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from rubrail.desk.books import keep_book
from rubrail.desk.checking import lists
from rubrail.desk.checking.entries import ConflictError, EntryError, keep_entry, line_in, read_entry, read_number
from rubrail.desk.checking.paper import paper_of
from rubrail.desk.models import Change, CheckEntry, Checklist, Photo, Sent, Unit
from rubrail.desk.models.checks import CheckState
from rubrail.sheets.paper.made import Stamp
from rubrail.things.checks import Checks
from rubrail.things.door import read_thing

TIRES = {"count": 2, "family": "ST", "max_load_lb": 3_520, "max_pressure_psi": 80, "pressure_psi": 80}
AXLE = {"gawr_lb": 7_000, "brakes": "electric", "wheel_rating_lb": 3_750, "tires": TIRES}
SPEC: dict[str, Any] = {
    "vin": "1M8GDM9AXKP042788",
    "axle": [{**AXLE, "from_coupler_in": 190}, {**AXLE, "from_coupler_in": 224}],
    "breakaway": True,
    "year": 2026,
    "size": {"width_in": 102, "front_from_coupler_in": -5, "rear_from_coupler_in": 304},
}


def jpeg() -> SimpleUploadedFile:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "gray").save(out, "JPEG")
    return SimpleUploadedFile("found.jpg", out.getvalue(), "image/jpeg")


@pytest.fixture
def trailer(make_unit) -> Unit:
    return make_unit("T-9", **SPEC)


@pytest.fixture
def it(trailer: Unit, people) -> Checklist:
    return lists.begin(trailer, sort="inspection", by=people["hand"])


@pytest.fixture
def hand(as_role):
    return as_role("hand")


def send(client, it: Checklist, line: str, answer: str = "ok", *, key: str = "", seen: int | str = 0, **data: Any):
    headers = {"X-Once-Key": key or str(uuid.uuid4())}
    form = {"line": line, "seen": str(seen), **({"answer": answer} if answer else {}), **data}
    return client.post(reverse("check-line", args=[it.pk]), form, headers=headers)


def all_in_order(client, it: Checklist) -> None:
    """Every line entered as a careful person does it."""
    numbers = {"pressure": "80", "date code": "2026", "magnets": "3", "battery": "12.6", "torque": "120"}
    for line in lists.lines_of(it):
        if line.entry == "photo":
            assert send(client, it, line.key, "", photos=jpeg()).status_code == 200
            continue
        values = line.exact or [numbers.get(line.sort) or line.least] * len(line.places)
        data = {f"number-{n}": str(v) for n, v in enumerate(values)} if line.places else {}
        if line.sort == "vin":
            data["text"] = SPEC["vin"]
        answer = send(client, it, line.key, **data)
        assert answer.status_code == 200, (line.key, answer.json())


def sign(client, it: Checklist, name: str = "Hank Ito", strokes: str = "[[10,20,30,40]]"):
    form = {"signature_name": name, "signature": strokes}
    return client.post(reverse("check-finish", args=[it.pk]), form, headers={"X-Once-Key": str(uuid.uuid4())})


# beginning --------------------------------------------------------------------------------------------------------


def test_a_list_is_begun_once_and_its_lines_are_frozen(trailer, hand):
    begin = reverse("check-begin")
    first = hand.post(begin, {"unit": "t-9", "sort": "inspection"})
    again = hand.post(begin, {"unit": "T-9", "sort": "inspection"})
    assert first.headers["Location"] == again.headers["Location"]
    made = Checklist.objects.get()
    Unit.objects.filter(pk=trailer.pk).update(spec={**trailer.spec, "breakaway": False}, version=trailer.version + 1)
    made.refresh_from_db()
    assert next(line for line in lists.lines_of(made) if line.key == "breakaway").facts["fitted"] is True
    page = hand.get(made.get_absolute_url()).content.decode()
    assert "gives other lines now" in page
    hand.post(reverse("check-step", args=[made.pk]), {"do": "renew"})
    made.refresh_from_db()
    assert next(line for line in lists.lines_of(made) if line.key == "breakaway").facts["fitted"] is False
    assert [c.action for c in Change.objects.filter(kind="check").order_by("pk")] == ["begun", "renewed"]


@pytest.mark.parametrize("form", [{"unit": "nowhere"}, {"unit": "T-9", "sort": "audit"}, {}])
def test_what_cannot_be_begun_is_told(form, trailer, hand):
    answer = hand.post(reverse("check-begin"), form, follow=True)
    assert answer.status_code == 200
    assert b"message--error" in answer.content
    assert not Checklist.objects.exists()


def test_the_yards_own_lines_are_on_it(trailer, people):
    table = {
        "id": "ours",
        "line": [
            {"id": "flag", "title": "Dealer flag", "do": "Hang it.", "station": "last"},
            {"id": "air", "title": "Glad hands", "do": "Look.", "couplings": ["kingpin"]},
            {"id": "tag", "title": "Tag weight", "do": "Weigh it.", "entry": "numbers", "unit": "lb", "most": 5},
        ],
    }
    keep_book(read_thing(Checks, table), by=None)
    made = lists.begin(trailer, sort="inspection", by=people["hand"])
    own = {line.key: line for line in lists.lines_of(made) if line.sort == "own"}
    assert set(own) == {"own-ours-flag", "own-ours-tag"}
    assert not own["own-ours-flag"].holds


# entering ---------------------------------------------------------------------------------------------------------


def test_a_chamber_is_picked_by_its_type_or_its_limit_is_typed(make_unit, people, hand):
    axle = {"gawr_lb": 20_000, "brakes": "air", "from_coupler_in": 300}
    made = lists.begin(make_unit("T-30", axle=[axle], year=2026), sort="inspection", by=people["hand"])
    strokes = {"number-1": "2", "number-2": "1.75"}
    told = send(hand, made, "pushrods-1", pick="30", **strokes)
    assert told.status_code == 200
    entry = CheckEntry.objects.get(checklist=made)
    assert entry.value == {"answer": "ok", "numbers": [2.0, 2.0, 1.75], "pick": "type 30"}
    page = hand.get(made.get_absolute_url()).content.decode()
    assert "type 30, the chamber&#x27;s limit 2 in, left 2 in, right 1.75 in" in page
    assert 'name="pick" value="30"' in page
    # Another type goes over it, though the limit stood beside the first as it was shown.
    assert send(hand, made, "pushrods-1", pick="20", seen=entry.turn, **strokes).status_code == 200
    last = CheckEntry.objects.order_by("pk").last()
    assert last.value["numbers"][0] == 1.75
    assert "allows 1.75 in: adjust the brake" in hand.get(made.get_absolute_url()).content.decode()
    other = {**strokes, "number-0": "1.75"}
    assert send(hand, made, "pushrods-1", seen=last.turn, **other).status_code == 200
    assert "pick" not in CheckEntry.objects.order_by("pk").last().value
    for pick, typed, says in (
        ("36", "", "The type must be 6, 9, 16 long stroke, 20, 20 long stroke, 24L, 24LS, 30 or 30 long stroke, got"),
        ("30", "2.5", "Type 30 allows 2 in, and the chamber's limit was typed as 2.5 in: leave one of them empty."),
    ):
        told = send(hand, made, "pushrods-1", pick=pick, seen=9, **{**strokes, "number-0": typed})
        assert told.status_code == 422
        assert says in told.json()["says"]


def test_a_line_is_entered_with_who_and_when_and_judged_by_the_engine(it, hand):
    answer = send(hand, it, "pressure-1", **{"number-0": "65", "number-1": "80"}, written="2026-01-01T00:00:00Z")
    told = answer.json()
    assert answer.status_code == 200
    assert "carries 2,860 lb, 640 lb less" in told["row"]
    assert "1 not in order" in told["head"]
    entry = CheckEntry.objects.get()
    assert (entry.line, entry.turn, entry.by.name) == ("pressure-1", 1, "Hank Ito")
    assert entry.value == {"answer": "ok", "numbers": [65.0, 80.0]}
    assert entry.seen_at is None, "a phone's clock months behind is not believed"


def test_the_same_key_is_one_entry_and_the_same_answer(it, hand):
    key = str(uuid.uuid4())
    first = send(hand, it, "chains", key=key)
    second = send(hand, it, "chains", key=key)
    assert (first.status_code, second.status_code) == (200, 200)
    assert second.headers["X-Once"] == key
    assert CheckEntry.objects.count() == 1
    assert "row" in first.json()
    assert "row" not in second.json(), "what the page looked like then is not what it looks like now"


def test_two_at_different_lines_both_keep_theirs(it, as_role):
    assert send(as_role("hand"), it, "chains").status_code == 200
    assert send(as_role("sales"), it, "plug").status_code == 200
    assert {e.line: e.by.username for e in CheckEntry.objects.all()} == {"chains": "hand", "plug": "sales"}


def test_two_at_the_same_line_are_both_told(it, as_role):
    send(as_role("sales"), it, "breakaway-battery", **{"number-0": "12.1"})
    late = send(as_role("hand"), it, "breakaway-battery", **{"number-0": "12.7"})
    told = late.json()
    assert late.status_code == 409
    assert (told["theirs"], told["mine"], told["seen"]) == ("12.1 V (Sal Brandt)", "12.7 V", 1)
    assert CheckEntry.objects.count() == 1
    again = send(as_role("hand"), it, "breakaway-battery", seen=1, **{"number-0": "12.7"})
    assert again.status_code == 200
    assert [e.value["numbers"] for e in CheckEntry.objects.order_by("turn")] == [[12.1], [12.7]]


def test_the_same_from_two_is_no_conflict_and_ones_own_twice_neither(it, as_role):
    send(as_role("sales"), it, "plug")
    assert send(as_role("hand"), it, "plug").status_code == 200
    assert CheckEntry.objects.count() == 1
    hand = as_role("hand")
    send(hand, it, "chains", "not ok", text="one link worn")
    assert send(hand, it, "chains", "ok").status_code == 200, "entered twice before the first was sent"
    assert [e.value["answer"] for e in CheckEntry.objects.filter(line="chains").order_by("turn")] == ["not ok", "ok"]


def test_an_older_entry_that_a_second_phone_sends_late_is_told_and_not_put_over_the_newer(it, hand):
    now = timezone.now()
    new, old = (now - timedelta(minutes=m) for m in (1, 20))
    send(hand, it, "breakaway-battery", **{"number-0": "12.7"}, written=new.isoformat())
    late = send(hand, it, "breakaway-battery", **{"number-0": "11.9"}, written=old.isoformat())
    assert late.status_code == 409
    assert late.json()["says"] == "You entered this line later, on another device."
    assert (late.json()["mine"], late.json()["seen"]) == ("11.9 V", 1)
    assert [e.value["numbers"] for e in CheckEntry.objects.all()] == [[12.7]]


@pytest.mark.parametrize(
    ("line", "form", "says"),
    [
        ("pressure-1", {"number-0": "flat", "number-1": "x"}, "Left must be a pressure such as 80"),
        ("pressure-1", {"number-0": "-5", "number-1": "80"}, "got '-5'"),
        ("pressure-1", {"number-0": "9" * 20, "number-1": "80"}, "Left must be a pressure"),
        ("tire-codes-1", {"number-0": "35", "number-1": "3524"}, "four digits, week and year such as 3524"),
        ("breakaway-battery", {"number-0": "nan"}, "volts such as 12.6"),
        ("chains", {"answer": "not ok"}, "Write in a few words"),
        ("chains", {"answer": "fine"}, "one of in order, not in order."),
        ("breakaway", {"answer": "not here"}, "one of in order, not in order."),
        ("no-such-line", {}, "no such line any more"),
        ("chains", {"text": "x" * 501}, "at most 500"),
    ],
)
def test_what_cannot_be_taken_is_told_in_a_sentence_and_leaves_nothing(line, form, says, it, hand):
    data = {"answer": "ok", **form}
    answer = send(hand, it, line, data.pop("answer"), **data)
    assert answer.status_code == 422
    assert says in answer.json()["says"]
    assert not CheckEntry.objects.exists()
    assert not Sent.objects.exists()


@pytest.mark.parametrize("seen", ["-1", "nine", "9" * 30, "\u0669", ""])
@pytest.mark.parametrize("written", ["", "yesterday", "9999-12-31T23:59:59", "\x00", "2026-11-28T10:00:00+99:00"])
def test_hostile_marks_and_times_are_passed_over(seen, written, it, hand):
    assert send(hand, it, "chains", seen=seen, written=written).status_code == 200
    assert CheckEntry.objects.get().seen_at is None


def test_all_faults_of_a_line_at_once(it):
    line = line_in(it, "pressure-1")
    with pytest.raises(EntryError, match=r"Left must be .* Right must be "):
        read_entry(line, {"answer": "ok", "number-0": "a", "number-1": "b"})


@pytest.mark.parametrize(
    ("text", "unit", "number"),
    [
        ("80", "psi", 80),
        ("552 kPa", "psi", 80.06),
        ("12 ft 10 in", "length", 154),
        ("0120", "code", 120),
        (" ", "V", None),
    ],
)
def test_numbers_as_people_write_them(text, unit, number):
    assert read_number(text, unit=unit, place="left") == (None if number is None else pytest.approx(number, abs=0.01))


def test_without_a_script_it_is_a_plain_form(it, hand):
    url = reverse("check-line", args=[it.pk])
    answer = hand.post(url, {"line": "chains", "seen": "0", "answer": "ok"})
    assert answer.headers["Location"] == f"/check/{it.pk}/?at=chains#line-chains"
    told = hand.post(url, {"line": "chains", "seen": "1", "answer": "not ok"}, follow=True).content.decode()
    assert "Write in a few words what is not in order" in told


def test_photos_of_a_line_are_kept_once_and_stay_inside(it, hand, client):
    key = str(uuid.uuid4())
    for _ in range(2):
        assert send(hand, it, "floor", "", key=key, photos=jpeg()).status_code == 200
    photo = Photo.objects.get()
    assert (photo.about, photo.spot, photo.purpose) == (it.pk, {"line": "floor"}, "check")
    assert reverse("photo", args=[photo.pk, "small"]) in hand.get(it.get_absolute_url()).content.decode()
    assert not it.unit.photos.exists(), "it is no picture of the unit to show"
    assert not CheckEntry.objects.exists(), "a photo alone says nothing of how the line stands"


@pytest.mark.parametrize("content", [b"", b"<svg/>", b"\xff\xd8\xff garbage", b"PK\x03\x04", b"GIF89a"])
def test_no_picture_is_told_and_leaves_nothing(content, it, hand):
    answer = send(hand, it, "floor", "", photos=SimpleUploadedFile("x.jpg", content, "image/jpeg"))
    assert answer.status_code == 422
    assert answer.json()["says"]
    assert not Photo.objects.exists()


def test_a_viewer_changes_nothing(it, as_role):
    viewer = as_role("viewer")
    assert send(viewer, it, "chains").status_code == 403
    page = viewer.get(it.get_absolute_url()).content.decode()
    assert "data-line-form" not in page
    assert "Sign and finish" not in page


@pytest.mark.django_db(transaction=True)
def test_of_many_at_one_line_at_once_one_is_first_and_the_others_are_told(trailer, people):
    made = lists.begin(trailer, sort="inspection", by=people["hand"])
    line, kept, told = line_in(made, "breakaway-battery"), [], []
    who = [people[role] for role in ("owner", "sales", "hand")]
    barrier = threading.Barrier(3)

    def enter(n: int) -> None:
        barrier.wait()
        try:
            kept.append(keep_entry(made, line, {"answer": "ok", "numbers": [12.0 + n]}, seen=0, by=who[n]))
        except ConflictError as other:
            told.append(other)
        finally:
            connection.close()

    threads = [threading.Thread(target=enter, args=(n,)) for n in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert (len(kept), len(told)) == (1, 2)
    assert CheckEntry.objects.count() == 1


# signing, and looking again ---------------------------------------------------------------------------------------


def test_a_list_nobody_went_through_holds(it, hand):
    answer = sign(hand, it)
    assert answer.json()["says"].startswith("Hold: ")
    it.refresh_from_db()
    assert it.state == CheckState.HOLD
    assert {r["mark"] for r in it.result["reasons"]} == {"open"}
    assert it.signatures[0]["strokes"] == [[10, 20, 30, 40]]


def test_all_in_order_is_released_and_frozen(it, hand):
    all_in_order(hand, it)
    assert sign(hand, it).json()["says"] == "Release: every line that would hold it is in order."
    it.refresh_from_db()
    assert (it.state, it.result["reasons"]) == (CheckState.RELEASE, [])
    late = send(hand, it, "chains", "not ok", seen=1, text="worn")
    assert late.status_code == 422
    assert "is signed" in late.json()["says"]
    before = it.result
    sign(hand, it, name="Somebody Else")
    it.refresh_from_db()
    assert (it.result, len(it.signatures)) == (before, 1)


def test_what_was_not_in_order_is_cleared_by_another_look_and_both_stay_on_record(it, hand, as_role):
    all_in_order(hand, it)
    send(hand, it, "pressure-2", seen=1, **{"number-0": "35", "number-1": "80"})
    sign(hand, it)
    it.refresh_from_db()
    assert it.state == CheckState.HOLD
    signed = it.result
    assert send(as_role("sales"), it, "pressure-2", seen=2, **{"number-0": "80", "number-1": "80"}).status_code == 200
    it.refresh_from_db()
    assert it.state == CheckState.RELEASED
    assert it.released is not None
    assert it.result == signed, "what was signed stays as it was signed"
    page = hand.get(it.get_absolute_url()).content.decode()
    assert "Released after another look" in page
    assert "carries 1,540 lb" in page  # 3,520 x 35/80, by hand
    assert [c.action for c in Change.objects.filter(kind="check").order_by("pk")][-2:] == ["signed", "released"]


@pytest.mark.parametrize(
    ("name", "strokes", "says"),
    [
        ("", "", "Type the name"),
        ("x" * 81, "", "at most 80"),
        ("Hank", "[[1,2,3]]", "did not arrive whole"),
        ("Hank", "[[1,999]]", "did not arrive whole"),
        ("Hank", '{"a":1}', "did not arrive whole"),
        ("Hank", "[" * 5000, "did not arrive whole"),
        ("Hank", "[[true,1]]", "did not arrive whole"),
        ("Hank", str([[1, 1] * 5000]), "did not arrive whole"),
    ],
)
def test_a_signature_that_is_none_signs_nothing(name, strokes, says, it, hand):
    answer = sign(hand, it, name=name, strokes=strokes)
    assert answer.status_code == 422
    assert says in answer.json()["says"]
    it.refresh_from_db()
    assert it.state == CheckState.OPEN


def test_a_typed_name_is_a_signature_too(it, hand):
    assert sign(hand, it, strokes="").status_code == 200
    assert "<p>Hank Ito</p>" in hand.get(it.get_absolute_url()).content.decode()


def test_given_up(it, hand):
    hand.post(reverse("check-step", args=[it.pk]), {"do": "drop"})
    it.refresh_from_db()
    assert it.state == CheckState.DROPPED
    assert send(hand, it, "chains").status_code == 422
    assert sign(hand, it).status_code == 422


# pages and paper --------------------------------------------------------------------------------------------------


def test_pages_ask_few_questions_however_long_the_list(it, hand, django_assert_max_num_queries):
    all_in_order(hand, it)
    with django_assert_max_num_queries(12):
        hand.get(it.get_absolute_url())
    for n in range(3):
        lists.begin(it.unit, sort="round", by=it.created_by)
        Checklist.objects.filter(sort="round", state="open").update(
            state="hold", finished=it.created, result={"says": f"Hold {n}"}
        )
    with django_assert_max_num_queries(12):
        hand.get(reverse("checks"))


def test_the_paper_as_entered_and_the_empty_one(it, hand):
    send(hand, it, "pressure-1", **{"number-0": "65", "number-1": "80"})
    for url in (
        reverse("check-paper", args=[it.pk]),
        reverse("check-blank", args=["T-9", "inspection"]),
        reverse("check-blank", args=["T-9", "round"]) + "?on=a4",
    ):
        answer = hand.get(url)
        assert answer.headers["Content-Type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF-")
    assert hand.get(reverse("check-blank", args=["T-9", "audit"])).status_code == 404
    sign(hand, it)
    assert hand.get(reverse("check-paper", args=[it.pk])).status_code == 200


def test_the_paper_of_a_signed_list_shows_what_was_signed_and_later_looks_beneath(it, hand, people):
    send(hand, it, "chains", "not ok", text="one link worn")
    sign(hand, it)
    send(hand, it, "chains", "ok", seen=1, text="chain replaced")
    it.refresh_from_db()
    paper = paper_of(it, stamp=Stamp(), user=people["hand"])
    rows = {row[0]: row for block in paper.blocks if block.kind == "table" for row in block.rows}
    assert rows["Safety chains"][1:3] == ("Not in order", "One link worn.")
    later = next(block for block in paper.blocks if block.kind == "steps")
    assert later.rows[0].startswith("Safety chains: in order; chain replaced; Hank Ito")


def test_a_units_own_lists_are_found_from_its_page(it, hand):
    unit_page = hand.get(it.unit.get_absolute_url()).content.decode()
    assert reverse("checks") + "?unit=T-9" in unit_page
    page = hand.get(reverse("checks") + "?unit=T-9").content.decode()
    assert it.get_absolute_url() in page


def test_what_the_units_own_figures_contradict_is_told_in_the_persons_measures(make_unit, people, as_role):
    weak = make_unit("T-8", **SPEC, coupling={"kind": "ball", "ball_size_in": 2.3125, "gross_rating_lb": 10_000})
    it = lists.begin(weak, sort="inspection", by=people["hand"])
    people["hand"].measures = "metric"
    people["hand"].save()
    page = as_role("hand").get(reverse("check", args=[it.pk]) + "?all=1").content.decode()
    # 10,000 lb at 0.45359237 kg
    assert "own figures: the coupling is rated for 4,536 kg" in page
    assert "rated for 10,000 lb" not in page
