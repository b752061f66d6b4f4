"""The power goes while a list is being written: nothing of it is there afterwards, and the list still is."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from desk.server import PATIENCE_S, environment, run

SEED = """
from datetime import timedelta
from django.utils import timezone
from rubrail.desk.lists.reading import read_sheet
from rubrail.desk.models import Incoming, User
from rubrail.desk.stock import add_unit
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer
owner = User.objects.create_user(username="ruth", name="Ruth Calder", role="owner", password=None)
for n in range(60):
    table = {"id": f"T-{n}", "coupling": {"kind": "ball"}, "axle": [{}], "price_usd": "9000"}
    add_unit(read_thing(Trailer, table), by=owner)
lines = [f"T-{n},8000,ball,1" for n in range(60)] + [f"N-{n},7000,ball,1" for n in range(60)]
text = "Stock number,Asking price,Coupling,Number of axles\\n" + "\\n".join(lines)
sheet = read_sheet(text.encode(), name="list.csv")
Incoming.objects.create(owner=owner, name="list.csv", kind="csv", headings=sheet.headings, row_count=120,
    content=Incoming.packed(sheet.rows), expires=timezone.now() + timedelta(days=1))
"""
WRITE = """
import os, signal
from rubrail.desk.lists import taking
from rubrail.desk.lists.choices import Choices, allowed_for
from rubrail.desk.lists.guess import guess
from rubrail.desk.lists.plan import plan_of, stored_units
from rubrail.desk.lists.row import Layout
from rubrail.desk.models import Incoming, User
real = getattr(taking, {place!r})
def last(*args, **kwargs):
    real(*args, **kwargs)
    os.kill(os.getpid(), signal.SIGKILL)
if {kill!r}:
    setattr(taking, {place!r}, last)
owner, incoming = User.objects.get(), Incoming.objects.get()
choices = Choices(tuple(guess(incoming.headings, allowed=allowed_for("owner"))))
plan = plan_of(incoming.rows, layout=Layout(incoming.headings, choices), units=stored_units())
assert plan.counts["new"] == plan.counts["changed"] == 60, plan.counts
taking.take_in(plan, incoming=incoming, by=owner)
"""
LOOK = """
from decimal import Decimal
from rubrail.desk.models import Change, Incoming, Unit
print(Unit.objects.count(), Unit.objects.filter(price_usd=Decimal(9000), version=1).count(),
      Change.objects.filter(action__in=["changed", "loaded"]).count(), Incoming.objects.count())
"""


@pytest.mark.skipif(os.name != "posix", reason="no such signal")
@pytest.mark.parametrize("place", ["_add", "_change", "record_all_changes"])
def test_killed_midway_leaves_nothing(tmp_path: Path, place: str):
    home = tmp_path / "yard"
    run(home, SEED)
    code = "from rubrail.desk.serve import prepare\nprepare(say=lambda line: None)\n" + WRITE.format(
        place=place, kill=True
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=environment(home),
        capture_output=True,
        text=True,
        timeout=PATIENCE_S,
        check=False,
    )
    assert done.returncode == -signal.SIGKILL, done.stderr
    assert run(home, LOOK).split() == ["60", "60", "0", "1"]
    run(home, WRITE.format(place=place, kill=False))
    # 120 units, none as before, 60 changed and 60 loaded, the list gone
    assert run(home, LOOK).split() == ["120", "0", "120", "0"]
