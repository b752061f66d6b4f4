"""A key that comes again does nothing and is answered as at first; two at once are one."""

from __future__ import annotations

import io
import json
import threading
import uuid
from datetime import timedelta

import pytest
from django.contrib.messages.storage.fallback import FallbackStorage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.http import HttpResponse, HttpResponseRedirect, JsonResponse
from django.test import Client, RequestFactory
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from rubrail.desk import clock, photographs
from rubrail.desk.models import Machine, Sent, Ticket
from rubrail.desk.once import KEPT_DAYS, MARK, once, tell
from rubrail.desk.uploads import read_picture

HOSTILE = ("x", "0" * 36, "../../etc", "' or 1=1 --", "é" * 36, "a" * 100_000, "00000000-0000-0000-0000-00000000000g")


def place(request):
    """A view that writes one row each time it runs."""
    Machine.objects.create(name=request.POST.get("name", "row"), spec={})
    return tell(request, "Kept.", go="/there/")


def send(user, view, key="", *, field=False, path="/a/", **data):
    headers = {} if field or not key else {"X-Once-Key": str(key)}
    request = RequestFactory().post(path, {**data, **({"once": str(key)} if field else {})}, headers=headers)
    request.user, request.session = user, {}
    request._messages = FallbackStorage(request)
    return once(view)(request)


@pytest.fixture
def hand(people):
    return people["hand"]


def test_the_second_time_nothing_is_done_and_the_answer_is_the_same(hand):
    before, key = Machine.objects.count(), uuid.uuid4()
    first, second = send(hand, place, key), send(hand, place, key)
    assert json.loads(first.content) == json.loads(second.content) == {"says": "Kept.", "go": "/there/"}
    assert first.headers[MARK] == second.headers[MARK] == str(key)
    assert Machine.objects.count() == before + 1


def test_another_key_is_another_entry_and_none_is_none(hand):
    before = Machine.objects.count()
    for key in (uuid.uuid4(), uuid.uuid4(), "", ""):
        send(hand, place, key)
    assert Machine.objects.count() == before + 4
    assert Sent.objects.count() == 2


def test_a_plain_form_goes_where_it_went_the_first_time(hand):
    key = uuid.uuid4()
    for _ in range(2):
        answer = send(hand, place, key, field=True)
        assert (answer.status_code, answer.headers["Location"]) == (302, "/there/")
    assert Sent.objects.count() == 1


def test_a_redirect_reaches_the_outbox_as_an_address(hand):
    answer = send(hand, lambda request: HttpResponseRedirect("/on/"), uuid.uuid4())
    assert (answer.status_code, json.loads(answer.content)) == (200, {"go": "/on/"})


@pytest.mark.parametrize(
    "refusal",
    [
        lambda request: tell(request, "Write a number.", go="/", status=422),
        lambda request: tell(request, "Somebody was faster.", go="/", status=409, theirs="60", mine="65", seen=3),
        lambda request: HttpResponse("<p>a form with its faults</p>"),
    ],
    ids=["refused", "conflict", "page shown again"],
)
def test_what_is_refused_leaves_nothing_and_frees_its_key(hand, refusal):
    def view(request):
        place(request)
        return refusal(request)

    before, key = Machine.objects.count(), uuid.uuid4()
    answer = send(hand, view, key)
    assert answer.status_code in (409, 422)
    assert json.loads(answer.content)["says"]
    assert answer.headers[MARK] == str(key)
    assert Machine.objects.count() == before
    assert send(hand, place, key).status_code == 200
    assert Machine.objects.count() == before + 1


def test_what_breaks_leaves_nothing(hand):
    def view(request):
        place(request)
        raise RuntimeError("the disk is full")

    before, key = Machine.objects.count(), uuid.uuid4()
    with pytest.raises(RuntimeError, match="disk"):
        send(hand, view, key)
    assert (Machine.objects.count(), Sent.objects.count()) == (before, 0)


@pytest.mark.parametrize("key", HOSTILE)
def test_a_key_that_is_none_is_refused_in_a_sentence(hand, key):
    before = Machine.objects.count()
    answer = send(hand, place, key, field=True)
    assert answer.status_code == 400
    assert json.loads(answer.content)["says"].startswith("The entry's key")
    assert Machine.objects.count() == before


def test_nobody_is_answered_with_what_another_sent(hand, people):
    key = uuid.uuid4()

    def secret(request):
        return JsonResponse({"says": "cost 7,800"})

    send(people["owner"], secret, key)
    answer = send(hand, secret, key)
    assert answer.status_code == 409
    assert b"7,800" not in answer.content
    assert send(people["owner"], secret, key, path="/b/").status_code == 409, "nor for another page"


def test_old_keys_are_forgotten(hand):
    old, young = uuid.uuid4(), uuid.uuid4()
    send(hand, place, old)
    Sent.objects.update(at=timezone.now() - timedelta(days=KEPT_DAYS, minutes=1))
    send(hand, place, young)
    assert [s.key for s in Sent.objects.all()] == [young]


@pytest.mark.django_db(transaction=True)
def test_of_many_sent_at_once_one_is_done_and_all_are_answered_the_same(hand):
    before, key, answers = Machine.objects.count(), uuid.uuid4(), []
    barrier = threading.Barrier(5)

    def act() -> None:
        barrier.wait()
        try:
            answers.append(json.loads(send(hand, place, key).content))
        finally:
            connection.close()

    threads = [threading.Thread(target=act) for _ in range(5)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert answers == [{"says": "Kept.", "go": "/there/"}] * 5
    assert Machine.objects.count() == before + 1


@pytest.mark.django_db(transaction=True)
def test_pictures_are_read_before_the_transaction_and_not_again(as_role, make_unit, people, monkeypatch):
    ticket = Ticket.objects.create(unit=make_unit(), day=clock.today(), spec={})
    url, key, real, seen = reverse("ticket-photos", args=[ticket.pk]), str(uuid.uuid4()), read_picture, []

    def read(file, **more):
        seen.append(connection.in_atomic_block)
        return real(file, **more)

    monkeypatch.setattr(photographs, "read_picture", read)
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "gray").save(out, "JPEG")
    for _ in range(2):
        files = [SimpleUploadedFile(n, data) for n, data in (("a.jpg", out.getvalue()), ("b.jpg", b"none"))]
        answer = as_role("hand").post(url, {"photos": files}, headers={"X-Once-Key": key})
        assert answer.json()["says"] == "1 photo is added."
    assert seen == [False, False], "each of the two files once"
    assert ticket.unit.photos.get().width == 40


def test_the_outbox_asks_who_is_signed_in(people, as_role, client: Client):
    url = reverse("sending")
    assert client.get(url).json() == {"who": "", "token": ""}
    told = as_role("hand").get(url).json()
    assert told["who"] == str(people["hand"].pk)
    assert told["token"]
    people["hand"].must_change_password = True
    people["hand"].save()
    assert as_role("hand").get(url).json()["who"] == ""
