"""The rounds on PostgreSQL: keys sent twice and at once, lines, receipts, tickets, follow-ups, and their pages.

PostgreSQL refuses what SQLite lets pass: texts longer than their column, a number that is none in JSON, and any
statement after a refused one in the same transaction.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from desk.server import run
from desk.test_postgres import database  # noqa: F401  the fixture of an empty database

pytest.importorskip("psycopg")

CODE = """
import io, json, threading, uuid
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.urls import reverse
from PIL import Image
from rubrail.desk import clock
from rubrail.desk.checking import lists
from rubrail.desk.demo_yard import load_demo
from rubrail.desk.models import *
from rubrail.desk.tickets.keep import OF_TRAILER

load_demo(say=lambda line: None)
told = {"vendor": connection.vendor}

def signed_in(role="hand"):
    client = Client(SERVER_NAME="localhost")
    client.force_login(User.objects.filter(role=role).first())
    return client

def send(url, key=None, client=None, **form):
    headers = {"X-Once-Key": str(key or uuid.uuid4())}
    answer = (client or signed_in()).post(url, form, headers=headers)
    return answer.status_code, answer.json()

def at_once(act, many=4):
    barrier, answers = threading.Barrier(many), []
    clients = [signed_in() for _ in range(many)]
    def one(n):
        barrier.wait()
        try:
            answers.append(act(n, clients[n]))
        finally:
            connection.close()
    threads = [threading.Thread(target=one, args=(n,)) for n in range(many)]
    [t.start() for t in threads]
    [t.join() for t in threads]
    return answers

def photo(size=(40, 30)):
    out = io.BytesIO()
    Image.new("RGB", size, "gray").save(out, "JPEG")
    return SimpleUploadedFile("found.jpg", out.getvalue(), "image/jpeg")

# a line of a list: the same key twice and at once, another's entry meanwhile, a photo, a file that is none
unit = Unit.objects.filter(status="in-stock").order_by("stock_number").first()
june = User.objects.filter(role="hand").first()
check = lists.begin(unit, sort="inspection", by=june)
line = next(n for n in lists.lines_of(check) if n.entry != "photo" and not n.places and n.sort != "vin").key
url, key = reverse("check-line", args=[check.pk]), uuid.uuid4()
form = {"line": line, "seen": "0", "answer": "not ok", "text": "ü" * 100}
firsts = at_once(lambda n, c: send(url, key, c, **form))
told["same key"] = [sorted(s for s, _ in firsts), CheckEntry.objects.filter(checklist=check).count()]
told["again"] = send(url, key, **form)[0], CheckEntry.objects.filter(checklist=check).count()
other = send(url, client=signed_in("sales"), line=line, seen="0", answer="ok")
told["conflict"] = other[0], other[1]["seen"], CheckEntry.objects.filter(checklist=check).count()
form = {"line": line, "seen": "1", "answer": "ok"}
several = at_once(lambda n, c: send(url, None, c, **form, text=f"by {n}"))
told["at once"] = len(several), {s for s, _ in several} <= {200, 409}
told["photo"] = [send(url, line=line, photos=f)[0] for f in (photo(), SimpleUploadedFile("a.jpg", b"none"))]
told["photos"] = Photo.objects.filter(about_kind="check", about=check.pk).count()

# a receipt: begun, a stock number taken, damage with a photo, sent at once, a text as long as may be
hand = signed_in()
new = {"stock_number": "N-1", "coupling": "ball", "axles": "2", "says": "s" * 300, "day": clock.today().isoformat(),
       "carrier": "c" * 400, "bill": "b" * 400, "driver": "d" * 400}
began = hand.post(reverse("receive-new"), new)
told["begun"] = began.status_code
told["begun again"] = hand.post(reverse("receive-new"), {**new, "stock_number": unit.stock_number}).status_code
receipt = Receipt.objects.get(unit__stock_number="N-1")
url, key = reverse("receipt-damage", args=[receipt.number]), uuid.uuid4()
marks = at_once(lambda n, c: send(url, key, c, station="lamps", words="w" * 500, photos=photo()))
told["damage"] = [sorted(s for s, _ in marks), receipt.damages.count()]
told["damage photos"] = Photo.objects.filter(about_kind="receipt", about=receipt.pk).count()
told["refused"] = send(url, uuid.uuid4(), station="", words="")[0], receipt.damages.count()

# a ticket, the same key at once, its weights taken over
url, key = reverse("ticket-new"), uuid.uuid4()
form = {"unit": unit.stock_number, "cards": "1", "s0-id": "a", "s0-kind": "platform", "where": "e" * 400,
        "day": clock.today().isoformat(), "w0-state": "trailer", "w0-p-axles": "3,200", "w0-p-trailer": "3,600",
        "notes": "n" * 400}
before = Ticket.objects.count()
made = at_once(lambda n, c: send(url, key, c, **form, photos=photo()))
told["ticket"] = [sorted(s for s, _ in made), len({a["go"] for _, a in made}), Ticket.objects.count() - before]
ticket = Ticket.objects.latest("pk")
told["ticket photos"] = Photo.objects.filter(about_kind="ticket", about=ticket.pk).count()
url = reverse("ticket-apply", args=[ticket.pk, OF_TRAILER])
told["taken over"] = hand.post(url, {"seen": ticket.version}).status_code
unit.refresh_from_db()
told["weighed"] = unit.spec["weights"]["empty_lb"]["basis"]

# follow-ups: by hand, as long as may be, and all the usual ones at once
new = {"unit": unit.stock_number, "title": "Ring about the lights", "due": clock.today().isoformat()}
told["follow-up"] = hand.post(reverse("follow-up-new"), new).status_code
follow = FollowUp.objects.latest("pk")
step = {"do": "done", "seen": follow.version, "note": "They work."}
told["done"] = hand.post(reverse("follow-up-step", args=[follow.pk]), step).status_code
follow.refresh_from_db()
told["state"] = str(follow.state)

# a character that is none is dropped, not stumbled over
nul = chr(0)
told["nul"] = [
    send(reverse("check-line", args=[check.pk]), line=line, seen="99", answer="ok", text=f"a{nul}b")[0],
    send(reverse("receipt-damage", args=[receipt.number]), station="lamps", words=f"a{nul}b")[0],
    send(reverse("ticket-new"), **{**form, "where": f"a{nul}b"})[0],
    hand.get("/checks/", {"unit": f"a{nul}b"}).status_code,
    hand.get("/unit/a%00b/").status_code,
]
told["dropped"] = CheckEntry.objects.filter(checklist=check).latest("pk").value["text"]

pages = ["today/", "today/unknowns/", "receive/", f"receive/{receipt.number}/", f"receive/{receipt.number}/damage/",
         f"receive/{receipt.number}/vin/", f"receive/{receipt.number}/fields/", f"receive/{receipt.number}/ratings/",
         "checks/", f"check/{check.pk}/", "tickets/", "tickets/?show=waiting", f"ticket/{ticket.pk}/",
         f"ticket/{ticket.pk}/edit/", "follow-ups/", "follow-ups/?by=buyer", "follow-ups/?which=ended",
         f"follow-up/{follow.pk}/", "listings/", "public/", "public-pages/", "changes/", f"unit/{unit.stock_number}/"]
for who, some in (("sales", pages), ("hand", pages[:3])):
    client = signed_in(who)
    answers = {p: client.get("/" + p).status_code for p in some}
    told[who] = {p: s for p, s in answers.items() if s != 200}
print(json.dumps(told))
"""


def test_the_rounds_on_postgres(tmp_path: Path, database: str):  # noqa: F811
    told = json.loads(run(tmp_path / "yard", CODE, RUBRAIL_DATABASE_URL=database))
    assert told == {
        "vendor": "postgresql",
        "same key": [[200] * 4, 1],
        "again": [200, 1],
        "conflict": [409, 1, 1],
        "at once": [4, True],
        "photo": [200, 422],
        "photos": 1,
        "begun": 302,
        "begun again": 200,
        "damage": [[200] * 4, 1],
        "damage photos": 1,
        "refused": [422, 1],
        "ticket": [[200] * 4, 1, 1],
        "ticket photos": 1,
        "taken over": 302,
        "weighed": "weighed",
        "follow-up": 302,
        "done": 302,
        "state": "done",
        "nul": [200, 200, 200, 200, 404],
        "dropped": "ab",
        "sales": {},
        "hand": {},
    }
